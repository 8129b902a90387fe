/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-picture-levels.h"

#include "ws-blocking.h"

WsPictureLevels *
ws_picture_levels_new (WsPicture *picture, int asked_edge)
{
  WsPictureLevels *levels = g_new0 (WsPictureLevels, 1);

  ws_blocking ("halving a picture");
  g_atomic_ref_count_init (&levels->refs);
  levels->pictures = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_picture_free);
  levels->full_width = picture->full_width;
  levels->full_height = picture->full_height;
  levels->raw_preview = picture->raw_preview;
  levels->good_for = asked_edge == 0 ? G_MAXINT : MAX (asked_edge, MAX (picture->width, picture->height));
  while (TRUE)
    {
      g_ptr_array_add (levels->pictures, picture);
      levels->bytes += g_bytes_get_size (picture->pixels);
      if (MAX (picture->width, picture->height) <= WS_PHOTO_TILE)
        return levels;
      picture = ws_picture_halve (picture);
    }
}

WsPictureLevels *
ws_picture_levels_ref (WsPictureLevels *levels)
{
  g_atomic_ref_count_inc (&levels->refs);
  return levels;
}

void
ws_picture_levels_unref (WsPictureLevels *levels)
{
  if (levels == NULL || !g_atomic_ref_count_dec (&levels->refs))
    return;
  g_ptr_array_unref (levels->pictures);
  g_free (levels);
}

static const WsPicture *
level_at (const WsPictureLevels *levels, guint i)
{
  return g_ptr_array_index (levels->pictures, i);
}

int
ws_picture_levels_get_edge (const WsPictureLevels *levels)
{
  return MAX (level_at (levels, 0)->width, level_at (levels, 0)->height);
}

gboolean
ws_picture_levels_is_full (const WsPictureLevels *levels)
{
  return level_at (levels, 0)->width >= levels->full_width;
}

gboolean
ws_picture_levels_serve (const WsPictureLevels *levels, int edge)
{
  return ws_picture_levels_is_full (levels) || levels->good_for >= (edge == 0 ? G_MAXINT : edge);
}

guint
ws_picture_levels_pick (const WsPictureLevels *levels, int photo_width, double device_zoom)
{
  /* Halving odd sizes rounds, so a level may be short of a px. */
  double needed = photo_width * device_zoom - 1;

  for (guint i = levels->pictures->len; i-- > 1;)
    if (level_at (levels, i)->width >= needed)
      return i;
  return 0;
}
