/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All eight orientations of every kind of file stand upright; HEIF turns itself and is never turned by EXIF. Judged by
 * CIEDE2000, the mean over the pixels. */
#include "ws-colour.h"
#include "ws-picture.h"

#include "photo-making.h"

#include <string.h>

/* Files that were encoded one by one differ by a fraction of this; a picture turned wrongly by a multiple. */
#define ALIKE 2.0

static WsPicture *
decode (const char *path)
{
  g_autoptr (GError) error = NULL;
  WsPicture *picture = ws_picture_decode_file (path, 0, NULL, &error);

  g_assert_no_error (error);
  return picture;
}

/* 1000 when the sizes differ: alike in no way. */
static double
unlikeness (const WsPicture *a, const WsPicture *b)
{
  const guint8 *p = g_bytes_get_data (a->pixels, NULL), *q = g_bytes_get_data (b->pixels, NULL);
  gsize n = (gsize) a->width * (gsize) a->height;
  double sum = 0;

  if (a->width != b->width || a->height != b->height)
    return 1000;
  for (gsize i = 0; i < n; i++, p += 3, q += 3)
    {
      WsLab first = ws_colour_lab_from_srgb (p, WS_WHITE_D65), second = ws_colour_lab_from_srgb (q, WS_WHITE_D65);

      sum += ws_colour_difference (&first, &second);
    }
  return sum / (double) n;
}

static void
test_shared (void)
{
  g_autofree char *folder = checks_folder ("exif/orientation"), *first = NULL;
  g_autoptr (WsPicture) upright = NULL;

  g_test_summary ("One scene stored in eight orientations and a ninth that does not exist looks alike upright, and unlike "
                  "when it is turned in any other way (shared checks, exif/orientation)");
  if (folder == NULL || !have_tool ("convert"))
    return;
  first = g_build_filename (folder, "Portrait_1.jpg", NULL);
  upright = decode (first);
  for (int i = 0; i <= 8; i++)
    {
      g_autofree char *name = g_strdup_printf ("Portrait_%d.jpg", i), *path = g_build_filename (folder, name, NULL);
      g_autoptr (WsPicture) picture = decode (path), small = NULL;

      small = ws_picture_decode_file (path, 120, NULL, NULL);
      g_assert_cmpint (MAX (small->width, small->height), ==, 120);
      g_assert_cmpint (small->full_height, ==, 600);
      g_test_message ("%s: %.2f", name, unlikeness (upright, picture));
      g_assert_cmpfloat (unlikeness (upright, picture), <, ALIKE);
    }
  /* The seven wrong ways, of the same scene: the comparison above would have seen them. */
  for (int i = 2; i <= 8; i++)
    {
      static const char *const ways[] = { "-flop", "-rotate 180", "-flip", "-transpose", "-rotate 90", "-transverse",
                                          "-rotate 270" };
      g_auto (GStrv) words = g_strsplit (ways[i - 2], " ", 2);
      g_autofree char *path = made_path ("wrong.png");
      g_autoptr (WsPicture) picture = NULL;

      g_free (words[1] != NULL ? run_tool ("convert", first, "-strip", words[0], words[1], path, NULL)
                               : run_tool ("convert", first, "-strip", words[0], path, NULL));
      picture = decode (path);
      g_assert_cmpfloat (unlikeness (upright, picture), >, 4 * ALIKE);
    }
}

/* The scene: not alike in any two orientations. */
static char *
make_scene (void)
{
  char *path = made_path ("scene.png");

  g_free (run_tool ("convert", "-size", "96x64", "xc:white", "-fill", "red", "-draw", "rectangle 0,0 31,23", "-fill", "blue",
                    "-draw", "rectangle 0,48 96,64", "-strip", path, NULL));
  return path;
}

static void
test_kinds (void)
{
  static const char *const endings[] = { "jpg", "png", "tif", "webp" };
  g_autofree char *scene = NULL;

  let_libvips_warn ();
  g_test_summary ("JPEG, PNG, TIFF and WebP in eight orientations, as ImageMagick turns a JPEG of the same orientation");
  if (!have_tool ("convert") || !have_tool ("exiftool") || !have_tool ("vips"))
    return;
  scene = make_scene ();
  for (int i = 1; i <= 8; i++)
    {
      g_autofree char *tag = g_strdup_printf ("-IFD0:Orientation#=%d", i), *jpeg = made_path ("truth.jpg");
      g_autofree char *turned = made_path ("truth.png");
      g_autoptr (WsPicture) truth = NULL;

      g_free (run_tool ("convert", scene, "-quality", "95", jpeg, NULL));
      g_free (run_tool ("exiftool", "-q", "-m", "-overwrite_original", tag, jpeg, NULL));
      g_free (run_tool ("convert", jpeg, "-auto-orient", "-strip", turned, NULL));
      truth = decode (turned);
      for (guint k = 0; k < G_N_ELEMENTS (endings); k++)
        {
          g_autofree char *name = g_strdup_printf ("turned-%d.%s", i, endings[k]), *path = made_path (name);
          g_autoptr (WsPicture) picture = NULL;

          g_free (run_tool ("vips", "copy", scene, path, NULL));
          g_free (run_tool ("exiftool", "-q", "-m", "-overwrite_original", tag, path, NULL));
          picture = decode (path);
          g_test_message ("%s: %.2f", name, unlikeness (truth, picture));
          g_assert_cmpfloat (unlikeness (truth, picture), <, ALIKE);
        }
    }
}

static void
test_heif (void)
{
  static const char *const endings[] = { "heic", "avif" };
  g_autofree char *scene = NULL;
  g_autoptr (WsPicture) truth = NULL;

  let_libvips_warn ();
  g_test_summary ("HEIC and AVIF stay as they turn themselves, whatever of eight orientations their EXIF data give");
  if (!have_tool ("convert") || !have_tool ("exiftool") || !have_tool ("vips"))
    return;
  scene = make_scene ();
  truth = decode (scene);
  for (guint k = 0; k < G_N_ELEMENTS (endings); k++)
    for (int i = 1; i <= 8; i++)
      {
        g_autofree char *name = g_strdup_printf ("self-%d.%s", i, endings[k]), *path = made_path (name);
        g_autofree char *tag = g_strdup_printf ("-IFD0:Orientation#=%d", i), *told = NULL;
        g_autoptr (WsPicture) picture = NULL;

        g_free (run_tool ("vips", "copy", scene, path, NULL));
        g_free (run_tool ("exiftool", "-q", "-m", "-overwrite_original", tag, path, NULL));
        told = run_tool ("exiftool", "-s3", "-n", "-IFD0:Orientation", path, NULL);
        g_assert_cmpint (g_ascii_strtoll (told, NULL, 10), ==, i);
        picture = decode (path);
        g_assert_cmpfloat (unlikeness (truth, picture), <, 2 * ALIKE);
      }
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  g_test_init (&argc, &argv, NULL);
  ws_picture_init (argv[0], &error);
  g_assert_no_error (error);
  g_test_add_func ("/photo/picture-upright/shared", test_shared);
  g_test_add_func ("/photo/picture-upright/kinds", test_kinds);
  g_test_add_func ("/photo/picture-upright/heif", test_heif);
  return g_test_run ();
}
