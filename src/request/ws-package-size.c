/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-package-size.h"

#include "ws-package.h"

#include <math.h>

/* Judgement: a stem base fills a screen at 1000 px; below 400 px nobody can judge a part, so that comes last. */
static const WsSizeStep steps[WS_SIZE_N_STEPS] = {
  { { 0, 0 }, { 0, 0 }, { WS_PACKAGE_PAGE_EDGE, 0 }, { WS_PACKAGE_CROP_EDGE, 0 } },
  { { 0, 0 }, { 2048, 82 }, { 1280, 82 }, { 3000, 88 } },
  { { 4000, 86 }, { 1280, 78 }, { 1280, 80 }, { 3000, 88 } },
  { { 3000, 85 }, { 1280, 75 }, { 1100, 78 }, { 3000, 88 } },
  { { 2048, 82 }, { 1024, 72 }, { 1024, 76 }, { 3000, 86 } },
  { { 1600, 80 }, { 900, 70 }, { 900, 75 }, { 2400, 85 } },
  { { 1280, 78 }, { 800, 70 }, { 800, 72 }, { 2000, 84 } },
  { { 1024, 75 }, { 640, 68 }, { 720, 70 }, { 1600, 82 } },
  { { 800, 72 }, { 512, 65 }, { 640, 68 }, { 1200, 80 } },
  { { 640, 70 }, { 400, 60 }, { 560, 65 }, { 900, 76 } },
  { { 512, 60 }, { 320, 55 }, { 480, 60 }, { 640, 70 } },
  { { 400, 50 }, { 256, 50 }, { 400, 50 }, { 400, 60 } },
  { { 320, 40 }, { 200, 40 }, { 320, 40 }, { 240, 45 } },
};

const WsSizeStep *
ws_size_get_step (guint step)
{
  return &steps[MIN (step, WS_SIZE_N_STEPS - 1)];
}

gboolean
ws_size_is_marked (const WsFind *find, const char *photo_id)
{
  for (guint i = 0; i < find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (find->marks, i);

      if (!mark->whole_photo && g_str_equal (mark->photo_id, photo_id))
        return TRUE;
    }
  return FALSE;
}

/* Bytes of a picture of so many pixels once encoded. What 1 px takes falls with the quality (measured on photos of
 * woodland: about 0.3 at 88, 0.15 at 70); shrunk pictures hold more detail in each pixel. */
static double
guess_picture (double width, double height, WsPictureSize size)
{
  double longest = MAX (MAX (width, height), 1), scale = size.edge > 0 ? MIN (1, size.edge / longest) : 1;
  int quality = size.quality > 0 ? size.quality : 88;

  return width * height * scale * scale * 0.3 * pow (quality / 88.0, 3) + 1000;
}

static double
guess_copy (const WsFind *find, const WsPhoto *photo, GHashTable *file_sizes, WsPictureSize size)
{
  double original = 1024.0 * GPOINTER_TO_UINT (g_hash_table_lookup (file_sizes, photo->id));
  gboolean shrunk = size.edge > 0 && MAX (photo->width, photo->height) > size.edge;

  /* An upright JPEG keeps its data. */
  if (!shrunk && original > 0 && photo->orientation <= 1 && g_str_equal (photo->media_type, "image/jpeg"))
    return original;
  return guess_picture (photo->width, photo->height, size);
}

double
ws_size_guess (const WsFind *find, GHashTable *file_sizes, guint step)
{
  const WsSizeStep *sizes = ws_size_get_step (step);
  double bytes = 0;

  for (guint i = 0; i < find->photos->len; i++)
    {
      const WsPhoto *photo = ((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo;

      bytes += guess_copy (find, photo, file_sizes, ws_size_is_marked (find, photo->id) ? sizes->marked : sizes->plain);
      bytes += guess_picture (photo->width, photo->height, sizes->page);
    }
  for (guint i = 0; i < find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (find->marks, i);
      const WsPhoto *photo = ws_find_get_photo (find, mark->photo_id);

      if (photo != NULL && !mark->whole_photo)
        bytes += guess_picture (photo->width * mark->shape->bounds.width, photo->height * mark->shape->bounds.height,
                                sizes->closeup);
    }
  return bytes;
}

gboolean
ws_size_parse (const char *text, guint64 *limit)
{
  char *end;
  double megabytes = g_ascii_strtod (text, &end);

  if (g_str_equal (text, "none") || g_str_equal (text, "mail"))
    {
      *limit = *text == 'n' ? 0 : WS_SIZE_WITHIN_MAIL;
      return TRUE;
    }
  if (end == text || *end != '\0' || !(megabytes >= 0.001 && megabytes <= 1e6))
    return FALSE;
  *limit = (guint64) (megabytes * 1e6);
  return TRUE;
}
