/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-names-leaf.h"

#include "ws-edits.h"
#include "ws-intl.h"
#include "ws-text-field.h"

struct _WsNamesLeaf
{
  GtkWidget parent_instance;

  GtkWidget *box, *field_name;

  WsSession *session;
  WsFindItem *item;
  gulong item_changed;
};

G_DEFINE_FINAL_TYPE (WsNamesLeaf, ws_names_leaf, GTK_TYPE_WIDGET)

static const WsFind *
get_find (WsNamesLeaf *self)
{
  return self->item != NULL ? ws_find_item_get_find (self->item) : NULL;
}

static void
edited_cb (WsTextField *field, const char *text, WsNamesLeaf *self)
{
  const WsFind *find = get_find (self);

  if (find != NULL)
    ws_edit_set (self->session, find->id, "field-name", text);
}

static void
item_changed_cb (WsFindItem *item, WsNamesLeaf *self)
{
  const WsFind *find = get_find (self);

  gtk_widget_set_sensitive (GTK_WIDGET (self), find != NULL);
  if (find != NULL)
    ws_text_field_set_text (WS_TEXT_FIELD (self->field_name), find->field_name);
}

void
ws_names_leaf_set_item (WsNamesLeaf *self, WsFindItem *item)
{
  if (self->item == item)
    return;
  ws_text_field_flush (WS_TEXT_FIELD (self->field_name));
  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_set_object (&self->item, item);
  if (item != NULL)
    self->item_changed = g_signal_connect (item, "changed", G_CALLBACK (item_changed_cb), self);
  item_changed_cb (item, self);
}

static void
ws_names_leaf_dispose (GObject *object)
{
  WsNamesLeaf *self = WS_NAMES_LEAF (object);

  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_clear_object (&self->item);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (ws_names_leaf_parent_class)->dispose (object);
}

static void
ws_names_leaf_class_init (WsNamesLeafClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = ws_names_leaf_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
ws_names_leaf_init (WsNamesLeaf *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  gtk_widget_add_css_class (self->box, "ws-form");
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
ws_names_leaf_new (WsSession *session)
{
  WsNamesLeaf *self = g_object_new (WS_TYPE_NAMES_LEAF, NULL);
  GtkWidget *words = gtk_label_new (_("Your own working name, to find this page again. It is a guess: it is told last in a request, takes nothing off the list of what is missing, and says nothing about what the mushroom is."));

  self->session = g_object_ref (session);
  self->field_name = ws_text_field_new (_("Field name"), FALSE);
  g_signal_connect_object (self->field_name, "edited", G_CALLBACK (edited_cb), self, 0);
  gtk_label_set_wrap (GTK_LABEL (words), TRUE);
  gtk_label_set_xalign (GTK_LABEL (words), 0);
  gtk_widget_add_css_class (words, "ws-remark");
  gtk_box_append (GTK_BOX (self->box), self->field_name);
  gtk_box_append (GTK_BOX (self->box), words);
  item_changed_cb (NULL, self);
  return GTK_WIDGET (self);
}
