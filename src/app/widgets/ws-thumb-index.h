/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The thumb index of a field book: tabs at the edge of the page, one of which is open. Arrow keys go from tab
 * to tab. Below them, apart, may stand tabs that do something at once. */
#pragma once

#include <gtk/gtk.h>

#define WS_TYPE_THUMB_INDEX (ws_thumb_index_get_type ())
G_DECLARE_FINAL_TYPE (WsThumbIndex, ws_thumb_index, WS, THUMB_INDEX, GtkWidget)

GtkWidget *ws_thumb_index_new (void) G_GNUC_WARN_UNUSED_RESULT;

/* A place. The first one added is open. */
void ws_thumb_index_add_place (WsThumbIndex *self, const char *id, const char *label);
/* A tab of another kind, at the foot, that activates an action. */
void ws_thumb_index_add_action (WsThumbIndex *self, const char *label, const char *action_name);

/* Property "current": the id of the open place. An id that was not added changes nothing. */
const char *ws_thumb_index_get_current (WsThumbIndex *self);
void ws_thumb_index_set_current (WsThumbIndex *self, const char *id);

/* The tabs stick out to the left instead. */
void ws_thumb_index_set_mirrored (WsThumbIndex *self, gboolean mirrored);
