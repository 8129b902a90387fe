/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-photo-leaf-private.h"

#include "ws-edits.h"
#include "ws-intl.h"
#include "ws-wrap-box.h"

G_DEFINE_FINAL_TYPE (WsPhotoLeaf, ws_photo_leaf, GTK_TYPE_WIDGET)

enum { DISARM_REQUESTED, BASE_MARKED, N_SIGNALS };
static guint signals[N_SIGNALS];

const WsFind *
ws_photo_leaf_get_find (WsPhotoLeaf *self)
{
  return self->item != NULL ? ws_find_item_get_find (self->item) : NULL;
}

const WsPhoto *
ws_photo_leaf_get_photo (WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);

  return find != NULL && self->photo_id != NULL ? ws_find_get_photo (find, self->photo_id) : NULL;
}

const WsMark *
ws_photo_leaf_get_selected (WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  const char *id = ws_photo_view_get_selected (WS_PHOTO_VIEW (self->view));

  return find != NULL && id != NULL ? ws_find_get_mark (find, id) : NULL;
}

int
ws_photo_leaf_place_of (const WsFind *find, const char *photo_id)
{
  for (guint i = 0; i < find->photos->len; i++)
    if (g_strcmp0 (((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo->id, photo_id) == 0)
      return (int) i;
  return -1;
}

const WsPhoto *
ws_photo_leaf_photo_at (const WsFind *find, int place)
{
  if (place < 0 || place >= (int) find->photos->len)
    return NULL;
  return ((const WsFindPhoto *) g_ptr_array_index (find->photos, place))->photo;
}

static void
fill_caption (WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  const WsPhoto *photo = ws_photo_leaf_get_photo (self);
  g_autofree char *name = NULL, *clock = NULL, *text = NULL;

  if (photo == NULL)
    {
      gtk_label_set_label (self->caption, _("No photo yet"));
      return;
    }
  name = g_path_get_basename (photo->path);
  clock = ws_moment_clock (&photo->taken);
  text = g_strdup_printf (_("%s · %s · %d of %u"), name, clock != NULL ? clock : _("no time"),
                          ws_photo_leaf_place_of (find, photo->id) + 1, find->photos->len);
  gtk_label_set_label (self->caption, text);
  /* What its metadata do not say plainly. */
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->caption), photo->warnings[0] != '\0' ? photo->warnings : NULL);
}

void
ws_photo_leaf_fill (WsPhotoLeaf *self)
{
  fill_caption (self);
  ws_photo_leaf_fill_marks (self);
  ws_photo_leaf_fill_labels (self);
  ws_photo_leaf_fill_mark_bar (self);
  ws_photo_leaf_fill_tools (self);
}

void
ws_photo_leaf_go_to (WsPhotoLeaf *self, const char *photo_id)
{
  if (g_strcmp0 (photo_id, self->photo_id) == 0)
    return;
  ws_photo_leaf_put_in_hand (self, photo_id);
}

/* Photos may have come or gone; those shown stay if they can. */
static void
item_changed_cb (WsFindItem *item, WsPhotoLeaf *self)
{
  ws_photo_leaf_arrange (self);
  ws_photo_leaf_fill_roll (self);
  ws_photo_leaf_fill (self);
}

void
ws_photo_leaf_set_item (WsPhotoLeaf *self, WsFindItem *item)
{
  if (self->item == item)
    return;
  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  ws_photo_leaf_take_all_away (self);
  g_set_object (&self->item, item);
  if (item != NULL)
    self->item_changed = g_signal_connect (item, "changed", G_CALLBACK (item_changed_cb), self);
  item_changed_cb (item, self);
}

void
ws_photo_leaf_set_armed (WsPhotoLeaf *self, const char *view)
{
  if (g_strcmp0 (view, self->armed) == 0)
    return;
  g_free (self->armed);
  self->armed = g_strdup (view);
  if (view != NULL)
    gtk_toggle_button_set_active (self->cover_button, FALSE);
  ws_photo_view_set_armed (WS_PHOTO_VIEW (self->view),
                           view != NULL ? ws_session_text (self->session, "view", view) : NULL);
  ws_photo_leaf_fill_marks (self);
}

void
ws_photo_leaf_show_mark (WsPhotoLeaf *self, const char *mark_id)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  const WsMark *mark = find != NULL ? ws_find_get_mark (find, mark_id) : NULL;

  if (mark == NULL)
    return;
  ws_photo_leaf_go_to (self, mark->photo_id);
  if (mark->whole_photo)
    ws_photo_view_fit (WS_PHOTO_VIEW (self->view));
  else
    {
      ws_photo_view_select (WS_PHOTO_VIEW (self->view), mark_id);
      ws_photo_view_show_region (WS_PHOTO_VIEW (self->view), &mark->shape->bounds);
    }
  ws_photo_leaf_fill_mark_bar (self);
}

gboolean
ws_photo_leaf_step (WsPhotoLeaf *self, int by)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  const WsPhoto *photo = find != NULL ? ws_photo_leaf_photo_at (find, ws_photo_leaf_place_of (find, self->photo_id) + by) : NULL;

  if (photo == NULL)
    return FALSE;
  ws_photo_leaf_go_to (self, photo->id);
  return TRUE;
}

void
ws_photo_leaf_label (WsPhotoLeaf *self, const char *view)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  gboolean had;

  if (ws_photo_leaf_get_photo (self) == NULL)
    return;
  had = ws_photo_leaf_is_labelled (find, self->photo_id, view);
  ws_edit_label_photo (self->session, find->id, self->photo_id, view);
  if (!had)
    ws_photo_leaf_step (self, 1);
}

gboolean
ws_photo_leaf_take_key (WsPhotoLeaf *self, guint keyval)
{
  return gtk_widget_get_visible (self->base_place) && gtk_revealer_get_reveal_child (self->mark_revealer) &&
         ws_base_question_take_key (WS_BASE_QUESTION (self->question), keyval);
}

void
ws_photo_leaf_remove_selected (WsPhotoLeaf *self)
{
  const WsMark *mark = ws_photo_leaf_get_selected (self);

  if (mark != NULL)
    ws_edit_remove_mark (self->session, ws_photo_leaf_get_find (self)->id, mark->id);
}

void
ws_photo_leaf_focus_photo (WsPhotoLeaf *self)
{
  gtk_widget_grab_focus (self->view);
}

/* --- What the photo view says ------------------------------------------------------------------ */

static void
marked_cb (gpointer owner, gpointer result, GError *error, gpointer data)
{
  WsPhotoLeaf *self = owner;
  const WsFind *find = ws_photo_leaf_get_find (self);
  const WsMark *mark = result != NULL && find != NULL ? ws_find_get_mark (find, result) : NULL;

  if (mark == NULL || g_strcmp0 (mark->photo_id, self->photo_id) != 0)
    return;
  ws_photo_view_select (WS_PHOTO_VIEW (self->view), mark->id);
  ws_photo_leaf_fill_mark_bar (self);
  if (gtk_widget_get_visible (self->base_place))
    g_signal_emit (self, signals[BASE_MARKED], 0);
}

static void
mark_drawn_cb (WsPhotoView *view, const WsShape *shape, WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  g_autofree char *armed = g_strdup (self->armed);

  ws_photo_leaf_take_in_hand (self, view);
  if (find == NULL || self->photo_id == NULL || armed == NULL)
    return;
  ws_edit_mark (self->session, find->id, self->photo_id, armed, shape, self, marked_cb);
  g_signal_emit (self, signals[DISARM_REQUESTED], 0);
}

static void
cover_drawn_cb (WsPhotoView *view, const WsShape *shape, WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);

  ws_photo_leaf_take_in_hand (self, view);
  if (find != NULL && self->photo_id != NULL)
    ws_edit_cover (self->session, find->id, self->photo_id, shape);
}

static void
disarm_requested_cb (WsPhotoView *view, WsPhotoLeaf *self)
{
  gtk_toggle_button_set_active (self->cover_button, FALSE);
  g_signal_emit (self, signals[DISARM_REQUESTED], 0);
}

static void
cover_toggled_cb (GtkToggleButton *button, WsPhotoLeaf *self)
{
  if (gtk_toggle_button_get_active (button))
    g_signal_emit (self, signals[DISARM_REQUESTED], 0);
  ws_photo_view_set_cover (WS_PHOTO_VIEW (self->view), gtk_toggle_button_get_active (button));
  if (gtk_toggle_button_get_active (button))
    ws_photo_leaf_focus_photo (self);
}

void
ws_photo_leaf_connect_view (WsPhotoLeaf *self, GtkWidget *view)
{
  g_signal_connect_object (view, "mark-drawn", G_CALLBACK (mark_drawn_cb), self, 0);
  g_signal_connect_object (view, "cover-drawn", G_CALLBACK (cover_drawn_cb), self, 0);
  g_signal_connect_object (view, "disarm-requested", G_CALLBACK (disarm_requested_cb), self, 0);
  ws_photo_leaf_connect_marks (self, view);
}

/* --- The object --------------------------------------------------------------------------------- */

static void
ws_photo_leaf_dispose (GObject *object)
{
  WsPhotoLeaf *self = WS_PHOTO_LEAF (object);

  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  ws_photo_leaf_clear_tools (self);
  g_clear_object (&self->item);
  g_clear_object (&self->session);
  gtk_widget_dispose_template (GTK_WIDGET (self), WS_TYPE_PHOTO_LEAF);
  ws_photo_leaf_clear_beside (self);
  g_clear_pointer (&self->armed, g_free);
  g_clear_pointer (&self->roll_stamp, g_free);
  G_OBJECT_CLASS (ws_photo_leaf_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *klass)
{
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, box);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, caption);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, tools);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, mark_fields);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, cover_button);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, labels_button);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, beside_button);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, labels_box);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, labels_text);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, view_place);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, mark_revealer);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, mark_name);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, part_drop);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, specimen_drop);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, base_place);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, roll_scroller);
  gtk_widget_class_bind_template_child (klass, WsPhotoLeaf, roll);
  gtk_widget_class_bind_template_callback (klass, cover_toggled_cb);
}

static void
ws_photo_leaf_class_init (WsPhotoLeafClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = ws_photo_leaf_dispose;
  signals[DISARM_REQUESTED] = g_signal_new ("disarm-requested", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL,
                                            NULL, NULL, G_TYPE_NONE, 0);
  signals[BASE_MARKED] = g_signal_new ("base-marked", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                       G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "photo-leaf");
  g_type_ensure (WS_TYPE_WRAP_BOX);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-photo-leaf.ui");
  bind_children (widget_class);
  ws_photo_leaf_install_actions (widget_class);
  ws_photo_leaf_install_tools (widget_class);
}

static void
ws_photo_leaf_init (WsPhotoLeaf *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
ws_photo_leaf_new (WsSession *session)
{
  WsPhotoLeaf *self = g_object_new (WS_TYPE_PHOTO_LEAF, NULL);

  self->session = g_object_ref (session);
  ws_photo_leaf_init_beside (self);
  self->question = ws_base_question_new (session);
  gtk_box_append (GTK_BOX (self->base_place), self->question);
  ws_photo_leaf_init_marks (self);
  ws_photo_leaf_init_tools (self);
  item_changed_cb (NULL, self);
  return GTK_WIDGET (self);
}
