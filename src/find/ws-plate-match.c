/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-plate-layout-private.h"

#include <math.h>

typedef struct
{
  const double *cost;
  guint n;
  double *row_price, *column_price;   /* 1-based; 0 stands for "none" */
  guint *row_of;                      /* of a column */
  guint *came_from;                   /* the column before it on the way */
} Match;

/* Finds a free column for @row along the cheapest way and turns the way round. */
static void
add_row (Match *m, guint row)
{
  g_autofree double *least = g_new (double, m->n + 1);
  g_autofree gboolean *done = g_new0 (gboolean, m->n + 1);
  guint column = 0;

  for (guint j = 0; j <= m->n; j++)
    least[j] = G_MAXDOUBLE;
  m->row_of[0] = row;
  do
    {
      guint at = m->row_of[column], next = 0;
      double step = G_MAXDOUBLE;

      done[column] = TRUE;
      for (guint j = 1; j <= m->n; j++)
        {
          double reduced;

          if (done[j])
            continue;
          reduced = m->cost[(at - 1) * m->n + j - 1] - m->row_price[at] - m->column_price[j];
          if (reduced < least[j])
            {
              least[j] = reduced;
              m->came_from[j] = column;
            }
          if (least[j] < step)
            {
              step = least[j];
              next = j;
            }
        }
      for (guint j = 0; j <= m->n; j++)
        if (done[j])
          {
            m->row_price[m->row_of[j]] += step;
            m->column_price[j] -= step;
          }
        else
          least[j] -= step;
      column = next;
    }
  while (m->row_of[column] != 0);
  while (column != 0)
    {
      guint before = m->came_from[column];

      m->row_of[column] = m->row_of[before];
      column = before;
    }
}

void
ws_plate_match (const double *cost, guint n, guint *port_of)
{
  g_autofree double *prices = g_new0 (double, 2 * (n + 1));
  g_autofree guint *columns = g_new0 (guint, 2 * (n + 1));
  Match match = { cost, n, prices, prices + n + 1, columns, columns + n + 1 };

  for (guint row = 1; row <= n; row++)
    add_row (&match, row);
  for (guint j = 1; j <= n; j++)
    port_of[match.row_of[j] - 1] = j - 1;
}

/* > 0: c lies to one side of the line a b, < 0 to the other. */
static double
side_of (double ax, double ay, double bx, double by, double cx, double cy)
{
  return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
}

static gboolean
spans_meet (double a, double b, double c, double d)
{
  return MAX (MIN (a, b), MIN (c, d)) <= MIN (MAX (a, b), MAX (c, d));
}

gboolean
ws_plate_ways_meet (const WsPlatePart *a, const WsPlatePart *b)
{
  double s1, s2, s3, s4;

  s1 = side_of (a->from_x, a->from_y, a->tip_x, a->tip_y, b->from_x, b->from_y);
  s2 = side_of (a->from_x, a->from_y, a->tip_x, a->tip_y, b->tip_x, b->tip_y);
  if (a->from_x == b->from_x && a->from_y == b->from_y)
    return s2 == 0 && (a->tip_x - a->from_x) * (b->tip_x - b->from_x) + (a->tip_y - a->from_y) * (b->tip_y - b->from_y) > 0;
  s3 = side_of (b->from_x, b->from_y, b->tip_x, b->tip_y, a->from_x, a->from_y);
  s4 = side_of (b->from_x, b->from_y, b->tip_x, b->tip_y, a->tip_x, a->tip_y);
  if ((s1 > 0 && s2 > 0) || (s1 < 0 && s2 < 0) || (s3 > 0 && s4 > 0) || (s3 < 0 && s4 < 0))
    return FALSE;
  return spans_meet (a->from_x, a->tip_x, b->from_x, b->tip_x) && spans_meet (a->from_y, a->tip_y, b->from_y, b->tip_y);
}

/* Cuts the stretch [*from, *to] of the way to what lies between @least and @most along one axis. */
static void
cut (double start, double way, double least, double most, double *from, double *to)
{
  double a, b;

  if (way == 0)
    {
      if (start <= least || start >= most)
        *to = *from - 1;
      return;
    }
  a = (least - start) / way;
  b = (most - start) / way;
  *from = MAX (*from, MIN (a, b));
  *to = MIN (*to, MAX (a, b));
}

/* By Liang & Barsky 1984 (ACM Transactions on Graphics 3: 1-22). */
gboolean
ws_plate_way_enters (const WsPlatePart *part, const WsPlateBox *box)
{
  double from = 0, to = 1;

  cut (part->from_x, part->tip_x - part->from_x, box->x, box->x + box->width, &from, &to);
  cut (part->from_y, part->tip_y - part->from_y, box->y, box->y + box->height, &from, &to);
  return to - from > 1e-9;
}
