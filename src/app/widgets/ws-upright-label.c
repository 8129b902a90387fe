/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-upright-label.h"

struct _WsUprightLabel
{
  GtkWidget parent_instance;

  GtkWidget *label;
};

G_DEFINE_FINAL_TYPE (WsUprightLabel, ws_upright_label, GTK_TYPE_WIDGET)

static void
measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
         int *minimum_baseline, int *natural_baseline)
{
  WsUprightLabel *self = WS_UPRIGHT_LABEL (widget);

  gtk_widget_measure (self->label, orientation == GTK_ORIENTATION_VERTICAL ? GTK_ORIENTATION_HORIZONTAL
                                                                           : GTK_ORIENTATION_VERTICAL,
                      -1, minimum, natural, NULL, NULL);
}

static void
size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  WsUprightLabel *self = WS_UPRIGHT_LABEL (widget);
  GskTransform *transform = gsk_transform_translate (NULL, &GRAPHENE_POINT_INIT (width, 0));

  gtk_widget_allocate (self->label, height, width, -1, gsk_transform_rotate (transform, 90));
}

static void
ws_upright_label_dispose (GObject *object)
{
  g_clear_pointer (&WS_UPRIGHT_LABEL (object)->label, gtk_widget_unparent);
  G_OBJECT_CLASS (ws_upright_label_parent_class)->dispose (object);
}

static void
ws_upright_label_class_init (WsUprightLabelClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_upright_label_dispose;
  widget_class->measure = measure;
  widget_class->size_allocate = size_allocate;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
ws_upright_label_init (WsUprightLabel *self)
{
  self->label = gtk_label_new (NULL);
  gtk_widget_set_parent (self->label, GTK_WIDGET (self));
}

GtkWidget *
ws_upright_label_new (const char *text)
{
  WsUprightLabel *self = g_object_new (WS_TYPE_UPRIGHT_LABEL, NULL);

  gtk_label_set_text (GTK_LABEL (self->label), text);
  return GTK_WIDGET (self);
}
