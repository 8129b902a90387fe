/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-if-room.h"

struct _WsIfRoom
{
  GtkWidget parent_instance;
};

G_DEFINE_FINAL_TYPE (WsIfRoom, ws_if_room, GTK_TYPE_WIDGET)

static void
measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
         int *minimum_baseline, int *natural_baseline)
{
  GtkWidget *child = gtk_widget_get_first_child (widget);

  if (child == NULL)
    return;
  gtk_widget_measure (child, orientation, -1, minimum, natural, NULL, NULL);
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    *minimum = 0;
}

static void
size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  GtkWidget *child = gtk_widget_get_first_child (widget);
  int natural;

  if (child == NULL)
    return;
  gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  gtk_widget_set_child_visible (child, natural <= width);
  if (natural <= width)
    gtk_widget_size_allocate (child, &(GtkAllocation) { 0, 0, width, height }, baseline);
}

static void
ws_if_room_dispose (GObject *object)
{
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (object));

  if (child != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (ws_if_room_parent_class)->dispose (object);
}

static void
ws_if_room_class_init (WsIfRoomClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_if_room_dispose;
  widget_class->measure = measure;
  widget_class->size_allocate = size_allocate;
}

static void
ws_if_room_init (WsIfRoom *self)
{
}
