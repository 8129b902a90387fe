/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-note-details.h"

#include "ws-groups.h"
#include "ws-intl.h"

#include <math.h>
#include <string.h>

struct _WsNoteDetails
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkDropDown *observed, *specimen, *mark;
  GtkSpinButton *minutes;
  GtkCheckButton *off_photo;
  GtkWidget *observer, *text;
  GPtrArray *questions;       /* GtkCheckButton, named by the condition; borrowed */
  GPtrArray *mark_ids;        /* char*, beside the entries of the drop-down behind the first */

  WsSession *session;
  const WsCharacter *character;
  gboolean filling;
};

enum { CHANGED, ANOTHER, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsNoteDetails, ws_note_details, GTK_TYPE_WIDGET)

static const char *const letters[] = { "", "a", "b", "c", "d", "e", "f", NULL };

static void
say_changed (WsNoteDetails *self)
{
  gtk_widget_set_visible (GTK_WIDGET (self->minutes), gtk_drop_down_get_selected (self->observed) == WS_OBSERVED_AFTER);
  if (!self->filling)
    g_signal_emit (self, signals[CHANGED], 0);
}

static void
another_cb (WsNoteDetails *self)
{
  g_signal_emit (self, signals[ANOTHER], 0);
}

/* --- Making it -------------------------------------------------------------------------------------------------- */

static GtkWidget *
add_field (WsNoteDetails *self, const char *name, GtkWidget *field)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *label = gtk_label_new (name);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_width_chars (GTK_LABEL (label), 12);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 12);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_set_hexpand (field, TRUE);
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (line), field);
  gtk_box_append (GTK_BOX (self->box), line);
  gtk_accessible_update_property (GTK_ACCESSIBLE (field), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return field;
}

static GtkDropDown *
make_drop (WsNoteDetails *self)
{
  GtkWidget *drop = gtk_drop_down_new (G_LIST_MODEL (gtk_string_list_new (NULL)), NULL);

  g_signal_connect_object (drop, "notify::selected", G_CALLBACK (say_changed), self, G_CONNECT_SWAPPED);
  return GTK_DROP_DOWN (drop);
}

static void
append (GtkDropDown *drop, const char *text)
{
  gtk_string_list_append (GTK_STRING_LIST (gtk_drop_down_get_model (drop)), text);
}

static void
add_when (WsNoteDetails *self)
{
  static const char *const ids[] = { "unknown", "fresh", "after", "dried" };

  self->minutes = GTK_SPIN_BUTTON (gtk_spin_button_new_with_range (0, 100000, 1));
  self->observed = make_drop (self);
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    append (self->observed, i == WS_OBSERVED_AFTER ? _("after so many minutes") : ws_session_text (self->session, "observed", ids[i]));
  g_signal_connect_object (self->minutes, "value-changed", G_CALLBACK (say_changed), self, G_CONNECT_SWAPPED);
  add_field (self, _("Observed"), GTK_WIDGET (self->observed));
  gtk_box_append (GTK_BOX (gtk_widget_get_parent (GTK_WIDGET (self->observed))), GTK_WIDGET (self->minutes));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->minutes), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Minutes after cutting"), -1);
}

static void
add_specimen (WsNoteDetails *self)
{
  self->specimen = make_drop (self);
  append (self->specimen, _("specimen not said"));
  for (guint i = 1; letters[i] != NULL; i++)
    {
      g_autofree char *text = g_strdup_printf (_("specimen %s"), letters[i]);

      append (self->specimen, text);
    }
  add_field (self, _("Of"), GTK_WIDGET (self->specimen));
}

static GtkWidget *
make_entry (WsNoteDetails *self, const char *hint)
{
  GtkWidget *entry = gtk_entry_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), hint);
  g_signal_connect_object (entry, "activate", G_CALLBACK (say_changed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (focus, "leave", G_CALLBACK (say_changed), self, G_CONNECT_SWAPPED);
  gtk_widget_add_controller (entry, focus);
  return entry;
}

static void
add_questions (WsNoteDetails *self)
{
  g_autoptr (GPtrArray) ids = ws_knowledge_dup_questions (ws_session_get_knowledge (self->session), self->character->id);

  for (guint i = 0; i < ids->len; i++)
    {
      const char *id = g_ptr_array_index (ids, i);
      GtkWidget *label = gtk_label_new (ws_session_text (self->session, "question", id)), *check = gtk_check_button_new ();

      gtk_label_set_wrap (GTK_LABEL (label), TRUE);
      gtk_label_set_xalign (GTK_LABEL (label), 0);
      gtk_label_set_max_width_chars (GTK_LABEL (label), 30);
      gtk_check_button_set_child (GTK_CHECK_BUTTON (check), label);
      gtk_accessible_update_property (GTK_ACCESSIBLE (check), GTK_ACCESSIBLE_PROPERTY_LABEL, gtk_label_get_text (GTK_LABEL (label)), -1);
      gtk_widget_set_name (check, id);
      g_signal_connect_object (check, "toggled", G_CALLBACK (say_changed), self, G_CONNECT_SWAPPED);
      gtk_box_append (GTK_BOX (self->box), check);
      g_ptr_array_add (self->questions, check);
    }
}

static void
ws_note_details_dispose (GObject *object)
{
  WsNoteDetails *self = WS_NOTE_DETAILS (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->questions, g_ptr_array_unref);
  g_clear_pointer (&self->mark_ids, g_ptr_array_unref);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (ws_note_details_parent_class)->dispose (object);
}

static void
ws_note_details_class_init (WsNoteDetailsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = ws_note_details_dispose;
  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ANOTHER] = g_signal_new ("another", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
ws_note_details_init (WsNoteDetails *self)
{
  self->questions = g_ptr_array_new ();
  self->mark_ids = g_ptr_array_new_with_free_func (g_free);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
ws_note_details_new (WsSession *session, const WsCharacter *character)
{
  WsNoteDetails *self = g_object_new (WS_TYPE_NOTE_DETAILS, NULL);
  const char *hint = ws_session_text (session, "note_hint", character->id);
  GtkWidget *another = gtk_button_new_with_mnemonic (_("_Another observation"));

  self->session = g_object_ref (session);
  self->character = character;
  self->filling = TRUE;
  add_questions (self);
  add_when (self);
  add_specimen (self);
  self->observer = add_field (self, _("Noted by"), make_entry (self, _("yourself")));
  self->mark = make_drop (self);
  add_field (self, _("Mark"), GTK_WIDGET (self->mark));
  self->text = add_field (self, _("In words"), make_entry (self, g_str_equal (hint, character->id) ? "" : hint));
  self->off_photo = GTK_CHECK_BUTTON (gtk_check_button_new_with_label (_("read off a photo: then never sure")));
  g_signal_connect_object (self->off_photo, "toggled", G_CALLBACK (say_changed), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->off_photo));
  gtk_widget_set_halign (another, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (another, _("Of another minute, specimen or nose: this one stays"));
  g_signal_connect_object (another, "clicked", G_CALLBACK (another_cb), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->box), another);
  ws_note_details_show (self, NULL, NULL);
  return GTK_WIDGET (self);
}

/* --- Showing and filling ---------------------------------------------------------------------------------------------- */

static void
offer_marks (WsNoteDetails *self, const WsFind *find, const char *chosen)
{
  GtkStringList *list = gtk_string_list_new (NULL);
  guint selected = 0;

  g_ptr_array_set_size (self->mark_ids, 0);
  gtk_string_list_append (list, _("no mark"));
  for (guint i = 0; find != NULL && i < find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (find->marks, i);
      g_autofree char *letter = ws_find_dup_mark_letter (find, mark);
      g_autofree char *text = g_strdup_printf ("%s, %s", letter, ws_session_text (self->session, "part", mark->part));

      gtk_string_list_append (list, text);
      g_ptr_array_add (self->mark_ids, g_strdup (mark->id));
      if (g_strcmp0 (chosen, mark->id) == 0)
        selected = i + 1;
    }
  gtk_drop_down_set_model (self->mark, G_LIST_MODEL (list));
  gtk_drop_down_set_selected (self->mark, selected);
  g_object_unref (list);
}

static void
set_entry (GtkWidget *entry, const char *text)
{
  if (gtk_widget_get_focus_child (entry) == NULL && g_strcmp0 (text, gtk_editable_get_text (GTK_EDITABLE (entry))) != 0)
    gtk_editable_set_text (GTK_EDITABLE (entry), text);
}

void
ws_note_details_show (WsNoteDetails *self, const WsFind *find, const WsNote *note)
{
  guint letter = 0;

  self->filling = TRUE;
  for (guint i = 0; note != NULL && letters[i] != NULL; i++)
    if (g_str_equal (letters[i], note->specimen))
      letter = i;
  gtk_drop_down_set_selected (self->observed, note != NULL ? (guint) note->observed : 0);
  gtk_spin_button_set_value (self->minutes, note != NULL && isfinite (note->minutes) ? note->minutes : 0);
  gtk_drop_down_set_selected (self->specimen, letter);
  offer_marks (self, find, note != NULL ? note->mark_id : NULL);
  set_entry (self->observer, note != NULL ? note->observer : "");
  set_entry (self->text, note != NULL ? note->text : "");
  gtk_check_button_set_active (self->off_photo, note != NULL && note->off_photo);
  for (guint i = 0; i < self->questions->len; i++)
    {
      GtkCheckButton *check = g_ptr_array_index (self->questions, i);

      gtk_check_button_set_active (check, note != NULL && g_strv_contains ((const char *const *) note->answers,
                                                                           gtk_widget_get_name (GTK_WIDGET (check))));
    }
  say_changed (self);
  self->filling = FALSE;
}

void
ws_note_details_fill (WsNoteDetails *self, WsNote *note)
{
  g_autoptr (GStrvBuilder) answers = g_strv_builder_new ();
  guint letter = gtk_drop_down_get_selected (self->specimen), mark = gtk_drop_down_get_selected (self->mark);

  note->observed = (WsObserved) MIN (gtk_drop_down_get_selected (self->observed), WS_OBSERVED_DRIED);
  note->minutes = note->observed == WS_OBSERVED_AFTER ? gtk_spin_button_get_value (self->minutes) : NAN;
  /* A letter beyond those offered stays as it was. */
  if (letter > 0 || strlen (note->specimen) <= 1)
    ws_set_string (&note->specimen, letters[MIN (letter, G_N_ELEMENTS (letters) - 2)]);
  ws_set_string (&note->observer, gtk_editable_get_text (GTK_EDITABLE (self->observer)));
  ws_set_string (&note->text, gtk_editable_get_text (GTK_EDITABLE (self->text)));
  note->off_photo = gtk_check_button_get_active (self->off_photo);
  g_free (note->mark_id);
  note->mark_id = mark > 0 && mark <= self->mark_ids->len ? g_strdup (g_ptr_array_index (self->mark_ids, mark - 1)) : NULL;
  for (guint i = 0; i < self->questions->len; i++)
    if (gtk_check_button_get_active (g_ptr_array_index (self->questions, i)))
      g_strv_builder_add (answers, gtk_widget_get_name (g_ptr_array_index (self->questions, i)));
  g_strfreev (note->answers);
  note->answers = g_strv_builder_end (answers);
}
