/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The go-back list: what is missing or weak and can still be photographed, the soonest lost first. Pure: the clock is
 * handed in. Window, tool, print and pocket page all call this. */
#pragma once

#include "ws-evidence.h"

typedef enum
{
  WS_GO_BACK_KEPT,     /* of the specimen that was kept */
  WS_GO_BACK_SPOT,     /* at the spot, of this or of another specimen */
} WsGoBackWhere;

typedef struct
{
  const WsEvidenceLine *line;   /* of the evidence */
  WsGoBackWhere where;
  gint64 until_us;              /* local time, microseconds, by which it is thought to be lost; G_MAXINT64 when the find has no
                                   time */
} WsGoBackLine;

/* One find that is worth going back for. */
typedef struct
{
  WsEvidence *evidence;         /* owned; holds the find */
  WsForay *foray;               /* (nullable) */
  GArray *lines;                /* WsGoBackLine, never empty */
} WsGoBackFind;

/* Local time that keeps what is thought to be lost already. */
#define WS_GO_BACK_ANY_TIME G_MININT64

/* Lines of one find, the soonest lost first, at the same hour the needed before the recommended and the base before all.
 * Nothing when the specimen is gone; a line whose absence is excused is left out. @now_us: local time as the find's own,
 * microseconds; what was lost before it is left out. (transfer full): array of WsGoBackLine that borrows from @evidence. */
GArray *ws_go_back_judge (const WsEvidence *evidence, const WsKnowledge *knowledge, gint64 now_us) G_GNUC_WARN_UNUSED_RESULT;

/* All of @finds (WsFind) that are worth going back for, the soonest lost first, finds without a time last; @forays (WsForay,
 * nullable). Finds without a time are left out when everything else about them is unknown too: nobody can say that they
 * are fresh, unless somebody said that the specimen is kept or at the spot. (transfer full): array of WsGoBackFind. */
GPtrArray *ws_go_back_list (GPtrArray *finds, GPtrArray *forays, const WsKnowledge *knowledge, const char *language,
                            gint64 now_us) G_GNUC_WARN_UNUSED_RESULT;
void ws_go_back_find_free (WsGoBackFind *find);

/* "within hours", "today", "by tomorrow", "within 3 days", "while it lasts": of a line, seen at @now_us. (transfer full) */
char *ws_go_back_dup_when (const WsGoBackLine *line, gint64 now_us, const WsKnowledge *knowledge,
                           const char *language) G_GNUC_WARN_UNUSED_RESULT;
/* The warning that stands before any advice to dig, "" when the find is surely no finger-like one. Borrowed. */
const char *ws_go_back_get_touch_warning (const WsEvidence *evidence, const WsKnowledge *knowledge, const char *language);
