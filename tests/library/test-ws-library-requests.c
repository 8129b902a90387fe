/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#define AT(array, i) ((WsSentRequest *) g_ptr_array_index ((array), (i)))

static WsRequest *
sample_request (const char *number, gint64 made_us, const char *replaces)
{
  WsRequest *request = ws_request_new ();

  g_free (request->id);
  request->id = ws_id_new ();
  request->replaces = g_strdup (replaces);
  request->made_us = made_us;
  ws_set_string (&request->to, "the “Invented” group");
  ws_set_string (&request->question, "what's this?");
  ws_find_unref (request->find);
  request->find = sample_find (number, NULL);
  return request;
}

static void
test_round_trip (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsRequest) first = sample_request ("25-101", 1000, NULL);
  g_autoptr (WsRequest) second = sample_request ("25-101", 2000, first->id);
  g_autoptr (GPtrArray) requests = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("Requests come back newest first, made and sent apart, across restarts");
  g_assert_true (ws_library_add_request (fixture->library, first, "digest 1", "25-101 2025-10-04.zip", &error));
  g_assert_true (ws_library_add_request (fixture->library, second, "digest 2", "25-101 2025-10-05.zip", &error));
  g_assert_true (ws_library_set_request_sent (fixture->library, first->id, 1500, &error));
  g_assert_no_error (error);
  fixture_reopen (fixture);
  requests = ws_library_load_requests (fixture->library, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (requests->len, ==, 2);
  g_assert_cmpstr (AT (requests, 0)->id, ==, second->id);
  g_assert_cmpstr (AT (requests, 0)->replaces, ==, first->id);
  g_assert_cmpint (AT (requests, 0)->sent_us, ==, 0);
  g_assert_cmpstr (AT (requests, 1)->id, ==, first->id);
  g_assert_cmpstr (AT (requests, 1)->find_id, ==, first->find->id);
  g_assert_cmpstr (AT (requests, 1)->number, ==, "25-101");
  g_assert_cmpstr (AT (requests, 1)->to, ==, first->to);
  g_assert_cmpstr (AT (requests, 1)->question, ==, first->question);
  g_assert_cmpstr (AT (requests, 1)->digest, ==, "digest 1");
  g_assert_cmpstr (AT (requests, 1)->package, ==, "25-101 2025-10-04.zip");
  g_assert_null (AT (requests, 1)->replaces);
  g_assert_cmpint (AT (requests, 1)->made_us, ==, 1000);
  g_assert_cmpint (AT (requests, 1)->sent_us, ==, 1500);
}

static void
test_never_changed (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsRequest) request = sample_request ("25-101", 1000, NULL);
  g_autoptr (GPtrArray) requests = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("A request that was made is never replaced in its row");
  g_assert_true (ws_library_add_request (fixture->library, request, "digest", "a.zip", NULL));
  g_assert_false (ws_library_add_request (fixture->library, request, "another", "b.zip", &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_CONFLICT);
  requests = ws_library_load_requests (fixture->library, NULL);
  g_assert_cmpuint (requests->len, ==, 1);
  g_assert_cmpstr (AT (requests, 0)->digest, ==, "digest");
}

static void
test_refused (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsRequest) request = sample_request ("25-101", 1000, "not an id");
  g_autoptr (GError) invalid = NULL, not_found = NULL;
  g_autofree char *nothing = ws_id_new ();

  g_test_summary ("Wrong ids and unknown requests are refused");
  g_assert_false (ws_library_add_request (fixture->library, request, "d", "p", &invalid));
  g_assert_error (invalid, WS_ERROR, WS_ERROR_INVALID);
  g_assert_false (ws_library_set_request_sent (fixture->library, nothing, 1, &not_found));
  g_assert_error (not_found, WS_ERROR, WS_ERROR_NOT_FOUND);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  FIXTURE_TEST ("/library/requests/round-trip", test_round_trip);
  FIXTURE_TEST ("/library/requests/never-changed", test_never_changed);
  FIXTURE_TEST ("/library/requests/refused", test_refused);
  return g_test_run ();
}
