/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The marks of the shown photo, and the bar of the selected one. */
#include "ws-photo-leaf-private.h"

#include "ws-clarity.h"
#include "ws-edits.h"
#include "ws-intl.h"

/* Specimens that the bar offers; more letters can be given on the command line. */
static const char *const specimens[] = { "", "a", "b", "c", "d", "e", "f", NULL };

static gboolean
is_base (WsPhotoLeaf *self, const WsMark *mark)
{
  const WsKnowledge *knowledge = ws_session_get_knowledge (self->session);

  for (guint i = 0; !mark->whole_photo && mark->views[i] != NULL; i++)
    {
      const WsView *view = ws_knowledge_find_view (knowledge, mark->views[i]);

      if (view != NULL && view->is_base)
        return TRUE;
    }
  return FALSE;
}

/* "Stem base, dug out whole and cleaned; blurred: about 5 px" */
static char *
caption_of (WsPhotoLeaf *self, const WsMark *mark)
{
  g_autofree char *reason = NULL;
  GString *text = g_string_new (ws_session_text (self->session, "part", mark->part));

  if (mark->specimen[0] != '\0')
    g_string_append_printf (text, " (%s)", mark->specimen);
  if (mark->base_kind[0] != '\0')
    g_string_append_printf (text, ", %s", ws_session_text (self->session, "base_kind", mark->base_kind));
  ws_clarity_judge (mark, ws_session_get_knowledge (self->session), ws_session_get_desk (self->session)->language, &reason);
  if (reason != NULL)
    g_string_append_printf (text, "; %s", reason);
  return g_string_free (text, FALSE);
}

static WsPhotoViewMark *
view_mark (WsPhotoLeaf *self, const WsFind *find, const WsMark *mark)
{
  g_autofree char *letter = ws_find_dup_mark_letter (find, mark);
  g_autofree char *caption = caption_of (self, mark);
  WsClarity clarity = ws_clarity_judge (mark, ws_session_get_knowledge (self->session), "en", NULL);
  const WsBaseKind *kind = ws_knowledge_find_base_kind (ws_session_get_knowledge (self->session), mark->base_kind);
  gboolean weak = clarity != WS_CLARITY_ENOUGH || (is_base (self, mark) && (kind == NULL || kind->shows != WS_SHOWS_FULLY));

  return ws_photo_view_mark_new (mark->id, mark->shape, letter, caption,
                                 weak ? WS_PHOTO_VIEW_MARK_WEAK : WS_PHOTO_VIEW_MARK_INK,
                                 self->armed != NULL && ws_mark_serves (mark, self->armed));
}

static GPtrArray *
marks_of_photo (WsPhotoLeaf *self, const WsFind *find, const char *photo_id)
{
  GPtrArray *marks = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_photo_view_mark_free);

  for (guint i = 0; i < find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (find->marks, i);

      if (!mark->whole_photo && g_strcmp0 (mark->photo_id, photo_id) == 0)
        g_ptr_array_add (marks, view_mark (self, find, mark));
    }
  for (guint i = 0; i < find->covers->len; i++)
    {
      const WsCover *cover = g_ptr_array_index (find->covers, i);

      if (g_strcmp0 (cover->photo_id, photo_id) == 0)
        g_ptr_array_add (marks, ws_photo_view_mark_new (cover->id, cover->shape, "", _("Covered in every copy"),
                                                        WS_PHOTO_VIEW_MARK_COVER, FALSE));
    }
  return marks;
}

void
ws_photo_leaf_fill_marks (WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);

  for (guint i = 0; i < WS_SPREAD_MOST; i++)
    {
      const WsPrint *print = &self->prints[i];
      g_autoptr (GPtrArray) marks = find != NULL && print->photo_id != NULL ? marks_of_photo (self, find, print->photo_id)
                                                                            : NULL;

      if (print->frame != NULL)
        ws_photo_view_set_marks (WS_PHOTO_VIEW (print->view), marks);
    }
}

static guint
index_of_part (WsPhotoLeaf *self, const char *part)
{
  GPtrArray *parts = ws_knowledge_get_parts (ws_session_get_knowledge (self->session));

  for (guint i = 0; i < parts->len; i++)
    if (g_str_equal (((const WsPart *) g_ptr_array_index (parts, i))->id, part))
      return i;
  return GTK_INVALID_LIST_POSITION;
}

void
ws_photo_leaf_fill_mark_bar (WsPhotoLeaf *self)
{
  const WsMark *mark = ws_photo_leaf_get_selected (self);
  g_autofree char *letter = NULL, *caption = NULL, *name = NULL;

  gtk_revealer_set_reveal_child (self->mark_revealer, mark != NULL);
  /* While the base is asked about, its photo needs the room. */
  gtk_widget_set_visible (GTK_WIDGET (self->roll_scroller),
                          ws_photo_leaf_get_find (self) != NULL && ws_photo_leaf_get_find (self)->photos->len > 1 &&
                          (mark == NULL || !is_base (self, mark) || mark->base_kind[0] != '\0'));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "mark.remove", mark != NULL);
  ws_photo_leaf_fill_remark (self, mark);
  if (mark == NULL)
    return;
  letter = ws_find_dup_mark_letter (ws_photo_leaf_get_find (self), mark);
  caption = caption_of (self, mark);
  name = g_strdup_printf ("%s  %s", letter, caption);
  self->filling = TRUE;
  gtk_label_set_label (self->mark_name, name);
  gtk_drop_down_set_selected (self->part_drop, index_of_part (self, mark->part));
  for (guint i = 0; specimens[i] != NULL; i++)
    if (g_str_equal (specimens[i], mark->specimen))
      gtk_drop_down_set_selected (self->specimen_drop, i);
  gtk_widget_set_visible (self->base_place, is_base (self, mark));
  ws_base_question_set_answer (WS_BASE_QUESTION (self->question), mark->base_kind);
  self->filling = FALSE;
}

static void
change (WsPhotoLeaf *self, WsMark *mark)
{
  ws_edit_change_mark (self->session, ws_photo_leaf_get_find (self)->id, mark);
  ws_mark_unref (mark);
}

static void
change_cover (WsPhotoLeaf *self, const WsFind *find, const char *id, const WsShape *shape)
{
  for (guint i = 0; find != NULL && i < find->covers->len; i++)
    {
      const WsCover *cover = g_ptr_array_index (find->covers, i);
      g_autoptr (WsCover) changed = NULL;

      if (!g_str_equal (cover->id, id))
        continue;
      changed = ws_cover_copy (cover);
      ws_shape_free (changed->shape);
      changed->shape = ws_shape_copy (shape);
      ws_edit_change_cover (self->session, find->id, changed);
      return;
    }
}

static void
mark_changed_cb (WsPhotoView *view, const char *id, const WsShape *shape, WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  const WsMark *mark = find != NULL ? ws_find_get_mark (find, id) : NULL;
  WsMark *changed;

  ws_photo_leaf_take_in_hand (self, view);
  if (mark == NULL)
    {
      change_cover (self, find, id, shape);
      return;
    }
  changed = ws_mark_copy (mark);
  ws_shape_free (changed->shape);
  changed->shape = ws_shape_copy (shape);
  change (self, changed);
}

static void
mark_delete_cb (WsPhotoView *view, const char *id, WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);

  if (find == NULL)
    return;
  if (ws_find_get_mark (find, id) != NULL)
    ws_edit_remove_mark (self->session, find->id, id);
  else
    ws_edit_uncover (self->session, find->id, id);
}

static void
mark_selected_cb (WsPhotoView *view, const char *id, WsPhotoLeaf *self)
{
  ws_photo_leaf_take_in_hand (self, view);
  ws_photo_leaf_fill_mark_bar (self);
}

static void
answered_cb (WsBaseQuestion *question, const char *base_kind, WsPhotoLeaf *self)
{
  const WsMark *mark = ws_photo_leaf_get_selected (self);
  WsMark *changed;

  if (mark == NULL || g_str_equal (mark->base_kind, base_kind))
    return;
  changed = ws_mark_copy (mark);
  ws_set_string (&changed->base_kind, base_kind);
  change (self, changed);
}

static void
part_chosen_cb (GtkDropDown *drop, GParamSpec *pspec, WsPhotoLeaf *self)
{
  const WsMark *mark = ws_photo_leaf_get_selected (self);
  GPtrArray *parts = ws_knowledge_get_parts (ws_session_get_knowledge (self->session));
  guint i = gtk_drop_down_get_selected (drop);
  const WsPart *part;
  WsMark *changed;

  if (self->filling || mark == NULL || i >= parts->len)
    return;
  part = g_ptr_array_index (parts, i);
  if (g_str_equal (part->id, mark->part))
    return;
  changed = ws_mark_copy (mark);
  ws_set_string (&changed->part, part->id);
  g_strfreev (changed->views);
  changed->views = g_strdupv ((char **) part->views);
  /* What was said of a base is not said of another part. */
  ws_set_string (&changed->base_kind, "");
  change (self, changed);
}

static void
specimen_chosen_cb (GtkDropDown *drop, GParamSpec *pspec, WsPhotoLeaf *self)
{
  const WsMark *mark = ws_photo_leaf_get_selected (self);
  guint i = gtk_drop_down_get_selected (drop);
  WsMark *changed;

  if (self->filling || mark == NULL || i >= G_N_ELEMENTS (specimens) - 1 || g_str_equal (specimens[i], mark->specimen))
    return;
  changed = ws_mark_copy (mark);
  ws_set_string (&changed->specimen, specimens[i]);
  change (self, changed);
}

void
ws_photo_leaf_init_marks (WsPhotoLeaf *self)
{
  GPtrArray *parts = ws_knowledge_get_parts (ws_session_get_knowledge (self->session));
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  g_autoptr (GtkStringList) letters = gtk_string_list_new (NULL);

  for (guint i = 0; i < parts->len; i++)
    gtk_string_list_append (names, ws_session_text (self->session, "part",
                                                    ((const WsPart *) g_ptr_array_index (parts, i))->id));
  gtk_string_list_append (letters, _("specimen not said"));
  for (guint i = 1; specimens[i] != NULL; i++)
    {
      g_autofree char *text = g_strdup_printf (_("specimen %s"), specimens[i]);

      gtk_string_list_append (letters, text);
    }
  self->filling = TRUE;
  gtk_drop_down_set_model (self->part_drop, G_LIST_MODEL (names));
  gtk_drop_down_set_model (self->specimen_drop, G_LIST_MODEL (letters));
  self->filling = FALSE;
  g_signal_connect_object (self->part_drop, "notify::selected", G_CALLBACK (part_chosen_cb), self, 0);
  g_signal_connect_object (self->specimen_drop, "notify::selected", G_CALLBACK (specimen_chosen_cb), self, 0);
  g_signal_connect_object (self->question, "answered", G_CALLBACK (answered_cb), self, 0);
}

void
ws_photo_leaf_connect_marks (WsPhotoLeaf *self, GtkWidget *view)
{
  g_signal_connect_object (view, "mark-changed", G_CALLBACK (mark_changed_cb), self, 0);
  g_signal_connect_object (view, "mark-delete", G_CALLBACK (mark_delete_cb), self, 0);
  g_signal_connect_object (view, "mark-selected", G_CALLBACK (mark_selected_cb), self, 0);
  ws_photo_leaf_connect_tools (self, view);
}
