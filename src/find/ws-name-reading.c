/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-name-reading.h"

#include "ws-name-words.h"

void
ws_name_reading_append (GString *text, const char *word)
{
  if (text->len > 0)
    g_string_append_c (text, ' ');
  g_string_append (text, word);
}

static const char *
peek (const WsNameReading *reading, guint ahead)
{
  return reading->at + ahead < reading->words->len ? g_ptr_array_index (reading->words, reading->at + ahead) : "";
}

static void
raise_doubt (WsNameReading *reading, WsNameDoubt doubt)
{
  reading->doubt = MAX (reading->doubt, doubt);
}

/* Of what was read last: the species or what is below it, the section, or, behind the genus alone, of the species to
 * come. */
static void
doubt_last (WsNameReading *reading)
{
  raise_doubt (reading, WS_DOUBT_SPECIES);
  if (reading->species == NULL)
    reading->above_doubted = TRUE;
}

/* A word after the genus that is no author. */
static void
keep (WsNameReading *reading, const char *word)
{
  ws_name_reading_append (reading->after_genus, word);
  if (reading->above != NULL)
    ws_name_reading_append (reading->after_above, word);
  if (reading->species != NULL)
    ws_name_reading_append (reading->after_species, word);
}

static void
keep_sign (WsNameReading *reading, const WsWord *word)
{
  ws_name_reading_append (reading->signs, word->normal);
  keep (reading, word->normal);
}

/* --- Word by word ----------------------------------------------------------------------------------- */

/* TRUE if what follows begins another name than one of @reading's genus: "Galerina marginata". "A. virosa" after Amanita is
 * of the same genus. */
static gboolean
names_other_genus (const WsNameReading *reading, guint ahead)
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
take_before (WsNameReading *reading, const WsWord *word)
{
  gboolean below = reading->species != NULL && ws_name_word (peek (reading, 0)).kind == WS_WORD_RANK_BELOW;

  raise_doubt (reading, below ? WS_DOUBT_BELOW : WS_DOUBT_SPECIES);
  keep_sign (reading, word);
}

/* What stands behind the genus alone doubts the genus; "sp. inc." the species. */
static void
take_after (WsNameReading *reading, const WsWord *word)
{
  gboolean open = g_str_equal (word->normal, "inc.") && g_str_has_suffix (reading->signs->str, "sp.");

  if (reading->species == NULL && reading->above == NULL && !open)
    raise_doubt (reading, WS_DOUBT_GENUS);
  doubt_last (reading);
  keep_sign (reading, word);
}

/* "sect. Phalloideae"; a doubt told before is one of it. */
static void
take_rank_above (WsNameReading *reading, const WsWord *word)
{
  const char *name = peek (reading, 0);

  keep (reading, word->normal);
  if (reading->doubt != WS_DOUBT_NONE || reading->species != NULL || reading->above != NULL)
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
take_rank_below (WsNameReading *reading, const WsWord *word)
{
  WsWord sign = ws_name_word (peek (reading, 0));
  const char *name;

  if (sign.kind == WS_WORD_BEFORE)
    {
      reading->at++;
      raise_doubt (reading, reading->species != NULL ? WS_DOUBT_BELOW : WS_DOUBT_SPECIES);
      keep_sign (reading, &sign);
    }
  name = peek (reading, 0);
  keep (reading, word->normal);
  if (reading->species == NULL || !ws_name_is_epithet (name, reading->genus))
    {
      raise_doubt (reading, WS_DOUBT_SPECIES);
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
take_small (WsNameReading *reading, const char *name)
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
take_author (WsNameReading *reading, const char *word)
{
  if (reading->either || (reading->species == NULL && reading->doubt != WS_DOUBT_NONE))
    keep (reading, word);
  else
    ws_name_reading_append (reading->authors[reading->below != NULL ? 2 : reading->species != NULL ? 1 : 0], word);
}

/* Two names come into question: of two genera not even the genus is certain. A comma may also stand before a year. */
static void
take_either (WsNameReading *reading, const char *word)
{
  const char *next = peek (reading, 0);

  if (g_str_equal (word, ",") && g_ascii_isdigit (next[0]) && ws_name_word (next).kind == WS_WORD_AUTHOR)
    return;
  raise_doubt (reading, names_other_genus (reading, 0) ? WS_DOUBT_GENUS : WS_DOUBT_SPECIES);
  doubt_last (reading);
  reading->either = TRUE;
  ws_name_reading_append (reading->signs, word);
  keep (reading, word);
}

/* Whose sense it is, to the end of the text. */
static void
take_sense (WsNameReading *reading, const WsWord *word)
{
  ws_name_reading_append (reading->signs, word->normal);
  ws_name_reading_append (reading->senses, word->normal);
  keep (reading, word->normal);
  for (; reading->at < reading->words->len; reading->at++)
    {
      if (ws_name_word (peek (reading, 0)).kind != WS_WORD_AUTHOR)
        raise_doubt (reading, WS_DOUBT_SPECIES);
      ws_name_reading_append (reading->senses, peek (reading, 0));
      keep (reading, peek (reading, 0));
    }
}

static void
take_wide (WsNameReading *reading, const WsWord *word)
{
  ws_name_reading_append (reading->senses, word->normal);
  if (reading->species != NULL && word->rank != NULL)
    reading->wide_rank = word->rank;
  keep_sign (reading, word);
}

static void
take_other (WsNameReading *reading, const char *word)
{
  doubt_last (reading);
  ws_name_reading_append (reading->signs, word);
  keep (reading, word);
}

static void
take_word (WsNameReading *reading)
{
  const char *text = peek (reading, 0);
  WsWord word = ws_name_word (text);

  if (names_other_genus (reading, 0))
    raise_doubt (reading, WS_DOUBT_GENUS);
  reading->at++;
  /* "Hook. f.": the son, unless an epithet follows. */
  if (word.kind == WS_WORD_RANK_BELOW && g_str_equal (text, "f.") &&
      !ws_name_is_epithet (peek (reading, 0), reading->genus) && ws_name_word (peek (reading, 0)).kind != WS_WORD_BEFORE)
    word.kind = WS_WORD_AUTHOR;
  switch (word.kind)
    {
    case WS_WORD_BEFORE: take_before (reading, &word); break;
    case WS_WORD_AFTER: take_after (reading, &word); break;
    case WS_WORD_OPEN: raise_doubt (reading, WS_DOUBT_SPECIES); keep_sign (reading, &word); break;
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
take_genus (WsNameReading *reading)
{
  WsWord sign = ws_name_word (peek (reading, 0));
  char *word;

  if (sign.kind == WS_WORD_BEFORE || sign.kind == WS_WORD_AFTER)
    {
      raise_doubt (reading, WS_DOUBT_GENUS);
      ws_name_reading_append (reading->signs, sign.normal);
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

void
ws_name_reading_clear (WsNameReading *reading)
{
  GString *texts[] = { reading->authors[0], reading->authors[1], reading->authors[2], reading->signs, reading->after_genus,
                       reading->after_above, reading->after_species, reading->senses };

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    g_string_free (texts[i], TRUE);
  g_ptr_array_unref (reading->words);
}

void
ws_name_reading_read (WsNameReading *reading, const char *text, gboolean words_only)
{
  GString **texts[] = { &reading->authors[0], &reading->authors[1], &reading->authors[2], &reading->signs,
                        &reading->after_genus, &reading->after_above, &reading->after_species, &reading->senses };

  *reading = (WsNameReading) { .words = ws_name_words_split (text) };
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    *texts[i] = g_string_new (NULL);
  if (!words_only && take_genus (reading))
    while (reading->at < reading->words->len)
      take_word (reading);
}
