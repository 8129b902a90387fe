/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-table.h"

#include "ws-error.h"

#include <locale.h>
#include <string.h>

static const char *const columns[] = { "id", "text", NULL };

static WsTable *
parse (const char *text, gssize size, GError **error)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, size < 0 ? strlen (text) : (gsize) size);

  return ws_table_parse ("toys.tsv", bytes, columns, error);
}

static void
test_reads (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsTable) table = parse ("#format\t1\r\n"
                                     "# a remark\twith a tab\n"
                                     "\n"
                                     "id\tmore\ttext\r\n"
                                     "one\t\tthe first\r\n"
                                     "# another\n"
                                     "two\tm\t  padded \n"
                                     "three\t\t", -1, &error);

  g_test_summary ("cells by column name; remarks, empty lines and CR are passed over; lines counted as in an editor");
  g_assert_no_error (error);
  g_assert_cmpuint (ws_table_get_n_rows (table), ==, 3);
  g_assert_cmpstr (ws_table_get (table, 0, "id"), ==, "one");
  g_assert_cmpstr (ws_table_get (table, 0, "text"), ==, "the first");
  g_assert_cmpstr (ws_table_get (table, 0, "more"), ==, "");
  g_assert_cmpstr (ws_table_get (table, 1, "text"), ==, "padded");
  g_assert_cmpstr (ws_table_get (table, 2, "id"), ==, "three");
  g_assert_cmpstr (ws_table_get (table, 2, "no_such_column"), ==, "");
  g_assert_cmpuint (ws_table_get_line (table, 0), ==, 5);
  g_assert_cmpuint (ws_table_get_line (table, 1), ==, 7);
  g_assert_cmpuint (ws_table_get_line (table, 2), ==, 8);
}

static void
test_only_a_header (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsTable) table = parse ("#format\t1\nid\ttext\n", -1, &error);

  g_test_summary ("a table without rows is a table");
  g_assert_no_error (error);
  g_assert_cmpuint (ws_table_get_n_rows (table), ==, 0);
}

#define TEXT(s) s, sizeof s - 1

static void
test_faults (void)
{
  static const struct { const char *text; gsize size; int code; int line; const char *says; } cases[] = {
    { TEXT (""), WS_ERROR_UNREADABLE, 1, "" },
    { TEXT ("id\ttext\none\tx\n"), WS_ERROR_UNREADABLE, 1, "#format" },
    { TEXT ("#format 1\nid\ttext\n"), WS_ERROR_UNREADABLE, 1, "#format" },
    { TEXT ("#format\t\nid\ttext\n"), WS_ERROR_UNREADABLE, 1, "" },
    { TEXT ("#format\tone\nid\ttext\n"), WS_ERROR_UNREADABLE, 1, "" },
    { TEXT ("#format\t0\nid\ttext\n"), WS_ERROR_UNREADABLE, 1, "" },
    { TEXT ("#format\t-1\nid\ttext\n"), WS_ERROR_UNREADABLE, 1, "" },
    { TEXT ("#format\t99999999999999999999\nid\ttext\n"), WS_ERROR_UNREADABLE, 1, "" },
    { TEXT ("\xef\xbb\xbf#format\t1\nid\ttext\n"), WS_ERROR_UNREADABLE, 1, "#format" },
    { TEXT ("#format\t1\n"), WS_ERROR_UNREADABLE, 2, "" },
    { TEXT ("#format\t1\n# remark\n\n"), WS_ERROR_UNREADABLE, 2, "" },
    { TEXT ("#format\t1\n# remark\nid\tother\n"), WS_ERROR_UNREADABLE, 3, "text" },
    { TEXT ("#format\t1\nid\ttext\none\n"), WS_ERROR_UNREADABLE, 3, "" },
    { TEXT ("#format\t1\nid\ttext\n\none\ta\nid\tb\tc\n"), WS_ERROR_UNREADABLE, 5, "" },
    { TEXT ("#format\t1\nid\ttext\none\t\xe9t\xe9\n"), WS_ERROR_UNREADABLE, 1, "UTF-8" },
    { TEXT ("#format\t1\nid\ttext\none\ta\0b\n"), WS_ERROR_UNREADABLE, 1, "" },
  };

  g_test_summary ("every fault is an error that names the file and the line");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (WsTable) table = parse (cases[i].text, (gssize) cases[i].size, &error);
      g_autofree char *line = g_strdup_printf ("\\b%d\\b", cases[i].line);

      g_assert_null (table);
      g_test_message ("%s", error->message);
      g_assert_error (error, WS_ERROR, cases[i].code);
      g_assert_nonnull (strstr (error->message, "toys.tsv"));
      g_assert_true (g_regex_match_simple (line, error->message, 0, 0));
      g_assert_nonnull (strstr (error->message, cases[i].says));
    }
}

static void
test_newer_format (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsTable) table = parse ("#format\t2\nwhatever comes then\n", -1, &error);

  g_test_summary ("a newer format is refused by its own code, and file and number are named");
  g_assert_null (table);
  g_assert_error (error, WS_ERROR, WS_ERROR_NEWER_FORMAT);
  g_assert_nonnull (strstr (error->message, "toys.tsv"));
  g_assert_nonnull (strchr (error->message, '2'));
}

static void
test_fail (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsTable) table = parse ("#format\t1\nid\ttext\n# x\none\ta\n", -1, NULL);

  g_test_summary ("a reader's own complaint carries the file and the line of the row");
  g_assert_false (ws_table_fail (table, 0, &error, "no such %s", "100 %s"));
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
  g_assert_nonnull (strstr (error->message, "toys.tsv"));
  g_assert_nonnull (strstr (error->message, "no such 100 %s"));
  g_assert_true (g_regex_match_simple ("\\b4\\b", error->message, 0, 0));
}

static void
test_noise (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  static const char pieces[] = "\t\n\r#01ab format\xc3\xa4";

  g_test_summary ("6,000 random texts are read or refused, never anything else");
  for (int i = 0; i < 6000; i++)
    {
      g_autoptr (GString) text = g_string_new (g_rand_boolean (rand) ? "#format\t1\nid\ttext\n" : "");
      g_autoptr (GError) error = NULL;
      g_autoptr (WsTable) table = NULL;

      for (int n = g_rand_int_range (rand, 0, 60); n > 0; n--)
        g_string_append_c (text, pieces[g_rand_int_range (rand, 0, sizeof pieces - 1)]);
      table = parse (text->str, (gssize) text->len, &error);
      g_assert_true ((table == NULL) == (error != NULL));
      for (guint r = 0; table != NULL && r < ws_table_get_n_rows (table); r++)
        g_assert_true (g_utf8_validate (ws_table_get (table, r, "text"), -1, NULL));
    }
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/base/table/reads", test_reads);
  g_test_add_func ("/base/table/only-a-header", test_only_a_header);
  g_test_add_func ("/base/table/faults", test_faults);
  g_test_add_func ("/base/table/newer-format", test_newer_format);
  g_test_add_func ("/base/table/fail", test_fail);
  g_test_add_func ("/base/table/noise", test_noise);
  return g_test_run ();
}
