/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The leaf To go back for, in the place Finds: what is missing of finds that are still fresh, the soonest lost first; printed,
 * or kept in the pocket as a page for the phone.
 *
 * Signal: "open-find" (const char *find_id). */
#pragma once

#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_GO_BACK_PAGE (ws_go_back_page_get_type ())
G_DECLARE_FINAL_TYPE (WsGoBackPage, ws_go_back_page, WS, GO_BACK_PAGE, GtkWidget)

GtkWidget *ws_go_back_page_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
/* Looks at the clock again, and makes the list anew. */
void ws_go_back_page_refresh (WsGoBackPage *self);
/* Another time than the computer's, as ws_go_back_now() gives it; 0: the computer's. */
void ws_go_back_page_set_now (WsGoBackPage *self, gint64 now_us);
