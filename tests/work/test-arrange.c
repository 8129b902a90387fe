/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-test-library.h"

#include "ws-arrange.h"
#include "ws-error.h"
#include "ws-picture.h"
#include "ws-record.h"

#include <math.h>

/* Two finds: a1 a2 a3 at 14:00, b1 at 15:00; and u1 without a time. */
static TestDesk
begin (void)
{
  TestDesk test = test_begin ();

  g_free (test_photo (&test, "a1.jpg", 1, 400, "2025-10-04T14:00:00", NAN, NAN));
  g_free (test_photo (&test, "a2.jpg", 2, 400, "2025-10-04T14:01:00", NAN, NAN));
  g_free (test_photo (&test, "a3.jpg", 3, 400, "2025-10-04T14:02:00", NAN, NAN));
  g_free (test_photo (&test, "b1.jpg", 4, 400, "2025-10-04T15:00:00", NAN, NAN));
  g_free (test_photo (&test, "u1.jpg", 5, 400, NULL, NAN, NAN));
  test_import (&test);
  return test;
}

static void
expect (TestDesk *test, const char *wanted)
{
  g_autofree char *text = test_finds_text (test);

  g_assert_cmpstr (text, ==, wanted);
}

#define START "25-001: a1.jpg a2.jpg a3.jpg | 25-002: b1.jpg / unsorted: u1.jpg"

static void
undo_to_start (TestDesk *test, const char *after)
{
  g_autoptr (GError) error = NULL;

  expect (test, after);
  g_assert_true (ws_library_undo (test->desk->library, NULL, &error));
  g_assert_no_error (error);
  expect (test, START);
  g_assert_true (ws_library_redo (test->desk->library, NULL, &error));
  g_assert_no_error (error);
  expect (test, after);
}

/* A mark on the second photo, to see that marks go along. */
static void
mark_a2 (TestDesk *test)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = test_find (test, "25-001");
  g_autofree char *photo = test_photo_id (test, "a2.jpg");
  g_autoptr (WsShape) shape = ws_shape_new_box (&(WsRect) { 0.2, 0.2, 0.5, 0.5 });
  g_autofree char *mark = ws_record_mark (test->desk, find->id, photo, "cap", NULL, shape, NULL, &error);

  g_assert_no_error (error);
  g_assert_nonnull (mark);
}

static void
test_split (void)
{
  TestDesk test = begin ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = test_find (&test, "25-001");
  g_autofree char *a2 = test_photo_id (&test, "a2.jpg"), *a3 = test_photo_id (&test, "a3.jpg"), *made = NULL;
  const char *ids[] = { a2, a3, NULL };
  g_autoptr (WsFind) split = NULL;

  g_test_summary ("Splitting makes one new find of the photos, with their marks, in one step");
  mark_a2 (&test);
  made = ws_arrange_split (test.desk, find->id, ids, &error);
  g_assert_no_error (error);
  undo_to_start (&test, "25-001: a1.jpg | 25-003: a2.jpg a3.jpg | 25-002: b1.jpg / unsorted: u1.jpg");
  split = test_find (&test, made);
  g_assert_cmpuint (split->marks->len, ==, 1);
  test_end (&test);
}

static void
test_merge (void)
{
  TestDesk test = begin ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = test_find (&test, "25-001"), other = test_find (&test, "25-002"), merged = NULL;

  g_test_summary ("Merging keeps the photos, notes and words of both; a find is not merged with itself");
  g_assert_true (ws_record_note (test.desk, other->id, "trees", "under beech", TRUE, FALSE, NULL, &error));
  g_assert_true (ws_record_set (test.desk, find->id, "remarks", "first", &error));
  g_assert_true (ws_record_set (test.desk, other->id, "remarks", "second", &error));
  g_assert_true (ws_arrange_merge (test.desk, find->id, other->id, &error));
  g_assert_no_error (error);
  undo_to_start (&test, "25-001: a1.jpg a2.jpg a3.jpg b1.jpg / unsorted: u1.jpg");
  merged = test_find (&test, "25-001");
  g_assert_cmpstr (merged->remarks, ==, "first\nsecond");
  g_assert_cmpstr (ws_find_get_state (merged, "trees"), ==, "under beech");
  g_assert_false (ws_arrange_merge (test.desk, merged->id, merged->id, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  test_end (&test);
}

static void
test_move_and_share (void)
{
  TestDesk test = begin ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = test_find (&test, "25-001"), other = test_find (&test, "25-002"), now = NULL;
  g_autofree char *a2 = test_photo_id (&test, "a2.jpg"), *b1 = test_photo_id (&test, "b1.jpg");
  const char *ids[] = { b1, NULL };

  g_test_summary ("A photo moves with its marks; one photo can belong to two finds");
  mark_a2 (&test);
  g_assert_true (ws_arrange_move (test.desk, a2, find->id, other->id, &error));
  g_assert_no_error (error);
  undo_to_start (&test, "25-001: a1.jpg a3.jpg | 25-002: b1.jpg a2.jpg / unsorted: u1.jpg");
  now = test_find (&test, "25-002");
  g_assert_cmpuint (now->marks->len, ==, 1);
  g_assert_true (ws_arrange_share (test.desk, ids, find->id, "same", &error));
  expect (&test, "25-001: a1.jpg a3.jpg b1.jpg | 25-002: b1.jpg a2.jpg / unsorted: u1.jpg");
  g_assert_false (ws_arrange_share (test.desk, ids, find->id, "third", &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  test_end (&test);
}

static void
test_one_find (void)
{
  TestDesk test = begin ();
  g_autoptr (GError) error = NULL;
  g_autofree char *u1 = test_photo_id (&test, "u1.jpg"), *made = NULL, *none = NULL;
  const char *ids[] = { u1, NULL }, *no_ids[] = { NULL };

  g_test_summary ("Photos without a time can be made a find; of no photos none is made");
  made = ws_arrange_one_find (test.desk, ids, &error);
  g_assert_no_error (error);
  g_assert_nonnull (made);
  undo_to_start (&test, "25-001: a1.jpg a2.jpg a3.jpg | 25-002: b1.jpg | 00-001: u1.jpg");
  none = ws_arrange_one_find (test.desk, no_ids, &error);
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  test_end (&test);
}

static void
test_take_out (void)
{
  TestDesk test = begin ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = test_find (&test, "25-002");
  g_autofree char *b1 = test_photo_id (&test, "b1.jpg"), *u1 = test_photo_id (&test, "u1.jpg");
  const char *ids[] = { u1, NULL };

  g_test_summary ("A photo taken out is unsorted again; one set aside is hidden, not deleted; a find is removed without its photos");
  g_assert_true (ws_arrange_remove (test.desk, b1, find->id, &error));
  undo_to_start (&test, "25-001: a1.jpg a2.jpg a3.jpg | 25-002: / unsorted: b1.jpg u1.jpg");
  g_assert_true (ws_arrange_set_aside (test.desk, ids, TRUE, &error));
  expect (&test, "25-001: a1.jpg a2.jpg a3.jpg | 25-002: / unsorted: b1.jpg");
  g_assert_true (ws_arrange_set_aside (test.desk, ids, FALSE, &error));
  g_assert_true (ws_arrange_remove_find (test.desk, "25-001", &error));
  g_assert_no_error (error);
  expect (&test, "25-002: / unsorted: a1.jpg a2.jpg a3.jpg b1.jpg u1.jpg");
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  g_test_add_func ("/work/arrange/split", test_split);
  g_test_add_func ("/work/arrange/merge", test_merge);
  g_test_add_func ("/work/arrange/move-and-share", test_move_and_share);
  g_test_add_func ("/work/arrange/one-find", test_one_find);
  g_test_add_func ("/work/arrange/take-out", test_take_out);
  return g_test_run ();
}
