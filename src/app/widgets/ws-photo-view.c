/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-photo-view-private.h"

#include "ws-intl.h"

GParamSpec *ws_photo_view_props[N_PROPS];
guint ws_photo_view_signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsPhotoView, ws_photo_view, GTK_TYPE_WIDGET)

/* --- Photo and marks ------------------------------------------------------------------------- */

void
ws_photo_view_set_photo (WsPhotoView *self, const char *path, const char *digest, const char *thumbnail_path,
                         int full_width, int full_height)
{
  g_return_if_fail (WS_IS_PHOTO_VIEW (self));
  g_return_if_fail (path == NULL || digest != NULL);

  if (path != NULL && self->load.problem == NULL && g_strcmp0 (path, self->load.path) == 0 &&
      g_strcmp0 (digest, self->load.digest) == 0)
    return;
  /* A drag was not finished, but what keys changed was meant. */
  ws_photo_view_cancel_drag (self);
  ws_photo_view_commit_edit (self);
  ws_photo_view_load_clear (self);
  ws_photo_view_load_init (self);
  ws_photo_tiles_set_levels (self->tiles, NULL);
  ws_photo_view_drop_edges (self);
  ws_photo_view_set_marks (self, NULL);
  ws_photo_view_give_up (self);
  self->load.path = g_strdup (path);
  self->load.digest = g_strdup (digest);
  self->load.thumbnail = g_strdup (thumbnail_path);
  self->load.dimensions_known = path != NULL && full_width > 0 && full_height > 0;
  if (self->load.dimensions_known)
    ws_photo_viewport_set_photo (&self->port, full_width, full_height);
  else
    ws_photo_viewport_set_photo (&self->port, 0, 0);
  ws_photo_view_load_start (self);
  ws_photo_view_update_words (self);
  ws_photo_view_moved (self);
}

void
ws_photo_view_set_neighbours (WsPhotoView *self, const char *next_path, const char *next_digest,
                              const char *previous_path, const char *previous_digest)
{
  const char *given[4] = { next_path, next_digest, previous_path, previous_digest };

  for (int i = 0; i < 4; i++)
    {
      g_free (self->load.neighbours[i]);
      self->load.neighbours[i] = g_strdup (given[i]);
    }
  ws_photo_view_load_neighbours (self);
}

void
ws_photo_view_set_marks (WsPhotoView *self, GPtrArray *marks)
{
  GPtrArray *old = self->marks;

  self->marks = marks != NULL ? g_ptr_array_ref (marks) : g_ptr_array_new ();
  g_ptr_array_unref (old);
  if (self->edit_handed_in || ws_photo_view_find_mark (self, self->edit_id) == NULL)
    {
      g_clear_pointer (&self->edit_id, g_free);
      self->edit_handed_in = FALSE;
    }
  if (self->draft_handed_in)
    self->has_draft = self->draft_handed_in = FALSE;
  g_clear_pointer (&self->line.closed, ws_shape_free);
  /* A drag of a mark that is gone has nothing to hold on to. */
  if (ws_photo_view_find_mark (self, self->selected) == NULL)
    {
      if (self->drag_mode == DRAG_MOVE || self->drag_mode == DRAG_RESIZE || self->drag_mode == DRAG_POINT)
        self->drag_mode = DRAG_NONE;
      ws_photo_view_select (self, NULL);
    }
  ws_photo_view_set_point (self, self->point);
  ws_photo_view_update_buttons (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

void
ws_photo_view_select (WsPhotoView *self, const char *id)
{
  WsPhotoViewMark *mark = ws_photo_view_find_mark (self, id);

  id = mark != NULL ? mark->id : NULL;
  if (g_strcmp0 (id, self->selected) == 0)
    return;
  ws_photo_view_commit_edit (self);
  g_hash_table_remove_all (self->held_keys);
  g_free (self->selected);
  self->selected = g_strdup (id);
  ws_photo_view_set_point (self, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_object_notify_by_pspec (G_OBJECT (self), ws_photo_view_props[PROP_SELECTED]);
}

const char *
ws_photo_view_get_selected (WsPhotoView *self)
{
  return self->selected;
}

/* --- What drags do ----------------------------------------------------------------------------- */

gboolean
ws_photo_view_can_draw (WsPhotoView *self)
{
  /* Nobody marks what they do not see. */
  return (self->armed != NULL || self->cover) && ws_photo_tiles_get_levels (self->tiles) != NULL;
}

static void
drawing_changed (WsPhotoView *self, GParamSpec *pspec)
{
  ws_photo_view_cancel_drag (self);
  ws_photo_view_give_up (self);
  ws_photo_view_update_cursor (self);
  ws_photo_view_update_edges (self);
  g_object_notify_by_pspec (G_OBJECT (self), pspec);
}

void
ws_photo_view_set_armed (WsPhotoView *self, const char *caption)
{
  if (g_strcmp0 (caption, self->armed) == 0)
    return;
  g_free (self->armed);
  self->armed = g_strdup (caption);
  drawing_changed (self, ws_photo_view_props[PROP_ARMED]);
}

const char *
ws_photo_view_get_armed (WsPhotoView *self)
{
  return self->armed;
}

void
ws_photo_view_set_cover (WsPhotoView *self, gboolean cover)
{
  if (!cover == !self->cover)
    return;
  self->cover = !!cover;
  drawing_changed (self, ws_photo_view_props[PROP_COVER]);
}

gboolean
ws_photo_view_get_cover (WsPhotoView *self)
{
  return self->cover;
}

void
ws_photo_view_set_tool (WsPhotoView *self, WsPhotoViewTool tool)
{
  gboolean drew_lines = ws_photo_view_draws_lines (self);

  g_return_if_fail (tool < WS_PHOTO_VIEW_N_TOOLS);

  if (tool == self->tool)
    return;
  self->tool = tool;
  if (drew_lines && ws_photo_view_draws_lines (self))
    ws_photo_view_line_refollow (self, TRUE);
  else
    {
      ws_photo_view_cancel_drag (self);
      ws_photo_view_give_up (self);
    }
  ws_photo_view_update_edges (self);
  ws_photo_view_update_words (self);
  g_object_notify_by_pspec (G_OBJECT (self), ws_photo_view_props[PROP_TOOL]);
}

WsPhotoViewTool
ws_photo_view_get_tool (WsPhotoView *self)
{
  return self->tool;
}

/* --- The widget --------------------------------------------------------------------------------- */

static void
ws_photo_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  WsPhotoView *self = WS_PHOTO_VIEW (widget);

  ws_photo_view_draw (self, snapshot);
  gtk_widget_snapshot_child (widget, self->notice, snapshot);
  gtk_widget_snapshot_child (widget, self->banner, snapshot);
}

static void
ws_photo_view_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  WsPhotoView *self = WS_PHOTO_VIEW (object);

  switch (id)
    {
    case PROP_ARMED: g_value_set_string (value, self->armed); break;
    case PROP_COVER: g_value_set_boolean (value, self->cover); break;
    case PROP_TOOL: g_value_set_int (value, self->tool); break;
    case PROP_SELECTED: g_value_set_string (value, self->selected); break;
    case PROP_ZOOM: g_value_set_double (value, ws_photo_view_get_zoom (self)); break;
    case PROP_STATUS: g_value_set_string (value, ws_photo_view_get_status (self)); break;
    default: G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
ws_photo_view_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  WsPhotoView *self = WS_PHOTO_VIEW (object);

  switch (id)
    {
    case PROP_ARMED: ws_photo_view_set_armed (self, g_value_get_string (value)); break;
    case PROP_COVER: ws_photo_view_set_cover (self, g_value_get_boolean (value)); break;
    case PROP_TOOL: ws_photo_view_set_tool (self, g_value_get_int (value)); break;
    default: G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
ws_photo_view_dispose (GObject *object)
{
  WsPhotoView *self = WS_PHOTO_VIEW (object);
  GtkWidget *child;

  ws_photo_view_load_clear (self);
  ws_photo_view_drop_edges (self);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  g_hash_table_remove_all (self->buttons);
  G_OBJECT_CLASS (ws_photo_view_parent_class)->dispose (object);
}

static void
ws_photo_view_finalize (GObject *object)
{
  WsPhotoView *self = WS_PHOTO_VIEW (object);

  ws_photo_tiles_free (self->tiles);
  g_clear_object (&self->loader);
  g_ptr_array_unref (self->marks);
  g_hash_table_unref (self->buttons);
  g_hash_table_unref (self->held_keys);
  g_free (self->selected);
  g_free (self->armed);
  g_free (self->edit_id);
  ws_shape_free (self->edit);
  ws_shape_free (self->edit_base);
  ws_photo_view_line_free (self);
  G_OBJECT_CLASS (ws_photo_view_parent_class)->finalize (object);
}

static void
install_properties (GObjectClass *class)
{
  const GParamFlags read = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;
  const GParamFlags both = G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS;

  ws_photo_view_props[PROP_ARMED] = g_param_spec_string ("armed", NULL, NULL, NULL, both);
  ws_photo_view_props[PROP_COVER] = g_param_spec_boolean ("cover", NULL, NULL, FALSE, both);
  ws_photo_view_props[PROP_TOOL] = g_param_spec_int ("tool", NULL, NULL, WS_PHOTO_VIEW_BOX,
                                                      WS_PHOTO_VIEW_N_TOOLS - 1, WS_PHOTO_VIEW_BOX, both);
  ws_photo_view_props[PROP_SELECTED] = g_param_spec_string ("selected", NULL, NULL, NULL, read);
  ws_photo_view_props[PROP_ZOOM] = g_param_spec_double ("zoom", NULL, NULL, 0, G_MAXDOUBLE, 1, read);
  ws_photo_view_props[PROP_STATUS] = g_param_spec_string ("status", NULL, NULL, "", read);
  g_object_class_install_properties (class, N_PROPS, ws_photo_view_props);
}

static guint
add_signal (const char *name, guint n_params, GType first, GType second)
{
  return g_signal_new (name, WS_TYPE_PHOTO_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                       n_params, first, second);
}

static void
install_signals (void)
{
  const GType none = G_TYPE_NONE, shape = G_TYPE_POINTER, id = G_TYPE_STRING;

  ws_photo_view_signals[MARK_DRAWN] = add_signal ("mark-drawn", 1, shape, none);
  ws_photo_view_signals[COVER_DRAWN] = add_signal ("cover-drawn", 1, shape, none);
  ws_photo_view_signals[MARK_CHANGED] = add_signal ("mark-changed", 2, id, shape);
  ws_photo_view_signals[MARK_DELETE] = add_signal ("mark-delete", 1, id, none);
  ws_photo_view_signals[MARK_SELECTED] = add_signal ("mark-selected", 1, id, none);
  ws_photo_view_signals[DISARM_REQUESTED] = add_signal ("disarm-requested", 0, none, none);
  ws_photo_view_signals[VIEW_CHANGED] = add_signal ("view-changed", 0, none, none);
}

static void
ws_photo_view_class_init (WsPhotoViewClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->get_property = ws_photo_view_get_property;
  object_class->set_property = ws_photo_view_set_property;
  object_class->dispose = ws_photo_view_dispose;
  object_class->finalize = ws_photo_view_finalize;
  widget_class->measure = ws_photo_view_measure;
  widget_class->size_allocate = ws_photo_view_size_allocate;
  widget_class->snapshot = ws_photo_view_snapshot;
  gtk_widget_class_set_css_name (widget_class, "photoview");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  install_properties (object_class);
  install_signals ();
}

static void
ws_photo_view_init (WsPhotoView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  ws_photo_viewport_init (&self->port);
  self->tiles = ws_photo_tiles_new ();
  self->marks = g_ptr_array_new ();
  self->buttons = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->point = self->drag_point = -1;
  ws_photo_view_line_init (self);
  ws_photo_view_add_slips (self);
  ws_photo_view_load_init (self);
  ws_photo_view_input_init (self);
  ws_photo_view_keys_init (self);
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_overflow (widget, GTK_OVERFLOW_HIDDEN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Photo"), -1);
  ws_photo_view_update_words (self);
}

GtkWidget *
ws_photo_view_new (WsPictureLoader *loader)
{
  WsPhotoView *self = g_object_new (WS_TYPE_PHOTO_VIEW, NULL);

  g_return_val_if_fail (WS_IS_PICTURE_LOADER (loader), NULL);
  self->loader = g_object_ref (loader);
  return GTK_WIDGET (self);
}
