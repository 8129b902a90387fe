/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A foray as a dated heading of the field book. Its pen opens place and people for writing. */
#pragma once

#include <gtk/gtk.h>

#include "ws-finds-lines.h"
#include "ws-session.h"

#define WS_TYPE_FORAY_ROW (ws_foray_row_get_type ())
G_DECLARE_FINAL_TYPE (WsForayRow, ws_foray_row, WS, FORAY_ROW, GtkWidget)

GtkWidget *ws_foray_row_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
/* NULL: none. */
void ws_foray_row_set_line (WsForayRow *self, WsFindsLine *line);
/* What the heading says, for the list row that holds it. (transfer full) */
char *ws_foray_row_dup_description (WsForayRow *self) G_GNUC_WARN_UNUSED_RESULT;
