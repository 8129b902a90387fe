/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The dangerous groups as the table describes them: which states of a character each can have. Parsed from
 * dangerous-groups.tsv and conditions.tsv against the characters and views of the knowledge. */
#pragma once

#include "ws-knowledge.h"

typedef enum { WS_RULE_SOFT, WS_RULE_HARD, WS_RULE_KEEPS_OPEN } WsRuleStrength;

typedef struct
{
  const char *character;
  const char *const *states;       /* that the group can have; of KEEPS_OPEN: that keep it open whatever else is noted */
  WsRuleStrength strength;
  const char *const *conditions;   /* ids of conditions.tsv, all of which must be met; HARD */
  const char *const *only_forms;   /* empty, or: the rule holds only when one of these growth forms is noted as sure */
} WsGroupRule;

typedef struct
{
  const char *id;
  int severity;                    /* 3 deadly, 2 serious, 1 other: for ordering only */
  GPtrArray *rules;                /* WsGroupRule */
} WsGroup;

/* How a condition is met: by a mark that shows one of the views, or by a sure note; by both where both stand. */
typedef struct
{
  const char *id;
  const char *const *views;        /* may be empty */
  const char *character;           /* (nullable) */
  const char *const *states;
} WsMeans;

GPtrArray *ws_knowledge_get_groups (const WsKnowledge *knowledge);      /* WsGroup, in the order of the table */
const WsGroup *ws_knowledge_find_group (const WsKnowledge *knowledge, const char *id);
const WsMeans *ws_knowledge_find_means (const WsKnowledge *knowledge, const char *condition);
GPtrArray *ws_knowledge_get_means (const WsKnowledge *knowledge);       /* WsMeans */

/* Ids of the conditions that can be answered with a note of the character ("is the print thick?"), because a hard row of it
 * asks for them; free with g_ptr_array_unref(). */
GPtrArray *ws_knowledge_dup_questions (const WsKnowledge *knowledge, const char *character) G_GNUC_WARN_UNUSED_RESULT;
