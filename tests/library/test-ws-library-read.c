/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#include <string.h>

static void
test_round_trip (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsForay) foray = sample_foray ();
  g_autoptr (WsFind) find = sample_whole_find ("25-101", foray);
  g_autoptr (WsFind) bare = ws_find_new ();
  g_autoptr (GPtrArray) finds = NULL;
  g_autofree char *put = find_to_text (find), *put_bare = NULL;
  g_autofree char *got = NULL, *got_again = NULL, *got_bare = NULL, *got_all = NULL;

  g_test_summary ("Every field of every value comes back bit for bit, also after reopening");
  ws_set_string (&bare->id, "00000000-0000-4000-8000-000000000001");
  ws_set_string (&bare->number, "25-102");
  put_bare = find_to_text (bare);
  apply (fixture->library, action_put_whole ("import", foray, find));
  apply (fixture->library, action_put_whole ("import", NULL, bare));
  got = find_text (fixture->library, find->id);
  got_bare = find_text (fixture->library, bare->id);
  g_assert_cmpstr (got, ==, put);
  g_assert_cmpstr (got_bare, ==, put_bare);
  fixture_reopen (fixture);
  got_again = find_text (fixture->library, find->id);
  g_assert_cmpstr (got_again, ==, put);
  finds = ws_library_load_finds (fixture->library, NULL, NULL);
  got_all = find_to_text (g_ptr_array_index (finds, 0));
  g_assert_cmpstr (got_all, ==, put);
}

static void
test_find_by (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) one = sample_find ("25-101", NULL), two = sample_find ("25-102", NULL);
  g_autoptr (WsFind) twin = sample_find ("25-102", NULL), by_number = NULL, by_upper_id = NULL;
  g_autofree char *upper = g_ascii_strup (one->id, -1);
  WsAction *action = ws_action_new ("put");
  const struct { const char *key; WsError code; } wrong[] = {
    { "25-102", WS_ERROR_CONFLICT }, { "25-10", WS_ERROR_NOT_FOUND }, { "", WS_ERROR_NOT_FOUND },
    { "25-1%", WS_ERROR_NOT_FOUND }, { "' OR ''='", WS_ERROR_NOT_FOUND },
    { "00000000-0000-4000-8000-000000000001", WS_ERROR_NOT_FOUND },
  };

  g_test_summary ("A find is found by its UUID, and by its number if no other has it");
  ws_action_put_find (action, one);
  ws_action_put_find (action, two);
  ws_action_put_find (action, twin);
  apply (fixture->library, action);
  by_number = ws_library_load_find (fixture->library, "25-101", NULL);
  g_assert_cmpstr (by_number->id, ==, one->id);
  by_upper_id = ws_library_load_find (fixture->library, upper, NULL);
  g_assert_cmpstr (by_upper_id->id, ==, one->id);
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (ws_library_load_find (fixture->library, wrong[i].key, &error));
      g_assert_error (error, WS_ERROR, (int) wrong[i].code);
      g_assert_nonnull (strstr (error->message, wrong[i].key));
    }
}

/* @when: minutes, -1 unknown. */
static void
add_find (WsAction *action, const char *number, const WsForay *foray, int when, int correction)
{
  g_autoptr (WsFind) find = sample_find (number, foray != NULL ? foray->id : NULL);

  find->when = (WsMoment) WS_MOMENT_INIT;
  if (when >= 0)
    find->when.local_us = (gint64) when * 60 * G_USEC_PER_SEC;
  find->when.correction_seconds = correction;
  ws_action_put_find (action, find);
}

static void
test_order (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsForay) old = sample_foray (), new = sample_foray (), undated = sample_foray ();
  g_autoptr (GPtrArray) finds = NULL, forays = NULL;
  g_autoptr (GString) order = g_string_new (NULL);
  WsAction *action = ws_action_new ("put");

  g_test_summary ("Newest foray first, unsorted last; inside by corrected time, unknown last");
  ws_set_string (&old->date, "2024-12-31");
  ws_set_string (&new->date, "2025-01-01");
  ws_set_string (&undated->date, "");
  ws_action_put_foray (action, undated);
  ws_action_put_foray (action, old);
  ws_action_put_foray (action, new);
  add_find (action, "h", NULL, 5, 0);
  add_find (action, "g", undated, 1, 0);
  add_find (action, "d", new, -1, 0);
  add_find (action, "c", new, 20, 0);
  add_find (action, "b", new, 30, -15 * 60);
  add_find (action, "a", new, 10, 0);
  add_find (action, "f", old, 500, 0);
  add_find (action, "e", old, 499, 0);
  apply (fixture->library, action);
  finds = ws_library_load_finds (fixture->library, NULL, NULL);
  for (guint i = 0; i < finds->len; i++)
    g_string_append (order, ((WsFind *) g_ptr_array_index (finds, i))->number);
  g_assert_cmpstr (order->str, ==, "abcdefgh");

  forays = ws_library_load_forays (fixture->library, NULL);
  g_assert_cmpuint (forays->len, ==, 3);
  g_assert_cmpstr (((WsForay *) g_ptr_array_index (forays, 0))->id, ==, new->id);
  g_assert_cmpstr (((WsForay *) g_ptr_array_index (forays, 1))->id, ==, old->id);
  g_assert_cmpstr (((WsForay *) g_ptr_array_index (forays, 2))->id, ==, undated->id);
}

#ifndef N_FINDS
#define N_FINDS 2000
#endif

static void
test_many (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GPtrArray) finds = NULL, found = NULL;
  gint64 start = g_get_monotonic_time ();

  g_test_summary ("The time that a library of 2,000 finds, 4,000 photos and 4,000 marks takes is printed");
  for (guint i = 0; i < N_FINDS / 100; i++)
    {
      g_autoptr (WsForay) foray = sample_foray ();
      WsAction *action = ws_action_new ("import");

      for (guint j = 0; j < 100; j++)
        {
          g_autofree char *number = g_strdup_printf ("25-%u", i * 100 + j);
          g_autoptr (WsFind) find = sample_whole_find (number, foray);

          action_add_whole (action, foray, find);
        }
      apply (fixture->library, action);
    }
  g_test_message ("written, 100 an action: %.2f s", (double) (g_get_monotonic_time () - start) / G_USEC_PER_SEC);
  start = g_get_monotonic_time ();
  finds = ws_library_load_finds (fixture->library, NULL, NULL);
  g_test_message ("loaded: %.2f s", (double) (g_get_monotonic_time () - start) / G_USEC_PER_SEC);
  g_assert_cmpuint (finds->len, ==, N_FINDS);
  start = g_get_monotonic_time ();
  found = ws_library_load_finds (fixture->library, "ärgerling 25-1999", NULL);
  g_test_message ("one found: %.2f s", (double) (g_get_monotonic_time () - start) / G_USEC_PER_SEC);
  g_assert_cmpuint (found->len, ==, 1);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  FIXTURE_TEST ("/library/read/round-trip", test_round_trip);
  FIXTURE_TEST ("/library/read/find-by", test_find_by);
  FIXTURE_TEST ("/library/read/order", test_order);
  FIXTURE_TEST ("/library/read/many", test_many);
  return g_test_run ();
}
