/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where raw files made of boxes keep their EXIF data. Nobody has published this; it is as exiftool reads it, with which
 * tests/photo/test-raw.c compares. */
#include "ws-raw.h"

#include <string.h>

/* More boxes than any such file has at one level. */
#define MAX_BOXES 256

/* The body of the first box of @type, whose body begins with @start (nullable, not part of the result). */
static const guint8 *
find_box (const guint8 *data, gsize size, const char *type, const void *start, gsize start_size, gsize *found_size)
{
  for (guint i = 0; i < MAX_BOXES && size >= 8; i++)
    {
      guint64 length = ws_be32 (data);
      gsize head = 8;

      if (length == 1 && size >= 16)
        {
          length = (guint64) ws_be32 (data + 8) << 32 | ws_be32 (data + 12);
          head = 16;
        }
      else if (length == 0)
        length = size;
      if (length < head || length > size)
        return NULL;
      if (memcmp (data + 4, type, 4) == 0 && length - head >= start_size &&
          (start_size == 0 || memcmp (data + head, start, start_size) == 0))
        {
          *found_size = (gsize) length - head - start_size;
          return data + head + start_size;
        }
      data += length;
      size -= (gsize) length;
    }
  return NULL;
}

void
ws_raw_add_boxes (WsContainer *container, const guint8 *data, gsize size)
{
  static const guint8 id[] = { 0x85, 0xc0, 0xb6, 0x87, 0x82, 0x0f, 0x11, 0xe0, 0x81, 0x11, 0xf4, 0xce, 0x46, 0x2b, 0x6a, 0x48 };
  static const char *const types[] = { "CMT1", "CMT2", "CMT4" };
  const guint8 *movie, *own;
  gsize movie_size = 0, own_size = 0;

  movie = find_box (data, size, "moov", NULL, 0, &movie_size);
  own = movie != NULL ? find_box (movie, movie_size, "uuid", id, sizeof id, &own_size) : NULL;
  for (gsize i = 0; own != NULL && i < G_N_ELEMENTS (types); i++)
    {
      gsize block_size = 0;
      const guint8 *block = find_box (own, own_size, types[i], NULL, 0, &block_size);
      guint n = container->n_exif;

      if (block != NULL)
        ws_container_add_exif (container, block, block_size);
      if (container->n_exif > n)
        container->exif[n].gps = i == 2;
    }
}
