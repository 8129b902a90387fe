/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos that were set aside, to be brought back. */
#pragma once

#include <adwaita.h>

#include "ws-session.h"

#define WS_TYPE_ASIDE_WINDOW (ws_aside_window_get_type ())
G_DECLARE_FINAL_TYPE (WsAsideWindow, ws_aside_window, WS, ASIDE_WINDOW, AdwWindow)

GtkWidget *ws_aside_window_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
