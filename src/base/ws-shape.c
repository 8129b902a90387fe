/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-shape.h"

#include <math.h>
#include <string.h>

#define EDGE_SLACK 1e-9
#define MIN_SIZE 1e-6

gboolean
ws_rect_is_valid (const WsRect *rect)
{
  return isfinite (rect->x) && isfinite (rect->y) && isfinite (rect->width) && isfinite (rect->height) &&
         rect->x >= -EDGE_SLACK && rect->y >= -EDGE_SLACK && rect->width > 0 && rect->height > 0 &&
         rect->x + rect->width <= 1 + EDGE_SLACK && rect->y + rect->height <= 1 + EDGE_SLACK;
}

WsRect
ws_rect_clamped (const WsRect *rect)
{
  double x0 = CLAMP (rect->x, 0.0, 1.0 - MIN_SIZE);
  double y0 = CLAMP (rect->y, 0.0, 1.0 - MIN_SIZE);
  double x1 = CLAMP (rect->x + rect->width, x0 + MIN_SIZE, 1.0);
  double y1 = CLAMP (rect->y + rect->height, y0 + MIN_SIZE, 1.0);

  return (WsRect) { x0, y0, x1 - x0, y1 - y0 };
}

double
ws_rect_overlap (const WsRect *a, const WsRect *b)
{
  double w = MIN (a->x + a->width, b->x + b->width) - MAX (a->x, b->x);
  double h = MIN (a->y + a->height, b->y + b->height) - MAX (a->y, b->y);
  double smaller = MIN (a->width * a->height, b->width * b->height);

  return w > 0 && h > 0 && smaller > 0 ? w * h / smaller : 0;
}

void
ws_rect_to_pixels (const WsRect *rect, int width, int height, int *x, int *y, int *w, int *h)
{
  int x0 = CLAMP ((int) floor (rect->x * width + 1e-6), 0, width - 1);
  int y0 = CLAMP ((int) floor (rect->y * height + 1e-6), 0, height - 1);
  int x1 = CLAMP ((int) ceil ((rect->x + rect->width) * width - 1e-6), x0 + 1, width);
  int y1 = CLAMP ((int) ceil ((rect->y + rect->height) * height - 1e-6), y0 + 1, height);

  *x = x0;
  *y = y0;
  *w = x1 - x0;
  *h = y1 - y0;
}

/* Reads one number and moves on; FALSE at anything that is not a finite number. */
static gboolean
take_number (const char **text, double *number)
{
  char *end;

  *number = g_ascii_strtod (*text, &end);
  if (end == *text || !isfinite (*number))
    return FALSE;
  *text = end;
  return TRUE;
}

gboolean
ws_rect_parse (const char *text, WsRect *rect)
{
  double v[4];

  for (int i = 0; i < 4; i++)
    {
      if (!take_number (&text, &v[i]))
        return FALSE;
      if (*text != (i < 3 ? ',' : '\0'))
        return FALSE;
      text++;
    }
  *rect = (WsRect) { v[0], v[1], v[2], v[3] };
  return ws_rect_is_valid (rect);
}

static WsShape *
shape_new (WsShapeKind kind, const WsRect *rect)
{
  WsShape *shape = g_new0 (WsShape, 1);

  shape->kind = kind;
  shape->bounds = *rect;
  return shape;
}

WsShape *
ws_shape_new_box (const WsRect *rect)
{
  return shape_new (WS_SHAPE_BOX, rect);
}

WsShape *
ws_shape_new_oval (const WsRect *rect)
{
  return shape_new (WS_SHAPE_OVAL, rect);
}

static WsRect
bounds_of (const WsPoint *points, guint n)
{
  double x0 = points[0].x, x1 = x0, y0 = points[0].y, y1 = y0;

  for (guint i = 1; i < n; i++)
    {
      x0 = MIN (x0, points[i].x);
      x1 = MAX (x1, points[i].x);
      y0 = MIN (y0, points[i].y);
      y1 = MAX (y1, points[i].y);
    }
  return (WsRect) { x0, y0, x1 - x0, y1 - y0 };
}

WsShape *
ws_shape_new_outline (const WsPoint *points, guint n_points)
{
  WsShape *shape;
  WsRect bounds;
  double area = 0;

  if (n_points < 3 || n_points > WS_SHAPE_MAX_POINTS)
    return NULL;
  for (guint i = 0; i < n_points; i++)
    {
      const WsPoint *a = &points[i], *b = &points[(i + 1) % n_points];

      if (!isfinite (a->x) || !isfinite (a->y))
        return NULL;
      area += a->x * b->y - b->x * a->y;
    }
  bounds = bounds_of (points, n_points);
  if (!ws_rect_is_valid (&bounds) || fabs (area) < 1e-12)
    return NULL;

  shape = shape_new (WS_SHAPE_OUTLINE, &bounds);
  shape->points = g_memdup2 (points, n_points * sizeof *points);
  shape->n_points = n_points;
  return shape;
}

WsShape *
ws_shape_copy (const WsShape *shape)
{
  WsShape *copy = g_memdup2 (shape, sizeof *shape);

  copy->points = g_memdup2 (shape->points, shape->n_points * sizeof *shape->points);
  return copy;
}

void
ws_shape_free (WsShape *shape)
{
  if (shape == NULL)
    return;
  g_free (shape->points);
  g_free (shape);
}

gboolean
ws_shape_equal (const WsShape *a, const WsShape *b)
{
  return a->kind == b->kind && a->n_points == b->n_points &&
         memcmp (&a->bounds, &b->bounds, sizeof a->bounds) == 0 &&
         (a->n_points == 0 || memcmp (a->points, b->points, a->n_points * sizeof *a->points) == 0);
}

static void
append_number (GString *text, double number)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append_c (text, ' ');
  g_string_append (text, g_ascii_dtostr (buffer, sizeof buffer, number));
}

char *
ws_shape_to_text (const WsShape *shape)
{
  static const char *const names[] = { "box", "oval", "outline" };
  GString *text = g_string_new (names[shape->kind]);

  if (shape->kind == WS_SHAPE_OUTLINE)
    for (guint i = 0; i < shape->n_points; i++)
      {
        append_number (text, shape->points[i].x);
        append_number (text, shape->points[i].y);
      }
  else
    {
      append_number (text, shape->bounds.x);
      append_number (text, shape->bounds.y);
      append_number (text, shape->bounds.width);
      append_number (text, shape->bounds.height);
    }
  return g_string_free (text, FALSE);
}

static GArray *
read_numbers (const char *text)
{
  GArray *numbers = g_array_new (FALSE, FALSE, sizeof (double));
  double number;

  while (*text == ' ' && take_number (&text, &number) && numbers->len < 2 * WS_SHAPE_MAX_POINTS)
    g_array_append_val (numbers, number);
  if (*text != '\0')
    g_array_set_size (numbers, 0);
  return numbers;
}

WsShape *
ws_shape_parse (const char *text)
{
  g_autoptr (GArray) numbers = NULL;
  const double *v;
  WsShapeKind kind;

  if (text == NULL)
    return NULL;
  if (g_str_has_prefix (text, "outline "))
    kind = WS_SHAPE_OUTLINE;
  else if (g_str_has_prefix (text, "oval "))
    kind = WS_SHAPE_OVAL;
  else if (g_str_has_prefix (text, "box "))
    kind = WS_SHAPE_BOX;
  else
    return NULL;

  numbers = read_numbers (strchr (text, ' '));
  v = (const double *) numbers->data;
  if (kind == WS_SHAPE_OUTLINE)
    return numbers->len % 2 == 0 ? ws_shape_new_outline ((const WsPoint *) v, numbers->len / 2) : NULL;
  if (numbers->len == 4)
    {
      WsRect rect = { v[0], v[1], v[2], v[3] };

      if (ws_rect_is_valid (&rect))
        return shape_new (kind, &rect);
    }
  return NULL;
}

gboolean
ws_shape_contains (const WsShape *shape, double x, double y)
{
  const WsRect *b = &shape->bounds;
  gboolean inside = FALSE;

  if (x < b->x || y < b->y || x > b->x + b->width || y > b->y + b->height)
    return FALSE;
  if (shape->kind == WS_SHAPE_BOX)
    return TRUE;
  if (shape->kind == WS_SHAPE_OVAL)
    {
      double dx = (x - b->x) / b->width * 2 - 1, dy = (y - b->y) / b->height * 2 - 1;

      return dx * dx + dy * dy <= 1;
    }
  for (guint i = 0, j = shape->n_points - 1; i < shape->n_points; j = i++)
    {
      const WsPoint *a = &shape->points[i], *c = &shape->points[j];

      if ((a->y > y) != (c->y > y) && x < (c->x - a->x) * (y - a->y) / (c->y - a->y) + a->x)
        inside = !inside;
    }
  return inside;
}

WsShape *
ws_shape_with_bounds (const WsShape *shape, const WsRect *bounds)
{
  WsShape *moved = ws_shape_copy (shape);

  moved->bounds = *bounds;
  for (guint i = 0; i < moved->n_points; i++)
    {
      WsPoint *p = &moved->points[i];

      p->x = bounds->x + (p->x - shape->bounds.x) / shape->bounds.width * bounds->width;
      p->y = bounds->y + (p->y - shape->bounds.y) / shape->bounds.height * bounds->height;
    }
  return moved;
}
