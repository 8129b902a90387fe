/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-wrap-box.h"

#define GAP 6   /* px between children and between lines */

struct _WsWrapBox
{
  GtkWidget parent_instance;
};

G_DEFINE_FINAL_TYPE (WsWrapBox, ws_wrap_box, GTK_TYPE_WIDGET)

/* Fills lines of @width from @child on; gives back where the next line begins, and the height of this one. */
static GtkWidget *
take_line (GtkWidget *child, int width, int *height)
{
  int x = 0;
  gboolean first = TRUE;

  *height = 0;
  for (; child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      int minimum, natural, w, h;

      if (!gtk_widget_should_layout (child))
        continue;
      gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, &natural, NULL, NULL);
      w = CLAMP (width, minimum, natural);
      if (!first && x + GAP + w > width)
        break;
      gtk_widget_measure (child, GTK_ORIENTATION_VERTICAL, w, NULL, &h, NULL, NULL);
      x += w + (first ? 0 : GAP);
      first = FALSE;
      *height = MAX (*height, h);
    }
  return child;
}

static int
measure_height (GtkWidget *widget, int width)
{
  GtkWidget *child = gtk_widget_get_first_child (widget);
  int height = 0, line;

  while (child != NULL)
    {
      child = take_line (child, width, &line);
      height += line + (child != NULL ? GAP : 0);
    }
  return height;
}

static void
measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
         int *minimum_baseline, int *natural_baseline)
{
  int widest = 0, sum = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      int child_minimum, child_natural;

      if (!gtk_widget_should_layout (child))
        continue;
      gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &child_minimum, &child_natural, NULL, NULL);
      widest = MAX (widest, child_minimum);
      sum += child_natural + (sum > 0 ? GAP : 0);
    }
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = widest;
      *natural = sum;
    }
  else
    *minimum = *natural = measure_height (widget, for_size < 0 ? sum : for_size);
}

static void
place_line (GtkWidget *child, GtkWidget *end, int width, int y, int height, gboolean from_right)
{
  int x = 0;

  for (; child != end; child = gtk_widget_get_next_sibling (child))
    {
      int minimum, natural, w;

      if (!gtk_widget_should_layout (child))
        continue;
      gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, &natural, NULL, NULL);
      w = CLAMP (width, minimum, natural);
      gtk_widget_size_allocate (child, &(GtkAllocation) { from_right ? width - x - w : x, y, w, height }, -1);
      x += w + GAP;
    }
}

static void
size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  GtkWidget *child = gtk_widget_get_first_child (widget);
  gboolean from_right = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  int y = 0, line;

  while (child != NULL)
    {
      GtkWidget *end = take_line (child, width, &line);

      place_line (child, end, width, y, line, from_right);
      y += line + GAP;
      child = end;
    }
}

static GtkSizeRequestMode
get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
ws_wrap_box_dispose (GObject *object)
{
  ws_wrap_box_remove_all (WS_WRAP_BOX (object));
  G_OBJECT_CLASS (ws_wrap_box_parent_class)->dispose (object);
}

static void
ws_wrap_box_class_init (WsWrapBoxClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_wrap_box_dispose;
  widget_class->measure = measure;
  widget_class->size_allocate = size_allocate;
  widget_class->get_request_mode = get_request_mode;
  gtk_widget_class_set_css_name (widget_class, "wrapbox");
}

static void
ws_wrap_box_init (WsWrapBox *self)
{
}

GtkWidget *
ws_wrap_box_new (void)
{
  return g_object_new (WS_TYPE_WRAP_BOX, NULL);
}

void
ws_wrap_box_append (WsWrapBox *self, GtkWidget *child)
{
  g_return_if_fail (WS_IS_WRAP_BOX (self));
  gtk_widget_set_parent (child, GTK_WIDGET (self));
}

void
ws_wrap_box_remove_all (WsWrapBox *self)
{
  GtkWidget *child;

  g_return_if_fail (WS_IS_WRAP_BOX (self));
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
}
