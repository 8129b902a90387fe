/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-picture-private.h"

#include "ws-blocking.h"
#include "ws-container.h"
#include "ws-error.h"
#include "ws-intl.h"
#include "ws-photo-facts.h"

#include <string.h>

static const char *const loaders[] = {
  "VipsForeignLoadJpeg", "VipsForeignLoadPng", "VipsForeignLoadWebp", "VipsForeignLoadTiff", "VipsForeignLoadHeif",
};

/* libvips warns of every oddity of a file, which is for the file's owner no news they can use. */
static void
demote_warning (const char *domain, GLogLevelFlags level, const char *message, gpointer unused)
{
  g_debug ("%s: %s", domain, message);
}

gboolean
ws_picture_init (const char *program, GError **error)
{
  if (g_getenv ("VIPS_CONCURRENCY") == NULL)
    g_setenv ("VIPS_CONCURRENCY", "1", TRUE);
  if (VIPS_INIT (program) != 0)
    {
      g_autofree char *why = ws_vips_take_error ();

      g_set_error (error, WS_ERROR, WS_ERROR_FAILED,
                   _("The library that decodes pictures does not start (%s); install libvips again"), why);
      return FALSE;
    }
  g_log_set_handler ("VIPS", G_LOG_LEVEL_WARNING | G_LOG_LEVEL_MESSAGE | G_LOG_LEVEL_INFO | G_LOG_FLAG_FATAL,
                     demote_warning, NULL);
  vips_operation_block_set ("VipsForeignLoad", TRUE);
  for (gsize i = 0; i < G_N_ELEMENTS (loaders); i++)
    vips_operation_block_set (loaders[i], FALSE);
  /* Nothing is computed twice, and a result kept would hold on to a file's bytes. */
  vips_cache_set_max (0);
  return TRUE;
}

char *
ws_vips_take_error (void)
{
  /* One buffer for all threads: taken at once, and perhaps with another's words in it. */
  char *text = vips_error_buffer_copy ();

  g_strdelimit (text, "\n", ' ');
  return g_strstrip (text);
}

gboolean
ws_vips_fail (const char *name, GCancellable *cancellable, GError **error)
{
  g_autofree char *why = ws_vips_take_error ();

  if (!g_cancellable_set_error_if_cancelled (cancellable, error))
    g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
                 _("The picture in “%s” is damaged or cut short (%s); copy it again from where it came"), name, why);
  return FALSE;
}

gboolean
ws_vips_step (VipsImage **image, VipsImage **next, int failed)
{
  if (failed != 0)
    return FALSE;
  g_object_unref (*image);
  *image = g_steal_pointer (next);
  return TRUE;
}

/* The largest shrink that a JPEG can be decoded with which leaves a factor of two for the
 * better filter afterwards. */
static int
jpeg_shrink (int edge, int max_edge)
{
  int shrink = 1;

  while (max_edge > 0 && shrink < 8 && edge / (shrink * 2) >= max_edge * 2)
    shrink *= 2;
  return shrink;
}

static VipsImage *
open_picture (GBytes *bytes, const WsPhotoFacts *facts, int max_edge)
{
  gsize size;
  void *data = (void *) g_bytes_get_data (bytes, &size);
  int edge = MAX (facts->width, facts->height);
  VipsImage *image = NULL;

  /* VIPS_FAIL_ON_ERROR: what only deserves a warning (a stray byte between segments, which
   * telephones write) is decoded; data that stop early or make no sense are not. */
  if (g_str_equal (facts->media_type, "image/jpeg"))
    vips_jpegload_buffer (data, size, &image, "access", VIPS_ACCESS_SEQUENTIAL, "fail_on", VIPS_FAIL_ON_ERROR,
                          "shrink", jpeg_shrink (edge, max_edge), NULL);
  else if (g_str_equal (facts->media_type, "image/png"))
    vips_pngload_buffer (data, size, &image, "access", VIPS_ACCESS_SEQUENTIAL, "fail_on", VIPS_FAIL_ON_ERROR, NULL);
  else if (g_str_equal (facts->media_type, "image/webp"))
    vips_webpload_buffer (data, size, &image, "access", VIPS_ACCESS_SEQUENTIAL, "fail_on", VIPS_FAIL_ON_ERROR, NULL);
  else if (g_str_equal (facts->media_type, "image/tiff"))
    vips_tiffload_buffer (data, size, &image, "access", VIPS_ACCESS_SEQUENTIAL, "fail_on", VIPS_FAIL_ON_ERROR, NULL);
  else
    vips_heifload_buffer (data, size, &image, "access", VIPS_ACCESS_SEQUENTIAL, "fail_on", VIPS_FAIL_ON_ERROR, NULL);
  return image;
}

/* Alpha is painted on white before anything else, so that no later step need know of it. */
static gboolean
flatten (VipsImage **image)
{
  double white = (*image)->Type == VIPS_INTERPRETATION_CMYK ? 0 :
                 (*image)->BandFmt == VIPS_FORMAT_USHORT ? 65535 : 255;
  VipsArrayDouble *background;
  VipsImage *next = NULL;
  gboolean done;

  if (!vips_image_hasalpha (*image))
    return TRUE;
  background = vips_array_double_newv (1, white);
  done = ws_vips_step (image, &next, vips_flatten (*image, &next, "background", background, NULL));
  vips_area_unref (VIPS_AREA (background));
  return done;
}

gboolean
ws_vips_shrink (VipsImage **image, int max_edge)
{
  int edge = MAX ((*image)->Xsize, (*image)->Ysize);
  VipsImage *next = NULL;
  double scale;
  int failed;

  if (max_edge == 0 || edge <= max_edge)
    return TRUE;
  scale = (double) max_edge / edge;
  failed = vips_resize (*image, &next, MAX (scale, 1.0 / (*image)->Xsize),
                        "vscale", MAX (scale, 1.0 / (*image)->Ysize), NULL);
  return ws_vips_step (image, &next, failed);
}

/* sRGB by the embedded profile; where that is broken or does not fit, as if there were none. */
static gboolean
apply_profile (VipsImage **image)
{
  VipsImage *next = NULL;
  g_autofree char *why = NULL;

  if (vips_image_get_typeof (*image, VIPS_META_ICC_NAME) == 0)
    return TRUE;
  if (ws_vips_step (image, &next, vips_icc_transform (*image, &next, "srgb", "embedded", TRUE, NULL)))
    return TRUE;
  why = ws_vips_take_error ();
  g_debug ("colour profile not used: %s", why);
  return TRUE;
}

static gboolean
to_three_bands (VipsImage **image)
{
  VipsImage *next = NULL;
  VipsImage *same[3] = { *image, *image, *image };

  if ((*image)->Bands == 1 || (*image)->Bands == 2)
    {
      if ((*image)->Bands == 2 && !ws_vips_step (image, &next, vips_extract_band (*image, &next, 0, NULL)))
        return FALSE;
      same[0] = same[1] = same[2] = *image;
      return ws_vips_step (image, &next, vips_bandjoin (same, &next, 3, NULL));
    }
  if ((*image)->Bands > 3)
    return ws_vips_step (image, &next, vips_extract_band (*image, &next, 0, "n", 3, NULL));
  return TRUE;
}

static gboolean
to_srgb (VipsImage **image)
{
  VipsImage *next = NULL;

  if (!apply_profile (image))
    return FALSE;
  if ((*image)->Type != VIPS_INTERPRETATION_sRGB && vips_colourspace_issupported (*image) &&
      !ws_vips_step (image, &next, vips_colourspace (*image, &next, VIPS_INTERPRETATION_sRGB, NULL)))
    return FALSE;
  if (!to_three_bands (image))
    return FALSE;
  if ((*image)->BandFmt != VIPS_FORMAT_UCHAR &&
      !ws_vips_step (image, &next, vips_cast (*image, &next, VIPS_FORMAT_UCHAR, NULL)))
    return FALSE;
  return TRUE;
}

/* EXIF orientation: what has to be done to the stored picture, first turning, then mirroring. */
static gboolean
turn (VipsImage **image, int orientation)
{
  static const VipsAngle angles[] = { VIPS_ANGLE_D0, VIPS_ANGLE_D0, VIPS_ANGLE_D0, VIPS_ANGLE_D180, VIPS_ANGLE_D180,
                                      VIPS_ANGLE_D90, VIPS_ANGLE_D90, VIPS_ANGLE_D270, VIPS_ANGLE_D270 };
  gboolean mirrored = orientation == 2 || orientation == 4 || orientation == 5 || orientation == 7;
  VipsImage *next = NULL;

  if (orientation <= 1)
    return TRUE;
  /* The rows come in order only once; turning needs all of them. */
  next = vips_image_copy_memory (*image);
  if (!ws_vips_step (image, &next, next == NULL ? -1 : 0))
    return FALSE;
  if (!ws_vips_step (image, &next, vips_rot (*image, &next, angles[orientation], NULL)))
    return FALSE;
  return !mirrored || ws_vips_step (image, &next, vips_flip (*image, &next, VIPS_DIRECTION_HORIZONTAL, NULL));
}

static gboolean
check_size (const WsPhotoFacts *facts, const char *name, GError **error)
{
  if ((gint64) facts->width * facts->height <= WS_PICTURE_MAX_PIXELS)
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE,
               _("The picture in “%s” has %d × %d pixels, more than the limit of %d million; shrink a copy of it"),
               name, facts->width, facts->height, WS_PICTURE_MAX_PIXELS / 1000000);
  return FALSE;
}

/* Rows computed at a time; a cancel waits for no more than these. */
#define STRIP 128

/* Strip by strip on this thread: libvips' own way of stopping a picture half-way warns aloud about every tile it left. */
static gboolean
compute (VipsImage *image, guint8 *pixels, GCancellable *cancellable)
{
  VipsRegion *region = vips_region_new (image);
  gsize stride = (gsize) image->Xsize * 3;
  gboolean done = TRUE;

  for (int y = 0; done && y < image->Ysize; y += STRIP)
    {
      VipsRect strip = { 0, y, image->Xsize, MIN (STRIP, image->Ysize - y) };

      done = !g_cancellable_is_cancelled (cancellable) && vips_region_prepare (region, &strip) == 0;
      for (int row = 0; done && row < strip.height; row++)
        memcpy (pixels + (gsize) (y + row) * stride, VIPS_REGION_ADDR (region, 0, y + row), stride);
    }
  g_object_unref (region);
  return done;
}

static WsPicture *
take_pixels (VipsImage *image, const WsPhotoFacts *facts, GCancellable *cancellable)
{
  gsize size = (gsize) image->Xsize * (gsize) image->Ysize * 3;
  guint8 *pixels = g_try_malloc (size);
  WsPicture *picture;

  if (pixels == NULL || !compute (image, pixels, cancellable))
    {
      g_free (pixels);
      return NULL;
    }
  picture = g_new0 (WsPicture, 1);
  picture->width = image->Xsize;
  picture->height = image->Ysize;
  picture->pixels = g_bytes_new_take (pixels, size);
  picture->full_width = facts->width;
  picture->full_height = facts->height;
  return picture;
}

/* The loader found another size than the header told: only damage or malice does that. */
static gboolean
is_as_told (VipsImage *image, const WsPhotoFacts *facts)
{
  return (gint64) image->Xsize * image->Ysize <= (gint64) facts->width * facts->height;
}

WsPicture *
ws_picture_decode (GBytes *bytes, const char *name, int max_edge, GCancellable *cancellable, GError **error)
{
  g_autoptr (WsPhotoFacts) facts = NULL;
  VipsImage *image;
  WsPicture *picture = NULL;

  ws_blocking ("decoding a picture");
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  facts = ws_photo_facts_read (bytes, name, error);
  if (facts == NULL || !check_size (facts, name, error))
    return NULL;
  image = open_picture (bytes, facts, max_edge);
  if (image == NULL)
    {
      ws_vips_fail (name, cancellable, error);
      return NULL;
    }
  if (is_as_told (image, facts) && flatten (&image) && ws_vips_shrink (&image, max_edge) && to_srgb (&image) &&
      turn (&image, facts->turn ? facts->orientation : 1))
    picture = take_pixels (image, facts, cancellable);
  if (picture == NULL)
    ws_vips_fail (name, cancellable, error);
  g_object_unref (image);
  return picture;
}

WsPicture *
ws_picture_decode_file (const char *path, int max_edge, GCancellable *cancellable, GError **error)
{
  g_autoptr (GBytes) bytes = ws_container_load (path, NULL, error);

  return bytes != NULL ? ws_picture_decode (bytes, path, max_edge, cancellable, error) : NULL;
}

WsPicture *
ws_picture_halve (const WsPicture *picture)
{
  WsPicture *half = g_new0 (WsPicture, 1);
  const guint8 *from = g_bytes_get_data (picture->pixels, NULL);
  gsize stride = (gsize) picture->width * 3;
  guint8 *pixels, *to;

  half->width = (picture->width + 1) / 2;
  half->height = (picture->height + 1) / 2;
  half->full_width = picture->full_width;
  half->full_height = picture->full_height;
  pixels = to = g_malloc ((gsize) half->width * half->height * 3);
  for (int y = 0; y < half->height; y++)
    {
      const guint8 *upper = from + (gsize) y * 2 * stride;
      /* An odd last row or column counts twice. */
      const guint8 *lower = y * 2 + 1 < picture->height ? upper + stride : upper;

      for (int x = 0; x < half->width; x++, to += 3, upper += 6, lower += 6)
        {
          int next = x * 2 + 1 < picture->width ? 3 : 0;

          for (int c = 0; c < 3; c++)
            to[c] = (guint8) ((upper[c] + upper[c + next] + lower[c] + lower[c + next] + 2) / 4);
        }
    }
  half->pixels = g_bytes_new_take (pixels, (gsize) half->width * half->height * 3);
  return half;
}

void
ws_picture_free (WsPicture *picture)
{
  if (picture == NULL)
    return;
  g_clear_pointer (&picture->pixels, g_bytes_unref);
  g_free (picture);
}

VipsImage *
ws_picture_to_vips (const WsPicture *picture)
{
  VipsImage *image = vips_image_new_from_memory (g_bytes_get_data (picture->pixels, NULL),
                                                 g_bytes_get_size (picture->pixels), picture->width,
                                                 picture->height, 3, VIPS_FORMAT_UCHAR);

  if (image != NULL)
    image->Type = VIPS_INTERPRETATION_sRGB;
  return image;
}

GBytes *
ws_picture_to_jpeg (const WsPicture *picture, int quality, GError **error)
{
  g_autoptr (VipsImage) image = NULL;
  void *data = NULL;
  size_t size = 0;

  ws_blocking ("encoding a picture");
  image = ws_picture_to_vips (picture);
  if (image == NULL || vips_jpegsave_buffer (image, &data, &size, "Q", CLAMP (quality, 1, 100), "strip", TRUE,
                                             "optimize_coding", TRUE, NULL) != 0)
    {
      g_autofree char *why = ws_vips_take_error ();

      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("A picture cannot be written as JPEG (%s)"), why);
      return NULL;
    }
  return g_bytes_new_take (data, size);
}
