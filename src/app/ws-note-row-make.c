/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a note row is made of: the popover of states with their drawings, the entry, the popover of all else. */
#include "ws-note-row-private.h"

#include "ws-intl.h"
#include "ws-note-details.h"
#include "ws-state-picture.h"

#define PICTURE 40   /* px */

static void
choice_toggled_cb (GtkCheckButton *button, WsNoteRow *self)
{
  /* Of a group of radio buttons the one that goes off says nothing new. */
  if (!self->filling && (self->character->several || gtk_check_button_get_active (button)))
    ws_note_row_say (self);
}

static void
entry_activate_cb (GtkEntry *entry, WsNoteRow *self)
{
  ws_note_row_say (self);
}

static void
entry_leave_cb (GtkEventControllerFocus *controller, WsNoteRow *self)
{
  ws_note_row_say (self);
}

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

/* The choices and their drawings are made when somebody wants to see them. */
static void
popover_show_cb (GtkWidget *popover, WsNoteRow *self)
{
  if (gtk_widget_get_first_child (self->choices) == NULL)
    {
      self->filling = TRUE;
      add_choices (self);
      ws_note_row_show_chosen (self);
      self->filling = FALSE;
    }
  gtk_widget_grab_focus (self->choices);
}

GtkWidget *
ws_note_row_make_states (WsNoteRow *self)
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

GtkWidget *
ws_note_row_make_entry (WsNoteRow *self, const char *name)
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

void
ws_note_row_show_chosen (WsNoteRow *self)
{
  const WsNote *note = self->note;

  for (GtkWidget *w = gtk_widget_get_first_child (self->choices); w != NULL; w = gtk_widget_get_next_sibling (w))
    gtk_check_button_set_active (GTK_CHECK_BUTTON (w),
                                 note != NULL && note->states[0] != NULL
                                 ? g_strv_contains ((const char *const *) note->states, gtk_widget_get_name (w))
                                 : gtk_widget_get_name (w)[0] == '-');
}

GtkWidget *
ws_note_row_make_more (WsNoteRow *self)
{
  GtkWidget *popover = gtk_popover_new (), *scroller = gtk_scrolled_window_new ();

  self->details = ws_note_details_new (self->session, self->character);
  g_signal_connect_object (self->details, "changed", G_CALLBACK (ws_note_row_say), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->details, "another", G_CALLBACK (ws_note_row_begin_another), self, G_CONNECT_SWAPPED);
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
