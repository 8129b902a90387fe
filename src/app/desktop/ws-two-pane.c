/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-two-pane.h"

#include <adwaita.h>

struct _WsTwoPane
{
  GtkWidget parent_instance;

  AdwLeaflet *leaflet;
  GtkWidget *start, *content;   /* borrowed from the leaflet */
  gboolean content_shown;
  gboolean mirrored;
  guint fold_source;
};

enum { PROP_FOLDED = 1, PROP_CONTENT_SHOWN, PROP_MIRRORED, N_PROPS };
static GParamSpec *props[N_PROPS];

static void buildable_init (GtkBuildableIface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE (WsTwoPane, ws_two_pane, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (GTK_TYPE_BUILDABLE, buildable_init))

static GtkBuildableIface *parent_buildable;

static void
add_child (GtkBuildable *buildable, GtkBuilder *builder, GObject *child, const char *type)
{
  WsTwoPane *self = WS_TWO_PANE (buildable);

  if (g_strcmp0 (type, "start") == 0)
    ws_two_pane_set_start (self, GTK_WIDGET (child));
  else if (g_strcmp0 (type, "content") == 0)
    ws_two_pane_set_content (self, GTK_WIDGET (child));
  else
    parent_buildable->add_child (buildable, builder, child, type);
}

static void
buildable_init (GtkBuildableIface *iface)
{
  parent_buildable = g_type_interface_peek_parent (iface);
  iface->add_child = add_child;
}

static void
place_leaf (WsTwoPane *self, GtkWidget **slot, GtkWidget *leaf, gboolean first)
{
  AdwLeafletPage *page;

  if (*slot == leaf)
    return;
  if (*slot != NULL)
    adw_leaflet_remove (self->leaflet, *slot);
  *slot = leaf;
  if (leaf == NULL)
    return;
  page = first ? adw_leaflet_prepend (self->leaflet, leaf) : adw_leaflet_append (self->leaflet, leaf);
  /* Turning the leaf is the page's own command; a swipe would take the strokes drawn on a photo. */
  adw_leaflet_page_set_navigatable (page, FALSE);
}

static void
show_leaf (WsTwoPane *self, gboolean content)
{
  GtkWidget *leaf = content ? self->content : self->start;

  if (leaf != NULL)
    adw_leaflet_set_visible_child (self->leaflet, leaf);
  if (self->content_shown == content)
    return;
  self->content_shown = content;
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_CONTENT_SHOWN]);
}

static gboolean
tell_folded (gpointer data)
{
  WsTwoPane *self = data;

  self->fold_source = 0;
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_FOLDED]);
  return G_SOURCE_REMOVE;
}

/* The leaflet folds while room is given out; whoever shows or hides something on hearing of it must not do so
 * before that is over. */
static void
folded_cb (WsTwoPane *self)
{
  if (self->fold_source == 0)
    self->fold_source = g_idle_add_full (G_PRIORITY_DEFAULT, tell_folded, self, NULL);
}

static void
ws_two_pane_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  WsTwoPane *self = WS_TWO_PANE (object);

  switch (id)
    {
    case PROP_FOLDED:
      g_value_set_boolean (value, ws_two_pane_get_folded (self));
      break;
    case PROP_CONTENT_SHOWN:
      g_value_set_boolean (value, ws_two_pane_get_content_shown (self));
      break;
    case PROP_MIRRORED:
      g_value_set_boolean (value, ws_two_pane_get_mirrored (self));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
ws_two_pane_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id == PROP_MIRRORED)
    ws_two_pane_set_mirrored (WS_TWO_PANE (object), g_value_get_boolean (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
ws_two_pane_dispose (GObject *object)
{
  WsTwoPane *self = WS_TWO_PANE (object);

  g_clear_handle_id (&self->fold_source, g_source_remove);
  if (self->leaflet != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->leaflet, self);
      gtk_widget_unparent (GTK_WIDGET (self->leaflet));
      self->leaflet = NULL;
    }
  self->start = self->content = NULL;
  G_OBJECT_CLASS (ws_two_pane_parent_class)->dispose (object);
}

static void
ws_two_pane_class_init (WsTwoPaneClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GParamFlags read = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;

  object_class->get_property = ws_two_pane_get_property;
  object_class->set_property = ws_two_pane_set_property;
  object_class->dispose = ws_two_pane_dispose;
  props[PROP_FOLDED] = g_param_spec_boolean ("folded", NULL, NULL, FALSE, read);
  props[PROP_CONTENT_SHOWN] = g_param_spec_boolean ("content-shown", NULL, NULL, FALSE, read);
  props[PROP_MIRRORED] = g_param_spec_boolean ("mirrored", NULL, NULL, FALSE,
                                               read | G_PARAM_WRITABLE | G_PARAM_EXPLICIT_NOTIFY);
  g_object_class_install_properties (object_class, N_PROPS, props);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "twopane");
}

static void
ws_two_pane_init (WsTwoPane *self)
{
  self->leaflet = ADW_LEAFLET (adw_leaflet_new ());
  adw_leaflet_set_can_navigate_back (self->leaflet, FALSE);
  adw_leaflet_set_can_navigate_forward (self->leaflet, FALSE);
  adw_leaflet_set_transition_type (self->leaflet, ADW_LEAFLET_TRANSITION_TYPE_SLIDE);
  gtk_widget_set_parent (GTK_WIDGET (self->leaflet), GTK_WIDGET (self));
  g_signal_connect_swapped (self->leaflet, "notify::folded", G_CALLBACK (folded_cb), self);
}

GtkWidget *
ws_two_pane_new (void)
{
  return g_object_new (WS_TYPE_TWO_PANE, NULL);
}

void
ws_two_pane_set_start (WsTwoPane *self, GtkWidget *start)
{
  g_return_if_fail (WS_IS_TWO_PANE (self));
  place_leaf (self, &self->start, start, !self->mirrored);
  show_leaf (self, self->content_shown);
}

void
ws_two_pane_set_content (WsTwoPane *self, GtkWidget *content)
{
  g_return_if_fail (WS_IS_TWO_PANE (self));
  place_leaf (self, &self->content, content, self->mirrored);
  show_leaf (self, self->content_shown);
}

gboolean
ws_two_pane_get_folded (WsTwoPane *self)
{
  g_return_val_if_fail (WS_IS_TWO_PANE (self), FALSE);
  return self->leaflet != NULL && adw_leaflet_get_folded (self->leaflet);
}

void
ws_two_pane_show_start (WsTwoPane *self)
{
  g_return_if_fail (WS_IS_TWO_PANE (self));
  show_leaf (self, FALSE);
}

void
ws_two_pane_show_content (WsTwoPane *self)
{
  g_return_if_fail (WS_IS_TWO_PANE (self));
  show_leaf (self, TRUE);
}

gboolean
ws_two_pane_get_content_shown (WsTwoPane *self)
{
  g_return_val_if_fail (WS_IS_TWO_PANE (self), FALSE);
  return self->content_shown;
}

gboolean
ws_two_pane_get_mirrored (WsTwoPane *self)
{
  g_return_val_if_fail (WS_IS_TWO_PANE (self), FALSE);
  return self->mirrored;
}

void
ws_two_pane_set_mirrored (WsTwoPane *self, gboolean mirrored)
{
  g_return_if_fail (WS_IS_TWO_PANE (self));
  if (self->mirrored == mirrored)
    return;
  self->mirrored = mirrored;
  if (self->start != NULL && self->content != NULL)
    adw_leaflet_reorder_child_after (self->leaflet, mirrored ? self->start : self->content,
                                     mirrored ? self->content : self->start);
  /* The leaflet itself does not give out the room again. */
  gtk_widget_queue_allocate (GTK_WIDGET (self->leaflet));
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_MIRRORED]);
}
