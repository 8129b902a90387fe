/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-spread.h"

#define GAP 6   /* px between prints */

struct _WsSpread
{
  GtkWidget parent_instance;

  double proportion;
};

G_DEFINE_FINAL_TYPE (WsSpread, ws_spread, GTK_TYPE_WIDGET)

int
ws_spread_count_columns (int n, int width, int height, double proportion)
{
  double beside = MIN (width / 2.0, height * proportion), above = MIN (width, height / 2.0 * proportion);

  if (n <= 1)
    return 1;
  return n > 2 || beside >= above ? 2 : 1;
}

static int
count (GtkWidget *widget)
{
  int n = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    n += gtk_widget_should_layout (child);
  return n;
}

/* Two prints need the room of only one in the width, since they may lie above each other. */
static void
measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural, int *minimum_baseline,
         int *natural_baseline)
{
  int n = count (widget), places = orientation == GTK_ORIENTATION_HORIZONTAL ? (n > 2 ? 2 : 1) : (n > 1 ? 2 : 1);

  *minimum = *natural = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      int child_minimum, child_natural;

      if (!gtk_widget_should_layout (child))
        continue;
      gtk_widget_measure (child, orientation, -1, &child_minimum, &child_natural, NULL, NULL);
      *minimum = MAX (*minimum, child_minimum);
      *natural = MAX (*natural, child_natural);
    }
  *minimum = *minimum * places + GAP * (places - 1);
  *natural = MAX (*natural, *minimum);
}

static void
size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  int n = count (widget), columns, rows, i = 0, least = 0, minimum;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (gtk_widget_should_layout (child))
      {
        gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
        least = MAX (least, minimum);
      }
  columns = ws_spread_count_columns (n, width, height, WS_SPREAD (widget)->proportion);
  /* Too narrow for what a print needs at least. */
  if (n == 2 && 2 * least + GAP > width)
    columns = 1;
  rows = (n + columns - 1) / columns;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      int column = i % columns, row = i / columns;
      int from_x = (width + GAP) * column / columns, to_x = (width + GAP) * (column + 1) / columns - GAP;
      int from_y = (height + GAP) * row / rows, to_y = (height + GAP) * (row + 1) / rows - GAP;

      if (!gtk_widget_should_layout (child))
        continue;
      if (gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL)
        gtk_widget_size_allocate (child, &(GtkAllocation) { width - to_x, from_y, to_x - from_x, to_y - from_y }, -1);
      else
        gtk_widget_size_allocate (child, &(GtkAllocation) { from_x, from_y, to_x - from_x, to_y - from_y }, -1);
      i++;
    }
}

static void
ws_spread_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (ws_spread_parent_class)->dispose (object);
}

static void
ws_spread_class_init (WsSpreadClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_spread_dispose;
  widget_class->measure = measure;
  widget_class->size_allocate = size_allocate;
  gtk_widget_class_set_css_name (widget_class, "spread");
}

static void
ws_spread_init (WsSpread *self)
{
  self->proportion = 1;
}

GtkWidget *
ws_spread_new (void)
{
  return g_object_new (WS_TYPE_SPREAD, NULL);
}

void
ws_spread_append (WsSpread *self, GtkWidget *child)
{
  g_return_if_fail (WS_IS_SPREAD (self));
  gtk_widget_set_parent (child, GTK_WIDGET (self));
}

void
ws_spread_set_proportion (WsSpread *self, double proportion)
{
  g_return_if_fail (WS_IS_SPREAD (self) && proportion > 0);
  if (proportion == self->proportion)
    return;
  self->proportion = proportion;
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}
