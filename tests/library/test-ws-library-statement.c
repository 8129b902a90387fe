/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-library-private.h"

#include "fixture.h"

#include <math.h>

static void
test_strv (void)
{
  static const char *const cases[][5] = {
    { NULL },
    { "", NULL },
    { "", "", NULL },
    { "white", NULL },
    { "white", "pink", NULL },
    { "a\x1f" "b", "\\", "\\u", "\\\\u\x1f", NULL },
    { "ends with \\", "\x1f", NULL },
    { "ä “quoted” text\nof two lines", NULL },
  };

  g_test_summary ("Any array of strings comes back from its stored text");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = ws_strv_to_text ((char **) cases[i]);
      g_auto (GStrv) back = ws_strv_from_text (text);

      g_assert_cmpstrv (back, cases[i]);
    }
}

static void
test_strv_damaged (void)
{
  g_auto (GStrv) cut = ws_strv_from_text ("whole\x1f" "cut off");
  g_auto (GStrv) escape = ws_strv_from_text ("\\");

  g_test_summary ("A text that was cut off gives the strings that are whole");
  g_assert_cmpuint (g_strv_length (cut), ==, 1);
  g_assert_cmpstr (cut[0], ==, "whole");
  g_assert_cmpuint (g_strv_length (escape), ==, 0);
}

static gboolean
store_numbers (WsStore *store, gpointer data, GError **error)
{
  const double *numbers = data;
  g_auto (WsStatement) make = ws_statement (store, "CREATE TEMP TABLE numbers (i INTEGER PRIMARY KEY, r REAL) STRICT");

  if (!ws_statement_run (&make, error))
    return FALSE;
  for (int i = 0; i < 8; i++)
    {
      g_auto (WsStatement) put = ws_statement (store, "INSERT INTO numbers VALUES (?, ?)");

      ws_statement_bind_int (&put, i);
      ws_statement_bind_double (&put, numbers[i]);
      if (!ws_statement_run (&put, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
compare_numbers (WsStore *store, gpointer data, GError **error)
{
  const double *numbers = data;
  g_auto (WsStatement) rows = ws_statement (store, "SELECT r FROM numbers ORDER BY i");

  for (int i = 0; i < 8; i++)
    {
      double back;

      g_assert_true (ws_statement_next (&rows, error));
      back = ws_statement_take_double (&rows);
      if (isnan (numbers[i]))
        g_assert_true (isnan (back));
      else
        g_assert_cmpmem (&back, sizeof back, &numbers[i], sizeof back);
    }
  g_assert_false (ws_statement_next (&rows, error));
  return ws_statement_ended (&rows);
}

static void
test_numbers (Fixture *fixture, gconstpointer data)
{
  double numbers[8] = { NAN, 0, 1, -1e300, 5e-324, 0.1 + 0.2, G_MAXDOUBLE, INFINITY };
  g_autoptr (GError) error = NULL;

  g_test_summary ("Doubles come back with all their bits, an unknown one as unknown");
  ws_library_write (fixture->library, store_numbers, numbers, &error);
  g_assert_no_error (error);
  ws_library_read (fixture->library, compare_numbers, numbers, &error);
  g_assert_no_error (error);
}

static gboolean
use_wrong (WsStore *store, gpointer sql, GError **error)
{
  g_auto (WsStatement) wrong = ws_statement (store, sql);

  ws_statement_bind_int (&wrong, 1);
  ws_statement_bind_text (&wrong, "two");
  ws_statement_bind_double (&wrong, 3);
  g_assert_false (ws_statement_next (&wrong, error));
  g_assert_false (ws_statement_ended (&wrong));
  return FALSE;
}

static void
test_failure_sticks (Fixture *fixture, gconstpointer data)
{
  static const char *const wrong[] = { "SELECT nonsense FROM nowhere", "SELECT ?" };

  g_test_summary ("What went wrong while preparing or binding comes out of the step");
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_false (ws_library_read (fixture->library, use_wrong, (gpointer) wrong[i], &error));
      g_assert_error (error, WS_ERROR, WS_ERROR_FAILED);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/library/statement/strv", test_strv);
  g_test_add_func ("/library/statement/strv-damaged", test_strv_damaged);
  FIXTURE_TEST ("/library/statement/numbers", test_numbers);
  FIXTURE_TEST ("/library/statement/failure-sticks", test_failure_sticks);
  return g_test_run ();
}
