/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-photo-copy.h"

#include "ws-blocking.h"
#include "ws-container.h"
#include "ws-cover.h"
#include "ws-error.h"
#include "ws-intl.h"
#include "ws-jpeg-stream.h"
#include "ws-photo-facts.h"
#include "ws-picture-private.h"

#include <libexif/exif-data.h>
#include <libexif/exif-utils.h>
#include <stdlib.h>
#include <string.h>

#define USUAL_QUALITY 88
/* The whole EXIF segment must stay below 64 KB. */
#define MAX_TEXT 8000

/* Two steps of 255: what rounding in a converter makes of a profile that is sRGB. */
#define SRGB_TOLERANCE 2

static void
add_entry (ExifData *exif, ExifIfd ifd, ExifTag tag, ExifFormat format, const void *value, gsize size, gulong count)
{
  ExifEntry *entry = exif_entry_new ();

  entry->tag = tag;
  entry->format = format;
  entry->components = count;
  entry->data = malloc (size);
  if (entry->data != NULL)
    {
      memcpy (entry->data, value, size);
      entry->size = (unsigned int) size;
      exif_content_add_entry (exif->ifd[ifd], entry);
    }
  exif_entry_unref (entry);
}

static gboolean
add_text (ExifData *exif, ExifIfd ifd, ExifTag tag, const char *text)
{
  g_autofree char *cut = NULL;

  if (text == NULL || *text == '\0')
    return FALSE;
  cut = strlen (text) <= MAX_TEXT ? g_strdup (text) : g_utf8_make_valid (text, MAX_TEXT);
  add_entry (exif, ifd, tag, EXIF_FORMAT_ASCII, cut, strlen (cut) + 1, strlen (cut) + 1);
  return TRUE;
}

static gboolean
add_time (ExifData *exif, const WsMoment *taken)
{
  g_autofree char *iso = NULL, *text = NULL, *offset = NULL;
  WsMoment corrected;

  if (taken == NULL || !ws_moment_is_known (taken))
    return FALSE;
  corrected = *taken;
  corrected.local_us = ws_moment_sort_key (taken);
  corrected.decimals = 0;
  iso = ws_moment_local_text (&corrected);
  if (iso == NULL || strlen (iso) != 19)
    return FALSE;
  text = g_strdup_printf ("%.4s:%.2s:%.2s %.8s", iso, iso + 5, iso + 8, iso + 11);
  add_text (exif, EXIF_IFD_EXIF, EXIF_TAG_DATE_TIME_ORIGINAL, text);
  if (taken->offset_source == WS_OFFSET_UNKNOWN)
    return TRUE;
  offset = ws_offset_to_text (taken->offset_minutes);
  add_text (exif, EXIF_IFD_EXIF, EXIF_TAG_OFFSET_TIME_ORIGINAL, offset);
  return TRUE;
}

/* The APP1 body of what is to be told, or NULL when nothing is. */
static GBytes *
make_exif (const WsCopyOptions *options)
{
  ExifData *exif = exif_data_new ();
  unsigned char *data = NULL;
  unsigned int size = 0;
  gboolean any;
  guint8 upright[2];
  GBytes *bytes = NULL;

  exif_data_unset_option (exif, EXIF_DATA_OPTION_FOLLOW_SPECIFICATION);
  exif_data_set_byte_order (exif, EXIF_BYTE_ORDER_INTEL);
  exif_set_short (upright, EXIF_BYTE_ORDER_INTEL, 1);
  any = add_text (exif, EXIF_IFD_0, EXIF_TAG_IMAGE_DESCRIPTION, options->description);
  any |= add_text (exif, EXIF_IFD_0, EXIF_TAG_MAKE, options->make);
  any |= add_text (exif, EXIF_IFD_0, EXIF_TAG_MODEL, options->model);
  add_entry (exif, EXIF_IFD_0, EXIF_TAG_ORIENTATION, EXIF_FORMAT_SHORT, upright, 2, 1);
  any |= add_time (exif, options->taken);
  if (any)
    exif_data_save_data (exif, &data, &size);
  if (data != NULL)
    bytes = g_bytes_new (data, size);
  free (data);
  exif_data_unref (exif);
  return bytes;
}

/* A cube of 9 x 9 x 9 colours, in rows of 81. */
static VipsImage *
make_colours (guint8 *pixels)
{
  for (int i = 0; i < 729; i++)
    {
      pixels[i * 3] = (guint8) MIN (i / 81 * 32, 255);
      pixels[i * 3 + 1] = (guint8) MIN (i / 9 % 9 * 32, 255);
      pixels[i * 3 + 2] = (guint8) MIN (i % 9 * 32, 255);
    }
  return vips_image_new_from_memory (pixels, 729 * 3, 81, 9, 3, VIPS_FORMAT_UCHAR);
}

/* Not the profile's name but what it does decides: the cube must come out as it went in. */
static gboolean
is_srgb_profile (const void *profile, gsize size)
{
  guint8 pixels[729 * 3];
  g_autoptr (VipsImage) colours = make_colours (pixels), result = NULL;
  g_autofree guint8 *turned = NULL;
  size_t n = 0;
  int worst = 255;

  if (colours != NULL)
    {
      colours->Type = VIPS_INTERPRETATION_sRGB;
      vips_image_set_blob_copy (colours, VIPS_META_ICC_NAME, profile, size);
      if (vips_icc_transform (colours, &result, "srgb", "embedded", TRUE, NULL) == 0)
        turned = vips_image_write_to_memory (result, &n);
    }
  if (turned != NULL && n == sizeof pixels)
    for (gsize i = worst = 0; i < n; i++)
      worst = MAX (worst, ABS (turned[i] - pixels[i]));
  if (turned == NULL)
    g_free (ws_vips_take_error ());
  return worst <= SRGB_TOLERANCE;
}

/* TRUE if the samples of the JPEG mean sRGB: by a profile that is sRGB, or without one. */
static gboolean
is_srgb_jpeg (GBytes *bytes, WsColours without)
{
  g_autoptr (VipsImage) header = NULL;
  const void *profile;
  size_t size;
  gsize length;
  void *data = (void *) g_bytes_get_data (bytes, &length);

  if (vips_jpegload_buffer (data, length, &header, "access", VIPS_ACCESS_SEQUENTIAL, NULL) != 0)
    {
      g_free (ws_vips_take_error ());
      return FALSE;
    }
  if (vips_image_get_typeof (header, VIPS_META_ICC_NAME) == 0)
    return without == WS_COLOURS_SRGB;
  return header->Bands == 3 && vips_image_get_blob (header, VIPS_META_ICC_NAME, &profile, &size) == 0 &&
         is_srgb_profile (profile, size);
}

static gboolean
has_covers (const WsCopyOptions *options)
{
  return options->covers != NULL && options->covers->len > 0;
}

/* NULL when there are no regions. */
static GBytes *
make_xmp (const WsCopyOptions *options, int width, int height)
{
  if (options->regions == NULL || options->crop != NULL)
    return NULL;
  return ws_regions_to_xmp ((const WsRegion *) (gpointer) options->regions->data, options->regions->len,
                            options->language != NULL ? options->language : "x-default", width, height);
}

/* The original's compressed data without anything around them; NULL where that will not do. */
static GBytes *
keep_scan (GBytes *bytes, const WsPhotoFacts *facts, const WsCopyOptions *options, GBytes *exif)
{
  g_autoptr (GBytes) xmp = NULL;

  if (!g_str_equal (facts->media_type, "image/jpeg") || facts->turn || has_covers (options) ||
      options->crop != NULL || (options->max_edge > 0 && MAX (facts->width, facts->height) > options->max_edge) ||
      !is_srgb_jpeg (bytes, facts->colours))
    return NULL;
  xmp = make_xmp (options, facts->width, facts->height);
  return ws_jpeg_stream_rebuild (bytes, exif, xmp);
}

static void
paint_covers (WsPicture *picture, GPtrArray *covers)
{
  gsize size;
  guint8 *pixels = g_bytes_unref_to_data (picture->pixels, &size);

  for (guint i = 0; i < covers->len; i++)
    ws_cover_paint (pixels, picture->width, picture->height, covers->pdata[i]);
  picture->pixels = g_bytes_new_take (pixels, size);
}

/* Cut out and shrunk; *@picture is replaced. */
static gboolean
cut_and_shrink (WsPicture **picture, const WsCopyOptions *options)
{
  g_autoptr (WsPicture) from = *picture;
  VipsImage *image = ws_picture_to_vips (from), *next = NULL;
  int x = 0, y = 0, w = from->width, h = from->height;
  gboolean done;
  void *pixels = NULL;
  size_t size = 0;

  if (options->crop != NULL)
    ws_rect_to_pixels (options->crop, from->width, from->height, &x, &y, &w, &h);
  *picture = NULL;
  done = image != NULL && ws_vips_step (&image, &next, vips_extract_area (image, &next, x, y, w, h, NULL)) &&
         ws_vips_shrink (&image, options->max_edge);
  if (done)
    pixels = vips_image_write_to_memory (image, &size);
  if (pixels != NULL)
    {
      *picture = g_new0 (WsPicture, 1);
      **picture = (WsPicture) { image->Xsize, image->Ysize, g_bytes_new_take (pixels, size), w, h };
    }
  g_clear_object (&image);
  return *picture != NULL;
}

/* The picture as it shall look. What is covered is painted over before anything mixes pixels. */
static WsPicture *
make_picture (GBytes *bytes, const char *path, const WsCopyOptions *options, GCancellable *cancellable, GError **error)
{
  gboolean whole = !has_covers (options) && options->crop == NULL;
  WsPicture *picture = ws_picture_decode (bytes, path, whole ? options->max_edge : 0, cancellable, error);

  if (picture == NULL || whole)
    return picture;
  if (has_covers (options))
    paint_covers (picture, options->covers);
  if (!cut_and_shrink (&picture, options))
    ws_vips_fail (path, cancellable, error);
  return picture;
}

static WsPhotoCopy *
new_copy (GBytes *jpeg, int width, int height, gboolean scan_kept)
{
  WsPhotoCopy *copy = g_new0 (WsPhotoCopy, 1);

  *copy = (WsPhotoCopy) { jpeg, width, height, scan_kept };
  return copy;
}

/* Damaged data would reach the identifier as they are, so they are decoded once, small. */
static WsPhotoCopy *
check_kept (GBytes *jpeg, const WsPhotoFacts *facts, const char *path, GCancellable *cancellable, GError **error)
{
  g_autoptr (WsPicture) picture = ws_picture_decode (jpeg, path, 64, cancellable, error);

  if (picture != NULL)
    return new_copy (jpeg, facts->width, facts->height, TRUE);
  g_bytes_unref (jpeg);
  return NULL;
}

WsPhotoCopy *
ws_photo_copy_make (const char *path, const WsCopyOptions *options, GCancellable *cancellable, GError **error)
{
  g_autoptr (GBytes) bytes = NULL, exif = NULL, xmp = NULL, plain = NULL;
  g_autoptr (WsPhotoFacts) facts = NULL;
  g_autoptr (WsPicture) picture = NULL;
  GBytes *jpeg;

  ws_blocking ("copying a photo");
  if (options->crop != NULL && !ws_rect_is_valid (options->crop))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_INVALID, _("The region to be cut out of “%s” lies outside the photo"), path);
      return NULL;
    }
  if (g_cancellable_set_error_if_cancelled (cancellable, error) ||
      (bytes = ws_container_load (path, NULL, error)) == NULL ||
      (facts = ws_photo_facts_read (bytes, path, error)) == NULL)
    return NULL;
  exif = make_exif (options);
  jpeg = keep_scan (bytes, facts, options, exif);
  if (jpeg != NULL)
    return check_kept (jpeg, facts, path, cancellable, error);
  picture = make_picture (bytes, path, options, cancellable, error);
  if (picture == NULL)
    return NULL;
  plain = ws_picture_to_jpeg (picture, options->quality > 0 ? options->quality : USUAL_QUALITY, error);
  if (plain == NULL)
    return NULL;
  xmp = make_xmp (options, picture->width, picture->height);
  jpeg = ws_jpeg_stream_rebuild (plain, exif, xmp);
  if (jpeg == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("A copy of “%s” cannot be written as JPEG"), path);
      return NULL;
    }
  return new_copy (jpeg, picture->width, picture->height, FALSE);
}

void
ws_photo_copy_free (WsPhotoCopy *copy)
{
  if (copy == NULL)
    return;
  g_clear_pointer (&copy->jpeg, g_bytes_unref);
  g_free (copy);
}
