/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window: the open field book, its places as a thumb index at the edge. */
#pragma once

#include <adwaita.h>

#include "ws-session.h"

#define WS_TYPE_WINDOW (ws_window_get_type ())
G_DECLARE_FINAL_TYPE (WsWindow, ws_window, WS, WINDOW, AdwApplicationWindow)

WsWindow *ws_window_new (GtkApplication *application, WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
WsSession *ws_window_get_session (WsWindow *self);

/* Takes photos in: files and folders, NULL-terminated. */
void ws_window_import (WsWindow *self, const char *const *paths);
/* Opens the sheet of a find. */
void ws_window_open_find (WsWindow *self, const char *find_id);
/* Opens the request for a find. @replaces (nullable): id of the request it corrects. */
void ws_window_ask (WsWindow *self, const char *find_id, const char *replaces);
