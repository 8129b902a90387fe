/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-sharpness.h"

#include "ws-blocking.h"
#include "ws-blur.h"
#include "ws-shape-rows.h"

#include <math.h>
#include <string.h>

/* A byte for each pixel of the bounds: 1 where its middle lies in the shape. */
static guint8 *
make_mask (const WsPicture *picture, const WsRegion *region, const WsShape *shape)
{
  guint8 *mask = g_malloc0 ((gsize) region->width * (gsize) region->height);
  g_autoptr (GArray) crossings = g_array_new (FALSE, FALSE, sizeof (double));

  for (int y = 0; y < region->height; y++)
    {
      ws_shape_cut (shape, (region->y + y + 0.5) / picture->height, crossings);
      for (guint i = 0; i + 1 < crossings->len; i += 2)
        {
          double from = g_array_index (crossings, double, i) * picture->width - region->x;
          double to = g_array_index (crossings, double, i + 1) * picture->width - region->x;
          int first = (int) CLAMP (ceil (from - 0.5), 0, region->width);
          int end = (int) CLAMP (floor (to - 0.5) + 1, first, region->width);

          memset (mask + (gsize) y * (gsize) region->width + first, 1, (gsize) (end - first));
        }
    }
  return mask;
}

static void
measure_exposure (const WsPicture *picture, const WsRegion *region, WsSharpness *result)
{
  const guint8 *pixels = g_bytes_get_data (picture->pixels, NULL), *mask = region->mask;
  gint64 n = 0, burnt = 0, blocked = 0;

  for (int y = 0; y < region->height; y++)
    {
      const guint8 *p = pixels + ((gsize) (region->y + y) * (gsize) picture->width + (gsize) region->x) * 3;

      for (int x = 0; x < region->width; x++, p += 3, mask++)
        {
          int most = MAX (MAX (p[0], p[1]), p[2]);

          n += *mask;
          burnt += *mask & (most >= 254 ? 1 : 0);
          blocked += *mask & (most <= 2 ? 1 : 0);
        }
    }
  result->burnt_out = n > 0 ? (double) burnt / (double) n : 0;
  result->blocked_up = n > 0 ? (double) blocked / (double) n : 0;
}

WsSharpness
ws_sharpness_measure (const WsPicture *picture, const WsShape *shape)
{
  g_autofree guint8 *mask = NULL;
  WsSharpness result = { 0 };
  WsRegion region;

  ws_rect_to_pixels (&shape->bounds, picture->width, picture->height, &region.x, &region.y, &region.width,
                     &region.height);
  region.mask = mask = make_mask (picture, &region, shape);
  result.width_px = region.width;
  result.height_px = region.height;
  measure_exposure (picture, &region, &result);
  result.blur_sigma = ws_blur_measure (picture, &region);
  return result;
}

gboolean
ws_sharpness_measure_file (const char *path, const WsShape *shape, WsSharpness *result, GCancellable *cancellable,
                           GError **error)
{
  g_autoptr (WsPicture) picture = NULL;

  ws_blocking ("measuring a photo");
  picture = ws_picture_decode_file (path, 0, cancellable, error);
  if (picture == NULL)
    return FALSE;
  *result = ws_sharpness_measure (picture, shape);
  return TRUE;
}
