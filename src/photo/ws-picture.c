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
  /* One buffer for all threads: taken at once, and perhaps with another's words in it. The cause stands in its first line. */
  char *text = g_strchug (vips_error_buffer_copy ());

  text[strcspn (text, "\n")] = '\0';
  return g_strchomp (text);
}

gboolean
ws_vips_fail (const char *name, GCancellable *cancellable, GError **error)
{
  g_autofree char *why = ws_vips_take_error ();

  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;
  if (*why == '\0')
    g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
                 _("The picture in “%s” is damaged or cut short; copy it again from where it came"), name);
  else
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

/* Rows computed at a time; a cancel or the time limit waits for no more than these. */
#define STRIP 128

/* Strip by strip on this thread: libvips' own way of stopping a picture half-way warns aloud about every tile it left.
 * FALSE when libvips fails, at a cancel, and after @deadline (monotonic). */
static gboolean
compute (VipsImage *image, guint8 *pixels, gint64 deadline, GCancellable *cancellable)
{
  VipsRegion *region = vips_region_new (image);
  gsize stride = (gsize) image->Xsize * 3;
  gboolean done = TRUE;

  for (int y = 0; done && y < image->Ysize; y += STRIP)
    {
      VipsRect strip = { 0, y, image->Xsize, MIN (STRIP, image->Ysize - y) };

      done = !g_cancellable_is_cancelled (cancellable) && g_get_monotonic_time () < deadline &&
             vips_region_prepare (region, &strip) == 0;
      for (int row = 0; done && row < strip.height; row++)
        memcpy (pixels + (gsize) (y + row) * stride, VIPS_REGION_ADDR (region, 0, y + row), stride);
    }
  g_object_unref (region);
  return done;
}

void
ws_picture_fail_late (const char *name, guint seconds, GError **error)
{
  g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE,
               _("Decoding “%s” took longer than the limit of %u seconds; save a copy of it as an ordinary JPEG and "
                 "add that"), name, seconds);
}

static WsPicture *
take_pixels (VipsImage *image, const WsPhotoFacts *facts, const char *name, guint seconds,
             GCancellable *cancellable, GError **error)
{
  gint64 deadline = g_get_monotonic_time () + seconds * G_USEC_PER_SEC;
  gsize size = (gsize) image->Xsize * (gsize) image->Ysize * 3;
  g_autofree guint8 *pixels = g_try_malloc (size);
  WsPicture *picture;

  if (pixels == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED,
                   _("There is not enough memory for the picture in “%s” (%zu MB); close other programs"), name,
                   size / 1000000);
      return NULL;
    }
  if (!compute (image, pixels, deadline, cancellable))
    {
      if (!g_cancellable_is_cancelled (cancellable) && g_get_monotonic_time () >= deadline)
        ws_picture_fail_late (name, seconds, error);
      else
        ws_vips_fail (name, cancellable, error);
      return NULL;
    }
  picture = g_new0 (WsPicture, 1);
  picture->width = image->Xsize;
  picture->height = image->Ysize;
  picture->pixels = g_bytes_new_take (g_steal_pointer (&pixels), size);
  picture->full_width = facts->width;
  picture->full_height = facts->height;
  picture->raw_preview = facts->raw_preview;
  return picture;
}

/* EXIF orientation: what has to be done to the stored picture, first turning, then mirroring. Done on finished pixels,
 * since rows come in order only once and turning needs all of them. */
static gboolean
turn (WsPicture *picture, int orientation)
{
  static const VipsAngle angles[] = { VIPS_ANGLE_D0, VIPS_ANGLE_D0, VIPS_ANGLE_D0, VIPS_ANGLE_D180, VIPS_ANGLE_D180,
                                      VIPS_ANGLE_D90, VIPS_ANGLE_D90, VIPS_ANGLE_D270, VIPS_ANGLE_D270 };
  gboolean mirrored = orientation == 2 || orientation == 4 || orientation == 5 || orientation == 7;
  g_autoptr (VipsImage) image = ws_picture_to_vips (picture);
  VipsImage *next = NULL;
  void *pixels = NULL;
  size_t size = 0;

  if (image == NULL || !ws_vips_step (&image, &next, vips_rot (image, &next, angles[orientation], NULL)) ||
      (mirrored && !ws_vips_step (&image, &next, vips_flip (image, &next, VIPS_DIRECTION_HORIZONTAL, NULL))))
    return FALSE;
  pixels = vips_image_write_to_memory (image, &size);
  if (pixels == NULL)
    return FALSE;
  picture->width = image->Xsize;
  picture->height = image->Ysize;
  g_bytes_unref (picture->pixels);
  picture->pixels = g_bytes_new_take (pixels, size);
  return TRUE;
}

WsPicture *
ws_picture_decode_within (GBytes *bytes, const char *name, int max_edge, guint seconds, GCancellable *cancellable,
                          GError **error)
{
  g_auto (WsContainer) container = { 0 };
  g_autoptr (WsPhotoFacts) facts = NULL;
  g_autoptr (VipsImage) image = NULL;
  g_autoptr (WsPicture) picture = NULL;

  ws_blocking ("decoding a picture");
  /* What libvips says about this file is not to be mixed with what it said about the one before. */
  vips_error_clear ();
  if (g_cancellable_set_error_if_cancelled (cancellable, error) ||
      !ws_container_scan (&container, bytes, name, error) ||
      (facts = ws_photo_facts_from_container (&container, name, error)) == NULL ||
      (image = ws_picture_open (container.is_raw ? container.preview : bytes, &container, facts, max_edge, name, error)) == NULL)
    return NULL;
  if (!ws_picture_flatten (&image) || !ws_vips_shrink (&image, max_edge) || !ws_picture_to_srgb (&image, facts->colours))
    {
      ws_vips_fail (name, cancellable, error);
      return NULL;
    }
  picture = take_pixels (image, facts, name, seconds, cancellable, error);
  if (picture != NULL && facts->turn && !turn (picture, facts->orientation))
    {
      ws_vips_fail (name, cancellable, error);
      return NULL;
    }
  return g_steal_pointer (&picture);
}

WsPicture *
ws_picture_decode (GBytes *bytes, const char *name, int max_edge, GCancellable *cancellable, GError **error)
{
  return ws_picture_decode_within (bytes, name, max_edge, WS_PICTURE_MAX_SECONDS, cancellable, error);
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
  half->raw_preview = picture->raw_preview;
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
