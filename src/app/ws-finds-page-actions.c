/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be done with lines of the finds page: opened, asked about, merged, copied to, removed. */
#include "ws-finds-page-private.h"

#include "ws-arrange.h"
#include "ws-intl.h"
#include "ws-record.h"

/* Ids of the finds that are taken, from the top. */
static char **
dup_taken (WsFindsPage *self)
{
  g_autoptr (GtkBitset) taken = gtk_selection_model_get_selection (GTK_SELECTION_MODEL (self->selection));
  g_autoptr (GStrvBuilder) ids = g_strv_builder_new ();

  for (guint i = 0; i < gtk_bitset_get_size (taken); i++)
    {
      g_autoptr (GObject) line = g_list_model_get_item (G_LIST_MODEL (self->selection),
                                                        gtk_bitset_get_nth (taken, i));
      WsFindItem *item = WS_IS_FINDS_LINE (line) ? ws_finds_line_get_item (WS_FINDS_LINE (line)) : NULL;

      if (item != NULL)
        g_strv_builder_add (ids, ws_find_item_get_id (item));
    }
  return g_strv_builder_end (ids);
}

void
ws_finds_page_update_actions (WsFindsPage *self)
{
  g_auto (GStrv) ids = dup_taken (self);
  guint n = g_strv_length (ids);
  gboolean has_above = n == 1 && ws_session_get_item_before (self->session, ids[0]) != NULL;
  WsFindItem *single = n == 1 ? ws_session_get_item (self->session, ids[0]) : NULL;
  g_autofree char *text = NULL;

  if (single != NULL)
    text = g_strdup (ws_find_item_get_find (single)->number);
  else
    text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u find", "%u finds", n), n);
  gtk_label_set_text (self->taken, text);
  gtk_revealer_set_reveal_child (self->taken_bar, n > 0);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "finds.open", n == 1);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "finds.ask", n == 1);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "finds.copy-habitat", n > 1 || has_above);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "finds.merge", n > 1 || has_above);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "finds.remove", n > 0);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "finds.let-go", n > 0);
}

static void
open_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_auto (GStrv) ids = dup_taken (WS_FINDS_PAGE (widget));

  if (ids[0] != NULL)
    ws_finds_page_emit_open (WS_FINDS_PAGE (widget), ids[0]);
}

static void
ask_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_auto (GStrv) ids = dup_taken (WS_FINDS_PAGE (widget));

  if (ids[0] != NULL)
    ws_finds_page_emit_ask (WS_FINDS_PAGE (widget), ids[0]);
}

static void
let_go_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gtk_selection_model_unselect_all (GTK_SELECTION_MODEL (WS_FINDS_PAGE (widget)->selection));
}

/* --- Edits: the first id is the one that stays, or is copied from ----------------------------- */

static gpointer
do_copy_habitat (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  char **ids = data;

  ws_record_copy_habitat (desk, ids[0], (const char *const *) ids + 1, error);
  return NULL;
}

static gpointer
do_merge (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  char **ids = data;

  for (guint i = 1; ids[i] != NULL; i++)
    if (!ws_arrange_merge (desk, ids[0], ids[i], error))
      break;
  return NULL;
}

static gpointer
do_remove (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  char **ids = data;

  for (guint i = 0; ids[i] != NULL; i++)
    if (!ws_arrange_remove_find (desk, ids[i], error))
      break;
  return NULL;
}

/* The taken finds; of a single one, the find above it first. */
static char **
dup_taken_from_above (WsFindsPage *self)
{
  g_auto (GStrv) ids = dup_taken (self);
  WsFindItem *above = ids[0] != NULL && ids[1] == NULL ? ws_session_get_item_before (self->session, ids[0]) : NULL;
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();

  if (above != NULL)
    g_strv_builder_add (builder, ws_find_item_get_id (above));
  g_strv_builder_addv (builder, (const char **) ids);
  return g_strv_builder_end (builder);
}

static void
copied_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsFindsPage *self = owner;

  if (error == NULL)
    ws_session_say (self->session, _("Surroundings, ground and trees were copied, as unsure."));
}

static void
removed_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsFindsPage *self = owner;

  if (error == NULL)
    ws_session_say (self->session, _("Removed. Undo brings it back; its photos are loose again."));
}

static void
copy_habitat_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsFindsPage *self = WS_FINDS_PAGE (widget);

  ws_session_edit (self->session, NULL, do_copy_habitat, dup_taken_from_above (self), (GDestroyNotify) g_strfreev,
                   self, copied_cb, NULL, NULL);
}

static void
merge_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsFindsPage *self = WS_FINDS_PAGE (widget);

  ws_session_edit (self->session, NULL, do_merge, dup_taken_from_above (self), (GDestroyNotify) g_strfreev,
                   NULL, NULL, NULL, NULL);
}

static void
remove_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsFindsPage *self = WS_FINDS_PAGE (widget);

  ws_session_edit (self->session, NULL, do_remove, dup_taken (self), (GDestroyNotify) g_strfreev,
                   self, removed_cb, NULL, NULL);
}

void
ws_finds_page_install_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "finds.open", NULL, open_action);
  gtk_widget_class_install_action (widget_class, "finds.ask", NULL, ask_action);
  gtk_widget_class_install_action (widget_class, "finds.copy-habitat", NULL, copy_habitat_action);
  gtk_widget_class_install_action (widget_class, "finds.merge", NULL, merge_action);
  gtk_widget_class_install_action (widget_class, "finds.remove", NULL, remove_action);
  gtk_widget_class_install_action (widget_class, "finds.let-go", NULL, let_go_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Delete, 0, "finds.remove", NULL);
}
