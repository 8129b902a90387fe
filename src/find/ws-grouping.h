/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos become finds: by gap in time, then by distance. Pure. */
#pragma once

#include "ws-values.h"

typedef struct
{
  double gap_seconds;   /* default WS_GROUPING_GAP */
  double distance_m;    /* default WS_GROUPING_DISTANCE; more when the error is larger */
} WsGroupingRule;

#define WS_GROUPING_GAP 600.0
#define WS_GROUPING_DISTANCE 30.0

typedef struct
{
  GPtrArray *groups;    /* of GPtrArray of WsPhoto, in order of corrected local time */
  GPtrArray *unsorted;  /* WsPhoto without a usable time */
} WsGrouping;

/* Splits @photos (WsPhoto). A new find begins where the next photo comes more than gap_seconds
 * after the one before, or where both have a place and lie farther apart than distance_m or the sum of
 * both uncertainties, whichever is more. A photo without a place never splits by place: it is
 * compared with the last photo of the group that has one. Screenshots, and photos without
 * time, are unsorted. */
WsGrouping *ws_grouping_split (GPtrArray *photos, const WsGroupingRule *rule) G_GNUC_WARN_UNUSED_RESULT;
void ws_grouping_free (WsGrouping *grouping);

/* The find's moment and position from its photos: the first time; the mean of the positions with the
 * radius that holds all of them. */
void ws_grouping_summarise (GPtrArray *photos, WsMoment *when, WsPosition *where);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsGrouping, ws_grouping_free)
