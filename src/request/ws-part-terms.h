/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parts of data/knowledge in the words of open vocabularies. Most parts of a fungus have no concept anywhere:
 * there the term of the trade stands alone. */
#pragma once

#include "ws-knowledge.h"

typedef struct
{
  const char *part;          /* id of parts.tsv */
  const char *iri;           /* (nullable): of the fungal anatomy ontology (FAO, release 2020-05-07) */
  const char *iri_words;     /* (nullable): its label there */
  const char *ac_part;       /* (nullable): of the AC vocabulary of parts, which knows no part of a fungus but the whole */
  const char *ac_literal;    /* (nullable): its controlled string */
  const char *orientation;   /* (nullable): of the AC vocabulary of orientations */
  const char *orientation_literal;   /* (nullable) */
  const char *content;       /* (nullable): of the AC vocabulary of content descriptions */
} WsPartTerms;

/* Never NULL; a part that is not known has nothing. */
const WsPartTerms *ws_part_terms (const char *part);
