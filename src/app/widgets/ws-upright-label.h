/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One line of text turned by a quarter, as on the edge of a book. It has no accessible name of its own: the button
 * that holds it is named. */
#pragma once

#include <gtk/gtk.h>

#define WS_TYPE_UPRIGHT_LABEL (ws_upright_label_get_type ())
G_DECLARE_FINAL_TYPE (WsUprightLabel, ws_upright_label, WS, UPRIGHT_LABEL, GtkWidget)

GtkWidget *ws_upright_label_new (const char *text) G_GNUC_WARN_UNUSED_RESULT;
