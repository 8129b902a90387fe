/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a figure looks for a find: what was photographed and what was noted of it. Window, plate and page all
 * take it from here. */
#pragma once

#include "ws-figure.h"

/* Lives as long as the look it is put into. */
typedef struct { const WsEvidence *evidence; const WsKnowledge *knowledge; } WsFigureEvidence;

/* Fills in state_of, is_asked, data, ring and base of @look; leaves its colours and what is armed alone. */
void ws_figure_evidence_look (WsFigureEvidence *source, WsFigureLook *look);

/* The part of the figure at which the leader of a view ends: the one by which this growth form shows the view, or
 * another of the figure that serves it. NULL if the figure has none. Borrowed. */
const char *ws_figure_evidence_get_part (const WsFigure *figure, const WsKnowledge *knowledge,
                                         const char *view, const char *growth_form);
/* The line that says how far a part is shown: of the first view it serves that is asked for; NULL when none is. */
const WsEvidenceLine *ws_figure_evidence_get_line (const WsFigureEvidence *source, const char *part);
