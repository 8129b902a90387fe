/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-figure-private.h"

#include <string.h>

#include "ws-error.h"
#include "ws-intl.h"

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

/* --- Elements --------------------------------------------------------------------- */

static gboolean
is_id (const char *text)
{
  return *text != '\0' && strlen (text) <= 40 && strspn (text, "abcdefghijklmnopqrstuvwxyz0123456789_") == strlen (text);
}

static gboolean
read_svg (Reader *reader, GMarkupParseContext *context, const char **names, const char **values, GError **error)
{
  const char *box = NULL;
  double zero[2];

  for (int i = 0; names[i] != NULL; i++)
    {
      if (g_str_equal (names[i], "viewBox"))
        box = values[i];
      else if (!g_str_equal (names[i], "xmlns") &&
               !(g_str_equal (names[i], "fill") && g_str_equal (values[i], "none")) &&
               !(g_str_equal (names[i], "stroke") && g_str_equal (values[i], "black")))
        return fail (reader, context, error, _("“%s” is not allowed on the drawing"), names[i]);
    }
  if (box == NULL || !ws_figure_number_take (&box, &zero[0]) || !ws_figure_number_take (&box, &zero[1]) ||
      zero[0] != 0 || zero[1] != 0 || !ws_figure_number_take (&box, &reader->figure->width) ||
      !ws_figure_number_take (&box, &reader->figure->height) || *box != '\0' || reader->figure->width < MIN_SIDE || reader->figure->width > MAX_SIDE ||
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
  guint n_segments = 0;

  if (!ws_figure_path_parse (text, reader->figure->width, reader->figure->height,
                             WS_FIGURE_MAX_SEGMENTS - reader->n_segments, path->data, &n_segments, closed))
    return fail (reader, context, error, _("the path is not made of M, L, C, Q and Z with points inside the viewBox"));
  reader->n_segments += n_segments;
  if (reader->n_segments > WS_FIGURE_MAX_SEGMENTS)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE,
                   _("%s has more than %d path segments. Draw it with fewer."), reader->file, WS_FIGURE_MAX_SEGMENTS);
      return FALSE;
    }
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
