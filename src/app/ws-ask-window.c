/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-ask-window-private.h"

#include "ws-intl.h"
#include "ws-wrap-box.h"

G_DEFINE_FINAL_TYPE (WsAskWindow, ws_ask_window, ADW_TYPE_WINDOW)

/* In the order of the drop-downs. */
const WsTellPlace ws_ask_tell_places[WS_ASK_N_TELL_PLACES] = { WS_TELL_HUNDREDTH, WS_TELL_THOUSANDTH, WS_TELL_TENTH,
                                                                WS_TELL_REGION, WS_TELL_WITHHELD, WS_TELL_EXACT };
const char *const ws_ask_specimen_ids[WS_ASK_N_SPECIMEN_IDS] = { "unknown", "kept", "at_spot", "gone" };
/* Shown for the languages that texts are there in; another one shows its code. */
static const struct { const char *code, *name; } language_names[] = { { "en", "English" }, { "de", "Deutsch" } };

/* --- The letter: what is lacking stands on top ---------------------------------------------------- */

gboolean
ws_ask_window_base_is_missing (WsAskWindow *self)
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
  gboolean missing = ws_ask_window_base_is_missing (self);

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

/* The region is asked for where it is all that is told. */
static void
place_cb (WsAskWindow *self)
{
  guint at = gtk_drop_down_get_selected (self->tell_place);
  gboolean region = at < WS_ASK_N_TELL_PLACES && ws_ask_tell_places[at] == WS_TELL_REGION;

  gtk_widget_set_visible (GTK_WIDGET (self->region), region);
  gtk_widget_set_visible (self->region_label, region);
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

static void
close_cb (WsAskWindow *self)
{
  gtk_window_close (GTK_WINDOW (self));
}

/* --- The window ------------------------------------------------------------------------------------------- */

static gboolean
ws_ask_window_close_request (GtkWindow *window)
{
  ws_ask_window_stop (WS_ASK_WINDOW (window));
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
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, region);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, region_label);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, specimen_is);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, language);
  gtk_widget_class_bind_template_child (widget_class, WsAskWindow, limit);
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
  gtk_widget_class_bind_template_callback (widget_class, place_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_cb);
  gtk_widget_class_bind_template_callback (widget_class, back_cb);
  gtk_widget_class_bind_template_callback (widget_class, ws_ask_window_make);
  gtk_widget_class_bind_template_callback (widget_class, ws_ask_window_stop);
  gtk_widget_class_bind_template_callback (widget_class, ws_ask_window_folder);
  gtk_widget_class_bind_template_callback (widget_class, ws_ask_window_sent);
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

  for (guint i = 0; i < WS_ASK_N_TELL_PLACES; i++)
    {
      const char *id = ws_tell_place_id (ws_ask_tell_places[i]);

      gtk_string_list_append (places, ws_session_text (self->session, "tell_place", id));
      if (g_str_equal (id, told))
        place = i;
    }
  for (guint i = 0; i < WS_ASK_N_SPECIMEN_IDS; i++)
    gtk_string_list_append (is, ws_session_text (self->session, "specimen_is", ws_ask_specimen_ids[i]));
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
  for (guint i = 0; i < WS_ASK_N_SPECIMEN_IDS; i++)
    if (g_str_equal (ws_ask_specimen_ids[i], ws_specimen_is_id (ws_find_item_get_find (self->item)->specimen_is)))
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
  gtk_editable_set_text (self->region, ws_session_get_setting (session, WS_SETTING_REGION));
  fill_choices (self);
  place_cb (self);
  ws_last_look_set_find (self->look, session, self->item);
  g_signal_connect_object (self->item, "changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
  update (self);
  gtk_window_set_focus (GTK_WINDOW (self), GTK_WIDGET (ws_ask_window_base_is_missing (self) ? self->reason : self->to));
  return GTK_WIDGET (self);
}
