/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The path that follows the strongest edge from one point of a picture to another: "live-wire", after Mortensen & Barrett,
 * Intelligent Scissors for Image Composition, SIGGRAPH 1995. Finding the edges of a picture takes a moment and is done once, on
 * a worker; a path is then found within a frame. All points are fractions of the upright picture. */
#pragma once

#include <gio/gio.h>

#include "ws-picture.h"

/* The edges of a part of a picture, at several levels of detail. Never changed; may be shared by threads. */
typedef struct _WsEdgePath WsEdgePath;

/* More pixels than any screen shows: a larger region is looked at in half the size, or a quarter... */
#define WS_EDGE_PATH_MAX_PIXELS (4 * 1000 * 1000)
/* Corners that a person sets. */
#define WS_EDGE_PATH_MAX_CORNERS 256
/* Corners of a finished outline. */
#define WS_EDGE_PATH_MAX_POINTS 400

/* Finds the edges in @region of @picture, of which a pixel at most is lost at each side. Blocks: about 50 ns for each pixel.
 * NULL when cancelled (an error is not worth a message), or when there is nothing to look at. */
WsEdgePath *ws_edge_path_new (const WsPicture *picture, const WsRect *region,
                              GCancellable *cancellable) G_GNUC_WARN_UNUSED_RESULT;
WsEdgePath *ws_edge_path_ref (WsEdgePath *self);
void ws_edge_path_unref (WsEdgePath *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsEdgePath, ws_edge_path_unref)

/* Fractions of the picture that were looked at. */
WsRect ws_edge_path_get_region (const WsEdgePath *self);
/* Pixels of the finest level across the whole picture. */
double ws_edge_path_get_width (const WsEdgePath *self);

/* The strongest edge within a few pixels of the finest level; @point itself where there is none, or outside the region. */
WsPoint ws_edge_path_snap (const WsEdgePath *self, const WsPoint *point);

/* Appends to @path (array of WsPoint) the way from @from, which is appended, to @to, which is not. It keeps off @before (nullable: an
 * array of WsPoint), what the outline has run along already. Outside the region, and without edges, it is straight. */
void ws_edge_path_follow (const WsEdgePath *self, const WsPoint *from, const WsPoint *to, const GArray *before,
                          GArray *path);

/* The closed outline through @corners, which are near it and not quite on it, with as few points as describe it to a pixel.
 * (nullable): NULL with fewer than 3 corners or more than WS_EDGE_PATH_MAX_CORNERS, or when they enclose nothing. */
WsShape *ws_edge_path_outline (const WsEdgePath *self, const WsPoint *corners, guint n_corners) G_GNUC_WARN_UNUSED_RESULT;

/* The closed line through the points (fractions of a picture of @width x @height px) with those left out that lie within a pixel of
 * the line without them (Douglas & Peucker 1973), and at most WS_EDGE_PATH_MAX_POINTS left. (nullable) as ws_shape_new_outline(). */
WsShape *ws_edge_path_simplify (const WsPoint *points, guint n_points, double width, double height) G_GNUC_WARN_UNUSED_RESULT;
