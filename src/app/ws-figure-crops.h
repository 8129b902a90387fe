/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The small pictures that stand at the labels of the figure: for each view of a find the best marks that serve
 * it, cut out of their photos in the background. Covered regions stay on screen: they are the finder's own photos.
 *
 * Signal: "changed" (const char *view, GPtrArray *paintables of GdkPaintable). */
#pragma once

#include "ws-find-item.h"
#include "ws-session.h"

#define WS_TYPE_FIGURE_CROPS (ws_figure_crops_get_type ())
G_DECLARE_FINAL_TYPE (WsFigureCrops, ws_figure_crops, WS, FIGURE_CROPS, GObject)

WsFigureCrops *ws_figure_crops_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
/* Cuts out what is new and says so view by view; call again when the item changed. */
void ws_figure_crops_set_item (WsFigureCrops *self, WsFindItem *item);
