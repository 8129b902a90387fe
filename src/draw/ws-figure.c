/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-figure-private.h"

#include <math.h>

#include "ws-ink.h"

/* Widths in figure units at full size; never thinner than the eye sees. */
#define LINE 0.95
#define DETAIL 0.52
#define MIN_LINE 0.9    /* units of the context */
#define MIN_DETAIL 0.5

/* --- Look-ups ------------------------------------------------------------------- */

void
ws_figure_get_size (const WsFigure *figure, double *width, double *height)
{
  *width = figure->width;
  *height = figure->height;
}

const char *const *
ws_figure_get_parts (const WsFigure *figure)
{
  return (const char *const *) figure->names->pdata;
}

int
ws_figure_find_part (const WsFigure *figure, const char *part)
{
  for (guint i = 0; i < figure->parts->len; i++)
    if (g_str_equal (g_ptr_array_index (figure->names, i), part))
      return i;
  return -1;
}

gboolean
ws_figure_get_anchor (const WsFigure *figure, const char *part, double *x, double *y)
{
  int index = ws_figure_find_part (figure, part);

  if (index < 0)
    return FALSE;
  *x = g_array_index (figure->parts, FigurePart, index).x;
  *y = g_array_index (figure->parts, FigurePart, index).y;
  return TRUE;
}

gboolean
ws_figure_get_bounds (const WsFigure *figure, const char *part, double *x, double *y, double *width, double *height)
{
  int index = ws_figure_find_part (figure, part);
  const FigurePart *found;

  if (index < 0)
    return FALSE;
  found = &g_array_index (figure->parts, FigurePart, index);
  *x = found->x0;
  *y = found->y0;
  *width = found->x1 - found->x0;
  *height = found->y1 - found->y0;
  return TRUE;
}

void
ws_figure_path_append (const FigurePath *path, cairo_t *cr)
{
  cairo_path_t whole = { CAIRO_STATUS_SUCCESS, (cairo_path_data_t *) path->data->data, (int) path->data->len };

  cairo_append_path (cr, &whole);
}

gboolean
ws_figure_hits (const WsFigure *figure, const char *part, double x, double y)
{
  int index = ws_figure_find_part (figure, part);
  cairo_surface_t *surface;
  gboolean hit = FALSE;
  cairo_t *cr;

  if (index < 0)
    return FALSE;
  surface = cairo_recording_surface_create (CAIRO_CONTENT_ALPHA, NULL);
  cr = cairo_create (surface);
  for (guint i = 0; i < figure->paths->len && !hit; i++)
    {
      const FigurePath *path = g_ptr_array_index (figure->paths, i);

      if (path->part != (guint) index || !(path->flags & FIGURE_OUTLINE))
        continue;
      cairo_new_path (cr);
      ws_figure_path_append (path, cr);
      hit = cairo_in_fill (cr, x, y);
    }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return hit;
}

gboolean
ws_figure_path_is_drawn (const FigurePath *path, const char *base)
{
  return path->variant == NULL || g_str_equal (path->variant, "ring") || g_str_equal (path->variant, base);
}

/* --- Drawing ---------------------------------------------------------------------- */

WsFigurePlace
ws_figure_place (const WsFigure *figure, double x, double y, double w, double h)
{
  gboolean small = h < WS_FIGURE_SMALL;
  double x0 = small ? figure->main[0] : 0, y0 = small ? figure->main[1] : 0;
  double width = small ? figure->main[2] - x0 : figure->width, height = small ? figure->main[3] - y0 : figure->height;
  double scale = MIN (w / MAX (width, 1), h / MAX (height, 1));

  return (WsFigurePlace) { scale, x + (w - width * scale) / 2 - x0 * scale, y + (h - height * scale) / 2 - y0 * scale };
}

/* What the drawing calls the recorded state of the character stem_base. */
const char *
ws_figure_base_variant (const WsFigure *figure, const char *state)
{
  static const struct { const char *state, *variant; } table[] = {
    { "volva_sac", "bag" }, { "volva_collar", "collar" }, { "volva_crumbly", "scaly" }, { "volva_traces", "scaly" },
    { "club", "bulb" }, { "bulb", "bulb" }, { "rimmed_bulb", "bulb" }, { "rooting", "rooting" }, { "pointed", "rooting" },
  };
  const char *wanted = "plain";

  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    if (g_strcmp0 (table[i].state, state) == 0)
      wanted = table[i].variant;
  for (guint i = 0; i < figure->paths->len; i++)
    if (g_strcmp0 (((FigurePath *) g_ptr_array_index (figure->paths, i))->variant, wanted) == 0)
      return wanted;
  return "plain";
}

typedef struct
{
  const WsFigure *figure;
  const WsFigureLook *look;
  cairo_t *cr;
  double unit;            /* figure units of one unit of the context */
  gboolean small;
} Canvas;

static void
set_mix (const Canvas *canvas, double ink)
{
  const double *i = canvas->look->ink, *p = canvas->look->paper;

  cairo_set_source_rgb (canvas->cr, p[0] + (i[0] - p[0]) * ink, p[1] + (i[1] - p[1]) * ink, p[2] + (i[2] - p[2]) * ink);
}

static double
width_of (const Canvas *canvas, double width, double least)
{
  return MAX (width, least * canvas->unit);
}

/* How a part is drawn. */
typedef enum { MANNER_INK, MANNER_HATCH, MANNER_DASH, MANNER_FAINT, MANNER_PLACE } Manner;

static Manner
manner_of (const Canvas *canvas, const FigurePath *path)
{
  const WsFigureLook *look = canvas->look;
  const char *part = g_ptr_array_index (canvas->figure->names, path->part);
  WsEvidenceState state = look->state_of != NULL ? look->state_of (part, look->data) : WS_EVIDENCE_SHOWN;

  if (state == WS_EVIDENCE_MISSING && !look->ring && g_strcmp0 (path->variant, "ring") == 0)
    return MANNER_PLACE;
  if (look->is_asked != NULL && !look->is_asked (part, look->data))
    return state == WS_EVIDENCE_SHOWN ? MANNER_INK : MANNER_FAINT;
  return state == WS_EVIDENCE_SHOWN ? MANNER_INK : state == WS_EVIDENCE_WEAK ? MANNER_HATCH : MANNER_DASH;
}

/* The edge of a shape. */
static void
draw_edge (const Canvas *canvas, const FigurePath *path, Manner manner, guint seed)
{
  static const double darkness[] = { 1, 0.62, 0.72, 0.4, 0.4 };
  static const double heaviness[] = { 1, 0.8, 0.85, 0.6, 0.6 };
  const char *part = g_ptr_array_index (canvas->figure->names, path->part);
  gboolean armed = g_strcmp0 (canvas->look->armed, part) == 0;
  double line = width_of (canvas, LINE, MIN_LINE) * heaviness[manner] * (armed ? 2.4 : 1);

  ws_figure_path_append (path, canvas->cr);
  set_mix (canvas, armed ? 1 : darkness[manner]);
  if (manner == MANNER_DASH || manner == MANNER_PLACE)
    ws_ink_dash (canvas->cr, line, MAX (3.2, 2.5 * canvas->unit), MAX (2.4, 2.0 * canvas->unit));
  else
    ws_ink_stroke (canvas->cr, line, 0.25, seed);
}

/* A closed shape: paper first, so that it hides what lies behind it, then wash or hatching, then its edge. */
static void
draw_outline (const Canvas *canvas, const FigurePath *path, guint seed)
{
  Manner manner = manner_of (canvas, path);
  cairo_t *cr = canvas->cr;

  if (manner != MANNER_PLACE)
    {
      ws_figure_path_append (path, cr);
      set_mix (canvas, manner != MANNER_INK ? 0 : canvas->small ? 0.3 : 0.07);
      cairo_fill (cr);
    }
  if (manner == MANNER_HATCH)
    {
      ws_figure_path_append (path, cr);
      set_mix (canvas, 0.5);
      ws_ink_hatch (cr, MAX (canvas->small ? 3.5 * canvas->unit : 0, 4.2), width_of (canvas, DETAIL, MIN_DETAIL));
    }
  if (!(path->flags & FIGURE_OPEN))
    draw_edge (canvas, path, manner, seed);
}

static void
draw_detail (const Canvas *canvas, const FigurePath *path, guint seed)
{
  if (canvas->small && !(path->flags & FIGURE_SMALL))
    return;
  if (manner_of (canvas, path) != MANNER_INK)
    return;
  ws_figure_path_append (path, canvas->cr);
  set_mix (canvas, 0.85);
  ws_ink_stroke (canvas->cr, width_of (canvas, DETAIL, MIN_DETAIL), 1, seed);
}

void
ws_figure_draw (const WsFigure *figure, cairo_t *cr, double x, double y, double w, double h, const WsFigureLook *look)
{
  WsFigurePlace place = ws_figure_place (figure, x, y, w, h);
  Canvas canvas = { figure, look, cr, 1 / MAX (place.scale, 1e-6), h < WS_FIGURE_SMALL };
  const char *base = ws_figure_base_variant (figure, look->base);

  if (!(place.scale > 0))
    return;
  cairo_save (cr);
  cairo_new_path (cr);
  cairo_translate (cr, place.dx, place.dy);
  cairo_scale (cr, place.scale, place.scale);
  if (canvas.small)
    {
      cairo_rectangle (cr, figure->main[0], figure->main[1], figure->main[2] - figure->main[0],
                       figure->main[3] - figure->main[1]);
      cairo_clip (cr);
    }
  for (guint i = 0; i < figure->paths->len; i++)
    {
      const FigurePath *path = g_ptr_array_index (figure->paths, i);

      if (!ws_figure_path_is_drawn (path, base) || (canvas.small && path->flags & FIGURE_ASIDE))
        continue;
      if (path->flags & FIGURE_OUTLINE)
        draw_outline (&canvas, path, i * 31);
      else if (path->flags & FIGURE_EDGE)
        draw_edge (&canvas, path, manner_of (&canvas, path), i * 31);
      else
        draw_detail (&canvas, path, i * 31);
    }
  cairo_restore (cr);
}
