/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-cover.h"

#include "ws-shape-rows.h"

#include <math.h>
#include <string.h>

#define GREY 128

typedef struct
{
  guint8 *row;           /* pixels of the row */
  int width, height, y;
} Row;

/* Pixels from the one that holds @from to the one that holds @to. */
static void
fill (Row *row, double from, double to)
{
  int first = (int) CLAMP (floor (from), 0, row->width), last = (int) CLAMP (floor (to) + 1, 0, row->width);

  if (first < last)
    memset (row->row + (gsize) first * 3, GREY, (gsize) (last - first) * 3);
}

/* The widest part of the ellipse between the upper and lower edge of the row. */
static void
fill_oval (Row *row, const WsRect *bounds)
{
  double cx = (bounds->x + bounds->width / 2) * row->width, rx = bounds->width / 2 * row->width;
  double cy = (bounds->y + bounds->height / 2) * row->height, ry = bounds->height / 2 * row->height;
  double nearest = CLAMP (cy, row->y, row->y + 1) - cy;
  double rest = 1 - nearest * nearest / (ry * ry);

  if (rest >= 0)
    fill (row, cx - rx * sqrt (rest), cx + rx * sqrt (rest));
}

/* Pixels that an edge of the outline runs through. */
static void
fill_edge (Row *row, double x0, double y0, double x1, double y1)
{
  double top = MAX (MIN (y0, y1), row->y), bottom = MIN (MAX (y0, y1), row->y + 1);
  double from = x0, to = x1;

  if (top > bottom)
    return;
  if (y0 != y1)
    {
      from = x0 + (top - y0) / (y1 - y0) * (x1 - x0);
      to = x0 + (bottom - y0) / (y1 - y0) * (x1 - x0);
    }
  fill (row, MIN (from, to), MAX (from, to));
}

/* Edges, and what lies between them along the middle of the row: together these are all pixels
 * that the outline touches. */
static void
fill_outline (Row *row, const WsShape *shape, GArray *crossings)
{
  for (guint i = 0; i < shape->n_points; i++)
    {
      const WsPoint *a = &shape->points[i], *b = &shape->points[(i + 1) % shape->n_points];

      fill_edge (row, a->x * row->width, a->y * row->height, b->x * row->width, b->y * row->height);
    }
  ws_shape_cut (shape, (row->y + 0.5) / row->height, crossings);
  for (guint i = 0; i + 1 < crossings->len; i += 2)
    fill (row, g_array_index (crossings, double, i) * row->width, g_array_index (crossings, double, i + 1) * row->width);
}

void
ws_cover_paint (guint8 *pixels, int width, int height, const WsShape *shape)
{
  g_autoptr (GArray) crossings = g_array_new (FALSE, FALSE, sizeof (double));
  int x, y, w, h;

  ws_rect_to_pixels (&shape->bounds, width, height, &x, &y, &w, &h);
  for (int i = y; i < y + h; i++)
    {
      Row row = { pixels + (gsize) i * (gsize) width * 3, width, height, i };

      if (shape->kind == WS_SHAPE_OVAL)
        fill_oval (&row, &shape->bounds);
      else if (shape->kind == WS_SHAPE_OUTLINE)
        fill_outline (&row, shape, crossings);
      else
        fill (&row, x, x + w - 1);
    }
}
