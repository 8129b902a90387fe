/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

static void
test_references (Fixture *fixture, gconstpointer data)
{
  WsForay *foray = sample_foray ();
  WsFind *find = sample_whole_find ("25-101", foray);
  g_autofree char *id = g_strdup (find->id), *put = find_to_text (find), *got = NULL;
  WsAction *action = action_put_whole ("import", foray, find);

  g_test_summary ("An action keeps its values when their maker lets go of them");
  ws_foray_unref (foray);
  ws_find_unref (find);
  apply (fixture->library, action);
  got = find_text (fixture->library, id);
  g_assert_cmpstr (got, ==, put);
}

static void
test_thrown_away (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsForay) foray = sample_foray ();
  g_autoptr (WsFind) find = sample_whole_find ("25-101", foray);
  g_autofree char *before = library_text (fixture->library), *after = NULL;

  g_test_summary ("An action that is thrown away does nothing");
  ws_action_free (action_put_whole ("import", foray, find));
  ws_action_free (NULL);
  after = library_text (fixture->library);
  g_assert_cmpstr (after, ==, before);
}

static void
test_no_label (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_find ("1", NULL);
  WsAction *action = ws_action_new (NULL);
  g_autofree char *label = NULL;

  g_test_summary ("An action without a label has an empty one");
  ws_action_put_find (action, find);
  apply (fixture->library, action);
  g_assert_true (ws_library_undo (fixture->library, &label, NULL));
  g_assert_cmpstr (label, ==, "");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  FIXTURE_TEST ("/library/action/references", test_references);
  FIXTURE_TEST ("/library/action/thrown-away", test_thrown_away);
  FIXTURE_TEST ("/library/action/no-label", test_no_label);
  return g_test_run ();
}
