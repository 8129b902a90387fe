/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Camera raw files in an import: beside a picture, alone, twice under one name, and clips alone. */
#include "ws-test-library.h"

#include "raw-making.h"

#include "ws-file.h"
#include "ws-import.h"
#include "ws-photo-facts.h"
#include "ws-picture.h"

#include <string.h>

/* A raw file whose preview is the photo at @jpeg; that file goes when @alone. */
static void
wrap (TestDesk *test, const char *name, const char *jpeg, gboolean alone)
{
  g_autofree char *path = g_build_filename (test->photos, name, NULL);
  g_autoptr (GBytes) preview = ws_file_read (jpeg, 1 << 24, NULL), dng = NULL;

  dng = make_dng (&(RawPlan) { .width = 640, .height = 480, .orientation = 6, .preview = preview, .preview_width = 640,
                               .preview_height = 480 });
  g_assert_true (ws_file_write (path, g_bytes_get_data (dng, NULL), g_bytes_get_size (dng), NULL));
  if (alone)
    ws_file_remove_tree (jpeg, NULL);
}

static WsImportResult *
import_folder (TestDesk *test)
{
  g_autoptr (GError) error = NULL;
  const char *paths[] = { test->photos, NULL };
  WsImportResult *result = ws_import_photos (test->desk, paths, NULL, NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  return result;
}

static void
test_alone (void)
{
  TestDesk test = test_begin ();
  g_autofree char *first = test_photo (&test, "a1.jpg", 1, 640, "2025-10-04T14:00:00", 1, 2);
  g_autoptr (WsImportResult) result = NULL;
  const WsPhoto *photo;
  g_autofree char *taken = NULL;

  g_test_summary ("A raw file alone is a photo, by its preview and with its own time, and its warnings say what is shown");
  wrap (&test, "a1.DNG", first, TRUE);
  result = import_folder (&test);
  g_assert_cmpuint (result->passed_over->len, ==, 0);
  g_assert_cmpuint (result->added->len, ==, 1);
  photo = g_ptr_array_index (result->added, 0);
  g_assert_cmpstr (photo->media_type, ==, WS_MEDIA_TYPE_RAW);
  g_assert_cmpint (photo->width, ==, 480);
  g_assert_cmpint (photo->height, ==, 640);
  taken = ws_moment_local_text (&photo->taken);
  g_assert_cmpstr (taken, ==, "2025-10-04T14:03:22");
  g_assert_nonnull (strstr (photo->warnings, "camera raw"));
  g_assert_null (photo->companion);
  test_end (&test);
}

static void
test_beside (void)
{
  TestDesk test = test_begin ();
  g_autofree char *first = test_photo (&test, "a1.jpg", 1, 640, "2025-10-04T14:00:00", 1, 2);
  g_autofree char *second = test_photo (&test, "b1.jpg", 2, 640, "2025-10-04T14:00:00", 1, 2);
  g_autofree char *clip = g_build_filename (test.photos, "c1.mov", NULL);
  g_autoptr (WsImportResult) result = NULL;

  g_test_summary ("Beside its picture a raw file is the companion; of two raw files of one name one is the photo; a clip alone "
                  "is passed over");
  wrap (&test, "a1.dng", first, FALSE);
  wrap (&test, "b1.dng", second, FALSE);
  wrap (&test, "b1.nef", second, TRUE);
  g_assert_true (g_file_set_contents (clip, "clip", -1, NULL));
  result = import_folder (&test);
  g_assert_cmpuint (result->added->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    {
      const WsPhoto *photo = g_ptr_array_index (result->added, i);
      gboolean is_first = g_str_equal (photo->media_type, "image/jpeg");

      g_assert_true (g_str_has_suffix (photo->path, is_first ? "a1.jpg" : "b1.dng"));
      g_assert_true (g_str_has_suffix (photo->companion, is_first ? "a1.dng" : "b1.nef"));
    }
  g_assert_cmpuint (result->passed_over->len, ==, 1);
  g_assert_true (g_str_has_suffix (((const WsPassedOver *) g_ptr_array_index (result->passed_over, 0))->path, "c1.mov"));
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  g_test_add_func ("/work/import-raw/alone", test_alone);
  g_test_add_func ("/work/import-raw/beside", test_beside);
  return g_test_run ();
}
