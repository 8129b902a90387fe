/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#include <math.h>

#define AT(array, i) g_ptr_array_index ((array), (i))

static const WsMeasure measure = { TRUE, 30, 20, 2.5, 0.25, 0.5, 0.125, 9 };

static WsMark *
load_mark (WsLibrary *library, const WsFind *find, guint i)
{
  g_autoptr (WsFind) now = ws_library_load_find (library, find->id, NULL);

  return ws_mark_ref (AT (now->marks, i));
}

static void
assert_measure (const WsMeasure *got, const WsMeasure *expected)
{
  g_assert_cmpint (got->measured, ==, expected->measured);
  g_assert_cmpint (got->width_px, ==, expected->width_px);
  g_assert_cmpint (got->height_px, ==, expected->height_px);
  g_assert_cmpfloat (got->blur_sigma, ==, expected->blur_sigma);
  g_assert_cmpfloat (got->burnt_out, ==, expected->burnt_out);
  g_assert_cmpfloat (got->blocked_up, ==, expected->blocked_up);
  /* Of the photo's scale: this one has none. */
  g_assert_true (isnan (got->mm_per_pixel));
  g_assert_cmpint (got->method, ==, expected->method);
}

static void
test_measure (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_whole_find ("1", NULL);
  const WsMark *mark = AT (find->marks, 1);
  g_autoptr (WsMark) before = NULL, after = NULL, replaced = NULL;
  WsMeasure newer = measure;
  g_autofree char *steps = NULL;

  g_test_summary ("A measure comes back with its mark, a later one replaces it, and neither is a step of undo");
  apply (fixture->library, action_put_whole ("import", NULL, find));
  before = load_mark (fixture->library, find, 1);
  g_assert_false (before->measure.measured);
  g_assert_true (ws_library_store_measure (fixture->library, mark, &measure, NULL));
  after = load_mark (fixture->library, find, 1);
  assert_measure (&after->measure, &measure);
  newer.method = 10;
  newer.blur_sigma = 3.5;
  g_assert_true (ws_library_store_measure (fixture->library, mark, &newer, NULL));
  replaced = load_mark (fixture->library, find, 1);
  assert_measure (&replaced->measure, &newer);
  steps = fixture_query (fixture, "SELECT count (*) FROM undo_log");
  g_assert_cmpstr (steps, ==, "1");
}

/* A measure of another region, or of other pixels, would call a base sharp that nobody measured. */
static void
test_measure_of_another_shape (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_whole_find ("1", NULL);
  const WsMark *mark = AT (find->marks, 1);
  g_autoptr (WsMark) moved = ws_mark_copy (mark), now = NULL, late = NULL, back = NULL;
  WsAction *action = ws_action_new ("move");

  g_test_summary ("A mark that was moved is not measured, even by a measurement that ends late; undo brings it back");
  apply (fixture->library, action_put_whole ("import", NULL, find));
  g_assert_true (ws_library_store_measure (fixture->library, mark, &measure, NULL));
  ws_shape_free (moved->shape);
  moved->shape = ws_shape_new_box (&(WsRect) { 0.5, 0.5, 0.25, 0.25 });
  ws_action_put_mark (action, find->id, moved);
  apply (fixture->library, action);
  now = load_mark (fixture->library, find, 1);
  g_assert_false (now->measure.measured);
  g_assert_true (ws_library_store_measure (fixture->library, mark, &measure, NULL));
  late = load_mark (fixture->library, find, 1);
  g_assert_false (late->measure.measured);
  g_assert_true (ws_library_undo (fixture->library, NULL, NULL));
  back = load_mark (fixture->library, find, 1);
  g_assert_true (back->measure.measured);
}

static void
test_measure_of_other_bytes (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_whole_find ("1", NULL);
  g_autoptr (WsPhoto) photo = ws_photo_copy (((WsFindPhoto *) AT (find->photos, 0))->photo);
  g_autoptr (WsMark) before = NULL, now = NULL;
  WsAction *action = ws_action_new ("other bytes");

  g_test_summary ("When the photo's bytes are others, its marks are not measured");
  apply (fixture->library, action_put_whole ("import", NULL, find));
  before = load_mark (fixture->library, find, 0);
  g_assert_true (before->measure.measured);
  ws_set_string (&photo->digest, "abcd");
  ws_action_put_photo (action, photo, 0);
  apply (fixture->library, action);
  now = load_mark (fixture->library, find, 0);
  g_assert_false (now->measure.measured);
}

static void
test_measure_refused (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsPhoto) photo = sample_photo ();
  g_autoptr (WsMark) mark = sample_mark (photo->id);
  WsMeasure none = measure;
  g_autoptr (GError) gone = NULL, empty = NULL;

  g_test_summary ("A measure of a photo that is gone, and one that measured nothing, are refused");
  g_assert_false (ws_library_store_measure (fixture->library, mark, &measure, &gone));
  g_assert_error (gone, WS_ERROR, WS_ERROR_NOT_FOUND);
  none.measured = FALSE;
  g_assert_false (ws_library_store_measure (fixture->library, mark, &none, &empty));
  g_assert_error (empty, WS_ERROR, WS_ERROR_INVALID);
}

static void
test_path (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_whole_find ("1", NULL);
  g_autoptr (WsPhoto) now = NULL;
  const char *id = ((WsFindPhoto *) AT (find->photos, 0))->photo->id;
  g_autofree char *steps = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("Where a photo was found again is stored without a step of undo");
  apply (fixture->library, action_put_whole ("import", NULL, find));
  g_assert_true (ws_library_store_photo_path (fixture->library, id, "/else/\xe9 2.jpg", 12, 34, NULL));
  now = ws_library_load_photo (fixture->library, id, NULL);
  g_assert_cmpstr (now->path, ==, "/else/\xe9 2.jpg");
  g_assert_cmpint (now->file_size, ==, 12);
  g_assert_cmpint (now->file_time_us, ==, 34);
  steps = fixture_query (fixture, "SELECT count (*) FROM undo_log");
  g_assert_cmpstr (steps, ==, "1");
  g_assert_false (ws_library_store_photo_path (fixture->library, "nothing", "/x", 1, 2, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
}

static void
test_setting (Fixture *fixture, gconstpointer data)
{
  g_autofree char *unset = NULL, *set = NULL, *again = NULL, *gone = NULL;

  g_test_summary ("A setting is set, replaced, kept across restarts and unset");
  unset = ws_library_dup_setting (fixture->library, "poison-service");
  g_assert_null (unset);
  g_assert_true (ws_library_set_setting (fixture->library, "poison-service", "0555 0100", NULL));
  set = ws_library_dup_setting (fixture->library, "poison-service");
  g_assert_cmpstr (set, ==, "0555 0100");
  g_assert_true (ws_library_set_setting (fixture->library, "poison-service", "", NULL));
  fixture_reopen (fixture);
  again = ws_library_dup_setting (fixture->library, "poison-service");
  g_assert_cmpstr (again, ==, "");
  g_assert_true (ws_library_set_setting (fixture->library, "poison-service", NULL, NULL));
  gone = ws_library_dup_setting (fixture->library, "poison-service");
  g_assert_null (gone);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  FIXTURE_TEST ("/library/stored/measure", test_measure);
  FIXTURE_TEST ("/library/stored/measure-of-another-shape", test_measure_of_another_shape);
  FIXTURE_TEST ("/library/stored/measure-of-other-bytes", test_measure_of_other_bytes);
  FIXTURE_TEST ("/library/stored/measure-refused", test_measure_refused);
  FIXTURE_TEST ("/library/stored/path", test_path);
  FIXTURE_TEST ("/library/stored/setting", test_setting);
  return g_test_run ();
}
