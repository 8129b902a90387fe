/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The named loaders, and what is refused before any of them computes a pixel. */
#include "ws-picture-private.h"

#include "ws-error.h"
#include "ws-intl.h"

#include <string.h>

#define MEGABYTE 1000000

/* What the better filter after the decoder's own shrinking is left to do at least: less would be seen in a print, more
 * takes time for nothing that is. */
#define LEFT_FOR_FILTER 1.4

/* The largest shrink that a JPEG can be decoded with which leaves that. */
static int
jpeg_shrink (int edge, int max_edge)
{
  int shrink = 1;

  /* Half, a quarter or an eighth is asked for where the decoder's own shrinking is good enough. */
  for (int exact = 2; exact <= 8; exact *= 2)
    if (max_edge > 0 && (edge + exact - 1) / exact == max_edge)
      return exact;
  while (max_edge > 0 && shrink < 8 && edge / (shrink * 2) >= max_edge * LEFT_FOR_FILTER)
    shrink *= 2;
  return shrink;
}

/* All loaders but that of JPEG, which can shrink, take the same options. */
static int (*const loaders[]) (void *data, size_t size, VipsImage **image, ...) = {
  [WS_CONTAINER_PNG] = vips_pngload_buffer, [WS_CONTAINER_WEBP] = vips_webpload_buffer,
  [WS_CONTAINER_TIFF] = vips_tiffload_buffer, [WS_CONTAINER_HEIF] = vips_heifload_buffer,
};

/* VIPS_FAIL_ON_ERROR: what only deserves a warning (a stray byte between segments, which
 * telephones write) is decoded; data that stop early or make no sense are not. */
static VipsImage *
load (GBytes *bytes, const WsContainer *container, int shrink)
{
  gsize size;
  void *data = (void *) g_bytes_get_data (bytes, &size);
  VipsImage *image = NULL;

  if (container->kind == WS_CONTAINER_JPEG)
    vips_jpegload_buffer (data, size, &image, "access", VIPS_ACCESS_SEQUENTIAL, "fail_on", VIPS_FAIL_ON_ERROR,
                          "shrink", shrink, NULL);
  else if (container->kind != WS_CONTAINER_PIXELS)
    loaders[container->kind] (data, size, &image, "access", VIPS_ACCESS_SEQUENTIAL, "fail_on", VIPS_FAIL_ON_ERROR, NULL);
  else if ((image = vips_image_new_from_memory (data, size, container->width, container->height, 3,
                                                VIPS_FORMAT_UCHAR)) != NULL)
    image->Type = VIPS_INTERPRETATION_sRGB;
  return image;
}

/* The scans of a JPEG: each one is a walk over the whole picture. */
static guint
count_scans (GBytes *jpeg)
{
  gsize size, at = 2;
  const guint8 *data = g_bytes_get_data (jpeg, &size);
  guint scans = 0;

  while (size >= 4 && at < size - 3)
    {
      const guint8 *mark = memchr (data + at, 0xff, size - 3 - at);
      guint8 marker;

      if (mark == NULL)
        break;
      at = (gsize) (mark - data) + 1;
      marker = data[at];
      if (marker == 0xff)
        continue;
      at++;
      if (marker == 0xd9)
        break;
      scans += marker == 0xda ? 1 : 0;
      /* A segment's body may look like anything; what has no body is passed over. */
      if (marker >= 0xc0 && !(marker >= 0xd0 && marker <= 0xd8))
        at += ws_be16 (data + at);
    }
  return scans;
}

static gboolean
check_pixels (const WsPhotoFacts *facts, const char *name, GError **error)
{
  if ((gint64) facts->width * facts->height <= WS_PICTURE_MAX_PIXELS)
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE,
               _("The picture in “%s” has %d × %d pixels, more than the limit of %d million; shrink a copy of it"),
               name, facts->width, facts->height, WS_PICTURE_MAX_PIXELS / 1000000);
  return FALSE;
}

static gboolean
check_scans (guint scans, const char *name, GError **error)
{
  if (scans <= WS_PICTURE_MAX_SCANS)
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE,
               _("The picture in “%s” is stored in %u layers, more than the limit of %d, as no camera does; "
                 "save it again as an ordinary JPEG"), name, scans, WS_PICTURE_MAX_SCANS);
  return FALSE;
}

/* An upper bound of what decoding holds at once, in bytes: what the loader must have whole, and
 * the result, twice where it is turned. Rows that come one by one are not counted. */
static guint64
memory_needed (VipsImage *image, const WsContainer *container, const WsPhotoFacts *facts, guint scans, int max_edge)
{
  guint64 told = (guint64) facts->width * (guint64) facts->height, need = VIPS_IMAGE_SIZEOF_IMAGE (image);
  guint64 edge = (guint64) (max_edge > 0 ? MIN (max_edge, MAX (facts->width, facts->height)) : 0);
  guint64 result = 3 * (edge > 0 ? MIN (edge * edge, told) : told);

  /* Coefficients of a JPEG in several scans have two bytes each. */
  if (container->kind == WS_CONTAINER_JPEG)
    need = scans > 1 ? told * 2 * (guint64) image->Bands : 0;
  else if (container->kind == WS_CONTAINER_PIXELS || (container->kind == WS_CONTAINER_PNG && !container->interlaced))
    need = 0;
  /* Brightness and colour differences before they become red, green and blue. */
  else if (container->kind == WS_CONTAINER_HEIF)
    need += told * (image->BandFmt == VIPS_FORMAT_UCHAR ? 3 : 6) / 2;
  return need + (facts->turn ? 2 * result : result);
}

static gboolean
check_memory (guint64 need, const char *name, GError **error)
{
  if (need <= WS_PICTURE_MAX_MEMORY)
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE,
               _("Decoding “%s” would need %d MB of memory, more than the limit of %d MB; save a copy of it as a JPEG "
                 "and add that"),
               name, (int) MIN (need / MEGABYTE, G_MAXINT), (int) (WS_PICTURE_MAX_MEMORY / MEGABYTE));
  return FALSE;
}

/* The loader found another size than the header told: only damage or malice does that. */
static gboolean
check_told (VipsImage *image, const WsPhotoFacts *facts, const char *name, GError **error)
{
  if ((gint64) image->Xsize * image->Ysize <= (gint64) facts->width * facts->height)
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
               _("The picture in “%s” is larger than its own header says, so it is damaged; copy it again from where "
                 "it came"), name);
  return FALSE;
}

VipsImage *
ws_picture_open (GBytes *bytes, const WsContainer *container, const WsPhotoFacts *facts, int max_edge,
                 const char *name, GError **error)
{
  guint scans = container->kind == WS_CONTAINER_JPEG ? count_scans (bytes) : 1;
  g_autoptr (VipsImage) image = NULL;

  if (!check_pixels (facts, name, error) || !check_scans (scans, name, error))
    return NULL;
  image = load (bytes, container, jpeg_shrink (MAX (facts->width, facts->height), max_edge));
  if (image == NULL)
    {
      ws_vips_fail (name, NULL, error);
      return NULL;
    }
  if (!check_told (image, facts, name, error) ||
      !check_memory (memory_needed (image, container, facts, scans, max_edge), name, error))
    return NULL;
  return g_steal_pointer (&image);
}
