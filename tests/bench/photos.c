/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Invented photos: noise with as much of every size as photographs have (amplitude falls with frequency), the edges of
 * cells, and the grain of a sensor; all different, since each is another cut of one large picture, with other colours. */
#include "bench.h"

#include "ws-picture-private.h"

#include <string.h>

#define WIDTH 6000
#define HEIGHT 4000
#define MARGIN 1500           /* px of the large picture beyond one photo */
#define QUALITY 92
#define WORKERS 2

static void
must (int failed)
{
  if (failed != 0)
    g_error ("%s", vips_error_buffer ());
}

/* Noise of one size, enlarged to the whole. */
static VipsImage *
octave (int width, int height, int shrink, double sigma)
{
  g_autoptr (VipsImage) noise = NULL, large = NULL;
  VipsImage *cut = NULL;

  must (vips_gaussnoise (&noise, width / shrink + 8, height / shrink + 8, "sigma", sigma, "mean", 0.0, NULL));
  must (vips_resize (noise, &large, shrink, "kernel", shrink > 1 ? VIPS_KERNEL_CUBIC : VIPS_KERNEL_NEAREST, NULL));
  must (vips_extract_area (large, &cut, shrink, shrink, width, height, NULL));
  return cut;
}

/* One band, floats about 0. */
static VipsImage *
surface (int width, int height)
{
  g_autoptr (VipsImage) cells = NULL;
  VipsImage *sum = NULL;

  must (vips_worley (&cells, width, height, "cell_size", 160, NULL));
  must (vips_linear1 (cells, &sum, 0.25, -20.0, NULL));
  for (int shrink = 1; shrink <= 512; shrink *= 2)
    {
      g_autoptr (VipsImage) one = octave (width, height, shrink, shrink == 1 ? 3.2 : 2.0 + 1.6 * __builtin_ctz ((guint) shrink));
      VipsImage *next = NULL;

      must (vips_add (sum, one, &next, NULL));
      g_object_unref (sum);
      sum = next;
    }
  return sum;
}

/* Three bands of which much is common, as brightness is, in memory. */
static VipsImage *
large_picture (int width, int height)
{
  g_autoptr (VipsImage) light = surface (width, height), grain = NULL, colour = NULL, joined = NULL, byte = NULL;
  VipsImage *bands[3] = { NULL }, *memory;
  static const double means[3] = { 112, 104, 84 };

  for (int i = 0; i < 3; i++)
    {
      g_autoptr (VipsImage) soft = octave (width, height, 64, 9), fine = octave (width, height, 1, 2.0), a = NULL, b = NULL;

      must (vips_add (light, soft, &a, NULL));
      must (vips_add (a, fine, &b, NULL));
      must (vips_linear1 (b, &bands[i], 1.0, means[i], NULL));
    }
  must (vips_bandjoin (bands, &joined, 3, NULL));
  must (vips_cast (joined, &byte, VIPS_FORMAT_UCHAR, NULL));
  memory = vips_image_copy_memory (byte);
  for (int i = 0; i < 3; i++)
    g_object_unref (bands[i]);
  if (memory == NULL)
    must (-1);
  memory->Type = VIPS_INTERPRETATION_sRGB;
  return memory;
}

static void
tag (VipsImage *image, const char *name, const char *value)
{
  /* libvips writes EXIF from texts of this form. */
  g_autofree char *text = g_strdup_printf ("%s (%s, ASCII, %d components, %d bytes)", value, value, (int) strlen (value) + 1,
                                           (int) strlen (value) + 1);

  vips_image_set_string (image, name, text);
}

/* What cameras and telephones write into every photo, beside the time; in the words of libvips. */
static const struct { const char *name, *value; } camera_tags[] = {
  { "exif-ifd0-Software", "1.0 (1.0, ASCII, 4 components, 4 bytes)" },
  { "exif-ifd0-DateTime", "2025:10:04 14:03:22 (2025:10:04 14:03:22, ASCII, 20 components, 20 bytes)" },
  { "exif-ifd2-DateTimeDigitized", "2025:10:04 14:03:22 (2025:10:04 14:03:22, ASCII, 20 components, 20 bytes)" },
  { "exif-ifd2-ExposureTime", "1/125 (1/125 sec., Rational, 1 components, 8 bytes)" },
  { "exif-ifd2-FNumber", "56/10 (f/5.6, Rational, 1 components, 8 bytes)" },
  { "exif-ifd2-ExposureProgram", "2 (Normal program, Short, 1 components, 2 bytes)" },
  { "exif-ifd2-ISOSpeedRatings", "200 (200, Short, 1 components, 2 bytes)" },
  { "exif-ifd2-ShutterSpeedValue", "697/100 (6.97 EV, SRational, 1 components, 8 bytes)" },
  { "exif-ifd2-ApertureValue", "497/100 (4.97 EV, Rational, 1 components, 8 bytes)" },
  { "exif-ifd2-BrightnessValue", "31/10 (3.1 EV, SRational, 1 components, 8 bytes)" },
  { "exif-ifd2-ExposureBiasValue", "0/1 (0.0 EV, SRational, 1 components, 8 bytes)" },
  { "exif-ifd2-MaxApertureValue", "297/100 (2.97 EV, Rational, 1 components, 8 bytes)" },
  { "exif-ifd2-MeteringMode", "5 (Pattern, Short, 1 components, 2 bytes)" },
  { "exif-ifd2-LightSource", "0 (Unknown, Short, 1 components, 2 bytes)" },
  { "exif-ifd2-Flash", "16 (Off, Short, 1 components, 2 bytes)" },
  { "exif-ifd2-FocalLength", "60/1 (60.0 mm, Rational, 1 components, 8 bytes)" },
  { "exif-ifd2-FocalLengthIn35mmFilm", "90 (90, Short, 1 components, 2 bytes)" },
  { "exif-ifd2-WhiteBalance", "0 (Auto, Short, 1 components, 2 bytes)" },
  { "exif-ifd2-SceneCaptureType", "0 (Standard, Short, 1 components, 2 bytes)" },
  { "exif-ifd3-GPSLatitudeRef", "N (N, ASCII, 2 components, 2 bytes)" },
  { "exif-ifd3-GPSLatitude", "48/1 51/1 2999/100 (48, 51, 29.99, Rational, 3 components, 24 bytes)" },
  { "exif-ifd3-GPSLongitudeRef", "E (E, ASCII, 2 components, 2 bytes)" },
  { "exif-ifd3-GPSLongitude", "8/1 17/1 4012/100 (8, 17, 40.12, Rational, 3 components, 24 bytes)" },
  { "exif-ifd3-GPSAltitude", "212/1 (212, Rational, 1 components, 8 bytes)" },
};

static void
save (VipsImage *picture, const char *path, int left, int top, int width, int height, guint seed, int quality)
{
  g_autoptr (VipsImage) cut = NULL, coloured = NULL, byte = NULL, own = NULL;
  g_autofree char *taken = g_strdup_printf ("2025:10:%02u %02u:%02u:%02u", 1 + seed / 40 % 28, 9 + seed / 8 % 8, seed * 7 % 60, seed % 60);
  double gain[3], shift[3];

  must (vips_extract_area (picture, &cut, left, top, width, height, NULL));
  for (int i = 0; i < 3; i++)
    {
      gain[i] = 0.88 + 0.03 * ((seed * 5 + i * 3) % 8);
      shift[i] = (int) ((seed * 11 + i * 7) % 17) - 8;
    }
  must (vips_linear (cut, &coloured, gain, shift, 3, NULL));
  must (vips_cast (coloured, &byte, VIPS_FORMAT_UCHAR, NULL));
  must (vips_copy (byte, &own, "interpretation", VIPS_INTERPRETATION_sRGB, NULL));
  tag (own, "exif-ifd0-Make", "Invented");
  tag (own, "exif-ifd0-Model", "Box 24");
  tag (own, "exif-ifd2-DateTimeOriginal", taken);
  tag (own, "exif-ifd2-OffsetTimeOriginal", "+02:00");
  tag (own, "exif-ifd2-SubSecTimeOriginal", "25");
  for (gsize i = 0; i < G_N_ELEMENTS (camera_tags); i++)
    vips_image_set_string (own, camera_tags[i].name, camera_tags[i].value);
  must (vips_jpegsave (own, path, "Q", quality, NULL));
}

char *
bench_photo (const Bench *bench, guint i)
{
  g_autofree char *name = g_strdup_printf ("IMG_%04u.JPG", i + 1);

  return g_build_filename (bench->photos, name, NULL);
}

char **
bench_photo_argv (const Bench *bench, const char *const *before)
{
  GPtrArray *argv = g_ptr_array_new ();

  for (guint i = 0; before != NULL && before[i] != NULL; i++)
    g_ptr_array_add (argv, g_strdup (before[i]));
  for (guint i = 0; i < bench->n_photos; i++)
    g_ptr_array_add (argv, bench_photo (bench, i));
  g_ptr_array_add (argv, NULL);
  return (char **) g_ptr_array_free (argv, FALSE);
}

void
bench_make_large (const Bench *bench, const char *path)
{
  VipsImage *parts[6] = { NULL }, *joined = NULL, *cut = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      g_autofree char *photo = bench_photo (bench, i % bench->n_photos);

      must (vips_jpegload (photo, &parts[i], NULL));
    }
  must (vips_arrayjoin (parts, &joined, G_N_ELEMENTS (parts), "across", 3, NULL));
  must (vips_extract_area (joined, &cut, 0, 0, 12600, 8000, NULL));
  must (vips_jpegsave (cut, path, "Q", QUALITY, NULL));
  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    g_object_unref (parts[i]);
  g_object_unref (joined);
  g_object_unref (cut);
}

void
bench_make_photo (const char *path, int width, int height, guint seed, int quality)
{
  g_autoptr (VipsImage) picture = large_picture (width, height);

  save (picture, path, 0, 0, width, height, seed, quality);
}

typedef struct { const Bench *bench; VipsImage *picture; } Making;

static void
make_one (gpointer item, gpointer data)
{
  const Making *making = data;
  guint i = GPOINTER_TO_UINT (item) - 1;
  g_autofree char *path = bench_photo (making->bench, i);

  save (making->picture, path, (int) (i * 397 % MARGIN), (int) (i * 811 % MARGIN), WIDTH, HEIGHT, i, QUALITY);
}

void
bench_make_photos (Bench *bench)
{
  g_autoptr (VipsImage) picture = NULL;
  Making making;
  GThreadPool *pool;

  if (g_mkdir_with_parents (bench->photos, 0700) != 0)
    g_error ("%s cannot be made", bench->photos);
  picture = large_picture (WIDTH + MARGIN, HEIGHT + MARGIN);
  making = (Making) { bench, picture };
  pool = g_thread_pool_new (make_one, &making, WORKERS, FALSE, NULL);
  for (guint i = 0; i < bench->n_photos; i++)
    g_thread_pool_push (pool, GUINT_TO_POINTER (i + 1), NULL);
  g_thread_pool_free (pool, FALSE, TRUE);
}
