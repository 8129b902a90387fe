/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Asking somebody about a find: the letter, the last look at what leaves, the package, and where it lies. */
#pragma once

#include <adwaita.h>

#include "ws-session.h"

#define WS_TYPE_ASK_WINDOW (ws_ask_window_get_type ())
G_DECLARE_FINAL_TYPE (WsAskWindow, ws_ask_window, WS, ASK_WINDOW, AdwWindow)

/* @replaces (nullable): id of the request that this one corrects. */
GtkWidget *ws_ask_window_new (WsSession *session, const char *find_id, const char *replaces) G_GNUC_WARN_UNUSED_RESULT;
