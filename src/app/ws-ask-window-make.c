/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the letter to the package: where it is to lie, how far it is, and what came of it. */
#include "ws-ask-window-private.h"

#include "ws-desktop.h"
#include "ws-intl.h"
#include "ws-request-row.h"

/* Milliseconds between two looks at the progress. */
#define LOOK_EVERY 100

static char *
dup_text (GtkEditable *editable)
{
  return g_strstrip (g_strdup (gtk_editable_get_text (editable)));
}

/* In the order of the drop-down; the last is no limit. */
static const guint64 limits[] = { WS_SIZE_WITHIN_MAIL, WS_SIZE_OF_MAIL (G_GUINT64_CONSTANT (10000000)), 0 };

static WsAskMaking *
make_wish (WsAskWindow *self)
{
  WsAskMaking *making = ws_ask_making_new (ws_find_item_get_id (self->item));
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (self->question);
  GtkTextIter start, end;
  WsDesk *desk = ws_session_get_desk (self->session);
  const char *const *languages = ws_knowledge_get_languages (desk->knowledge);

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  making->options.question = gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
  making->options.to = dup_text (self->to);
  making->options.from = dup_text (self->from);
  making->options.without_base = ws_ask_window_base_is_missing (self) ? dup_text (self->reason) : NULL;
  making->options.replaces = g_strdup (self->replaces);
  making->options.language = g_strdup (languages[gtk_drop_down_get_selected (self->language)]);
  making->options.tell_place = ws_ask_tell_places[gtk_drop_down_get_selected (self->tell_place)];
  making->options.region = dup_text (self->region);
  making->options.max_bytes = limits[MIN (gtk_drop_down_get_selected (self->limit), G_N_ELEMENTS (limits) - 1)];
  making->options.keep_time = gtk_check_button_get_active (self->keep_time);
  making->options.keep_camera = gtk_check_button_get_active (self->keep_camera);
  making->specimen_is = g_strdup (ws_ask_specimen_ids[gtk_drop_down_get_selected (self->specimen_is)]);
  if (g_str_equal (making->specimen_is,
                   ws_specimen_is_id (ws_find_item_get_find (self->item)->specimen_is)))
    g_clear_pointer (&making->specimen_is, g_free);
  making->page = gtk_check_button_get_active (self->page);
  return making;
}

static void
remember (WsAskWindow *self, const WsAskMaking *making)
{
  ws_session_set_setting (self->session, WS_SETTING_MY_NAME, making->options.from);
  ws_session_set_setting (self->session, WS_SETTING_ASK_TO, making->options.to);
  ws_session_set_setting (self->session, WS_SETTING_TELL_PLACE, ws_tell_place_id (making->options.tell_place));
  ws_session_set_setting (self->session, WS_SETTING_REGION, making->options.region);
}

static void
say_made (WsAskWindow *self, const WsAskMade *made)
{
  gboolean valid = made->verdict->bag->valid && made->verdict->request == WS_REQUEST_VALID;
  g_autofree char *size = g_format_size ((guint64) made->size);
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, _("%s, %s."), made->package, size);
  if (valid)
    g_string_append_printf (text, "\n%s", _("It was read back and checked: the bag is valid, and so is the request."));
  else
    g_string_append_printf (text, "\n%s", _("It was read back, and the check failed. Do not send it; make it again in "
                                            "another folder."));
  for (guint i = 0; i < made->verdict->bag->errors->len; i++)
    g_string_append_printf (text, "\n%s", (char *) g_ptr_array_index (made->verdict->bag->errors, i));
  for (guint i = 0; i < made->verdict->bag->warnings->len; i++)
    g_string_append_printf (text, "\n%s", (char *) g_ptr_array_index (made->verdict->bag->warnings, i));
  if (valid)
    g_string_append_printf (text, "\n\n%s", _("Made is not sent: send the file by mail or as you like, and then say so "
                                              "here or on the page of requests."));
  gtk_label_set_text (self->made_title, valid ? _("The request lies here") : _("The package is not valid"));
  gtk_label_set_text (self->made_what, text->str);
  gtk_widget_set_visible (self->sent, valid && made->request_id != NULL);
  g_string_free (text, TRUE);
}

static void
made_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsAskWindow *self = owner;
  const WsAskMade *made = result;

  g_clear_handle_id (&self->look_source, g_source_remove);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->board, ws_progress_board_unref);
  ws_session_reload (self->session);
  if (error != NULL)
    {
      ws_session_report (self->session, error);
      gtk_stack_set_visible_child_name (self->pages, "look");
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        ws_desktop_ask_async (GTK_WINDOW (self), _("The package was not made"), error->message,
                              (const WsDesktopAnswer[]) { { "close", _("_Close"), TRUE, FALSE }, { 0 } }, NULL, NULL);
      return;
    }
  self->package = g_strdup (made->package);
  self->request_id = g_strdup (made->request_id);
  say_made (self, made);
  gtk_stack_set_visible_child_name (self->pages, "done");
  gtk_widget_grab_focus (gtk_widget_get_visible (self->sent) ? self->sent : self->close);
}

static gboolean
look_cb (gpointer data)
{
  WsAskWindow *self = data;
  guint done, total;
  g_autofree char *what = ws_progress_board_look (self->board, &done, &total);
  g_autofree char *text = total > 0 ? g_strdup_printf (_("%u of %u"), done, total) : g_strdup ("");

  gtk_label_set_text (self->making_what, text);
  if (total > 0)
    gtk_progress_bar_set_fraction (self->bar, (double) done / total);
  return G_SOURCE_CONTINUE;
}

static void
file_chosen_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (WsAskWindow) self = user_data;
  g_autoptr (GFile) file = ws_desktop_save_file_finish (result, NULL);
  WsAskMaking *making;

  if (file == NULL || g_file_peek_path (file) == NULL || self->session == NULL)
    return;
  making = make_wish (self);
  making->path = g_strdup (g_file_peek_path (file));
  remember (self, making);
  self->board = ws_progress_board_ref (making->progress);
  self->cancellable = g_cancellable_new ();
  self->look_source = g_timeout_add (LOOK_EVERY, look_cb, self);
  gtk_progress_bar_set_fraction (self->bar, 0);
  gtk_stack_set_visible_child_name (self->pages, "making");
  ws_task_run (ws_session_get_desk (self->session), ws_ask_work_make, making, (GDestroyNotify) ws_ask_making_free,
               self->cancellable, self, made_cb, NULL, (GDestroyNotify) ws_ask_made_free);
}

static void
named_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsAskWindow *self = owner;

  if (result == NULL)
    ws_session_report (self->session, error);
  else
    ws_desktop_save_file_async (GTK_WINDOW (self), _("Where the request is to lie"), result, file_chosen_cb,
                                g_object_ref (self));
}

void
ws_ask_window_make (WsAskWindow *self)
{
  ws_task_run (ws_session_get_desk (self->session), ws_ask_work_name, make_wish (self),
               (GDestroyNotify) ws_ask_making_free, NULL, self, named_cb, NULL, g_free);
}

void
ws_ask_window_stop (WsAskWindow *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
}

void
ws_ask_window_folder (WsAskWindow *self)
{
  ws_desktop_open_folder_of (self->package, ws_session_failed, g_object_ref (self->session));
}

void
ws_ask_window_sent (WsAskWindow *self)
{
  ws_request_set_sent (self->session, self->request_id, TRUE);
  gtk_window_close (GTK_WINDOW (self));
}
