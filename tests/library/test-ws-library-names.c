/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#include <string.h>

#define AT(array, i) g_ptr_array_index (array, i)

static WsFind *
put_find (Fixture *fixture, const char *number)
{
  WsFind *find = sample_whole_find (number, NULL);

  apply (fixture->library, action_put_whole ("import", NULL, find));
  return find;
}

static void
test_round_trip (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = put_find (fixture, "25-101");
  g_autoptr (WsName) name = sample_name (), withdrawal = ws_name_new ();
  g_autofree char *id = ws_id_new (), *expected = NULL, *got = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("Names come back with every field, in the order in which they were added, and after a restart");
  ws_set_string (&withdrawal->id, id);
  withdrawal->withdraws = g_strdup (name->id);
  ws_set_string (&withdrawal->reasons, "a slip");
  withdrawal->created_us = name->created_us;
  g_assert_true (ws_library_add_name (fixture->library, find->id, name, &error));
  g_assert_true (ws_library_add_name (fixture->library, find->id, withdrawal, &error));
  g_assert_no_error (error);
  g_ptr_array_add (find->names, ws_name_ref (name));
  g_ptr_array_add (find->names, ws_name_ref (withdrawal));
  fixture_reopen (fixture);
  expected = find_to_text (find);
  got = find_text (fixture->library, find->id);
  g_assert_cmpstr (got, ==, expected);
  g_assert_true (ws_find_is_name_withdrawn (find, name->id));
}

static void
refuse (Fixture *fixture, const char *find_id, const WsName *name, WsError code)
{
  g_autofree char *before = library_text (fixture->library), *after = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_false (ws_library_add_name (fixture->library, find_id, name, &error));
  g_assert_error (error, WS_ERROR, (int) code);
  after = library_text (fixture->library);
  g_assert_cmpstr (after, ==, before);
}

static void
test_refused (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = put_find (fixture, "25-101");
  g_autoptr (WsFind) other = put_find (fixture, "25-102");
  g_autoptr (WsName) empty = sample_name (), no_id = sample_name (), both = sample_name (), bytes = sample_name ();
  g_autoptr (WsName) fine = sample_name (), foreign = sample_name (), nothing = sample_name (), there = sample_name ();
  g_autofree char *nowhere = ws_id_new ();

  g_test_summary ("What a name must be is checked, and nothing is written when it is not");
  g_assert_true (ws_library_add_name (fixture->library, other->id, there, NULL));
  ws_set_string (&empty->verbatim, "");
  ws_set_string (&no_id->id, "n");
  both->withdraws = g_strdup (there->id);
  ws_set_string (&bytes->reasons, "\xff");
  refuse (fixture, find->id, empty, WS_ERROR_INVALID);
  refuse (fixture, find->id, no_id, WS_ERROR_INVALID);
  refuse (fixture, find->id, both, WS_ERROR_INVALID);
  refuse (fixture, find->id, bytes, WS_ERROR_INVALID);
  refuse (fixture, "25-101", fine, WS_ERROR_INVALID);
  refuse (fixture, nowhere, fine, WS_ERROR_NOT_FOUND);
  refuse (fixture, other->id, there, WS_ERROR_CONFLICT);
  ws_set_string (&foreign->verbatim, "");
  foreign->withdraws = g_strdup (there->id);
  refuse (fixture, find->id, foreign, WS_ERROR_NOT_FOUND);
  ws_set_string (&nothing->verbatim, "");
  nothing->withdraws = g_strdup (nowhere);
  refuse (fixture, find->id, nothing, WS_ERROR_NOT_FOUND);
}

static void
test_never_undone (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = put_find (fixture, "25-101");
  g_autoptr (WsName) name = sample_name ();
  g_autoptr (WsFind) chosen = NULL, back = NULL;
  g_autofree char *label = NULL, *n = NULL;
  WsAction *action;

  g_test_summary ("Undo takes the choice back and the find, never the name: with the find it is there again");
  name->deadly = TRUE;
  g_assert_true (ws_library_add_name (fixture->library, find->id, name, NULL));
  chosen = ws_find_copy (find);
  chosen->name_in_force = g_strdup (name->id);
  action = ws_action_new ("choose");
  ws_action_put_find (action, chosen);
  apply (fixture->library, action);
  g_assert_true (ws_library_undo (fixture->library, &label, NULL));
  g_assert_cmpstr (label, ==, "choose");
  back = ws_library_load_find (fixture->library, find->id, NULL);
  g_assert_null (back->name_in_force);
  g_assert_cmpuint (back->names->len, ==, 1);
  g_clear_pointer (&back, ws_find_unref);
  g_assert_true (ws_library_undo (fixture->library, NULL, NULL));
  n = fixture_query (fixture, "SELECT count (*) FROM find");
  g_assert_cmpstr (n, ==, "0");
  g_assert_false (ws_library_undo (fixture->library, NULL, NULL));
  g_assert_true (ws_library_redo (fixture->library, NULL, NULL));
  g_assert_true (ws_library_redo (fixture->library, NULL, NULL));
  back = ws_library_load_find (fixture->library, find->id, NULL);
  g_assert_cmpstr (ws_find_get_name_in_force (back)->verbatim, ==, name->verbatim);
  g_assert_nonnull (ws_find_get_warning (back));
}

static void
test_tables (Fixture *fixture, gconstpointer data)
{
  static const char *const wrong[] = {
    "UPDATE name SET deadly = 0", "DELETE FROM name", "UPDATE answer SET deadly = 0", "DELETE FROM answer",
    "DELETE FROM opinion", "UPDATE opinion SET name = 'another'", "DELETE FROM reason", "UPDATE wish SET view = ''", };
  g_autoptr (WsFind) find = put_find (fixture, "25-101");
  g_autoptr (WsAnswer) answer = sample_answer ();
  g_autoptr (GPtrArray) names = ws_answer_dup_names (answer, 0, ws_id_new, 1);
  g_autofree char *path = fixture_dup_path (fixture), *before = NULL, *after = NULL;

  g_test_summary ("The tables themselves refuse to forget or change what was said");
  g_assert_true (ws_library_add_answer (fixture->library, find->id, answer, names, "a.json", NULL));
  before = library_text (fixture->library);
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autofree char *message = database_dup_refusal (path, wrong[i]);

      g_test_message ("%s: %s", wrong[i], message);
      g_assert_nonnull (message);
      g_assert_nonnull (strstr (message, "stays as it was said"));
    }
  after = library_text (fixture->library);
  g_assert_cmpstr (after, ==, before);
}

static void
test_answer (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = put_find (fixture, "25-101");
  g_autoptr (WsAnswer) answer = sample_answer (), amended = sample_answer (), given = sample_answer ();
  g_autoptr (GPtrArray) names = ws_answer_dup_names (answer, 1, ws_id_new, 5);
  g_autoptr (GPtrArray) all = NULL, of_request = NULL;
  g_autoptr (WsFind) now = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *expected = answer_to_text (answer), *got = NULL;
  const WsAnswer *asking = NULL;

  g_test_summary ("An answer comes back whole with its names; the same twice is refused and nothing is lost");
  amended->replaces = g_strdup (answer->id);
  amended->received_us++;
  g_ptr_array_set_size (amended->wishes, 1);
  g_assert_true (ws_library_add_answer (fixture->library, find->id, answer, names, "a.json", &error));
  g_assert_true (ws_library_add_answer (fixture->library, NULL, given, NULL, "mine.json", &error));
  g_assert_no_error (error);
  g_assert_false (ws_library_add_answer (fixture->library, find->id, answer, NULL, "a.json", &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_CONFLICT);
  fixture_reopen (fixture);
  now = ws_library_load_find (fixture->library, find->id, NULL);
  got = answer_to_text (AT (now->answers, 0));
  g_assert_cmpstr (got, ==, expected);
  g_assert_cmpuint (now->names->len, ==, 2);
  g_assert_cmpstr (((WsName *) AT (now->names, 0))->verbatim, ==, "Amanita virosa ?");
  g_assert_cmpstr (((WsName *) AT (now->names, 0))->reasons, ==, "the bag\nthe \"smell\"");
  g_assert_nonnull (ws_find_get_wish (now, "v_base", NULL, &asking));
  g_assert_cmpstr (asking->id, ==, answer->id);
  g_assert_nonnull (ws_find_get_wish (now, NULL, "odour", NULL));
  all = ws_library_load_answers (fixture->library, NULL, NULL);
  of_request = ws_library_load_answers (fixture->library, answer->request_id, NULL);
  g_assert_cmpuint (all->len, ==, 2);
  g_assert_cmpuint (of_request->len, ==, 1);
  g_clear_pointer (&now, ws_find_unref);
  g_assert_true (ws_library_add_answer (fixture->library, find->id, amended, NULL, "", NULL));
  now = ws_library_load_find (fixture->library, find->id, NULL);
  g_assert_null (ws_find_get_wish (now, NULL, "odour", NULL));
  g_assert_nonnull (ws_find_get_warning (now));
}

static void
test_merge (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = put_find (fixture, "25-101");
  g_autoptr (WsFind) other = put_find (fixture, "25-102");
  g_autoptr (WsAnswer) answer = sample_answer ();
  g_autoptr (GPtrArray) names = ws_answer_dup_names (answer, 1, ws_id_new, 5);
  g_autoptr (WsFind) merged = NULL, undone = NULL;
  WsAction *action = ws_action_new ("merge");

  g_test_summary ("A warning goes along when finds are merged, and undo takes it back from the one that did not have it");
  g_assert_true (ws_library_add_answer (fixture->library, other->id, answer, names, "", NULL));
  ws_action_share_names (action, other->id, find->id);
  ws_action_remove_find (action, other->id);
  apply (fixture->library, action);
  merged = ws_library_load_find (fixture->library, find->id, NULL);
  g_assert_nonnull (ws_find_get_warning (merged));
  g_assert_cmpuint (merged->answers->len, ==, 1);
  g_assert_true (ws_library_undo (fixture->library, NULL, NULL));
  undone = ws_library_load_find (fixture->library, find->id, NULL);
  g_assert_cmpuint (undone->names->len + undone->answers->len, ==, 0);
  g_clear_pointer (&undone, ws_find_unref);
  undone = ws_library_load_find (fixture->library, other->id, NULL);
  g_assert_nonnull (ws_find_get_warning (undone));
}

static void
test_received (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsReceived) one = g_new0 (WsReceived, 1);
  g_autoptr (WsAnswer) given = sample_answer ();
  g_autoptr (GPtrArray) all = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("Requests that came are kept, emergencies first, with how many answers were given");
  one->id = ws_id_new ();
  one->digest = g_strdup ("d");
  one->from = g_strdup ("Clara Muster");
  one->number = g_strdup ("24-001");
  one->question = g_strdup ("which one?");
  one->language = g_strdup ("de");
  one->package = g_strdup ("24-001.zip");
  one->made_us = 1;
  one->received_us = 3;
  g_assert_true (ws_library_add_received (fixture->library, one, &error));
  g_assert_no_error (error);
  g_assert_false (ws_library_add_received (fixture->library, one, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_CONFLICT);
  g_free (one->id);
  one->id = ws_id_new ();
  one->emergency = TRUE;
  one->received_us = 2;
  g_assert_true (ws_library_add_received (fixture->library, one, NULL));
  ws_set_string (&given->request_id, one->id);
  g_assert_true (ws_library_add_answer (fixture->library, NULL, given, NULL, "a.json", NULL));
  all = ws_library_load_received (fixture->library, NULL);
  g_assert_cmpuint (all->len, ==, 2);
  g_assert_cmpstr (((WsReceived *) AT (all, 0))->id, ==, one->id);
  g_assert_true (((WsReceived *) AT (all, 0))->emergency);
  g_assert_cmpuint (((WsReceived *) AT (all, 0))->n_answers, ==, 1);
  g_assert_cmpstr (((WsReceived *) AT (all, 1))->package, ==, "24-001.zip");
  g_assert_cmpuint (((WsReceived *) AT (all, 1))->n_answers, ==, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  FIXTURE_TEST ("/library/names/round-trip", test_round_trip);
  FIXTURE_TEST ("/library/names/refused", test_refused);
  FIXTURE_TEST ("/library/names/never-undone", test_never_undone);
  FIXTURE_TEST ("/library/names/tables", test_tables);
  FIXTURE_TEST ("/library/answers/whole", test_answer);
  FIXTURE_TEST ("/library/answers/merge", test_merge);
  FIXTURE_TEST ("/library/received/kept", test_received);
  return g_test_run ();
}
