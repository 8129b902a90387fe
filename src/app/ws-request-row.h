/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One request that was made. Signal "correct" (): one that replaces it is wanted. */
#pragma once

#include <gtk/gtk.h>

#include "ws-session.h"

#define WS_TYPE_REQUEST_ROW (ws_request_row_get_type ())
G_DECLARE_FINAL_TYPE (WsRequestRow, ws_request_row, WS, REQUEST_ROW, GtkWidget)

GtkWidget *ws_request_row_new (WsSession *session, const WsSentRequest *sent) G_GNUC_WARN_UNUSED_RESULT;
const char *ws_request_row_get_find_id (WsRequestRow *self);
const char *ws_request_row_get_request_id (WsRequestRow *self);

/* Says that a request was sent now, or that it was not after all. */
void ws_request_set_sent (WsSession *session, const char *request_id, gboolean sent);
