/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page of finds: a field book, forays as dated headings, each find a line that says what is missing.
 *
 * Signals:
 *   "open-find" (const char *id)   the sheet of the find is wanted
 *   "ask" (const char *id)         a request for the find is wanted
 *   "sort-photos" ()               the loose photos are to be sorted into finds */
#pragma once

#include <gtk/gtk.h>

#include "ws-session.h"

#define WS_TYPE_FINDS_PAGE (ws_finds_page_get_type ())
G_DECLARE_FINAL_TYPE (WsFindsPage, ws_finds_page, WS, FINDS_PAGE, GtkWidget)

GtkWidget *ws_finds_page_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;

/* Opens the entry in which finds are searched. */
void ws_finds_page_search (WsFindsPage *self);
/* Scrolls to the newest foray. */
void ws_finds_page_show_top (WsFindsPage *self);
/* Scrolls to the find, takes it and gives it the focus. */
void ws_finds_page_show_find (WsFindsPage *self, const char *id);
