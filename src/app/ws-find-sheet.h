/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The find sheet: the open book on which a find is worked on. Left leaf, turned by its edge tabs: Figure, Notes, Place,
 * Names; right leaf: the photo. What is wrong with the base stands in words above both.
 *
 * Keys, where nobody is typing: a letter labels the shown photo with its view and moves on (B arms the marking of the base
 * instead, since a whole photo never shows it); Page Up and Page Down turn the photos; a digit answers the question about the
 * base; Escape disarms. */
#pragma once

#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_FIND_SHEET (ws_find_sheet_get_type ())
G_DECLARE_FINAL_TYPE (WsFindSheet, ws_find_sheet, WS, FIND_SHEET, GtkWidget)

GtkWidget *ws_find_sheet_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
/* Opens the sheet of a find; an id that is not there shows an empty sheet. */
void ws_find_sheet_show (WsFindSheet *self, const char *find_id);
/* The find shown, NULL when there is none. Borrowed. */
const char *ws_find_sheet_get_find_id (WsFindSheet *self);
