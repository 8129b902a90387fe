/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A part of a picture as luma at a series of scales: levels that halve from one to the next, each
 * smoothed by Gaussians of three variances. Private to the photo layer. */
#pragma once

#include "ws-picture.h"

/* The largest part, in pixels. */
#define WS_LEVEL_MAX 640

/* A central difference smooths like a box two pixels wide: variance 1/3. */
#define WS_LEVEL_DIFFERENCE (1.0f / 3)

/* All zero at first; arrays of width * height, used again from part to part. */
typedef struct
{
  int number;                /* 0 is full size, each further one half of it */
  int width, height;         /* pixels of the level */
  int x, y;                  /* of its first pixel in the picture, full-size pixels */
  float *image[3];           /* of variance 0.5, 1 and 2 in pixels of the level */
  float *gradient[3];        /* squared, by central differences, per pixel of the level */
  float *work;
  gsize room;                /* floats in each array */
} WsLevel;

/* @level becomes level 0 of the part from (@x0, @y0) to before (@x1, @y1). */
void ws_level_init (WsLevel *level, const WsPicture *picture, int x0, int y0, int x1, int y1);
/* @level becomes the next level. */
void ws_level_halve (WsLevel *level);
void ws_level_clear (WsLevel *level);

/* Deviation of the white noise, in grey levels per pixel of the level, that would leave as much
 * between the variances 0.5 and 1 as the quietest tenth of the blocks has; at least that of
 * rounding to whole grey levels. */
double ws_level_noise (const WsLevel *level);

/* The deviation that white noise of deviation @noise gives to a gradient component at @variance. */
double ws_level_noise_gradient (double noise, double variance);
