/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the program should know once: the poison service's number and how the user wants to be called. */
#pragma once

#include <adwaita.h>

#include "ws-session.h"

#define WS_TYPE_SETTINGS_WINDOW (ws_settings_window_get_type ())
G_DECLARE_FINAL_TYPE (WsSettingsWindow, ws_settings_window, WS, SETTINGS_WINDOW, AdwWindow)

/* @first: asked at the first start, in those words; closing it is an answer too. */
GtkWidget *ws_settings_window_new (WsSession *session, gboolean first) G_GNUC_WARN_UNUSED_RESULT;
