/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-photo-read.h"

#include "ws-blocking.h"
#include "ws-container.h"
#include "ws-digest.h"

#include <string.h>

#define PIECE ((gsize) 1 << 20)
#define THUMBNAIL_QUALITY 85

/* SHA-512 in pieces, so that cancelling does not wait for a large file. */
static char *
digest (GBytes *bytes, GCancellable *cancellable, GError **error)
{
  g_autoptr (WsDigest) sha = ws_digest_new (WS_DIGEST_SHA512);
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);

  for (gsize at = 0; at < size; at += PIECE)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return NULL;
      ws_digest_update (sha, data + at, MIN (PIECE, size - at));
    }
  return ws_digest_finish (sha);
}

/* Mean luma (ITU-R BT.601 weights, times 1000) of one cell of a 9 x 8 grid. */
static guint64
cell_mean (const WsPicture *picture, int column, int row)
{
  const guint8 *pixels = g_bytes_get_data (picture->pixels, NULL);
  int left = picture->width * column / 9, right = MAX (picture->width * (column + 1) / 9, left + 1);
  int top = picture->height * row / 8, bottom = MAX (picture->height * (row + 1) / 8, top + 1);
  guint64 sum = 0;

  /* A picture narrower than the grid has cells that share pixels. */
  right = MIN (right, picture->width);
  bottom = MIN (bottom, picture->height);
  for (int y = top; y < bottom; y++)
    for (int x = left; x < right; x++)
      {
        const guint8 *p = pixels + ((gsize) y * picture->width + x) * 3;

        sum += 299u * p[0] + 587u * p[1] + 114u * p[2];
      }
  return sum / (guint64) ((right - left) * (bottom - top));
}

/* Difference hash: one bit for each of 8 x 8 pairs of neighbours, set when it gets brighter to
 * the right. */
static guint64
likeness (const WsPicture *picture)
{
  guint64 bits = 0;

  for (int row = 0; row < 8; row++)
    for (int column = 0; column < 8; column++)
      bits = bits << 1 | (cell_mean (picture, column + 1, row) > cell_mean (picture, column, row) ? 1 : 0);
  return bits;
}

int
ws_likeness_distance (guint64 a, guint64 b)
{
  int n = 0;

  for (guint64 rest = a ^ b; rest != 0; rest &= rest - 1)
    n++;
  return n;
}

WsPhotoReading *
ws_photo_read (const char *path, GCancellable *cancellable, GError **error)
{
  g_autoptr (WsPhotoReading) reading = g_new0 (WsPhotoReading, 1);
  g_autoptr (WsPicture) picture = NULL;
  g_autoptr (GBytes) bytes = NULL;

  ws_blocking ("reading a photo");
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  bytes = ws_container_load (path, &reading->modified_us, error);
  if (bytes == NULL)
    return NULL;
  reading->size = (gint64) g_bytes_get_size (bytes);
  /* The cheap part that fails for what is no picture comes first. */
  reading->facts = ws_photo_facts_read (bytes, path, error);
  if (reading->facts == NULL)
    return NULL;
  picture = ws_picture_decode (bytes, path, WS_THUMBNAIL_EDGE, cancellable, error);
  if (picture == NULL)
    return NULL;
  reading->likeness = likeness (picture);
  reading->thumbnail = ws_picture_to_jpeg (picture, THUMBNAIL_QUALITY, error);
  if (reading->thumbnail == NULL)
    return NULL;
  reading->digest = digest (bytes, cancellable, error);
  return reading->digest != NULL ? g_steal_pointer (&reading) : NULL;
}

void
ws_photo_reading_free (WsPhotoReading *reading)
{
  if (reading == NULL)
    return;
  g_free (reading->digest);
  ws_photo_facts_free (reading->facts);
  g_clear_pointer (&reading->thumbnail, g_bytes_unref);
  g_free (reading);
}

static gboolean
has_ending (const char *name, const char *const *endings)
{
  const char *slash = strrchr (name, '/');
  const char *dot = strrchr (name, '.');

  name = slash != NULL ? slash + 1 : name;
  /* Names that begin with a dot are hidden, and "._IMG_1.JPG" is no picture but what a Mac
   * leaves beside one. */
  if (dot == NULL || name[0] == '.')
    return FALSE;
  for (; *endings != NULL; endings++)
    if (g_ascii_strcasecmp (dot + 1, *endings) == 0)
      return TRUE;
  return FALSE;
}

gboolean
ws_photo_name_is_picture (const char *name)
{
  static const char *const endings[] = { "jpg", "jpeg", "heic", "heif", "png", "tif", "tiff", "webp", "avif", NULL };

  return has_ending (name, endings);
}

gboolean
ws_photo_name_is_raw (const char *name)
{
  static const char *const endings[] = { "dng", "cr2", "cr3", "crw", "nef", "nrw", "arw", "srf", "sr2", "raf", "orf",
                                         "rw2", "pef", "srw", "x3f", "iiq", "3fr", "rwl", "raw", NULL };

  return has_ending (name, endings);
}
