/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-text-field.h"

struct _WsTextField
{
  GtkWidget parent_instance;

  GtkWidget *box, *name, *input, *remark;
  char *stored;
};

enum { EDITED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsTextField, ws_text_field, GTK_TYPE_WIDGET)

static char *
typed_text (WsTextField *self)
{
  GtkTextBuffer *buffer;
  GtkTextIter start, end;

  if (!GTK_IS_TEXT_VIEW (self->input))
    return g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->input)));
  buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->input));
  gtk_text_buffer_get_bounds (buffer, &start, &end);
  return gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
}

void
ws_text_field_flush (WsTextField *self)
{
  g_autofree char *text = typed_text (self);

  if (g_strcmp0 (text, self->stored) == 0)
    return;
  g_free (self->stored);
  self->stored = g_strdup (text);
  g_signal_emit (self, signals[EDITED], 0, text);
}

static void
activate_cb (GtkEntry *entry, WsTextField *self)
{
  ws_text_field_flush (self);
}

static void
leave_cb (GtkEventControllerFocus *controller, WsTextField *self)
{
  ws_text_field_flush (self);
}

static void
ws_text_field_dispose (GObject *object)
{
  WsTextField *self = WS_TEXT_FIELD (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->stored, g_free);
  G_OBJECT_CLASS (ws_text_field_parent_class)->dispose (object);
}

static gboolean
ws_text_field_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (WS_TEXT_FIELD (widget)->input);
}

static void
ws_text_field_class_init (WsTextFieldClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = ws_text_field_dispose;
  GTK_WIDGET_CLASS (klass)->grab_focus = ws_text_field_grab_focus;
  signals[EDITED] = g_signal_new ("edited", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "text-field");
}

static void
ws_text_field_init (WsTextField *self)
{
  self->stored = g_strdup ("");
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

static GtkWidget *
make_input (gboolean several_lines)
{
  GtkWidget *view;

  if (!several_lines)
    return gtk_entry_new ();
  view = gtk_text_view_new ();
  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (view), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_accepts_tab (GTK_TEXT_VIEW (view), FALSE);
  gtk_widget_set_size_request (view, -1, 64);
  return view;
}

GtkWidget *
ws_text_field_new (const char *name, gboolean several_lines)
{
  WsTextField *self = g_object_new (WS_TYPE_TEXT_FIELD, NULL);
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->name = gtk_label_new (name);
  gtk_label_set_xalign (GTK_LABEL (self->name), 0);
  gtk_label_set_wrap (GTK_LABEL (self->name), TRUE);
  gtk_widget_add_css_class (self->name, "ws-field-name");
  self->input = make_input (several_lines);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->input), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  self->remark = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->remark), 0);
  gtk_label_set_wrap (GTK_LABEL (self->remark), TRUE);
  gtk_widget_set_visible (self->remark, FALSE);
  gtk_widget_add_css_class (self->remark, "ws-remark");
  gtk_box_append (GTK_BOX (self->box), self->name);
  gtk_box_append (GTK_BOX (self->box), self->input);
  gtk_box_append (GTK_BOX (self->box), self->remark);
  if (!several_lines)
    g_signal_connect (self->input, "activate", G_CALLBACK (activate_cb), self);
  g_signal_connect (focus, "leave", G_CALLBACK (leave_cb), self);
  gtk_widget_add_controller (self->input, focus);
  return GTK_WIDGET (self);
}

void
ws_text_field_set_text (WsTextField *self, const char *text)
{
  g_autofree char *typed = typed_text (self);
  gboolean typing = g_strcmp0 (typed, self->stored) != 0;

  if (g_strcmp0 (text, self->stored) == 0 || typing)
    return;
  g_free (self->stored);
  self->stored = g_strdup (text);
  if (GTK_IS_TEXT_VIEW (self->input))
    gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->input)), text, -1);
  else
    gtk_editable_set_text (GTK_EDITABLE (self->input), text);
}

void
ws_text_field_set_remark (WsTextField *self, const char *remark)
{
  gtk_label_set_label (GTK_LABEL (self->remark), remark != NULL ? remark : "");
  gtk_widget_set_visible (self->remark, remark != NULL && remark[0] != '\0');
}
