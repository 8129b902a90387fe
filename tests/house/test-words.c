/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "house-support.h"
#include "house-words.h"

#include <locale.h>
#include <string.h>

/* Safety law 2: the program speaks of danger and of missing evidence only; law 4: no field for taste. */

/* Where a word of eating may stand: a text of the tables by its kind and id, another text by its own beginning. */
typedef struct { const char *where; const char *why; } Allowed;

static const Allowed may_speak_of_eating[] = {
  { "caution photos_never", "never eat on the strength of photos" },
  { "caution doubt", "do not eat it" },
  { "caution poison", "eaten: call now" },
  { "caution nothing_left", "does not say whether it may be eaten" },
  { "eaten ", "what to do when it was eaten, or perhaps eaten" },
  { "page eaten_", "the same on the page" },
  { "page emergency", "the same on the page" },
  { "Eaten, or perhaps eaten", "the name of the leaf of that name" },
  { "Eaten.pdf", "the page to show in a hospital" },
  { "Never eat a mushroom on the strength of photos or of this program", "the caution, on the command line" },
};

/* One text and where it stands. */
typedef struct { const char *path; int line; const char *id; gboolean read; } Place;

static gboolean
is_allowed (const Allowed *list, gsize n, const char *id)
{
  for (gsize i = 0; i < n; i++)
    if (g_str_has_prefix (id, list[i].where))
      return TRUE;
  return FALSE;
}

static void
look_for (const char *pattern, const Place *place, const char *text, const char *what, GPtrArray *faults)
{
  static GHashTable *compiled;
  GRegex *regex;
  g_autoptr (GMatchInfo) match = NULL;

  if (compiled == NULL)
    compiled = g_hash_table_new (g_str_hash, g_str_equal);
  regex = g_hash_table_lookup (compiled, pattern);
  if (regex == NULL)
    {
      regex = g_regex_new (pattern, G_REGEX_CASELESS | G_REGEX_OPTIMIZE, 0, NULL);
      g_assert_nonnull (regex);
      g_hash_table_insert (compiled, (gpointer) pattern, regex);
    }
  if (g_regex_match (regex, text, 0, &match))
    {
      g_autofree char *word = g_match_info_fetch (match, 0);

      house_fault (faults, place->path, place->line, "%s: “%s” in “%.60s”", what, word, text);
    }
}

static void
check_text (const Place *place, const char *text, GPtrArray *faults)
{
  const char *id = place->id != NULL ? place->id : text;

  look_for (HOUSE_NOWHERE, place, text, "a word of no danger or of taste", faults);
  if (!place->read)
    return;
  look_for (HOUSE_NOT_READ, place, text, "a word that all is well", faults);
  if (!is_allowed (may_speak_of_eating, G_N_ELEMENTS (may_speak_of_eating), id))
    look_for (HOUSE_EATING, place, text, "a word of eating", faults);
}

/* --- where texts are found --------------------------------------------------------------------- */

static gboolean
is_translated (const char *text, const char *literal)
{
  static const char *const calls[] = { "_ (", "N_ (", "_(", "N_(", "C_ (", "NC_ (", "Q_ (", "ngettext (", "dgettext (" };
  const char *p = literal;
  int depth = 0;

  /* Back to the bracket that encloses the literal; literals and names in between belong to the same call. */
  while (p > text && depth >= 0 && *p != ';' && *p != '{' && *p != '}')
    {
      p--;
      depth += *p == ')' ? 1 : *p == '(' ? -1 : 0;
    }
  if (depth >= 0)
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (calls); i++)
    {
      gsize length = strlen (calls[i]);
      const char *start = p + 1 - length;

      if (start >= text && strncmp (start, calls[i], length) == 0 && (start == text || !(g_ascii_isalnum (start[-1]) || start[-1] == '_')))
        return TRUE;
    }
  return FALSE;
}

/* The literal that begins at @p, joined with those that follow it: "a" "b" is one text. Moves on. (transfer full) */
static char *
take_literals (const char **p)
{
  GString *joined = g_string_new (NULL);

  while (**p == '"')
    {
      const char *end = *p + 1;
      g_autofree char *raw = NULL, *plain = NULL;

      while (*end != '\0' && *end != '"')
        end += *end == '\\' && end[1] != '\0' ? 2 : 1;
      raw = g_strndup (*p + 1, (gsize) (end - *p - 1));
      plain = g_strcompress (raw);
      g_string_append (joined, plain);
      *p = *end == '"' ? end + 1 : end;
      *p += strspn (*p, " \t\n\\");
    }
  return g_string_free (joined, FALSE);
}

static void
check_source (const char *path, const char *text, GPtrArray *faults)
{
  g_autofree char *plain = house_without_comments (text);
  const char *p = plain;

  while (*p != '\0')
    if (*p == '\'' && p[1] != '\0')
      p += p[1] == '\\' && p[2] != '\0' ? 4 : 3;
    else if (*p == '"')
      {
        Place place = { path, house_line_of (plain, p), NULL, is_translated (plain, p) };
        g_autofree char *words = take_literals (&p);

        if (g_utf8_validate (words, -1, NULL))
          check_text (&place, words, faults);
      }
    else
      p++;
}

static void
check_table (const char *path, const char *text, GPtrArray *faults)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i], "\t", 3);
      g_autofree char *id = NULL;
      Place place = { path, (int) i + 1, NULL, TRUE };

      if (lines[i][0] == '#' || g_strv_length (cells) < 3)
        continue;
      id = g_strconcat (cells[0], " ", cells[1], NULL);
      place.id = id;
      check_text (&place, cells[2], faults);
    }
}

/* All that a pattern with one bracket catches. */
static void
check_caught (const char *pattern, const char *path, const char *text, GPtrArray *faults)
{
  g_autoptr (GRegex) regex = g_regex_new (pattern, G_REGEX_DOTALL, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;

  g_assert_nonnull (regex);
  for (g_regex_match (regex, text, 0, &match); g_match_info_matches (match); g_match_info_next (match, NULL))
    {
      g_autofree char *words = g_match_info_fetch (match, 1);
      Place place = { path, 0, NULL, TRUE };
      int at;

      g_match_info_fetch_pos (match, 1, &at, NULL);
      place.line = house_line_of (text, text + at);
      check_text (&place, words, faults);
    }
}

/* Entries of a catalogue: a translation may say what its English may. */
static void
check_catalogue (const char *path, const char *text, GPtrArray *faults)
{
  const char *p = text;
  g_autofree char *english = g_strdup ("");

  while (*p != '\0')
    {
      gboolean is_id = g_str_has_prefix (p, "msgid");

      if ((is_id || g_str_has_prefix (p, "msgstr")) && (p == text || p[-1] == '\n'))
        {
          Place place = { path, house_line_of (text, p), NULL, TRUE };
          g_autofree char *words = NULL;

          p += strcspn (p, "\"\n");
          words = take_literals (&p);
          if (is_id)
            {
              g_free (english);
              english = g_strdup (words);
            }
          place.id = english;
          check_text (&place, words, faults);
        }
      else
        p += *p == '#' ? strcspn (p, "\n") : 1;
    }
}

/* What no user reads: how the demonstration's pictures are made, lists of files, and the tables of ids, whose remarks are
 * for experts; the texts of a language lie in folders of their own. */
static gboolean
is_not_read (const char *path)
{
  return g_str_has_prefix (path, "data/demo/") || g_str_has_suffix (path, ".gresource.xml") ||
         g_regex_match_simple ("^data/knowledge/[^/]+\\.tsv$", path, 0, 0);
}

static void
rule_words (const char *root, GPtrArray *faults)
{
  static const char *const endings[] = { ".c", ".h", ".inc", ".ui", ".tsv", ".svg", ".po", ".pot", ".desktop", ".xml", ".in", ".html", ".js", NULL };
  static const char *const folders[] = { "src", "ui", "data", "po" };

  for (gsize f = 0; f < G_N_ELEMENTS (folders); f++)
    {
      g_autoptr (GPtrArray) paths = house_list (root, folders[f], endings);

      for (guint i = 0; i < paths->len; i++)
        {
          const char *path = g_ptr_array_index (paths, i);
          g_autofree char *text = house_read (root, path);

          if (text == NULL || is_not_read (path))
            continue;
          if (g_str_has_suffix (path, ".c") || g_str_has_suffix (path, ".h"))
            check_source (path, text, faults);
          else if (g_str_has_suffix (path, ".ui"))
            check_caught ("translatable=[\"'](?:yes|true|1)[\"'][^>]*>([^<]*)<", path, text, faults);
          else if (g_str_has_suffix (path, ".svg"))
            check_caught ("<(?:title|desc|text|tspan)\\b[^>]*>([^<]*)<", path, text, faults);
          else if (g_str_has_suffix (path, ".tsv"))
            check_table (path, text, faults);
          else if (g_str_has_suffix (path, ".po") || g_str_has_suffix (path, ".pot"))
            check_catalogue (path, text, faults);
          else
            check_caught ("([^\\n]+)", path, text, faults);
        }
    }
}

static void
test_words (void)
{
  g_test_summary ("SAFETY: no text of the program says edible, safe, harmless, complete or ready, in English or German; only the cautions speak of eating");
  house_check (rule_words);
}

static void
test_sees (void)
{
  static const char *const files[] = {
    "data/knowledge/en/texts.tsv", "#format\t1\n# edible is a remark\nkind\tid\ttext\ncaution\tdoubt\tdo not eat it\npart\tcap\tEat the cap\nreason\tx\tall is complete\n",
    "data/knowledge/de/texts.tsv", "#format\t1\nkind\tid\ttext\ncaution\tdoubt\tnicht essen, sonst unbedenklich\npart\tcap\tEin guter Speisepilz\npart\tx\tbereits da, unvollständig\n",
    "data/knowledge/groups.tsv", "#format\t1\na\tb\tedible\n",
    "data/figures/egg.svg", "<svg><!-- safe -->\n<title>Ready to go</title><path d=\"M0 safe\"/></svg>\n",
    "po/de.po", "# harmless\nmsgid \"Missing\"\nmsgstr \"\"\n\"Liste \"\n\"vollständig\"\n",
    "src/base/ws-a.c", "/* edible */\nint safe; char c = '\"';\nx = \"ready\";\ny = _(\"The list is ready\");\n"
                       "z = \"not edi\"\n    \"ble\";\nf (_(\"%d of %d\"), \"complete\");\ng_set_error (e, _(\"a (b) \"\n  \"is complete\"));\n",
    "ui/ws-a.ui", "<property name=\"label\" translatable=\"yes\">Harmless fungi</property>\n<property name=\"id\">safe</property>\n",
    NULL,
  };

  g_test_summary ("the rule finds such words in tables, figures, catalogues, source and templates, joined over lines; remarks, names and ids pass");
  house_check_sees (rule_words, files,
                    "src/base/ws-a.c:4: a word that all is well: “ready” in “The list is ready”\n"
                    "src/base/ws-a.c:5: a word of no danger or of taste: “edible” in “not edible”\n"
                    "src/base/ws-a.c:8: a word that all is well: “complete” in “a (b) is complete”\n"
                    "ui/ws-a.ui:1: a word of no danger or of taste: “Harmless” in “Harmless fungi”\n"
                    "data/figures/egg.svg:2: a word that all is well: “Ready” in “Ready to go”\n"
                    "data/knowledge/de/texts.tsv:3: a word of no danger or of taste: “unbedenklich” in “nicht essen, sonst unbedenklich”\n"
                    "data/knowledge/de/texts.tsv:4: a word of no danger or of taste: “Speisepilz” in “Ein guter Speisepilz”\n"
                    "data/knowledge/en/texts.tsv:5: a word of eating: “Eat” in “Eat the cap”\n"
                    "data/knowledge/en/texts.tsv:6: a word that all is well: “complete” in “all is complete”\n"
                    "po/de.po:3: a word that all is well: “vollständig” in “Liste vollständig”");
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/house/words/tree", test_words);
  g_test_add_func ("/house/words/sees", test_sees);
  return g_test_run ();
}
