/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-photo-shelf.h"

#include "ws-arrange.h"
#include "ws-find-chooser.h"
#include "ws-intl.h"
#include "ws-print.h"
#include "ws-wrap-box.h"

#define PRINT_SIZE 96

struct _WsPhotoShelf
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkLabel *title;
  GtkListView *prints;

  WsSession *session;
  GListStore *photos;             /* WsPhotoItem */
  GtkMultiSelection *selection;
};

enum { SORT, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsPhotoShelf, ws_photo_shelf, GTK_TYPE_WIDGET)

/* --- What is taken -------------------------------------------------------------------------- */

static void
update (WsPhotoShelf *self)
{
  g_autoptr (GtkBitset) taken = gtk_selection_model_get_selection (GTK_SELECTION_MODEL (self->selection));
  gboolean any = !gtk_bitset_is_empty (taken);
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->photos));
  g_autofree char *title = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u photo not in a find yet",
                                                         "%u photos not in a find yet", n), n);

  gtk_label_set_text (self->title, title);
  gtk_widget_set_visible (GTK_WIDGET (self), n > 0);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "shelf.one-find", any);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "shelf.add-to", any);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "shelf.set-aside", any);
}

static void
session_changed_cb (WsPhotoShelf *self)
{
  ws_photo_items_set (self->photos, ws_session_get_unsorted (self->session));
  update (self);
}

/* --- What is done with it ---------------------------------------------------------------------- */

typedef struct { char **photos; char *find, *visit; } Wish;

static void
wish_free (gpointer data)
{
  Wish *wish = data;

  g_strfreev (wish->photos);
  g_free (wish->find);
  g_free (wish->visit);
  g_free (wish);
}

static gpointer
do_one_find (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  Wish *wish = data;

  return ws_arrange_one_find (desk, (const char *const *) wish->photos, error);
}

static gpointer
do_share (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  Wish *wish = data;

  ws_arrange_share (desk, (const char *const *) wish->photos, wish->find, wish->visit, error);
  return NULL;
}

static gpointer
do_set_aside (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  Wish *wish = data;

  ws_arrange_set_aside (desk, (const char *const *) wish->photos, TRUE, error);
  return NULL;
}

static Wish *
wish_new (WsPhotoShelf *self)
{
  Wish *wish = g_new0 (Wish, 1);

  wish->photos = ws_prints_dup_taken (GTK_SELECTION_MODEL (self->selection));
  return wish;
}

static void
one_find_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsPhotoShelf *self = WS_PHOTO_SHELF (widget);

  ws_session_edit (self->session, NULL, do_one_find, wish_new (self), wish_free, NULL, NULL, NULL, g_free);
}

static void
set_aside_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsPhotoShelf *self = WS_PHOTO_SHELF (widget);

  ws_session_edit (self->session, NULL, do_set_aside, wish_new (self), wish_free, NULL, NULL, NULL, NULL);
}

static void
chosen_cb (WsPhotoShelf *self, const char *find_id, const char *visit)
{
  Wish *wish = wish_new (self);

  wish->find = g_strdup (find_id);
  wish->visit = g_strdup (visit);
  ws_session_edit (self->session, find_id, do_share, wish, wish_free, NULL, NULL, NULL, NULL);
}

static void
add_to_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsPhotoShelf *self = WS_PHOTO_SHELF (widget);
  WsFindChooser *chooser = ws_find_chooser_new (self->session, _("Add the photos to a find"), TRUE);

  g_signal_connect_object (chooser, "chosen", G_CALLBACK (chosen_cb), self, G_CONNECT_SWAPPED);
  gtk_window_set_transient_for (GTK_WINDOW (chooser), GTK_WINDOW (gtk_widget_get_root (widget)));
  gtk_window_present (GTK_WINDOW (chooser));
}

static void
sort_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_signal_emit (widget, signals[SORT], 0);
}

static void
ws_photo_shelf_dispose (GObject *object)
{
  WsPhotoShelf *self = WS_PHOTO_SHELF (object);

  g_clear_object (&self->session);
  g_clear_object (&self->selection);
  g_clear_object (&self->photos);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (ws_photo_shelf_parent_class)->dispose (object);
}

static void
ws_photo_shelf_class_init (WsPhotoShelfClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_photo_shelf_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  g_type_ensure (WS_TYPE_WRAP_BOX);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-photo-shelf.ui");
  gtk_widget_class_bind_template_child (widget_class, WsPhotoShelf, box);
  gtk_widget_class_bind_template_child (widget_class, WsPhotoShelf, title);
  gtk_widget_class_bind_template_child (widget_class, WsPhotoShelf, prints);
  gtk_widget_class_install_action (widget_class, "shelf.one-find", NULL, one_find_action);
  gtk_widget_class_install_action (widget_class, "shelf.add-to", NULL, add_to_action);
  gtk_widget_class_install_action (widget_class, "shelf.set-aside", NULL, set_aside_action);
  gtk_widget_class_install_action (widget_class, "shelf.sort", NULL, sort_action);
  signals[SORT] = g_signal_new ("sort", WS_TYPE_PHOTO_SHELF, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 0);
}

static void
ws_photo_shelf_init (WsPhotoShelf *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->photos = g_list_store_new (WS_TYPE_PHOTO_ITEM);
  self->selection = gtk_multi_selection_new (g_object_ref (G_LIST_MODEL (self->photos)));
  g_signal_connect_swapped (self->selection, "selection-changed", G_CALLBACK (update), self);
}

void
ws_photo_shelf_set_session (WsPhotoShelf *self, WsSession *session)
{
  g_autoptr (GtkListItemFactory) factory = NULL;

  g_return_if_fail (WS_IS_PHOTO_SHELF (self) && self->session == NULL);
  self->session = g_object_ref (session);
  factory = ws_print_factory_new (session, PRINT_SIZE);
  gtk_list_view_set_factory (self->prints, factory);
  gtk_list_view_set_model (self->prints, GTK_SELECTION_MODEL (self->selection));
  g_signal_connect_object (session, "changed", G_CALLBACK (session_changed_cb), self, G_CONNECT_SWAPPED);
  session_changed_cb (self);
}
