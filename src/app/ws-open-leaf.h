/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The leaf Still open: the dangerous groups that the notes of the find do not speak against, why each is open and what could
 * help tell; and those that do not fit the notes, each with the note, who recorded it and when, and one step that takes
 * it back. It is no verdict and looks like none: nothing is counted down, coloured or ticked off. */
#pragma once

#include "ws-find-item.h"
#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_OPEN_LEAF (ws_open_leaf_get_type ())
G_DECLARE_FINAL_TYPE (WsOpenLeaf, ws_open_leaf, WS, OPEN_LEAF, GtkWidget)

GtkWidget *ws_open_leaf_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
void ws_open_leaf_set_item (WsOpenLeaf *self, WsFindItem *item);
