/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-margin-note.h"

#include "ws-intl.h"

/* Seconds; long enough to read two lines. */
#define GOES_AFTER 7

struct _WsMarginNote
{
  GtkWidget parent_instance;

  GtkRevealer *revealer;
  GtkLabel *label;
  guint source;
};

G_DEFINE_FINAL_TYPE (WsMarginNote, ws_margin_note, GTK_TYPE_WIDGET)

static gboolean
gone_cb (gpointer data)
{
  WsMarginNote *self = data;

  self->source = 0;
  ws_margin_note_put_away (self);
  return G_SOURCE_REMOVE;
}

static void
ws_margin_note_dispose (GObject *object)
{
  WsMarginNote *self = WS_MARGIN_NOTE (object);

  g_clear_handle_id (&self->source, g_source_remove);
  if (self->revealer != NULL)
    gtk_widget_unparent (GTK_WIDGET (self->revealer));
  self->revealer = NULL;
  G_OBJECT_CLASS (ws_margin_note_parent_class)->dispose (object);
}

static void
ws_margin_note_class_init (WsMarginNoteClass *class)
{
  G_OBJECT_CLASS (class)->dispose = ws_margin_note_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "marginnote");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_STATUS);
}

static void
ws_margin_note_init (WsMarginNote *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *away = gtk_button_new_from_icon_name ("ws-cross-symbolic");

  self->label = GTK_LABEL (g_object_new (GTK_TYPE_LABEL, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR,
                                         "xalign", 0.0, "hexpand", TRUE, "selectable", FALSE, NULL));
  gtk_widget_set_tooltip_text (away, _("Put this note away"));
  gtk_widget_set_valign (away, GTK_ALIGN_START);
  gtk_widget_add_css_class (away, "flat");
  g_signal_connect_swapped (away, "clicked", G_CALLBACK (ws_margin_note_put_away), self);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->label));
  gtk_box_append (GTK_BOX (box), away);
  self->revealer = GTK_REVEALER (g_object_new (GTK_TYPE_REVEALER, "child", box, "transition-type",
                                               GTK_REVEALER_TRANSITION_TYPE_SLIDE_UP, NULL));
  gtk_widget_set_parent (GTK_WIDGET (self->revealer), GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
ws_margin_note_new (void)
{
  return g_object_new (WS_TYPE_MARGIN_NOTE, NULL);
}

void
ws_margin_note_say (WsMarginNote *self, const char *text, gboolean stays)
{
  g_return_if_fail (WS_IS_MARGIN_NOTE (self));
  g_clear_handle_id (&self->source, g_source_remove);
  gtk_label_set_text (self->label, text);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  gtk_revealer_set_reveal_child (self->revealer, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  if (!stays)
    self->source = g_timeout_add_seconds (GOES_AFTER, gone_cb, self);
}

void
ws_margin_note_put_away (WsMarginNote *self)
{
  g_return_if_fail (WS_IS_MARGIN_NOTE (self));
  g_clear_handle_id (&self->source, g_source_remove);
  gtk_revealer_set_reveal_child (self->revealer, FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  gtk_label_set_text (self->label, "");
}

const char *
ws_margin_note_get_text (WsMarginNote *self)
{
  g_return_val_if_fail (WS_IS_MARGIN_NOTE (self), NULL);
  return gtk_label_get_text (self->label);
}
