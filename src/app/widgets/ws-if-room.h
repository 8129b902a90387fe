/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shows its one child where there is room for all of it, and nothing where there is not: better no title than half of
 * one. The child is given in the template or with gtk_widget_set_parent(). */
#pragma once

#include <gtk/gtk.h>

#define WS_TYPE_IF_ROOM (ws_if_room_get_type ())
G_DECLARE_FINAL_TYPE (WsIfRoom, ws_if_room, WS, IF_ROOM, GtkWidget)
