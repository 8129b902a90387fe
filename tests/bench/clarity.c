/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measuring a mark of a million px. */
#include "bench.h"

#include "ws-picture-private.h"
#include "ws-sharpness.h"

#define EDGE 1000

typedef struct { WsPicture *picture; WsShape *shape; } Data;

static void
measure (gpointer data)
{
  Data *d = data;

  ws_sharpness_measure (d->picture, d->shape);
}

static void
blur (gpointer data)
{
  Data *d = data;
  g_autoptr (VipsImage) whole = ws_picture_to_vips (d->picture), cut = NULL, blurred = NULL, memory = NULL;

  if (vips_extract_area (whole, &cut, 2000, 1000, EDGE, EDGE, NULL) != 0 ||
      vips_gaussblur (cut, &blurred, 2.0, NULL) != 0 || (memory = vips_image_copy_memory (blurred)) == NULL)
    g_error ("%s", vips_error_buffer ());
}

static void
run (Bench *bench)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = bench_photo (bench, 0);
  g_autoptr (WsPicture) picture = ws_picture_decode_file (path, 0, NULL, &error);
  WsRect bounds;
  Data data;
  double ours, theirs;

  if (picture == NULL)
    g_error ("%s", error->message);
  bounds = (WsRect) { 2000.0 / picture->width, 1000.0 / picture->height, (double) EDGE / picture->width,
                      (double) EDGE / picture->height };
  data = (Data) { picture, ws_shape_new_box (&bounds) };
  bench_side_by_side (15, measure, blur, &data, &ours, &theirs);
  bench_tell_ratio ("clarity of a mark of 1 megapixel", "vips gaussblur, sigma 2", ours, theirs, 3.0);
  ws_shape_free (data.shape);
}

const BenchGroup bench_clarity = { "clarity", run };
