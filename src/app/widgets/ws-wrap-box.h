/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Children beside each other at their natural widths; those that do not fit go on in the next line, as words do. */
#pragma once

#include <gtk/gtk.h>

#define WS_TYPE_WRAP_BOX (ws_wrap_box_get_type ())
G_DECLARE_FINAL_TYPE (WsWrapBox, ws_wrap_box, WS, WRAP_BOX, GtkWidget)

GtkWidget *ws_wrap_box_new (void) G_GNUC_WARN_UNUSED_RESULT;
void ws_wrap_box_append (WsWrapBox *self, GtkWidget *child);
void ws_wrap_box_remove_all (WsWrapBox *self);
