/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-ink.h"

#include <math.h>

/* Longest way, user units, between two points of a line, so that its width can change. */
#define STEP 3.0
/* A turn sharper than this (cosine) ends one stroke of the pen and begins another. */
#define CORNER 0.45
/* The direction in which lines are heaviest, of length 1. */
#define SHADE_X 0.5
#define SHADE_Y 0.866

typedef struct { double x, y; } Point;

/* A number 0-1 that depends on @n alone. */
static double
chance (guint n)
{
  n = (n ^ 61) ^ (n >> 16);
  n *= 9;
  n ^= n >> 4;
  n *= 0x27d4eb2d;
  n ^= n >> 15;
  return (n & 0xffff) / 65535.0;
}

/* Smooth noise 0-1 along a line. */
static double
tremble (double way, guint seed)
{
  double at = way / 14.0;
  guint cell = (guint) floor (at);
  double t = at - cell, s = t * t * (3 - 2 * t);

  return chance (seed * 7919 + cell) * (1 - s) + chance (seed * 7919 + cell + 1) * s;
}

static void
add_point (GArray *line, double x, double y)
{
  Point last = { x, y };
  double way;
  int n;

  if (line->len > 0)
    last = g_array_index (line, Point, line->len - 1);
  way = hypot (x - last.x, y - last.y);
  if (line->len > 0 && way < 1e-3)
    return;
  n = MAX (1, (int) ceil (way / STEP));
  for (int i = 1; i <= n; i++)
    {
      Point p = { last.x + (x - last.x) * i / n, last.y + (y - last.y) * i / n };

      g_array_append_val (line, p);
    }
}

static double
signed_area (const GArray *line)
{
  double area = 0;

  for (guint i = 0; i < line->len; i++)
    {
      const Point *a = &g_array_index (line, Point, i), *b = &g_array_index (line, Point, (i + 1) % line->len);

      area += a->x * b->y - b->x * a->y;
    }
  return area;
}

/* The unit normal of the way from a to b, to the right of it (downward y). */
static Point
normal (const Point *a, const Point *b)
{
  double way = MAX (hypot (b->x - a->x, b->y - a->y), 1e-9);

  return (Point) { -(b->y - a->y) / way, (b->x - a->x) / way };
}

/* Appends points @from to @to as a ribbon. @outward: 1 or -1 makes the normal point out of a closed shape; 0: an
 * open line, which runs out at its ends. @way: how far the pen has come, in and out. */
static void
append_ribbon (cairo_t *cr, const GArray *line, guint from, guint to, double width, double outward, double taper,
               guint seed, double *way)
{
  const Point *p = (const Point *) line->data;
  guint n = to - from + 1;
  g_autofree Point *left = g_new (Point, n);
  g_autofree Point *right = g_new (Point, n);

  for (guint i = from; i <= to; i++)
    {
      const Point *a = &p[i > from ? i - 1 : i], *b = &p[i < to ? i + 1 : i];
      Point side = normal (a, b);
      double pressure = 0.68 + 0.5 * tremble (*way, seed);

      if (outward != 0)
        pressure *= 0.95 + 0.4 * outward * (side.x * SHADE_X + side.y * SHADE_Y);
      else
        {
          double t = n > 1 ? (double) (i - from) / (n - 1) : 0.5;

          pressure *= 1 - taper * (1 - MIN (1.0, 0.35 + 4 * t) * MIN (1.0, 0.15 + 2.2 * (1 - t)));
        }
      left[i - from] = (Point) { p[i].x + side.x * width * pressure / 2, p[i].y + side.y * width * pressure / 2 };
      right[i - from] = (Point) { p[i].x - side.x * width * pressure / 2, p[i].y - side.y * width * pressure / 2 };
      if (i < to)
        *way += hypot (p[i + 1].x - p[i].x, p[i + 1].y - p[i].y);
    }
  cairo_move_to (cr, left[0].x, left[0].y);
  for (guint i = 1; i < n; i++)
    cairo_line_to (cr, left[i].x, left[i].y);
  for (guint i = n; i-- > 0;)
    cairo_line_to (cr, right[i].x, right[i].y);
  cairo_close_path (cr);
}

/* A round end, so that a corner has no notch. */
static void
append_dot (cairo_t *cr, const Point *at, double width)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, at->x, at->y, width * 0.42, 0, 2 * G_PI);
  cairo_close_path (cr);
}

static gboolean
is_corner (const Point *a, const Point *b, const Point *c)
{
  Point n = normal (a, b), m = normal (b, c);

  return n.x * m.x + n.y * m.y < CORNER;
}

static void
append_line (cairo_t *cr, const GArray *line, gboolean closed, double width, double taper, guint seed)
{
  const Point *p = (const Point *) line->data;
  double outward = closed ? (signed_area (line) > 0 ? -1 : 1) : 0, way = 0;
  guint from = 0;

  if (line->len < 2)
    {
      if (line->len == 1)
        append_dot (cr, p, width);
      return;
    }
  for (guint i = 1; i + 1 < line->len; i++)
    if (is_corner (&p[i - 1], &p[i], &p[i + 1]))
      {
        append_ribbon (cr, line, from, i, width, outward, taper, seed, &way);
        append_dot (cr, &p[i], width);
        from = i;
      }
  append_ribbon (cr, line, from, line->len - 1, width, outward, taper, seed, &way);
  if (closed)
    append_dot (cr, &p[0], width);
}

void
ws_ink_stroke (cairo_t *cr, double width, double taper, guint seed)
{
  cairo_path_t *path = cairo_copy_path_flat (cr);
  g_autoptr (GArray) line = g_array_new (FALSE, FALSE, sizeof (Point));
  gboolean closed = FALSE;

  cairo_new_path (cr);
  for (int i = 0; path->status == CAIRO_STATUS_SUCCESS && i < path->num_data; i += path->data[i].header.length)
    {
      const cairo_path_data_t *item = &path->data[i];

      if (item->header.type == CAIRO_PATH_MOVE_TO)
        {
          append_line (cr, line, closed, width, taper, seed++);
          g_array_set_size (line, 0);
          closed = FALSE;
        }
      if (item->header.type != CAIRO_PATH_CLOSE_PATH)
        add_point (line, item[1].point.x, item[1].point.y);
      else if (line->len > 0)
        {
          Point first = g_array_index (line, Point, 0);

          add_point (line, first.x, first.y);
          closed = TRUE;
          append_line (cr, line, closed, width, taper, seed++);
          g_array_set_size (line, 0);
          closed = FALSE;
        }
    }
  append_line (cr, line, closed, width, taper, seed);
  cairo_path_destroy (path);
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_WINDING);
  cairo_fill (cr);
}

void
ws_ink_hatch (cairo_t *cr, double spacing, double width)
{
  double x0, y0, x1, y1;
  guint n = 0;

  cairo_save (cr);
  cairo_path_extents (cr, &x0, &y0, &x1, &y1);
  cairo_clip (cr);
  cairo_set_line_width (cr, width);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  /* Lines falling to the left at 50 degrees; each starts from the top edge or the right of it. */
  for (double x = x0; x < x1 + (y1 - y0) * 0.84 && n < 2000; x += spacing * (0.8 + 0.4 * chance (n)), n++)
    {
      double lean = spacing * 0.5 * (chance (n + 5000) - 0.5);

      cairo_move_to (cr, x + lean, y0);
      cairo_line_to (cr, x - lean - (y1 - y0) * 0.84, y1);
    }
  cairo_stroke (cr);
  cairo_restore (cr);
  cairo_new_path (cr);
}

void
ws_ink_dash (cairo_t *cr, double width, double length, double gap)
{
  double dashes[2] = { length, gap };

  cairo_save (cr);
  cairo_set_dash (cr, dashes, 2, 0);
  cairo_set_line_width (cr, width);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (cr);
  cairo_restore (cr);
}
