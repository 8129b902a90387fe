/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-window-private.h"

#include "ws-intl.h"

enum { PROP_PLACE = 1, PROP_MIRRORED, PROP_TECHNICAL, N_PROPS };
static GParamSpec *props[N_PROPS];

G_DEFINE_FINAL_TYPE (WsWindow, ws_window, ADW_TYPE_APPLICATION_WINDOW)

/* --- Where we are ------------------------------------------------------------------------------ */

void
ws_window_update (WsWindow *self)
{
  const char *leaf = gtk_stack_get_visible_child_name (self->finds_leaves);
  gboolean finds = g_strcmp0 (ws_thumb_index_get_current (self->index), "finds") == 0;
  gboolean deeper = finds && g_strcmp0 (leaf, "page") != 0;
  const char *undo = ws_session_get_undo_label (self->session), *redo = ws_session_get_redo_label (self->session);
  GPtrArray *unsorted = ws_session_get_unsorted (self->session);
  g_autofree char *undo_tip = g_strdup_printf (undo != NULL ? _("Undo: %s") : _("Undo"), undo);
  g_autofree char *redo_tip = g_strdup_printf (redo != NULL ? _("Redo: %s") : _("Redo"), redo);

  gtk_widget_set_visible (self->back, deeper);
  /* In a window as narrow as a phone there is room for one of the two; Ctrl+F searches from everywhere. */
  gtk_widget_set_visible (self->lens, !deeper);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.back", deeper);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.ask", finds && g_strcmp0 (leaf, "sheet") == 0);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.sort-photos", unsorted != NULL && unsorted->len > 0);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.undo", undo != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.redo", redo != NULL);
  gtk_widget_set_tooltip_text (self->undo, undo_tip);
  gtk_widget_set_tooltip_text (self->redo, redo_tip);
  if (!finds)
    gtk_label_set_text (self->title, _("Requests"));
  else if (g_strcmp0 (leaf, "import") == 0)
    gtk_label_set_text (self->title, _("Photos come in"));
  else if (g_strcmp0 (leaf, "go-back") == 0)
    gtk_label_set_text (self->title, ws_session_text (self->session, "go_back", "title"));
  else if (g_strcmp0 (leaf, "sheet") == 0 && ws_session_get_item (self->session, self->open_find) != NULL)
    gtk_label_set_text (self->title,
                        ws_find_item_get_find (ws_session_get_item (self->session, self->open_find))->number);
  else
    gtk_label_set_text (self->title, _("Finds"));
}

void
ws_window_show_leaf (WsWindow *self, const char *leaf)
{
  ws_thumb_index_set_current (self->index, "finds");
  gtk_stack_set_visible_child_name (self->finds_leaves, leaf);
  ws_window_update (self);
}

static void
place_cb (WsWindow *self)
{
  gtk_stack_set_visible_child_name (self->places, ws_thumb_index_get_current (self->index));
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_PLACE]);
  ws_window_update (self);
}

static void
set_mirrored (WsWindow *self, gboolean mirrored)
{
  if (self->mirrored == mirrored)
    return;
  self->mirrored = mirrored;
  gtk_box_reorder_child_after (self->content, GTK_WIDGET (self->index),
                               mirrored ? NULL : gtk_widget_get_last_child (GTK_WIDGET (self->content)));
  ws_thumb_index_set_mirrored (self->index, mirrored);
  ws_session_set_setting (self->session, WS_SETTING_MIRRORED, mirrored ? "yes" : "");
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_MIRRORED]);
}

static gboolean
is_technical (WsWindow *self)
{
  return self->session != NULL && g_str_equal (ws_session_get_setting (self->session, WS_SETTING_TECHNICAL), "yes");
}

static void
set_technical (WsWindow *self, gboolean technical)
{
  if (is_technical (self) == technical)
    return;
  ws_session_set_setting (self->session, WS_SETTING_TECHNICAL, technical ? "yes" : "");
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_TECHNICAL]);
}

/* --- What the session and the pages say ------------------------------------------------------- */

static void
session_changed_cb (WsWindow *self)
{
  if (ws_session_get_item (self->session, self->open_when_there) != NULL)
    {
      g_autofree char *id = g_steal_pointer (&self->open_when_there);

      ws_window_open_find (self, id);
    }
  if (self->show_top && g_list_model_get_n_items (ws_session_get_finds (self->session)) > 0)
    {
      self->show_top = FALSE;
      ws_finds_page_show_top (self->finds_page);
    }
  if (self->open_find != NULL && ws_session_is_loaded (self->session)
      && ws_session_get_item (self->session, self->open_find) == NULL)
    {
      g_clear_pointer (&self->open_find, g_free);
      if (g_strcmp0 (gtk_stack_get_visible_child_name (self->finds_leaves), "sheet") == 0)
        gtk_stack_set_visible_child_name (self->finds_leaves, "page");
    }
  set_mirrored (self, g_str_equal (ws_session_get_setting (self->session, WS_SETTING_MIRRORED), "yes"));
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_TECHNICAL]);
  ws_window_update (self);
  ws_window_ask_first_time (self);
}

static void
said_cb (WsWindow *self, const char *text, gboolean is_error)
{
  ws_margin_note_say (self->note, text, is_error);
}

static void
open_find_cb (WsWindow *self, const char *find_id)
{
  ws_window_open_find (self, find_id);
}

static void
ask_cb (WsWindow *self, const char *find_id)
{
  ws_window_ask (self, find_id, NULL);
}

static void
correct_cb (WsWindow *self, const char *find_id, const char *request_id)
{
  ws_window_ask (self, find_id, request_id);
}

static void
sort_photos_cb (WsWindow *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.sort-photos", NULL);
}

static void
import_finished_cb (WsWindow *self)
{
  if (g_strcmp0 (gtk_stack_get_visible_child_name (self->finds_leaves), "import") == 0)
    ws_window_show_leaf (self, "page");
  self->show_top = TRUE;
}

static gboolean
dropped_cb (WsWindow *self, const GValue *value)
{
  g_autoptr (GStrvBuilder) paths = g_strv_builder_new ();
  g_auto (GStrv) list = NULL;

  for (GSList *l = g_value_get_boxed (value); l != NULL; l = l->next)
    if (g_file_peek_path (l->data) != NULL)
      g_strv_builder_add (paths, g_file_peek_path (l->data));
  list = g_strv_builder_end (paths);
  if (list[0] == NULL)
    {
      ws_session_say (self->session, _("What was dropped is not on this computer; save it to a folder first."));
      return FALSE;
    }
  ws_window_import (self, (const char *const *) list);
  return TRUE;
}

/* --- The object ---------------------------------------------------------------------------------- */

static void
ws_window_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  WsWindow *self = WS_WINDOW (object);

  if (id == PROP_PLACE)
    g_value_set_string (value, ws_thumb_index_get_current (self->index));
  else if (id == PROP_MIRRORED)
    g_value_set_boolean (value, self->mirrored);
  else if (id == PROP_TECHNICAL)
    g_value_set_boolean (value, is_technical (self));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
ws_window_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  WsWindow *self = WS_WINDOW (object);

  if (id == PROP_PLACE)
    ws_thumb_index_set_current (self->index, g_value_get_string (value));
  else if (id == PROP_MIRRORED)
    set_mirrored (self, g_value_get_boolean (value));
  else if (id == PROP_TECHNICAL)
    set_technical (self, g_value_get_boolean (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

/* Closing stops the reading of photos; what was read is stored. */
static gboolean
ws_window_close_request (GtkWindow *window)
{
  ws_import_page_stop (WS_WINDOW (window)->import_page);
  return GTK_WINDOW_CLASS (ws_window_parent_class)->close_request (window);
}

static void
ws_window_dispose (GObject *object)
{
  WsWindow *self = WS_WINDOW (object);

  g_clear_pointer (&self->open_find, g_free);
  g_clear_pointer (&self->open_when_there, g_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (ws_window_parent_class)->dispose (object);
}

static void
ws_window_class_init (WsWindowClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  GParamFlags flags = G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY;

  object_class->get_property = ws_window_get_property;
  object_class->set_property = ws_window_set_property;
  object_class->dispose = ws_window_dispose;
  GTK_WINDOW_CLASS (class)->close_request = ws_window_close_request;
  props[PROP_PLACE] = g_param_spec_string ("place", NULL, NULL, NULL, flags);
  props[PROP_MIRRORED] = g_param_spec_boolean ("mirrored", NULL, NULL, FALSE, flags);
  props[PROP_TECHNICAL] = g_param_spec_boolean ("technical", NULL, NULL, FALSE, flags);
  g_object_class_install_properties (object_class, N_PROPS, props);
  g_type_ensure (WS_TYPE_IF_ROOM);
  g_type_ensure (WS_TYPE_THUMB_INDEX);
  g_type_ensure (WS_TYPE_MARGIN_NOTE);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-window.ui");
  gtk_widget_class_bind_template_child (widget_class, WsWindow, title);
  gtk_widget_class_bind_template_child (widget_class, WsWindow, back);
  gtk_widget_class_bind_template_child (widget_class, WsWindow, lens);
  gtk_widget_class_bind_template_child (widget_class, WsWindow, undo);
  gtk_widget_class_bind_template_child (widget_class, WsWindow, redo);
  gtk_widget_class_bind_template_child (widget_class, WsWindow, content);
  gtk_widget_class_bind_template_child (widget_class, WsWindow, places);
  gtk_widget_class_bind_template_child (widget_class, WsWindow, finds_leaves);
  gtk_widget_class_bind_template_child (widget_class, WsWindow, index);
  gtk_widget_class_bind_template_child (widget_class, WsWindow, note);
  gtk_widget_class_install_property_action (widget_class, "win.place", "place");
  gtk_widget_class_install_property_action (widget_class, "win.mirror", "mirrored");
  gtk_widget_class_install_property_action (widget_class, "win.technical", "technical");
  ws_window_install_actions (widget_class);
}

static void
ws_window_init (WsWindow *self)
{
  GtkDropTarget *drop = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  gtk_widget_init_template (GTK_WIDGET (self));
  ws_thumb_index_add_place (self->index, "finds", _("Finds"));
  ws_thumb_index_add_place (self->index, "requests", _("Requests"));
  ws_thumb_index_add_action (self->index, _("Eaten, or perhaps eaten"), "win.eaten");
  g_signal_connect_object (drop, "drop", G_CALLBACK (dropped_cb), self, G_CONNECT_SWAPPED);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drop));
}

static void
add_pages (WsWindow *self)
{
  self->finds_page = WS_FINDS_PAGE (ws_finds_page_new (self->session));
  self->import_page = WS_IMPORT_PAGE (ws_import_page_new (self->session));
  self->go_back_page = WS_GO_BACK_PAGE (ws_go_back_page_new (self->session));
  self->sheet = WS_FIND_SHEET (ws_find_sheet_new (self->session));
  self->requests_page = WS_REQUESTS_PAGE (ws_requests_page_new (self->session));
  gtk_stack_add_named (self->finds_leaves, GTK_WIDGET (self->finds_page), "page");
  gtk_stack_add_named (self->finds_leaves, GTK_WIDGET (self->go_back_page), "go-back");
  gtk_stack_add_named (self->finds_leaves, GTK_WIDGET (self->import_page), "import");
  gtk_stack_add_named (self->finds_leaves, GTK_WIDGET (self->sheet), "sheet");
  gtk_stack_add_named (self->places, GTK_WIDGET (self->requests_page), "requests");
  g_signal_connect_object (self->finds_page, "open-find", G_CALLBACK (open_find_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->go_back_page, "open-find", G_CALLBACK (open_find_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->finds_page, "ask", G_CALLBACK (ask_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->finds_page, "sort-photos", G_CALLBACK (sort_photos_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->import_page, "finished", G_CALLBACK (import_finished_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->requests_page, "correct", G_CALLBACK (correct_cb), self, G_CONNECT_SWAPPED);
}

WsWindow *
ws_window_new (GtkApplication *application, WsSession *session)
{
  WsWindow *self = g_object_new (WS_TYPE_WINDOW, "application", application, NULL);

  self->session = g_object_ref (session);
  add_pages (self);
  g_signal_connect_object (self->index, "notify::current", G_CALLBACK (place_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "changed", G_CALLBACK (session_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "said", G_CALLBACK (said_cb), self, G_CONNECT_SWAPPED);
  session_changed_cb (self);
  return self;
}

WsSession *
ws_window_get_session (WsWindow *self)
{
  g_return_val_if_fail (WS_IS_WINDOW (self), NULL);
  return self->session;
}

void
ws_window_import (WsWindow *self, const char *const *paths)
{
  g_return_if_fail (WS_IS_WINDOW (self));
  ws_window_show_leaf (self, "import");
  ws_import_page_read (self->import_page, paths);
}

void
ws_window_open_find (WsWindow *self, const char *find_id)
{
  g_return_if_fail (WS_IS_WINDOW (self));
  if (ws_session_get_item (self->session, find_id) == NULL)
    return;
  g_free (self->open_find);
  self->open_find = g_strdup (find_id);
  ws_find_sheet_show (self->sheet, find_id);
  ws_window_show_leaf (self, "sheet");
}

void
ws_window_ask (WsWindow *self, const char *find_id, const char *replaces)
{
  GtkWidget *ask;

  g_return_if_fail (WS_IS_WINDOW (self));
  if (ws_session_get_item (self->session, find_id) == NULL)
    return;
  ask = ws_ask_window_new (self->session, find_id, replaces);
  gtk_window_set_transient_for (GTK_WINDOW (ask), GTK_WINDOW (self));
  gtk_window_present (GTK_WINDOW (ask));
}
