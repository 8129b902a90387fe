/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "find-support.h"

#include "ws-error.h"

#include <locale.h>
#include <string.h>

/* Columns each table must have, as data/knowledge/README.md tells whoever edits it. */
static const struct { const char *table, *columns; } shapes[] = {
  { "parts.tsv", "id term views" },        { "views.tsv", "id parts base" },   { "base-kinds.tsv", "id shows" },
  { "needs.tsv", "view gilled_stem crust egg" }, { "under-part.tsv", "growth_form view part" },
  { "growth-forms.tsv", "id term stem" },  { "characters.tsv", "id several colour free" },
  { "states.tsv", "character id term" },   { "thresholds.tsv", "id value" },   { "en/texts.tsv", "kind id text" },
  { "en/states.tsv", "character id text definition" },                         { "en/page.tsv", "kind id text" },
  { "de/texts.tsv", "kind id text" },      { "de/states.tsv", "character id text definition" },
  { "de/page.tsv", "kind id text" },
};

/* Parses what must not parse; the message names the table. */
static GError *
assert_refused (GHashTable *tables, const char *table, int code)
{
  g_autoptr (WsKnowledge) knowledge = NULL;
  GError *error = NULL;

  knowledge = ws_knowledge_parse (tables, &error);
  g_assert_null (knowledge);
  g_test_message ("%s", error->message);
  g_assert_error (error, WS_ERROR, code);
  g_assert_nonnull (strstr (error->message, table));
  return error;
}

static void
assert_names_line (const GError *error, int line)
{
  g_autofree char *pattern = g_strdup_printf ("\\b%d\\b", line);

  g_assert_true (g_regex_match_simple (pattern, error->message, 0, 0));
}

/* The header line: the first that is neither empty nor a remark. (transfer full) */
static char *
header_of (GHashTable *tables, const char *table)
{
  g_auto (GStrv) lines = g_strsplit (support_table_text (tables, table), "\n", -1);

  for (guint i = 1; lines[i] != NULL; i++)
    if (lines[i][0] != '\0' && lines[i][0] != '#')
      return g_strdup (lines[i]);
  g_assert_not_reached ();
}

static void
test_real_tables (void)
{
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();
  const char *const *languages = ws_knowledge_get_languages (knowledge);
  const WsCharacter *ring = ws_knowledge_find_character (knowledge, "ring");
  guint bases = 0;

  g_test_summary ("the tables that are shipped are read whole: forms, views, one base, characters with states, two languages");
  for (guint i = 0; i < ws_knowledge_get_views (knowledge)->len; i++)
    bases += ((WsView *) g_ptr_array_index (ws_knowledge_get_views (knowledge), i))->is_base;
  g_assert_cmpuint (bases, ==, 1);
  g_assert_true (ws_knowledge_find_view (knowledge, "v_base")->is_base);
  g_assert_cmpstr (languages[0], ==, "en");
  g_assert_true (g_strv_contains (languages, "de"));
  g_assert_nonnull (ring);
  g_assert_true (ring->several && !ring->colour && !ring->free_text);
  g_assert_true (ws_character_has_state (ring, "hanging"));
  g_assert_false (ws_character_has_state (ring, "golden"));
  g_assert_true (ws_knowledge_find_character (knowledge, "trees")->free_text);
  g_assert_cmpuint (ws_knowledge_get_characters (knowledge)->len, >, 30);
  g_assert_null (ws_knowledge_find_part (knowledge, "wing"));
  g_assert_null (ws_knowledge_find_view (knowledge, NULL));
  g_assert_cmpint (ws_knowledge_get_thresholds (knowledge)->base_min_px, ==, 200);   /* trade: about 200 px; judgement */
}

static void
test_base_kinds (void)
{
  /* The trade's list of bases that must not count (judgement, after the guidance of the British Mycological
     Society, Atkinson and the guide of Szeged): only whole and cleaned on one side shows. */
  static const struct { const char *id; WsShows shows; } kinds[] = {
    { "cleaned", WS_SHOWS_FULLY }, { "with_soil", WS_SHOWS_WEAKLY }, { "washed", WS_SHOWS_WEAKLY }, { "cut", WS_SHOWS_NO },
    { "broken", WS_SHOWS_NO }, { "in_ground", WS_SHOWS_NO }, { "left_in_hole", WS_SHOWS_NO }, { "from_below", WS_SHOWS_NO },
    { "cannot_tell", WS_SHOWS_NO },
  };
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();

  g_test_summary ("only a base dug out whole and cleaned shows itself; with soil and washed weakly; the rest not");
  g_assert_cmpuint (ws_knowledge_get_base_kinds (knowledge)->len, ==, G_N_ELEMENTS (kinds));
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_assert_cmpint (ws_knowledge_find_base_kind (knowledge, kinds[i].id)->shows, ==, kinds[i].shows);
  g_assert_null (ws_knowledge_find_base_kind (knowledge, ""));
}

static void
test_no_taste (void)
{
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();

  g_test_summary ("there is no character for taste (safety law 4)");
  for (guint i = 0; i < ws_knowledge_get_characters (knowledge)->len; i++)
    {
      const WsCharacter *character = g_ptr_array_index (ws_knowledge_get_characters (knowledge), i);

      g_assert_null (strstr (character->id, "tast"));
      g_assert_null (strstr (character->id, "flavo"));
      g_assert_null (strstr (character->id, "edib"));
    }
}

static void
test_names (void)
{
  g_autoptr (GHashTable) tables = support_load_tables ();

  g_test_summary ("without any one of the tables it says it needs, and of those of a language, there is no knowledge");
  for (const char *const *name = ws_knowledge_get_table_names (); *name != NULL; name++)
    {
      g_autoptr (GHashTable) fewer = support_load_tables ();

      g_assert_true (g_hash_table_remove (fewer, *name));
      g_error_free (assert_refused (fewer, *name, WS_ERROR_NOT_FOUND));
    }
  g_assert_true (g_hash_table_remove (tables, "de/states.tsv"));
  g_error_free (assert_refused (tables, "de/states.tsv", WS_ERROR_NOT_FOUND));
}

static void
test_missing_columns (void)
{
  g_test_summary ("a column that is not there is named with file and line, in every table");
  for (gsize i = 0; i < G_N_ELEMENTS (shapes); i++)
    {
      g_auto (GStrv) columns = g_strsplit (shapes[i].columns, " ", -1);

      for (guint c = 0; columns[c] != NULL; c++)
        {
          g_autoptr (GHashTable) tables = support_load_tables ();
          g_autofree char *header = header_of (tables, shapes[i].table), *changed = NULL;
          g_auto (GStrv) cells = g_strsplit (header, "\t", -1);
          g_autoptr (GError) error = NULL;

          for (guint k = 0; cells[k] != NULL; k++)
            if (g_str_equal (cells[k], columns[c]))
              ws_set_string (&cells[k], "zz");
          changed = g_strjoinv ("\t", cells);
          support_replace (tables, shapes[i].table, header, changed);
          error = assert_refused (tables, shapes[i].table, WS_ERROR_UNREADABLE);
          g_assert_nonnull (strstr (error->message, columns[c]));
          assert_names_line (error, support_line_of (tables, shapes[i].table, changed));
        }
    }
}

static void
test_damage (void)
{
  g_test_summary ("a newer format, a cell too few and bytes that are no text are refused in every table");
  for (gsize i = 0; i < G_N_ELEMENTS (shapes); i++)
    {
      g_autoptr (GHashTable) newer = support_load_tables (), shorter = support_load_tables (), broken = support_load_tables ();
      g_autofree char *header = header_of (newer, shapes[i].table), *with_row = g_strconcat (header, "\nlone", NULL);
      g_autoptr (GError) error = NULL;

      support_replace (newer, shapes[i].table, "#format\t1", "#format\t2");
      g_error_free (assert_refused (newer, shapes[i].table, WS_ERROR_NEWER_FORMAT));
      support_replace (shorter, shapes[i].table, header, with_row);
      error = assert_refused (shorter, shapes[i].table, WS_ERROR_UNREADABLE);
      assert_names_line (error, support_line_of (shorter, shapes[i].table, "\nlone") + 1);
      support_replace (broken, shapes[i].table, "\t", "\t\xff");
      g_error_free (assert_refused (broken, shapes[i].table, WS_ERROR_UNREADABLE));
    }
}

static void
test_faults (void)
{
  static const struct { const char *table, *what, *with, *at; } cases[] = {
    /* @at: what stands on the line of the fault; NULL when no single line is at fault */
    { "parts.tsv", "\ngills\t", "\ncap\t", "\ncap\tlamellae" },
    { "parts.tsv", "\ngills\t", "\n\t", "\n\tlamellae" },
    { "views.tsv", "\nv_ring\t", "\nv_stem\t", "\nv_stem\tring" },
    { "views.tsv", "\nv_ring\tring", "\nv_ring\tcrown", "\nv_ring\tcrown" },
    { "views.tsv", "\nv_ring\tring", "\nv_ring\t", "\nv_ring\t\t" },
    { "views.tsv", "\nv_ring\tring\tno", "\nv_ring\tring\tmaybe", "\nv_ring\tring\tmaybe" },
    { "views.tsv", "\nv_base\tstem_base\tyes", "\nv_base\tstem_base\tno", NULL },
    { "views.tsv", "\nv_ring\tring\tno", "\nv_ring\tring\tyes", NULL },
    { "parts.tsv", "v_under", "v_above", NULL },
    { "base-kinds.tsv", "\ncut\tno", "\ncut\tperhaps", "\ncut\tperhaps" },
    { "base-kinds.tsv", "\ncut\tno", "\nbroken\tno", "\nbroken\tno\nin_ground" },
    { "growth-forms.tsv", "\negg\t", "\njelly\t", "\njelly\tuniversal" },
    { "growth-forms.tsv", "tremelloid\tno", "tremelloid\t", "tremelloid\t" },
    { "characters.tsv", "\nring\tyes", "\nring\ttwo", "\nring\ttwo" },
    { "characters.tsv", "\nring\t", "\nlatex\t", "\nlatex\tno" },
    { "states.tsv", "ring\thanging", "ring\tupright", "ring\tupright\tsheathing" },
    { "states.tsv", "ring\thanging", "halo\thanging", "halo\thanging" },
    { "states.tsv", "ring\thanging", "trees\thanging", "trees\thanging" },
    { "states.tsv", "ring\thanging", "ring\t", "ring\t\t" },
    { "thresholds.tsv", "base_min_px\t200", "base_min_px\t0", "base_min_px\t0" },
    { "thresholds.tsv", "base_min_px\t200", "base_min_px\t-200", "base_min_px\t-200" },
    { "thresholds.tsv", "base_min_px\t200", "base_min_px\tnan", "base_min_px\tnan" },
    { "thresholds.tsv", "base_min_px\t200", "base_min_px\t200px", "base_min_px\t200px" },
    { "thresholds.tsv", "base_min_px\t200", "base_min_px\t", "base_min_px\t\n" },
    { "thresholds.tsv", "blur_weak\t0.012", "blur_weak\t0,012", "blur_weak\t0,012" },
    { "thresholds.tsv", "blur_weak\t0.012", "#blur_weak\t0.012", NULL },
  };

  g_test_summary ("ids twice, unknown or empty, words and numbers off the list: an error that names the file and the line");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GHashTable) tables = support_load_tables ();
      g_autoptr (GError) error = NULL;
      int line = 0;

      support_replace (tables, cases[i].table, cases[i].what, cases[i].with);
      g_test_message ("%s: “%s”", cases[i].table, cases[i].with);
      error = assert_refused (tables, cases[i].table, WS_ERROR_UNREADABLE);
      if (cases[i].at == NULL)
        continue;
      line = support_line_of (tables, cases[i].table, cases[i].at) + (cases[i].at[0] == '\n');
      assert_names_line (error, line);
    }
}

static void
test_digest (void)
{
  g_autoptr (GHashTable) tables = support_load_tables ();
  g_autoptr (WsKnowledge) first = support_load_knowledge (), again = support_load_knowledge ();

  g_test_summary ("the digest is the same for the same tables and another when a single letter of any of them changes");
  g_assert_cmpuint (strlen (ws_knowledge_get_digest (first)), ==, 128);
  g_assert_cmpstr (ws_knowledge_get_digest (first), ==, ws_knowledge_get_digest (again));
  for (gsize i = 0; i < G_N_ELEMENTS (shapes); i++)
    {
      g_autoptr (GHashTable) changed = support_load_tables ();
      g_autoptr (WsKnowledge) other = NULL;

      support_replace (changed, shapes[i].table, "#format\t1\n", "#format\t1\n#\n");
      other = ws_knowledge_parse (changed, NULL);
      g_assert_nonnull (other);
      g_assert_cmpstr (ws_knowledge_get_digest (first), !=, ws_knowledge_get_digest (other));
    }
}

static void
test_references (void)
{
  WsKnowledge *knowledge = support_load_knowledge ();
  const char *id;

  g_test_summary ("what is borrowed lives as long as the last reference");
  g_assert_true (ws_knowledge_ref (knowledge) == knowledge);
  id = ws_knowledge_find_view (knowledge, "v_base")->id;
  ws_knowledge_unref (knowledge);
  g_assert_cmpstr (id, ==, "v_base");
  ws_knowledge_unref (knowledge);
  ws_knowledge_unref (NULL);
}

static void
test_noise (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (9);
  guint refused = 0;

  g_test_summary ("80 tables with a random byte changed or cut off are read or refused with an error, never anything else");
  for (int i = 0; i < 80; i++)
    {
      g_autoptr (GHashTable) tables = support_load_tables ();
      const char *table = shapes[g_rand_int_range (rand, 0, G_N_ELEMENTS (shapes))].table;
      g_autoptr (GString) text = g_string_new (support_table_text (tables, table));
      gsize at = (gsize) g_rand_int_range (rand, 0, (int) text->len);
      g_autoptr (WsKnowledge) knowledge = NULL;
      g_autoptr (GError) error = NULL;

      if (g_rand_boolean (rand))
        text->str[at] = "\t\n|=xR0"[g_rand_int_range (rand, 0, 7)];
      else
        g_string_truncate (text, at);
      g_hash_table_insert (tables, g_strdup (table), g_bytes_new (text->str, text->len));
      knowledge = ws_knowledge_parse (tables, &error);
      g_assert_true ((knowledge == NULL) == (error != NULL));
      refused += error != NULL;
    }
  g_assert_cmpuint (refused, >, 25);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/knowledge/real-tables", test_real_tables);
  g_test_add_func ("/find/knowledge/base-kinds", test_base_kinds);
  g_test_add_func ("/find/knowledge/no-taste", test_no_taste);
  g_test_add_func ("/find/knowledge/names", test_names);
  g_test_add_func ("/find/knowledge/missing-columns", test_missing_columns);
  g_test_add_func ("/find/knowledge/damage", test_damage);
  g_test_add_func ("/find/knowledge/faults", test_faults);
  g_test_add_func ("/find/knowledge/digest", test_digest);
  g_test_add_func ("/find/knowledge/references", test_references);
  g_test_add_func ("/find/knowledge/noise", test_noise);
  return g_test_run ();
}
