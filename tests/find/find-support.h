/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of find share: the real tables of data/knowledge, and finds written as text. */
#pragma once

#include "ws-knowledge.h"
#include "ws-values.h"

/* The tables of data/knowledge, every language: name to GBytes. A language that has no page.tsv yet gets
 * one of a single row, since the other tables are what is tested. (transfer full) */
GHashTable *support_load_tables (void);
WsKnowledge *support_load_knowledge (void);

/* Puts @with where @what stands (which must be there) in the text of a table. */
void support_replace (GHashTable *tables, const char *table, const char *what, const char *with);
const char *support_table_text (GHashTable *tables, const char *table);
/* The line, from 1, on which @what first stands. */
int support_line_of (GHashTable *tables, const char *table, const char *what);

/* A find from words parted by blanks:
 *   "ring=hanging|upright"    a note, sure unless "?" stands behind it; "form=" is short for "growth_form="
 *   "v_base:cleaned,w400,s2"  a mark that serves v_base (several: "v_base+v_stem:"). After the colon, parted by
 *                             commas: a base kind; wN width in px (default 1000); sN blur sigma in px (default 1), s?
 *                             too plain to tell; bN burnt out, kN blocked up (per cent); unmeasured; whole (the photo as a
 *                             whole); aside (on a photo that is set aside); full (a box drawn round the whole picture)
 *   "excuse:v_base"           a reason why v_base cannot be had
 * (transfer full) */
WsFind *support_find (const char *model);
