/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ring of boxes round the figure, shared by its sides and by who arranges them. */
#pragma once

#include "ws-plate-layout-private.h"

typedef struct
{
  WsPlateLayout *layout;
  WsPlateBox zone;
  double em, gap;
  double column;              /* width of a column */
  double above, below;        /* height of the rows above and below the figure, 0: none */
  double row_share;           /* of the height, a picture in a row at most */
  guint n_left, n_right, n_above, n_below;
  gboolean steady;            /* ports do not depend on who gets them */
  double *captions;           /* heights in a column, by part */
  double *row_captions;       /* heights by part and width in em, WS_PLATE_ROW_WIDTHS each; NAN: not measured yet */
  double *heights;            /* of the pictures of a column, in its order */
  guint *part_in;             /* by port: left from the top, right from the top, above and below from the left */
} WsPlateRing;

/* The band between the rows, and of this what lies between the columns: the free rectangle. */
WsPlateBox ws_plate_ring_get_band (const WsPlateRing *ring);
WsPlateBox ws_plate_ring_get_middle (const WsPlateRing *ring);
/* Each places the parts of its ports from @first on, and sets their ports. FALSE when they do not fit. */
gboolean ws_plate_ring_place_column (WsPlateRing *ring, guint first, guint n, WsPlateSide side);
/* Equal shares of the height; ports at one depth of them, however large the picture. */
gboolean ws_plate_ring_place_steady_column (WsPlateRing *ring, guint first, guint n, WsPlateSide side);
/* @height (out): of the row, 0 without parts. */
gboolean ws_plate_ring_place_row (WsPlateRing *ring, guint first, guint n, WsPlateSide side, double *height);
