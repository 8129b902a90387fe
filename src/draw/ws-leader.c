/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-leader.h"

#include <math.h>
#include <stdlib.h>

static int
compare_x (gconstpointer a, gconstpointer b)
{
  const WsLeader *one = *(WsLeader *const *) a, *two = *(WsLeader *const *) b;

  if (one->anchored != two->anchored)
    return one->anchored ? -1 : 1;
  return one->anchor_x < two->anchor_x ? -1 : one->anchor_x > two->anchor_x ? 1 : one < two ? -1 : one > two;
}

static double
sum_heights (WsLeader *const *leaders, guint n, double gap)
{
  double sum = 0;

  for (guint i = 0; i < n; i++)
    sum += leaders[i]->height + gap;
  return sum;
}

/* How many of the leaders, sorted by x, go left so that the taller column is as low as can be. */
static guint
choose_split (WsLeader *const *sorted, guint n, double gap)
{
  double best = G_MAXDOUBLE;
  guint split = 0;

  for (guint k = 0; k <= n; k++)
    {
      double taller = MAX (sum_heights (sorted, k, gap), sum_heights (sorted + k, n - k, gap));

      if (taller < best)
        {
          best = taller;
          split = k;
        }
    }
  return split;
}

/* TRUE if @b must wait while @a is taken for a port at (x, y): the line to @a leaves @b below it. @inward: 1 when
 * the figure lies to the right of the column, -1 to the left. */
static gboolean
comes_first (const WsLeader *a, const WsLeader *b, double x, double y, double inward)
{
  double ax = (a->anchor_x - x) * inward, ay = a->anchor_y - y, bx = (b->anchor_x - x) * inward, by = b->anchor_y - y;
  double turn = ax * by - ay * bx;   /* > 0: b lies below the line */

  if (turn != 0)
    return turn > 0;
  return hypot (ax, ay) < hypot (bx, by);
}

static guint
take_next (WsLeader *const *left_over, guint n, double x, double y, double inward)
{
  guint best = 0;

  for (guint i = 1; i < n; i++)
    {
      const WsLeader *a = left_over[i], *b = left_over[best];

      if (!b->anchored ? a->anchored : a->anchored && comes_first (a, b, x, y, inward))
        best = i;
    }
  return best;
}

/* Ports of equal depth make the next port known before its label is. Where depths differ, the least of them is
 * used to choose, and the line is drawn to that height. */
static double
least_port (WsLeader *const *column, guint n)
{
  double port = G_MAXDOUBLE;

  for (guint i = 0; i < n; i++)
    port = MIN (port, MIN (column[i]->port, column[i]->height));
  return port;
}

/* @edge: x where labels meet the figure. Returns the bottom of the column. */
static double
lay_out_column (WsLeader **column, guint n, WsLeaderSide side, double edge, double y, double height, double gap)
{
  double spare = MAX (0, height - (sum_heights (column, n, gap) - gap)) / (n + 1);
  double port = least_port (column, n), top = y + spare;

  for (guint i = 0; i < n; i++)
    {
      guint next = i + take_next (column + i, n - i, edge, top + port, side == WS_LEADER_LEFT ? 1 : -1);
      WsLeader *leader = column[next];

      column[next] = column[i];
      column[i] = leader;
      leader->side = side;
      leader->x = side == WS_LEADER_LEFT ? edge - leader->width : edge;
      leader->y = top;
      leader->tip_x = edge;
      leader->tip_y = top + port;
      top += leader->height + gap + spare;
    }
  return n > 0 ? top - gap - spare : y;
}

double
ws_leader_lay_out_sides (WsLeader *leaders, guint n, double y, double height, double left, double right, double gap)
{
  g_autofree WsLeader **sorted = g_new (WsLeader *, n + 1);
  double bottom;
  guint split;

  for (guint i = 0; i < n; i++)
    sorted[i] = &leaders[i];
  if (n > 1)
    qsort (sorted, n, sizeof *sorted, compare_x);
  split = choose_split (sorted, n, gap);
  bottom = lay_out_column (sorted, split, WS_LEADER_LEFT, left, y, height, gap);
  bottom = MAX (bottom, lay_out_column (sorted + split, n - split, WS_LEADER_RIGHT, right, y, height, gap));
  return MAX (height, bottom - y);
}

double
ws_leader_lay_out_below (WsLeader *leaders, guint n, double x, double y, double gap)
{
  double top = y;

  for (guint i = 0; i < n; i++)
    {
      leaders[i].side = WS_LEADER_BELOW;
      leaders[i].x = leaders[i].tip_x = x;
      leaders[i].y = leaders[i].tip_y = top;
      top += leaders[i].height + gap;
    }
  return n > 0 ? top - gap - y : 0;
}
