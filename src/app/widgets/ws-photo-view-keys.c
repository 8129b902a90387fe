/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The keyboard. Keys are seen before the mark's button that may hold the focus; what is not ours goes on. */
#include "ws-photo-view-private.h"

#define KEY_ZOOM 1.25
/* Steps of moving and sizing, widget px. */
#define STEP 8.0
#define FINE_STEP 1.0
/* Share of the view that one key moves the photo. */
#define PAN_SHARE 0.125

/* Direction of an arrow key; FALSE if it is none. */
static gboolean
arrow (guint key, int *dx, int *dy)
{
  *dx = key == GDK_KEY_Right || key == GDK_KEY_KP_Right ? 1 : key == GDK_KEY_Left || key == GDK_KEY_KP_Left ? -1 : 0;
  *dy = key == GDK_KEY_Down || key == GDK_KEY_KP_Down ? 1 : key == GDK_KEY_Up || key == GDK_KEY_KP_Up ? -1 : 0;
  return *dx != 0 || *dy != 0;
}

/* --- Making and changing marks -------------------------------------------------------- */

static void
begin_draft (WsPhotoView *self)
{
  WsRect seen, draft;

  if (!ws_photo_view_get_visible (self, &seen))
    return;
  draft = (WsRect) { seen.x + seen.width / 3, seen.y + seen.height / 3, seen.width / 3, seen.height / 3 };
  self->draft_by_keys = TRUE;
  ws_photo_view_set_draft (self, &draft);
  ws_photo_view_update_words (self);
}

/* @rect moved by an arrow, or with @size its right or lower edge. */
static WsRect
stepped (WsPhotoView *self, const WsRect *rect, int dx, int dy, gboolean size, gboolean fine)
{
  double step = fine ? FINE_STEP : STEP;
  WsPoint unit = { 1 / (self->port.photo_width * self->port.zoom), 1 / (self->port.photo_height * self->port.zoom) };
  WsPoint least = { DRAG_THRESHOLD * unit.x, DRAG_THRESHOLD * unit.y };

  if (size)
    return ws_photo_view_rect_resized (rect, dx != 0 ? EDGE_RIGHT : EDGE_BOTTOM, dx * step * unit.x,
                                       dy * step * unit.y, least);
  return ws_photo_view_rect_moved (rect, dx * step * unit.x, dy * step * unit.y);
}

/* The point that the keys go to, by widget px. */
static void
step_point (WsPhotoView *self, double dx, double dy)
{
  const WsPoint *at = &ws_photo_view_selected_outline (self)->points[self->point];

  ws_photo_view_move_point (self, self->point, (WsPoint) { at->x + dx, at->y + dy });
}

/* Arrows lead the pen of an outline that is begun, or a point of one that is there. */
static gboolean
step_pen_or_point (WsPhotoView *self, int dx, int dy, guint code, GdkModifierType state)
{
  double step = state & GDK_ALT_MASK ? FINE_STEP : STEP;
  double x = dx * step / (self->port.photo_width * self->port.zoom);
  double y = dy * step / (self->port.photo_height * self->port.zoom);
  WsRect place = { 0, 0, 0, 0 };

  if (state & GDK_CONTROL_MASK)
    return FALSE;
  if (ws_photo_view_line_begun (self))
    {
      ws_photo_view_line_step (self, x, y);
      place.x = self->line.pen.x;
      place.y = self->line.pen.y;
    }
  else if (self->point >= 0)
    {
      step_point (self, x, y);
      g_hash_table_add (self->held_keys, GUINT_TO_POINTER (code));
      place.x = ws_photo_view_selected_outline (self)->points[self->point].x;
      place.y = ws_photo_view_selected_outline (self)->points[self->point].y;
    }
  else
    return FALSE;
  ws_photo_viewport_reveal (&self->port, &place);
  ws_photo_view_moved (self);
  return TRUE;
}

static gboolean
step_mark (WsPhotoView *self, int dx, int dy, guint code, GdkModifierType state)
{
  gboolean size = (state & GDK_CONTROL_MASK) != 0, fine = (state & GDK_ALT_MASK) != 0;
  WsPhotoViewMark *mark = ws_photo_view_find_mark (self, self->selected);
  WsRect bounds;

  if (self->has_draft && self->draft_by_keys)
    {
      bounds = stepped (self, &self->draft, dx, dy, size, fine);
      ws_photo_view_set_draft (self, &bounds);
    }
  else if (mark != NULL)
    {
      bounds = ws_photo_view_mark_bounds (self, mark);
      bounds = stepped (self, &bounds, dx, dy, size, fine);
      ws_photo_view_begin_edit (self, mark->id);
      ws_photo_view_set_edit (self, &bounds);
      g_hash_table_add (self->held_keys, GUINT_TO_POINTER (code));
    }
  else
    return FALSE;
  ws_photo_viewport_reveal (&self->port, &bounds);
  ws_photo_view_moved (self);
  return TRUE;
}

static gboolean
press_arrow (WsPhotoView *self, int dx, int dy, guint code, GdkModifierType state)
{
  if (!(state & GDK_SHIFT_MASK))
    return step_pen_or_point (self, dx, dy, code, state) || step_mark (self, dx, dy, code, state);
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  ws_photo_viewport_pan (&self->port, -dx * self->port.view_width * PAN_SHARE,
                         -dy * self->port.view_height * PAN_SHARE);
  ws_photo_view_moved (self);
  return TRUE;
}

static gboolean
press_enter (WsPhotoView *self)
{
  if (self->has_draft && self->draft_by_keys)
    {
      ws_photo_view_commit_draft (self);
      return TRUE;
    }
  if (!ws_photo_view_can_draw (self))
    return FALSE;
  if (ws_photo_view_line_begun (self))
    ws_photo_view_line_enter (self);
  else if (ws_photo_view_draws_lines (self))
    ws_photo_view_line_begin_by_keys (self);
  else
    begin_draft (self);
  return TRUE;
}

static gboolean
press_escape (WsPhotoView *self)
{
  if (self->drag_mode != DRAG_NONE && self->drag_moved)
    {
      ws_photo_view_cancel_drag (self);
      gtk_event_controller_reset (GTK_EVENT_CONTROLLER (self->drag));
    }
  else if ((self->has_draft && !self->draft_handed_in) || ws_photo_view_line_begun (self))
    ws_photo_view_give_up (self);
  else if (self->point >= 0)
    {
      ws_photo_view_commit_edit (self);
      ws_photo_view_set_point (self, -1);
    }
  else if (self->armed != NULL || self->cover)
    g_signal_emit (self, ws_photo_view_signals[DISARM_REQUESTED], 0);
  else if (self->selected != NULL)
    ws_photo_view_select_by_hand (self, NULL);
  else
    return FALSE;
  return TRUE;
}

static gboolean
choose_tool (WsPhotoView *self, WsPhotoViewTool tool)
{
  if (!ws_photo_view_can_draw (self))
    return FALSE;
  ws_photo_view_set_tool (self, tool);
  return TRUE;
}

static gboolean
take_back (WsPhotoView *self)
{
  if (!ws_photo_view_line_begun (self))
    return FALSE;
  ws_photo_view_line_take_back (self);
  return TRUE;
}

/* --- The points of an outline that is there ------------------------------------------------- */

static void
reveal_point (WsPhotoView *self)
{
  const WsPoint *at = &ws_photo_view_selected_outline (self)->points[self->point];
  WsRect place = { at->x, at->y, 0, 0 };

  ws_photo_viewport_reveal (&self->port, &place);
  ws_photo_view_moved (self);
}

static gboolean
go_to_points (WsPhotoView *self)
{
  if (ws_photo_view_selected_outline (self) == NULL || self->point >= 0)
    return FALSE;
  ws_photo_view_set_point (self, 0);
  reveal_point (self);
  return TRUE;
}

/* FALSE when the keys go to no point. */
static gboolean
step_points (WsPhotoView *self, int direction)
{
  int n;

  if (self->point < 0)
    return FALSE;
  n = (int) ws_photo_view_selected_outline (self)->n_points;
  ws_photo_view_commit_edit (self);
  ws_photo_view_set_point (self, (self->point + n + direction) % n);
  reveal_point (self);
  return TRUE;
}

/* In the middle between the point and the next one. */
static gboolean
insert_point (WsPhotoView *self)
{
  const WsShape *shape = ws_photo_view_selected_outline (self);
  const WsPoint *a, *b;

  if (self->point < 0)
    return FALSE;
  a = &shape->points[self->point];
  b = &shape->points[(self->point + 1) % shape->n_points];
  ws_photo_view_add_point (self, self->point, (WsPoint) { (a->x + b->x) / 2, (a->y + b->y) / 2 });
  ws_photo_view_set_point (self, self->point + 1);
  ws_photo_view_commit_edit (self);
  return TRUE;
}

static gboolean
press_delete (WsPhotoView *self)
{
  if (self->point < 0)
    return ws_photo_view_delete_selected (self);
  if (ws_photo_view_remove_point (self, self->point))
    {
      ws_photo_view_set_point (self, self->point);
      ws_photo_view_commit_edit (self);
    }
  return TRUE;
}

/* --- Keys ------------------------------------------------------------------------------------- */

static gboolean
zoom_in_the_middle (WsPhotoView *self, double factor)
{
  ws_photo_view_zoom_by (self, self->port.view_width / 2, self->port.view_height / 2, factor);
  return TRUE;
}

static gboolean
press_plain (WsPhotoView *self, guint key)
{
  switch (key)
    {
    case GDK_KEY_plus: case GDK_KEY_equal: case GDK_KEY_KP_Add:
      return zoom_in_the_middle (self, KEY_ZOOM);
    case GDK_KEY_minus: case GDK_KEY_KP_Subtract:
      return zoom_in_the_middle (self, 1 / KEY_ZOOM);
    case GDK_KEY_0: case GDK_KEY_KP_0:
      ws_photo_view_fit (self);
      return TRUE;
    case GDK_KEY_1: case GDK_KEY_KP_1:
      ws_photo_view_set_zoom (self, 1);
      return TRUE;
    case GDK_KEY_space:
      self->space_held = TRUE;
      ws_photo_view_update_cursor (self);
      return TRUE;
    case GDK_KEY_x: case GDK_KEY_X:
      return choose_tool (self, WS_PHOTO_VIEW_BOX);
    case GDK_KEY_o: case GDK_KEY_O:
      return choose_tool (self, WS_PHOTO_VIEW_OVAL);
    case GDK_KEY_l: case GDK_KEY_L:
      return choose_tool (self, WS_PHOTO_VIEW_OUTLINE);
    case GDK_KEY_f: case GDK_KEY_F:
      return choose_tool (self, WS_PHOTO_VIEW_EDGE);
    case GDK_KEY_Return: case GDK_KEY_KP_Enter: case GDK_KEY_ISO_Enter:
      return press_enter (self);
    case GDK_KEY_Escape:
      return press_escape (self);
    case GDK_KEY_Delete: case GDK_KEY_KP_Delete:
      return press_delete (self);
    case GDK_KEY_BackSpace:
      return take_back (self);
    case GDK_KEY_F2:
      return go_to_points (self);
    case GDK_KEY_Insert: case GDK_KEY_KP_Insert:
      return insert_point (self);
    case GDK_KEY_Tab:
      return step_points (self, 1) || ws_photo_view_step_marks (self, 1);
    default:
      return FALSE;
    }
}

static gboolean
key_pressed (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, WsPhotoView *self)
{
  int dx, dy;

  if (self->port.photo_width <= 0)
    return GDK_EVENT_PROPAGATE;
  if (arrow (key, &dx, &dy))
    return press_arrow (self, dx, dy, code, state);
  if (key == GDK_KEY_ISO_Left_Tab || (key == GDK_KEY_Tab && (state & GDK_SHIFT_MASK)))
    return step_points (self, -1) || ws_photo_view_step_marks (self, -1);
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK))
    return GDK_EVENT_PROPAGATE;
  return press_plain (self, key);
}

static void
key_released (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, WsPhotoView *self)
{
  if (key == GDK_KEY_space)
    {
      self->space_held = FALSE;
      ws_photo_view_update_cursor (self);
    }
  /* A key that repeats is one action, and so are arrows pressed together: it ends with the last of them. */
  if (g_hash_table_remove (self->held_keys, GUINT_TO_POINTER (code)) && g_hash_table_size (self->held_keys) == 0)
    ws_photo_view_commit_edit (self);
}

static void
focus_left (GtkEventControllerFocus *controller, WsPhotoView *self)
{
  self->space_held = FALSE;
  g_hash_table_remove_all (self->held_keys);
  ws_photo_view_commit_edit (self);
}

void
ws_photo_view_keys_init (WsPhotoView *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->held_keys = g_hash_table_new (NULL, NULL);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), self);
  g_signal_connect (keys, "key-released", G_CALLBACK (key_released), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect (focus, "leave", G_CALLBACK (focus_left), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}
