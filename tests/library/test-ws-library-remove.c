/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#define AT(array, i) g_ptr_array_index ((array), (i))

static void
test_find (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsForay) foray = sample_foray ();
  g_autoptr (WsFind) find = sample_whole_find ("25-101", foray);
  g_autoptr (GPtrArray) unsorted = NULL, forays = NULL;
  g_autofree char *rest = NULL, *covers = NULL;
  WsAction *action = ws_action_new ("remove");

  g_test_summary ("A find goes with its marks, notes and reasons; its photos, their covers and scales and the foray stay");
  apply (fixture->library, action_put_whole ("import", foray, find));
  ws_action_remove_find (action, find->id);
  apply (fixture->library, action);
  rest = fixture_query (fixture, "SELECT (SELECT count (*) FROM find) + (SELECT count (*) FROM mark) + "
                                 "(SELECT count (*) FROM note) + (SELECT count (*) FROM excuse) + "
                                 "(SELECT count (*) FROM find_photo) + (SELECT count (*) FROM measurement) + "
                                 "(SELECT count (*) FROM spore_list)");
  covers = fixture_query (fixture, "SELECT (SELECT count (*) FROM cover) * (SELECT count (*) FROM scale)");
  g_assert_cmpstr (rest, ==, "0");
  g_assert_cmpstr (covers, ==, "1");
  unsorted = ws_library_load_unsorted (fixture->library, NULL);
  forays = ws_library_load_forays (fixture->library, NULL);
  g_assert_cmpuint (unsorted->len, ==, 2);
  g_assert_cmpuint (forays->len, ==, 1);
}

static void
test_photo_of_find (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_whole_find ("25-101", NULL);
  g_autoptr (WsFind) now = NULL;
  const WsMark *mark = AT (find->marks, 0);
  WsAction *action = ws_action_new ("remove");

  g_test_summary ("A photo leaves a find with its marks; a note read off one of them stays, without it");
  apply (fixture->library, action_put_whole ("import", NULL, find));
  ws_action_remove_find_photo (action, find->id, mark->photo_id);
  apply (fixture->library, action);
  now = ws_library_load_find (fixture->library, find->id, NULL);
  g_assert_cmpuint (now->photos->len, ==, 1);
  g_assert_null (ws_find_get_photo (now, mark->photo_id));
  g_assert_cmpuint (now->marks->len, ==, 1);
  g_assert_null (ws_find_get_mark (now, mark->id));
  g_assert_cmpuint (now->notes->len, ==, 2);
  g_assert_null (((WsNote *) AT (now->notes, 0))->mark_id);
}

static void
test_mark (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_whole_find ("25-101", NULL);
  g_autoptr (WsFind) now = NULL;
  WsAction *action = ws_action_new ("remove");

  g_test_summary ("A mark goes alone");
  apply (fixture->library, action_put_whole ("import", NULL, find));
  ws_action_remove_mark (action, ((WsMark *) AT (find->marks, 0))->id);
  apply (fixture->library, action);
  now = ws_library_load_find (fixture->library, find->id, NULL);
  g_assert_cmpuint (now->photos->len, ==, 2);
  g_assert_cmpuint (now->marks->len, ==, 1);
  g_assert_cmpuint (now->notes->len, ==, 2);
  g_assert_null (((WsNote *) AT (now->notes, 0))->mark_id);
}

static void
test_gone (Fixture *fixture, gconstpointer data)
{
  void (*const removes[]) (WsAction *, const char *) = {
    ws_action_remove_foray, ws_action_remove_find, ws_action_remove_mark, ws_action_remove_note,
    ws_action_remove_cover, ws_action_remove_scale, ws_action_remove_measurement, ws_action_remove_spore_list,
  };
  g_autoptr (WsFind) find = sample_whole_find ("25-101", NULL);
  g_autofree char *nothing = ws_id_new ();
  WsAction *action;

  g_test_summary ("To remove what is gone already is a conflict");
  apply (fixture->library, action_put_whole ("import", NULL, find));
  for (guint i = 0; i < G_N_ELEMENTS (removes); i++)
    {
      action = ws_action_new ("remove");
      removes[i] (action, nothing);
      apply_fails (fixture->library, action, WS_ERROR_CONFLICT, "no longer");
    }
  action = ws_action_new ("remove");
  ws_action_remove_find_photo (action, find->id, nothing);
  apply_fails (fixture->library, action, WS_ERROR_CONFLICT, "a photo of a find");
  action = ws_action_new ("remove");
  ws_action_remove_excuse (action, find->id, "stem-base");
  apply_fails (fixture->library, action, WS_ERROR_CONFLICT, "a reason");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  FIXTURE_TEST ("/library/remove/find", test_find);
  FIXTURE_TEST ("/library/remove/photo-of-find", test_photo_of_find);
  FIXTURE_TEST ("/library/remove/mark", test_mark);
  FIXTURE_TEST ("/library/remove/gone", test_gone);
  return g_test_run ();
}
