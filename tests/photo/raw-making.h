/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Camera raw files made for tests: a small DNG (DNG 1.4, TIFF 6.0) of an invented camera with a preview of ours in it. */
#pragma once

#include <gio/gio.h>

typedef struct
{
  guint width, height;       /* of the raw picture; 0 for 160 × 120 */
  guint orientation;         /* EXIF 1-8 */
  GBytes *preview;           /* (nullable): JPEG */
  guint preview_width, preview_height;
  guint32 preview_length;    /* told in the file, 0 for the true one */
  guint32 preview_offset;    /* the same */
  gboolean no_stamp;         /* the picture in the first directory is of one pixel, which nobody shows */
} RawPlan;

GBytes *make_dng (const RawPlan *plan);
/* A raw file of boxes with EXIF data and no picture: 2025-10-04 14:03:22 +02:00, Invented Box, 51.5 N, 30.25 W. */
GBytes *make_boxes (void);
