/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-ask-window.h"

#include "ws-ask-work.h"
#include "ws-desktop.h"
#include "ws-intl.h"
#include "ws-last-look.h"
#include "ws-request-row.h"
#include "ws-wrap-box.h"

/* Milliseconds between two looks at the progress. */
#define LOOK_EVERY 100

struct _WsAskWindow
{
  AdwWindow parent_instance;

  GtkStack *pages;               /* "letter", "look", "making", "done" */
  GtkLabel *base_warning, *lacking, *cautions;
  GtkWidget *reason_box;
  GtkEditable *reason, *to, *from;
  GtkTextView *question;
  GtkDropDown *tell_place, *specimen_is, *language;
  GtkCheckButton *keep_time, *keep_camera, *page;
  GtkWidget *on, *make;
  WsLastLook *look;
  GtkLabel *making_what, *made_title, *made_what;
  GtkProgressBar *bar;
  GtkWidget *sent, *close;

  WsSession *session;
  WsFindItem *item;
  char *replaces;
  GCancellable *cancellable;     /* while the package is made */
  WsProgressBoard *board;
  guint look_source;
  char *package, *request_id;    /* once it is made */
};

G_DEFINE_FINAL_TYPE (WsAskWindow, ws_ask_window, ADW_TYPE_WINDOW)

/* In the order of the drop-downs. */
static const WsTellPlace tell_places[] = { WS_TELL_HUNDREDTH, WS_TELL_WITHHELD, WS_TELL_EXACT };
static const char *const specimen_ids[] = { "unknown", "kept", "at_spot", "gone" };
/* Shown for the languages that texts are there in; another one shows its code. */
static const struct { const char *code, *name; } language_names[] = { { "en", "English" }, { "de", "Deutsch" } };

/* --- The letter: what is lacking stands on top ---------------------------------------------------- */

static gboolean
base_is_missing (WsAskWindow *self)
{
  return ws_find_item_get_evidence (self->item)->base_shown == 0;
}

/* "missing, not marked on any photo", and what the finder says of it. */
static char *
dup_state (WsAskWindow *self, const WsEvidenceLine *line)
{
  const char *state = ws_session_text (self->session, "evidence_state", ws_evidence_state_id (line->state));
  const char *why = line->detail != NULL ? line->detail
                    : *line->reason != '\0' ? ws_session_text (self->session, "reason", line->reason) : NULL;
  g_autofree char *text = why != NULL ? g_strdup_printf ("%s, %s", state, why) : g_strdup (state);

  return line->excuse != NULL ? g_strdup_printf ("%s (%s)", text, line->excuse) : g_steal_pointer (&text);
}

/* What is required and not shown, views of the same state together: "missing, not marked on any photo: Underside ·
 * Cap edge". The base has its own words above. */
static char *
dup_lacking (WsAskWindow *self)
{
  const WsEvidence *evidence = ws_find_item_get_evidence (self->item);
  const WsEvidenceLine *base = ws_evidence_get_base (evidence);
  g_autoptr (GPtrArray) states = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) views = g_ptr_array_new_with_free_func (g_free);
  GString *text = g_string_new (NULL);
  guint at;

  for (guint i = 0; i < evidence->lines->len; i++)
    {
      const WsEvidenceLine *line = g_ptr_array_index (evidence->lines, i);
      const char *view = ws_session_text (self->session, "view", line->view->id);
      g_autofree char *state = NULL;

      if (line == base || line->need != WS_NEED_REQUIRED || line->state == WS_EVIDENCE_SHOWN)
        continue;
      state = dup_state (self, line);
      if (g_ptr_array_find_with_equal_func (states, state, g_str_equal, &at))
        {
          g_autofree char *before = g_ptr_array_index (views, at);

          g_ptr_array_index (views, at) = g_strconcat (before, " · ", view, NULL);
          continue;
        }
      g_ptr_array_add (states, g_steal_pointer (&state));
      g_ptr_array_add (views, g_strdup (view));
    }
  for (guint i = 0; i < states->len; i++)
    g_string_append_printf (text, "%s%s: %s", i > 0 ? "\n" : "", (char *) states->pdata[i], (char *) views->pdata[i]);
  return g_string_free (text, FALSE);
}

static void
update (WsAskWindow *self)
{
  WsDesk *desk = ws_session_get_desk (self->session);
  g_autofree char *warning = ws_evidence_dup_base_warning (ws_find_item_get_evidence (self->item), desk->knowledge,
                                                           desk->language);
  g_autofree char *lacking = dup_lacking (self);
  g_autofree char *reason = g_strstrip (g_strdup (gtk_editable_get_text (self->reason)));
  gboolean missing = base_is_missing (self);

  gtk_label_set_text (self->base_warning, warning != NULL ? warning : "");
  gtk_widget_set_visible (GTK_WIDGET (self->base_warning), warning != NULL);
  gtk_label_set_text (self->lacking, lacking);
  gtk_widget_set_visible (GTK_WIDGET (self->lacking), *lacking != '\0');
  gtk_widget_set_visible (self->reason_box, missing);
  gtk_widget_set_sensitive (self->on, !missing || *reason != '\0');
  gtk_widget_set_tooltip_text (self->on, missing && *reason == '\0' ? _("Say first why the base is not shown") : NULL);
  gtk_button_set_label (GTK_BUTTON (self->make), missing ? _("_Send without the base…") : _("_Make the package…"));
}

static void
typical_cb (WsAskWindow *self, GtkButton *button)
{
  gtk_editable_set_text (self->reason, gtk_button_get_label (button));
}

static void
on_cb (WsAskWindow *self)
{
  gtk_stack_set_visible_child_name (self->pages, "look");
  gtk_window_set_default_widget (GTK_WINDOW (self), self->make);
  gtk_widget_grab_focus (self->make);
}

static void
back_cb (WsAskWindow *self)
{
  gtk_stack_set_visible_child_name (self->pages, "letter");
  gtk_window_set_default_widget (GTK_WINDOW (self), self->on);
}

/* --- The package ----------------------------------------------------------------------------------------- */

static char *
dup_text (GtkEditable *editable)
{
  return g_strstrip (g_strdup (gtk_editable_get_text (editable)));
}

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
  making->options.without_base = base_is_missing (self) ? dup_text (self->reason) : NULL;
  making->options.replaces = g_strdup (self->replaces);
  making->options.language = g_strdup (languages[gtk_drop_down_get_selected (self->language)]);
  making->options.tell_place = tell_places[gtk_drop_down_get_selected (self->tell_place)];
  making->options.keep_time = gtk_check_button_get_active (self->keep_time);
  making->options.keep_camera = gtk_check_button_get_active (self->keep_camera);
  making->specimen_is = g_strdup (specimen_ids[gtk_drop_down_get_selected (self->specimen_is)]);
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

static void
make_cb (WsAskWindow *self)
{
  ws_task_run (ws_session_get_desk (self->session), ws_ask_work_name, make_wish (self),
               (GDestroyNotify) ws_ask_making_free, NULL, self, named_cb, NULL, g_free);
}

static void
stop_cb (WsAskWindow *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
}

static void
folder_cb (WsAskWindow *self)
{
  ws_desktop_open_folder_of (self->package, ws_session_failed, g_object_ref (self->session));
}

static void
sent_cb (WsAskWindow *self)
{
  ws_request_set_sent (self->session, self->request_id, TRUE);
  gtk_window_close (GTK_WINDOW (self));
}

static void
close_cb (WsAskWindow *self)
{
  gtk_window_close (GTK_WINDOW (self));
}

/* --- The window ------------------------------------------------------------------------------------------- */

static gboolean
ws_ask_window_close_request (GtkWindow *window)
{
  stop_cb (WS_ASK_WINDOW (window));
  return GTK_WINDOW_CLASS (ws_ask_window_parent_class)->close_request (window);
}

static void
ws_ask_window_dispose (GObject *object)
{
  WsAskWindow *self = WS_ASK_WINDOW (object);

  g_clear_handle_id (&self->look_source, g_source_remove);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->board, ws_progress_board_unref);
  g_clear_object (&self->item);
  g_clear_object (&self->session);
  g_clear_pointer (&self->replaces, g_free);
  g_clear_pointer (&self->package, g_free);
  g_clear_pointer (&self->request_id, g_free);
  G_OBJECT_CLASS (ws_ask_window_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, pages);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, base_warning);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, lacking);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, cautions);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, reason_box);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, reason);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, to);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, from);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, question);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, tell_place);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, specimen_is);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, language);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, keep_time);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, keep_camera);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, page);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, on);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, make);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, look);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, making_what);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, bar);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, made_title);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, made_what);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, sent);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, close);
}

static void
ws_ask_window_class_init (WsAskWindowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_ask_window_dispose;
  GTK_WINDOW_CLASS (class)->close_request = ws_ask_window_close_request;
  g_type_ensure (WS_TYPE_LAST_LOOK);
  g_type_ensure (WS_TYPE_WRAP_BOX);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-ask-window.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, update);
  gtk_widget_class_bind_template_callback (widget_class, typical_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_cb);
  gtk_widget_class_bind_template_callback (widget_class, back_cb);
  gtk_widget_class_bind_template_callback (widget_class, make_cb);
  gtk_widget_class_bind_template_callback (widget_class, stop_cb);
  gtk_widget_class_bind_template_callback (widget_class, folder_cb);
  gtk_widget_class_bind_template_callback (widget_class, sent_cb);
  gtk_widget_class_bind_template_callback (widget_class, close_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
ws_ask_window_init (WsAskWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_window_set_default_widget (GTK_WINDOW (self), self->on);
}

static void
fill_choices (WsAskWindow *self)
{
  WsDesk *desk = ws_session_get_desk (self->session);
  const char *const *languages = ws_knowledge_get_languages (desk->knowledge);
  g_autoptr (GtkStringList) places = gtk_string_list_new (NULL);
  g_autoptr (GtkStringList) is = gtk_string_list_new (NULL);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  const char *told = ws_session_get_setting (self->session, WS_SETTING_TELL_PLACE);
  guint place = 0, language = 0;

  for (guint i = 0; i < G_N_ELEMENTS (tell_places); i++)
    {
      const char *id = ws_tell_place_id (tell_places[i]);

      gtk_string_list_append (places, ws_session_text (self->session, "tell_place", id));
      if (g_str_equal (id, told))
        place = i;
    }
  for (guint i = 0; i < G_N_ELEMENTS (specimen_ids); i++)
    gtk_string_list_append (is, ws_session_text (self->session, "specimen_is", specimen_ids[i]));
  for (guint i = 0; languages[i] != NULL; i++)
    {
      const char *name = languages[i];

      for (gsize j = 0; j < G_N_ELEMENTS (language_names); j++)
        if (g_str_equal (language_names[j].code, languages[i]))
          name = language_names[j].name;
      gtk_string_list_append (names, name);
      if (g_str_equal (languages[i], desk->language))
        language = i;
    }
  gtk_drop_down_set_model (self->tell_place, G_LIST_MODEL (places));
  gtk_drop_down_set_selected (self->tell_place, place);
  gtk_drop_down_set_model (self->specimen_is, G_LIST_MODEL (is));
  for (guint i = 0; i < G_N_ELEMENTS (specimen_ids); i++)
    if (g_str_equal (specimen_ids[i], ws_specimen_is_id (ws_find_item_get_find (self->item)->specimen_is)))
      gtk_drop_down_set_selected (self->specimen_is, i);
  gtk_drop_down_set_model (self->language, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->language, language);
}

GtkWidget *
ws_ask_window_new (WsSession *session, const char *find_id, const char *replaces)
{
  WsAskWindow *self = g_object_new (WS_TYPE_ASK_WINDOW, NULL);
  const WsEvidenceLine *base;
  g_autofree char *title = NULL, *cautions = NULL;

  self->session = g_object_ref (session);
  self->item = g_object_ref (ws_session_get_item (session, find_id));
  self->replaces = g_strdup (replaces);
  title = g_strdup_printf (_("Ask somebody about %s"), ws_find_item_get_find (self->item)->number);
  cautions = g_strdup_printf ("%s\n%s\n%s", ws_session_text (session, "caution", "photos_never"),
                              ws_session_text (session, "caution", "poison"),
                              ws_session_text (session, "caution", "law"));
  gtk_window_set_title (GTK_WINDOW (self), title);
  gtk_label_set_text (self->cautions, cautions);
  gtk_editable_set_text (self->to, ws_session_get_setting (session, WS_SETTING_ASK_TO));
  gtk_editable_set_text (self->from, ws_session_get_setting (session, WS_SETTING_MY_NAME));
  base = ws_evidence_get_base (ws_find_item_get_evidence (self->item));
  if (base != NULL && base->excuse != NULL)
    gtk_editable_set_text (self->reason, base->excuse);
  fill_choices (self);
  ws_last_look_set_find (self->look, session, self->item);
  g_signal_connect_object (self->item, "changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
  update (self);
  gtk_window_set_focus (GTK_WINDOW (self), GTK_WIDGET (base_is_missing (self) ? self->reason : self->to));
  return GTK_WIDGET (self);
}
