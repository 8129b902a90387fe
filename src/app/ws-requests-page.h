/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page of requests: what was made, for whom, what was asked, and whether it was sent.
 * Signal "correct" (const char *find_id, const char *request_id): a request that replaces this one is wanted. */
#pragma once

#include <gtk/gtk.h>

#include "ws-session.h"

#define WS_TYPE_REQUESTS_PAGE (ws_requests_page_get_type ())
G_DECLARE_FINAL_TYPE (WsRequestsPage, ws_requests_page, WS, REQUESTS_PAGE, GtkWidget)

GtkWidget *ws_requests_page_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
