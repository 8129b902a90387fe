/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's commands. */
#include "ws-window-private.h"

#include "ws-actions.h"
#include "ws-aside-window.h"
#include "ws-arrange.h"
#include "ws-desktop.h"
#include "ws-eaten-window.h"
#include "ws-intl.h"
#include "ws-settings-window.h"

/* --- Photos ------------------------------------------------------------------------------------- */

static void
photos_chosen_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (WsWindow) self = user_data;
  g_autoptr (GListModel) files = ws_desktop_choose_photos_finish (result, NULL);
  g_autoptr (GStrvBuilder) paths = g_strv_builder_new ();
  g_auto (GStrv) list = NULL;

  for (guint i = 0; files != NULL && i < g_list_model_get_n_items (files); i++)
    {
      g_autoptr (GFile) file = g_list_model_get_item (files, i);

      if (g_file_peek_path (file) != NULL)
        g_strv_builder_add (paths, g_file_peek_path (file));
    }
  list = g_strv_builder_end (paths);
  if (list[0] != NULL)
    ws_window_import (self, (const char *const *) list);
}

static void
add_photos_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ws_desktop_choose_photos_async (GTK_WINDOW (widget), photos_chosen_cb, g_object_ref (widget));
}

static void
folder_chosen_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (WsWindow) self = user_data;
  g_autoptr (GFile) folder = ws_desktop_choose_folder_finish (result, NULL);

  if (folder != NULL && g_file_peek_path (folder) != NULL)
    ws_window_import (self, (const char *const []) { g_file_peek_path (folder), NULL });
}

static void
open_folder_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ws_desktop_choose_folder_async (GTK_WINDOW (widget), _("Open a folder or card"), folder_chosen_cb,
                                  g_object_ref (widget));
}

static void
sort_photos_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsWindow *self = WS_WINDOW (widget);

  ws_window_show_leaf (self, "import");
  if (!ws_import_page_is_reading (self->import_page))
    ws_import_page_sort_loose (self->import_page);
}

static void
set_aside_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  GtkWidget *window = ws_aside_window_new (WS_WINDOW (widget)->session);

  gtk_window_set_transient_for (GTK_WINDOW (window), GTK_WINDOW (widget));
  gtk_window_present (GTK_WINDOW (window));
}

/* --- Finds ---------------------------------------------------------------------------------------- */

static void
search_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsWindow *self = WS_WINDOW (widget);

  ws_window_show_leaf (self, "page");
  ws_finds_page_search (self->finds_page);
}

static gpointer
do_new_find (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *today = g_date_time_format (now, "%Y-%m-%d");

  return ws_arrange_new_find (desk, today, error);
}

static void
new_find_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsWindow *self = owner;

  g_free (self->open_when_there);
  self->open_when_there = g_strdup (result);
}

static void
new_find_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsWindow *self = WS_WINDOW (widget);

  ws_window_show_leaf (self, "page");
  ws_session_edit (self->session, NULL, do_new_find, NULL, NULL, self, new_find_cb, NULL, g_free);
}

static void
ask_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsWindow *self = WS_WINDOW (widget);

  if (self->open_find != NULL)
    ws_window_ask (self, self->open_find, NULL);
}

static void
go_back_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ws_window_show_leaf (WS_WINDOW (widget), "go-back");
}

static void
back_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsWindow *self = WS_WINDOW (widget);

  ws_window_show_leaf (self, "page");
  if (self->open_find != NULL)
    ws_finds_page_show_find (self->finds_page, self->open_find);
}

/* --- Undo: of the words while words are written, else of the library --------------------------- */

static gboolean
undo_words (WsWindow *self, const char *action)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));

  return (GTK_IS_TEXT (focus) || GTK_IS_TEXT_VIEW (focus)) && gtk_widget_activate_action (focus, action, NULL);
}

static void
undo_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsWindow *self = WS_WINDOW (widget);

  if (!undo_words (self, "text.undo"))
    ws_session_undo (self->session);
}

static void
redo_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsWindow *self = WS_WINDOW (widget);

  if (!undo_words (self, "text.redo"))
    ws_session_redo (self->session);
}

/* --- Other windows --------------------------------------------------------------------------------- */

static void
eaten_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  GtkWidget *window = ws_eaten_window_new (WS_WINDOW (widget)->session, WS_WINDOW (widget)->open_find);

  gtk_window_set_transient_for (GTK_WINDOW (window), GTK_WINDOW (widget));
  gtk_window_present (GTK_WINDOW (window));
}

static void
settings_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  GtkWidget *window = ws_settings_window_new (WS_WINDOW (widget)->session, FALSE);

  gtk_window_set_transient_for (GTK_WINDOW (window), GTK_WINDOW (widget));
  gtk_window_present (GTK_WINDOW (window));
}

static void
shortcuts_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ws_actions_show_shortcuts (GTK_WINDOW (widget));
}

static void
about_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ws_desktop_show_about (GTK_WINDOW (widget));
}

void
ws_window_ask_first_time (WsWindow *self)
{
  GtkWidget *window;

  if (self->asked_first || !ws_session_is_loaded (self->session)
      || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  self->asked_first = TRUE;
  if (*ws_session_get_setting (self->session, WS_SETTING_FIRST_ASKED) != '\0')
    return;
  window = ws_settings_window_new (self->session, TRUE);
  gtk_window_set_transient_for (GTK_WINDOW (window), GTK_WINDOW (self));
  gtk_window_present (GTK_WINDOW (window));
}

void
ws_window_install_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.add-photos", NULL, add_photos_action);
  gtk_widget_class_install_action (widget_class, "win.open-folder", NULL, open_folder_action);
  gtk_widget_class_install_action (widget_class, "win.sort-photos", NULL, sort_photos_action);
  gtk_widget_class_install_action (widget_class, "win.set-aside", NULL, set_aside_action);
  gtk_widget_class_install_action (widget_class, "win.search", NULL, search_action);
  gtk_widget_class_install_action (widget_class, "win.new-find", NULL, new_find_action);
  gtk_widget_class_install_action (widget_class, "win.ask", NULL, ask_action);
  gtk_widget_class_install_action (widget_class, "win.go-back", NULL, go_back_action);
  gtk_widget_class_install_action (widget_class, "win.back", NULL, back_action);
  /* Not a key of the application: those come before the photo, where Alt+arrows are fine steps. */
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Left, GDK_ALT_MASK, "win.back", NULL);
  gtk_widget_class_install_action (widget_class, "win.undo", NULL, undo_action);
  gtk_widget_class_install_action (widget_class, "win.redo", NULL, redo_action);
  gtk_widget_class_install_action (widget_class, "win.eaten", NULL, eaten_action);
  gtk_widget_class_install_action (widget_class, "win.settings", NULL, settings_action);
  gtk_widget_class_install_action (widget_class, "win.shortcuts", NULL, shortcuts_action);
  gtk_widget_class_install_action (widget_class, "win.about", NULL, about_action);
}
