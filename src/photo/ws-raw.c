/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-raw.h"

#include "ws-error.h"
#include "ws-intl.h"
#include "ws-photo-facts.h"
#include "ws-picture.h"

#include <libraw/libraw.h>
#include <string.h>

/* TIFF 6.0, TIFF/EP (ISO 12234-2) and DNG 1.4. */
#define TAG_PHOTOMETRIC 0x0106
#define TAG_SUB_DIRECTORIES 0x014a
#define TAG_DNG_VERSION 0xc612
#define COLOUR_FILTER_ARRAY 32803
#define LINEAR_RAW 34892

/* Directories looked at: real files have up to about ten. */
#define MAX_DIRECTORIES 16
#define MAX_ENTRIES 512
/* LibRaw may hold this for itself. */
#define LIBRAW_MEGABYTES 512

typedef struct
{
  const guint8 *data;
  gsize size;
  gboolean big_endian;
  guint32 waiting[MAX_DIRECTORIES];
  guint n_waiting;
} Tiff;

static guint32
get16 (const Tiff *tiff, gsize at)
{
  const guint8 *p = tiff->data + at;

  return tiff->big_endian ? ws_be16 (p) : (guint32) p[0] | (guint32) p[1] << 8;
}

static guint32
get32 (const Tiff *tiff, gsize at)
{
  return tiff->big_endian ? ws_be32 (tiff->data + at) : ws_le32 (tiff->data + at);
}

/* To be looked at once; what has no room is passed over, so no loop can arise. */
static void
wait_for_directory (Tiff *tiff, guint32 at)
{
  if (at >= 8 && at < tiff->size - 2 && tiff->n_waiting < MAX_DIRECTORIES)
    tiff->waiting[tiff->n_waiting++] = at;
}

static void
take_sub_directories (Tiff *tiff, gsize entry)
{
  guint32 count = get32 (tiff, entry + 4), at = get32 (tiff, entry + 8);

  if (count == 1)
    wait_for_directory (tiff, at);
  for (guint32 i = 0; count > 1 && i < count && i < MAX_DIRECTORIES; i++)
    if (at <= tiff->size - 4 && (gsize) i * 4 <= tiff->size - 4 - at)
      wait_for_directory (tiff, get32 (tiff, (gsize) at + (gsize) i * 4));
}

/* TRUE if this directory says that the file is raw. */
static gboolean
look_at_directory (Tiff *tiff, gsize at)
{
  guint n = MIN (get16 (tiff, at), MAX_ENTRIES);

  for (at += 2; n > 0 && tiff->size - at >= 12; at += 12, n--)
    {
      guint tag = get16 (tiff, at), value = get16 (tiff, at + 8);

      if (tag == TAG_DNG_VERSION || (tag == TAG_PHOTOMETRIC && (value == COLOUR_FILTER_ARRAY || value == LINEAR_RAW)))
        return TRUE;
      if (tag == TAG_SUB_DIRECTORIES)
        take_sub_directories (tiff, at);
    }
  if (n == 0 && tiff->size - at >= 4)
    wait_for_directory (tiff, get32 (tiff, at));
  return FALSE;
}

static gboolean
is_raw_tiff (const guint8 *data, gsize size)
{
  Tiff tiff = { .data = data, .size = size, .big_endian = data[0] == 'M' };

  wait_for_directory (&tiff, get32 (&tiff, 4));
  for (guint i = 0; i < tiff.n_waiting; i++)
    if (look_at_directory (&tiff, tiff.waiting[i]))
      return TRUE;
  return FALSE;
}

gboolean
ws_raw_is_raw (const guint8 *data, gsize size)
{
  /* As file(1) knows them. The last byte of a name is the one of another kind's magic, so lengths are told. */
  static const struct { const char *magic; gsize at, length; } signatures[] = {
    { "CR\2\0", 8, 4 }, { "IIU\0", 0, 4 }, { "IIRO", 0, 4 }, { "IIRS", 0, 4 }, { "MMOR", 0, 4 },
    { "FUJIFILMCCD-RAW ", 0, 16 }, { "FOVb", 0, 4 }, { "HEAPCCDR", 6, 8 }, { "\0MRM", 0, 4 }, { "ftypcrx ", 4, 8 },
  };

  if (size < 32)
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (signatures); i++)
    if (memcmp (data + signatures[i].at, signatures[i].magic, signatures[i].length) == 0)
      return TRUE;
  return (memcmp (data, "II*\0", 4) == 0 || memcmp (data, "MM\0*", 4) == 0) && is_raw_tiff (data, size);
}

static gboolean
fail_preview (const char *name, const char *why, GError **error)
{
  g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
               _("The camera raw file “%s” holds no preview that can be shown (%s); export a JPEG from it and add that"),
               name, why);
  return FALSE;
}

/* What LibRaw calls flip: 1 left and right exchanged, 2 top and bottom, 4 rows and columns. */
static int
orientation_of (int flip)
{
  static const guint8 orientations[] = { 1, 2, 4, 3, 5, 8, 6, 7 };

  return flip >= 0 && flip < 8 ? orientations[flip] : 0;
}

static void
take_sizes (WsContainer *container, libraw_data_t *raw)
{
  int flip = raw->sizes.flip;

  container->is_raw = TRUE;
  container->media_type = WS_MEDIA_TYPE_RAW;
  container->raw_width = raw->sizes.width;
  container->raw_height = raw->sizes.height;
  container->orientation = orientation_of (flip);
  /* Some programs write a preview that is upright already (common practice, no source): then a quarter turn would show as
   * a preview that stands where the raw picture lies. */
  container->upright = (flip & 4) != 0 && container->width != container->height &&
                       container->raw_width != container->raw_height &&
                       (container->width > container->height) != (container->raw_width > container->raw_height);
}

/* The preview's own outside, under the raw file's name. */
static gboolean
take_jpeg (WsContainer *container, GBytes *preview, const char *name, GError **error)
{
  g_auto (WsContainer) inner = { 0 };
  gsize size;
  const guint8 *data = g_bytes_get_data (preview, &size);

  if (size < 4 || memcmp (data, "\xff\xd8\xff", 3) != 0)
    return fail_preview (name, _("it is no JPEG"), error);
  if (!ws_container_scan (&inner, preview, name, error))
    return FALSE;
  container->kind = WS_CONTAINER_JPEG;
  container->width = inner.width;
  container->height = inner.height;
  for (guint i = 0; i < inner.n_exif; i++)
    ws_container_add_exif (container, inner.exif[i].data, inner.exif[i].size);
  return TRUE;
}

/* Red, green and blue as they are: what cameras of the first years have. */
static gboolean
take_bitmap (WsContainer *container, const libraw_thumbnail_t *thumbnail, const char *name, GError **error)
{
  gsize size = (gsize) thumbnail->twidth * thumbnail->theight * 3;

  if (size == 0 || thumbnail->tcolors != 3 || thumbnail->tlength < size)
    return fail_preview (name, _("it is cut short"), error);
  container->kind = WS_CONTAINER_PIXELS;
  container->width = thumbnail->twidth;
  container->height = thumbnail->theight;
  return TRUE;
}

static gboolean
take_preview (WsContainer *container, libraw_data_t *raw, gsize size, const char *name, GError **error)
{
  libraw_thumbnail_t *thumbnail = &raw->thumbnail;
  int failed;

  /* Nothing in a file is larger than the file, unless it was made to do harm. */
  if (thumbnail->tlength > size || (guint64) thumbnail->twidth * thumbnail->theight > WS_PICTURE_MAX_PIXELS)
    return fail_preview (name, _("it claims to be larger than the file"), error);
  failed = libraw_unpack_thumb (raw);
  if (failed != LIBRAW_SUCCESS || thumbnail->thumb == NULL || thumbnail->tlength == 0)
    return fail_preview (name, libraw_strerror (failed != LIBRAW_SUCCESS ? failed : LIBRAW_NO_THUMBNAIL), error);
  if (thumbnail->tformat != LIBRAW_THUMBNAIL_JPEG && thumbnail->tformat != LIBRAW_THUMBNAIL_BITMAP)
    return fail_preview (name, libraw_strerror (LIBRAW_UNSUPPORTED_THUMBNAIL), error);
  container->preview = g_bytes_new (thumbnail->thumb, thumbnail->tlength);
  return thumbnail->tformat == LIBRAW_THUMBNAIL_JPEG ? take_jpeg (container, container->preview, name, error)
                                                     : take_bitmap (container, thumbnail, name, error);
}

gboolean
ws_raw_scan (WsContainer *container, GBytes *bytes, const char *name, GError **error)
{
  libraw_data_t *raw = libraw_init (LIBRAW_OPIONS_NO_MEMERR_CALLBACK | LIBRAW_OPIONS_NO_DATAERR_CALLBACK);
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);
  gboolean done = FALSE;
  int failed;

  if (raw == NULL)
    return fail_preview (name, _("not enough memory"), error);
  raw->params.max_raw_memory_mb = LIBRAW_MEGABYTES;
  failed = libraw_open_buffer (raw, (void *) data, size);
  if (failed != LIBRAW_SUCCESS)
    fail_preview (name, libraw_strerror (failed), error);
  else
    {
      /* The raw file's own data first: of several, the first that has a tag gives it. */
      if (memcmp (data, "II", 2) == 0 || memcmp (data, "MM", 2) == 0)
        ws_container_add_exif (container, data, size);
      else if (memcmp (data + 4, "ftyp", 4) == 0)
        ws_raw_add_boxes (container, data, size);
      done = take_preview (container, raw, size, name, error);
      take_sizes (container, raw);
    }
  libraw_close (raw);
  return done;
}
