/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-aside-window.h"

#include "ws-arrange.h"
#include "ws-intl.h"
#include "ws-photo-item.h"
#include "ws-thumbnail.h"
#include "ws-words.h"

#define PRINT_SIZE 96

struct _WsAsideWindow
{
  AdwWindow parent_instance;

  GtkStack *pages;           /* "none", "some" */
  GtkGridView *prints;

  WsSession *session;
  GListStore *photos;
  GtkMultiSelection *selection;
};

G_DEFINE_FINAL_TYPE (WsAsideWindow, ws_aside_window, ADW_TYPE_WINDOW)

static gpointer
load_aside (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  return ws_library_load_set_aside (desk->library, error);
}

static void
loaded_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsAsideWindow *self = owner;

  ws_session_report (self->session, error);
  ws_photo_items_set (self->photos, result);
  gtk_stack_set_visible_child_name (self->pages, g_list_model_get_n_items (G_LIST_MODEL (self->photos)) > 0 ? "some"
                                                                                                             : "none");
}

static void
load (WsAsideWindow *self)
{
  ws_task_run (ws_session_get_desk (self->session), load_aside, NULL, NULL, NULL, self, loaded_cb, NULL,
               (GDestroyNotify) g_ptr_array_unref);
}

static gpointer
do_bring_back (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  ws_arrange_set_aside (desk, data, FALSE, error);
  return NULL;
}

static void
update (WsAsideWindow *self)
{
  g_autoptr (GtkBitset) taken = gtk_selection_model_get_selection (GTK_SELECTION_MODEL (self->selection));

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "aside.bring-back", !gtk_bitset_is_empty (taken));
}

static void
bring_back_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsAsideWindow *self = WS_ASIDE_WINDOW (widget);
  g_autoptr (GtkBitset) taken = gtk_selection_model_get_selection (GTK_SELECTION_MODEL (self->selection));
  g_autoptr (GStrvBuilder) ids = g_strv_builder_new ();

  for (guint i = 0; i < gtk_bitset_get_size (taken); i++)
    {
      g_autoptr (WsPhotoItem) item = g_list_model_get_item (G_LIST_MODEL (self->photos),
                                                            gtk_bitset_get_nth (taken, i));

      g_strv_builder_add (ids, ws_photo_item_get_photo (item)->id);
    }
  ws_session_edit (self->session, NULL, do_bring_back, g_strv_builder_end (ids), (GDestroyNotify) g_strfreev,
                   NULL, NULL, NULL, NULL);
}

static void
setup_cb (WsAsideWindow *self, GtkListItem *list_item)
{
  GtkWidget *print = ws_thumbnail_new (ws_session_get_pictures (self->session), PRINT_SIZE);

  gtk_widget_set_valign (print, GTK_ALIGN_CENTER);
  gtk_widget_set_halign (print, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (print, "print");
  gtk_list_item_set_child (list_item, print);
}

static void
bind_cb (WsAsideWindow *self, GtkListItem *list_item)
{
  const WsPhoto *photo = ws_photo_item_get_photo (gtk_list_item_get_item (list_item));
  g_autofree char *path = ws_library_dup_thumbnail_path (ws_session_get_desk (self->session)->library, photo->digest);
  g_autofree char *description = ws_words_photo (photo);

  ws_thumbnail_set_photo (WS_THUMBNAIL (gtk_list_item_get_child (list_item)), path, photo->path, photo->digest,
                          photo->width, photo->height, description);
}

static void
ws_aside_window_dispose (GObject *object)
{
  WsAsideWindow *self = WS_ASIDE_WINDOW (object);

  g_clear_object (&self->session);
  g_clear_object (&self->selection);
  g_clear_object (&self->photos);
  G_OBJECT_CLASS (ws_aside_window_parent_class)->dispose (object);
}

static void
ws_aside_window_class_init (WsAsideWindowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_aside_window_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-aside-window.ui");
  gtk_widget_class_bind_template_child (widget_class, WsAsideWindow, pages);
  gtk_widget_class_bind_template_child (widget_class, WsAsideWindow, prints);
  gtk_widget_class_install_action (widget_class, "aside.bring-back", NULL, bring_back_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
ws_aside_window_init (WsAsideWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->photos = g_list_store_new (WS_TYPE_PHOTO_ITEM);
  self->selection = gtk_multi_selection_new (g_object_ref (G_LIST_MODEL (self->photos)));
  g_signal_connect_object (self->selection, "selection-changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
}

GtkWidget *
ws_aside_window_new (WsSession *session)
{
  WsAsideWindow *self = g_object_new (WS_TYPE_ASIDE_WINDOW, NULL);
  g_autoptr (GtkListItemFactory) factory = gtk_signal_list_item_factory_new ();

  self->session = g_object_ref (session);
  g_signal_connect_object (factory, "setup", G_CALLBACK (setup_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (factory, "bind", G_CALLBACK (bind_cb), self, G_CONNECT_SWAPPED);
  gtk_grid_view_set_factory (self->prints, factory);
  gtk_grid_view_set_model (self->prints, GTK_SELECTION_MODEL (self->selection));
  g_signal_connect_object (session, "changed", G_CALLBACK (load), self, G_CONNECT_SWAPPED);
  update (self);
  load (self);
  return GTK_WIDGET (self);
}
