/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-desktop.h"

#include <adwaita.h>

static void
response_cb (AdwMessageDialog *dialog, const char *response, gpointer user_data)
{
  GTask *task = user_data;

  g_task_return_pointer (task, g_strdup (response), g_free);
  g_object_unref (task);
}

void
ws_desktop_ask_async (GtkWindow *parent, const char *heading, const char *body, const WsDesktopAnswer *answers,
                      GAsyncReadyCallback callback, gpointer user_data)
{
  GTask *task = g_task_new (NULL, NULL, callback, user_data);
  AdwMessageDialog *dialog = ADW_MESSAGE_DIALOG (adw_message_dialog_new (parent, heading, body));

  for (guint i = 0; answers[i].id != NULL; i++)
    {
      adw_message_dialog_add_response (dialog, answers[i].id, answers[i].label);
      if (answers[i].standard)
        adw_message_dialog_set_default_response (dialog, answers[i].id);
      if (answers[i].removes)
        adw_message_dialog_set_response_appearance (dialog, answers[i].id, ADW_RESPONSE_DESTRUCTIVE);
    }
  adw_message_dialog_set_close_response (dialog, answers[0].id);
  g_signal_connect (dialog, "response", G_CALLBACK (response_cb), task);
  gtk_window_present (GTK_WINDOW (dialog));
}

char *
ws_desktop_ask_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}
