/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-note-row.h"

#include "ws-intl.h"
#include "ws-note-details.h"
#include "ws-state-picture.h"
#include "ws-words.h"

#define PICTURE 40   /* px */

struct _WsNoteRow
{
  GtkWidget parent_instance;

  GtkWidget *column, *box, *name, *sure, *more, *details, *remark, *others;
  GtkWidget *button, *summary, *choices;   /* characters with states */
  GtkWidget *entry;                        /* free text */

  WsSession *session;
  const WsCharacter *character;
  WsNote *note;                            /* that is shown and changed; without an id: a new one */
  gboolean another;                        /* a further observation was asked for, and is not made yet */
  gboolean filling;
};

enum { NOTED, TAKE_BACK, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsNoteRow, ws_note_row, GTK_TYPE_WIDGET)

/* Ids of the states that are chosen, or the one free text. (transfer full) */
static char **
dup_states (WsNoteRow *self)
{
  g_autoptr (GStrvBuilder) states = g_strv_builder_new ();

  if (self->entry != NULL && *gtk_editable_get_text (GTK_EDITABLE (self->entry)) != '\0')
    g_strv_builder_add (states, gtk_editable_get_text (GTK_EDITABLE (self->entry)));
  for (GtkWidget *w = self->choices != NULL ? gtk_widget_get_first_child (self->choices) : NULL; w != NULL;
       w = gtk_widget_get_next_sibling (w))
    if (gtk_check_button_get_active (GTK_CHECK_BUTTON (w)) && gtk_widget_get_name (w)[0] != '-')
      g_strv_builder_add (states, gtk_widget_get_name (w));
  return g_strv_builder_end (states);
}

/* Says what the row says, unless that is what is noted already. */
static void
emit_noted (WsNoteRow *self)
{
  g_autoptr (WsNote) note = self->note != NULL ? ws_note_copy (self->note) : ws_note_new ();
  gboolean said_something = self->note != NULL && self->note->id[0] != '\0';

  if (self->filling)
    return;
  ws_set_string (&note->character, self->character->id);
  g_strfreev (note->states);
  note->states = dup_states (self);
  ws_note_details_fill (WS_NOTE_DETAILS (self->details), note);
  note->sure = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->sure)) && !note->off_photo;
  if (note->states[0] == NULL && note->text[0] == '\0' && !said_something)
    return;
  if (said_something && ws_words_notes_are_same (note, self->note))
    return;
  self->another = FALSE;
  g_signal_emit (self, signals[NOTED], 0, note);
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

/* "running down", in small letters "decurrent", and the drawing. */
static GtkWidget *
choice_child (WsNoteRow *self, const char *id, const char *text)
{
  GtkWidget *child = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *picture = ws_state_picture_new (self->character->id, id, PICTURE), *plain = gtk_label_new (text);
  const char *term = ws_character_get_term (self->character, id);

  if (picture != NULL)
    gtk_box_append (GTK_BOX (child), picture);
  gtk_label_set_xalign (GTK_LABEL (plain), 0);
  gtk_box_append (GTK_BOX (words), plain);
  if (*term != '\0')
    {
      GtkWidget *small = gtk_label_new (term);

      gtk_label_set_xalign (GTK_LABEL (small), 0);
      gtk_widget_add_css_class (small, "ws-remark");
      gtk_box_append (GTK_BOX (words), small);
    }
  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (child), words);
  return child;
}

static void
add_choice (WsNoteRow *self, const char *id, const char *text, const char *definition, GtkWidget *group)
{
  GtkWidget *check = gtk_check_button_new ();

  gtk_check_button_set_child (GTK_CHECK_BUTTON (check), choice_child (self, id, text));
  gtk_accessible_update_property (GTK_ACCESSIBLE (check), GTK_ACCESSIBLE_PROPERTY_LABEL, text,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, definition, -1);
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

static void show_chosen (WsNoteRow *self);

/* The choices and their drawings are made when somebody wants to see them. */
static void
popover_show_cb (GtkWidget *popover, WsNoteRow *self)
{
  if (gtk_widget_get_first_child (self->choices) == NULL)
    {
      self->filling = TRUE;
      add_choices (self);
      show_chosen (self);
      self->filling = FALSE;
    }
  gtk_widget_grab_focus (self->choices);
}

static GtkWidget *
make_states (WsNoteRow *self)
{
  GtkWidget *popover = gtk_popover_new ();
  GtkWidget *scroller = gtk_scrolled_window_new ();

  self->choices = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
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
  gtk_label_set_width_chars (GTK_LABEL (self->summary), 7);
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
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), 5);
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

  g_clear_pointer (&self->column, gtk_widget_unparent);
  g_clear_pointer (&self->note, ws_note_unref);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (ws_note_row_parent_class)->dispose (object);
}

static void
ws_note_row_class_init (WsNoteRowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = ws_note_row_dispose;
  signals[NOTED] = g_signal_new ("noted", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 1, WS_TYPE_NOTE);
  signals[TAKE_BACK] = g_signal_new ("take-back", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                     G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "note-row");
}

static void
ws_note_row_init (WsNoteRow *self)
{
  self->column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->remark = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (self->remark), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->remark), 0);
  gtk_widget_add_css_class (self->remark, "ws-remark");
  gtk_widget_set_visible (self->remark, FALSE);
  self->others = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append (GTK_BOX (self->column), self->box);
  gtk_box_append (GTK_BOX (self->column), self->remark);
  gtk_box_append (GTK_BOX (self->column), self->others);
  gtk_widget_set_parent (self->column, GTK_WIDGET (self));
}

/* --- Showing what is noted ---------------------------------------------------------------------------------------- */

static char *
summary_of (WsNoteRow *self)
{
  g_autofree char *words = self->note != NULL
                           ? ws_words_note (self->note, ws_session_get_knowledge (self->session),
                                            ws_session_get_desk (self->session)->language) : NULL;

  if (words == NULL || *words == '\0')
    return g_strdup (self->another ? _("another observation") : _("not noted"));
  return self->note->specimen[0] != '\0' ? g_strdup_printf ("%s: %s", self->note->specimen, words) : g_steal_pointer (&words);
}

static void
show_chosen (WsNoteRow *self)
{
  const WsNote *note = self->note;

  for (GtkWidget *w = gtk_widget_get_first_child (self->choices); w != NULL; w = gtk_widget_get_next_sibling (w))
    gtk_check_button_set_active (GTK_CHECK_BUTTON (w),
                                 note != NULL && note->states[0] != NULL
                                 ? g_strv_contains ((const char *const *) note->states, gtk_widget_get_name (w))
                                 : gtk_widget_get_name (w)[0] == '-');
}

static void
show_note (WsNoteRow *self)
{
  const WsNote *note = self->note;

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
      g_autofree char *summary = summary_of (self);
      g_autofree char *spoken = g_strdup_printf ("%s: %s", gtk_label_get_label (GTK_LABEL (self->name)), summary);

      gtk_label_set_label (GTK_LABEL (self->summary), summary);
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
      show_chosen (self);
    }
  self->filling = FALSE;
}

static void
another_cb (WsNoteRow *self)
{
  self->another = TRUE;
  g_clear_pointer (&self->note, ws_note_unref);
  self->filling = TRUE;
  ws_note_details_show (WS_NOTE_DETAILS (self->details), NULL, NULL);
  self->filling = FALSE;
  show_note (self);
}

static GtkWidget *
make_more (WsNoteRow *self)
{
  GtkWidget *popover = gtk_popover_new (), *scroller = gtk_scrolled_window_new ();

  self->details = ws_note_details_new (self->session, self->character);
  g_signal_connect_object (self->details, "changed", G_CALLBACK (emit_noted), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->details, "another", G_CALLBACK (another_cb), self, G_CONNECT_SWAPPED);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scroller), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scroller), 460);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->details);
  gtk_popover_set_child (GTK_POPOVER (popover), scroller);
  self->more = gtk_menu_button_new ();
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (self->more), "ws-more-symbolic");
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (self->more), popover);
  gtk_widget_add_css_class (self->more, "flat");
  gtk_widget_set_tooltip_text (self->more, _("When, of which specimen, by whom, how judged"));
  return self->more;
}

GtkWidget *
ws_note_row_new (WsSession *session, const WsCharacter *character, GtkSizeGroup *names)
{
  WsNoteRow *self = g_object_new (WS_TYPE_NOTE_ROW, NULL);
  const char *name = ws_session_text (session, "character", character->id);
  GtkWidget *value;

  self->session = g_object_ref (session);
  self->character = character;
  self->name = gtk_label_new (name);
  gtk_label_set_xalign (GTK_LABEL (self->name), 0);
  gtk_label_set_wrap (GTK_LABEL (self->name), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (self->name), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_width_chars (GTK_LABEL (self->name), 8);
  gtk_label_set_max_width_chars (GTK_LABEL (self->name), 16);
  gtk_size_group_add_widget (names, self->name);
  value = character->free_text ? make_entry (self, name) : make_states (self);
  gtk_widget_set_hexpand (value, TRUE);
  self->sure = gtk_check_button_new_with_label (_("sure"));
  gtk_widget_set_tooltip_text (self->sure, _("Seen on the specimen, without doubt"));
  g_signal_connect (self->sure, "toggled", G_CALLBACK (sure_toggled_cb), self);
  gtk_box_append (GTK_BOX (self->box), self->name);
  gtk_box_append (GTK_BOX (self->box), value);
  gtk_box_append (GTK_BOX (self->box), self->sure);
  gtk_box_append (GTK_BOX (self->box), make_more (self));
  if (ws_knowledge_has_text (ws_session_get_knowledge (session), "character_def", character->id))
    gtk_widget_set_tooltip_text (self->name, ws_session_text (session, "character_def", character->id));
  show_note (self);
  return GTK_WIDGET (self);
}

const WsCharacter *
ws_note_row_get_character (WsNoteRow *self)
{
  return self->character;
}

static void
take_back_cb (GtkButton *button, WsNoteRow *self)
{
  g_signal_emit (self, signals[TAKE_BACK], 0, gtk_widget_get_name (GTK_WIDGET (button)));
}

/* "a: blue, after 5 min (unsure), Ada" */
static void
add_other (WsNoteRow *self, const WsNote *note)
{
  g_autofree char *words = ws_words_note (note, ws_session_get_knowledge (self->session), ws_session_get_desk (self->session)->language);
  GString *text = g_string_new (NULL);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *label, *button = gtk_button_new_from_icon_name ("ws-cross-symbolic");

  g_string_append_printf (text, "%s%s%s%s", note->specimen, note->specimen[0] != '\0' ? ": " : "", words, note->sure ? "" : _(" (unsure)"));
  if (note->observer[0] != '\0')
    g_string_append_printf (text, ", %s", note->observer);
  label = gtk_label_new (text->str);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_add_css_class (label, "ws-remark");
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_name (button, note->id);
  gtk_widget_set_tooltip_text (button, _("Take this observation back"));
  g_signal_connect (button, "clicked", G_CALLBACK (take_back_cb), self);
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (line), button);
  gtk_box_append (GTK_BOX (self->others), line);
  g_string_free (text, TRUE);
}

void
ws_note_row_set_find (WsNoteRow *self, const WsFind *find)
{
  const WsNote *last = NULL;
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->others)) != NULL)
    gtk_box_remove (GTK_BOX (self->others), child);
  for (guint i = find != NULL ? find->notes->len : 0; i > 0; i--)
    {
      const WsNote *note = g_ptr_array_index (find->notes, i - 1);

      if (!g_str_equal (note->character, self->character->id))
        continue;
      if (last == NULL && !self->another)
        last = note;
      else
        add_other (self, note);
    }
  if (!self->another || find == NULL)
    {
      self->another = FALSE;
      g_clear_pointer (&self->note, ws_note_unref);
      self->note = last != NULL ? ws_note_ref (last) : NULL;
      self->filling = TRUE;
      ws_note_details_show (WS_NOTE_DETAILS (self->details), find, self->note);
      self->filling = FALSE;
    }
  show_note (self);
}

void
ws_note_row_set_remark (WsNoteRow *self, const char *remark)
{
  gtk_label_set_label (GTK_LABEL (self->remark), remark);
  gtk_widget_set_visible (self->remark, *remark != '\0');
}
