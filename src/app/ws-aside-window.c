/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-aside-window.h"

#include "ws-arrange.h"
#include "ws-print.h"

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

  ws_session_edit (self->session, NULL, do_bring_back, ws_prints_dup_taken (GTK_SELECTION_MODEL (self->selection)),
                   (GDestroyNotify) g_strfreev, NULL, NULL, NULL, NULL);
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
  g_autoptr (GtkListItemFactory) factory = ws_print_factory_new (session, PRINT_SIZE);

  self->session = g_object_ref (session);
  gtk_grid_view_set_factory (self->prints, factory);
  gtk_grid_view_set_model (self->prints, GTK_SELECTION_MODEL (self->selection));
  g_signal_connect_object (session, "changed", G_CALLBACK (load), self, G_CONNECT_SWAPPED);
  update (self);
  load (self);
  return GTK_WIDGET (self);
}
