/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-figure-private.h"

#include <math.h>
#include <string.h>

#include "ws-error.h"
#include "ws-intl.h"

/* How far a point may lie outside the viewBox, figure units. Bounds what drawing a hostile file costs. */
#define MARGIN 50.0
#define MIN_SIDE 10.0
#define MAX_SIDE 1000.0
#define MAX_PARTS 64

typedef struct
{
  const char *file;
  WsFigure *figure;
  gboolean seen_svg;
  gboolean in_path;
  guint n_segments;
} Reader;

static void
figure_path_free (FigurePath *path)
{
  g_free (path->variant);
  g_array_unref (path->data);
  g_free (path);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (FigurePath, figure_path_free)

static gboolean fail (Reader *reader, GMarkupParseContext *context, GError **error, const char *format, ...)
  G_GNUC_PRINTF (4, 5);

/* Says what is wrong and on which line; always FALSE. */
static gboolean
fail (Reader *reader, GMarkupParseContext *context, GError **error, const char *format, ...)
{
  g_autofree char *what = NULL;
  va_list args;
  int line;

  va_start (args, format);
  what = g_strdup_vprintf (format, args);
  va_end (args);
  g_markup_parse_context_get_position (context, &line, NULL);
  /* Translators: file, line, what is wrong with the drawing. */
  g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("%s, line %d: %s. Correct the figure or take the one that came with the program."),
               reader->file, line, what);
  return FALSE;
}

/* --- Path data ------------------------------------------------------------------- */

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
skip_blanks (Pen *pen, gboolean comma)
{
  while (g_ascii_isspace (*pen->at) || (comma && *pen->at == ','))
    {
      if (*pen->at == ',')
        comma = FALSE;
      pen->at++;
    }
}

static gboolean
take_number (Pen *pen, double *number)
{
  const char *c;
  char *end;

  skip_blanks (pen, TRUE);
  *number = g_ascii_strtod (pen->at, &end);
  if (end == pen->at || !isfinite (*number))
    return FALSE;
  for (c = pen->at; c < end; c++)    /* strtod also reads "0x1F" and "inf" */
    if (!g_ascii_isdigit (*c) && strchr ("+-.eE", *c) == NULL)
      return FALSE;
  pen->at = end;
  return TRUE;
}

static gboolean
next_is_number (Pen *pen)
{
  skip_blanks (pen, TRUE);
  return *pen->at != '\0' && (g_ascii_isdigit (*pen->at) || strchr ("+-.", *pen->at) != NULL);
}

static gboolean
take_point (Pen *pen, gboolean relative, double *x, double *y)
{
  if (!take_number (pen, x) || !take_number (pen, y))
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
  while (skip_blanks (pen, FALSE), *pen->at != '\0')
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

/* --- Elements --------------------------------------------------------------------- */

static gboolean
is_id (const char *text)
{
  return *text != '\0' && strlen (text) <= 40 && strspn (text, "abcdefghijklmnopqrstuvwxyz0123456789_") == strlen (text);
}

static gboolean
read_svg (Reader *reader, GMarkupParseContext *context, const char **names, const char **values, GError **error)
{
  Pen pen = { NULL };
  double zero[2];

  for (int i = 0; names[i] != NULL; i++)
    {
      if (g_str_equal (names[i], "viewBox"))
        pen.at = values[i];
      else if (!g_str_equal (names[i], "xmlns") &&
               !(g_str_equal (names[i], "fill") && g_str_equal (values[i], "none")) &&
               !(g_str_equal (names[i], "stroke") && g_str_equal (values[i], "black")))
        return fail (reader, context, error, _("“%s” is not allowed on the drawing"), names[i]);
    }
  if (pen.at == NULL || !take_number (&pen, &zero[0]) || !take_number (&pen, &zero[1]) || zero[0] != 0 || zero[1] != 0 ||
      !take_number (&pen, &reader->figure->width) || !take_number (&pen, &reader->figure->height) ||
      *pen.at != '\0' || reader->figure->width < MIN_SIDE || reader->figure->width > MAX_SIDE ||
      reader->figure->height < MIN_SIDE || reader->figure->height > MAX_SIDE)
    return fail (reader, context, error, _("the viewBox is not “0 0 width height”"));
  reader->seen_svg = TRUE;
  return TRUE;
}

static gboolean
read_class (Reader *reader, GMarkupParseContext *context, const char *text, FigureFlags *flags, GError **error)
{
  g_auto (GStrv) words = g_strsplit (text, " ", 8);

  if (g_strcmp0 (words[0], "outline") == 0)
    *flags = FIGURE_OUTLINE;
  else if (g_strcmp0 (words[0], "edge") == 0)
    *flags = FIGURE_EDGE;
  else if (g_strcmp0 (words[0], "detail") == 0)
    *flags = 0;
  else
    return fail (reader, context, error, _("a path is no “outline”, “edge” or “detail”"));
  for (int i = 1; words[i] != NULL; i++)
    {
      if (g_str_equal (words[i], "aside"))
        *flags |= FIGURE_ASIDE;
      else if (g_str_equal (words[i], "small"))
        *flags |= FIGURE_SMALL;
      else if (g_str_equal (words[i], "open"))
        *flags |= FIGURE_OPEN;
      else if (g_str_equal (words[i], "ground"))
        *flags |= FIGURE_GROUND;
      else
        return fail (reader, context, error, _("the class “%s” is not known"), words[i]);
    }
  return TRUE;
}

static gboolean
read_variant (Reader *reader, GMarkupParseContext *context, const char *text, FigurePath *path, GError **error)
{
  static const char *const known[] = { "ring", "plain", "bag", "collar", "scaly", "bulb", "rooting", NULL };

  if (!g_strv_contains (known, text))
    return fail (reader, context, error, _("the variant “%s” is not known"), text);
  g_free (path->variant);
  path->variant = g_strdup (text);
  return TRUE;
}

static gboolean
read_data (Reader *reader, GMarkupParseContext *context, const char *text, FigurePath *path, gboolean *closed,
           GError **error)
{
  Pen pen = { .at = text, .data = path->data, .all_closed = TRUE,
              .width = reader->figure->width, .height = reader->figure->height };

  if (!take_path (&pen, WS_FIGURE_MAX_SEGMENTS - reader->n_segments))
    return fail (reader, context, error, _("the path is not made of M, L, C, Q and Z with points inside the viewBox"));
  reader->n_segments += pen.n_segments;
  if (reader->n_segments > WS_FIGURE_MAX_SEGMENTS)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE,
                   _("%s has more than %d path segments. Draw it with fewer."), reader->file, WS_FIGURE_MAX_SEGMENTS);
      return FALSE;
    }
  *closed = pen.all_closed;
  return TRUE;
}

static guint
part_index (WsFigure *figure, const char *part)
{
  int index = ws_figure_find_part (figure, part);

  if (index >= 0)
    return index;
  g_ptr_array_add (figure->names, g_strdup (part));
  g_array_set_size (figure->parts, figure->parts->len + 1);
  return figure->names->len - 1;
}

static gboolean
read_path (Reader *reader, GMarkupParseContext *context, const char **names, const char **values, GError **error)
{
  g_autoptr (FigurePath) path = g_new0 (FigurePath, 1);
  const char *part = NULL, *class = NULL;
  gboolean closed = FALSE;

  path->data = g_array_new (FALSE, TRUE, sizeof (cairo_path_data_t));
  for (int i = 0; names[i] != NULL; i++)
    {
      if (g_str_equal (names[i], "data-part"))
        part = values[i];
      else if (g_str_equal (names[i], "class"))
        class = values[i];
      else if (g_str_equal (names[i], "d"))
        {
          if (!read_data (reader, context, values[i], path, &closed, error))
            return FALSE;
        }
      else if (g_str_equal (names[i], "data-variant"))
        {
          if (!read_variant (reader, context, values[i], path, error))
            return FALSE;
        }
      else if (!g_str_equal (names[i], "id"))
        return fail (reader, context, error, _("“%s” is not allowed on a path"), names[i]);
    }
  if (part == NULL || !is_id (part) || class == NULL || path->data->len == 0)
    return fail (reader, context, error, _("a path lacks data-part, class or d"));
  if (!read_class (reader, context, class, &path->flags, error))
    return FALSE;
  if ((path->flags & FIGURE_OUTLINE) && !closed)
    return fail (reader, context, error, _("an outline is not closed"));
  if (!(path->flags & FIGURE_OUTLINE) && ws_figure_find_part (reader->figure, part) < 0)
    return fail (reader, context, error, _("a line of “%s” stands before its outline"), part);
  path->part = part_index (reader->figure, part);
  if (reader->figure->names->len > MAX_PARTS)
    return fail (reader, context, error, _("there are more than %d parts"), MAX_PARTS);
  g_ptr_array_add (reader->figure->paths, g_steal_pointer (&path));
  return TRUE;
}

static void
start_element (GMarkupParseContext *context, const char *element, const char **names, const char **values,
               gpointer data, GError **error)
{
  Reader *reader = data;

  if (!reader->seen_svg && g_str_equal (element, "svg"))
    read_svg (reader, context, names, values, error);
  else if (reader->seen_svg && !reader->in_path && g_str_equal (element, "path"))
    {
      reader->in_path = TRUE;
      read_path (reader, context, names, values, error);
    }
  else
    fail (reader, context, error, _("the element “%s” is not allowed here"), element);
}

static void
end_element (GMarkupParseContext *context, const char *element, gpointer data, GError **error)
{
  ((Reader *) data)->in_path = FALSE;
}

static void
text_found (GMarkupParseContext *context, const char *text, gsize length, gpointer data, GError **error)
{
  for (gsize i = 0; i < length; i++)
    if (!g_ascii_isspace (text[i]))
      {
        fail (data, context, error, _("text is not allowed"));
        return;
      }
}

/* Comments and the XML declaration only: no document type, no CDATA. */
static void
passthrough_found (GMarkupParseContext *context, const char *text, gsize length, gpointer data, GError **error)
{
  if (!(length >= 4 && strncmp (text, "<!--", 4) == 0) && !(length >= 6 && strncmp (text, "<?xml ", 6) == 0))
    fail (data, context, error, _("only comments are allowed between paths"));
}

/* An XML error of GMarkup's own, told like ours. */
static void
name_file (const char *file, GError **error)
{
  if (error != NULL && (*error)->domain == G_MARKUP_ERROR)
    {
      g_autoptr (GError) inner = g_steal_pointer (error);

      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("%s is not a drawing: %s"), file, inner->message);
    }
}

static WsFigure *
figure_new (void)
{
  WsFigure *figure = g_new0 (WsFigure, 1);

  g_atomic_ref_count_init (&figure->refs);
  figure->paths = g_ptr_array_new_with_free_func ((GDestroyNotify) figure_path_free);
  figure->names = g_ptr_array_new_with_free_func (g_free);
  figure->parts = g_array_new (FALSE, TRUE, sizeof (FigurePart));
  return figure;
}

WsFigure *
ws_figure_parse (const char *file, GBytes *bytes, GError **error)
{
  static const GMarkupParser parser = { start_element, end_element, text_found, passthrough_found, NULL };
  g_autoptr (WsFigure) figure = figure_new ();
  Reader reader = { .file = file, .figure = figure };
  g_autoptr (GMarkupParseContext) context = NULL;
  gsize size;
  const char *text = g_bytes_get_data (bytes, &size);

  if (size > WS_FIGURE_MAX_BYTES)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE, _("%s is larger than %d kB, which no figure needs."), file,
                   WS_FIGURE_MAX_BYTES / 1024);
      return NULL;
    }
  context = g_markup_parse_context_new (&parser, 0, &reader, NULL);
  if (!g_markup_parse_context_parse (context, text != NULL ? text : "", size, error) ||
      !g_markup_parse_context_end_parse (context, error))
    {
      name_file (file, error);
      return NULL;
    }
  if (figure->names->len == 0)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("%s holds no part."), file);
      return NULL;
    }
  g_ptr_array_add (figure->names, NULL);
  ws_figure_measure (figure);
  return g_steal_pointer (&figure);
}

WsFigure *
ws_figure_ref (WsFigure *figure)
{
  g_atomic_ref_count_inc (&figure->refs);
  return figure;
}

void
ws_figure_unref (WsFigure *figure)
{
  if (figure == NULL || !g_atomic_ref_count_dec (&figure->refs))
    return;
  g_ptr_array_unref (figure->paths);
  g_ptr_array_unref (figure->names);
  g_array_unref (figure->parts);
  g_free (figure);
}
