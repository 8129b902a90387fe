/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-note-row.h"

#include "ws-intl.h"

struct _WsNoteRow
{
  GtkWidget parent_instance;

  GtkWidget *box, *name, *sure;
  GtkWidget *button, *summary, *choices;   /* characters with states */
  GtkWidget *entry;                        /* free text */

  WsSession *session;
  const WsCharacter *character;
  gboolean filling;
};

enum { NOTED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsNoteRow, ws_note_row, GTK_TYPE_WIDGET)

static char *
chosen_states (WsNoteRow *self)
{
  GString *states = g_string_new (NULL);

  if (self->entry != NULL)
    g_string_assign (states, gtk_editable_get_text (GTK_EDITABLE (self->entry)));
  for (GtkWidget *w = self->choices != NULL ? gtk_widget_get_first_child (self->choices) : NULL; w != NULL;
       w = gtk_widget_get_next_sibling (w))
    if (gtk_check_button_get_active (GTK_CHECK_BUTTON (w)) && gtk_widget_get_name (w)[0] != '-')
      g_string_append_printf (states, "%s%s", states->len > 0 ? "|" : "", gtk_widget_get_name (w));
  return g_string_free (states, FALSE);
}

static void
emit_noted (WsNoteRow *self)
{
  g_autofree char *states = chosen_states (self);

  g_signal_emit (self, signals[NOTED], 0, states, gtk_check_button_get_active (GTK_CHECK_BUTTON (self->sure)));
}

static void
choice_toggled_cb (GtkCheckButton *button, WsNoteRow *self)
{
  /* Of a group of radio buttons the one that goes off says nothing new. */
  if (!self->filling && (self->character->several || gtk_check_button_get_active (button)))
    emit_noted (self);
}

static void
sure_toggled_cb (GtkCheckButton *button, WsNoteRow *self)
{
  g_autofree char *states = chosen_states (self);

  if (!self->filling && states[0] != '\0')
    emit_noted (self);
}

static void
entry_activate_cb (GtkEntry *entry, WsNoteRow *self)
{
  emit_noted (self);
}

static void
entry_leave_cb (GtkEventControllerFocus *controller, WsNoteRow *self)
{
  emit_noted (self);
}

/* --- Making it ------------------------------------------------------------------------------------- */

static void
add_choice (WsNoteRow *self, const char *id, const char *text, const char *definition, GtkWidget *group)
{
  GtkWidget *check = gtk_check_button_new_with_label (text);

  gtk_widget_set_name (check, id);
  if (definition[0] != '\0')
    gtk_widget_set_tooltip_text (check, definition);
  if (group != NULL)
    gtk_check_button_set_group (GTK_CHECK_BUTTON (check), GTK_CHECK_BUTTON (group));
  g_signal_connect (check, "toggled", G_CALLBACK (choice_toggled_cb), self);
  gtk_box_append (GTK_BOX (self->choices), check);
}

static void
add_choices (WsNoteRow *self)
{
  const char *language = ws_session_get_desk (self->session)->language;
  const WsKnowledge *knowledge = ws_session_get_knowledge (self->session);
  g_autofree char *kind = g_strconcat ("state_def:", self->character->id, NULL);
  GtkWidget *group = NULL;

  if (!self->character->several)
    {
      add_choice (self, "-", _("not noted"), "", NULL);
      group = gtk_widget_get_first_child (self->choices);
    }
  for (guint i = 0; i < self->character->states->len; i++)
    {
      const char *state = g_ptr_array_index (self->character->states, i);
      const char *definition = ws_knowledge_text (knowledge, language, kind, state);

      add_choice (self, state, ws_knowledge_state_text (knowledge, language, self->character->id, state),
                  g_str_equal (definition, state) ? "" : definition, group);
    }
}

static void
popover_show_cb (GtkWidget *popover, WsNoteRow *self)
{
  gtk_widget_grab_focus (self->choices);
}

static GtkWidget *
make_states (WsNoteRow *self)
{
  GtkWidget *popover = gtk_popover_new ();
  GtkWidget *scroller = gtk_scrolled_window_new ();

  self->choices = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  add_choices (self);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scroller), TRUE);
  gtk_scrolled_window_set_propagate_natural_width (GTK_SCROLLED_WINDOW (scroller), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scroller), 420);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->choices);
  gtk_popover_set_child (GTK_POPOVER (popover), scroller);
  g_signal_connect (popover, "show", G_CALLBACK (popover_show_cb), self);
  self->button = gtk_menu_button_new ();
  self->summary = gtk_label_new (NULL);
  gtk_label_set_ellipsize (GTK_LABEL (self->summary), PANGO_ELLIPSIZE_END);
  /* "not noted" is read whole; the name of the character wraps instead. */
  gtk_label_set_width_chars (GTK_LABEL (self->summary), 9);
  gtk_label_set_xalign (GTK_LABEL (self->summary), 0);
  gtk_widget_set_hexpand (self->summary, TRUE);
  gtk_menu_button_set_child (GTK_MENU_BUTTON (self->button), self->summary);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (self->button), popover);
  gtk_widget_add_css_class (self->button, "flat");
  return self->button;
}

static GtkWidget *
make_entry (WsNoteRow *self, const char *name)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->entry = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), _("not noted"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (self->entry, "activate", G_CALLBACK (entry_activate_cb), self);
  g_signal_connect (focus, "leave", G_CALLBACK (entry_leave_cb), self);
  gtk_widget_add_controller (self->entry, focus);
  return self->entry;
}

static void
ws_note_row_dispose (GObject *object)
{
  WsNoteRow *self = WS_NOTE_ROW (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (ws_note_row_parent_class)->dispose (object);
}

static void
ws_note_row_class_init (WsNoteRowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = ws_note_row_dispose;
  signals[NOTED] = g_signal_new ("noted", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_BOOLEAN);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "note-row");
}

static void
ws_note_row_init (WsNoteRow *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
ws_note_row_new (WsSession *session, const WsCharacter *character)
{
  WsNoteRow *self = g_object_new (WS_TYPE_NOTE_ROW, NULL);
  const char *name = ws_session_text (session, "character", character->id);
  GtkWidget *value;

  self->session = g_object_ref (session);
  self->character = character;
  self->name = gtk_label_new (name);
  gtk_label_set_xalign (GTK_LABEL (self->name), 0);
  gtk_label_set_wrap (GTK_LABEL (self->name), TRUE);
  gtk_label_set_width_chars (GTK_LABEL (self->name), 10);
  gtk_label_set_max_width_chars (GTK_LABEL (self->name), 16);
  value = character->free_text ? make_entry (self, name) : make_states (self);
  gtk_widget_set_hexpand (value, TRUE);
  self->sure = gtk_check_button_new_with_label (_("sure"));
  gtk_widget_set_tooltip_text (self->sure, _("Seen on the specimen, without doubt"));
  g_signal_connect (self->sure, "toggled", G_CALLBACK (sure_toggled_cb), self);
  gtk_box_append (GTK_BOX (self->box), self->name);
  gtk_box_append (GTK_BOX (self->box), value);
  gtk_box_append (GTK_BOX (self->box), self->sure);
  ws_note_row_set_note (self, NULL);
  return GTK_WIDGET (self);
}

const WsCharacter *
ws_note_row_get_character (WsNoteRow *self)
{
  return self->character;
}

static char *
summary_of (WsNoteRow *self, const WsNote *note)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; note != NULL && note->states[i] != NULL; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? ", " : "",
                            ws_knowledge_state_text (ws_session_get_knowledge (self->session),
                                                     ws_session_get_desk (self->session)->language,
                                                     self->character->id, note->states[i]));
  if (text->len == 0)
    g_string_assign (text, _("not noted"));
  return g_string_free (text, FALSE);
}

void
ws_note_row_set_note (WsNoteRow *self, const WsNote *note)
{
  self->filling = TRUE;
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->sure), note != NULL && note->sure);
  if (self->entry != NULL)
    {
      const char *text = note != NULL && note->states[0] != NULL ? note->states[0] : "";

      if (!gtk_widget_has_focus (self->entry) && g_strcmp0 (text, gtk_editable_get_text (GTK_EDITABLE (self->entry))) != 0)
        gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
    }
  else
    {
      g_autofree char *summary = summary_of (self, note);
      g_autofree char *spoken = g_strdup_printf ("%s: %s", gtk_label_get_label (GTK_LABEL (self->name)), summary);

      gtk_label_set_label (GTK_LABEL (self->summary), summary);
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
      for (GtkWidget *w = gtk_widget_get_first_child (self->choices); w != NULL; w = gtk_widget_get_next_sibling (w))
        gtk_check_button_set_active (GTK_CHECK_BUTTON (w),
                                     note != NULL && note->states[0] != NULL
                                     ? g_strv_contains ((const char *const *) note->states, gtk_widget_get_name (w))
                                     : gtk_widget_get_name (w)[0] == '-');
    }
  self->filling = FALSE;
}
