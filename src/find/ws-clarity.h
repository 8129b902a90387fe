/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How usable a mark is as evidence, judged from numbers measured elsewhere. */
#pragma once

#include "ws-knowledge.h"
#include "ws-values.h"

typedef enum
{
  WS_CLARITY_UNKNOWN,   /* too plain to tell, or not measured: counts as weak */
  WS_CLARITY_USELESS,
  WS_CLARITY_WEAK,
  WS_CLARITY_ENOUGH,    /* on screen: "sharp enough to judge" */
} WsClarity;

/* Judges @mark. @reason (out) (optional) (transfer full): why it is not enough, a sentence
 * in @language from the knowledge tables, NULL when enough. Blur is judged against the
 * width of the mark, so that shrinking a photo never makes it better. */
WsClarity ws_clarity_judge (const WsMark *mark, const WsKnowledge *knowledge,
                            const char *language, char **reason);

/* "enough", "weak", "useless", "unknown". */
const char *ws_clarity_id (WsClarity clarity);
