/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-test-library.h"

#include "ws-file.h"
#include "ws-import.h"
#include "ws-photo-copy.h"
#include "ws-picture.h"

#include <math.h>

TestDesk
test_begin (void)
{
  g_autoptr (GError) error = NULL;
  TestDesk test = { g_dir_make_tmp ("wholestem-XXXXXX", &error), NULL, NULL };
  g_autofree char *library = NULL;

  g_assert_no_error (error);
  test.photos = g_build_filename (test.folder, "photos", NULL);
  g_assert_cmpint (g_mkdir_with_parents (test.photos, 0755), ==, 0);
  library = g_build_filename (test.folder, "library", NULL);
  test.desk = ws_desk_open (library, &error);
  g_assert_no_error (error);
  return test;
}

void
test_end (TestDesk *test)
{
  g_autoptr (GError) error = NULL;

  ws_desk_unref (test->desk);
  ws_file_remove_tree (test->folder, &error);
  g_assert_no_error (error);
  g_free (test->photos);
  g_free (test->folder);
}

/* A mosaic of sharp-edged stones, unlike for every seed, also as a thumbnail: coarse blobs carry the likeness, the stones the
 * edges by which sharpness is told. */
static GBytes *
scene (guint seed, int width, int height)
{
  guint8 *pixels = g_malloc ((gsize) width * (gsize) height * 3);
  GRand *rand = g_rand_new_with_seed (seed);
  double phase[6], step[6];
  guint8 stones[64][64];

  for (int i = 0; i < 6; i++)
    {
      phase[i] = g_rand_double_range (rand, 0, 2 * G_PI);
      step[i] = g_rand_double_range (rand, 0.3, 2);
    }
  for (int i = 0; i < 64 * 64; i++)
    stones[i / 64][i % 64] = (guint8) g_rand_int_range (rand, 0, 50);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      for (int c = 0; c < 3; c++)
        {
          double u = (double) x / width, v = (double) y / height;
          double value = 100 + 50 * sin (step[c] * u * 6 + phase[c]) + 40 * sin (step[c + 3] * v * 6 + phase[c + 3]) +
                         stones[(int) (v * 123) % 64][(int) (u * 93) % 64];

          pixels[(y * width + x) * 3 + c] = (guint8) CLAMP (value, 8, 247);
        }
  g_rand_free (rand);
  return g_bytes_new_take (pixels, (gsize) width * (gsize) height * 3);
}

/* GPS is written by a tool that nobody here wrote. */
static void
add_position (const char *path, double lat, double lon)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *la = g_strdup_printf ("-GPSLatitude=%.7f", fabs (lat)), *lo = g_strdup_printf ("-GPSLongitude=%.7f", fabs (lon));
  const char *argv[] = { "exiftool", "-q", "-overwrite_original", la, lat < 0 ? "-GPSLatitudeRef=S" : "-GPSLatitudeRef=N", lo,
                         lon < 0 ? "-GPSLongitudeRef=W" : "-GPSLongitudeRef=E", "-GPSHPositioningError=4", path, NULL };
  int status;

  for (char *p = la; *p != '\0'; p++)
    if (*p == ',')
      *p = '.';
  for (char *p = lo; *p != '\0'; p++)
    if (*p == ',')
      *p = '.';
  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, &status, &error);
  g_assert_no_error (error);
  g_assert_cmpint (status, ==, 0);
}

char *
test_photo (TestDesk *test, const char *name, guint seed, int width, const char *taken, double lat, double lon)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) pixels = scene (seed, width, width * 3 / 4);
  WsPicture picture = { width, width * 3 / 4, pixels, width, width * 3 / 4 };
  g_autoptr (GBytes) jpeg = ws_picture_to_jpeg (&picture, 88, &error);
  char *path = g_build_filename (test->photos, name, NULL);
  g_autoptr (WsPhotoCopy) copy = NULL;
  WsMoment moment = WS_MOMENT_INIT;
  gsize size;
  gconstpointer data;

  g_assert_no_error (error);
  data = g_bytes_get_data (jpeg, &size);
  ws_file_write (path, data, size, &error);
  g_assert_no_error (error);
  if (taken != NULL)
    {
      g_assert_true (ws_moment_set_local (&moment, taken));
      copy = ws_photo_copy_make (path, &(WsCopyOptions) { .quality = 90, .taken = &moment, .make = "Invented", .model = "Box" },
                                 NULL, &error);
      g_assert_no_error (error);
      data = g_bytes_get_data (copy->jpeg, &size);
      ws_file_write (path, data, size, &error);
      g_assert_no_error (error);
    }
  if (isfinite (lat))
    add_position (path, lat, lon);
  return path;
}

void
test_import (TestDesk *test)
{
  g_autoptr (GError) error = NULL;
  const char *paths[] = { test->photos, NULL };
  g_autoptr (WsImportResult) result = ws_import_photos (test->desk, paths, NULL, NULL, NULL, NULL, &error);
  g_autoptr (WsGrouping) grouping = NULL;
  g_auto (GStrv) ids = NULL;

  g_assert_no_error (error);
  grouping = ws_grouping_split (result->added, &(WsGroupingRule) { WS_GROUPING_GAP, WS_GROUPING_DISTANCE });
  ids = ws_import_make_finds (test->desk, grouping, &error);
  g_assert_no_error (error);
}

static void
append_names (GString *text, GPtrArray *photos, gboolean links)
{
  for (guint i = 0; i < photos->len; i++)
    {
      const WsPhoto *photo = links ? ((const WsFindPhoto *) g_ptr_array_index (photos, i))->photo
                                   : g_ptr_array_index (photos, i);
      g_autofree char *name = g_path_get_basename (photo->path);

      g_string_append_printf (text, " %s", name);
    }
}

char *
test_finds_text (TestDesk *test)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) finds = ws_library_load_finds (test->desk->library, NULL, &error);
  g_autoptr (GPtrArray) unsorted = ws_library_load_unsorted (test->desk->library, &error);
  GString *text = g_string_new (NULL);

  g_assert_no_error (error);
  for (guint i = 0; i < finds->len; i++)
    {
      const WsFind *find = g_ptr_array_index (finds, i);

      g_string_append_printf (text, "%s%s:", i > 0 ? " | " : "", find->number);
      append_names (text, find->photos, TRUE);
    }
  if (unsorted->len > 0)
    {
      g_string_append (text, " / unsorted:");
      append_names (text, unsorted, FALSE);
    }
  return g_string_free (text, FALSE);
}

WsFind *
test_find (TestDesk *test, const char *number)
{
  g_autoptr (GError) error = NULL;
  WsFind *find = ws_library_load_find (test->desk->library, number, &error);

  g_assert_no_error (error);
  return find;
}

char *
test_photo_id (TestDesk *test, const char *name)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) photos = ws_library_load_all_photos (test->desk->library, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < photos->len; i++)
    {
      const WsPhoto *photo = g_ptr_array_index (photos, i);
      g_autofree char *base = g_path_get_basename (photo->path);

      if (g_str_equal (base, name))
        return g_strdup (photo->id);
    }
  g_error ("no photo %s", name);
}

void
test_fill_library (const char *folder, const char *library, guint n)
{
  TestDesk test = { (char *) folder, g_build_filename (folder, "photos", NULL), NULL };
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (g_mkdir_with_parents (test.photos, 0755), ==, 0);
  test.desk = ws_desk_open (library, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *name = g_strdup_printf ("IMG_%04u.jpg", i + 1), *taken = g_strdup_printf ("2025-10-04T14:%02u:00", i);

      g_free (test_photo (&test, name, i + 1, 1200, taken, NAN, NAN));
    }
  test_import (&test);
  ws_desk_unref (test.desk);
  g_free (test.photos);
}
