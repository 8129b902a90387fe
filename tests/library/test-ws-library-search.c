/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-library-private.h"

#include "fixture.h"

static void
test_matches (void)
{
  static const struct { const char *words, *text; gboolean matches; } cases[] = {
    { "", "anything", TRUE },
    { "  \t ", "anything", TRUE },
    { "beech", "Under the BEECH.", TRUE },
    { "oak", "Under the beech.", FALSE },
    { "beech under", "Under the beech.", TRUE },
    { "beech oak", "Under the beech.", FALSE },
    { "käferholz", "KÄFERHOLZ", TRUE },
    { "kaferholz", "Käferholz", TRUE },
    { "Käferholz", "Ka\xcc\x88" "ferholz", TRUE },   /* decomposed: UAX #15 */
    { "strasse", "Straße", TRUE },                  /* full case folding: CaseFolding.txt */
    { "100%", "100% sure", TRUE },
    { "%", "no percent", FALSE },
    { "_", "no underscore", FALSE },
    { "x_y", "x_y", TRUE },
    { "x_y", "xzy", FALSE },
    { "o'nobody", "B. O'Nobody", TRUE },
    { "\"hollow\"", "the \"hollow\" side", TRUE },
    { "' OR 1=1 --", "plain", FALSE },
    { "*", "plain", FALSE },
    { "\\", "back\\slash", TRUE },
    { "\xff", "plain", FALSE },
    { "plain", "\xff plain", TRUE },
  };

  g_test_summary ("Every word must occur; case and accents do not matter; no character is special");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%u: %s", i, g_utf8_validate (cases[i].words, -1, NULL) ? cases[i].words : "(not UTF-8)");
      g_assert_cmpint (ws_search_matches (cases[i].words, cases[i].text), ==, cases[i].matches);
    }
}

static void
test_fields (Fixture *fixture, gconstpointer data)
{
  static const struct { const char *words; guint n; } cases[] = {
    { "25-101", 1 }, { "25-1", 2 }, { "ärgerling", 2 }, { "hollow", 1 }, { "third beech", 2 }, { "'radish'", 2 },
    { "“Eiche”", 2 }, { "white", 2 }, { "25-102 white", 1 }, { "hollow eiche 101", 1 }, { "100%", 2 },
    { "10%1", 0 }, { "sicher_nicht", 2 }, { "sicherXnicht", 0 }, { "\"", 1 }, { "';--", 0 },
    { "slowly", 2 },                       /* text of a note */
    { "phalloides link", 1 }, { "nobody", 0 },  /* names, not who gave them */
    { "my best spot", 0 },                 /* only mine */
    { "Beispiel", 0 },                     /* people are not searched */
    { NULL, 2 }, { "", 2 },
  };
  g_autoptr (WsForay) foray = sample_foray ();
  g_autoptr (WsFind) one = sample_whole_find ("25-101", foray);
  g_autoptr (WsFind) two = sample_whole_find ("25-102", NULL);
  g_autoptr (WsName) name = sample_name ();

  g_test_summary ("Number, field name, locality, remarks, place of the foray and states and texts of notes and the names are searched");
  apply (fixture->library, action_put_whole ("import", foray, one));
  apply (fixture->library, action_put_whole ("import", NULL, two));
  g_assert_true (ws_library_add_name (fixture->library, one->id, name, NULL));
  g_ptr_array_add (one->names, ws_name_ref (name));
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) finds = ws_library_load_finds (fixture->library, cases[i].words, &error);

      g_test_message ("%s", cases[i].words);
      g_assert_no_error (error);
      g_assert_cmpuint (finds->len, ==, cases[i].n);
      for (guint j = 0; j < finds->len; j++)
        {
          const WsFind *found = g_ptr_array_index (finds, j);
          g_autofree char *got = find_to_text (found);
          g_autofree char *put = find_to_text (g_str_equal (found->id, one->id) ? one : two);

          g_assert_cmpstr (got, ==, put);
        }
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/library/search/matches", test_matches);
  FIXTURE_TEST ("/library/search/fields", test_fields);
  return g_test_run ();
}
