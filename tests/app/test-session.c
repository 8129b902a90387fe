/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The session over a real library: what it loads, how it follows edits, undo and other programs. */
#include "ws-session.h"

#include "ws-arrange.h"
#include "ws-error.h"
#include "ws-picture.h"
#include "ws-record.h"
#include "ws-test-library.h"

#include <math.h>

static GString *said;

static void
said_cb (WsSession *session, const char *text, gboolean is_error)
{
  g_string_append_printf (said, "%s%s|", is_error ? "!" : "", text);
}

static gboolean
wake (gpointer data)
{
  return G_SOURCE_CONTINUE;
}

/* Runs the loop until @test says so, at most ten seconds. */
static void
run_until (gboolean (*test) (WsSession *session, gconstpointer data), WsSession *session, gconstpointer data)
{
  gint64 end = g_get_monotonic_time () + 10 * G_TIME_SPAN_SECOND;
  guint source = g_timeout_add (5, wake, NULL);

  while (!test (session, data) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (source);
  g_assert_true (test (session, data));
}

static gboolean
is_quiet (WsSession *session, gconstpointer data)
{
  return ws_session_is_loaded (session) && ws_task_count () == 0;
}

static gboolean
name_is (WsSession *session, gconstpointer wanted)
{
  g_autoptr (WsFindItem) item = g_list_model_get_item (ws_session_get_finds (session), 0);

  return g_str_equal (ws_find_item_get_find (item)->field_name, wanted);
}

/* Longer than the session's pause before it loads again. */
static void
settle (WsSession *session)
{
  gint64 end = g_get_monotonic_time () + 300 * G_TIME_SPAN_MILLISECOND;

  while (g_get_monotonic_time () < end)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (2000);
  run_until (is_quiet, session, NULL);
}

static WsSession *
open_session (TestDesk *test)
{
  WsSession *session = ws_session_new (test->desk);

  said = g_string_new (NULL);
  g_signal_connect (session, "said", G_CALLBACK (said_cb), NULL);
  run_until (is_quiet, session, NULL);
  return session;
}

static void
close_session (WsSession *session, TestDesk *test)
{
  while (ws_task_count () > 0)
    g_main_context_iteration (NULL, TRUE);
  g_assert_finalize_object (session);
  g_string_free (said, TRUE);
  test_end (test);
}

static TestDesk
begin_with_finds (void)
{
  TestDesk test = test_begin ();

  g_free (test_photo (&test, "a1.jpg", 1, 320, "2025-10-04T14:00:00", NAN, NAN));
  g_free (test_photo (&test, "b1.jpg", 2, 320, "2025-10-04T15:00:00", NAN, NAN));
  g_free (test_photo (&test, "u1.jpg", 3, 320, NULL, NAN, NAN));
  test_import (&test);
  return test;
}

/* "25-001 25-002" */
static char *
dup_numbers (WsSession *session)
{
  GListModel *finds = ws_session_get_finds (session);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < g_list_model_get_n_items (finds); i++)
    {
      g_autoptr (WsFindItem) item = g_list_model_get_item (finds, i);

      g_string_append_printf (text, "%s%s", i > 0 ? " " : "", ws_find_item_get_find (item)->number);
    }
  return g_string_free (text, FALSE);
}

static gboolean
numbers_are (WsSession *session, gconstpointer wanted)
{
  g_autofree char *numbers = dup_numbers (session);

  return g_str_equal (numbers, wanted);
}

static void
test_load (void)
{
  TestDesk test = begin_with_finds ();
  WsSession *session = open_session (&test);
  g_autoptr (WsFindItem) first = g_list_model_get_item (ws_session_get_finds (session), 0);
  g_autoptr (WsFindItem) second = g_list_model_get_item (ws_session_get_finds (session), 1);

  g_test_summary ("Finds in order with their forays, loose photos apart, a drawing for every growth form and for none");
  g_assert_true (numbers_are (session, "25-001 25-002"));
  g_assert_nonnull (ws_find_item_get_foray (first));
  g_assert_cmpuint (ws_session_get_unsorted (session)->len, ==, 1);
  g_assert_true (ws_session_get_item (session, ws_find_item_get_id (first)) == first);
  g_assert_null (ws_session_get_item (session, "nobody"));
  g_assert_null (ws_session_get_item (session, NULL));
  g_assert_true (ws_session_get_item_before (session, ws_find_item_get_id (second)) == first);
  g_assert_null (ws_session_get_item_before (session, ws_find_item_get_id (first)));
  g_assert_nonnull (ws_session_get_figure (session, "gilled_stem"));
  g_assert_nonnull (ws_session_get_figure (session, ""));
  g_clear_object (&first);
  g_clear_object (&second);
  close_session (session, &test);
}

/* --- Edits ---------------------------------------------------------------------------------------- */

static gpointer
name_find (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  ws_record_set (desk, data, "field-name", "grey one", error);
  return NULL;
}

static gpointer
fail (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  g_set_error (error, WS_ERROR, WS_ERROR_INVALID, "It cannot be done; do another thing");
  return NULL;
}

static void
edited_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsSession *session = owner;
  WsFindItem *item = ws_session_get_item (session, done_data);

  /* The item is up to date when the edit is told to be done, not only after the next load. */
  g_assert_cmpstr (ws_find_item_get_find (item)->field_name, ==, "grey one");
  g_string_append (said, "edited|");
}

static void
count (int *n)
{
  (*n)++;
}

static void
test_edit (void)
{
  TestDesk test = begin_with_finds ();
  WsSession *session = open_session (&test);
  g_autoptr (WsFindItem) item = g_list_model_get_item (ws_session_get_finds (session), 0);
  g_autoptr (WsFindItem) other = g_list_model_get_item (ws_session_get_finds (session), 1);
  const char *id = ws_find_item_get_id (item);
  g_autofree char *copy = g_strdup (id);
  int changes = 0, others = 0;

  g_test_summary ("An edit is in the item when it is done; the item says so once, other items say nothing; undo takes it back");
  g_signal_connect_swapped (item, "changed", G_CALLBACK (count), &changes);
  g_signal_connect_swapped (other, "changed", G_CALLBACK (count), &others);
  ws_session_edit (session, id, name_find, g_strdup (id), g_free, session, edited_cb, copy, NULL);
  settle (session);
  g_assert_cmpstr (said->str, ==, "edited|");
  g_assert_nonnull (ws_session_get_undo_label (session));

  ws_session_undo (session);
  run_until (name_is, session, "");
  settle (session);
  g_assert_true (g_str_has_prefix (said->str, "edited|Taken back: "));
  g_assert_cmpint (changes, ==, 2);
  g_assert_cmpint (others, ==, 0);
  g_assert_nonnull (ws_session_get_redo_label (session));
  g_clear_object (&item);
  g_clear_object (&other);
  close_session (session, &test);
}

static void
test_edit_fails (void)
{
  TestDesk test = test_begin ();
  WsSession *session = open_session (&test);

  g_test_summary ("An edit that fails says why, as an error");
  ws_session_edit (session, NULL, fail, NULL, NULL, NULL, NULL, NULL, NULL);
  run_until (is_quiet, session, NULL);
  g_assert_cmpstr (said->str, ==, "!It cannot be done; do another thing|");
  close_session (session, &test);
}

static void
test_other_program (void)
{
  TestDesk test = begin_with_finds ();
  WsSession *session = open_session (&test);
  g_autoptr (GError) error = NULL;
  g_autoptr (WsDesk) other = ws_desk_open (ws_library_get_folder (test.desk->library), &error);
  g_autofree char *id = NULL;

  g_test_summary ("What another program adds to the library comes onto the page by itself");
  g_assert_no_error (error);
  id = ws_arrange_new_find (other, "2025-10-05", &error);
  g_assert_no_error (error);
  run_until (numbers_are, session, "25-003 25-001 25-002");
  g_clear_pointer (&other, ws_desk_unref);
  close_session (session, &test);
}

static void
test_settings (void)
{
  TestDesk test = test_begin ();
  WsSession *session = open_session (&test);
  g_autofree char *stored = NULL;

  g_test_summary ("A setting is known at once, stored, and gone when it is set to nothing");
  g_assert_cmpstr (ws_session_get_setting (session, WS_SETTING_MY_NAME), ==, "");
  ws_session_set_setting (session, WS_SETTING_MY_NAME, "Ada Fell");
  g_assert_cmpstr (ws_session_get_setting (session, WS_SETTING_MY_NAME), ==, "Ada Fell");
  run_until (is_quiet, session, NULL);
  stored = ws_library_dup_setting (test.desk->library, WS_SETTING_MY_NAME);
  g_assert_cmpstr (stored, ==, "Ada Fell");
  ws_session_set_setting (session, WS_SETTING_MY_NAME, "");
  run_until (is_quiet, session, NULL);
  g_clear_pointer (&stored, g_free);
  stored = ws_library_dup_setting (test.desk->library, WS_SETTING_MY_NAME);
  g_assert_null (stored);
  close_session (session, &test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  g_test_add_func ("/app/session/load", test_load);
  g_test_add_func ("/app/session/edit", test_edit);
  g_test_add_func ("/app/session/edit-fails", test_edit_fails);
  g_test_add_func ("/app/session/other-program", test_other_program);
  g_test_add_func ("/app/session/settings", test_settings);
  return g_test_run ();
}
