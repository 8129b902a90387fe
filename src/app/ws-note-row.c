/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-note-row-private.h"

#include "ws-intl.h"
#include "ws-note-details.h"
#include "ws-words.h"

enum { NOTED, TAKE_BACK, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsNoteRow, ws_note_row, GTK_TYPE_WIDGET)

/* Ids of the states that are chosen, or the one free text. (transfer full) */
static char **
dup_states (WsNoteRow *self)
{
  g_autoptr (GStrvBuilder) states = g_strv_builder_new ();

  /* Choices that nobody has opened yet say nothing: what is noted stays. */
  if (self->choices != NULL && gtk_widget_get_first_child (self->choices) == NULL)
    return self->note != NULL ? g_strdupv (self->note->states) : g_new0 (char *, 1);
  if (self->entry != NULL && *gtk_editable_get_text (GTK_EDITABLE (self->entry)) != '\0')
    g_strv_builder_add (states, gtk_editable_get_text (GTK_EDITABLE (self->entry)));
  for (GtkWidget *w = self->choices != NULL ? gtk_widget_get_first_child (self->choices) : NULL; w != NULL;
       w = gtk_widget_get_next_sibling (w))
    if (gtk_check_button_get_active (GTK_CHECK_BUTTON (w)) && gtk_widget_get_name (w)[0] != '-')
      g_strv_builder_add (states, gtk_widget_get_name (w));
  return g_strv_builder_end (states);
}

/* Says what the row says, unless that is what is noted already. */
void
ws_note_row_say (WsNoteRow *self)
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
sure_toggled_cb (GtkCheckButton *button, WsNoteRow *self)
{
  ws_note_row_say (self);
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
      ws_note_row_show_chosen (self);
    }
  self->filling = FALSE;
}

void
ws_note_row_begin_another (WsNoteRow *self)
{
  self->another = TRUE;
  g_clear_pointer (&self->note, ws_note_unref);
  self->filling = TRUE;
  ws_note_details_show (WS_NOTE_DETAILS (self->details), NULL, NULL);
  self->filling = FALSE;
  show_note (self);
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
  gtk_label_set_wrap_mode (GTK_LABEL (self->name), PANGO_WRAP_WORD_CHAR);
  /* Not in a size group: one that wraps would make the others as wide as it is in their height. */
  gtk_label_set_width_chars (GTK_LABEL (self->name), 8);
  gtk_label_set_max_width_chars (GTK_LABEL (self->name), 16);
  value = character->free_text ? ws_note_row_make_entry (self, name) : ws_note_row_make_states (self);
  gtk_widget_set_hexpand (value, TRUE);
  self->sure = gtk_check_button_new_with_label (_("sure"));
  gtk_widget_set_tooltip_text (self->sure, _("Seen on the specimen, without doubt"));
  g_signal_connect (self->sure, "toggled", G_CALLBACK (sure_toggled_cb), self);
  gtk_box_append (GTK_BOX (self->box), self->name);
  gtk_box_append (GTK_BOX (self->box), value);
  gtk_box_append (GTK_BOX (self->box), self->sure);
  gtk_box_append (GTK_BOX (self->box), ws_note_row_make_more (self));
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
