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
  const WsNote *misfit;    /* (nullable) of the find: the note that does not fit, when it is not open or kept open */
} WsGroupVerdict;

/* What could help tell: a character not recorded yet, or a view that would let a recorded note count. */
typedef struct
{
  const char *character;   /* (nullable) */
  const char *view;        /* (nullable) */
  guint could_exclude;     /* of the open groups, over its possible states */
  guint weight;            /* the same, weighted by severity: for ordering */
} WsNextEvidence;

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
/* What could help tell, the most telling first: array of WsNextEvidence. @met as above. (transfer full) */
GArray *ws_still_open_dup_next (const WsStillOpen *still_open, const WsKnowledge *knowledge,
                                const char *const *met) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsStillOpen, ws_still_open_free)
