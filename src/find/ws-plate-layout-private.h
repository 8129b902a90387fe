/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the two halves of the plate's layout: the page with its texts, and the ring of boxes round the figure. */
#pragma once

#include "ws-plate-layout.h"

/* Between boxes, in em. */
#define WS_PLATE_GAP 0.9

/* Least height, unit of the page, in which a ring can stand. */
double ws_plate_ring_least_height (const WsPlateLayout *layout, double width);
/* Puts the figure and all parts into @zone. FALSE when they do not fit. */
gboolean ws_plate_ring_lay_out (WsPlateLayout *layout, const WsPlateBox *zone);
/* The frame round a caption, and what lies between a picture and its caption; em. */
#define WS_PLATE_FRAME_PADDING 0.6
#define WS_PLATE_CAPTION_GAP 0.35

/* What a frame has above and below its caption: a missing part that matters most leaves the largest gap. */
double ws_plate_frame_room (const WsPlateLayout *layout, guint index);
/* Captions in a row are set in whole em, fewer than this many. */
#define WS_PLATE_ROW_WIDTHS 64
guint ws_plate_whole_ems (const WsPlateLayout *layout, double width);
/* Height of the caption of a part in a box of @width: a frame has it inside. */
double ws_plate_caption_height (const WsPlateLayout *layout, guint index, double width);
/* One box with its top left corner at (x, y). A picture stands at that end of @width which is next to the figure, its caption
 * below; below the figure in the middle. An empty frame fills the width and is at least as tall as its caption needs. */
void ws_plate_place_part (WsPlateLayout *layout, guint index, double x, double y, double width, double picture_height,
                          double caption_height);
/* ws-plate-match.c: who gets which port. @cost: n x n, row: part; @port_of: n. Least sum, O(n^3) (Kuhn 1955, Munkres
 * 1957; with the potentials of Jonker & Volgenant 1987). */
void ws_plate_match (const double *cost, guint n, guint *port_of);
/* TRUE if two ways have a point in common other than a shared start. */
gboolean ws_plate_ways_meet (const WsPlatePart *a, const WsPlatePart *b);
/* TRUE if the way of @part runs through the inside of @box. */
gboolean ws_plate_way_enters (const WsPlatePart *part, const WsPlateBox *box);
