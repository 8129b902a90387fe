/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The evidence list: what an expert needs for this growth form, and how far the marks of a
 * find show it. Pure; window, tool and package all call this one function. */
#pragma once

#include "ws-clarity.h"
#include "ws-knowledge.h"
#include "ws-values.h"

typedef enum { WS_EVIDENCE_MISSING, WS_EVIDENCE_WEAK, WS_EVIDENCE_SHOWN } WsEvidenceState;

typedef struct
{
  const WsView *view;
  WsNeed need;            /* an only-if view whose condition is met is REQUIRED */
  WsEvidenceState state;
  char *reason;           /* id of the knowledge texts "reason"; "" when shown */
  char *detail;           /* (nullable): a sentence that says more, in the language asked for */
  const char *excuse;     /* (nullable): why it cannot be had; it stays missing. Of the find */
  GPtrArray *marks;       /* const WsMark of the find that serve it, best first */
} WsEvidenceLine;

typedef struct
{
  WsFind *find;           /* kept alive: lines borrow from it */
  char *growth_form;      /* "" unknown */
  GPtrArray *lines;       /* WsEvidenceLine, in the order of views.tsv */
  int base_shown;         /* 1 yes, 0 no, -1 when the form has no base */
  guint n_required_lacking;  /* required lines that are not shown */
} WsEvidence;

WsEvidence *ws_evidence_judge (const WsFind *find, const WsKnowledge *knowledge,
                               const char *language) G_GNUC_WARN_UNUSED_RESULT;
/* How far the marks show one view, whether or not the growth form asks for it: of @specimen alone (NULL: of any). */
WsEvidenceState ws_evidence_judge_view (const WsFind *find, const WsKnowledge *knowledge, const char *view,
                                        const char *specimen);
void ws_evidence_free (WsEvidence *evidence);
/* The line of a view, NULL if this growth form does not need it. */
const WsEvidenceLine *ws_evidence_get_line (const WsEvidence *evidence, const char *view);
/* The line of the stem base (the view that is_base), NULL if the form has none. */
const WsEvidenceLine *ws_evidence_get_base (const WsEvidence *evidence);

/* Red or orange finger-like fungi must not be touched: TRUE unless a growth form is noted and none of the notes says club or
 * coral. The warning then stands before any advice to dig. */
gboolean ws_evidence_may_be_finger_like (const WsEvidence *evidence, const WsKnowledge *knowledge);

/* "shown", "weak", "missing"; "required", "recommended", "only_if". */
const char *ws_evidence_state_id (WsEvidenceState state);
const char *ws_need_id (WsNeed need);

/* What is missing in words for one line of a list, the base first: "base not shown,
 * underside missing, 3 more". "" when every required line is shown. (transfer full) */
char *ws_evidence_dup_summary (const WsEvidence *evidence, const WsKnowledge *knowledge,
                               const char *language) G_GNUC_WARN_UNUSED_RESULT;
/* The sentence above everything when the base is not shown, NULL when it is or when the form has
 * none: what is wrong with it and how to get it. (transfer full) (nullable) */
char *ws_evidence_dup_base_warning (const WsEvidence *evidence, const WsKnowledge *knowledge,
                                    const char *language) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsEvidence, ws_evidence_free)
