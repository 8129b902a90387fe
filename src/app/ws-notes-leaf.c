/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-notes-leaf.h"

#include "ws-edits.h"
#include "ws-intl.h"
#include "ws-note-row.h"
#include "ws-groups.h"
#include "ws-quick-note.h"
#include "ws-text-field.h"

struct _WsNotesLeaf
{
  GtkWidget parent_instance;

  /* template */
  GtkWidget *box;
  GtkBox *quick_place, *first_rows, *more_rows, *other_rows, *words_place;
  GtkWidget *other_expander;

  GtkWidget *quick, *remarks, *only_mine;
  GPtrArray *rows;          /* WsNoteRow, in the order of the characters; borrowed */
  char *form;               /* growth form by which the rows are laid out */

  WsSession *session;
  WsFindItem *item;
  gulong item_changed;
};

G_DEFINE_FINAL_TYPE (WsNotesLeaf, ws_notes_leaf, GTK_TYPE_WIDGET)

static const WsFind *
get_find (WsNotesLeaf *self)
{
  return self->item != NULL ? ws_find_item_get_find (self->item) : NULL;
}

static const WsNote *
last_note (const WsFind *find, const char *character)
{
  for (guint i = find->notes->len; i > 0; i--)
    {
      const WsNote *note = g_ptr_array_index (find->notes, i - 1);

      if (g_str_equal (note->character, character))
        return note;
    }
  return NULL;
}

/* --- Rows -------------------------------------------------------------------------------------------- */

static void
noted_cb (WsNoteRow *row, const WsNote *note, WsNotesLeaf *self)
{
  const WsFind *find = get_find (self);

  if (find != NULL)
    ws_edit_whole_note (self->session, find->id, note);
}

static void
take_back_cb (WsNoteRow *row, const char *note_id, WsNotesLeaf *self)
{
  const WsFind *find = get_find (self);

  if (find != NULL)
    ws_edit_remove_note (self->session, find->id, note_id);
}

/* A state is added to a character that takes several, and replaces that of one that takes one. */
static void
quick_cb (WsQuickNote *quick, const char *character_id, const char *state, gboolean sure, WsNotesLeaf *self)
{
  const WsFind *find = get_find (self);
  const WsCharacter *character = ws_knowledge_find_character (ws_session_get_knowledge (self->session), character_id);
  const WsNote *before = find != NULL ? last_note (find, character_id) : NULL;
  g_autoptr (WsNote) note = before != NULL ? ws_note_copy (before) : ws_note_new ();
  g_autoptr (GStrvBuilder) states = g_strv_builder_new ();

  if (find == NULL)
    return;
  for (guint i = 0; before != NULL && character->several && before->states[i] != NULL; i++)
    if (!g_str_equal (before->states[i], state))
      g_strv_builder_add (states, before->states[i]);
  g_strv_builder_add (states, state);
  g_strfreev (note->states);
  note->states = g_strv_builder_end (states);
  ws_set_string (&note->character, character_id);
  note->sure = sure && !note->off_photo;
  ws_edit_whole_note (self->session, find->id, note);
}

/* What is asked of nearly every find stands first. */
static gboolean
stands_first (const char *character)
{
  static const char *const first[] = { "growth_form", "habitat", "substrate", "trees", "odour", "bruising", "ring", "stem_base",
                                       "spore_print", "size", NULL };

  return g_strv_contains (first, character);
}

static void
add_rows (WsNotesLeaf *self)
{
  GPtrArray *characters = ws_knowledge_get_characters (ws_session_get_knowledge (self->session));

  for (guint i = 0; i < characters->len; i++)
    {
      GtkWidget *row = ws_note_row_new (self->session, g_ptr_array_index (characters, i));

      g_signal_connect_object (row, "noted", G_CALLBACK (noted_cb), self, 0);
      g_signal_connect_object (row, "take-back", G_CALLBACK (take_back_cb), self, 0);
      g_ptr_array_add (self->rows, row);
      gtk_box_append (self->more_rows, row);
    }
}

/* Characters of other growth forms stand apart, and last: they are never hidden. */
static void
lay_rows (WsNotesLeaf *self, const char *form)
{
  gboolean others = FALSE;

  if (g_strcmp0 (self->form, form) == 0)
    return;
  g_free (self->form);
  self->form = g_strdup (form);
  for (guint i = 0; i < self->rows->len; i++)
    {
      GtkWidget *row = g_ptr_array_index (self->rows, i);
      const WsCharacter *character = ws_note_row_get_character (WS_NOTE_ROW (row));
      gboolean applies = ws_character_applies (character, form);
      GtkBox *place = !applies ? self->other_rows : stands_first (character->id) ? self->first_rows : self->more_rows;

      others = others || !applies;
      g_object_ref (row);
      gtk_box_remove (GTK_BOX (gtk_widget_get_parent (row)), row);
      gtk_box_append (place, row);
      g_object_unref (row);
    }
  gtk_widget_set_visible (self->other_expander, others);
}

/* A growth form counts as sure only where a mark backs it; whoever ticks "sure" is told so. */
static const char *
form_remark (WsNotesLeaf *self, const WsFind *find)
{
  const WsKnowledge *knowledge = ws_session_get_knowledge (self->session);
  const WsMeans *means = ws_knowledge_find_means (knowledge, "form_shown");
  const WsNote *note = last_note (find, "growth_form");

  for (guint i = 0; means != NULL && means->views[i] != NULL; i++)
    if (ws_evidence_judge_view (find, knowledge, means->views[i], NULL) == WS_EVIDENCE_SHOWN)
      return "";
  return note != NULL && note->sure ? ws_session_text (self->session, "note_hint", "form_unbacked") : "";
}

static void
fill_rows (WsNotesLeaf *self, const WsFind *find)
{
  for (guint i = 0; i < self->rows->len; i++)
    {
      WsNoteRow *row = g_ptr_array_index (self->rows, i);
      const WsCharacter *character = ws_note_row_get_character (row);

      ws_note_row_set_find (row, find);
      /* Asked as a question on the note of another character; what was noted of it all the same is shown. */
      gtk_widget_set_visible (GTK_WIDGET (row), character->asked_with == NULL || last_note (find, character->id) != NULL);
      if (g_str_equal (character->id, "growth_form"))
        ws_note_row_set_remark (row, form_remark (self, find));
    }
}

/* --- Words --------------------------------------------------------------------------------------------- */

static void
remarks_edited_cb (WsTextField *field, const char *text, WsNotesLeaf *self)
{
  const WsFind *find = get_find (self);

  if (find != NULL)
    ws_edit_set (self->session, find->id, "remarks", text);
}

static void
only_mine_edited_cb (WsTextField *field, const char *text, WsNotesLeaf *self)
{
  const WsFind *find = get_find (self);

  if (find != NULL)
    ws_edit_set (self->session, find->id, "only-mine", text);
}

static void
copy_habitat_cb (GtkButton *button, WsNotesLeaf *self)
{
  const WsFind *find = get_find (self);

  if (find != NULL)
    ws_edit_copy_habitat (self->session, find->id);
}

static void
item_changed_cb (WsFindItem *item, WsNotesLeaf *self)
{
  const WsFind *find = get_find (self);

  gtk_widget_set_sensitive (GTK_WIDGET (self), find != NULL);
  if (find == NULL)
    return;
  ws_quick_note_set_form (WS_QUICK_NOTE (self->quick), ws_find_get_growth_form (find));
  lay_rows (self, ws_find_get_growth_form (find));
  fill_rows (self, find);
  ws_text_field_set_text (WS_TEXT_FIELD (self->remarks), find->remarks);
  ws_text_field_set_text (WS_TEXT_FIELD (self->only_mine), find->only_mine);
}

void
ws_notes_leaf_set_item (WsNotesLeaf *self, WsFindItem *item)
{
  if (self->item == item)
    return;
  ws_text_field_flush (WS_TEXT_FIELD (self->remarks));
  ws_text_field_flush (WS_TEXT_FIELD (self->only_mine));
  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_set_object (&self->item, item);
  if (item != NULL)
    self->item_changed = g_signal_connect (item, "changed", G_CALLBACK (item_changed_cb), self);
  item_changed_cb (item, self);
}

static void
ws_notes_leaf_dispose (GObject *object)
{
  WsNotesLeaf *self = WS_NOTES_LEAF (object);

  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_clear_object (&self->item);
  gtk_widget_dispose_template (GTK_WIDGET (self), WS_TYPE_NOTES_LEAF);
  g_clear_pointer (&self->rows, g_ptr_array_unref);
  g_clear_pointer (&self->form, g_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (ws_notes_leaf_parent_class)->dispose (object);
}

static void
ws_notes_leaf_class_init (WsNotesLeafClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = ws_notes_leaf_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-notes-leaf.ui");
  gtk_widget_class_bind_template_child (widget_class, WsNotesLeaf, box);
  gtk_widget_class_bind_template_child (widget_class, WsNotesLeaf, first_rows);
  gtk_widget_class_bind_template_child (widget_class, WsNotesLeaf, more_rows);
  gtk_widget_class_bind_template_child (widget_class, WsNotesLeaf, other_rows);
  gtk_widget_class_bind_template_child (widget_class, WsNotesLeaf, other_expander);
  gtk_widget_class_bind_template_child (widget_class, WsNotesLeaf, quick_place);
  gtk_widget_class_bind_template_child (widget_class, WsNotesLeaf, words_place);
  gtk_widget_class_bind_template_callback (widget_class, copy_habitat_cb);
}

static void
ws_notes_leaf_init (WsNotesLeaf *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->rows = g_ptr_array_new ();
}

GtkWidget *
ws_notes_leaf_new (WsSession *session)
{
  WsNotesLeaf *self = g_object_new (WS_TYPE_NOTES_LEAF, NULL);

  self->session = g_object_ref (session);
  self->quick = ws_quick_note_new (session);
  gtk_box_append (self->quick_place, self->quick);
  g_signal_connect_object (self->quick, "chosen", G_CALLBACK (quick_cb), self, 0);
  add_rows (self);
  self->remarks = ws_text_field_new (_("For the identifier"), TRUE);
  self->only_mine = ws_text_field_new (_("Only mine: never leaves this computer"), TRUE);
  gtk_box_append (self->words_place, self->remarks);
  gtk_box_append (self->words_place, self->only_mine);
  g_signal_connect_object (self->remarks, "edited", G_CALLBACK (remarks_edited_cb), self, 0);
  g_signal_connect_object (self->only_mine, "edited", G_CALLBACK (only_mine_edited_cb), self, 0);
  item_changed_cb (NULL, self);
  return GTK_WIDGET (self);
}
