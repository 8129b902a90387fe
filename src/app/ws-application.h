/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program: wholestem [--library DIR] [PATH…]. Opens the library in the background, then the window. */
#pragma once

#include <adwaita.h>

#define WS_TYPE_APPLICATION (ws_application_get_type ())
G_DECLARE_FINAL_TYPE (WsApplication, ws_application, WS, APPLICATION, AdwApplication)

#define WS_APPLICATION_ID "page.wholestem.Wholestem"

WsApplication *ws_application_new (void) G_GNUC_WARN_UNUSED_RESULT;
