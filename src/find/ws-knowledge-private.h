/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parsed tables, shared by the files that fill and read them. */
#pragma once

#include "ws-groups.h"
#include "ws-knowledge.h"
#include "ws-table.h"

struct _WsKnowledge
{
  gatomicrefcount refs;
  char *digest;
  GStringChunk *strings;      /* every id lives here: structs borrow from it */
  GPtrArray *strvs;           /* id lists, freed with the knowledge */
  GPtrArray *conditions;      /* WsCondition, likewise */
  GPtrArray *parts, *views, *base_kinds, *growth_forms, *characters;
  GHashTable *under_parts;    /* "form\tview" -> part */
  GHashTable *needs;          /* form -> GArray of WsRequirement, in the order of views */
  GPtrArray *groups, *means;  /* WsGroup, WsMeans */
  GPtrArray *lastings;        /* WsLasting */
  GPtrArray *quantities;      /* WsQuantity */
  WsThresholds thresholds;
  GHashTable *texts;          /* "lang\tkind\tid" -> text */
  char **languages;
};

const char *ws_knowledge_keep (WsKnowledge *self, const char *text);
/* Splits at "|" into a kept list. */
const char *const *ws_knowledge_keep_list (WsKnowledge *self, const char *text);
/* The table of that name, NULL with an error when it is missing or broken. */
WsTable *ws_knowledge_open (GHashTable *tables, const char *name, const char *const *columns, GError **error);
/* Reads LANG/texts.tsv, LANG/states.tsv, LANG/page.tsv and LANG/groups.tsv where present; English is required. */
gboolean ws_knowledge_read_texts (WsKnowledge *self, GHashTable *tables, GError **error);
/* Reads needs.tsv and under-part.tsv once forms, views, parts and characters are known. */
gboolean ws_knowledge_read_needs (WsKnowledge *self, GHashTable *tables, GError **error);
/* Reads conditions.tsv and dangerous-groups.tsv once views and characters are known. */
gboolean ws_knowledge_read_groups (WsKnowledge *self, GHashTable *tables, GError **error);
/* Reads applies.tsv, surfaces.tsv and go-back.tsv once views, forms, characters and states are known. */
gboolean ws_knowledge_read_fitting (WsKnowledge *self, GHashTable *tables, GError **error);
/* Reads quantities.tsv once parts are known. */
gboolean ws_knowledge_read_quantities (WsKnowledge *self, GHashTable *tables, GError **error);
void ws_group_free (WsGroup *group);
