/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-desktop.h"
#include "ws-intl.h"

typedef struct
{
  char *what;
  WsDesktopFailed failed;
  gpointer user_data;
} Opening;

static void
opened_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Opening *opening = user_data;
  g_autoptr (GError) error = NULL;

  if (!g_app_info_launch_default_for_uri_finish (result, &error) && opening->failed != NULL)
    {
      g_autofree char *message = g_strdup_printf (_("“%s” could not be opened: %s"), opening->what, error->message);

      opening->failed (message, opening->user_data);
    }
  g_free (opening->what);
  g_free (opening);
}

static void
launch (const char *uri, const char *what, WsDesktopFailed failed, gpointer user_data)
{
  Opening *opening = g_new0 (Opening, 1);

  opening->what = g_strdup (what);
  opening->failed = failed;
  opening->user_data = user_data;
  g_app_info_launch_default_for_uri_async (uri, NULL, NULL, opened_cb, opening);
}

void
ws_desktop_open_uri (const char *uri, WsDesktopFailed failed, gpointer user_data)
{
  launch (uri, uri, failed, user_data);
}

void
ws_desktop_open_folder_of (const char *path, WsDesktopFailed failed, gpointer user_data)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autoptr (GFile) file = g_file_new_for_path (folder);
  g_autofree char *uri = g_file_get_uri (file);

  launch (uri, folder, failed, user_data);
}
