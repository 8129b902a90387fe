/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-thumb-index.h"

#include "ws-upright-label.h"

struct _WsThumbIndex
{
  GtkWidget parent_instance;

  GtkWidget *places, *actions;  /* boxes */
  GPtrArray *ids;               /* in the order of the tabs */
  const char *current;          /* one of ids */
};

enum { PROP_CURRENT = 1, N_PROPS };
static GParamSpec *props[N_PROPS];

G_DEFINE_FINAL_TYPE (WsThumbIndex, ws_thumb_index, GTK_TYPE_WIDGET)

static GtkWidget *
tab_at (WsThumbIndex *self, guint at)
{
  GtkWidget *tab = gtk_widget_get_first_child (self->places);

  while (tab != NULL && at-- > 0)
    tab = gtk_widget_get_next_sibling (tab);
  return tab;
}

static void
toggled_cb (WsThumbIndex *self, GtkToggleButton *tab)
{
  gboolean active = gtk_toggle_button_get_active (tab);

  gtk_accessible_update_state (GTK_ACCESSIBLE (tab), GTK_ACCESSIBLE_STATE_SELECTED, active, -1);
  for (guint i = 0; active && i < self->ids->len; i++)
    if (tab_at (self, i) == GTK_WIDGET (tab))
      ws_thumb_index_set_current (self, g_ptr_array_index (self->ids, i));
}

static gboolean
key_cb (WsThumbIndex *self, guint key, guint code, GdkModifierType state)
{
  GtkDirectionType direction = key == GDK_KEY_Up ? GTK_DIR_UP : GTK_DIR_DOWN;

  if ((key != GDK_KEY_Up && key != GDK_KEY_Down) || (state & gtk_accelerator_get_default_mod_mask ()) != 0)
    return FALSE;
  return gtk_widget_child_focus (GTK_WIDGET (self), direction);
}

static GtkWidget *
make_tab (GType type, GtkAccessibleRole role, const char *label)
{
  GtkWidget *tab = g_object_new (type, "child", ws_upright_label_new (label), "accessible-role", role, NULL);

  gtk_widget_add_css_class (tab, "tab");
  gtk_widget_remove_css_class (tab, "toggle");
  gtk_accessible_update_property (GTK_ACCESSIBLE (tab), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return tab;
}

static void
ws_thumb_index_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_CURRENT)
    g_value_set_string (value, ws_thumb_index_get_current (WS_THUMB_INDEX (object)));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
ws_thumb_index_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id == PROP_CURRENT)
    ws_thumb_index_set_current (WS_THUMB_INDEX (object), g_value_get_string (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
ws_thumb_index_dispose (GObject *object)
{
  WsThumbIndex *self = WS_THUMB_INDEX (object);

  g_clear_pointer (&self->places, gtk_widget_unparent);
  g_clear_pointer (&self->actions, gtk_widget_unparent);
  G_OBJECT_CLASS (ws_thumb_index_parent_class)->dispose (object);
}

static void
ws_thumb_index_finalize (GObject *object)
{
  g_clear_pointer (&WS_THUMB_INDEX (object)->ids, g_ptr_array_unref);
  G_OBJECT_CLASS (ws_thumb_index_parent_class)->finalize (object);
}

static void
ws_thumb_index_class_init (WsThumbIndexClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);

  object_class->get_property = ws_thumb_index_get_property;
  object_class->set_property = ws_thumb_index_set_property;
  object_class->dispose = ws_thumb_index_dispose;
  object_class->finalize = ws_thumb_index_finalize;
  props[PROP_CURRENT] = g_param_spec_string ("current", NULL, NULL, NULL,
                                             G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  g_object_class_install_properties (object_class, N_PROPS, props);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "thumbindex");
}

static void
ws_thumb_index_init (WsThumbIndex *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->ids = g_ptr_array_new_with_free_func (g_free);
  self->places = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "vexpand", TRUE,
                               "accessible-role", GTK_ACCESSIBLE_ROLE_TAB_LIST, NULL);
  self->actions = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_parent (self->places, GTK_WIDGET (self));
  gtk_widget_set_parent (self->actions, GTK_WIDGET (self));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))),
                                  GTK_ORIENTATION_VERTICAL);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

GtkWidget *
ws_thumb_index_new (void)
{
  return g_object_new (WS_TYPE_THUMB_INDEX, NULL);
}

void
ws_thumb_index_add_place (WsThumbIndex *self, const char *id, const char *label)
{
  GtkWidget *tab, *first;

  g_return_if_fail (WS_IS_THUMB_INDEX (self));
  tab = make_tab (GTK_TYPE_TOGGLE_BUTTON, GTK_ACCESSIBLE_ROLE_TAB, label);
  first = gtk_widget_get_first_child (self->places);
  gtk_box_append (GTK_BOX (self->places), tab);
  g_ptr_array_add (self->ids, g_strdup (id));
  if (first != NULL)
    gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (tab), GTK_TOGGLE_BUTTON (first));
  g_signal_connect_object (tab, "toggled", G_CALLBACK (toggled_cb), self, G_CONNECT_SWAPPED);
  gtk_accessible_update_state (GTK_ACCESSIBLE (tab), GTK_ACCESSIBLE_STATE_SELECTED, FALSE, -1);
  if (first == NULL)
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (tab), TRUE);
}

void
ws_thumb_index_add_action (WsThumbIndex *self, const char *label, const char *action_name)
{
  GtkWidget *tab;

  g_return_if_fail (WS_IS_THUMB_INDEX (self));
  tab = make_tab (GTK_TYPE_BUTTON, GTK_ACCESSIBLE_ROLE_BUTTON, label);
  gtk_widget_add_css_class (tab, "urgent");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (tab), action_name);
  gtk_box_append (GTK_BOX (self->actions), tab);
}

const char *
ws_thumb_index_get_current (WsThumbIndex *self)
{
  g_return_val_if_fail (WS_IS_THUMB_INDEX (self), NULL);
  return self->current;
}

void
ws_thumb_index_set_current (WsThumbIndex *self, const char *id)
{
  g_return_if_fail (WS_IS_THUMB_INDEX (self));
  for (guint i = 0; i < self->ids->len; i++)
    if (g_strcmp0 (g_ptr_array_index (self->ids, i), id) == 0 && self->current != g_ptr_array_index (self->ids, i))
      {
        self->current = g_ptr_array_index (self->ids, i);
        gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (tab_at (self, i)), TRUE);
        g_object_notify_by_pspec (G_OBJECT (self), props[PROP_CURRENT]);
        return;
      }
}

void
ws_thumb_index_set_mirrored (WsThumbIndex *self, gboolean mirrored)
{
  g_return_if_fail (WS_IS_THUMB_INDEX (self));
  if (mirrored)
    gtk_widget_add_css_class (GTK_WIDGET (self), "mirrored");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "mirrored");
}
