/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every text a person reads is in the catalogues, translated, with the same placeholders, and says none of the words
 * that the program does not say. Outside references: xgettext, msgcmp and msgfmt of GNU gettext. */
#include "house-support.h"
#include "house-words.h"

#include <locale.h>
#include <string.h>

/* --- what is to be translated ------------------------------------------------------------------ */

/* What gives a file a text to translate, by the end of its name. */
static const struct { const char *end, *pattern; } kinds[] = {
  { ".c", "\\b(_|N_|C_|NC_|Q_|ngettext|g_dngettext|dngettext|dgettext|g_dgettext|g_dpgettext2) ?\\([^\";]*\"" },
  { ".h", "\\b(_|N_|C_|NC_|Q_|ngettext|g_dngettext|dngettext|dgettext|g_dgettext|g_dpgettext2) ?\\([^\";]*\"" },
  { ".ui", "translatable=[\"'](yes|true|1)[\"']" },
  { ".desktop.in", "^" },
  { ".metainfo.xml.in", "^" },
};

static gboolean
has_texts (const char *root, const char *path)
{
  g_autofree char *text = house_read (root, path), *plain = NULL;

  for (gsize i = 0; text != NULL && i < G_N_ELEMENTS (kinds); i++)
    if (g_str_has_suffix (path, kinds[i].end))
      {
        plain = kinds[i].end[2] == '\0' ? house_without_comments (text) : g_strdup (text);
        return g_regex_match_simple (kinds[i].pattern, plain, 0, 0);
      }
  return FALSE;
}

static void
rule_listed (const char *root, GPtrArray *faults)
{
  static const char *const folders[] = { "src", "ui", "data" };
  g_autofree char *list = house_read (root, "po/POTFILES");
  g_auto (GStrv) lines = g_strsplit (list != NULL ? list : "", "\n", -1);

  for (gsize f = 0; f < G_N_ELEMENTS (folders); f++)
    {
      g_autoptr (GPtrArray) paths = house_list (root, folders[f], NULL);

      for (guint i = 0; i < paths->len; i++)
        {
          const char *path = g_ptr_array_index (paths, i);

          if (!g_strv_contains ((const char *const *) lines, path) && has_texts (root, path))
            house_fault (faults, "po/POTFILES", 0, "lacks %s", path);
        }
    }
  for (int i = 0; lines[i] != NULL; i++)
    if (lines[i][0] != '\0' && !has_texts (root, lines[i]))
      house_fault (faults, "po/POTFILES", i + 1, "%s has no text to translate", lines[i]);
}

/* --- what a catalogue says --------------------------------------------------------------------- */

typedef struct
{
  int line;
  gboolean fuzzy;
  GString *id, *plural;
  GPtrArray *texts;       /* of GString: one, or one for each plural form */
} Entry;

static void
string_free (gpointer string)
{
  g_string_free (string, TRUE);
}

static void
entry_free (gpointer data)
{
  Entry *entry = data;

  g_string_free (entry->id, TRUE);
  g_string_free (entry->plural, TRUE);
  g_ptr_array_unref (entry->texts);
  g_free (entry);
}

static Entry *
entry_new (GPtrArray *entries, int line, gboolean fuzzy)
{
  Entry *entry = g_new0 (Entry, 1);

  *entry = (Entry) { line, fuzzy, g_string_new (NULL), g_string_new (NULL), g_ptr_array_new_with_free_func (string_free) };
  g_ptr_array_add (entries, entry);
  return entry;
}

/* The texts between the quotation marks of a line, added to what is being read. */
static void
add_quoted (GString *to, const char *line)
{
  const char *start = strchr (line, '"'), *end = strrchr (line, '"');
  g_autofree char *raw = start != NULL && end > start ? g_strndup (start + 1, (gsize) (end - start - 1)) : NULL;
  g_autofree char *plain = raw != NULL ? g_strcompress (raw) : NULL;

  if (to != NULL && plain != NULL)
    g_string_append (to, plain);
}

/* The entries but the header. */
static GPtrArray *
read_entries (const char *text)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  GPtrArray *entries = g_ptr_array_new_with_free_func (entry_free);
  Entry *entry = NULL;
  GString *to = NULL;
  gboolean fuzzy = FALSE;

  for (int i = 0; lines[i] != NULL; i++)
    {
      if (g_str_has_prefix (lines[i], "#,"))
        fuzzy = strstr (lines[i], "fuzzy") != NULL;
      else if (g_str_has_prefix (lines[i], "msgid "))
        to = (entry = entry_new (entries, i + 1, fuzzy))->id;
      else if (entry != NULL && g_str_has_prefix (lines[i], "msgid_plural "))
        to = entry->plural;
      else if (entry != NULL && g_str_has_prefix (lines[i], "msgstr"))
        g_ptr_array_add (entry->texts, to = g_string_new (NULL));
      if (lines[i][0] == '\0')
        fuzzy = FALSE;
      else if (lines[i][0] != '#')
        add_quoted (to, lines[i]);
    }
  if (entries->len > 0 && ((Entry *) g_ptr_array_index (entries, 0))->id->len == 0)
    g_ptr_array_remove_index (entries, 0);
  return entries;
}

static int
by_text (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* The placeholders of printf() and strftime() and the underlines of keys, in an order of their own: "%s %u _". */
static char *
dup_marks (const char *text)
{
  g_autoptr (GRegex) regex = g_regex_new ("%(?:[0-9]+\\$)?([-+#0-9.]*(?:<[A-Za-z0-9]+>|[hlzjt]*[A-Za-z%]))|(_)", 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  g_autoptr (GPtrArray) found = g_ptr_array_new_with_free_func (g_free);

  g_assert_nonnull (regex);
  for (g_regex_match (regex, text, 0, &match); g_match_info_matches (match); g_match_info_next (match, NULL))
    {
      g_autofree char *kind = g_match_info_fetch (match, 1), *key = g_match_info_fetch (match, 2);

      g_ptr_array_add (found, g_strconcat (kind, key, NULL));
    }
  g_ptr_array_sort (found, by_text);
  g_ptr_array_add (found, NULL);
  return g_strjoinv (" ", (char **) found->pdata);
}

static void
check_word (const char *pattern, const char *path, const Entry *entry, const char *text, GPtrArray *faults)
{
  g_autoptr (GRegex) regex = g_regex_new (pattern, G_REGEX_CASELESS, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;

  g_assert_nonnull (regex);
  if (g_regex_match (regex, text, 0, &match))
    {
      g_autofree char *word = g_match_info_fetch (match, 0);

      house_fault (faults, path, entry->line, "says “%s”: “%.60s”", word, text);
    }
}

static void
check_entry (const char *path, const Entry *entry, GPtrArray *faults)
{
  /* "Sure" is said of a note with other words: beside the name of a fungus this one would be read as "harmless". */
  static const char *const patterns[] = { HOUSE_NOWHERE, HOUSE_NOT_READ, "\\bsicher(e[mnrs]?|heit)?\\b" };
  const char *many = entry->plural->len > 0 ? entry->plural->str : entry->id->str;
  g_autofree char *marks = dup_marks (entry->id->str), *marks_many = dup_marks (many);

  if (entry->fuzzy)
    house_fault (faults, path, entry->line, "only guessed (fuzzy): “%s”", entry->id->str);
  if (g_regex_match_simple ("(^|[^%])(%%)*%$", entry->id->str, 0, 0))
    house_fault (faults, path, entry->line, "cut off at a macro, so it is never found: “%s”", entry->id->str);
  for (guint i = 0; i < entry->texts->len; i++)
    {
      const char *text = ((GString *) g_ptr_array_index (entry->texts, i))->str;
      g_autofree char *said = dup_marks (text);

      if (*text == '\0')
        house_fault (faults, path, entry->line, "not translated: “%s”", entry->id->str);
      else if (!g_str_equal (said, marks_many) && !(i == 0 && g_str_equal (said, marks)))
        house_fault (faults, path, entry->line, "other placeholders (%s, not %s): “%s”", said, marks_many, text);
      for (gsize p = 0; p < G_N_ELEMENTS (patterns); p++)
        check_word (patterns[p], path, entry, text, faults);
    }
}

static void
rule_catalogues (const char *root, GPtrArray *faults)
{
  g_autofree char *known = house_read (root, "po/LINGUAS");
  g_auto (GStrv) languages = g_strsplit_set (known != NULL ? known : "", " \n", -1);
  g_autoptr (GPtrArray) paths = house_list (root, "po", (const char *const[]) { ".po", NULL });

  for (guint i = 0; i < paths->len; i++)
    {
      const char *path = g_ptr_array_index (paths, i);
      g_autofree char *text = house_read (root, path), *language = g_path_get_basename (path);
      g_autoptr (GPtrArray) entries = read_entries (text != NULL ? text : "");

      language[strlen (language) - strlen (".po")] = '\0';
      if (!g_strv_contains ((const char *const *) languages, language))
        house_fault (faults, path, 0, "is not in po/LINGUAS");
      if (entries->len == 0)
        house_fault (faults, path, 0, "holds no text");
      for (guint e = 0; e < entries->len; e++)
        check_entry (path, g_ptr_array_index (entries, e), faults);
      g_test_message ("%s: %u texts", path, entries->len);
    }
}

/* --- what the tools of gettext say ------------------------------------------------------------- */

/* Runs a tool in @root; what it says when it fails goes to the log, the fault is of @path. */
static void
run_tool (const char *root, const char *path, const char *const *argv, GPtrArray *faults)
{
  g_autofree char *said = NULL;
  g_autoptr (GError) error = NULL;
  int status = 0;

  g_spawn_sync (root, (char **) argv, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL, NULL, NULL, NULL, &said,
                &status, &error);
  g_assert_no_error (error);
  if (!g_spawn_check_wait_status (status, NULL))
    {
      g_test_message ("%s", said);
      house_fault (faults, path, 0, "%s finds faults", argv[0]);
    }
}

/* The catalogue translates all that the sources say now: xgettext with the keywords of meson's preset "glib", then msgcmp. */
static void
rule_tools (const char *root, GPtrArray *faults)
{
  g_autofree char *folder = g_dir_make_tmp ("ws-po-XXXXXX", NULL), *pot = g_build_filename (folder, "now.pot", NULL);
  const char *const rm[] = { "rm", "-rf", "--", folder, NULL };
  const char *const collect[] = { "xgettext", "--files-from=po/POTFILES", "--from-code=UTF-8", "--keyword=_", "--keyword=N_",
                                  "--keyword=C_:1c,2", "--keyword=NC_:1c,2", "--keyword=g_dngettext:2,3",
                                  "--keyword=g_dpgettext2:2c,3", "-o", pot, NULL };
  g_autoptr (GPtrArray) paths = house_list (root, "po", (const char *const[]) { ".po", NULL });

  run_tool (root, "po/POTFILES", collect, faults);
  for (guint i = 0; i < paths->len; i++)
    {
      const char *path = g_ptr_array_index (paths, i);
      const char *const compare[] = { "msgcmp", path, pot, NULL };
      const char *const compile[] = { "msgfmt", "-c", "-o", "/dev/null", path, NULL };

      run_tool (root, path, compare, faults);
      run_tool (root, path, compile, faults);
    }
  g_assert_true (g_spawn_sync (NULL, (char **) rm, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, NULL));
}

/* --- the tests --------------------------------------------------------------------------------- */

static void
test_listed (void)
{
  static const char *const files[] = {
    "src/base/ws-a.c", "x = _(\"Text\");\n", "src/base/ws-b.c", "/* _(\"Text\") */\nint n = 0;\n",
    "src/base/ws-c.c", "x = g_dngettext (DOMAIN, \"one\", \"many\", 2);\n", "src/base/ws-d.h", "#define D N_(\"Text\")\n",
    "ui/ws-a.ui", "<a translatable=\"yes\">Text</a>\n", "ui/ws-b.ui", "<a>Text</a>\n", "data/a.desktop.in", "Name=A\n",
    "po/POTFILES", "src/base/ws-a.c\nsrc/base/ws-b.c\nsrc/base/ws-gone.c\n", NULL,
  };

  g_test_summary ("each file with a text to translate is in po/POTFILES, and no other; the rule finds what is not");
  house_check (rule_listed);
  house_check_sees (rule_listed, files,
                    "po/POTFILES:0: lacks src/base/ws-c.c\npo/POTFILES:0: lacks src/base/ws-d.h\npo/POTFILES:0: lacks ui/ws-a.ui\n"
                    "po/POTFILES:0: lacks data/a.desktop.in\npo/POTFILES:2: src/base/ws-b.c has no text to translate\n"
                    "po/POTFILES:3: src/base/ws-gone.c has no text to translate");
}

static void
test_catalogues (void)
{
  static const char *const files[] = {
    "po/LINGUAS", "de\n",
    "po/de.po", "msgid \"\"\nmsgstr \"Language: de\\n\"\n\n"
                "msgid \"Missing\"\nmsgstr \"\"\n\n"
                "#, fuzzy, c-format\nmsgid \"“%s” is _open\"\nmsgstr \"„%s“ _ist \"\n\"offen\"\n\n"
                "msgid \"%u of %s\"\nmsgstr \"%u von %u\"\n\n"
                "msgid \"%2$s %1$u\"\nmsgstr \"%1$u %2$s\"\n\n"
                "msgid \"One\"\nmsgid_plural \"%u _finds\"\nmsgstr[0] \"Eins\"\nmsgstr[1] \"%u Funde\"\n\n"
                "msgid \"larger than %\"\nmsgstr \"größer als %\"\n\n"
                "msgid \"sure\"\nmsgstr \"sicher\"\n\n"
                "msgid \"unsure\"\nmsgstr \"unsicher, alles \"\n\"vollständig\"\n\n"
                "#~ msgid \"gone\"\n#~ msgstr \"\"\n",
    "po/nl.po", "msgid \"\"\nmsgstr \"Language: nl\\n\"\n\nmsgid \"%d %%\"\nmsgstr \"%d %%\"\n", NULL,
  };

  g_test_summary ("SAFETY: every text is translated, with the placeholders and keys of the English one and none of the words of safety; "
                  "the rule finds what is not");
  house_check (rule_catalogues);
  house_check_sees (rule_catalogues, files,
                    "po/de.po:4: not translated: “Missing”\n"
                    "po/de.po:8: only guessed (fuzzy): ““%s” is _open”\n"
                    "po/de.po:12: other placeholders (u u, not s u): “%u von %u”\n"
                    "po/de.po:18: other placeholders (u, not _ u): “%u Funde”\n"
                    "po/de.po:23: cut off at a macro, so it is never found: “larger than %”\n"
                    "po/de.po:26: says “sicher”: “sicher”\n"
                    "po/de.po:29: says “vollständig”: “unsicher, alles vollständig”\n"
                    "po/nl.po:0: is not in po/LINGUAS");
}

static void
test_tools (void)
{
  static const char header[] = "msgid \"\"\nmsgstr \"Content-Type: text/plain; charset=UTF-8\\n\"\n\n";
  g_autofree char *lacking = g_strconcat (header, "msgid \"one\"\nmsgstr \"eins\"\n", NULL);
  g_autofree char *wrong = g_strconcat (header, "#, c-format\nmsgid \"%s\"\nmsgstr \"%d\"\n", NULL);
  const char *const files[] = {
    "po/POTFILES", "src/ws-a.c\n", "src/ws-a.c", "x = _(\"%s\");\ny = N_(\"one\");\n", "po/de.po", lacking, "po/nl.po", wrong, NULL,
  };
  static const char *const tools[] = { "xgettext", "msgcmp", "msgfmt" };

  g_test_summary ("xgettext, msgcmp and msgfmt -c of GNU gettext find every text of the sources translated and well formed");
  for (gsize i = 0; i < G_N_ELEMENTS (tools); i++)
    {
      g_autofree char *found = g_find_program_in_path (tools[i]);

      if (found == NULL)
        {
          g_test_skip ("the programs of GNU gettext are not here");
          return;
        }
    }
  house_check (rule_tools);
  house_check_sees (rule_tools, files,
                    "po/de.po:0: msgcmp finds faults\npo/nl.po:0: msgcmp finds faults\npo/nl.po:0: msgfmt finds faults");
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/house/po/listed", test_listed);
  g_test_add_func ("/house/po/catalogues", test_catalogues);
  g_test_add_func ("/house/po/tools", test_tools);
  return g_test_run ();
}
