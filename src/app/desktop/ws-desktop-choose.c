/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-desktop.h"
#include "ws-intl.h"

static const char *const picture_types[] = {
  "image/jpeg", "image/png", "image/webp", "image/tiff", "image/heif", "image/heic", "image/avif",
};

static void
response_cb (GtkNativeDialog *dialog, int response, gpointer user_data)
{
  g_autoptr (GTask) task = user_data;

  gtk_native_dialog_hide (dialog);
  g_signal_handlers_disconnect_by_data (dialog, task);
  if (response == GTK_RESPONSE_ACCEPT)
    g_task_return_pointer (task, gtk_file_chooser_get_files (GTK_FILE_CHOOSER (dialog)), g_object_unref);
  else
    g_task_return_new_error (task, G_IO_ERROR, G_IO_ERROR_CANCELLED, "%s", _("Nothing was chosen"));
  /* The dialogue is the task's data and lives until here; a native one vanishes with its last reference. */
  gtk_native_dialog_destroy (dialog);
}

static GtkFileChooser *
show_chooser (GtkWindow *parent, const char *title, GtkFileChooserAction action, const char *accept,
              GAsyncReadyCallback callback, gpointer user_data)
{
  GTask *task = g_task_new (NULL, NULL, callback, user_data);
  GtkFileChooserNative *dialog = gtk_file_chooser_native_new (title, parent, action, accept, NULL);

  g_task_set_task_data (task, dialog, g_object_unref);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  g_signal_connect (dialog, "response", G_CALLBACK (response_cb), task);
  return GTK_FILE_CHOOSER (dialog);
}

static GFile *
finish_one (GAsyncResult *result, GError **error)
{
  g_autoptr (GListModel) files = g_task_propagate_pointer (G_TASK (result), error);

  return files != NULL ? g_list_model_get_item (files, 0) : NULL;
}

void
ws_desktop_choose_photos_async (GtkWindow *parent, GAsyncReadyCallback callback, gpointer user_data)
{
  GtkFileChooser *chooser = show_chooser (parent, _("Add photos"), GTK_FILE_CHOOSER_ACTION_OPEN, _("_Add"),
                                          callback, user_data);
  g_autoptr (GtkFileFilter) photos = gtk_file_filter_new ();
  g_autoptr (GtkFileFilter) all = gtk_file_filter_new ();

  gtk_file_chooser_set_select_multiple (chooser, TRUE);
  gtk_file_filter_set_name (photos, _("Photos"));
  for (gsize i = 0; i < G_N_ELEMENTS (picture_types); i++)
    gtk_file_filter_add_mime_type (photos, picture_types[i]);
  gtk_file_filter_set_name (all, _("All files"));
  gtk_file_filter_add_pattern (all, "*");
  gtk_file_chooser_add_filter (chooser, photos);
  gtk_file_chooser_add_filter (chooser, all);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

GListModel *
ws_desktop_choose_photos_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}

void
ws_desktop_choose_folder_async (GtkWindow *parent, const char *title, GAsyncReadyCallback callback,
                                gpointer user_data)
{
  GtkFileChooser *chooser = show_chooser (parent, title, GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, _("_Open"),
                                          callback, user_data);

  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

GFile *
ws_desktop_choose_folder_finish (GAsyncResult *result, GError **error)
{
  return finish_one (result, error);
}

void
ws_desktop_save_file_async (GtkWindow *parent, const char *title, const char *name, GAsyncReadyCallback callback,
                            gpointer user_data)
{
  GtkFileChooser *chooser = show_chooser (parent, title, GTK_FILE_CHOOSER_ACTION_SAVE, _("_Save"),
                                          callback, user_data);
  const char *documents = g_get_user_special_dir (G_USER_DIRECTORY_DOCUMENTS);
  g_autoptr (GFile) folder = g_file_new_for_path (documents != NULL ? documents : g_get_home_dir ());

  gtk_file_chooser_set_current_folder (chooser, folder, NULL);
  gtk_file_chooser_set_current_name (chooser, name);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

GFile *
ws_desktop_save_file_finish (GAsyncResult *result, GError **error)
{
  return finish_one (result, error);
}
