/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-find-chooser.h"

#include "ws-intl.h"
#include "ws-list.h"
#include "ws-words.h"

struct _WsFindChooser
{
  AdwWindow parent_instance;

  GtkWidget *visits;
  GtkCheckButton *first, *same, *another;
  GtkListView *list;

  WsSession *session;
};

enum { CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsFindChooser, ws_find_chooser, ADW_TYPE_WINDOW)

static void
activate_cb (WsFindChooser *self, guint position)
{
  g_autoptr (WsFindItem) item = g_list_model_get_item (ws_session_get_finds (self->session), position);
  const char *visit = gtk_check_button_get_active (self->same) ? "same"
                      : gtk_check_button_get_active (self->another) ? "another" : "";

  if (item == NULL)
    return;
  g_signal_emit (self, signals[CHOSEN], 0, ws_find_item_get_id (item), gtk_widget_get_visible (self->visits) ? visit : "");
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
setup_cb (GtkListItemFactory *factory, GtkListItem *list_item)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_list_item_set_child (list_item, label);
}

static void
bind_cb (GtkListItemFactory *factory, GtkListItem *list_item)
{
  const WsFind *find = ws_find_item_get_find (gtk_list_item_get_item (list_item));
  g_autofree char *title = ws_words_find_title (find);
  g_autofree char *date = ws_moment_date (&find->when);
  g_autofree char *text = g_strdup_printf ("%s · %s", title, date != NULL ? date : _("no date"));

  gtk_label_set_label (GTK_LABEL (gtk_list_item_get_child (list_item)), text);
  ws_list_name_row (list_item, text);
}

static void
ws_find_chooser_dispose (GObject *object)
{
  WsFindChooser *self = WS_FIND_CHOOSER (object);

  gtk_widget_dispose_template (GTK_WIDGET (self), WS_TYPE_FIND_CHOOSER);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (ws_find_chooser_parent_class)->dispose (object);
}

static void
ws_find_chooser_class_init (WsFindChooserClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = ws_find_chooser_dispose;
  signals[CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_STRING);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-find-chooser.ui");
  gtk_widget_class_bind_template_child (widget_class, WsFindChooser, visits);
  gtk_widget_class_bind_template_child (widget_class, WsFindChooser, first);
  gtk_widget_class_bind_template_child (widget_class, WsFindChooser, same);
  gtk_widget_class_bind_template_child (widget_class, WsFindChooser, another);
  gtk_widget_class_bind_template_child (widget_class, WsFindChooser, list);
  gtk_widget_class_bind_template_callback (widget_class, activate_cb);
}

static void
ws_find_chooser_init (WsFindChooser *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

WsFindChooser *
ws_find_chooser_new (WsSession *session, const char *title, gboolean ask_visit)
{
  WsFindChooser *self = g_object_new (WS_TYPE_FIND_CHOOSER, "title", title, NULL);
  g_autoptr (GtkListItemFactory) factory = gtk_signal_list_item_factory_new ();
  g_autoptr (GtkSelectionModel) selection = NULL;

  self->session = g_object_ref (session);
  gtk_widget_set_visible (self->visits, ask_visit);
  g_signal_connect (factory, "setup", G_CALLBACK (setup_cb), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), NULL);
  selection = GTK_SELECTION_MODEL (gtk_single_selection_new (g_object_ref (ws_session_get_finds (session))));
  gtk_list_view_set_factory (self->list, factory);
  gtk_list_view_set_model (self->list, selection);
  return self;
}
