/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-notes-leaf.h"

#include "ws-edits.h"
#include "ws-intl.h"
#include "ws-note-row.h"
#include "ws-text-field.h"

struct _WsNotesLeaf
{
  GtkWidget parent_instance;

  /* template */
  GtkWidget *box;
  GtkBox *first_rows, *more_rows, *words_place;

  GtkWidget *remarks, *only_mine;

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

static char *
joined (const WsNote *note)
{
  return note != NULL ? g_strjoinv ("|", note->states) : g_strdup ("");
}

static void
noted_cb (WsNoteRow *row, const char *states, gboolean sure, WsNotesLeaf *self)
{
  const WsFind *find = get_find (self);
  const char *character = ws_note_row_get_character (row)->id;
  const WsNote *before = find != NULL ? last_note (find, character) : NULL;
  g_autofree char *old = joined (before);

  if (find == NULL || (g_str_equal (old, states) && (before == NULL || before->sure == sure)))
    return;
  ws_edit_note (self->session, find->id, character, states, sure);
}

/* What is asked of nearly every find stands first; the growth form has its own place on the Figure leaf. */
static gboolean
stands_first (const char *character)
{
  static const char *const first[] = { "habitat", "substrate", "trees", "odour", "bruising", "ring", "stem_base", "spore_print",
                                       "size", NULL };

  return g_strv_contains (first, character);
}

static void
add_rows (WsNotesLeaf *self)
{
  GPtrArray *characters = ws_knowledge_get_characters (ws_session_get_knowledge (self->session));

  for (guint i = 0; i < characters->len; i++)
    {
      const WsCharacter *character = g_ptr_array_index (characters, i);
      GtkWidget *row;

      if (g_str_equal (character->id, "growth_form"))
        continue;
      row = ws_note_row_new (self->session, character);
      g_signal_connect_object (row, "noted", G_CALLBACK (noted_cb), self, 0);
      gtk_box_append (stands_first (character->id) ? self->first_rows : self->more_rows, row);
    }
}

static void
fill_rows (GtkBox *rows, const WsFind *find)
{
  for (GtkWidget *row = gtk_widget_get_first_child (GTK_WIDGET (rows)); row != NULL; row = gtk_widget_get_next_sibling (row))
    ws_note_row_set_note (WS_NOTE_ROW (row), last_note (find, ws_note_row_get_character (WS_NOTE_ROW (row))->id));
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
  fill_rows (self->first_rows, find);
  fill_rows (self->more_rows, find);
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
  gtk_widget_class_bind_template_child (widget_class, WsNotesLeaf, words_place);
  gtk_widget_class_bind_template_callback (widget_class, copy_habitat_cb);
}

static void
ws_notes_leaf_init (WsNotesLeaf *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
ws_notes_leaf_new (WsSession *session)
{
  WsNotesLeaf *self = g_object_new (WS_TYPE_NOTES_LEAF, NULL);

  self->session = g_object_ref (session);
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
