/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-import-work.h"

#include "ws-picture.h"
#include "ws-test-library.h"

#include <math.h>

/* Photos in the library, in no find yet: two at 14:00, one at 15:00, one without time. */
static TestDesk
begin_loose (void)
{
  TestDesk test = test_begin ();
  g_autoptr (GError) error = NULL;
  WsImportReading reading = { g_strdupv ((char *[]) { test.photos, NULL }), ws_progress_board_new () };
  g_autoptr (WsImportResult) result = NULL;
  guint done, total;
  g_autofree char *what = NULL;

  g_free (test_photo (&test, "a1.jpg", 1, 320, "2025-10-04T14:00:00", NAN, NAN));
  g_free (test_photo (&test, "a2.jpg", 2, 320, "2025-10-04T14:05:00", NAN, NAN));
  g_free (test_photo (&test, "b1.jpg", 3, 320, "2025-10-04T15:00:00", NAN, NAN));
  g_free (test_photo (&test, "u1.jpg", 4, 320, NULL, NAN, NAN));
  result = ws_import_work_read (test.desk, &reading, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (result->added->len, ==, 4);
  what = ws_progress_board_look (reading.progress, &done, &total);
  g_assert_cmpuint (done, ==, 4);
  g_assert_cmpuint (total, ==, 4);
  g_strfreev (reading.paths);
  ws_progress_board_unref (reading.progress);
  return test;
}

static WsImportPreview *
group (TestDesk *test, GHashTable *only, double gap)
{
  g_autoptr (GError) error = NULL;
  WsImportWish wish = { only, { gap, 30 } };
  WsImportPreview *preview = ws_import_work_group (test->desk, &wish, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (preview->old_finds->len, ==, preview->grouping->groups->len);
  return preview;
}

static void
test_thresholds (void)
{
  static const struct { double gap; guint groups, unsorted; } cases[] = { { 600, 2, 1 }, { 120, 3, 1 }, { 7200, 1, 1 } };
  TestDesk test = begin_loose ();
  g_autoptr (GHashTable) only = g_hash_table_new (g_str_hash, g_str_equal);
  g_autofree char *id = test_photo_id (&test, "b1.jpg");
  WsImportPreview *preview;

  g_test_summary ("The preview follows the threshold; photos that are not in question stay out of it");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      preview = group (&test, NULL, cases[i].gap);
      g_assert_cmpuint (preview->grouping->groups->len, ==, cases[i].groups);
      g_assert_cmpuint (preview->grouping->unsorted->len, ==, cases[i].unsorted);
      ws_import_preview_free (preview);
    }
  g_hash_table_add (only, id);
  preview = group (&test, only, 600);
  g_assert_cmpuint (preview->grouping->groups->len, ==, 1);
  g_assert_cmpuint (preview->grouping->unsorted->len, ==, 0);
  ws_import_preview_free (preview);
  test_end (&test);
}

static guint
make (TestDesk *test, WsImportPreview *preview, const WsImportFate *fates)
{
  g_autoptr (GError) error = NULL;
  WsImportMaking making = { preview->grouping->groups, preview->old_finds, (WsImportFate *) fates };
  g_autofree guint *made = ws_import_work_make (test->desk, &making, NULL, &error);

  g_assert_no_error (error);
  return *made;
}

static void
test_fates (void)
{
  TestDesk test = begin_loose ();
  WsImportPreview *preview = group (&test, NULL, 600);
  const WsImportFate all_new[] = { WS_IMPORT_NEW_FIND, WS_IMPORT_NEW_FIND };
  const WsImportFate another[] = { WS_IMPORT_ANOTHER_SPECIMEN };
  g_autofree char *text = NULL, *after = NULL, *later = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) old = NULL;
  WsImportReading reading = { NULL, ws_progress_board_new () };
  g_autoptr (WsImportResult) result = NULL;

  g_test_summary ("Groups become finds; a later group that was said to belong to an old find goes there, with its visit");
  g_assert_cmpuint (make (&test, preview, all_new), ==, 2);
  ws_import_preview_free (preview);
  text = test_finds_text (&test);
  g_assert_cmpstr (text, ==, "25-001: a1.jpg a2.jpg | 25-002: b1.jpg / unsorted: u1.jpg");

  later = test_photo (&test, "c1.jpg", 5, 320, "2025-10-05T09:00:00", NAN, NAN);
  reading.paths = g_strdupv ((char *[]) { later, NULL });
  result = ws_import_work_read (test.desk, &reading, NULL, &error);
  g_assert_no_error (error);
  preview = group (&test, NULL, 600);
  g_assert_cmpuint (preview->grouping->groups->len, ==, 1);
  g_ptr_array_set_size (preview->old_finds, 0);
  g_ptr_array_add (preview->old_finds, test_find (&test, "25-001"));
  g_assert_cmpuint (make (&test, preview, another), ==, 0);
  ws_import_preview_free (preview);
  after = test_finds_text (&test);
  g_assert_cmpstr (after, ==, "25-001: a1.jpg a2.jpg c1.jpg | 25-002: b1.jpg / unsorted: u1.jpg");
  old = test_find (&test, "25-001");
  g_assert_cmpstr (((WsFindPhoto *) g_ptr_array_index (old->photos, 2))->visit, ==, "another");
  g_strfreev (reading.paths);
  ws_progress_board_unref (reading.progress);
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  g_test_add_func ("/app/import-work/thresholds", test_thresholds);
  g_test_add_func ("/app/import-work/fates", test_fates);
  return g_test_run ();
}
