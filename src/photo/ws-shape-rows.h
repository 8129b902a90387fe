/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shapes cut by horizontal lines, for painting and for counting pixels. Private to the photo
 * layer. */
#pragma once

#include "ws-shape.h"

/* Where the line at height @y (0-1) enters and leaves the shape, as pairs of x (0-1) from left to
 * right, in @crossings, an array of double that is emptied first. Outlines by the even-odd rule. */
void ws_shape_cut (const WsShape *shape, double y, GArray *crossings);
