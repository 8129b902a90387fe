/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-finds-page-private.h"

#include "ws-find-row.h"
#include "ws-foray-row.h"
#include "ws-intl.h"
#include "ws-list.h"
#include "ws-wrap-box.h"

enum { OPEN_FIND, ASK, SORT_PHOTOS, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsFindsPage, ws_finds_page, GTK_TYPE_WIDGET)

void
ws_finds_page_emit_open (WsFindsPage *self, const char *id)
{
  g_signal_emit (self, signals[OPEN_FIND], 0, id);
}

void
ws_finds_page_emit_ask (WsFindsPage *self, const char *id)
{
  g_signal_emit (self, signals[ASK], 0, id);
}

/* --- Which page of the page -------------------------------------------------------------- */

static void
update (WsFindsPage *self)
{
  GPtrArray *unsorted = ws_session_get_unsorted (self->session);
  guint n_finds = g_list_model_get_n_items (ws_session_get_finds (self->session));
  guint n_lines = g_list_model_get_n_items (ws_finds_lines_get_list (self->lines));
  const char *page = "book";

  if (!ws_session_is_loaded (self->session))
    page = "opening";
  else if (n_finds == 0 && unsorted->len == 0)
    page = "empty";
  else if (n_finds > 0 && n_lines == 0)
    page = "nothing-found";
  gtk_stack_set_visible_child_name (self->pages, page);
  ws_finds_page_update_actions (self);
}

/* --- Searching ------------------------------------------------------------------------------ */

static gpointer
search_finds (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) finds = ws_library_load_finds (desk->library, data, error);
  GHashTable *ids;

  if (finds == NULL)
    return NULL;
  ids = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < finds->len; i++)
    g_hash_table_add (ids, g_strdup (((WsFind *) g_ptr_array_index (finds, i))->id));
  return ids;
}

static void
searched_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsFindsPage *self = owner;

  /* Only the answer to what was typed last counts. */
  if (GPOINTER_TO_UINT (done_data) != self->search_serial)
    return;
  if (error != NULL)
    ws_session_report (self->session, error);
  else
    ws_finds_lines_set_only (self->lines, result);
  update (self);
}

static void
search_changed_cb (WsFindsPage *self)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->search_entry));

  self->search_serial++;
  if (*text == '\0')
    {
      ws_finds_lines_set_only (self->lines, NULL);
      update (self);
      return;
    }
  ws_task_run (ws_session_get_desk (self->session), search_finds, g_strdup (text), g_free, NULL, self, searched_cb,
               GUINT_TO_POINTER (self->search_serial), (GDestroyNotify) g_hash_table_unref);
}

static void
session_changed_cb (WsFindsPage *self)
{
  guint n_lines;

  ws_finds_lines_refresh (self->lines);
  if (*gtk_editable_get_text (GTK_EDITABLE (self->search_entry)) != '\0')
    search_changed_cb (self);
  update (self);
  /* The first lines come in above the cautions, and the list would stay with these. */
  n_lines = g_list_model_get_n_items (ws_finds_lines_get_list (self->lines));
  if (n_lines > 0 && !self->had_lines)
    ws_finds_page_show_top (self);
  self->had_lines = n_lines > 0;
}

/* --- Lines ------------------------------------------------------------------------------------- */

/* What the page carries at its foot. The list ends with it, so that it is read last and costs no room above. */
static GtkWidget *
make_cautions (WsFindsPage *self)
{
  static const char *const ids[] = { "photos_never", "doubt", "poison", "law", "touch" };
  GString *text = g_string_new (NULL);
  GtkWidget *label;

  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "\n" : "", ws_session_text (self->session, "caution", ids[i]));
  label = gtk_label_new (text->str);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "cautions");
  g_string_free (text, TRUE);
  return label;
}

static void
row_open_cb (WsFindsPage *self, WsFindRow *row)
{
  ws_finds_page_emit_open (self, ws_find_item_get_id (ws_find_row_get_item (row)));
}

static void
row_take_cb (WsFindsPage *self, WsFindRow *row)
{
  int place = ws_finds_lines_get_place (self->lines, ws_find_item_get_id (ws_find_row_get_item (row)));
  GtkSelectionModel *model = GTK_SELECTION_MODEL (self->selection);

  if (place < 0)
    return;
  if (gtk_selection_model_is_selected (model, place))
    gtk_selection_model_unselect_item (model, place);
  else
    gtk_selection_model_select_item (model, place, FALSE);
}

static GtkWidget *
make_child (WsFindsPage *self, gpointer line)
{
  GtkWidget *row;

  if (!WS_IS_FINDS_LINE (line))
    return make_cautions (self);
  if (ws_finds_line_get_item (line) == NULL)
    {
      row = ws_foray_row_new (self->session);
      ws_foray_row_set_line (WS_FORAY_ROW (row), line);
      return row;
    }
  row = ws_find_row_new (self->session);
  ws_find_row_set_item (WS_FIND_ROW (row), ws_finds_line_get_item (line));
  g_signal_connect_object (row, "open", G_CALLBACK (row_open_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (row, "take", G_CALLBACK (row_take_cb), self, G_CONNECT_SWAPPED);
  return row;
}

/* What the line says. (transfer full) */
static char *
dup_description (GtkWidget *child)
{
  if (WS_IS_FIND_ROW (child))
    return ws_find_row_dup_description (WS_FIND_ROW (child));
  if (WS_IS_FORAY_ROW (child))
    return ws_foray_row_dup_description (WS_FORAY_ROW (child));
  return g_strdup (gtk_label_get_text (GTK_LABEL (child)));
}

static void
bind_cb (WsFindsPage *self, GtkListItem *list_item)
{
  gpointer line = gtk_list_item_get_item (list_item);
  GtkWidget *child = gtk_list_item_get_child (list_item);
  WsFindItem *item = WS_IS_FINDS_LINE (line) ? ws_finds_line_get_item (line) : NULL;

  gtk_list_item_set_selectable (list_item, item != NULL);
  gtk_list_item_set_activatable (list_item, item != NULL);
  if (item != NULL && WS_IS_FIND_ROW (child))
    ws_find_row_set_item (WS_FIND_ROW (child), item);
  else if (item == NULL && WS_IS_FORAY_ROW (child) && WS_IS_FINDS_LINE (line))
    ws_foray_row_set_line (WS_FORAY_ROW (child), line);
  else
    gtk_list_item_set_child (list_item, make_child (self, line));
  {
    g_autofree char *name = dup_description (gtk_list_item_get_child (list_item));

    ws_list_name_row (list_item, name);
  }
}

static void
unbind_cb (WsFindsPage *self, GtkListItem *list_item)
{
  GtkWidget *child = gtk_list_item_get_child (list_item);

  if (WS_IS_FIND_ROW (child))
    ws_find_row_set_item (WS_FIND_ROW (child), NULL);
  else if (WS_IS_FORAY_ROW (child))
    ws_foray_row_set_line (WS_FORAY_ROW (child), NULL);
}

static void
activate_cb (WsFindsPage *self, guint position)
{
  g_autoptr (GObject) line = g_list_model_get_item (G_LIST_MODEL (self->selection), position);
  WsFindItem *item = WS_IS_FINDS_LINE (line) ? ws_finds_line_get_item (WS_FINDS_LINE (line)) : NULL;

  if (item != NULL)
    ws_finds_page_emit_open (self, ws_find_item_get_id (item));
}

static void
sort_cb (WsFindsPage *self)
{
  g_signal_emit (self, signals[SORT_PHOTOS], 0);
}

/* --- The widget ---------------------------------------------------------------------------------- */

static void
ws_finds_page_dispose (GObject *object)
{
  WsFindsPage *self = WS_FINDS_PAGE (object);

  g_clear_object (&self->session);
  g_clear_object (&self->lines);
  g_clear_object (&self->selection);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (ws_finds_page_parent_class)->dispose (object);
}

static void
ws_finds_page_class_init (WsFindsPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  GType string[] = { G_TYPE_STRING };

  G_OBJECT_CLASS (class)->dispose = ws_finds_page_dispose;
  g_type_ensure (WS_TYPE_PHOTO_SHELF);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  g_type_ensure (WS_TYPE_WRAP_BOX);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-finds-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WsFindsPage, box);
  gtk_widget_class_bind_template_child (widget_class, WsFindsPage, pages);
  gtk_widget_class_bind_template_child (widget_class, WsFindsPage, search_bar);
  gtk_widget_class_bind_template_child (widget_class, WsFindsPage, search_entry);
  gtk_widget_class_bind_template_child (widget_class, WsFindsPage, shelf);
  gtk_widget_class_bind_template_child (widget_class, WsFindsPage, list);
  gtk_widget_class_bind_template_child (widget_class, WsFindsPage, empty_cautions);
  gtk_widget_class_bind_template_child (widget_class, WsFindsPage, taken_bar);
  gtk_widget_class_bind_template_child (widget_class, WsFindsPage, taken);
  gtk_widget_class_bind_template_callback (widget_class, activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, search_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, sort_cb);
  ws_finds_page_install_actions (widget_class);
  for (guint i = 0; i < N_SIGNALS; i++)
    signals[i] = g_signal_newv ((const char *[]) { "open-find", "ask", "sort-photos" }[i], WS_TYPE_FINDS_PAGE,
                                G_SIGNAL_RUN_LAST, NULL, NULL, NULL, NULL, G_TYPE_NONE,
                                i == SORT_PHOTOS ? 0 : 1, i == SORT_PHOTOS ? NULL : string);
}

static void
ws_finds_page_init (WsFindsPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_search_bar_connect_entry (self->search_bar, GTK_EDITABLE (self->search_entry));
}

/* Lines, and below the last one the cautions. */
static void
make_model (WsFindsPage *self)
{
  g_autoptr (GListStore) both = g_list_store_new (G_TYPE_LIST_MODEL);
  g_autoptr (GtkStringList) foot = gtk_string_list_new ((const char *[]) { "cautions", NULL });
  GtkFlattenListModel *flat;

  self->lines = ws_finds_lines_new (ws_session_get_finds (self->session));
  g_list_store_append (both, ws_finds_lines_get_list (self->lines));
  g_list_store_append (both, foot);
  flat = gtk_flatten_list_model_new (G_LIST_MODEL (g_steal_pointer (&both)));
  self->selection = gtk_multi_selection_new (G_LIST_MODEL (flat));
  g_signal_connect_object (self->selection, "selection-changed", G_CALLBACK (ws_finds_page_update_actions), self,
                           G_CONNECT_SWAPPED);
}

GtkWidget *
ws_finds_page_new (WsSession *session)
{
  WsFindsPage *self = g_object_new (WS_TYPE_FINDS_PAGE, NULL);
  g_autoptr (GtkListItemFactory) factory = gtk_signal_list_item_factory_new ();

  self->session = g_object_ref (session);
  make_model (self);
  g_signal_connect_object (factory, "bind", G_CALLBACK (bind_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (factory, "unbind", G_CALLBACK (unbind_cb), self, G_CONNECT_SWAPPED);
  gtk_list_view_set_factory (self->list, factory);
  gtk_list_view_set_model (self->list, GTK_SELECTION_MODEL (self->selection));
  gtk_box_append (self->empty_cautions, make_cautions (self));
  ws_photo_shelf_set_session (self->shelf, session);
  g_signal_connect_object (session, "changed", G_CALLBACK (session_changed_cb), self, G_CONNECT_SWAPPED);
  update (self);
  return GTK_WIDGET (self);
}

void
ws_finds_page_search (WsFindsPage *self)
{
  g_return_if_fail (WS_IS_FINDS_PAGE (self));
  gtk_search_bar_set_search_mode (self->search_bar, TRUE);
  gtk_widget_grab_focus (GTK_WIDGET (self->search_entry));
}

void
ws_finds_page_show_top (WsFindsPage *self)
{
  g_return_if_fail (WS_IS_FINDS_PAGE (self));
  gtk_widget_activate_action (GTK_WIDGET (self->list), "list.scroll-to-item", "u", 0);
}

void
ws_finds_page_show_find (WsFindsPage *self, const char *id)
{
  int place;

  g_return_if_fail (WS_IS_FINDS_PAGE (self));
  place = ws_finds_lines_get_place (self->lines, id);
  if (place < 0)
    return;
  gtk_widget_activate_action (GTK_WIDGET (self->list), "list.scroll-to-item", "u", (guint) place);
  gtk_widget_grab_focus (GTK_WIDGET (self->list));
}
