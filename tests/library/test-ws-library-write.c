/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"


#define AT(array, i) g_ptr_array_index ((array), (i))

/* Replaces every field of the find and of what hangs on it by that of another sample with the same ids. */
static void
test_replace (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsForay) foray = sample_foray (), other_foray = sample_foray ();
  g_autoptr (WsFind) find = sample_whole_find ("25-101", foray);
  g_autoptr (WsFind) bare = ws_find_new ();
  WsPhoto *photo = ws_photo_new ();
  WsMark *mark = ws_mark_new ();
  WsNote *note = ws_note_new ();
  WsMeasurement *measurement = ws_measurement_new ();
  WsSporeList *list = ws_spore_list_new ();
  g_autofree char *expected = NULL, *got = NULL;
  WsFindPhoto *link;

  g_test_summary ("A put replaces every field of what has the same id");
  apply (fixture->library, action_put_whole ("import", foray, find));

  ws_set_string (&bare->id, find->id);
  ws_set_string (&bare->number, "new");
  ws_set_string (&photo->id, ((WsFindPhoto *) AT (find->photos, 0))->photo->id);
  link = sample_link (photo, 9);
  ws_set_string (&link->specimen, "");
  ws_set_string (&link->visit, "");
  ws_photo_unref (photo);
  ws_set_string (&mark->id, ((WsMark *) AT (find->marks, 0))->id);
  ws_set_string (&mark->photo_id, photo->id);
  ws_set_string (&mark->part, "cap");
  g_strfreev (mark->views);
  mark->views = g_strsplit ("cap-top", " ", -1);
  ws_set_string (&note->id, ((WsNote *) AT (find->notes, 0))->id);
  ws_set_string (&note->character, "smell");
  g_ptr_array_add (bare->photos, link);
  g_ptr_array_add (bare->marks, mark);
  g_ptr_array_add (bare->notes, note);
  ws_set_string (&measurement->id, ((WsMeasurement *) AT (find->measurements, 0))->id);
  ws_set_string (&measurement->quantity, "stem_width");
  measurement->value = 1;
  g_ptr_array_add (bare->measurements, measurement);
  ws_set_string (&list->id, ((WsSporeList *) AT (find->spores, 0))->id);
  ws_set_string (&list->verbatim, "8-9 x 5-6");
  g_ptr_array_add (bare->spores, list);
  {
    WsAction *action = action_put_whole ("replace", NULL, bare);

    ws_action_remove_find_photo (action, find->id, ((WsMark *) AT (find->marks, 1))->photo_id);
    ws_action_remove_note (action, ((WsNote *) AT (find->notes, 1))->id);
    ws_action_remove_excuse (action, find->id, "spore-print");
    ws_action_remove_scale (action, ((WsScale *) AT (find->scales, 0))->id);
    ws_action_remove_measurement (action, ((WsMeasurement *) AT (find->measurements, 1))->id);
    apply (fixture->library, action);
  }
  expected = find_to_text (bare);
  got = find_text (fixture->library, find->id);
  g_assert_cmpstr (got, ==, expected);
}

static void
test_order (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_whole_find ("25-101", NULL);
  const char *photo_id = ((WsMark *) AT (find->marks, 0))->photo_id;
  g_autofree char *expected = NULL, *got = NULL, *again = NULL;
  WsAction *action;

  g_test_summary ("Marks and notes made in the same microsecond keep their order, also through undo and redo");
  for (guint i = 0; i < 30; i++)
    {
      g_ptr_array_add (find->marks, sample_mark (photo_id));
      g_ptr_array_add (find->notes, sample_note (NULL));
    }
  for (guint i = 0; i < find->marks->len; i++)
    {
      ((WsMark *) AT (find->marks, i))->created_us = 0;
      ((WsNote *) AT (find->notes, i))->created_us = 0;
    }
  ws_find_fill_scales (find);
  expected = find_to_text (find);
  apply (fixture->library, action_put_whole ("import", NULL, find));
  got = find_text (fixture->library, find->id);
  g_assert_cmpstr (got, ==, expected);

  action = ws_action_new ("remove");
  ws_action_remove_find (action, find->id);
  apply (fixture->library, action);
  g_assert_true (ws_library_undo (fixture->library, NULL, NULL));
  again = find_text (fixture->library, find->id);
  g_assert_cmpstr (again, ==, expected);
}

static void
test_likeness_kept (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsPhoto) photo = sample_photo (), found = NULL;
  WsAction *first = ws_action_new ("import"), *second = ws_action_new ("again");

  g_test_summary ("A photo that is put without its likeness keeps the stored one");
  ws_action_put_photo (first, photo, G_GUINT64_CONSTANT (0xf000000000000001));
  apply (fixture->library, first);
  ws_action_put_photo (second, photo, 0);
  apply (fixture->library, second);
  found = ws_library_find_likeness (fixture->library, G_GUINT64_CONSTANT (0xf000000000000001), 10, 10, NULL);
  g_assert_cmpstr (found->id, ==, photo->id);
}

static void
test_move_mark (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) one = sample_whole_find ("1", NULL), two = sample_whole_find ("2", NULL);
  g_autoptr (WsFind) one_now = NULL, two_now = NULL;
  const WsMark *mark = AT (one->marks, 0);
  WsAction *action = ws_action_new ("move");

  g_test_summary ("A mark that is put with another find moves there");
  apply (fixture->library, action_put_whole ("import", NULL, one));
  apply (fixture->library, action_put_whole ("import", NULL, two));
  ws_action_put_find_photo (action, two->id, AT (one->photos, 0));
  ws_action_put_mark (action, two->id, mark);
  apply (fixture->library, action);
  one_now = ws_library_load_find (fixture->library, one->id, NULL);
  two_now = ws_library_load_find (fixture->library, two->id, NULL);
  g_assert_null (ws_find_get_mark (one_now, mark->id));
  g_assert_nonnull (ws_find_get_mark (two_now, mark->id));
}

static void
test_shared_photo (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) one = sample_whole_find ("1", NULL), two = sample_whole_find ("2", NULL);
  g_autoptr (GPtrArray) finds = NULL;
  const char *id = ((WsFindPhoto *) AT (one->photos, 1))->photo->id;
  WsAction *action = ws_action_new ("share");
  const WsFind *first, *second;

  g_test_summary ("A photo of two finds is one value, with its covers in both and the marks of each in each");
  apply (fixture->library, action_put_whole ("import", NULL, one));
  apply (fixture->library, action_put_whole ("import", NULL, two));
  ws_action_put_find_photo (action, two->id, AT (one->photos, 1));
  apply (fixture->library, action);
  finds = ws_library_load_finds (fixture->library, NULL, NULL);
  first = AT (finds, 0);
  second = AT (finds, 1);
  g_assert_nonnull (ws_find_get_photo (first, id));
  g_assert_true (ws_find_get_photo (first, id) == ws_find_get_photo (second, id));
  g_assert_cmpuint (first->covers->len, ==, 1);
  g_assert_cmpuint (second->covers->len, ==, 2);
  g_assert_cmpuint (first->marks->len, ==, 2);
  g_assert_cmpuint (second->marks->len, ==, 2);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  FIXTURE_TEST ("/library/write/replace", test_replace);
  FIXTURE_TEST ("/library/write/order", test_order);
  FIXTURE_TEST ("/library/write/likeness-kept", test_likeness_kept);
  FIXTURE_TEST ("/library/write/move-mark", test_move_mark);
  FIXTURE_TEST ("/library/write/shared-photo", test_shared_photo);
  return g_test_run ();
}
