/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-figure-view-private.h"

#include "ws-intl.h"

G_DEFINE_FINAL_TYPE (WsFigureView, ws_figure_view, GTK_TYPE_WIDGET)

enum { PART_ACTIVATED, VIEW_ACTIVATED, N_SIGNALS };

static guint signals[N_SIGNALS];

static void
part_clicked_cb (WsFigurePart *part, WsFigureView *self)
{
  g_signal_emit (self, signals[PART_ACTIVATED], 0, ws_figure_part_get_part (part));
}

static void
part_flags_cb (GtkWidget *part, GtkStateFlags before, WsFigureView *self)
{
  if ((gtk_widget_get_state_flags (part) ^ before) & (GTK_STATE_FLAG_PRELIGHT | GTK_STATE_FLAG_FOCUSED))
    gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
label_clicked_cb (WsFigureLabel *label, WsFigureView *self)
{
  g_signal_emit (self, signals[VIEW_ACTIVATED], 0, ws_figure_label_get_view (label));
}

/* --- Parts ------------------------------------------------------------------------- */

static void
drop_parts (WsFigureView *self)
{
  for (guint i = 0; i < self->parts->len; i++)
    gtk_widget_unparent (g_ptr_array_index (self->parts, i));
  g_ptr_array_set_size (self->parts, 0);
}

/* Later parts lie over earlier ones, and the last child is hit first; all before caption and labels. */
static void
make_parts (WsFigureView *self)
{
  const char *const *parts = ws_figure_get_parts (self->figure);

  for (guint i = 0; parts[i] != NULL; i++)
    {
      GtkWidget *part = ws_figure_part_new (self->figure, parts[i]);

      gtk_widget_insert_before (part, GTK_WIDGET (self), self->caption);
      g_signal_connect (part, "clicked", G_CALLBACK (part_clicked_cb), self);
      g_signal_connect (part, "state-flags-changed", G_CALLBACK (part_flags_cb), self);
      g_ptr_array_add (self->parts, part);
    }
}

static void
name_parts (WsFigureView *self)
{
  WsFigureEvidence source = { self->evidence, self->knowledge };
  WsFigureLook look = { 0 };

  if (self->evidence == NULL)
    return;
  ws_figure_evidence_look (&source, &look);
  for (guint i = 0; i < self->parts->len; i++)
    {
      WsFigurePart *part = g_ptr_array_index (self->parts, i);
      const char *id = ws_figure_part_get_part (part);
      const char *state = ws_evidence_state_id (look.state_of (id, look.data));
      g_autofree char *name = g_strdup_printf ("%s: %s", ws_knowledge_text (self->knowledge, self->language, "part", id),
                                               ws_knowledge_text (self->knowledge, self->language, "evidence_state", state));

      ws_figure_part_set_name (part, name);
    }
}

/* --- Labels ------------------------------------------------------------------------ */

static void
show_crops (WsFigureView *self, WsFigureLabel *label)
{
  const GPtrArray *crops = g_hash_table_lookup (self->crops, ws_figure_label_get_view (label));

  ws_figure_label_set_crops (label, crops != NULL ? (GdkPaintable **) crops->pdata : NULL, crops != NULL ? crops->len : 0);
}

/* Takes the label of a view out of @old, or makes one. */
static WsFigureLabel *
take_label (WsFigureView *self, GArray *old, const char *view)
{
  WsFigureLabel *label;

  for (guint i = 0; i < old->len; i++)
    {
      label = g_array_index (old, FigureLine, i).label;
      if (g_str_equal (ws_figure_label_get_view (label), view))
        {
          g_array_remove_index (old, i);
          return label;
        }
    }
  label = WS_FIGURE_LABEL (ws_figure_label_new (view));
  gtk_widget_set_parent (GTK_WIDGET (label), GTK_WIDGET (self));
  g_signal_connect (label, "clicked", G_CALLBACK (label_clicked_cb), self);
  return label;
}

static void
drop_lines (GArray *lines)
{
  for (guint i = 0; i < lines->len; i++)
    gtk_widget_unparent (GTK_WIDGET (g_array_index (lines, FigureLine, i).label));
  g_array_set_size (lines, 0);
}

static void
make_lines (WsFigureView *self)
{
  g_autoptr (GArray) old = g_steal_pointer (&self->lines);

  self->lines = g_array_new (FALSE, TRUE, sizeof (FigureLine));
  for (guint i = 0; self->evidence != NULL && i < self->evidence->lines->len; i++)
    {
      FigureLine line = { .line = g_ptr_array_index (self->evidence->lines, i) };

      line.label = take_label (self, old, line.line->view->id);
      line.part = self->figure == NULL ? NULL
                  : ws_figure_evidence_get_part (self->figure, self->knowledge, line.line->view->id,
                                                 self->evidence->growth_form);
      ws_figure_label_set_line (line.label, line.line, self->knowledge, self->language, self->technical);
      ws_figure_label_set_armed (line.label, g_strcmp0 (self->armed, line.line->view->id) == 0);
      show_crops (self, line.label);
      g_array_append_val (self->lines, line);
    }
  drop_lines (old);
}

/* The part of the armed view, as the labels have it. */
static void
tell_armed_part (WsFigureView *self)
{
  const char *armed = NULL;

  for (guint i = 0; i < self->lines->len && armed == NULL; i++)
    if (g_strcmp0 (self->armed, ws_figure_view_line (self, i)->line->view->id) == 0)
      armed = ws_figure_view_line (self, i)->part;
  for (guint i = 0; i < self->parts->len; i++)
    {
      WsFigurePart *part = g_ptr_array_index (self->parts, i);

      ws_figure_part_set_armed (part, g_strcmp0 (ws_figure_part_get_part (part), armed) == 0);
    }
}

static void
renew (WsFigureView *self)
{
  make_lines (self);
  name_parts (self);
  tell_armed_part (self);
  self->layout = (FigureLayout) { 0 };
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

static void
show_caption (WsFigureView *self)
{
  gtk_label_set_label (GTK_LABEL (self->caption),
                       self->knowledge != NULL ? ws_knowledge_text (self->knowledge, self->language, "caution", "figure_ink")
                                               : _("Ink shows what was photographed, not what it is."));
}

/* --- What a page calls --------------------------------------------------------------- */

void
ws_figure_view_set_figure (WsFigureView *self, WsFigure *figure)
{
  g_return_if_fail (WS_IS_FIGURE_VIEW (self));
  if (self->figure == figure)
    return;
  drop_parts (self);
  g_clear_pointer (&self->figure, ws_figure_unref);
  if (figure != NULL)
    {
      self->figure = ws_figure_ref (figure);
      make_parts (self);
    }
  renew (self);
}

void
ws_figure_view_set_evidence (WsFigureView *self, const WsEvidence *evidence, const WsKnowledge *knowledge,
                             const char *language)
{
  WsEvidence *mine = evidence != NULL ? ws_evidence_judge (evidence->find, knowledge, language) : NULL;
  g_autoptr (WsEvidence) before = NULL;
  WsKnowledge *old_knowledge = self->knowledge;

  g_return_if_fail (WS_IS_FIGURE_VIEW (self));
  before = g_steal_pointer (&self->evidence);
  self->evidence = mine;
  if (before == NULL || mine == NULL || !g_str_equal (before->find->id, mine->find->id))
    g_hash_table_remove_all (self->crops);
  self->knowledge = mine != NULL ? ws_knowledge_ref ((WsKnowledge *) knowledge) : NULL;
  g_free (self->language);
  self->language = g_strdup (language != NULL ? language : "en");
  show_caption (self);
  renew (self);   /* before the lines that the old ones borrow from go */
  if (old_knowledge != NULL)
    ws_knowledge_unref (old_knowledge);
}

void
ws_figure_view_set_technical (WsFigureView *self, gboolean technical)
{
  g_return_if_fail (WS_IS_FIGURE_VIEW (self));
  if (self->technical == technical)
    return;
  self->technical = technical;
  renew (self);
}

void
ws_figure_view_set_armed (WsFigureView *self, const char *view)
{
  g_return_if_fail (WS_IS_FIGURE_VIEW (self));
  if (g_strcmp0 (self->armed, view) == 0)
    return;
  g_free (self->armed);
  self->armed = g_strdup (view);
  for (guint i = 0; i < self->lines->len; i++)
    ws_figure_label_set_armed (ws_figure_view_line (self, i)->label,
                               g_strcmp0 (view, ws_figure_view_line (self, i)->line->view->id) == 0);
  tell_armed_part (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
ws_figure_view_set_crops (WsFigureView *self, const char *view, GdkPaintable *const *crops, guint n_crops)
{
  GPtrArray *kept = g_ptr_array_new_with_free_func (g_object_unref);

  g_return_if_fail (WS_IS_FIGURE_VIEW (self));
  for (guint i = 0; i < n_crops; i++)
    g_ptr_array_add (kept, g_object_ref (crops[i]));
  g_hash_table_insert (self->crops, g_strdup (view), kept);
  for (guint i = 0; i < self->lines->len; i++)
    if (g_str_equal (ws_figure_view_line (self, i)->line->view->id, view))
      show_crops (self, ws_figure_view_line (self, i)->label);
}

/* --- The object ------------------------------------------------------------------------ */

static GtkSizeRequestMode
get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
ws_figure_view_dispose (GObject *object)
{
  WsFigureView *self = WS_FIGURE_VIEW (object);

  drop_parts (self);
  drop_lines (self->lines);
  g_clear_pointer (&self->caption, gtk_widget_unparent);
  g_clear_pointer (&self->figure, ws_figure_unref);
  g_clear_pointer (&self->evidence, ws_evidence_free);
  g_clear_pointer (&self->knowledge, ws_knowledge_unref);
  G_OBJECT_CLASS (ws_figure_view_parent_class)->dispose (object);
}

static void
ws_figure_view_finalize (GObject *object)
{
  WsFigureView *self = WS_FIGURE_VIEW (object);

  g_ptr_array_unref (self->parts);
  g_array_unref (self->lines);
  g_hash_table_unref (self->crops);
  g_free (self->language);
  g_free (self->armed);
  G_OBJECT_CLASS (ws_figure_view_parent_class)->finalize (object);
}

static void
ws_figure_view_class_init (WsFigureViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_figure_view_dispose;
  G_OBJECT_CLASS (class)->finalize = ws_figure_view_finalize;
  widget_class->get_request_mode = get_request_mode;
  widget_class->measure = ws_figure_view_measure;
  widget_class->size_allocate = ws_figure_view_allocate;
  widget_class->snapshot = ws_figure_view_snapshot;
  widget_class->focus = ws_figure_view_focus;
  gtk_widget_class_set_css_name (widget_class, "figure-view");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  signals[PART_ACTIVATED] = g_signal_new ("part-activated", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                          NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[VIEW_ACTIVATED] = g_signal_new ("view-activated", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                          NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
ws_figure_view_init (WsFigureView *self)
{
  self->parts = g_ptr_array_new ();
  self->lines = g_array_new (FALSE, TRUE, sizeof (FigureLine));
  self->crops = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_ptr_array_unref);
  self->language = g_strdup ("en");
  self->caption = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (self->caption), TRUE);
  gtk_label_set_justify (GTK_LABEL (self->caption), GTK_JUSTIFY_CENTER);
  gtk_widget_add_css_class (self->caption, "caption");
  gtk_widget_set_parent (self->caption, GTK_WIDGET (self));
  show_caption (self);
  gtk_widget_add_css_class (GTK_WIDGET (self), "ws-figure");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Specimen figure"), -1);
}

GtkWidget *
ws_figure_view_new (void)
{
  return g_object_new (WS_TYPE_FIGURE_VIEW, NULL);
}
