/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-name-words.h"

#include <string.h>

typedef struct { const char *word; WsWord is; } Entry;

/* Compared without a full stop at the end and without case. Signs: Sigovini et al. 2016, Horton et al. 2021; ranks: ICN,
 * Art. 4, 21, 24; agg. and the senses: lists of abbreviations in use. */
static const Entry entries[] = {
  { "cf", { WS_WORD_BEFORE, "cf.", NULL } }, { "conf", { WS_WORD_BEFORE, "cf.", NULL } },
  { "aff", { WS_WORD_BEFORE, "aff.", NULL } }, { "affin", { WS_WORD_BEFORE, "aff.", NULL } },
  { "nr", { WS_WORD_BEFORE, "nr.", NULL } }, { "near", { WS_WORD_BEFORE, "near", NULL } },
  { "prope", { WS_WORD_BEFORE, "prope", NULL } },
  { "?", { WS_WORD_AFTER, "?", NULL } }, { "inc", { WS_WORD_AFTER, "inc.", NULL } },
  { "sp", { WS_WORD_OPEN, "sp.", NULL } }, { "spp", { WS_WORD_OPEN, "spp.", NULL } },
  { "spec", { WS_WORD_OPEN, "sp.", NULL } }, { "species", { WS_WORD_OPEN, "sp.", NULL } },
  { "indet", { WS_WORD_OPEN, "indet.", NULL } }, { "stet", { WS_WORD_OPEN, "stet.", NULL } },
  { "agg", { WS_WORD_WIDE, "agg.", "speciesAggregate" } }, { "gr", { WS_WORD_WIDE, "gr.", "speciesAggregate" } },
  { "group", { WS_WORD_WIDE, "group", "speciesAggregate" } },
  { "complex", { WS_WORD_WIDE, "complex", "speciesAggregate" } },
  { "s.l", { WS_WORD_WIDE, "s.l.", NULL } }, { "s.lat", { WS_WORD_WIDE, "s.l.", NULL } },
  { "sl", { WS_WORD_WIDE, "s.l.", NULL } },
  { "s.str", { WS_WORD_WIDE, "s.str.", NULL } }, { "s.s", { WS_WORD_WIDE, "s.str.", NULL } },
  { "sensu", { WS_WORD_SENSE, "sensu", NULL } }, { "ss", { WS_WORD_SENSE, "sensu", NULL } },
  { "subg", { WS_WORD_RANK_ABOVE, "subg.", "subgenus" } }, { "subgen", { WS_WORD_RANK_ABOVE, "subg.", "subgenus" } },
  { "subgenus", { WS_WORD_RANK_ABOVE, "subg.", "subgenus" } },
  { "sect", { WS_WORD_RANK_ABOVE, "sect.", "section" } }, { "section", { WS_WORD_RANK_ABOVE, "sect.", "section" } },
  { "subsect", { WS_WORD_RANK_ABOVE, "subsect.", "subsection" } },
  { "ser", { WS_WORD_RANK_ABOVE, "ser.", "series" } }, { "series", { WS_WORD_RANK_ABOVE, "ser.", "series" } },
  { "subsp", { WS_WORD_RANK_BELOW, "subsp.", "subspecies" } },
  { "ssp", { WS_WORD_RANK_BELOW, "subsp.", "subspecies" } },
  { "subspecies", { WS_WORD_RANK_BELOW, "subsp.", "subspecies" } },
  { "var", { WS_WORD_RANK_BELOW, "var.", "variety" } }, { "variety", { WS_WORD_RANK_BELOW, "var.", "variety" } },
  { "varietas", { WS_WORD_RANK_BELOW, "var.", "variety" } },
  { "subvar", { WS_WORD_RANK_BELOW, "subvar.", "subvariety" } },
  { "f", { WS_WORD_RANK_BELOW, "f.", "form" } }, { "fo", { WS_WORD_RANK_BELOW, "f.", "form" } },
  { "forma", { WS_WORD_RANK_BELOW, "f.", "form" } }, { "form", { WS_WORD_RANK_BELOW, "f.", "form" } },
  { "subf", { WS_WORD_RANK_BELOW, "subf.", "subform" } },
  { "or", { WS_WORD_EITHER, NULL, NULL } }, { "vel", { WS_WORD_EITHER, NULL, NULL } },
  { "oder", { WS_WORD_EITHER, NULL, NULL } }, { "ou", { WS_WORD_EITHER, NULL, NULL } },
  { "and", { WS_WORD_EITHER, NULL, NULL } }, { "und", { WS_WORD_EITHER, NULL, NULL } },
  { "vs", { WS_WORD_EITHER, NULL, NULL } }, { "/", { WS_WORD_EITHER, NULL, NULL } },
  { ",", { WS_WORD_EITHER, NULL, NULL } }, { ";", { WS_WORD_EITHER, NULL, NULL } },
};

/* Small words that stand between authors. */
static const char *const joiners[] = { "ex", "et", "&", ":", "in", "de", "der", "den", "van", "von", "du", "da", "di", "la",
                                       "le", "al", "emend", "bis", NULL };

/* Words that begin with a capital at the beginning of a sentence, say that somebody is not sure, and are no author. */
static const char *const doubts[] = { "maybe", "perhaps", "possibly", "possible", "probably", "probable", "prob", "likely",
                                      "unlikely", "unsure", "uncertain", "unclear", "not", "no", "non", "nec", "auct",
                                      "kein", "keine", "nicht", "vermutlich", "wahrscheinlich", "vielleicht",
                                      "eventuell", "evtl", "fraglich", "doubtful", "unknown", "unbekannt", NULL };

/* In small letters without a full stop at the end. */
static char *
bare (const char *word)
{
  char *small = g_ascii_strdown (word, -1);
  gsize size = strlen (small);

  if (size > 1 && small[size - 1] == '.')
    small[size - 1] = '\0';
  return small;
}

/* --- Splitting --------------------------------------------------------------------------------------- */

/* Signs are words of their own; brackets round a sign go. */
static char *
set_signs_apart (const char *text)
{
  static const char *const abbreviations[] = { "cf.", "aff.", "sp.", "spp.", "var.", "subsp.", "ssp.", NULL };
  GString *apart = g_string_new (NULL);

  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      gboolean begins = apart->len == 0 || apart->str[apart->len - 1] == ' ';
      gboolean set = FALSE;

      for (guint i = 0; begins && abbreviations[i] != NULL && !set; i++)
        if (g_ascii_strncasecmp (p, abbreviations[i], strlen (abbreviations[i])) == 0)
          {
            g_string_append_printf (apart, "%s ", abbreviations[i]);
            p += strlen (abbreviations[i]) - 1;
            set = TRUE;
          }
      if (set)
        continue;
      if (g_str_has_prefix (p, "(?)"))
        p += 2, c = '?';
      else if (g_unichar_isspace (c) || g_unichar_iscntrl (c))
        c = ' ';
      if (c == '?' || c == ',' || c == ';' || c == '/')
        g_string_append_printf (apart, " %c ", (char) c);
      else
        g_string_append_unichar (apart, c);
    }
  return g_string_free (apart, FALSE);
}

/* "s. l." and "s. str." were written with a blank, "sensu lato" in full. */
static gboolean
join_sense (GPtrArray *words, const char *next)
{
  const char *last = words->len > 0 ? g_ptr_array_index (words, words->len - 1) : "";
  g_autofree char *small = bare (next), *before = bare (last);
  const char *joined = NULL;

  if (g_str_equal (before, "s") || g_str_equal (before, "sensu"))
    joined = g_str_equal (small, "l") || g_str_equal (small, "lat") || g_str_equal (small, "lato") ? "s.l."
             : g_str_equal (small, "str") || g_str_equal (small, "stricto") ? "s.str." : NULL;
  if (joined == NULL)
    return FALSE;
  g_free (words->pdata[words->len - 1]);
  words->pdata[words->len - 1] = g_strdup (joined);
  return TRUE;
}

GPtrArray *
ws_name_words_split (const char *text)
{
  GPtrArray *words = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  g_autofree char *composed = g_utf8_normalize (valid, -1, G_NORMALIZE_DEFAULT_COMPOSE);
  g_autofree char *apart = set_signs_apart (composed);
  g_auto (GStrv) parts = g_strsplit (apart, " ", -1);

  for (guint i = 0; parts[i] != NULL; i++)
    if (*parts[i] != '\0' && !join_sense (words, parts[i]))
      g_ptr_array_add (words, g_strdup (parts[i]));
  return words;
}

/* --- Telling them apart ------------------------------------------------------------------------------- */

/* Letters an epithet or a genus may have: ICN, Art. 60.7, knows the diaeresis as the only sign. */
static gboolean
has_latin_letters (const char *word)
{
  for (const char *p = word; *p != '\0'; p = g_utf8_next_char (p))
    if (!g_ascii_islower (*p) && g_utf8_get_char (p) != 0xeb && !(*p == '-' && p > word && p[1] != '\0'))
      return FALSE;
  return TRUE;
}

/* "Fr.", "J.E.", "O'Nobody", "(Vaill.", "Fr.)", "Fr.:Fr.", "1821". */
static gboolean
can_be_author (const char *word)
{
  const char *p = word + strspn (word, "([:");
  g_autofree char *small = bare (p);
  guint capitals = 0, smalls = 0;

  if (g_strv_contains (doubts, small))
    return FALSE;
  if (strspn (p, "0123456789") == 4 && strspn (p + 4, ")]") == strlen (p + 4))
    return p[0] == '1' || p[0] == '2';
  if (!g_unichar_isupper (g_utf8_get_char (p)))
    return FALSE;
  for (; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (!g_unichar_isalpha (c) && c != 0x2019 && (c >= 128 || strchr (".-'):]", (int) c) == NULL))
        return FALSE;
      capitals += g_unichar_isupper (c) != FALSE;
      smalls += g_unichar_islower (c) != FALSE;
    }
  /* "NOT" is shouted, "J.E." has initials. */
  return smalls > 0 || capitals < 3 || strchr (word, '.') != NULL;
}

WsWord
ws_name_word (const char *word)
{
  g_autofree char *small = bare (word);

  for (gsize i = 0; i < G_N_ELEMENTS (entries); i++)
    if (g_str_equal (entries[i].word, small))
      return entries[i].is;
  if (g_strv_contains (joiners, small) || can_be_author (word))
    return (WsWord) { WS_WORD_AUTHOR, NULL, NULL };
  if (has_latin_letters (word))
    return (WsWord) { WS_WORD_SMALL, NULL, NULL };
  return (WsWord) { WS_WORD_OTHER, NULL, NULL };
}

static gboolean
ends_in (const char *word, const char *const *endings)
{
  for (guint i = 0; endings[i] != NULL; i++)
    if (strlen (word) > strlen (endings[i]) && g_str_has_suffix (word, endings[i]))
      return TRUE;
  return FALSE;
}

gboolean
ws_name_is_genus (const char *word)
{
  static const char *const endings[] = { "a", "us", "um", "is", "es", "on", "ys", "ix", "ax", "ex", "ps", "os", "as", "cybe",
                                         "oe", "yne", NULL };
  static const char *const everyday[] = { "Fungus", "Champignon", "Poison", "This", NULL };

  return strlen (word) >= 3 && g_ascii_isupper (word[0]) && has_latin_letters (word + 1) &&
         (ends_in (word, endings) || g_str_equal (word, "Tuber") || ws_name_rank_by_ending (word) != NULL) && !g_strv_contains (everyday, word);
}

gboolean
ws_name_is_epithet (const char *word, const char *genus)
{
  static const char *const endings[] = { "a", "us", "um", "is", "i", "ae", "es", "ens", "ans", "ons", "or", "er", "x", "as",
                                         "on", "ops", "os", "pes", "ceps", NULL };
  static const char *const neuter[] = { "le", "re", "me", "ne", "de", NULL };
  static const char *const neuter_genus[] = { "um", "ma", "on", NULL };

  if (strlen (word) < 3 || !has_latin_letters (word))
    return FALSE;
  return ends_in (word, endings) ||
         (ends_in (word, neuter) && (ends_in (genus, neuter_genus) || g_str_equal (genus, "Tuber")));
}

const char *
ws_name_rank_by_ending (const char *word)
{
  static const struct { const char *ending, *rank; } ranks[] = {
    { "aceae", "family" }, { "oideae", "subfamily" }, { "ales", "order" }, { "mycetes", "class" },
    { "mycotina", "subphylum" }, { "mycota", "phylum" } };

  for (gsize i = 0; i < G_N_ELEMENTS (ranks); i++)
    if (g_str_has_suffix (word, ranks[i].ending))
      return ranks[i].rank;
  return NULL;
}
