/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "ws-still-open.h"

/* What was noted of one character of a specimen, from several notes united. */
typedef struct
{
  const char *character;       /* id of the knowledge: compared as a pointer, as the rules' are */
  gboolean counts;             /* no note among them is unsure or read off a photo */
  GPtrArray *states;           /* const char* */
  GPtrArray *notes;            /* const WsNote */
} Observation;

/* One specimen of the find as the rules see it. */
typedef struct
{
  const WsFind *find;
  const WsKnowledge *knowledge;
  const char *letter;          /* "" when the find knows no letters */
  const char *const *met;
  GPtrArray *observations;     /* Observation */
} Specimen;

/* The specimens of a find: one without a letter when nobody gave any. */
GPtrArray *ws_specimens_new (const WsFind *find, const WsKnowledge *knowledge, const char *const *met);
/* NULL when nothing is noted of it. */
const Observation *ws_specimen_observed (const Specimen *specimen, const char *character);
/* The first condition of the rule that is not met, by marks or by what was answered with the notes of @observation; NULL when
 * all are. */
const char *ws_specimen_lacks (const Specimen *specimen, const Observation *observation, const WsGroupRule *rule);
/* A rule that speaks of eggs and balls only holds when the growth form is such a one for sure. */
gboolean ws_specimen_rule_applies (const Specimen *specimen, const WsGroupRule *rule);
gboolean ws_observation_is_outside (const Observation *observation, const char *const *possible);

/* How many groups that are open now would not be with the conditions @met. */
void ws_still_open_count_more (const WsStillOpen *self, const WsKnowledge *knowledge, const char *const *met, guint *groups,
                               guint *weight);
