/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-inner-path.h"

#include <string.h>

static void
test_fault (void)
{
  static const struct { const char *path; gboolean fine; } cases[] = {
    { "data/a", TRUE },      { "a", TRUE },          { "data/~a", TRUE },   { "data/...", TRUE },    { "data/..a", TRUE },
    { "data/a..", TRUE },    { "data/C:a", TRUE },   { "data/a b", TRUE },  { "data/\xc3\xa4", TRUE }, { "data/a\\b", TRUE },
    { "data/a\\..", FALSE }, { "/data", FALSE },     { "..", FALSE },       { "data/../a", FALSE },  { "./a", FALSE },
    { "data/", FALSE },      { "data//a", FALSE },   { "~", FALSE },        { "~a/b", FALSE },       { "C:", FALSE },
    { "z:/a", FALSE },       { "\\a", FALSE },       { "\\\\a\\b", FALSE }, { "", FALSE },           { "..\\a", FALSE },
  };

  g_test_summary ("RFC 8493, 5.1: paths that lead outside are told from those that only look odd");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%s", cases[i].path);
      g_assert_true ((ws_inner_path_fault (cases[i].path) == NULL) == cases[i].fine);
    }
}

static void
test_nuisance (void)
{
  static const char *const bad[] = { "data/a:b", "data/a?", "a*", "data/CON", "con.txt", "data/Lpt9.tar.gz", "nul/a", "a.", "a /b", "a\nb", "a\\b" };
  static const char *const good[] = { "data/a", "data/console", "com0", "com10", "a.con", "conx.txt", ".a", " a", "\xc3\xa4" };

  g_test_summary ("Names that Windows cannot hold, after Microsoft's \"Naming Files, Paths, and Namespaces\" (from memory)");
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    g_assert_nonnull (ws_inner_path_nuisance (bad[i]));
  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    g_assert_null (ws_inner_path_nuisance (good[i]));
}

static void
test_quote (void)
{
  static const struct { const char *path, *quoted; } cases[] = {
    { "data/a \xc3\xa4", "data/a \xc3\xa4" }, { "a\tb", "a\\u{9}b" }, { "a\xe2\x80\xae" "b", "a\\u{202e}b" }, { "a\xff", "a\xef\xbf\xbd" },
    { "\xef\xbb\xbf" "a", "\\u{feff}a" },
  };
  g_autofree char *many = g_strnfill (5000, 'x'), *quoted = ws_inner_path_quote (many);

  g_test_summary ("What a terminal or a window would obey is written as codes, and long names are cut");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = ws_inner_path_quote (cases[i].path);

      g_assert_cmpstr (text, ==, cases[i].quoted);
    }
  g_assert_cmpuint (strlen (quoted), ==, 120 + strlen ("…"));
}

static void
test_key (void)
{
  g_autofree char *a = ws_inner_path_key ("e\xcc\x81", FALSE), *b = ws_inner_path_key ("\xc3\xa9", FALSE);
  g_autofree char *c = ws_inner_path_key ("\xc3\x89", TRUE), *d = ws_inner_path_key ("e\xcc\x81", TRUE), *e = ws_inner_path_key ("\xc3\x89", FALSE);

  g_test_summary ("One letter in two Unicode forms, or in two cases, has one key (Unicode Standard Annex 15)");
  g_assert_cmpstr (a, ==, b);
  g_assert_cmpstr (c, ==, d);
  g_assert_cmpstr (e, !=, b);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/request/inner-path/fault", test_fault);
  g_test_add_func ("/request/inner-path/nuisance", test_nuisance);
  g_test_add_func ("/request/inner-path/quote", test_quote);
  g_test_add_func ("/request/inner-path/key", test_key);
  return g_test_run ();
}
