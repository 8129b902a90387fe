/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-quick-note.h"

#include "ws-intl.h"
#include "ws-state-picture.h"
#include "ws-state-search.h"

#define N_FOUND 7
#define PICTURE 32   /* px */

struct _WsQuickNote
{
  GtkWidget parent_instance;

  GtkWidget *column, *sure;
  GtkEditable *entry;
  GtkListBox *list;

  WsSession *session;
  char *form;
  GArray *found;      /* WsStateMatch, beside the rows */
};

enum { CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsQuickNote, ws_quick_note, GTK_TYPE_WIDGET)

static void
choose (WsQuickNote *self, guint i)
{
  WsStateMatch match;

  if (i >= self->found->len)
    return;
  match = g_array_index (self->found, WsStateMatch, i);
  gtk_editable_set_text (self->entry, "");
  gtk_widget_grab_focus (GTK_WIDGET (self->entry));
  g_signal_emit (self, signals[CHOSEN], 0, match.character->id, match.state,
                 gtk_check_button_get_active (GTK_CHECK_BUTTON (self->sure)));
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, WsQuickNote *self)
{
  choose (self, (guint) gtk_list_box_row_get_index (row));
}

static void
activate_cb (WsQuickNote *self)
{
  choose (self, 0);
}

static GtkWidget *
make_row (WsQuickNote *self, const WsStateMatch *match)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *label = gtk_label_new (NULL);
  GtkWidget *picture = ws_state_picture_new (match->character->id, match->state, PICTURE);
  const char *term = ws_character_get_term (match->character, match->state);
  g_autofree char *text = g_strdup_printf ("%s: %s", ws_session_text (self->session, "character", match->character->id),
                                           ws_knowledge_state_text (ws_session_get_knowledge (self->session),
                                                                    ws_session_get_desk (self->session)->language,
                                                                    match->character->id, match->state));
  g_autofree char *both = *term != '\0' ? g_strdup_printf ("%s (%s)", text, term) : g_strdup (text);

  gtk_label_set_text (GTK_LABEL (label), both);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_set_hexpand (label, TRUE);
  if (picture != NULL)
    gtk_box_append (GTK_BOX (box), picture);
  gtk_box_append (GTK_BOX (box), label);
  return box;
}

static void
search_cb (WsQuickNote *self)
{
  GtkWidget *child;

  g_array_unref (self->found);
  self->found = ws_state_search (ws_session_get_knowledge (self->session), ws_session_get_desk (self->session)->language,
                                 gtk_editable_get_text (self->entry), self->form, N_FOUND);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->list))) != NULL)
    gtk_list_box_remove (self->list, child);
  for (guint i = 0; i < self->found->len; i++)
    gtk_list_box_append (self->list, make_row (self, &g_array_index (self->found, WsStateMatch, i)));
  gtk_widget_set_visible (GTK_WIDGET (self->list), self->found->len > 0);
}

void
ws_quick_note_set_form (WsQuickNote *self, const char *growth_form)
{
  g_free (self->form);
  self->form = g_strdup (growth_form);
}

static void
ws_quick_note_dispose (GObject *object)
{
  WsQuickNote *self = WS_QUICK_NOTE (object);

  g_clear_pointer (&self->column, gtk_widget_unparent);
  g_clear_pointer (&self->found, g_array_unref);
  g_clear_pointer (&self->form, g_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (ws_quick_note_parent_class)->dispose (object);
}

static void
ws_quick_note_class_init (WsQuickNoteClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = ws_quick_note_dispose;
  signals[CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 3, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_BOOLEAN);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
ws_quick_note_init (WsQuickNote *self)
{
  self->found = g_array_new (FALSE, FALSE, sizeof (WsStateMatch));
  self->form = g_strdup ("");
}

GtkWidget *
ws_quick_note_new (WsSession *session)
{
  WsQuickNote *self = g_object_new (WS_TYPE_QUICK_NOTE, NULL);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *entry = gtk_entry_new ();

  self->session = g_object_ref (session);
  self->column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->entry = GTK_EDITABLE (entry);
  self->sure = gtk_check_button_new_with_label (_("sure"));
  self->list = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _("A few letters: skirt, decurrent, smell flour…"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Note by a few letters"), -1);
  gtk_widget_set_hexpand (entry, TRUE);
  gtk_widget_set_tooltip_text (self->sure, _("Seen on the specimen, without doubt"));
  gtk_list_box_set_selection_mode (self->list, GTK_SELECTION_NONE);
  gtk_widget_add_css_class (GTK_WIDGET (self->list), "ruled");
  gtk_widget_set_visible (GTK_WIDGET (self->list), FALSE);
  g_signal_connect_object (entry, "changed", G_CALLBACK (search_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (entry, "activate", G_CALLBACK (activate_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->list, "row-activated", G_CALLBACK (row_activated_cb), self, 0);
  gtk_box_append (GTK_BOX (line), entry);
  gtk_box_append (GTK_BOX (line), self->sure);
  gtk_box_append (GTK_BOX (self->column), line);
  gtk_box_append (GTK_BOX (self->column), GTK_WIDGET (self->list));
  gtk_widget_set_parent (self->column, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
