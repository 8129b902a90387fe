/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-id.h"

#include <locale.h>

static void
test_new (void)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  g_test_summary ("new ids are lower-case random UUIDs (RFC 4122, version 4 and its variant), no two alike");
  for (int i = 0; i < 4000; i++)
    {
      char *id = ws_id_new ();

      g_assert_true (ws_id_is_valid (id));
      g_assert_true (g_regex_match_simple ("^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$", id, 0, 0));
      g_assert_true (g_hash_table_add (seen, id));
    }
}

static void
test_valid (void)
{
  static const struct { const char *text; gboolean valid; } cases[] = {
    /* the example of RFC 4122, section 3 */
    { "f81d4fae-7dec-11d0-a765-00a0c91e6bf6", TRUE }, { "F81D4FAE-7DEC-11D0-A765-00A0C91E6BF6", TRUE },
    { NULL, FALSE }, { "", FALSE }, { "f81d4fae", FALSE }, { "f81d4fae7dec11d0a76500a0c91e6bf6", FALSE },
    { "{f81d4fae-7dec-11d0-a765-00a0c91e6bf6}", FALSE }, { "f81d4fae-7dec-11d0-a765-00a0c91e6bf6 ", FALSE },
    { "f81d4fae-7dec-11d0-a765-00a0c91e6bf", FALSE }, { "g81d4fae-7dec-11d0-a765-00a0c91e6bf6", FALSE },
    { "f81d4fae-7dec-11d0-a765-00a0c91e6bf6/../x", FALSE }, { "f81d4fae_7dec_11d0_a765_00a0c91e6bf6", FALSE },
    { "urn:uuid:f81d4fae-7dec-11d0-a765-00a0c91e6bf6", FALSE },
  };

  g_test_summary ("only the text form of a UUID is an id");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("“%s”", cases[i].text != NULL ? cases[i].text : "(null)");
      g_assert_cmpint (ws_id_is_valid (cases[i].text), ==, cases[i].valid);
    }
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/base/id/new", test_new);
  g_test_add_func ("/base/id/valid", test_valid);
  return g_test_run ();
}
