/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which dangerous groups the recorded evidence does not exclude. Unknown never excludes: an empty field, an unsure note,
 * a condition that is not met, a note of no particular specimen among several leave a group open. Pure; window, tool and
 * package call this one function. */
#pragma once

#include "ws-evidence.h"
#include "ws-groups.h"
#include "ws-values.h"

typedef struct
{
  const WsGroup *group;
  gboolean open;
  gboolean kept_open;      /* a veil at the base keeps it open although a note does not fit it: perhaps two species */
  const WsNote *misfit;    /* (nullable) of the find: the first note that does not fit, when it is not open or kept open */
  GPtrArray *misfits;      /* const WsNote: all of them, each once; taking all of one specimen back opens the group */
} WsGroupVerdict;

/* What could help tell: a character not recorded yet, or a view that would let a recorded note count. */
typedef struct
{
  const char *character;   /* (nullable) */
  const char *view;        /* (nullable) */
  guint could_exclude;     /* of the open groups, over its possible states */
  guint weight;            /* the same, weighted by severity: for ordering */
} WsNextEvidence;

/* Why one hard rule leaves a group open. */
typedef enum
{
  WS_OPEN_NOT_NOTED,       /* nothing is noted of the character, or nothing of this specimen */
  WS_OPEN_UNSURE,          /* noted, but unsure or read off a photo */
  WS_OPEN_FITS,            /* noted for sure, and the group can look like that */
  WS_OPEN_UNBACKED,        /* noted for sure, but what backs it is missing: the condition */
} WsOpenWhy;

typedef struct
{
  WsOpenWhy why;
  const char *character;
  const char *condition;   /* (nullable): of WS_OPEN_UNBACKED, the first that is not met */
} WsOpenReason;

typedef struct
{
  WsFind *find;            /* kept alive */
  GPtrArray *verdicts;     /* WsGroupVerdict, deadly ones first, in the order of the table */
  guint n_open;
  gboolean perhaps_two;    /* the notes fit no single group or fungus */
} WsStillOpen;

/* @met (nullable): conditions taken as met beside those the find meets itself ("all" for every one): for the command
 * line, where notes come without photos. */
WsStillOpen *ws_still_open_judge (const WsFind *find, const WsKnowledge *knowledge,
                                  const char *const *met) G_GNUC_WARN_UNUSED_RESULT;
void ws_still_open_free (WsStillOpen *still_open);
/* What could help tell, the most telling first: array of WsNextEvidence. Characters that do not apply to the growth form noted
 * come last of all. @met as above. (transfer full) */
GArray *ws_still_open_dup_next (const WsStillOpen *still_open, const WsKnowledge *knowledge,
                                const char *const *met) G_GNUC_WARN_UNUSED_RESULT;
/* Why an open group is open, one reason for each character that could tell, in the order of the table; of the specimen that
 * leaves it open. @specimen (out) (optional): its letter, "" when the find knows none; borrowed. Array of WsOpenReason. (transfer full) */
GArray *ws_still_open_dup_reasons (const WsStillOpen *still_open, const WsKnowledge *knowledge, const WsGroupVerdict *verdict,
                                   const char **specimen) G_GNUC_WARN_UNUSED_RESULT;

/* The same in words, for window, tool and page: "Not noted: spore print. Unsure: growth form. …". (transfer full) */
char *ws_still_open_dup_reasons_text (const WsStillOpen *still_open, const WsKnowledge *knowledge, const char *language,
                                      const WsGroupVerdict *verdict) G_GNUC_WARN_UNUSED_RESULT;
/* "Colour of the spore print could help tell 5 of these." (transfer full) */
char *ws_next_evidence_dup_text (const WsNextEvidence *next, const WsKnowledge *knowledge, const char *language) G_GNUC_WARN_UNUSED_RESULT;
/* How to get it, "" when the tables do not say. Borrowed. */
const char *ws_next_evidence_get_how (const WsNextEvidence *next, const WsKnowledge *knowledge, const char *language);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsStillOpen, ws_still_open_free)
