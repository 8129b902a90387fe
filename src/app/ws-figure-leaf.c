/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-figure-leaf.h"

#include "ws-edits.h"
#include "ws-figure-crops.h"
#include "ws-figure-view.h"
#include "ws-form-picker.h"
#include "ws-intl.h"

struct _WsFigureLeaf
{
  GtkWidget parent_instance;

  /* template */
  GtkWidget *box;
  GtkBox *picker_place, *figure_place;
  GtkRevealer *line_revealer;
  GtkLabel *line_name, *line_why, *line_how;
  GtkEntry *excuse_entry;

  GtkWidget *picker, *figure;

  WsSession *session;
  WsFindItem *item;
  gulong item_changed;
  char *chosen;             /* view whose line is open; NULL: none */
  WsFigureCrops *crops;
  gboolean filling;
};

enum { VIEW_CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsFigureLeaf, ws_figure_leaf, GTK_TYPE_WIDGET)

static const WsFind *
get_find (WsFigureLeaf *self)
{
  return self->item != NULL ? ws_find_item_get_find (self->item) : NULL;
}

static gboolean
form_is_sure (const WsFind *find)
{
  for (guint i = find->notes->len; i > 0; i--)
    {
      const WsNote *note = g_ptr_array_index (find->notes, i - 1);

      if (g_str_equal (note->character, "growth_form"))
        return note->sure;
    }
  return FALSE;
}

/* --- The line of the chosen view --------------------------------------------------------------- */

static void
fill_line (WsFigureLeaf *self)
{
  const WsFind *find = get_find (self);
  g_autofree char *warned = NULL;
  const char *excuse, *how;

  gtk_revealer_set_reveal_child (self->line_revealer, find != NULL && self->chosen != NULL);
  if (find == NULL || self->chosen == NULL)
    return;
  excuse = ws_find_get_excuse (find, self->chosen);
  gtk_label_set_label (self->line_name, ws_session_text (self->session, "view", self->chosen));
  gtk_label_set_label (self->line_why, ws_session_text (self->session, "why", self->chosen));
  how = ws_session_text (self->session, "how", self->chosen);
  /* Do not touch, before any advice to dig, turn over or cut. */
  if (ws_evidence_may_be_finger_like (ws_find_item_get_evidence (self->item), ws_session_get_knowledge (self->session)))
    warned = g_strconcat (ws_session_text (self->session, "caution", "touch"), " ", how, NULL);
  gtk_label_set_label (self->line_how, warned != NULL ? warned : how);
  self->filling = TRUE;
  if (!gtk_widget_has_focus (GTK_WIDGET (self->excuse_entry)))
    gtk_editable_set_text (GTK_EDITABLE (self->excuse_entry), excuse != NULL ? excuse : "");
  self->filling = FALSE;
}

static void
store_excuse (WsFigureLeaf *self)
{
  const WsFind *find = get_find (self);
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->excuse_entry));
  const char *before = find != NULL && self->chosen != NULL ? ws_find_get_excuse (find, self->chosen) : NULL;

  if (find != NULL && self->chosen != NULL && !self->filling && g_strcmp0 (text, before != NULL ? before : "") != 0)
    ws_edit_excuse (self->session, find->id, self->chosen, text);
}

static void
excuse_activate_cb (GtkEntry *entry, WsFigureLeaf *self)
{
  store_excuse (self);
}

static void
excuse_leave_cb (GtkEventControllerFocus *controller, WsFigureLeaf *self)
{
  store_excuse (self);
}

static void
choose (WsFigureLeaf *self, const char *view)
{
  if (g_strcmp0 (self->chosen, view) != 0)
    {
      store_excuse (self);
      g_free (self->chosen);
      self->chosen = g_strdup (view);
    }
  fill_line (self);
}

/* --- The figure ----------------------------------------------------------------------------------- */

static void
view_activated_cb (WsFigureView *figure, const char *view, WsFigureLeaf *self)
{
  choose (self, view);
  g_signal_emit (self, signals[VIEW_CHOSEN], 0, view);
}

/* A part stands for the first of its views that this find is asked for. */
static void
part_activated_cb (WsFigureView *figure, const char *part_id, WsFigureLeaf *self)
{
  const WsPart *part = ws_knowledge_find_part (ws_session_get_knowledge (self->session), part_id);
  const WsEvidence *evidence = self->item != NULL ? ws_find_item_get_evidence (self->item) : NULL;

  for (guint i = 0; part != NULL && evidence != NULL && part->views[i] != NULL; i++)
    if (ws_evidence_get_line (evidence, part->views[i]) != NULL)
      {
        view_activated_cb (figure, part->views[i], self);
        return;
      }
}

static void
form_chosen_cb (WsFormPicker *picker, const char *form, WsFigureLeaf *self)
{
  const WsFind *find = get_find (self);

  /* Choosing a drawing is a guess, so it is recorded as unsure. */
  if (find != NULL)
    ws_edit_note (self->session, find->id, "growth_form", form, FALSE);
}

static void
crops_changed_cb (WsFigureCrops *crops, const char *view, GPtrArray *paintables, WsFigureLeaf *self)
{
  ws_figure_view_set_crops (WS_FIGURE_VIEW (self->figure), view, (GdkPaintable **) paintables->pdata, paintables->len);
}

static void
item_changed_cb (WsFindItem *item, WsFigureLeaf *self)
{
  const WsFind *find = get_find (self);

  gtk_widget_set_sensitive (GTK_WIDGET (self), find != NULL);
  if (find == NULL)
    return;
  ws_form_picker_set_form (WS_FORM_PICKER (self->picker), ws_find_get_growth_form (find), form_is_sure (find));
  ws_figure_view_set_figure (WS_FIGURE_VIEW (self->figure),
                             ws_session_get_figure (self->session, ws_find_get_growth_form (find)));
  ws_figure_view_set_evidence (WS_FIGURE_VIEW (self->figure), ws_find_item_get_evidence (self->item),
                               ws_session_get_knowledge (self->session), ws_session_get_desk (self->session)->language);
  ws_figure_crops_set_item (self->crops, self->item);
  fill_line (self);
}

static void
session_changed_cb (WsFigureLeaf *self)
{
  ws_figure_view_set_technical (WS_FIGURE_VIEW (self->figure),
                                g_str_equal (ws_session_get_setting (self->session, WS_SETTING_TECHNICAL), "yes"));
}

void
ws_figure_leaf_set_item (WsFigureLeaf *self, WsFindItem *item)
{
  if (self->item == item)
    return;
  store_excuse (self);
  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_set_object (&self->item, item);
  g_clear_pointer (&self->chosen, g_free);
  if (item != NULL)
    self->item_changed = g_signal_connect (item, "changed", G_CALLBACK (item_changed_cb), self);
  item_changed_cb (item, self);
}

void
ws_figure_leaf_set_armed (WsFigureLeaf *self, const char *view)
{
  ws_figure_view_set_armed (WS_FIGURE_VIEW (self->figure), view);
  if (view != NULL)
    choose (self, view);
}

/* --- The object ------------------------------------------------------------------------------------ */

static void
ws_figure_leaf_dispose (GObject *object)
{
  WsFigureLeaf *self = WS_FIGURE_LEAF (object);

  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_clear_object (&self->item);
  g_clear_object (&self->crops);
  gtk_widget_dispose_template (GTK_WIDGET (self), WS_TYPE_FIGURE_LEAF);
  g_clear_object (&self->session);
  g_clear_pointer (&self->chosen, g_free);
  G_OBJECT_CLASS (ws_figure_leaf_parent_class)->dispose (object);
}

static void
ws_figure_leaf_class_init (WsFigureLeafClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = ws_figure_leaf_dispose;
  signals[VIEW_CHOSEN] = g_signal_new ("view-chosen", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                       G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-figure-leaf.ui");
  gtk_widget_class_bind_template_child (widget_class, WsFigureLeaf, box);
  gtk_widget_class_bind_template_child (widget_class, WsFigureLeaf, picker_place);
  gtk_widget_class_bind_template_child (widget_class, WsFigureLeaf, figure_place);
  gtk_widget_class_bind_template_child (widget_class, WsFigureLeaf, line_revealer);
  gtk_widget_class_bind_template_child (widget_class, WsFigureLeaf, line_name);
  gtk_widget_class_bind_template_child (widget_class, WsFigureLeaf, line_why);
  gtk_widget_class_bind_template_child (widget_class, WsFigureLeaf, line_how);
  gtk_widget_class_bind_template_child (widget_class, WsFigureLeaf, excuse_entry);
  gtk_widget_class_bind_template_callback (widget_class, excuse_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, excuse_leave_cb);
}

static void
ws_figure_leaf_init (WsFigureLeaf *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
ws_figure_leaf_new (WsSession *session)
{
  WsFigureLeaf *self = g_object_new (WS_TYPE_FIGURE_LEAF, NULL);

  self->session = g_object_ref (session);
  self->picker = ws_form_picker_new (session);
  gtk_box_append (self->picker_place, self->picker);
  self->figure = ws_figure_view_new ();
  gtk_widget_set_vexpand (self->figure, TRUE);
  gtk_box_append (self->figure_place, self->figure);
  self->crops = ws_figure_crops_new (session);
  g_signal_connect_object (self->crops, "changed", G_CALLBACK (crops_changed_cb), self, 0);
  g_signal_connect_object (self->picker, "chosen", G_CALLBACK (form_chosen_cb), self, 0);
  g_signal_connect_object (self->figure, "view-activated", G_CALLBACK (view_activated_cb), self, 0);
  g_signal_connect_object (self->figure, "part-activated", G_CALLBACK (part_activated_cb), self, 0);
  g_signal_connect_object (session, "changed", G_CALLBACK (session_changed_cb), self, G_CONNECT_SWAPPED);
  session_changed_cb (self);
  item_changed_cb (NULL, self);
  return GTK_WIDGET (self);
}
