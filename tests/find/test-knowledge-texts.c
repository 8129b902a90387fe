/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "find-support.h"

#include "ws-error.h"

#include <locale.h>
#include <string.h>

static void
test_fallback (void)
{
  g_autoptr (GHashTable) tables = support_load_tables ();
  g_autoptr (WsKnowledge) knowledge = NULL;
  static const struct { const char *language, *view; gboolean technical; const char *name; } names[] = {
    { "en", "v_ring", FALSE, "Ring, both sides" }, { "en", "v_ring", TRUE, "Ring, both sides (annulus)" },
    { "de", "v_ring", TRUE, "Ring beidseitig (Annulus)" }, { "en", "v_slip", TRUE, "Field slip in the picture" },
    { "xx", "v_ring", TRUE, "Ring, both sides" },
  };

  g_test_summary ("a text that a language lacks is told in English, and the id when English lacks it: never nothing");
  support_replace (tables, "de/texts.tsv", "part\tcap\tHut", "part\tcap\t");
  support_replace (tables, "en/texts.tsv", "part\tcap_margin\tCap edge", "part\tcap_margin\t");
  support_replace (tables, "de/texts.tsv", "part\tcap_margin\t", "part\tother\t");
  knowledge = ws_knowledge_parse (tables, NULL);
  g_assert_cmpstr (ws_knowledge_text (knowledge, "de", "part", "ring"), ==, "Ring");
  g_assert_cmpstr (ws_knowledge_text (knowledge, "de", "part", "cap"), ==, "Cap");
  g_assert_cmpstr (ws_knowledge_text (knowledge, "de", "part", "cap_margin"), ==, "cap_margin");
  g_assert_cmpstr (ws_knowledge_text (knowledge, NULL, "part", "cap"), ==, "Cap");
  g_assert_cmpstr (ws_knowledge_text (knowledge, "xx", "part", "cap"), ==, "Cap");
  g_assert_cmpstr (ws_knowledge_text (knowledge, "en", "part", "no such"), ==, "no such");
  g_assert_true (ws_knowledge_has_text (knowledge, "part", "cap"));
  g_assert_false (ws_knowledge_has_text (knowledge, "part", "no such"));
  g_assert_cmpstr (ws_knowledge_state_text (knowledge, "en", "ring", "no such"), ==, "no such");
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *name = ws_knowledge_dup_view_name (knowledge, names[i].language, names[i].view, names[i].technical);

      g_assert_cmpstr (name, ==, names[i].name);
    }
}

/* Every text of the table as "kind\tid", for a kind of its own. (transfer full) */
static GHashTable *
keys_of (GHashTable *tables, const char *table)
{
  g_auto (GStrv) lines = g_strsplit (support_table_text (tables, table), "\n", -1);
  GHashTable *keys = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);

  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i], "\t", 3);

      if (lines[i][0] != '#' && lines[i][0] != '\0')
        g_hash_table_insert (keys, g_strdup_printf ("%s\t%s", cells[0], cells[1]), g_strdup (cells[2]));
    }
  return keys;
}

static void
test_languages_match (void)
{
  static const char *const names[] = { "texts.tsv", "states.tsv", "page.tsv" };
  g_autoptr (GHashTable) tables = support_load_tables ();

  g_test_summary ("German has every text that English has, no other, with a place for a number where English has one");
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *en = g_strconcat ("en/", names[i], NULL), *de = g_strconcat ("de/", names[i], NULL);
      g_autoptr (GHashTable) english = keys_of (tables, en), german = keys_of (tables, de);
      GHashTableIter iter;
      gpointer key, text;

      g_hash_table_iter_init (&iter, english);
      while (g_hash_table_iter_next (&iter, &key, &text))
        {
          const char *other = g_hash_table_lookup (german, key);

          g_test_message ("%s: %s", names[i], (const char *) key);
          g_assert_nonnull (other);
          g_assert_cmpint (strstr (text, "%s") != NULL, ==, strstr (other, "%s") != NULL);
        }
      g_assert_cmpuint (g_hash_table_size (english), ==, g_hash_table_size (german));
    }
}

static void
test_every_id_has_a_text (void)
{
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();
  const struct { const char *kind; GPtrArray *entries; } lists[] = {
    { "part", ws_knowledge_get_parts (knowledge) },          { "view", ws_knowledge_get_views (knowledge) },
    { "why", ws_knowledge_get_views (knowledge) },           { "how", ws_knowledge_get_views (knowledge) },
    { "base_kind", ws_knowledge_get_base_kinds (knowledge) }, { "growth_form", ws_knowledge_get_growth_forms (knowledge) },
    { "character", ws_knowledge_get_characters (knowledge) },
  };

  g_test_summary ("every part, view, base kind, form, character and state of the tables has a text");
  for (gsize l = 0; l < G_N_ELEMENTS (lists); l++)
    for (guint i = 0; i < lists[l].entries->len; i++)
      g_assert_true (ws_knowledge_has_text (knowledge, lists[l].kind, *(const char **) g_ptr_array_index (lists[l].entries, i)));
  for (guint i = 0; i < ws_knowledge_get_characters (knowledge)->len; i++)
    {
      const WsCharacter *character = g_ptr_array_index (ws_knowledge_get_characters (knowledge), i);
      g_autofree char *kind = g_strconcat ("state:", character->id, NULL);

      for (guint s = 0; s < character->states->len; s++)
        g_assert_true (ws_knowledge_has_text (knowledge, kind, g_ptr_array_index (character->states, s)));
    }
}

static void
test_safety_texts (void)
{
  static const char *const needed[] = {
    "caution\tphotos_never", "caution\tdoubt", "caution\tbase_missing", "caution\tpoison", "caution\tlaw", "caution\ttouch",
    "caution\tfigure_ink", "eaten\ttitle", "eaten\tcall", "eaten\tno_wait", "eaten\tbetter", "reason\tnot_marked",
  };

  g_test_summary ("without one of the cautions there is no knowledge: they cannot be edited away (safety law 4)");
  for (gsize i = 0; i < G_N_ELEMENTS (needed); i++)
    {
      g_autoptr (GHashTable) gone = support_load_tables (), empty = support_load_tables ();
      g_autofree char *row = g_strconcat ("\n", needed[i], "\t", NULL), *remark = g_strconcat ("\n#", needed[i], "\t", NULL);
      const char *text = strstr (support_table_text (gone, "en/texts.tsv"), row);
      g_autoptr (WsKnowledge) knowledge = NULL;
      g_autoptr (GError) error = NULL, other_error = NULL;
      g_autofree char *whole = NULL;

      g_test_message ("%s", needed[i]);
      g_assert_nonnull (text);
      whole = g_strndup (text, strcspn (text + 1, "\n") + 1);
      support_replace (gone, "en/texts.tsv", row, remark);
      knowledge = ws_knowledge_parse (gone, &error);
      g_assert_null (knowledge);
      g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
      g_assert_nonnull (strstr (error->message, "en/texts.tsv"));
      g_assert_nonnull (strstr (error->message, strchr (needed[i], '\t') + 1));
      support_replace (empty, "en/texts.tsv", whole, row);
      knowledge = ws_knowledge_parse (empty, &other_error);
      g_assert_null (knowledge);
      g_assert_error (other_error, WS_ERROR, WS_ERROR_UNREADABLE);
    }
}

static void
test_placeholders (void)
{
  static const char *const bad[] = { "100 %", "%d px", "%s and %s", "%n", "%%", "%s %x" };

  g_test_summary ("a reason may hold one place for a number and no other per cent sign, in any language");
  for (gsize i = 0; i < 2 * G_N_ELEMENTS (bad); i++)
    {
      const char *table = i % 2 == 0 ? "en/texts.tsv" : "de/texts.tsv";
      g_autoptr (GHashTable) tables = support_load_tables ();
      g_autofree char *row = g_strconcat ("reason\tunclear\t", bad[i / 2], " ", NULL), *pattern = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (WsKnowledge) knowledge = NULL;

      support_replace (tables, table, "reason\tunclear\t", row);
      knowledge = ws_knowledge_parse (tables, &error);
      g_assert_null (knowledge);
      g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
      g_assert_nonnull (strstr (error->message, table));
      pattern = g_strdup_printf ("\\b%d\\b", support_line_of (tables, table, row));
      g_assert_true (g_regex_match_simple (pattern, error->message, 0, 0));
    }
}

static void
test_state_faults (void)
{
  static const struct { const char *what, *with; } cases[] = {
    { "\nring\thanging\t", "\nring\tgolden\t" }, { "\nring\thanging\t", "\nhalo\thanging\t" }, { "\nring\thanging\t", "\nring\t\t" },
  };

  g_test_summary ("a text for a state that no table defines is an error that names the file and the line");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GHashTable) tables = support_load_tables ();
      g_autoptr (GError) error = NULL;
      g_autoptr (WsKnowledge) knowledge = NULL;
      g_autofree char *pattern = NULL;

      support_replace (tables, "de/states.tsv", cases[i].what, cases[i].with);
      knowledge = ws_knowledge_parse (tables, &error);
      g_assert_null (knowledge);
      g_assert_nonnull (strstr (error->message, "de/states.tsv"));
      pattern = g_strdup_printf ("\\b%d\\b", support_line_of (tables, "de/states.tsv", cases[i].with) + 1);
      g_assert_true (g_regex_match_simple (pattern, error->message, 0, 0));
    }
}

static void
test_pick_language (void)
{
  static const struct { const char *wanted, *language; } cases[] = {
    { "", "en" }, { "de", "de" }, { "de_DE.UTF-8", "de" }, { "de_AT", "de" }, { "de-CH", "de" }, { "de@euro", "de" },
    { "den_CA", "en" }, { "C", "en" }, { "fr_FR de_DE", "de" }, { "en_GB de_DE", "en" }, { "fr it", "en" }, { "d", "en" },
  };
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();

  g_test_summary ("the first wanted language that there are texts of, else English");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (GStrv) wanted = g_strsplit (cases[i].wanted, " ", -1);

      g_test_message ("%s", cases[i].wanted);
      g_assert_cmpstr (ws_knowledge_pick_language (knowledge, (const char *const *) wanted), ==, cases[i].language);
    }
  g_assert_cmpstr (ws_knowledge_pick_language (knowledge, NULL), ==, "en");
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/knowledge-texts/fallback", test_fallback);
  g_test_add_func ("/find/knowledge-texts/languages-match", test_languages_match);
  g_test_add_func ("/find/knowledge-texts/every-id-has-a-text", test_every_id_has_a_text);
  g_test_add_func ("/find/knowledge-texts/safety-texts", test_safety_texts);
  g_test_add_func ("/find/knowledge-texts/placeholders", test_placeholders);
  g_test_add_func ("/find/knowledge-texts/state-faults", test_state_faults);
  g_test_add_func ("/find/knowledge-texts/pick-language", test_pick_language);
  return g_test_run ();
}
