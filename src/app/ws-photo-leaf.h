/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The right leaf of the find sheet: one photo as large as can be, with its marks; what the photo as a whole shows; the
 * question about the base; the roll of the find's photos below.
 *
 * Signals: "disarm-requested" (), "base-marked" () when a mark that shows the base was drawn and its kind is asked. */
#pragma once

#include "ws-find-item.h"
#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_PHOTO_LEAF (ws_photo_leaf_get_type ())
G_DECLARE_FINAL_TYPE (WsPhotoLeaf, ws_photo_leaf, WS, PHOTO_LEAF, GtkWidget)

GtkWidget *ws_photo_leaf_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;

/* Shows the find's photos; stays at the photo that is shown when it is still there. NULL: none. */
void ws_photo_leaf_set_item (WsPhotoLeaf *self, WsFindItem *item);
/* The view that dragging marks, NULL: nothing. */
void ws_photo_leaf_set_armed (WsPhotoLeaf *self, const char *view);
/* Goes to the photo of the mark, selects it and zooms to it. */
void ws_photo_leaf_show_mark (WsPhotoLeaf *self, const char *mark_id);
/* The next (+1) or the previous (-1) photo; FALSE at the end. */
gboolean ws_photo_leaf_step (WsPhotoLeaf *self, int by);
/* Labels the shown photo with the view and moves on; takes the label away and stays when it was there. */
void ws_photo_leaf_label (WsPhotoLeaf *self, const char *view);
/* A digit that answers the base question; FALSE when it is not open. */
gboolean ws_photo_leaf_take_key (WsPhotoLeaf *self, guint keyval);
/* Removes the selected mark. */
void ws_photo_leaf_remove_selected (WsPhotoLeaf *self);
void ws_photo_leaf_focus_photo (WsPhotoLeaf *self);
