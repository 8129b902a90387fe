/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a WsFigureView looks: the figure, then leaders or numbers over it, then its children. */
#include "ws-figure-view-private.h"

#include <pango/pangocairo.h>

#include "ws-desktop-color.h"

typedef struct { GdkRGBA ink, paper; } Colours;

static Colours
get_colours (GtkWidget *widget)
{
  Colours colours = { .paper = { 1, 1, 1, 1 } };

  ws_desktop_get_color (widget, &colours.ink);
  if (!ws_desktop_lookup_color (widget, "ws_paper_color", &colours.paper))
    ws_desktop_lookup_color (widget, "window_bg_color", &colours.paper);
  return colours;
}

static const FigureLine *
armed_line (WsFigureView *self)
{
  for (guint i = 0; self->armed != NULL && i < self->lines->len; i++)
    if (g_str_equal (ws_figure_view_line (self, i)->line->view->id, self->armed))
      return ws_figure_view_line (self, i);
  return NULL;
}

/* The part under the pointer, else the one with the focus, else that of the armed view. */
static const char *
heavy_part (WsFigureView *self)
{
  const FigureLine *armed = armed_line (self);
  const char *focused = NULL;

  for (guint i = 0; i < self->parts->len; i++)
    {
      GtkWidget *part = g_ptr_array_index (self->parts, i);
      const char *id = ws_figure_part_get_part (WS_FIGURE_PART (part));

      if (gtk_widget_get_state_flags (part) & GTK_STATE_FLAG_PRELIGHT)
        return id;
      if (gtk_widget_has_focus (part))
        focused = id;
    }
  return focused != NULL ? focused : armed != NULL ? armed->part : NULL;
}

static void
draw_figure (WsFigureView *self, cairo_t *cr, const Colours *colours)
{
  WsFigureLook look = {
    .armed = heavy_part (self), .base = "",
    .ink = { colours->ink.red, colours->ink.green, colours->ink.blue },
    .paper = { colours->paper.red, colours->paper.green, colours->paper.blue },
  };
  WsFigureEvidence source = { self->evidence, self->knowledge };
  const graphene_rect_t *r = &self->layout.figure;

  if (self->evidence != NULL)
    ws_figure_evidence_look (&source, &look);
  ws_figure_draw (self->figure, cr, r->origin.x, r->origin.y, r->size.width, r->size.height, &look);
}

/* A thin line on a strip of paper, so that hatching does not swallow it. */
static void
draw_leader (const FigureLine *line, cairo_t *cr, const Colours *colours, gboolean armed)
{
  const WsLeader *l = &line->leader;

  for (int pass = 0; pass < 2; pass++)
    {
      gdk_cairo_set_source_rgba (cr, pass == 0 ? &colours->paper : &colours->ink);
      cairo_set_line_width (cr, (armed ? 1.8 : 0.8) + (pass == 0 ? 2.2 : 0));
      cairo_move_to (cr, l->tip_x, l->tip_y);
      cairo_line_to (cr, l->anchor_x, l->anchor_y);
      cairo_stroke (cr);
      cairo_arc (cr, l->anchor_x, l->anchor_y, (armed ? 3 : 2) + (pass == 0 ? 1.2 : 0), 0, 2 * G_PI);
      cairo_fill (cr);
    }
}

/* The number of a label on the part it means. */
static void
draw_key (WsFigureView *self, guint number, const char *part, cairo_t *cr, const Colours *colours, gboolean armed)
{
  g_autofree char *text = g_strdup_printf ("%u", number);
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);
  const WsFigurePlace *place = &self->layout.place;
  PangoRectangle r;
  double x, y, radius;

  ws_figure_get_anchor (self->figure, part, &x, &y);
  x = x * place->scale + place->dx;
  y = y * place->scale + place->dy;
  pango_layout_get_pixel_extents (layout, NULL, &r);
  radius = MAX (r.width, r.height) / 2.0 + 1;
  cairo_new_path (cr);
  cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
  gdk_cairo_set_source_rgba (cr, &colours->paper);
  cairo_fill_preserve (cr);
  gdk_cairo_set_source_rgba (cr, &colours->ink);
  cairo_set_line_width (cr, armed ? 2.4 : 1);
  cairo_stroke (cr);
  cairo_move_to (cr, x - r.width / 2.0 - r.x, y - r.height / 2.0 - r.y);
  pango_cairo_show_layout (cr, layout);
  cairo_new_path (cr);
}

void
ws_figure_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  WsFigureView *self = WS_FIGURE_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  const FigureLine *armed = armed_line (self);
  Colours colours = get_colours (widget);
  cairo_t *cr;

  if (self->figure != NULL && width > 0 && height > 0)
    {
      cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
      draw_figure (self, cr, &colours);
      for (guint i = 0; i < self->lines->len; i++)
        {
          const FigureLine *line = ws_figure_view_line (self, i);

          if (self->layout.narrow && line->part != NULL)
            draw_key (self, i + 1, line->part, cr, &colours, line == armed);
          else if (!self->layout.narrow && line->leader.anchored)
            draw_leader (line, cr, &colours, line == armed);
        }
      cairo_destroy (cr);
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    gtk_widget_snapshot_child (widget, child, snapshot);
}
