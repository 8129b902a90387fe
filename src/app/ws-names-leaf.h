/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Names leaf: the finder's own working name. It is a guess for the notes, travels last in a request, and closes
 * nothing. */
#pragma once

#include "ws-find-item.h"
#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_NAMES_LEAF (ws_names_leaf_get_type ())
G_DECLARE_FINAL_TYPE (WsNamesLeaf, ws_names_leaf, WS, NAMES_LEAF, GtkWidget)

GtkWidget *ws_names_leaf_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
void ws_names_leaf_set_item (WsNamesLeaf *self, WsFindItem *item);
