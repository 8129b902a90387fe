/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Notes leaf: what no photo holds. Habitat and trees first, then what is seen on the specimen; words for the identifier;
 * words that are only mine. */
#pragma once

#include "ws-find-item.h"
#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_NOTES_LEAF (ws_notes_leaf_get_type ())
G_DECLARE_FINAL_TYPE (WsNotesLeaf, ws_notes_leaf, WS, NOTES_LEAF, GtkWidget)

GtkWidget *ws_notes_leaf_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
void ws_notes_leaf_set_item (WsNotesLeaf *self, WsFindItem *item);
