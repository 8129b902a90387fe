/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-small-figure.h"

#include "ws-desktop-color.h"

#define WIDTH 48
#define HEIGHT 56

struct _WsSmallFigure
{
  GtkWidget parent_instance;

  WsSession *session;
  WsFindItem *item;
};

G_DEFINE_FINAL_TYPE (WsSmallFigure, ws_small_figure, GTK_TYPE_WIDGET)

static void
measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
         int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? WIDTH : HEIGHT;
}

/* No growth form is known yet: an empty dashed place, as for everything that is missing. */
static void
draw_unknown (cairo_t *cr, double width, double height, const GdkRGBA *ink)
{
  const double dashes[] = { 3, 3 };

  gdk_cairo_set_source_rgba (cr, ink);
  cairo_save (cr);
  cairo_translate (cr, width / 2, height / 2);
  cairo_scale (cr, width * 0.32, height * 0.42);
  cairo_arc (cr, 0, 0, 1, 0, 2 * G_PI);
  cairo_restore (cr);
  cairo_set_line_width (cr, 1);
  cairo_set_dash (cr, dashes, G_N_ELEMENTS (dashes), 0);
  cairo_stroke (cr);
}

static void
snapshot (GtkWidget *widget, GtkSnapshot *snapshot_)
{
  WsSmallFigure *self = WS_SMALL_FIGURE (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  WsFigureLook look = { 0 };
  WsPartStates states;
  const WsEvidence *evidence;
  WsFigure *figure;
  GdkRGBA ink, paper;
  cairo_t *cr;

  if (self->item == NULL || width <= 0 || height <= 0)
    return;
  evidence = ws_find_item_get_evidence (self->item);
  figure = ws_session_get_figure (self->session, evidence->growth_form);
  ws_desktop_get_color (widget, &ink);
  if (!ws_desktop_lookup_color (widget, "window_bg_color", &paper))
    paper = (GdkRGBA) { 1, 1, 1, 1 };
  states = (WsPartStates) { evidence, ws_session_get_knowledge (self->session) };
  look.state_of = ws_part_states_get;
  look.is_asked = ws_part_states_is_asked;
  look.data = &states;
  look.ring = *ws_find_get_state (evidence->find, "ring") != '\0'
              && !g_str_equal (ws_find_get_state (evidence->find, "ring"), "none_seen");
  look.base = ws_find_get_state (evidence->find, "stem_base");
  for (guint i = 0; i < 3; i++)
    {
      look.ink[i] = (const double[]) { ink.red, ink.green, ink.blue }[i];
      look.paper[i] = (const double[]) { paper.red, paper.green, paper.blue }[i];
    }
  cr = gtk_snapshot_append_cairo (snapshot_, &GRAPHENE_RECT_INIT (0, 0, width, height));
  if (figure != NULL)
    ws_figure_draw (figure, cr, 0, 0, width, height, &look);
  else
    draw_unknown (cr, width, height, &ink);
  cairo_destroy (cr);
}

static void
ws_small_figure_dispose (GObject *object)
{
  WsSmallFigure *self = WS_SMALL_FIGURE (object);

  g_clear_object (&self->session);
  g_clear_object (&self->item);
  G_OBJECT_CLASS (ws_small_figure_parent_class)->dispose (object);
}

static void
ws_small_figure_class_init (WsSmallFigureClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_small_figure_dispose;
  widget_class->measure = measure;
  widget_class->snapshot = snapshot;
  gtk_widget_class_set_css_name (widget_class, "smallfigure");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
ws_small_figure_init (WsSmallFigure *self)
{
}

void
ws_small_figure_show (WsSmallFigure *self, WsSession *session, WsFindItem *item)
{
  g_return_if_fail (WS_IS_SMALL_FIGURE (self));
  g_set_object (&self->session, session);
  g_set_object (&self->item, item);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
