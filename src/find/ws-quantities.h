/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be measured by hand: quantities.tsv. */
#pragma once

#include "ws-knowledge.h"

typedef struct
{
  const char *id;
  const char *unit;      /* "mm", "per_mm", "count" */
  gboolean is_length;    /* mm: can be measured between two points of a photo */
  const char *part;      /* id of parts.tsv */
} WsQuantity;

GPtrArray *ws_knowledge_get_quantities (const WsKnowledge *knowledge);   /* WsQuantity, in the order of the table */
const WsQuantity *ws_knowledge_find_quantity (const WsKnowledge *knowledge, const char *id);
