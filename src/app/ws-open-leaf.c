/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-open-leaf.h"

#include "ws-edits.h"
#include "ws-intl.h"
#include "ws-still-open.h"
#include "ws-words.h"

/* The best of what could help tell. */
#define N_NEXT 3

struct _WsOpenLeaf
{
  GtkWidget parent_instance;

  GtkWidget *scroller, *box;

  WsSession *session;
  WsFindItem *item;
  gulong item_changed;
  GHashTable *unfolded;     /* ids of groups whose reasons are open */
};

G_DEFINE_FINAL_TYPE (WsOpenLeaf, ws_open_leaf, GTK_TYPE_WIDGET)

static const char *
text_of (WsOpenLeaf *self, const char *kind, const char *id)
{
  return ws_session_text (self->session, kind, id);
}

static GtkWidget *
add_label (GtkWidget *box, const char *text, const char *class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  /* Room for a narrow window: the natural width of a sentence is not asked for. */
  gtk_label_set_width_chars (GTK_LABEL (label), 18);
  if (class != NULL)
    gtk_widget_add_css_class (label, class);
  gtk_box_append (GTK_BOX (box), label);
  return label;
}

static GtkWidget *
add_box (GtkWidget *parent, int spacing)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, spacing);

  gtk_box_append (GTK_BOX (parent), box);
  return box;
}

/* --- What could help tell most ------------------------------------------------------------------------------ */

static void
add_next (WsOpenLeaf *self, const WsStillOpen *still_open)
{
  WsDesk *desk = ws_session_get_desk (self->session);
  g_autoptr (GArray) next = ws_still_open_dup_next (still_open, desk->knowledge, NULL);

  if (next->len == 0)
    return;
  add_label (self->box, text_of (self, "still_open", "next_title"), "ws-question");
  for (guint i = 0; i < MIN (next->len, N_NEXT); i++)
    {
      const WsNextEvidence *one = &g_array_index (next, WsNextEvidence, i);
      g_autofree char *text = ws_next_evidence_dup_text (one, desk->knowledge, desk->language);
      GtkWidget *box = add_box (self->box, 0);

      add_label (box, text, NULL);
      add_label (box, ws_next_evidence_get_how (one, desk->knowledge, desk->language), "ws-remark");
    }
}

/* --- Open groups ------------------------------------------------------------------------------------------------ */

static void
unfolded_cb (GtkExpander *expander, GParamSpec *pspec, WsOpenLeaf *self)
{
  const char *group = gtk_widget_get_name (GTK_WIDGET (expander));

  if (gtk_expander_get_expanded (expander))
    g_hash_table_add (self->unfolded, g_strdup (group));
  else
    g_hash_table_remove (self->unfolded, group);
}

static void
add_open (WsOpenLeaf *self, const WsStillOpen *still_open, const WsGroupVerdict *verdict)
{
  WsDesk *desk = ws_session_get_desk (self->session);
  g_autofree char *why = ws_still_open_dup_reasons_text (still_open, desk->knowledge, desk->language, verdict);
  GtkWidget *expander = gtk_expander_new (NULL), *inside = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *name = gtk_label_new (text_of (self, "group", verdict->group->id));

  gtk_label_set_wrap (GTK_LABEL (name), TRUE);
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_expander_set_label_widget (GTK_EXPANDER (expander), name);
  gtk_widget_set_name (expander, verdict->group->id);
  gtk_widget_add_css_class (inside, "ws-open-why");
  add_label (inside, text_of (self, "still_open", "why_title"), "ws-remark");
  add_label (inside, why, NULL);
  add_label (inside, text_of (self, "still_open", "helps_title"), "ws-remark");
  add_label (inside, text_of (self, "group_helps", verdict->group->id), NULL);
  gtk_expander_set_child (GTK_EXPANDER (expander), inside);
  gtk_expander_set_expanded (GTK_EXPANDER (expander), g_hash_table_contains (self->unfolded, verdict->group->id));
  g_signal_connect (expander, "notify::expanded", G_CALLBACK (unfolded_cb), self);
  gtk_box_append (GTK_BOX (self->box), expander);
}

/* --- Groups that do not fit ---------------------------------------------------------------------------------------- */

static void
take_back_cb (GtkButton *button, WsOpenLeaf *self)
{
  if (self->item != NULL)
    ws_edit_remove_note (self->session, ws_find_item_get_id (self->item), gtk_widget_get_name (GTK_WIDGET (button)));
}

/* "Growth form: cup (specimen a), noted by Ada on 4 October 2025, 14:03" */
static char *
note_text (WsOpenLeaf *self, const WsNote *note)
{
  g_autofree char *states = ws_words_note (note, ws_session_get_knowledge (self->session),
                                              ws_session_get_desk (self->session)->language);
  g_autofree char *when = ws_words_when (note->created_us);
  g_autofree char *specimen = note->specimen[0] != '\0' ? g_strdup_printf (_(" (specimen %s)"), note->specimen) : g_strdup ("");
  const char *character = text_of (self, "character", note->character);

  if (note->observer[0] == '\0')
    /* Translators: a character, its states, a specimen in brackets, a date with the time. */
    return g_strdup_printf (_("%s: %s%s, recorded %s"), character, states, specimen, when);
  /* Translators: a character, its states, a specimen in brackets, a person, a date with the time. */
  return g_strdup_printf (_("%s: %s%s, recorded by %s, %s"), character, states, specimen, note->observer, when);
}

static void
add_misfit (WsOpenLeaf *self, const WsGroupVerdict *verdict)
{
  GtkWidget *box = add_box (self->box, 2);

  add_label (box, text_of (self, "group", verdict->group->id), NULL);
  for (guint i = 0; i < verdict->misfits->len; i++)
    {
      const WsNote *note = g_ptr_array_index (verdict->misfits, i);
      g_autofree char *text = note_text (self, note);
      GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
      GtkWidget *label = add_label (line, text, "ws-remark");
      GtkWidget *button = gtk_button_new_with_label (_("Take back"));

      gtk_widget_set_hexpand (label, TRUE);
      gtk_widget_set_valign (button, GTK_ALIGN_START);
      gtk_widget_set_name (button, note->id);
      gtk_widget_set_tooltip_text (button, _("Takes this note back; Undo brings it again"));
      g_signal_connect (button, "clicked", G_CALLBACK (take_back_cb), self);
      gtk_box_append (GTK_BOX (line), button);
      gtk_box_append (GTK_BOX (box), line);
    }
}

/* --- Filling ----------------------------------------------------------------------------------------------------------- */

static void
clear (WsOpenLeaf *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->box)) != NULL)
    gtk_box_remove (GTK_BOX (self->box), child);
}

static void
add_groups (WsOpenLeaf *self, const WsStillOpen *still_open)
{
  gboolean any = FALSE;

  for (guint i = 0; i < still_open->verdicts->len; i++)
    {
      const WsGroupVerdict *verdict = g_ptr_array_index (still_open->verdicts, i);

      if (verdict->open)
        add_open (self, still_open, verdict);
    }
  for (guint i = 0; i < still_open->verdicts->len; i++)
    {
      const WsGroupVerdict *verdict = g_ptr_array_index (still_open->verdicts, i);

      if (verdict->misfits->len == 0)
        continue;
      if (!any)
        add_label (self->box, text_of (self, "still_open", "misfit_title"), "ws-question");
      any = TRUE;
      add_misfit (self, verdict);
    }
}

static void
item_changed_cb (WsFindItem *item, WsOpenLeaf *self)
{
  g_autoptr (WsStillOpen) still_open = NULL;

  clear (self);
  gtk_widget_set_sensitive (GTK_WIDGET (self), self->item != NULL);
  if (self->item == NULL)
    return;
  still_open = ws_still_open_judge (ws_find_item_get_find (self->item), ws_session_get_knowledge (self->session), NULL);
  add_label (self->box, text_of (self, "still_open", "title"), "ws-title");
  add_label (self->box, still_open->n_open > 0 ? text_of (self, "still_open", "intro") : text_of (self, "caution", "nothing_left"), NULL);
  add_label (self->box, text_of (self, "caution", "list_is_selection"), "ws-remark");
  /* Before anything is said of what to pick up, turn over or cut. */
  if (ws_evidence_may_be_finger_like (ws_find_item_get_evidence (self->item), ws_session_get_knowledge (self->session)))
    add_label (self->box, text_of (self, "caution", "touch"), "ws-open-two");
  if (still_open->perhaps_two)
    add_label (self->box, text_of (self, "still_open", "perhaps_two"), "ws-open-two");
  add_next (self, still_open);
  if (still_open->n_open > 0)
    add_label (self->box, text_of (self, "still_open", "groups_title"), "ws-question");
  add_groups (self, still_open);
  add_label (self->box, text_of (self, "caution", "not_covered"), "ws-remark");
}

void
ws_open_leaf_set_item (WsOpenLeaf *self, WsFindItem *item)
{
  if (self->item == item)
    return;
  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_set_object (&self->item, item);
  g_hash_table_remove_all (self->unfolded);
  if (item != NULL)
    self->item_changed = g_signal_connect (item, "changed", G_CALLBACK (item_changed_cb), self);
  item_changed_cb (item, self);
}

static void
ws_open_leaf_dispose (GObject *object)
{
  WsOpenLeaf *self = WS_OPEN_LEAF (object);

  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_clear_object (&self->item);
  g_clear_pointer (&self->scroller, gtk_widget_unparent);
  g_clear_pointer (&self->unfolded, g_hash_table_unref);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (ws_open_leaf_parent_class)->dispose (object);
}

static void
ws_open_leaf_class_init (WsOpenLeafClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = ws_open_leaf_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
ws_open_leaf_init (WsOpenLeaf *self)
{
  self->unfolded = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->scroller = gtk_scrolled_window_new ();
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_add_css_class (self->box, "ws-form");
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), self->box);
  gtk_widget_set_parent (self->scroller, GTK_WIDGET (self));
}

GtkWidget *
ws_open_leaf_new (WsSession *session)
{
  WsOpenLeaf *self = g_object_new (WS_TYPE_OPEN_LEAF, NULL);

  self->session = g_object_ref (session);
  item_changed_cb (NULL, self);
  return GTK_WIDGET (self);
}
