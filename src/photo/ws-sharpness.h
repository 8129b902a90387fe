/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measures a region of a photo as evidence: size, blur, exposure. Numbers only; what they
 * mean is judged in find. */
#pragma once

#include "ws-picture.h"

#define WS_SHARPNESS_METHOD 1   /* goes up whenever the numbers would change */

typedef struct
{
  int width_px, height_px;
  double blur_sigma;       /* px of the original: equivalent Gaussian; NAN too plain to tell */
  double burnt_out;        /* share 0-1 of pixels with any channel >= 254 */
  double blocked_up;       /* share 0-1 of pixels with all channels <= 2 */
} WsSharpness;

/* Measures @shape (its inside for ovals and outlines) of a full-size picture. About thirty
 * milliseconds for a million pixels. */
WsSharpness ws_sharpness_measure (const WsPicture *picture, const WsShape *shape);
/* Decodes the file and measures. Blocks. */
gboolean ws_sharpness_measure_file (const char *path, const WsShape *shape, WsSharpness *result,
                                    GCancellable *cancellable, GError **error);
