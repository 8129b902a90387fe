/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The last look before a find is sent: each photo as its copy will leave, with what is covered. Dragging on the
 * photo covers a region; a covered region can be moved, sized and removed. Covers are kept with the photo. */
#pragma once

#include <gtk/gtk.h>

#include "ws-session.h"

#define WS_TYPE_LAST_LOOK (ws_last_look_get_type ())
G_DECLARE_FINAL_TYPE (WsLastLook, ws_last_look, WS, LAST_LOOK, GtkWidget)

/* In a template; given once. */
void ws_last_look_set_find (WsLastLook *self, WsSession *session, WsFindItem *item);
