/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Place leaf: number, when and where, how the place will be told, the outing, and where the specimen is now. */
#pragma once

#include "ws-find-item.h"
#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_PLACE_LEAF (ws_place_leaf_get_type ())
G_DECLARE_FINAL_TYPE (WsPlaceLeaf, ws_place_leaf, WS, PLACE_LEAF, GtkWidget)

GtkWidget *ws_place_leaf_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
void ws_place_leaf_set_item (WsPlaceLeaf *self, WsFindItem *item);
