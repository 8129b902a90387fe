/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-name-parse.h"

#include "ws-name-words.h"

#include <string.h>

/* How far up the doubt reaches. */
typedef enum { DOUBT_NONE, DOUBT_BELOW, DOUBT_SPECIES, DOUBT_GENUS } Doubt;

typedef struct
{
  GPtrArray *words;          /* of char*: of the whole text */
  guint at;                  /* the next word */
  const char *genus;
  const char *above_sign, *above_rank, *above;   /* "sect.", "section", "Phalloideae" */
  gboolean above_doubted;
  gboolean either;           /* a second name has begun */
  const char *species;
  const char *below_sign, *below_rank, *below;   /* "var.", "variety", "alba" */
  const char *wide_rank;     /* "speciesAggregate" */
  GString *authors[3];       /* of the genus or the rank above the species, of the species, of what is below it */
  GString *signs;            /* signs of doubt and of sense, as written out */
  GString *after_genus;      /* all words but authors after the genus … */
  GString *after_above;      /* … after the section … */
  GString *after_species;    /* … and after the species */
  GString *senses;           /* agg., s.l., sensu … */
  Doubt doubt;
} Reading;

static void
append (GString *text, const char *word)
{
  if (text->len > 0)
    g_string_append_c (text, ' ');
  g_string_append (text, word);
}

static const char *
peek (const Reading *reading, guint ahead)
{
  return reading->at + ahead < reading->words->len ? g_ptr_array_index (reading->words, reading->at + ahead) : "";
}

static void
raise_doubt (Reading *reading, Doubt doubt)
{
  reading->doubt = MAX (reading->doubt, doubt);
}

/* Of what was read last: the species or what is below it, the section, or, behind the genus alone, of the species to
 * come. */
static void
doubt_last (Reading *reading)
{
  raise_doubt (reading, DOUBT_SPECIES);
  if (reading->species == NULL)
    reading->above_doubted = TRUE;
}

/* A word after the genus that is no author. */
static void
keep (Reading *reading, const char *word)
{
  append (reading->after_genus, word);
  if (reading->above != NULL)
    append (reading->after_above, word);
  if (reading->species != NULL)
    append (reading->after_species, word);
}

static void
keep_sign (Reading *reading, const WsWord *word)
{
  append (reading->signs, word->normal);
  keep (reading, word->normal);
}

/* --- Word by word ----------------------------------------------------------------------------------- */

/* TRUE if what follows begins another name than one of @reading's genus: "Galerina marginata". "A. virosa" after Amanita is
 * of the same genus. */
static gboolean
names_other_genus (const Reading *reading, guint ahead)
{
  const char *word = peek (reading, ahead), *next = peek (reading, ahead + 1);

  if (word[0] == reading->genus[0] && word[1] == '.' && word[2] == '\0')
    return FALSE;
  if (g_ascii_isupper (word[0]) && word[1] == '.' && word[2] == '\0')
    return ws_name_is_epithet (next, reading->genus);
  return ws_name_is_genus (word) && !g_str_equal (word, reading->genus) &&
         (ws_name_is_epithet (next, word) || ws_name_word (next).kind == WS_WORD_OPEN ||
          ws_name_word (next).kind == WS_WORD_BEFORE);
}

static void
take_before (Reading *reading, const WsWord *word)
{
  gboolean below = reading->species != NULL && ws_name_word (peek (reading, 0)).kind == WS_WORD_RANK_BELOW;

  raise_doubt (reading, below ? DOUBT_BELOW : DOUBT_SPECIES);
  keep_sign (reading, word);
}

/* What stands behind the genus alone doubts the genus; "sp. inc." the species. */
static void
take_after (Reading *reading, const WsWord *word)
{
  gboolean open = g_str_equal (word->normal, "inc.") && g_str_has_suffix (reading->signs->str, "sp.");

  if (reading->species == NULL && reading->above == NULL && !open)
    raise_doubt (reading, DOUBT_GENUS);
  doubt_last (reading);
  keep_sign (reading, word);
}

/* "sect. Phalloideae"; a doubt told before is one of it. */
static void
take_rank_above (Reading *reading, const WsWord *word)
{
  const char *name = peek (reading, 0);

  keep (reading, word->normal);
  if (reading->doubt != DOUBT_NONE || reading->species != NULL || reading->above != NULL)
    doubt_last (reading);
  if (reading->species != NULL || reading->above != NULL || !g_ascii_isupper (name[0]) ||
      ws_name_word (name).kind != WS_WORD_AUTHOR)
    {
      doubt_last (reading);
      return;
    }
  reading->at++;
  keep (reading, name);
  reading->above_sign = word->normal;
  reading->above_rank = word->rank;
  reading->above = name;
}

/* "var. alba", "var. cf. alba". */
static void
take_rank_below (Reading *reading, const WsWord *word)
{
  WsWord sign = ws_name_word (peek (reading, 0));
  const char *name;

  if (sign.kind == WS_WORD_BEFORE)
    {
      reading->at++;
      raise_doubt (reading, reading->species != NULL ? DOUBT_BELOW : DOUBT_SPECIES);
      keep_sign (reading, &sign);
    }
  name = peek (reading, 0);
  keep (reading, word->normal);
  if (reading->species == NULL || !ws_name_is_epithet (name, reading->genus))
    {
      raise_doubt (reading, DOUBT_SPECIES);
      return;
    }
  reading->at++;
  keep (reading, name);
  /* A name has one epithet below the species: the last counts. */
  reading->below_sign = word->normal;
  reading->below_rank = word->rank;
  reading->below = name;
  g_string_truncate (reading->authors[2], 0);
}

/* The first small word that can be an epithet is the species; whatever else is there says that something is in doubt. */
static void
take_small (Reading *reading, const char *name)
{
  keep (reading, name);
  if (reading->species == NULL && ws_name_is_epithet (name, reading->genus) &&
      ws_name_rank_by_ending (reading->genus) == NULL)
    reading->species = name;
  else
    doubt_last (reading);
}

/* "sp. Oregon" and the second of two names are no author of the first. */
static void
take_author (Reading *reading, const char *word)
{
  if (reading->either || (reading->species == NULL && reading->doubt != DOUBT_NONE))
    keep (reading, word);
  else
    append (reading->authors[reading->below != NULL ? 2 : reading->species != NULL ? 1 : 0], word);
}

/* Two names come into question: of two genera not even the genus is certain. A comma may also stand before a year. */
static void
take_either (Reading *reading, const char *word)
{
  const char *next = peek (reading, 0);

  if (g_str_equal (word, ",") && g_ascii_isdigit (next[0]) && ws_name_word (next).kind == WS_WORD_AUTHOR)
    return;
  raise_doubt (reading, names_other_genus (reading, 0) ? DOUBT_GENUS : DOUBT_SPECIES);
  doubt_last (reading);
  reading->either = TRUE;
  append (reading->signs, word);
  keep (reading, word);
}

/* Whose sense it is, to the end of the text. */
static void
take_sense (Reading *reading, const WsWord *word)
{
  append (reading->signs, word->normal);
  append (reading->senses, word->normal);
  keep (reading, word->normal);
  for (; reading->at < reading->words->len; reading->at++)
    {
      if (ws_name_word (peek (reading, 0)).kind != WS_WORD_AUTHOR)
        raise_doubt (reading, DOUBT_SPECIES);
      append (reading->senses, peek (reading, 0));
      keep (reading, peek (reading, 0));
    }
}

static void
take_wide (Reading *reading, const WsWord *word)
{
  append (reading->senses, word->normal);
  if (reading->species != NULL && word->rank != NULL)
    reading->wide_rank = word->rank;
  keep_sign (reading, word);
}

static void
take_other (Reading *reading, const char *word)
{
  doubt_last (reading);
  append (reading->signs, word);
  keep (reading, word);
}

static void
take_word (Reading *reading)
{
  const char *text = peek (reading, 0);
  WsWord word = ws_name_word (text);

  if (names_other_genus (reading, 0))
    raise_doubt (reading, DOUBT_GENUS);
  reading->at++;
  /* "Hook. f.": the son, unless an epithet follows. */
  if (word.kind == WS_WORD_RANK_BELOW && g_str_equal (text, "f.") &&
      !ws_name_is_epithet (peek (reading, 0), reading->genus) && ws_name_word (peek (reading, 0)).kind != WS_WORD_BEFORE)
    word.kind = WS_WORD_AUTHOR;
  switch (word.kind)
    {
    case WS_WORD_BEFORE: take_before (reading, &word); break;
    case WS_WORD_AFTER: take_after (reading, &word); break;
    case WS_WORD_OPEN: raise_doubt (reading, DOUBT_SPECIES); keep_sign (reading, &word); break;
    case WS_WORD_WIDE: take_wide (reading, &word); break;
    case WS_WORD_SENSE: take_sense (reading, &word); break;
    case WS_WORD_RANK_ABOVE: take_rank_above (reading, &word); break;
    case WS_WORD_RANK_BELOW: take_rank_below (reading, &word); break;
    case WS_WORD_EITHER: take_either (reading, text); break;
    case WS_WORD_SMALL: take_small (reading, text); break;
    case WS_WORD_AUTHOR: take_author (reading, text); break;
    default: take_other (reading, text);
    }
}

/* Typed in small letters throughout, as on a phone: "amanita phalloides". */
static void
mend_capital (char *word, const char *next)
{
  g_autofree char *capital = g_strdup (word);
  WsWordKind kind = ws_name_word (next).kind;

  capital[0] = g_ascii_toupper (capital[0]);
  if (ws_name_is_genus (capital) &&
      (ws_name_is_epithet (next, capital) || kind == WS_WORD_OPEN || kind == WS_WORD_BEFORE))
    word[0] = capital[0];
}

/* The genus, or FALSE when the text does not begin with one. A sign in front of it doubts it. */
static gboolean
take_genus (Reading *reading)
{
  WsWord sign = ws_name_word (peek (reading, 0));
  char *word;

  if (sign.kind == WS_WORD_BEFORE || sign.kind == WS_WORD_AFTER)
    {
      raise_doubt (reading, DOUBT_GENUS);
      append (reading->signs, sign.normal);
      reading->at++;
    }
  if (reading->at == reading->words->len)
    return FALSE;
  word = g_ptr_array_index (reading->words, reading->at);
  mend_capital (word, peek (reading, 1));
  if (!ws_name_is_genus (word))
    return FALSE;
  reading->genus = word;
  reading->at++;
  return TRUE;
}

/* --- The parts --------------------------------------------------------------------------------------- */

static char *
join_name (const char *genus, const char *a, const char *b, const char *c, const char *author)
{
  const char *parts[] = { genus, a, b, c, author };
  GString *name = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    if (parts[i] != NULL && *parts[i] != '\0')
      append (name, parts[i]);
  return g_string_free (name, FALSE);
}

/* Nothing is certain: everything is qualifier. */
static void
fill_unread (const Reading *reading, WsNameParts *parts)
{
  GString *all = g_string_new (NULL);

  for (guint i = 0; i < reading->words->len; i++)
    append (all, g_ptr_array_index (reading->words, i));
  parts->scientific_name = g_strdup ("Fungi");
  parts->taxon_rank = g_strdup ("kingdom");
  if (reading->genus != NULL && reading->words->len == 2 && g_str_equal (reading->signs->str, "?"))
    parts->identification_qualifier = g_strdup_printf ("%s gen. inc.", reading->genus);
  else
    parts->identification_qualifier = g_strdup (all->str);
  parts->qualifier = g_strdup (reading->signs->str);
  g_string_free (all, TRUE);
}

static void
fill_genus (const Reading *reading, WsNameParts *parts)
{
  const char *ending = ws_name_rank_by_ending (reading->genus);
  gboolean above = reading->above != NULL && !reading->above_doubted;

  parts->scientific_name = join_name (reading->genus, above ? reading->above_sign : NULL, above ? reading->above : NULL,
                                      NULL, reading->doubt == DOUBT_NONE ? reading->authors[0]->str : NULL);
  parts->taxon_rank = g_strdup (above ? reading->above_rank : ending != NULL ? ending : "genus");
  parts->identification_qualifier = reading->doubt == DOUBT_NONE ? g_strdup (reading->senses->str)
                                    : above ? g_strdup (reading->after_above->str)
                                            : g_strdup (reading->after_genus->str);
}

static void
fill_species (const Reading *reading, WsNameParts *parts)
{
  gboolean below = reading->below != NULL && reading->doubt == DOUBT_NONE;

  parts->scientific_name = below ? join_name (reading->genus, reading->species, reading->below_sign, reading->below,
                                              reading->authors[2]->str)
                                 : join_name (reading->genus, reading->species, NULL, NULL, reading->authors[1]->str);
  parts->taxon_rank = g_strdup (reading->wide_rank != NULL ? reading->wide_rank : below ? reading->below_rank : "species");
  parts->identification_qualifier = g_strdup (reading->doubt == DOUBT_NONE ? reading->senses->str
                                                                           : reading->after_species->str);
  parts->firm = reading->wide_rank == NULL;
}

static void
fill_given (const Reading *reading, WsNameParts *parts)
{
  const char *ending = reading->genus != NULL ? ws_name_rank_by_ending (reading->genus) : NULL;
  const char *rank = reading->genus == NULL       ? ""
                     : reading->wide_rank != NULL ? reading->wide_rank
                     : reading->below != NULL     ? reading->below_rank
                     : reading->species != NULL   ? "species"
                     : reading->above != NULL     ? reading->above_rank
                     : ending != NULL             ? ending : "genus";

  parts->genus = g_strdup (reading->genus != NULL && ending == NULL ? reading->genus : "");
  parts->rank = g_strdup (rank);
  parts->epithet = g_strdup (reading->species != NULL ? reading->species : reading->above != NULL ? reading->above : "");
  parts->infraspecific = g_strdup (reading->below != NULL ? reading->below : "");
  parts->author = g_strdup (reading->authors[reading->below != NULL ? 2 : reading->species != NULL ? 1 : 0]->str);
}

static void
fill (Reading *reading, WsNameParts *parts)
{
  fill_given (reading, parts);
  if (reading->genus == NULL || reading->doubt == DOUBT_GENUS)
    {
      fill_unread (reading, parts);
      return;
    }
  parts->qualifier = g_strdup (reading->signs->str);
  if (reading->species == NULL || reading->doubt == DOUBT_SPECIES)
    fill_genus (reading, parts);
  else
    fill_species (reading, parts);
}

WsNameParts *
ws_name_parse (const char *text)
{
  WsNameParts *parts = g_new0 (WsNameParts, 1);
  Reading reading = { 0 };
  gboolean too_long = strlen (text) > WS_NAME_MAX_BYTES;
  g_autofree char *start = g_strndup (text, WS_NAME_MAX_BYTES);
  GString **texts[] = { &reading.authors[0], &reading.authors[1], &reading.authors[2], &reading.signs,
                        &reading.after_genus, &reading.after_above, &reading.after_species, &reading.senses };

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    *texts[i] = g_string_new (NULL);
  reading.words = ws_name_words_split (start);
  if (!too_long && take_genus (&reading))
    while (reading.at < reading.words->len)
      take_word (&reading);
  fill (&reading, parts);
  parts->verbatim = g_utf8_make_valid (text, -1);
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    g_string_free (*texts[i], TRUE);
  g_ptr_array_unref (reading.words);
  return parts;
}

void
ws_name_parts_free (WsNameParts *parts)
{
  if (parts == NULL)
    return;
  g_free (parts->verbatim);
  g_free (parts->genus);
  g_free (parts->rank);
  g_free (parts->epithet);
  g_free (parts->infraspecific);
  g_free (parts->author);
  g_free (parts->qualifier);
  g_free (parts->scientific_name);
  g_free (parts->identification_qualifier);
  g_free (parts->taxon_rank);
  g_free (parts);
}
