/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A determination read word by word: what of it is certain, and how far up the doubt reaches. Internal to the reading of
 * names. */
#pragma once

#include <glib.h>

/* How far up the doubt reaches. */
typedef enum { WS_DOUBT_NONE, WS_DOUBT_BELOW, WS_DOUBT_SPECIES, WS_DOUBT_GENUS } WsNameDoubt;

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
  WsNameDoubt doubt;
} WsNameReading;

/* Reads @text; nothing but its words when @words_only. Cleared with ws_name_reading_clear(). */
void ws_name_reading_read (WsNameReading *reading, const char *text, gboolean words_only);
void ws_name_reading_clear (WsNameReading *reading);
/* Puts @word behind @text, a blank between. */
void ws_name_reading_append (GString *text, const char *word);
