/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Path data of a figure: M, L, C, Q and Z of SVG 1.1, section 8.3, absolute and relative. */
#include "ws-figure-private.h"

#include <math.h>
#include <string.h>

/* How far a point may lie outside the viewBox, figure units. Bounds what drawing a hostile file costs. */
#define MARGIN 50.0

typedef struct
{
  const char *at;       /* what is left to read */
  GArray *data;
  double x, y;          /* current point */
  double start_x, start_y;
  gboolean open;        /* a subpath was begun and not closed */
  gboolean all_closed;
  guint n_segments;
  double width, height; /* of the viewBox */
} Pen;

static void
skip_blanks (const char **text, gboolean comma)
{
  while (g_ascii_isspace (**text) || (comma && **text == ','))
    {
      if (**text == ',')
        comma = FALSE;
      (*text)++;
    }
}

gboolean
ws_figure_number_take (const char **text, double *number)
{
  const char *c;
  char *end;

  skip_blanks (text, TRUE);
  *number = g_ascii_strtod (*text, &end);
  if (end == *text || !isfinite (*number))
    return FALSE;
  for (c = *text; c < end; c++)    /* strtod also reads "0x1F" and "inf" */
    if (!g_ascii_isdigit (*c) && strchr ("+-.eE", *c) == NULL)
      return FALSE;
  *text = end;
  return TRUE;
}

static gboolean
next_is_number (Pen *pen)
{
  skip_blanks (&pen->at, TRUE);
  return *pen->at != '\0' && (g_ascii_isdigit (*pen->at) || strchr ("+-.", *pen->at) != NULL);
}

static gboolean
take_point (Pen *pen, gboolean relative, double *x, double *y)
{
  if (!ws_figure_number_take (&pen->at, x) || !ws_figure_number_take (&pen->at, y))
    return FALSE;
  if (relative)
    {
      *x += pen->x;
      *y += pen->y;
    }
  return *x >= -MARGIN && *y >= -MARGIN && *x <= pen->width + MARGIN && *y <= pen->height + MARGIN;
}

static void
put (Pen *pen, cairo_path_data_type_t type, const double *points, int n_points)
{
  cairo_path_data_t item = { 0 };

  item.header.type = type;
  item.header.length = 1 + n_points;
  g_array_append_val (pen->data, item);
  for (int i = 0; i < n_points; i++)
    {
      cairo_path_data_t point = { 0 };

      point.point.x = points[2 * i];
      point.point.y = points[2 * i + 1];
      g_array_append_val (pen->data, point);
    }
  if (n_points > 0)
    {
      pen->x = points[2 * n_points - 2];
      pen->y = points[2 * n_points - 1];
    }
  pen->n_segments += n_points > 0 && type != CAIRO_PATH_MOVE_TO;
}

static void
begin_subpath (Pen *pen, const double *p)
{
  if (pen->open)
    pen->all_closed = FALSE;
  put (pen, CAIRO_PATH_MOVE_TO, p, 1);
  pen->start_x = p[0];
  pen->start_y = p[1];
  pen->open = TRUE;
}

/* A curve without bend is stored as the line it is: cairo_in_fill() of 1.16 skips curves whose control points
 * lie on their ends. */
static void
put_curve (Pen *pen, const double *c)
{
  const double near = 1.0 / 64;

  if (hypot (c[0] - pen->x, c[1] - pen->y) < near && hypot (c[4] - c[2], c[5] - c[3]) < near)
    put (pen, CAIRO_PATH_LINE_TO, c + 4, 1);
  else
    put (pen, CAIRO_PATH_CURVE_TO, c, 3);
}

static void
put_quadratic (Pen *pen, const double *q)
{
  double c[6] = { pen->x + 2.0 / 3 * (q[0] - pen->x), pen->y + 2.0 / 3 * (q[1] - pen->y),
                  q[2] + 2.0 / 3 * (q[0] - q[2]), q[3] + 2.0 / 3 * (q[1] - q[3]), q[2], q[3] };

  put_curve (pen, c);
}

/* One set of coordinates of a command. */
static gboolean
take_segment (Pen *pen, char command, gboolean relative)
{
  int n_points = command == 'C' ? 3 : command == 'Q' ? 2 : 1;
  double p[6];

  for (int i = 0; i < n_points; i++)
    if (!take_point (pen, relative, &p[2 * i], &p[2 * i + 1]))
      return FALSE;
  if (command == 'M')
    begin_subpath (pen, p);
  else if (command == 'L')
    put (pen, CAIRO_PATH_LINE_TO, p, 1);
  else if (command == 'C')
    put_curve (pen, p);
  else
    put_quadratic (pen, p);
  return TRUE;
}

/* Reads path data into pen->data. FALSE at anything outside the subset; stops early, with TRUE, once there are
 * more than @limit segments. */
static gboolean
take_path (Pen *pen, guint limit)
{
  while (skip_blanks (&pen->at, FALSE), *pen->at != '\0')
    {
      char letter = *pen->at++, command = g_ascii_toupper (letter);

      if (letter == '\0' || strchr ("MLCQZ", command) == NULL || (pen->data->len == 0 && command != 'M'))
        return FALSE;
      if (command == 'Z')
        {
          if (!pen->open)
            return FALSE;
          put (pen, CAIRO_PATH_CLOSE_PATH, NULL, 0);
          pen->x = pen->start_x;
          pen->y = pen->start_y;
          pen->open = FALSE;
          continue;
        }
      if (command != 'M' && !pen->open)
        return FALSE;
      do
        {
          if (!take_segment (pen, command, g_ascii_islower (letter)))
            return FALSE;
          if (pen->n_segments > limit)
            return TRUE;
          command = command == 'M' ? 'L' : command;   /* more pairs after a move are lines */
        }
      while (next_is_number (pen));
    }
  if (pen->open)
    pen->all_closed = FALSE;
  return pen->data->len > 0;
}

gboolean
ws_figure_path_parse (const char *text, double width, double height, guint limit, GArray *data, guint *n_segments,
                      gboolean *all_closed)
{
  Pen pen = { .at = text, .data = data, .all_closed = TRUE, .width = width, .height = height };
  gboolean read = take_path (&pen, limit);

  *n_segments = pen.n_segments;
  *all_closed = pen.all_closed;
  return read;
}
