/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-photo-read.h"

#include "photo-making.h"
#include "ws-error.h"

#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

static WsPhotoReading *
read_photo (const char *path)
{
  g_autoptr (GError) error = NULL;
  WsPhotoReading *reading = ws_photo_read (path, NULL, &error);

  g_assert_no_error (error);
  return reading;
}

static void
test_names (void)
{
  static const struct { const char *name; gboolean is; } names[] = {
    { "a.jpg", TRUE }, { "A.JPG", TRUE }, { "b.jpeg", TRUE }, { "c.HEIC", TRUE }, { "d.heif", TRUE },
    { "e.png", TRUE }, { "f.tif", TRUE }, { "g.TIFF", TRUE }, { "h.webp", TRUE }, { "i.avif", TRUE },
    { "two.dots.jpg", TRUE }, { "a.cr2", FALSE }, { "a.mp4", FALSE }, { "a.svg", FALSE }, { "a.pdf", FALSE },
    { "jpg", FALSE }, { ".jpg", FALSE }, { "._IMG_1.JPG", FALSE }, { "a.jpg.xmp", FALSE }, { "", FALSE },
    { "./a.jpg", TRUE }, { "/b.d/jpg", FALSE }, { "folder.jpg/file", FALSE },
  };

  g_test_summary ("Names of pictures, in any case, and names that are none");
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_test_message ("%s", names[i].name);
      g_assert_cmpint (ws_photo_name_is_picture (names[i].name), ==, names[i].is);
    }
}

static void
test_reading (void)
{
  g_autofree char *folder = checks_folder ("exif");
  g_autofree char *path = NULL, *sum = NULL;
  g_autoptr (WsPhotoReading) reading = NULL;
  g_autoptr (WsPicture) thumbnail = NULL;
  struct stat info;

  g_test_summary ("Digest (against sha512sum), size, time, facts and thumbnail of a camera file");
  if (folder == NULL || !have_tool ("sha512sum"))
    return;
  let_libvips_warn ();
  path = g_build_filename (folder, "photos", "exifr__heic-iphone7.heic", NULL);
  reading = read_photo (path);
  sum = run_tool ("sha512sum", path, NULL);
  g_assert_cmpint (strlen (reading->digest), ==, 128);
  g_assert_true (g_str_has_prefix (sum, reading->digest));
  g_assert_cmpint (stat (path, &info), ==, 0);
  g_assert_cmpint (reading->size, ==, info.st_size);
  g_assert_cmpint (reading->modified_us / G_USEC_PER_SEC, ==, info.st_mtime);
  g_assert_cmpstr (reading->facts->model, ==, "iPhone 7");
  thumbnail = ws_picture_decode (reading->thumbnail, "thumbnail", 0, NULL, NULL);
  g_assert_cmpint (thumbnail->width, ==, 512);
  g_assert_cmpint (thumbnail->height, ==, 384);
}

static guint64
likeness_of (const char *path)
{
  g_autoptr (WsPhotoReading) reading = read_photo (path);

  return reading->likeness;
}

/* Shrunk and encoded again by libvips' own programs, as messengers do. */
static void
test_likeness (void)
{
  g_autofree char *folder = checks_folder ("sharpness");
  static const char *const names[] = { "seeding_by_Clements_Engelhardt", "Picture_1A_by_freespace",
                                       "picosdeeuropa_by_Aitzol_Berasategi" };
  static const char *const edges[] = { "640", "400", "200" };
  guint64 originals[3];

  g_test_summary ("Copies of a photo are alike, other photos are not (shared checks, sharpness)");
  if (folder == NULL || !have_tool ("vips"))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *name = g_strconcat (names[i], "__sigma0.jpg", NULL);
      g_autofree char *path = g_build_filename (folder, name, NULL);

      originals[i] = likeness_of (path);
      for (guint k = 0; k < G_N_ELEMENTS (edges); k++)
        {
          g_autofree char *copy = made_path ("copy.jpg");
          g_autofree char *target = g_strconcat (copy, "[Q=50]", NULL);
          int distance;

          g_free (run_tool ("vips", "thumbnail", path, target, edges[k], NULL));
          distance = ws_likeness_distance (originals[i], likeness_of (copy));
          g_test_message ("%s at %s: %d", names[i], edges[k], distance);
          g_assert_cmpint (distance, <=, WS_LIKENESS_SAME);
        }
    }
  for (guint i = 0; i < 3; i++)
    {
      int distance = ws_likeness_distance (originals[i], originals[(i + 1) % 3]);

      g_test_message ("%s and the next: %d", names[i], distance);
      g_assert_cmpint (distance, >, 2 * WS_LIKENESS_SAME);
    }
}

static void
test_distance (void)
{
  g_test_summary ("Distance counts bits");
  g_assert_cmpint (ws_likeness_distance (0, 0), ==, 0);
  g_assert_cmpint (ws_likeness_distance (0, G_MAXUINT64), ==, 64);
  g_assert_cmpint (ws_likeness_distance (0xf0, 0x0f), ==, 8);
}

static void
test_errors (void)
{
  g_autofree char *missing = made_path ("missing.jpg"), *empty = made_path ("empty.jpg"), *folder = NULL,
                  *text = made_path ("text.jpg"), *pipe = made_path ("pipe.jpg");
  const struct { const char *path; int code; } cases[] = {
    { missing, WS_ERROR_NOT_FOUND }, { empty, WS_ERROR_UNREADABLE }, { text, WS_ERROR_UNREADABLE },
    { pipe, WS_ERROR_UNREADABLE }, { folder = g_path_get_dirname (missing), WS_ERROR_UNREADABLE },
  };

  g_test_summary ("What cannot be read is an error that names the file; a pipe does not hang");
  g_file_set_contents (empty, "", 0, NULL);
  g_file_set_contents (text, "This is a letter and not a photo.", -1, NULL);
  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (ws_photo_read (cases[i].path, NULL, &error));
      g_assert_error (error, WS_ERROR, cases[i].code);
      g_assert_nonnull (strstr (error->message, cases[i].path));
    }
}

static void
test_malformed (void)
{
  g_autofree char *folder = checks_folder ("malformed");
  g_autoptr (GDir) dir = NULL;
  const char *name;
  guint n = 0;

  g_test_summary ("Damaged and fuzzed files are read or refused (shared checks, malformed)");
  if (folder == NULL)
    return;
  let_libvips_warn ();
  dir = g_dir_open (folder, 0, NULL);
  for (; (name = g_dir_read_name (dir)) != NULL; n++)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autoptr (GError) error = NULL;
      g_autoptr (WsPhotoReading) reading = ws_photo_read (path, NULL, &error);

      g_assert_true ((reading != NULL) == (error == NULL));
      g_assert_true (reading == NULL || reading->thumbnail != NULL);
    }
  g_assert_cmpuint (n, >, 0);
}

static void
test_cancelled (void)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_test_summary ("A cancelled reading says so");
  g_cancellable_cancel (cancellable);
  g_assert_null (ws_photo_read ("any.jpg", cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  g_test_init (&argc, &argv, NULL);
  ws_picture_init (argv[0], &error);
  g_assert_no_error (error);
  g_test_add_func ("/photo/photo-read/names", test_names);
  g_test_add_func ("/photo/photo-read/reading", test_reading);
  g_test_add_func ("/photo/photo-read/likeness", test_likeness);
  g_test_add_func ("/photo/photo-read/distance", test_distance);
  g_test_add_func ("/photo/photo-read/errors", test_errors);
  g_test_add_func ("/photo/photo-read/malformed", test_malformed);
  g_test_add_func ("/photo/photo-read/cancelled", test_cancelled);
  return g_test_run ();
}
