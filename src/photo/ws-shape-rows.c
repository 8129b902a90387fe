/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-shape-rows.h"

#include <math.h>

static int
compare_numbers (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y ? 1 : 0;
}

static void
add (GArray *crossings, double x)
{
  g_array_append_val (crossings, x);
}

static void
cut_outline (const WsShape *shape, double y, GArray *crossings)
{
  for (guint i = 0; i < shape->n_points; i++)
    {
      const WsPoint *a = &shape->points[i], *b = &shape->points[(i + 1) % shape->n_points];

      if ((a->y <= y) != (b->y <= y))
        add (crossings, a->x + (y - a->y) / (b->y - a->y) * (b->x - a->x));
    }
  g_array_sort (crossings, compare_numbers);
}

void
ws_shape_cut (const WsShape *shape, double y, GArray *crossings)
{
  const WsRect *r = &shape->bounds;
  double away = (y - r->y - r->height / 2) / (r->height / 2);
  double half = shape->kind == WS_SHAPE_OVAL ? r->width / 2 * sqrt (MAX (1 - away * away, 0)) : r->width / 2;

  g_array_set_size (crossings, 0);
  if (shape->kind == WS_SHAPE_OUTLINE)
    cut_outline (shape, y, crossings);
  else if (fabs (away) <= 1)
    {
      add (crossings, r->x + r->width / 2 - half);
      add (crossings, r->x + r->width / 2 + half);
    }
}
