/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-picture.h"

#include "photo-making.h"
#include "ws-error.h"

#include <string.h>

static const guint8 *
pixel (const WsPicture *picture, int x, int y)
{
  return (const guint8 *) g_bytes_get_data (picture->pixels, NULL) + ((gsize) y * picture->width + x) * 3;
}

static void
assert_near (const guint8 *rgb, int r, int g, int b, int tolerance)
{
  g_assert_cmpint (ABS (rgb[0] - r), <=, tolerance);
  g_assert_cmpint (ABS (rgb[1] - g), <=, tolerance);
  g_assert_cmpint (ABS (rgb[2] - b), <=, tolerance);
}

static WsPicture *
decode (const char *path, int max_edge)
{
  g_autoptr (GError) error = NULL;
  WsPicture *picture = ws_picture_decode_file (path, max_edge, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (g_bytes_get_size (picture->pixels), ==, (gsize) picture->width * picture->height * 3);
  return picture;
}

/* A picture whose four corners are red, green, blue, white from top left clockwise, 80 x 60. */
static char *
corners_ppm (void)
{
  char *path = made_path ("corners.ppm");
  GString *ppm = g_string_new ("P6\n80 60\n255\n");

  for (int y = 0; y < 60; y++)
    for (int x = 0; x < 80; x++)
      {
        const char *colours[] = { "\xff\0\0", "\0\xff\0", "\xff\xff\xff", "\0\0\xff" };

        g_string_append_len (ppm, colours[(y >= 30 ? 2 : 0) + (x >= 40 ? 1 : 0)], 3);
      }
  g_file_set_contents (path, ppm->str, (gssize) ppm->len, NULL);
  g_string_free (ppm, TRUE);
  return path;
}

static void
assert_corners (const WsPicture *picture, int tolerance)
{
  int w = picture->width, h = picture->height;

  assert_near (pixel (picture, w / 5, h / 5), 255, 0, 0, tolerance);
  assert_near (pixel (picture, w * 4 / 5, h / 5), 0, 255, 0, tolerance);
  assert_near (pixel (picture, w / 5, h * 4 / 5), 255, 255, 255, tolerance);
  assert_near (pixel (picture, w * 4 / 5, h * 4 / 5), 0, 0, 255, tolerance);
}

/* What a viewer has to do for each value (Exif 2.32, tag Orientation), as exiftool's inverse:
 * the scene is stored turned by ImageMagick, the tag says how to turn it back. */
static void
test_kinds (void)
{
  static const struct { const char *ending; const char *turned; const char *orientation; } files[] = {
    { "jpg", "0", "1" }, { "png", "0", "1" }, { "webp", "0", "1" }, { "tif", "0", "1" }, { "heic", "0", "1" },
    { "avif", "0", "1" },
    { "jpg", "270", "6" }, { "png", "270", "6" }, { "webp", "270", "6" }, { "tif", "270", "6" },
    { "jpg", "90", "8" }, { "tif", "180", "3" },
    /* HEIF turns itself by a box of its own: the tag alone must not turn it. */
    { "heic", "0", "6" }, { "avif", "0", "6" },
  };
  g_autofree char *ppm = NULL;

  let_libvips_warn ();
  g_test_summary ("Each kind of file comes out upright, three bands, 8 bits");
  if (!have_tool ("vips") || !have_tool ("exiftool"))
    return;
  ppm = corners_ppm ();
  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autofree char *name = g_strdup_printf ("kind-%u.%s", i, files[i].ending);
      g_autofree char *path = made_path (name);
      g_autofree char *tag = g_strdup_printf ("-IFD0:Orientation#=%s", files[i].orientation);
      g_autoptr (WsPicture) picture = NULL;

      g_test_message ("%s turned by %s", name, files[i].turned);
      g_free (run_tool ("vips", "similarity", ppm, path, "--angle", files[i].turned, NULL));
      g_free (run_tool ("exiftool", "-q", "-m", "-overwrite_original", "-EXIF:all=", path, NULL));
      g_free (run_tool ("exiftool", "-q", "-m", "-overwrite_original", tag, path, NULL));
      picture = decode (path, 0);
      g_assert_cmpint (picture->width, ==, 80);
      g_assert_cmpint (picture->height, ==, 60);
      assert_corners (picture, 12);
    }
}

/* Colour by an outside converter: lcms2 through ImageMagick. */
static void
test_colour (void)
{
  g_autofree char *ppm = NULL, *path = NULL;

  let_libvips_warn ();
  g_test_summary ("16 bits, grey, CMYK, alpha and a wide-gamut profile become sRGB of 8 bits");
  if (!have_tool ("vips"))
    return;
  ppm = corners_ppm ();
  {
    g_autoptr (WsPicture) picture = NULL;

    path = made_path ("rgb16.png");
    g_free (run_tool ("vips", "colourspace", ppm, path, "rgb16", NULL));
    picture = decode (path, 0);
    assert_corners (picture, 1);
  }
  {
    g_autofree char *grey = made_path ("grey.jpg");
    g_autoptr (WsPicture) picture = NULL;

    g_free (run_tool ("vips", "colourspace", ppm, grey, "b-w", NULL));
    picture = decode (grey, 0);
    g_assert_cmpint (pixel (picture, 10, 10)[0], ==, pixel (picture, 10, 10)[2]);
    assert_near (pixel (picture, 16, 48), 255, 255, 255, 2);
  }
  {
    g_autofree char *p3 = made_path ("p3.tif");
    g_autoptr (WsPicture) picture = NULL;

    g_free (run_tool ("vips", "icc_transform", ppm, p3, "p3", "--input-profile", "srgb", NULL));
    picture = decode (p3, 0);
    /* Without its profile red would be (234, 51, 35). */
    assert_corners (picture, 12);
  }
  {
    g_autofree char *cmyk = made_path ("cmyk.jpg");
    g_autoptr (WsPicture) picture = NULL;

    g_free (run_tool ("vips", "icc_transform", ppm, cmyk, "cmyk", "--input-profile", "srgb", NULL));
    picture = decode (cmyk, 0);
    g_assert_cmpint (pixel (picture, 16, 12)[0], >, 200);
    g_assert_cmpint (pixel (picture, 16, 12)[1], <, 80);
    assert_near (pixel (picture, 16, 48), 255, 255, 255, 4);
  }
}

/* Red, half transparent and clear, over white. */
static void
test_alpha (void)
{
  g_autofree char *ppm = NULL, *path = NULL;
  g_autoptr (WsPicture) picture = NULL;

  let_libvips_warn ();
  g_test_summary ("Alpha is painted on white");
  if (!have_tool ("vips"))
    return;
  ppm = corners_ppm ();
  path = made_path ("alpha.png");
  g_free (run_tool ("vips", "bandjoin_const", ppm, path, "128", NULL));
  picture = decode (path, 0);
  assert_near (pixel (picture, 16, 12), 255, 127, 127, 1);
}

static void
test_cut_short (void)
{
  g_autofree char *ppm = NULL;
  const char *const endings[] = { "jpg", "png", "webp", "tif", "heic" };

  let_libvips_warn ();
  g_test_summary ("A file cut short is an error that names it");
  if (!have_tool ("vips"))
    return;
  ppm = corners_ppm ();
  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    {
      g_autofree char *name = g_strdup_printf ("cut.%s", endings[i]);
      g_autofree char *path = made_path (name);
      g_autofree char *data = NULL;
      gsize size;
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) part = NULL;

      g_free (run_tool ("vips", "gaussnoise", path, "400", "300", "--mean", "128", NULL));
      g_file_get_contents (path, &data, &size, NULL);
      part = g_bytes_new (data, size / 2);
      g_assert_null (ws_picture_decode (part, name, 0, NULL, &error));
      g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
      g_assert_nonnull (strstr (error->message, name));
    }
}

/* 60000 x 60000 in a file of a few dozen bytes. */
static void
test_too_large (void)
{
  static const guint8 bomb[] = { 0xff, 0xd8, 0xff, 0xc0, 0, 17, 8, 0xea, 0x60, 0xea, 0x60, 3, 1, 0x11, 0, 2, 0x11, 1,
                                 3, 0x11, 1, 0xff, 0xda, 0, 2 };
  g_autoptr (GBytes) bytes = g_bytes_new_static (bomb, sizeof bomb);
  g_autoptr (GError) error = NULL;

  g_test_summary ("A picture beyond the limit is refused from its header");
  g_assert_null (ws_picture_decode (bytes, "bomb.jpg", 0, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_TOO_LARGE);
}

/* Kinds that libvips could read and we do not. */
static void
test_other_kinds (void)
{
  static const struct { const char *bytes; gsize size; } files[] = {
    { "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9\" height=\"9\"/>", 58 },
    { "%PDF-1.4 and more of it", 23 },
    { "P6\n1 1\n255\nabc   ", 17 },
    { "GIF89a\1\0\1\0\200\0\0\0\0\0", 16 },
  };

  g_test_summary ("Other kinds of file are refused whatever libvips could do with them");
  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autoptr (GBytes) bytes = g_bytes_new (files[i].bytes, files[i].size);
      g_autoptr (GError) error = NULL;

      g_assert_null (ws_picture_decode (bytes, "other", 0, NULL, &error));
      g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
    }
}

static gpointer
cancel_soon (gpointer cancellable)
{
  g_usleep (20000);
  g_cancellable_cancel (cancellable);
  return NULL;
}

static void
test_cancel (void)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autofree char *path = NULL;
  g_autoptr (GError) error = NULL;
  GThread *thread;

  g_test_summary ("Cancelling stops a decode under way, and before it starts");
  if (!have_tool ("vips"))
    return;
  path = made_path ("large.png");
  g_free (run_tool ("vips", "gaussnoise", path, "4000", "3000", "--mean", "128", NULL));
  thread = g_thread_new ("cancel", cancel_soon, cancellable);
  g_assert_null (ws_picture_decode_file (path, 0, cancellable, &error));
  g_thread_join (thread);
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_clear_error (&error);
  g_assert_null (ws_picture_decode_file (path, 0, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static void
test_halve (void)
{
  static const guint8 odd[] = { 10, 0, 0,  20, 0, 0,  30, 0, 0,
                                50, 0, 0,  60, 0, 0,  70, 0, 0,
                                90, 0, 0, 100, 0, 0, 110, 0, 0 };
  WsPicture picture = { 3, 3, g_bytes_new_static (odd, sizeof odd), 3, 3 };
  g_autoptr (WsPicture) half = ws_picture_halve (&picture);
  g_autoptr (WsPicture) quarter = ws_picture_halve (half);

  g_test_summary ("Half size is the mean of four; odd edges count twice");
  g_assert_cmpint (half->width, ==, 2);
  g_assert_cmpint (half->height, ==, 2);
  g_assert_cmpint (pixel (half, 0, 0)[0], ==, 35);
  g_assert_cmpint (pixel (half, 1, 0)[0], ==, 50);
  g_assert_cmpint (pixel (half, 0, 1)[0], ==, 95);
  g_assert_cmpint (pixel (half, 1, 1)[0], ==, 110);
  g_assert_cmpint (quarter->width, ==, 1);
  g_bytes_unref (picture.pixels);
}

static void
test_to_jpeg (void)
{
  g_autofree char *ppm = NULL, *source = NULL, *path = NULL, *tags = NULL;
  g_autoptr (WsPicture) picture = NULL, back = NULL;
  g_autoptr (GBytes) jpeg = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("A JPEG of a picture looks like it and holds no metadata (exiftool)");
  if (!have_tool ("vips") || !have_tool ("exiftool"))
    return;
  ppm = corners_ppm ();
  source = made_path ("source.png");
  path = made_path ("written.jpg");
  g_free (run_tool ("vips", "copy", ppm, source, NULL));
  picture = decode (source, 0);
  jpeg = ws_picture_to_jpeg (picture, 90, &error);
  g_assert_no_error (error);
  g_file_set_contents (path, g_bytes_get_data (jpeg, NULL), (gssize) g_bytes_get_size (jpeg), NULL);
  back = decode (path, 0);
  assert_corners (back, 6);
  tags = run_tool ("exiftool", "-s", "-G1", "-EXIF:all", "-XMP:all", "-IPTC:all", "-ICC_Profile:all", path, NULL);
  g_assert_cmpstr (tags, ==, "");
}

static void
test_malformed (void)
{
  g_autofree char *folder = checks_folder ("malformed");
  g_autoptr (GDir) dir = NULL;
  const char *name;
  guint n = 0, decoded = 0;

  let_libvips_warn ();
  g_test_summary ("Damaged and fuzzed files end with a picture or a clear error (shared checks, malformed)");
  if (folder == NULL)
    return;
  dir = g_dir_open (folder, 0, NULL);
  while ((name = g_dir_read_name (dir)) != NULL)
    for (int edge = 0; edge <= 512; edge += 512)
      {
        g_autofree char *path = g_build_filename (folder, name, NULL);
        g_autoptr (GError) error = NULL;
        gint64 start = g_get_monotonic_time ();
        g_autoptr (WsPicture) picture = ws_picture_decode_file (path, edge, NULL, &error);

        n++;
        decoded += picture != NULL ? 1 : 0;
        g_assert_cmpint (g_get_monotonic_time () - start, <, 10 * G_USEC_PER_SEC);
        g_assert_true ((picture != NULL) == (error == NULL));
        g_test_message ("%s: %s", name, error != NULL ? error->message : "decoded");
        if (error != NULL)
          g_assert_nonnull (strstr (error->message, name));
      }
  g_test_message ("%u of %u decoded", decoded, n);
  g_assert_cmpuint (n, >, 0);
}

static gpointer
decode_often (gpointer path)
{
  for (int i = 0; i < 12; i++)
    {
      g_autoptr (WsPicture) picture = decode (path, i % 2 == 0 ? 0 : 32);
      static const guint8 png[40] = "\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x09\0\0\0\x09\x08\2\0\0\0";
      g_autoptr (GBytes) bad = g_bytes_new_static (png, sizeof png);
      g_autoptr (GError) error = NULL;

      assert_corners (picture, 12);
      g_assert_null (ws_picture_decode (bad, "bad.png", 0, NULL, &error));
      g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
    }
  return NULL;
}

static void
test_threads (void)
{
  g_autofree char *ppm = NULL, *path = NULL;
  GThread *threads[4];

  let_libvips_warn ();
  g_test_summary ("Several threads decode and fail at once");
  if (!have_tool ("vips"))
    return;
  ppm = corners_ppm ();
  path = made_path ("threads.jpg");
  g_free (run_tool ("vips", "copy", ppm, path, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("decode", decode_often, path);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    g_thread_join (threads[i]);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  g_test_init (&argc, &argv, NULL);
  ws_picture_init (argv[0], &error);
  g_assert_no_error (error);
  g_test_add_func ("/photo/picture/kinds", test_kinds);
  g_test_add_func ("/photo/picture/colour", test_colour);
  g_test_add_func ("/photo/picture/alpha", test_alpha);
  g_test_add_func ("/photo/picture/cut-short", test_cut_short);
  g_test_add_func ("/photo/picture/too-large", test_too_large);
  g_test_add_func ("/photo/picture/other-kinds", test_other_kinds);
  g_test_add_func ("/photo/picture/cancel", test_cancel);
  g_test_add_func ("/photo/picture/halve", test_halve);
  g_test_add_func ("/photo/picture/to-jpeg", test_to_jpeg);
  g_test_add_func ("/photo/picture/threads", test_threads);
  g_test_add_func ("/photo/picture/malformed", test_malformed);
  return g_test_run ();
}
