/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The blur of a region as an equivalent Gaussian. Private to the photo layer. */
#pragma once

#include "ws-picture.h"

typedef struct
{
  int x, y, width, height;   /* bounds, pixels of the picture */
  const guint8 *mask;        /* width * height bytes: 1 belongs to the region, 0 does not */
} WsRegion;

/* Standard deviation in pixels of the picture; NAN where there are too few edges to tell. */
double ws_blur_measure (const WsPicture *picture, const WsRegion *region);
