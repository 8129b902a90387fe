/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of a determination: what each can be. Internal to the reading of names. */
#pragma once

#include <glib.h>

typedef enum
{
  WS_WORD_OTHER,        /* nothing that a name is made of */
  WS_WORD_BEFORE,       /* doubts what follows: cf., aff. */
  WS_WORD_AFTER,        /* doubts what stands before it: ?, inc. */
  WS_WORD_OPEN,         /* the species is left open: sp., indet. */
  WS_WORD_WIDE,         /* a wider or narrower sense: agg., s.l. */
  WS_WORD_SENSE,        /* the sense of somebody, told by what follows: sensu */
  WS_WORD_RANK_ABOVE,   /* a rank between genus and species */
  WS_WORD_RANK_BELOW,   /* a rank below the species */
  WS_WORD_EITHER,       /* joins two names that both come into question: or, / */
  WS_WORD_SMALL,        /* a word in small letters that can be an epithet by its letters */
  WS_WORD_AUTHOR,       /* can be of an author, or a name that begins with a capital */
} WsWordKind;

typedef struct
{
  WsWordKind kind;
  const char *normal;   /* as it is written out; static, or NULL: as it stands */
  const char *rank;     /* of a rank word and of agg.: the rank in full; static */
} WsWord;

/* Splits a determination into words; signs that stand to a word without a blank are words of their own.
 * (transfer full) (element-type char*) */
GPtrArray *ws_name_words_split (const char *text) G_GNUC_WARN_UNUSED_RESULT;

WsWord ws_name_word (const char *word);

/* TRUE if the letters can be those of a genus, or of a name above it: by its ending, so that a word of everyday language seldom passes for
 * one. The endings are those of the genera of larger fungi in use (common practice, no source). */
gboolean ws_name_is_genus (const char *word);
/* The same for an epithet of @genus: one that ends in -e fits a neuter genus only. */
gboolean ws_name_is_epithet (const char *word, const char *genus);
/* "family", "order", … by the ending of a name above the genus; NULL for others (ICN, Art. 16-18). */
const char *ws_name_rank_by_ending (const char *word);
