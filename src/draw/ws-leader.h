/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the labels round a figure go, and the lines that lead to them. Pure: numbers in, numbers out.
 *
 * Labels stand in a column on either side. A vertical line parts the anchors, so that no leader of the left meets
 * one of the right. Within a column each label in turn, from the top, gets the anchor that leaves all others below
 * its line; then no two leaders cross (each later line lies wholly on one side of it), and the order is that of
 * the anchors' heights wherever straight lines allow that. */
#pragma once

#include <glib.h>

typedef enum { WS_LEADER_LEFT, WS_LEADER_RIGHT, WS_LEADER_BELOW } WsLeaderSide;

typedef struct
{
  /* Given. */
  double anchor_x, anchor_y;
  gboolean anchored;      /* FALSE: the figure has no such part; no line, the label stands last */
  double width, height;   /* of the label */
  double port;            /* how far below the top of the label its leader arrives, 0 to height */
  /* Found. */
  WsLeaderSide side;
  double x, y;            /* top left corner of the label */
  double tip_x, tip_y;    /* where the leader meets the label */
} WsLeader;

/* Two columns: labels of the left one end at @left, those of the right begin at @right; anchors lie between.
 * Spare height is shared evenly;
 * labels are at least @gap apart. Returns the height needed, from @y, at least @height. */
double ws_leader_lay_out_sides (WsLeader *leaders, guint n, double y, double height, double left, double right,
                                double gap);

/* One column below the figure, in the order given; no lines (tip is the label's corner). Returns the height
 * needed from @y. */
double ws_leader_lay_out_below (WsLeader *leaders, guint n, double x, double y, double gap);
