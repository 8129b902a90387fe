/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Plate leaf: the find as one page, seen before it is sent. A crop is swapped for another one of the same part by
 * pressing it, or with Left and Right; the choice stays, also for the package. Saved as PDF or picture, printed. The place
 * stands on it as it was told last.
 *
 * Signal: "view-chosen" (const char *view): an empty frame was pressed. */
#pragma once

#include "ws-find-item.h"
#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_PLATE_LEAF (ws_plate_leaf_get_type ())
G_DECLARE_FINAL_TYPE (WsPlateLeaf, ws_plate_leaf, WS, PLATE_LEAF, GtkWidget)

GtkWidget *ws_plate_leaf_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
/* The plate is drawn when the leaf is seen, not before. */
void ws_plate_leaf_set_item (WsPlateLeaf *self, WsFindItem *item);
