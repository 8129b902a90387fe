/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-eaten-window.h"

#include "ws-ask-work.h"
#include "ws-desktop.h"
#include "ws-eaten-sheet.h"
#include "ws-find-chooser.h"
#include "ws-intl.h"
#include "ws-print.h"
#include "ws-settings-window.h"
#include "ws-words.h"
#include "ws-wrap-box.h"

#define PRINT_SIZE 150

struct _WsEatenWindow
{
  AdwWindow parent_instance;

  GtkLabel *call, *number, *no_wait, *better, *say, *keep, *animal;
  GtkButton *call_button, *write_button;
  GtkLabel *find_title, *find_notes, *outcome;
  WsWrapBox *photos;
  GtkEditable *call_back;
  GtkWidget *emergency_box;

  WsSession *session;
  char *find_id;      /* (nullable): the find shown */
  char *shown;        /* digests of the photos shown */
};

G_DEFINE_FINAL_TYPE (WsEatenWindow, ws_eaten_window, ADW_TYPE_WINDOW)

/* --- Calling --------------------------------------------------------------------------------------- */

static void
failed_cb (const char *message, gpointer user_data)
{
  g_autoptr (WsEatenWindow) self = user_data;

  gtk_label_set_text (self->outcome, message);
}

static void
call_cb (WsEatenWindow *self)
{
  g_autofree char *digits = g_strdup (ws_session_get_setting (self->session, WS_SETTING_POISON_NUMBER));
  g_autofree char *uri = NULL;

  /* RFC 3966: visual separators may stay, blanks may not. */
  uri = g_strconcat ("tel:", g_strdelimit (digits, " ", '-'), NULL);
  ws_desktop_open_uri (uri, failed_cb, g_object_ref (self));
}

static void
write_cb (WsEatenWindow *self)
{
  GtkWidget *window = ws_settings_window_new (self->session, FALSE);

  gtk_window_set_transient_for (GTK_WINDOW (window), GTK_WINDOW (self));
  gtk_window_present (GTK_WINDOW (window));
}

/* --- The find to show ------------------------------------------------------------------------------- */

static void
show_photos (WsEatenWindow *self, const WsFind *find)
{
  GString *key = g_string_new (NULL);

  for (guint i = 0; find != NULL && i < find->photos->len; i++)
    g_string_append (key, ((WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo->digest);
  if (g_strcmp0 (key->str, self->shown) == 0)
    {
      g_string_free (key, TRUE);
      return;
    }
  g_free (self->shown);
  self->shown = g_string_free (key, FALSE);
  ws_wrap_box_remove_all (self->photos);
  for (guint i = 0; find != NULL && i < find->photos->len; i++)
    {
      const WsPhoto *photo = ((WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo;

      ws_wrap_box_append (self->photos, ws_print_new (self->session, photo, PRINT_SIZE));
    }
}

static void
update (WsEatenWindow *self)
{
  const char *number = ws_session_get_setting (self->session, WS_SETTING_POISON_NUMBER);
  WsFindItem *item = ws_session_get_item (self->session, self->find_id);
  const WsFind *find = item != NULL ? ws_find_item_get_find (item) : NULL;
  g_autofree char *title = find != NULL ? ws_words_find_title (find) : NULL;
  g_autofree char *notes = find != NULL ? ws_eaten_dup_notes (ws_session_get_desk (self->session), find) : NULL;

  gtk_label_set_text (self->number, *number != '\0' ? number : _("your emergency number"));
  gtk_widget_set_visible (GTK_WIDGET (self->call_button), *number != '\0');
  gtk_widget_set_visible (GTK_WIDGET (self->write_button), *number == '\0');
  gtk_label_set_text (self->find_title,
                      title != NULL ? title : _("No find chosen; the page can be printed without one."));
  gtk_label_set_text (self->find_notes, notes != NULL ? notes : "");
  gtk_widget_set_visible (GTK_WIDGET (self->find_notes), notes != NULL && *notes != '\0');
  gtk_widget_set_visible (self->emergency_box, find != NULL);
  show_photos (self, find);
}

static void
chosen_cb (WsEatenWindow *self, const char *find_id, const char *visit)
{
  g_free (self->find_id);
  self->find_id = g_strdup (find_id);
  update (self);
}

static void
choose_cb (WsEatenWindow *self)
{
  WsFindChooser *chooser = ws_find_chooser_new (self->session, _("Which find may it have been?"), FALSE);

  g_signal_connect_object (chooser, "chosen", G_CALLBACK (chosen_cb), self, G_CONNECT_SWAPPED);
  gtk_window_set_transient_for (GTK_WINDOW (chooser), GTK_WINDOW (self));
  gtk_window_present (GTK_WINDOW (chooser));
}

/* --- On paper ------------------------------------------------------------------------------------------ */

static void
sheet_made_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsEatenWindow *self = owner;
  g_autofree char *path = done_data;
  WsDesktopPages pages = { ws_text_sheet_paginate, ws_text_sheet_draw, NULL,
                           (GDestroyNotify) ws_text_sheet_free };

  if (error != NULL)
    {
      gtk_label_set_text (self->outcome, error->message);
      return;
    }
  pages.data = ws_task_steal ();
  ws_desktop_print (GTK_WINDOW (self), _("Eaten, or perhaps eaten"), &pages, path, failed_cb, g_object_ref (self));
  if (path != NULL)
    {
      g_autofree char *text = g_strdup_printf (_("The page lies at %s."), path);

      gtk_label_set_text (self->outcome, text);
    }
}

/* @path (nullable): as a PDF there. */
static void
put_on_paper (WsEatenWindow *self, const char *path)
{
  WsEatenWish *wish = g_new0 (WsEatenWish, 1);

  wish->find_id = g_strdup (self->find_id);
  wish->number = g_strdup (ws_session_get_setting (self->session, WS_SETTING_POISON_NUMBER));
  ws_task_run (ws_session_get_desk (self->session), ws_eaten_sheet_make, wish,
               (GDestroyNotify) ws_eaten_wish_free, NULL, self,
               sheet_made_cb, g_strdup (path), (GDestroyNotify) ws_text_sheet_free);
}

static void
print_cb (WsEatenWindow *self)
{
  put_on_paper (self, NULL);
}

static void
pdf_chosen_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (WsEatenWindow) self = user_data;
  g_autoptr (GFile) file = ws_desktop_save_file_finish (result, NULL);

  if (file != NULL && g_file_peek_path (file) != NULL && self->session != NULL)
    put_on_paper (self, g_file_peek_path (file));
}

static void
pdf_cb (WsEatenWindow *self)
{
  ws_desktop_save_file_async (GTK_WINDOW (self), _("Save the page"), _("Eaten.pdf"), pdf_chosen_cb,
                              g_object_ref (self));
}

/* --- The emergency request: asks for nothing but where it is to lie ----------------------------------- */

static void
made_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsEatenWindow *self = owner;
  const WsAskMade *made = result;
  g_autofree char *text = NULL;

  ws_session_reload (self->session);
  text = error != NULL ? g_strdup (error->message)
                       : g_strdup_printf (_("The request lies at %s. Send it now; do not wait for the answer before you "
                                            "call."), made->package);
  gtk_label_set_text (self->outcome, text);
}

static void
package_chosen_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (WsEatenWindow) self = user_data;
  g_autoptr (GFile) file = ws_desktop_save_file_finish (result, NULL);
  WsAskMaking *making;

  if (file == NULL || g_file_peek_path (file) == NULL || self->session == NULL)
    return;
  making = ws_ask_making_new (self->find_id);
  making->path = g_strdup (g_file_peek_path (file));
  making->page = TRUE;
  making->options.emergency = TRUE;
  making->options.call_back = g_strdup (gtk_editable_get_text (self->call_back));
  making->options.question = g_strdup (ws_session_text (self->session, "eaten", "title"));
  gtk_label_set_text (self->outcome, _("Making the request…"));
  ws_task_run (ws_session_get_desk (self->session), ws_ask_work_make, making, (GDestroyNotify) ws_ask_making_free, NULL,
               self, made_cb, NULL, (GDestroyNotify) ws_ask_made_free);
}

static void
emergency_cb (WsEatenWindow *self)
{
  WsFindItem *item = ws_session_get_item (self->session, self->find_id);
  g_autofree char *name = NULL;

  if (item == NULL)
    return;
  name = g_strdup_printf (_("Emergency %s.zip"), ws_find_item_get_find (item)->number);
  ws_desktop_save_file_async (GTK_WINDOW (self), _("Where the request is to lie"), g_strdelimit (name, "/", '-'),
                              package_chosen_cb, g_object_ref (self));
}

/* --- The window -------------------------------------------------------------------------------------------- */

static void
ws_eaten_window_dispose (GObject *object)
{
  WsEatenWindow *self = WS_EATEN_WINDOW (object);

  g_clear_object (&self->session);
  g_clear_pointer (&self->find_id, g_free);
  g_clear_pointer (&self->shown, g_free);
  G_OBJECT_CLASS (ws_eaten_window_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, call);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, number);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, no_wait);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, better);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, say);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, keep);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, animal);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, call_button);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, write_button);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, find_title);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, find_notes);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, outcome);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, photos);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, call_back);
  gtk_widget_class_bind_template_child (widget_class, WsEatenWindow, emergency_box);
}

static void
ws_eaten_window_class_init (WsEatenWindowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_eaten_window_dispose;
  g_type_ensure (WS_TYPE_WRAP_BOX);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-eaten-window.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, call_cb);
  gtk_widget_class_bind_template_callback (widget_class, write_cb);
  gtk_widget_class_bind_template_callback (widget_class, choose_cb);
  gtk_widget_class_bind_template_callback (widget_class, print_cb);
  gtk_widget_class_bind_template_callback (widget_class, pdf_cb);
  gtk_widget_class_bind_template_callback (widget_class, emergency_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
ws_eaten_window_init (WsEatenWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
set_list (WsEatenWindow *self, GtkLabel *label, const char *const *ids)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; ids[i] != NULL; i++)
    g_string_append_printf (text, "%s— %s", i > 0 ? "\n" : "", ws_session_text (self->session, "eaten", ids[i]));
  gtk_label_set_text (label, text->str);
  g_string_free (text, TRUE);
}

GtkWidget *
ws_eaten_window_new (WsSession *session, const char *find_id)
{
  WsEatenWindow *self = g_object_new (WS_TYPE_EATEN_WINDOW, NULL);

  self->session = g_object_ref (session);
  self->find_id = g_strdup (find_id);
  gtk_window_set_title (GTK_WINDOW (self), ws_session_text (session, "eaten", "title"));
  gtk_label_set_text (self->call, ws_session_text (session, "eaten", "call"));
  gtk_label_set_text (self->no_wait, ws_session_text (session, "eaten", "no_wait"));
  gtk_label_set_text (self->better, ws_session_text (session, "eaten", "better"));
  gtk_label_set_text (self->animal, ws_session_text (session, "eaten", "animal"));
  set_list (self, self->say, ws_eaten_say);
  set_list (self, self->keep, ws_eaten_keep);
  g_signal_connect_object (session, "changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
  update (self);
  gtk_window_set_focus (GTK_WINDOW (self), GTK_WIDGET (gtk_widget_get_visible (GTK_WIDGET (self->call_button))
                                                       ? self->call_button : self->write_button));
  return GTK_WIDGET (self);
}
