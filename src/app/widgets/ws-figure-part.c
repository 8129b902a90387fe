/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-figure-part.h"

struct _WsFigurePart
{
  GtkButton parent_instance;

  WsFigure *figure;
  char *part;
};

G_DEFINE_FINAL_TYPE (WsFigurePart, ws_figure_part, GTK_TYPE_BUTTON)

static gboolean
ws_figure_part_contains (GtkWidget *widget, double x, double y)
{
  WsFigurePart *self = WS_FIGURE_PART (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  double left, top, w, h;

  if (width <= 0 || height <= 0 || !ws_figure_get_bounds (self->figure, self->part, &left, &top, &w, &h))
    return FALSE;
  return ws_figure_hits (self->figure, self->part, left + x * w / width, top + y * h / height);
}

static void
ws_figure_part_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                        int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = 0;   /* the figure says how large it is */
}

static void
ws_figure_part_finalize (GObject *object)
{
  WsFigurePart *self = WS_FIGURE_PART (object);

  ws_figure_unref (self->figure);
  g_free (self->part);
  G_OBJECT_CLASS (ws_figure_part_parent_class)->finalize (object);
}

static void
ws_figure_part_class_init (WsFigurePartClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ws_figure_part_finalize;
  widget_class->contains = ws_figure_part_contains;
  widget_class->measure = ws_figure_part_measure;
  gtk_widget_class_set_css_name (widget_class, "figure-part");
}

static void
ws_figure_part_init (WsFigurePart *self)
{
  gtk_widget_set_layout_manager (GTK_WIDGET (self), NULL);
  gtk_widget_set_focus_on_click (GTK_WIDGET (self), FALSE);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "pointer");
}

GtkWidget *
ws_figure_part_new (WsFigure *figure, const char *part)
{
  WsFigurePart *self = g_object_new (WS_TYPE_FIGURE_PART, NULL);

  self->figure = ws_figure_ref (figure);
  self->part = g_strdup (part);
  return GTK_WIDGET (self);
}

const char *
ws_figure_part_get_part (WsFigurePart *self)
{
  g_return_val_if_fail (WS_IS_FIGURE_PART (self), NULL);
  return self->part;
}

void
ws_figure_part_set_name (WsFigurePart *self, const char *name)
{
  g_return_if_fail (WS_IS_FIGURE_PART (self));
  gtk_widget_set_tooltip_text (GTK_WIDGET (self), name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

void
ws_figure_part_set_armed (WsFigurePart *self, gboolean armed)
{
  g_return_if_fail (WS_IS_FIGURE_PART (self));
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_PRESSED,
                               armed ? GTK_ACCESSIBLE_TRISTATE_TRUE : GTK_ACCESSIBLE_TRISTATE_FALSE, -1);
}
