/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-application.h"

#include "ws-actions.h"
#include "ws-app-resources.h"
#include "ws-desktop.h"
#include "ws-intl.h"
#include "ws-window.h"

struct _WsApplication
{
  AdwApplication parent_instance;

  char *library;         /* (nullable): folder asked for */
  GStrvBuilder *paths;   /* given on the command line, to be taken in after asking */
  gboolean any_paths;
  gboolean opening;
  WsWindow *window;      /* weak */
};

G_DEFINE_FINAL_TYPE (WsApplication, ws_application, ADW_TYPE_APPLICATION)

/* --- Photos named on the command line ------------------------------------------------------------ */

static void
take_in_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (WsApplication) self = user_data;
  g_autofree char *answer = ws_desktop_ask_finish (result, NULL);
  g_auto (GStrv) paths = g_strv_builder_end (self->paths);

  if (g_strcmp0 (answer, "take-in") == 0 && self->window != NULL)
    ws_window_import (self->window, (const char *const *) paths);
}

static void
ask_paths (WsApplication *self)
{
  const WsDesktopAnswer answers[] = { { "leave", _("_Leave them"), FALSE, FALSE },
                                      { "take-in", _("_Take them in"), TRUE, FALSE }, { 0 } };

  if (!self->any_paths || self->window == NULL)
    return;
  self->any_paths = FALSE;
  ws_desktop_ask_async (GTK_WINDOW (self->window), _("Take these photos into the library?"),
                        _("They stay where they are and are not changed; from a card they are copied first."), answers,
                        take_in_cb, g_object_ref (self));
}

/* --- Opening the library ---------------------------------------------------------------------------- */

static void open_library (WsApplication *self);

static gpointer
open_desk (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  return ws_desk_open (data, error);
}

static void
folder_chosen_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (WsApplication) self = user_data;
  g_autoptr (GFile) folder = ws_desktop_choose_folder_finish (result, NULL);

  if (folder != NULL && g_file_peek_path (folder) != NULL)
    {
      g_free (self->library);
      self->library = g_strdup (g_file_peek_path (folder));
      open_library (self);
    }
  g_application_release (G_APPLICATION (self));
}

static void
trouble_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (WsApplication) self = user_data;
  g_autofree char *answer = ws_desktop_ask_finish (result, NULL);

  if (g_strcmp0 (answer, "other") != 0)
    {
      g_application_release (G_APPLICATION (self));
      return;
    }
  ws_desktop_choose_folder_async (NULL, _("Open another library"), folder_chosen_cb, g_object_ref (self));
}

static void
opened_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsApplication *self = owner;
  const WsDesktopAnswer answers[] = { { "quit", _("_Quit"), FALSE, FALSE },
                                      { "other", _("_Open another library…"), TRUE, FALSE }, { 0 } };
  g_autoptr (WsSession) session = NULL;

  self->opening = FALSE;
  if (error != NULL)
    {
      ws_desktop_ask_async (NULL, _("The library cannot be opened"), error->message, answers, trouble_cb,
                            g_object_ref (self));
      return;   /* held until it is answered */
    }
  session = ws_session_new (result);
  self->window = ws_window_new (GTK_APPLICATION (self), session);
  g_object_add_weak_pointer (G_OBJECT (self->window), (gpointer *) &self->window);
  gtk_window_present (GTK_WINDOW (self->window));
  ask_paths (self);
  g_application_release (G_APPLICATION (self));
}

static void
open_library (WsApplication *self)
{
  if (self->opening)
    return;
  self->opening = TRUE;
  g_application_hold (G_APPLICATION (self));
  ws_task_run (NULL, open_desk, g_strdup (self->library), g_free, NULL, self, opened_cb, NULL,
               (GDestroyNotify) ws_desk_unref);
}

/* --- The application ------------------------------------------------------------------------------------ */

static void
ws_application_activate (GApplication *application)
{
  WsApplication *self = WS_APPLICATION (application);

  if (self->window != NULL)
    gtk_window_present (GTK_WINDOW (self->window));
  else
    open_library (self);
}

static void
ws_application_open (GApplication *application, GFile **files, int n_files, const char *hint)
{
  WsApplication *self = WS_APPLICATION (application);

  for (int i = 0; i < n_files; i++)
    if (g_file_peek_path (files[i]) != NULL)
      {
        g_strv_builder_add (self->paths, g_file_peek_path (files[i]));
        self->any_paths = TRUE;
      }
  ws_application_activate (application);
  ask_paths (self);
}

static int
ws_application_handle_local_options (GApplication *application, GVariantDict *options)
{
  WsApplication *self = WS_APPLICATION (application);
  g_autofree char *folder = NULL;

  if (g_variant_dict_lookup (options, "library", "^ay", &folder))
    self->library = g_canonicalize_filename (folder, NULL);
  return -1;
}

static void
ws_application_startup (GApplication *application)
{
  G_APPLICATION_CLASS (ws_application_parent_class)->startup (application);
  ws_actions_set_keys (GTK_APPLICATION (application));
  gtk_window_set_default_icon_name (WS_APPLICATION_ID);
}

/* What was edited last is stored before the program ends. */
static void
ws_application_shutdown (GApplication *application)
{
  G_APPLICATION_CLASS (ws_application_parent_class)->shutdown (application);
  ws_task_finish_all ();
}

static void
ws_application_finalize (GObject *object)
{
  WsApplication *self = WS_APPLICATION (object);

  g_free (self->library);
  g_strv_builder_unref (self->paths);
  if (self->window != NULL)
    g_object_remove_weak_pointer (G_OBJECT (self->window), (gpointer *) &self->window);
  G_OBJECT_CLASS (ws_application_parent_class)->finalize (object);
}

static void
ws_application_class_init (WsApplicationClass *class)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ws_application_finalize;
  application_class->activate = ws_application_activate;
  application_class->open = ws_application_open;
  application_class->handle_local_options = ws_application_handle_local_options;
  application_class->startup = ws_application_startup;
  application_class->shutdown = ws_application_shutdown;
}

static void
ws_application_init (WsApplication *self)
{
  const GOptionEntry options[] = {
    { "library", 0, 0, G_OPTION_ARG_FILENAME, NULL, N_("Use the library in this folder"), N_("DIR") },
    { NULL },
  };

  self->paths = g_strv_builder_new ();
  g_application_add_main_option_entries (G_APPLICATION (self), options);
  g_application_set_option_context_parameter_string (G_APPLICATION (self), _("[PATH…]"));
}

WsApplication *
ws_application_new (void)
{
  /* A static library's resource is only linked in when somebody names it. */
  g_resources_register (ws_app_resources_get_resource ());
  /* One process for each start: every one may have a library of its own, and the library is made to be shared. */
  return g_object_new (WS_TYPE_APPLICATION, "application-id", WS_APPLICATION_ID,
                       "flags", G_APPLICATION_HANDLES_OPEN | G_APPLICATION_NON_UNIQUE,
                       "resource-base-path", "/page/wholestem", NULL);
}
