/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

static void
test_round_trip (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsForay) foray = sample_foray ();
  g_autoptr (WsFind) find = sample_whole_find ("25-101", foray);
  g_autoptr (WsFind) bare = ws_find_new ();
  g_autofree char *put = find_to_text (find), *put_bare = NULL;
  g_autofree char *got = NULL, *got_again = NULL, *got_bare = NULL;

  g_test_summary ("Every field of every value comes back bit for bit, also after reopening");
  ws_set_string (&bare->id, "00000000-0000-4000-8000-000000000001");
  ws_set_string (&bare->number, "25-102");
  put_bare = find_to_text (bare);
  apply (fixture->library, action_put_whole ("Import", foray, find));
  apply (fixture->library, action_put_whole ("Import", NULL, bare));
  got = find_text (fixture->library, find->id);
  got_bare = find_text (fixture->library, bare->id);
  g_assert_cmpstr (got, ==, put);
  g_assert_cmpstr (got_bare, ==, put_bare);
  fixture_reopen (fixture);
  got_again = find_text (fixture->library, find->id);
  g_assert_cmpstr (got_again, ==, put);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/library/read/round-trip", Fixture, NULL, fixture_set_up,
              test_round_trip, fixture_clear);
  return g_test_run ();
}
