/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-plate-leaf-private.h"

#include "ws-intl.h"
#include "ws-plate-crops.h"

#include <string.h>

/* Pixels of a crop for each 72 units of the screen: enough for a screen of double density. */
#define SCREEN_DPI 144.0
/* Surfaces of many finds would fill the memory; a find's own are few. */
#define MAX_CROPS 64

enum { VIEW_CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsPlateLeaf, ws_plate_leaf, GTK_TYPE_WIDGET)

WsTellPlace
ws_plate_leaf_get_tell (WsPlateLeaf *self)
{
  WsTellPlace tell = WS_TELL_HUNDREDTH;

  (void) ws_tell_place_parse (ws_session_get_setting (self->session, WS_SETTING_TELL_PLACE), &tell);
  return tell;
}

/* --- Crops --------------------------------------------------------------------------------------- */

/* The region of a content, and what of it is covered: when these change it is cut anew. */
static char *
key_of (const WsFind *find, const WsMark *mark)
{
  const WsPhoto *photo = ws_find_get_photo (find, mark->photo_id);
  g_autofree char *shape = ws_shape_to_text (mark->shape);
  g_autoptr (GString) key = g_string_new (photo != NULL ? photo->digest : "");

  g_string_append_printf (key, " %s", shape);
  for (guint i = 0; i < find->covers->len; i++)
    {
      const WsCover *cover = g_ptr_array_index (find->covers, i);
      g_autofree char *text = ws_shape_to_text (cover->shape);

      if (g_str_equal (cover->photo_id, mark->photo_id))
        g_string_append_printf (key, " | %s", text);
    }
  return g_string_free (g_steal_pointer (&key), FALSE);
}

static void
show_crops (WsPlateLeaf *self)
{
  WsPlate *plate = ws_plate_view_get_plate (WS_PLATE_VIEW (self->view));

  for (guint i = 0; plate != NULL && i < ws_plate_get_n_parts (plate); i++)
    {
      const WsMark *mark = ws_plate_get_mark (plate, i);
      g_autofree char *key = mark != NULL ? key_of (self->request->find, mark) : NULL;
      cairo_surface_t *crop = key != NULL ? g_hash_table_lookup (self->crops, key) : NULL;

      if (crop != NULL)
        ws_plate_view_set_crop (WS_PLATE_VIEW (self->view), i, crop);
    }
}

static void
cut_cb (gpointer owner, gpointer result, GError *error, gpointer data)
{
  WsPlateLeaf *self = owner;
  WsCrops *crops = result;

  if (crops == NULL || crops->surfaces->len != 1 || g_ptr_array_index (crops->surfaces, 0) == NULL)
    return;
  g_hash_table_insert (self->crops, g_steal_pointer (&crops->key),
                       cairo_surface_reference (g_ptr_array_index (crops->surfaces, 0)));
  show_crops (self);
}

static void
ask_for_crops (WsPlateLeaf *self)
{
  WsPlate *plate = ws_plate_view_get_plate (WS_PLATE_VIEW (self->view));
  WsPlateSheet sheet = { .width = 900, .height = 1200, .may_grow = TRUE, .margin = 20, .em = 13 };

  /* A size for the crops, whatever the window's is just now. */
  if (!ws_plate_lay_out (plate, &sheet))
    return;
  for (guint i = 0; i < ws_plate_get_n_parts (plate); i++)
    {
      const WsMark *mark = ws_plate_get_mark (plate, i);
      g_autofree char *key = mark != NULL ? key_of (self->request->find, mark) : NULL;
      WsCropsWish *wish;

      if (key == NULL || g_hash_table_contains (self->crops, key) || !g_hash_table_add (self->asked, g_strdup (key)))
        continue;
      wish = ws_crops_wish_new (self->request, plate, SCREEN_DPI, (int) i);
      wish->key = g_steal_pointer (&key);
      ws_task_run (ws_session_get_desk (self->session), ws_crops_cut, wish, (GDestroyNotify) ws_crops_wish_free,
                   self->cancellable, self, cut_cb, NULL, ws_crops_free);
    }
}

/* --- The plate ------------------------------------------------------------------------------------- */

/* What the plate is made of; the same again needs no new one. */
static char *
stamp_of (WsPlateLeaf *self)
{
  g_autofree char *choices = ws_plate_choices_to_text (self->choices);

  return g_strdup_printf ("%p %d %s", (gconstpointer) ws_find_item_get_find (self->item), (int) ws_plate_leaf_get_tell (self),
                          choices);
}

static void
fill (WsPlateLeaf *self)
{
  WsDesk *desk = ws_session_get_desk (self->session);
  const WsFind *find = self->item != NULL ? ws_find_item_get_find (self->item) : NULL;
  WsFigure *figure = find != NULL && self->choices != NULL ? ws_session_get_figure (self->session, ws_find_get_growth_form (find)) : NULL;
  g_autofree char *stamp = figure != NULL ? stamp_of (self) : NULL;

  if (stamp != NULL && g_strcmp0 (stamp, self->stamp) == 0)
    return;
  g_free (self->stamp);
  self->stamp = g_steal_pointer (&stamp);
  gtk_widget_set_sensitive (GTK_WIDGET (self->bar), figure != NULL);
  if (figure == NULL)
    {
      ws_plate_view_take_plate (WS_PLATE_VIEW (self->view), NULL);
      return;
    }
  if (g_hash_table_size (self->crops) > MAX_CROPS)
    {
      g_hash_table_remove_all (self->crops);
      g_hash_table_remove_all (self->asked);
    }
  g_clear_pointer (&self->request, ws_request_unref);
  self->request = ws_plate_make_up (desk, find, ws_plate_leaf_get_tell (self));
  ws_set_string (&self->request->region, ws_session_get_setting (self->session, WS_SETTING_REGION));
  ws_plate_view_take_plate (WS_PLATE_VIEW (self->view),
                            ws_plate_new (self->request, ws_session_get_knowledge (self->session), figure, self->choices));
  show_crops (self);
  ask_for_crops (self);
}

static gboolean
fill_idle_cb (gpointer data)
{
  WsPlateLeaf *self = data;

  self->fill_idle = 0;
  fill (self);
  return G_SOURCE_REMOVE;
}

static gpointer
load_choices (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  return ws_plate_load_choices (desk, data);
}

static void
choices_loaded_cb (gpointer owner, gpointer result, GError *error, gpointer data)
{
  WsPlateLeaf *self = owner;

  if (result == NULL || self->choices != NULL)
    return;
  self->choices = ws_task_steal ();
  fill (self);
}

/* Not before it is seen, and once for several changes. */
static void
fill_soon (WsPlateLeaf *self)
{
  if (self->fill_idle != 0 || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  if (self->item != NULL && self->choices == NULL)
    ws_task_run (ws_session_get_desk (self->session), load_choices, g_strdup (ws_find_item_get_id (self->item)), g_free,
                 self->cancellable, self, choices_loaded_cb, NULL, (GDestroyNotify) g_hash_table_unref);
  else
    self->fill_idle = g_idle_add (fill_idle_cb, self);
}

static void
ws_plate_leaf_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (ws_plate_leaf_parent_class)->map (widget);
  fill_soon (WS_PLATE_LEAF (widget));
}

/* --- Swapping --------------------------------------------------------------------------------------- */

typedef struct { char *key, *text; } Store;

static void
store_free (gpointer data)
{
  Store *store = data;

  g_free (store->key);
  g_free (store->text);
  g_free (store);
}

static gpointer
store_choices (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const Store *store = data;

  (void) ws_library_set_setting (desk->library, store->key, store->text, error);
  return NULL;
}

static void
stored_cb (gpointer owner, gpointer result, GError *error, gpointer data)
{
  if (error != NULL)
    ws_session_report (WS_PLATE_LEAF (owner)->session, error);
}

static void
other_asked_cb (WsPlateView *view, guint part, int step, WsPlateLeaf *self)
{
  WsPlate *plate = ws_plate_view_get_plate (view);
  const WsMark *other = ws_plate_get_other_mark (plate, part, step);
  Store *store;

  if (other == NULL)
    return;
  g_hash_table_insert (self->choices, g_strdup (ws_plate_get_view (plate, part)), g_strdup (other->id));
  store = g_new0 (Store, 1);
  store->key = ws_plate_choices_key (ws_find_item_get_id (self->item));
  store->text = ws_plate_choices_to_text (self->choices);
  ws_task_write (ws_session_get_desk (self->session), store_choices, store, store_free, self, stored_cb, NULL, NULL);
  fill (self);
}

static void
part_activated_cb (WsPlateView *view, guint part, WsPlateLeaf *self)
{
  WsPlate *plate = ws_plate_view_get_plate (view);

  if (ws_plate_get_mark (plate, part) == NULL)
    g_signal_emit (self, signals[VIEW_CHOSEN], 0, ws_plate_get_view (plate, part));
  else
    other_asked_cb (view, part, 1, self);
}

/* --- The object --------------------------------------------------------------------------------------- */

static void
item_changed_cb (WsFindItem *item, WsPlateLeaf *self)
{
  fill_soon (self);
}

void
ws_plate_leaf_set_item (WsPlateLeaf *self, WsFindItem *item)
{
  if (self->item == item)
    return;
  g_cancellable_cancel (self->cancellable);
  g_object_unref (self->cancellable);
  self->cancellable = g_cancellable_new ();
  g_hash_table_remove_all (self->asked);
  g_clear_pointer (&self->choices, g_hash_table_unref);
  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_set_object (&self->item, item);
  if (item != NULL)
    self->item_changed = g_signal_connect (item, "changed", G_CALLBACK (item_changed_cb), self);
  fill_soon (self);
}

static void
ws_plate_leaf_dispose (GObject *object)
{
  WsPlateLeaf *self = WS_PLATE_LEAF (object);

  g_clear_handle_id (&self->fill_idle, g_source_remove);
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_clear_object (&self->item);
  gtk_widget_dispose_template (GTK_WIDGET (self), WS_TYPE_PLATE_LEAF);
  g_clear_object (&self->session);
  g_clear_pointer (&self->request, ws_request_unref);
  g_clear_pointer (&self->choices, g_hash_table_unref);
  g_clear_pointer (&self->crops, g_hash_table_unref);
  g_clear_pointer (&self->asked, g_hash_table_unref);
  g_clear_pointer (&self->stamp, g_free);
  G_OBJECT_CLASS (ws_plate_leaf_parent_class)->dispose (object);
}

static void
ws_plate_leaf_class_init (WsPlateLeafClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = ws_plate_leaf_dispose;
  widget_class->map = ws_plate_leaf_map;
  signals[VIEW_CHOSEN] = g_signal_new ("view-chosen", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                       G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-plate-leaf.ui");
  gtk_widget_class_bind_template_child (widget_class, WsPlateLeaf, box);
  gtk_widget_class_bind_template_child (widget_class, WsPlateLeaf, scroller);
  gtk_widget_class_bind_template_child (widget_class, WsPlateLeaf, bar);
}

static void
ws_plate_leaf_init (WsPlateLeaf *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->crops = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) cairo_surface_destroy);
  self->asked = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->cancellable = g_cancellable_new ();
}

GtkWidget *
ws_plate_leaf_new (WsSession *session)
{
  WsPlateLeaf *self = g_object_new (WS_TYPE_PLATE_LEAF, NULL);

  self->session = g_object_ref (session);
  self->view = ws_plate_view_new ();
  ws_plate_view_set_hints (WS_PLATE_VIEW (self->view), _("Press for another picture of it"), _("Press to mark it"));
  gtk_scrolled_window_set_child (self->scroller, self->view);
  g_signal_connect_object (self->view, "part-activated", G_CALLBACK (part_activated_cb), self, 0);
  g_signal_connect_object (self->view, "other-asked", G_CALLBACK (other_asked_cb), self, 0);
  g_signal_connect_object (session, "changed", G_CALLBACK (fill_soon), self, G_CONNECT_SWAPPED);
  ws_plate_leaf_fill_bar (self);
  return GTK_WIDGET (self);
}
