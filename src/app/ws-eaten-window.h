/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Eaten, or perhaps eaten: whom to call, what to say, what to keep, and a find to show. Works with an empty library. */
#pragma once

#include <adwaita.h>

#include "ws-session.h"

#define WS_TYPE_EATEN_WINDOW (ws_eaten_window_get_type ())
G_DECLARE_FINAL_TYPE (WsEatenWindow, ws_eaten_window, WS, EATEN_WINDOW, AdwWindow)

/* @find_id (nullable): the find that is offered first. */
GtkWidget *ws_eaten_window_new (WsSession *session, const char *find_id) G_GNUC_WARN_UNUSED_RESULT;
