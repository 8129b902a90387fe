/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cheapest way over the edges of one level, inside what is opened for it. Private to ws-edge-path.c. */
#pragma once

#include "ws-edge-levels.h"

typedef struct { int x, y; } WsPixel;

typedef struct _WsEdgeSearch WsEdgeSearch;

/* A window of @width x @height px at (@x, @y) of the level, all closed. It is clamped to the level. */
WsEdgeSearch *ws_edge_search_new (const WsEdgeLevel *level, int x, int y, int width, int height) G_GNUC_WARN_UNUSED_RESULT;
void ws_edge_search_free (WsEdgeSearch *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsEdgeSearch, ws_edge_search_free)

/* Opens a px of the level, at an extra charge of 0-255 (64: as much as a px without any edge costs); a lower charge replaces
 * a higher one. Outside the window nothing happens. */
void ws_edge_search_open (WsEdgeSearch *self, int x, int y, int charge);
/* Charges at least @charge for the px, if it is open. */
void ws_edge_search_charge (WsEdgeSearch *self, int x, int y, int charge);

/* Appends the px from @from to @to, both included, to @path (array of WsPixel). FALSE if there is no way. */
gboolean ws_edge_search_run (WsEdgeSearch *self, WsPixel from, WsPixel to, GArray *path);
