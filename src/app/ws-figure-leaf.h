/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Figure leaf: the growth form, the specimen figure whose labels are the evidence list, and what is to be said of the
 * view that was chosen last: why it matters, how to get it, or why it cannot be had.
 *
 * Signal: "view-chosen" (const char *view). */
#pragma once

#include "ws-find-item.h"
#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_FIGURE_LEAF (ws_figure_leaf_get_type ())
G_DECLARE_FINAL_TYPE (WsFigureLeaf, ws_figure_leaf, WS, FIGURE_LEAF, GtkWidget)

GtkWidget *ws_figure_leaf_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
void ws_figure_leaf_set_item (WsFigureLeaf *self, WsFindItem *item);
/* The view that is armed for marking, NULL: none. */
void ws_figure_leaf_set_armed (WsFigureLeaf *self, const char *view);
