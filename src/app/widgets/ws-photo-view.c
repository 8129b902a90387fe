/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-photo-view-private.h"

#include <math.h>

#include "ws-intl.h"

enum
{
  PROP_0,
  PROP_ARMED,
  PROP_COVER,
  PROP_SHAPE_KIND,
  PROP_SELECTED,
  PROP_ZOOM,
  PROP_STATUS,
  N_PROPS
};

static GParamSpec *props[N_PROPS];
guint ws_photo_view_signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsPhotoView, ws_photo_view, GTK_TYPE_WIDGET)

/* Paper slips that lie on the photo and say things; the colours are the theme's paper and ink. */
static const char style[] =
  "photoview { background-color: @view_bg_color; color: @view_fg_color; }"
  "photoview:focus-visible { outline: 2px dotted alpha(@view_fg_color, 0.7); outline-offset: -4px; }"
  "photoview > label.slip { background-color: @view_bg_color; color: @view_fg_color; padding: 4px 10px;"
  "                         border: 1px solid alpha(@view_fg_color, 0.6); }"
  "photoview > label.plain { padding: 12px; }";

/* --- Words ------------------------------------------------------------------------------------ */

static char *
dup_banner_text (WsPhotoView *self)
{
  if (self->has_draft && self->draft_by_keys)
    return g_strdup (_("Arrows move it, Ctrl+arrows size it, Enter sets it, Escape gives up"));
  if (self->cover)
    return g_strdup (_("Covering: drag over a face, a hand, a number plate or a sign, or press Enter"));
  if (self->armed != NULL)
    /* Translators: what the next mark will show: "Marking: stem base". */
    return g_strdup_printf (_("Marking: %s — drag over it, or press Enter"), self->armed);
  return g_strdup ("");
}

static void
set_words (GtkWidget *label, const char *text)
{
  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_visible (label, text[0] != '\0');
}

void
ws_photo_view_update_words (WsPhotoView *self)
{
  gboolean bare = ws_photo_tiles_get_levels (self->tiles) == NULL;
  g_autofree char *banner = dup_banner_text (self);
  g_autofree char *status = ws_photo_view_load_dup_status (self);
  gboolean changed = g_strcmp0 (status, gtk_label_get_text (GTK_LABEL (self->notice))) != 0;

  set_words (self->banner, banner);
  set_words (self->notice, status);
  gtk_widget_remove_css_class (self->notice, bare ? "slip" : "plain");
  gtk_widget_add_css_class (self->notice, bare ? "plain" : "slip");
  if (changed)
    {
      gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, status, -1);
      g_object_notify_by_pspec (G_OBJECT (self), props[PROP_STATUS]);
    }
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

const char *
ws_photo_view_get_status (WsPhotoView *self)
{
  return gtk_label_get_text (GTK_LABEL (self->notice));
}

/* --- Moving and zooming ------------------------------------------------------------------- */

void
ws_photo_view_moved (WsPhotoView *self)
{
  ws_photo_view_allocate_buttons (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  ws_photo_view_load_level_later (self);
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_ZOOM]);
  g_signal_emit (self, ws_photo_view_signals[VIEW_CHANGED], 0);
}

void
ws_photo_view_zoom_by (WsPhotoView *self, double x, double y, double factor)
{
  ws_photo_viewport_zoom_at (&self->port, x, y, self->port.zoom * factor);
  ws_photo_view_moved (self);
}

void
ws_photo_view_fit (WsPhotoView *self)
{
  ws_photo_viewport_fit (&self->port);
  ws_photo_view_moved (self);
}

void
ws_photo_view_set_zoom (WsPhotoView *self, double zoom)
{
  WsPhotoViewport *port = &self->port;

  ws_photo_viewport_zoom_at (port, port->view_width / 2, port->view_height / 2, zoom / port->scale);
  ws_photo_view_moved (self);
}

double
ws_photo_view_get_zoom (WsPhotoView *self)
{
  return self->port.zoom * self->port.scale;
}

void
ws_photo_view_show_region (WsPhotoView *self, const WsRect *region)
{
  ws_photo_viewport_show (&self->port, region);
  ws_photo_view_moved (self);
}

gboolean
ws_photo_view_get_visible (WsPhotoView *self, WsRect *visible)
{
  WsPoint a = ws_photo_viewport_to_photo (&self->port, 0, 0);
  WsPoint b = ws_photo_viewport_to_photo (&self->port, self->port.view_width, self->port.view_height);

  if (self->port.photo_width <= 0)
    return FALSE;
  *visible = ws_photo_view_rect_between (a, b, FALSE, self->port.photo_width, self->port.photo_height);
  return visible->width > 0 && visible->height > 0;
}

void
ws_photo_view_follow (WsPhotoView *self, WsPhotoView *other)
{
  const WsPhotoViewport *from = &other->port;
  WsPhotoViewport *port = &self->port;
  WsPoint middle = ws_photo_viewport_to_photo (from, from->view_width / 2, from->view_height / 2);

  if (port->photo_width <= 0 || from->photo_width <= 0)
    return;
  if (from->fit)
    ws_photo_viewport_fit (port);
  else
    {
      port->fit = FALSE;
      port->zoom = MIN (from->zoom * from->photo_width / port->photo_width,
                        WS_PHOTO_VIEWPORT_MAX_ZOOM / port->scale);
      port->x = port->view_width / 2 - middle.x * port->photo_width * port->zoom;
      port->y = port->view_height / 2 - middle.y * port->photo_height * port->zoom;
    }
  ws_photo_view_allocate_buttons (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  ws_photo_view_load_level_later (self);
}

WsPoint
ws_photo_view_to_view (WsPhotoView *self, double x, double y)
{
  return ws_photo_viewport_to_view (&self->port, x, y);
}

/* --- Photo and marks ------------------------------------------------------------------------- */

void
ws_photo_view_set_photo (WsPhotoView *self, const char *path, const char *digest, const char *thumbnail_path,
                         int full_width, int full_height)
{
  g_return_if_fail (WS_IS_PHOTO_VIEW (self));
  g_return_if_fail (path == NULL || digest != NULL);

  if (path != NULL && g_strcmp0 (path, self->load.path) == 0 && g_strcmp0 (digest, self->load.digest) == 0)
    return;
  ws_photo_view_load_clear (self);
  ws_photo_view_load_init (self);
  ws_photo_tiles_set_levels (self->tiles, NULL);
  ws_photo_view_cancel_drag (self);
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
  /* A drag of a mark that is gone has nothing to hold on to. */
  if (ws_photo_view_find_mark (self, self->selected) == NULL)
    {
      if (self->drag_mode == DRAG_MOVE || self->drag_mode == DRAG_RESIZE)
        self->drag_mode = DRAG_NONE;
      ws_photo_view_select (self, NULL);
    }
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
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_SELECTED]);
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
  return (self->armed != NULL || self->cover) && self->port.photo_width > 0;
}

static void
drawing_changed (WsPhotoView *self, GParamSpec *pspec)
{
  ws_photo_view_cancel_drag (self);
  ws_photo_view_give_up (self);
  ws_photo_view_update_cursor (self);
  g_object_notify_by_pspec (G_OBJECT (self), pspec);
}

void
ws_photo_view_set_armed (WsPhotoView *self, const char *caption)
{
  if (g_strcmp0 (caption, self->armed) == 0)
    return;
  g_free (self->armed);
  self->armed = g_strdup (caption);
  drawing_changed (self, props[PROP_ARMED]);
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
  drawing_changed (self, props[PROP_COVER]);
}

gboolean
ws_photo_view_get_cover (WsPhotoView *self)
{
  return self->cover;
}

void
ws_photo_view_set_shape_kind (WsPhotoView *self, WsShapeKind kind)
{
  g_return_if_fail (kind == WS_SHAPE_BOX || kind == WS_SHAPE_OVAL);

  if (kind == self->shape_kind)
    return;
  self->shape_kind = kind;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_SHAPE_KIND]);
}

WsShapeKind
ws_photo_view_get_shape_kind (WsPhotoView *self)
{
  return self->shape_kind;
}

/* --- The widget --------------------------------------------------------------------------------- */

static void
ws_photo_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                       int *minimum_baseline, int *natural_baseline)
{
  *minimum = 120;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 480 : 360;
}

/* A slip of paper in the middle of the line at @y, from above or, with @from_bottom, from below. */
static void
lay_slip (WsPhotoView *self, GtkWidget *slip, int width, double y, gboolean from_bottom)
{
  int natural, height, slip_width, room = MAX (width - 16, 1);

  if (!gtk_widget_get_visible (slip))
    return;
  gtk_widget_measure (slip, GTK_ORIENTATION_HORIZONTAL, -1, &slip_width, &natural, NULL, NULL);
  slip_width = MAX (MIN (natural, room), slip_width);
  gtk_widget_measure (slip, GTK_ORIENTATION_VERTICAL, slip_width, &height, NULL, NULL, NULL);
  gtk_widget_size_allocate (slip, &(GtkAllocation) { (width - slip_width) / 2, from_bottom ? y - height : y,
                                                     slip_width, height }, -1);
}

static void
ws_photo_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  WsPhotoView *self = WS_PHOTO_VIEW (widget);
  double old_width = self->port.view_width, old_height = self->port.view_height;
  gboolean bare = ws_photo_tiles_get_levels (self->tiles) == NULL;
  WsRect draft = ws_photo_viewport_rect_to_view (&self->port, &self->draft);
  /* The banner gives way to a mark that is drawn under it. */
  gboolean low = self->has_draft && draft.y < 64 && draft.y + draft.height < height - 64;

  ws_photo_viewport_set_view (&self->port, width, height, gtk_widget_get_scale_factor (widget));
  lay_slip (self, self->banner, width, low ? height - 8 : 8, low);
  lay_slip (self, self->notice, width, bare ? height / 2 + 24 : height - (low ? 56 : 8), TRUE);
  ws_photo_view_allocate_buttons (self);
  /* The first size decides which level is read; later ones when they have come to rest. */
  if (old_width <= 0 || old_height <= 0)
    ws_photo_view_load_level (self);
  else if (old_width != width || old_height != height)
    ws_photo_view_load_level_later (self);
}

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
    case PROP_SHAPE_KIND: g_value_set_int (value, self->shape_kind); break;
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
    case PROP_SHAPE_KIND: ws_photo_view_set_shape_kind (self, g_value_get_int (value)); break;
    default: G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
ws_photo_view_dispose (GObject *object)
{
  WsPhotoView *self = WS_PHOTO_VIEW (object);
  GtkWidget *child;

  ws_photo_view_load_clear (self);
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
  G_OBJECT_CLASS (ws_photo_view_parent_class)->finalize (object);
}

static void
install_properties (GObjectClass *class)
{
  const GParamFlags read = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;
  const GParamFlags both = G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS;

  props[PROP_ARMED] = g_param_spec_string ("armed", NULL, NULL, NULL, both);
  props[PROP_COVER] = g_param_spec_boolean ("cover", NULL, NULL, FALSE, both);
  props[PROP_SHAPE_KIND] = g_param_spec_int ("shape-kind", NULL, NULL, WS_SHAPE_BOX, WS_SHAPE_OVAL, WS_SHAPE_BOX, both);
  props[PROP_SELECTED] = g_param_spec_string ("selected", NULL, NULL, NULL, read);
  props[PROP_ZOOM] = g_param_spec_double ("zoom", NULL, NULL, 0, G_MAXDOUBLE, 1, read);
  props[PROP_STATUS] = g_param_spec_string ("status", NULL, NULL, "", read);
  g_object_class_install_properties (class, N_PROPS, props);
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

static GtkWidget *
add_slip (WsPhotoView *self, const char *css_class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_CENTER);
  gtk_widget_set_can_target (label, FALSE);
  gtk_widget_set_visible (label, FALSE);
  gtk_widget_add_css_class (label, css_class);
  gtk_widget_set_parent (label, GTK_WIDGET (self));
  return label;
}

static void
add_style (void)
{
  static gsize done;

  if (g_once_init_enter (&done))
    {
      g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();

      gtk_css_provider_load_from_data (provider, style, -1);
      gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (provider),
                                                  GTK_STYLE_PROVIDER_PRIORITY_FALLBACK);
      g_once_init_leave (&done, 1);
    }
}

static void
ws_photo_view_init (WsPhotoView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  add_style ();
  ws_photo_viewport_init (&self->port);
  self->tiles = ws_photo_tiles_new ();
  self->marks = g_ptr_array_new ();
  self->buttons = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->banner = add_slip (self, "slip");
  self->notice = add_slip (self, "plain");
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
