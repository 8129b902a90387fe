/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The edges of a picture at one level of detail. Private to ws-edge-path.c. */
#pragma once

#include <glib.h>

typedef struct
{
  guint8 strength;   /* 0-255: against what surrounds it */
  gint8 x, y;        /* unit vector across the edge, times 127 */
  guint8 crest;      /* 1: no neighbour across the edge is stronger */
} WsEdge;

typedef struct
{
  int width, height;
  WsEdge *edges;
} WsEdgeLevel;

/* Finds the edges of R8G8B8 pixels. The frame of the level counts as an edge where @frame says that it is the picture's: left, top,
 * right, bottom. Blocks. */
WsEdgeLevel *ws_edge_level_new (const guchar *pixels, int width, int height, const gboolean frame[4]) G_GNUC_WARN_UNUSED_RESULT;
void ws_edge_level_free (WsEdgeLevel *level);
