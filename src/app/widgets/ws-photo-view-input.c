/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pointer and touch. What a drag does is settled when it begins. */
#include "ws-photo-view-private.h"

#include <math.h>

#define WHEEL_FACTOR 1.25

static gboolean
is_touch (GtkEventController *controller)
{
  GdkDevice *device = gtk_event_controller_get_current_event_device (controller);

  return device != NULL && gdk_device_get_source (device) == GDK_SOURCE_TOUCHSCREEN;
}

/* --- Handles ------------------------------------------------------------------------------- */

static gboolean
near (double a, double b, double hit)
{
  return fabs (a - b) <= hit / 2;
}

/* The edges that a press at (@x, @y) would move; 0 for none. The inner half of a small mark always moves it. */
static Edges
edges_at (const WsRect *place, double x, double y, double hit)
{
  double inset_x = MIN (hit / 2, place->width / 4), inset_y = MIN (hit / 2, place->height / 4);
  double middle_x = place->x + place->width / 2, middle_y = place->y + place->height / 2;
  double right = place->x + place->width, bottom = place->y + place->height;
  Edges edges = 0;

  if (x > place->x + inset_x && x < right - inset_x && y > place->y + inset_y && y < bottom - inset_y)
    return 0;
  if (near (x, right, hit))
    edges |= EDGE_RIGHT;
  else if (near (x, place->x, hit))
    edges |= EDGE_LEFT;
  if (near (y, bottom, hit))
    edges |= EDGE_BOTTOM;
  else if (near (y, place->y, hit))
    edges |= EDGE_TOP;
  if ((edges & (EDGE_LEFT | EDGE_RIGHT)) && (edges & (EDGE_TOP | EDGE_BOTTOM)))
    return edges;
  if ((edges & (EDGE_LEFT | EDGE_RIGHT)) && near (y, middle_y, hit))
    return edges;
  if ((edges & (EDGE_TOP | EDGE_BOTTOM)) && near (x, middle_x, hit))
    return edges;
  return 0;
}

static gboolean
selected_place (WsPhotoView *self, WsRect *bounds, WsRect *place)
{
  WsPhotoViewMark *mark = ws_photo_view_find_mark (self, self->selected);

  if (mark == NULL)
    return FALSE;
  *bounds = ws_photo_view_mark_bounds (self, mark);
  *place = ws_photo_viewport_rect_to_view (&self->port, bounds);
  return TRUE;
}

static DragMode
mode_at_outline (WsPhotoView *self, double x, double y, double hit)
{
  WsPoint point = ws_photo_viewport_to_photo (&self->port, x, y);

  if (ws_photo_view_point_at (self, x, y, hit) >= 0 || ws_photo_view_point_before (self, x, y, hit) >= 0)
    return DRAG_POINT;
  return ws_shape_contains (ws_photo_view_selected_outline (self), point.x, point.y) ? DRAG_MOVE : DRAG_PAN;
}

static DragMode
mode_at (WsPhotoView *self, double x, double y, double hit, Edges *edges)
{
  WsRect bounds, place;

  *edges = 0;
  if (self->space_held)
    return DRAG_PAN;
  if (ws_photo_view_can_draw (self))
    return ws_photo_view_draws_lines (self) ? DRAG_LINE : DRAG_NEW;
  if (!selected_place (self, &bounds, &place))
    return DRAG_PAN;
  if (ws_photo_view_selected_outline (self) != NULL)
    return mode_at_outline (self, x, y, hit);
  *edges = edges_at (&place, x, y, hit);
  if (*edges != 0)
    return DRAG_RESIZE;
  if (x >= place.x && x <= place.x + place.width && y >= place.y && y <= place.y + place.height)
    return DRAG_MOVE;
  return DRAG_PAN;
}

static const char *
cursor_name (DragMode mode, Edges edges)
{
  static const struct { Edges edges; const char *name; } resize[] = {
    { EDGE_LEFT, "w-resize" }, { EDGE_RIGHT, "e-resize" }, { EDGE_TOP, "n-resize" }, { EDGE_BOTTOM, "s-resize" },
    { EDGE_LEFT | EDGE_TOP, "nw-resize" }, { EDGE_RIGHT | EDGE_TOP, "ne-resize" },
    { EDGE_LEFT | EDGE_BOTTOM, "sw-resize" }, { EDGE_RIGHT | EDGE_BOTTOM, "se-resize" },
  };

  if (mode == DRAG_NEW || mode == DRAG_LINE)
    return "crosshair";
  if (mode == DRAG_POINT)
    return "pointer";
  if (mode == DRAG_MOVE)
    return "move";
  for (guint i = 0; mode == DRAG_RESIZE && i < G_N_ELEMENTS (resize); i++)
    if (resize[i].edges == edges)
      return resize[i].name;
  return NULL;
}

void
ws_photo_view_update_cursor (WsPhotoView *self)
{
  Edges edges = self->drag_edges;
  DragMode mode = self->drag_mode;
  const char *name;

  if (mode == DRAG_NONE)
    mode = mode_at (self, self->pointer_x, self->pointer_y, HANDLE_HIT, &edges);
  name = self->space_held ? "grab" : cursor_name (mode, edges);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), name);
}

static void
pointer_moved (GtkEventControllerMotion *controller, double x, double y, WsPhotoView *self)
{
  /* GTK says it again when what lies under it is laid out anew: then the keys keep the pen. */
  gboolean moved = x != self->pointer_x || y != self->pointer_y;

  self->pointer_x = x;
  self->pointer_y = y;
  if (moved && (self->drag_mode == DRAG_NONE || self->drag_mode == DRAG_LINE))
    ws_photo_view_line_point (self, x, y);
  ws_photo_view_update_cursor (self);
}

/* --- Dragging with the main button or a finger ----------------------------------------- */

static void
click (WsPhotoView *self, double x, double y)
{
  WsPhotoViewMark *mark = ws_photo_view_mark_at (self, x, y, self->selected);

  ws_photo_view_select_by_hand (self, mark != NULL ? mark->id : NULL);
}

static void
take_point (WsPhotoView *self, double hit)
{
  self->drag_point = ws_photo_view_point_at (self, self->drag_x, self->drag_y, hit);
  self->drag_adds_point = self->drag_point < 0;
  if (self->drag_adds_point)
    self->drag_point = ws_photo_view_point_before (self, self->drag_x, self->drag_y, hit);
}

/* A click on a point hands the keys to it; a second one soon after removes it. On the line between two it does nothing. */
static void
click_point (WsPhotoView *self)
{
  gint64 now = g_get_monotonic_time ();
  int double_click_ms = 400;

  if (self->drag_adds_point)
    return;
  g_object_get (gtk_widget_get_settings (GTK_WIDGET (self)), "gtk-double-click-time", &double_click_ms, NULL);
  if (self->point == self->drag_point && now - self->point_clicked_us < double_click_ms * G_TIME_SPAN_MILLISECOND &&
      ws_photo_view_remove_point (self, self->point))
    {
      ws_photo_view_set_point (self, -1);
      ws_photo_view_commit_edit (self);
      return;
    }
  self->point_clicked_us = now;
  ws_photo_view_set_point (self, self->drag_point);
}

static void
drag_begin (GtkGestureDrag *gesture, double x, double y, WsPhotoView *self)
{
  double hit = is_touch (GTK_EVENT_CONTROLLER (gesture)) ? HANDLE_HIT_TOUCH : HANDLE_HIT;
  WsRect place;

  if (gtk_widget_get_focus_child (GTK_WIDGET (self)) == NULL)
    gtk_widget_grab_focus (GTK_WIDGET (self));
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  ws_photo_view_commit_edit (self);
  self->drag_mode = mode_at (self, x, y, hit, &self->drag_edges);
  self->drag_moved = FALSE;
  self->drag_x = x;
  self->drag_y = y;
  self->drag_last_x = self->drag_last_y = 0;
  selected_place (self, &self->drag_bounds, &place);
  if (self->drag_mode == DRAG_POINT)
    take_point (self, hit);
}

static void
drag_line (WsPhotoView *self, double dx, double dy)
{
  /* With the edges a drag is two clicks. */
  if (self->tool == WS_PHOTO_VIEW_OUTLINE)
    ws_photo_view_line_stroke (self, self->drag_x + dx, self->drag_y + dy);
  else
    ws_photo_view_line_point (self, self->drag_x + dx, self->drag_y + dy);
}

static void
drag_point (WsPhotoView *self, double dx, double dy)
{
  WsPoint place = ws_photo_viewport_to_photo (&self->port, self->drag_x + dx, self->drag_y + dy);

  if (self->drag_adds_point)
    ws_photo_view_add_point (self, self->drag_point++, place);
  else
    ws_photo_view_move_point (self, self->drag_point, place);
  self->drag_adds_point = FALSE;
}

static void
drag_new (WsPhotoView *self, double dx, double dy, gboolean square)
{
  const WsPhotoViewport *port = &self->port;
  WsPoint a = ws_photo_viewport_to_photo (port, self->drag_x, self->drag_y);
  WsPoint b = ws_photo_viewport_to_photo (port, self->drag_x + dx, self->drag_y + dy);
  WsRect draft = ws_photo_view_rect_between (a, b, square, port->photo_width, port->photo_height);

  ws_photo_view_set_draft (self, &draft);
}

static void
drag_change (WsPhotoView *self, double dx, double dy)
{
  double width = self->port.photo_width * self->port.zoom, height = self->port.photo_height * self->port.zoom;
  WsPoint least = { DRAG_THRESHOLD / width, DRAG_THRESHOLD / height };
  WsRect bounds;

  if (self->drag_mode == DRAG_MOVE)
    bounds = ws_photo_view_rect_moved (&self->drag_bounds, dx / width, dy / height);
  else
    bounds = ws_photo_view_rect_resized (&self->drag_bounds, self->drag_edges, dx / width, dy / height, least);
  ws_photo_view_begin_edit (self, self->selected);
  ws_photo_view_set_edit (self, &bounds);
}

static void
pan_to (WsPhotoView *self, double dx, double dy)
{
  ws_photo_viewport_pan (&self->port, dx - self->drag_last_x, dy - self->drag_last_y);
  self->drag_last_x = dx;
  self->drag_last_y = dy;
  ws_photo_view_moved (self);
}

static void
drag_update (GtkGestureDrag *gesture, double dx, double dy, WsPhotoView *self)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  if (self->drag_mode == DRAG_NONE || (!self->drag_moved && MAX (fabs (dx), fabs (dy)) < DRAG_THRESHOLD))
    return;
  if (self->drag_mode == DRAG_LINE && !self->drag_moved)
    ws_photo_view_line_stroke (self, self->drag_x, self->drag_y);
  self->drag_moved = TRUE;
  if (self->drag_mode == DRAG_LINE)
    drag_line (self, dx, dy);
  else if (self->drag_mode == DRAG_POINT)
    drag_point (self, dx, dy);
  else if (self->drag_mode == DRAG_NEW)
    drag_new (self, dx, dy, (state & GDK_SHIFT_MASK) != 0);
  else if (self->drag_mode == DRAG_PAN)
    pan_to (self, dx, dy);
  else
    drag_change (self, dx, dy);
}

/* Too thin to be meant: a slip of the hand. */
static gboolean
draft_is_thin (WsPhotoView *self)
{
  WsRect place = ws_photo_viewport_rect_to_view (&self->port, &self->draft);

  return place.width < DRAG_THRESHOLD || place.height < DRAG_THRESHOLD;
}

static void
drag_end (GtkGestureDrag *gesture, double dx, double dy, WsPhotoView *self)
{
  DragMode mode = self->drag_mode;
  double hit = is_touch (GTK_EVENT_CONTROLLER (gesture)) ? HANDLE_HIT_TOUCH : HANDLE_HIT;

  drag_update (gesture, dx, dy, self);
  self->drag_mode = DRAG_NONE;
  if (mode == DRAG_NONE)
    return;
  if (mode == DRAG_LINE && self->drag_moved)
    ws_photo_view_line_lift (self, self->drag_x + dx, self->drag_y + dy, hit);
  else if (mode == DRAG_LINE)
    ws_photo_view_line_click (self, self->drag_x, self->drag_y, hit);
  else if (mode == DRAG_POINT && !self->drag_moved)
    click_point (self);
  else if (!self->drag_moved)
    click (self, self->drag_x, self->drag_y);
  else if (mode == DRAG_NEW && draft_is_thin (self))
    ws_photo_view_give_up (self);
  else if (mode == DRAG_NEW)
    ws_photo_view_commit_draft (self);
  else if (mode != DRAG_PAN)
    ws_photo_view_commit_edit (self);
}

/* Stops what the drag does and puts things back; what it was making is given up. */
void
ws_photo_view_cancel_drag (WsPhotoView *self)
{
  if (self->drag_mode == DRAG_NONE)
    return;
  if (self->drag_mode != DRAG_PAN && self->drag_moved)
    ws_photo_view_give_up (self);
  self->drag_mode = DRAG_NONE;
}

static void
drag_cancelled (GtkGesture *gesture, GdkEventSequence *sequence, WsPhotoView *self)
{
  ws_photo_view_cancel_drag (self);
}

/* --- Moving and zooming the photo ------------------------------------------------------- */

static void
pan_begin (GtkGestureDrag *gesture, double x, double y, WsPhotoView *self)
{
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  self->drag_last_x = self->drag_last_y = 0;
}

static void
pan_update (GtkGestureDrag *gesture, double dx, double dy, WsPhotoView *self)
{
  pan_to (self, dx, dy);
}

/* The wheel zooms; two fingers on a touchpad move, as they do everywhere, and zoom with Ctrl. */
static gboolean
scrolled (GtkEventControllerScroll *controller, double dx, double dy, WsPhotoView *self)
{
  GtkEventController *base = GTK_EVENT_CONTROLLER (controller);
  GdkDevice *device = gtk_event_controller_get_current_event_device (base);
  GdkModifierType state = gtk_event_controller_get_current_event_state (base);
  gboolean fingers = device != NULL && gdk_device_get_source (device) == GDK_SOURCE_TOUCHPAD;

  if (self->port.photo_width <= 0)
    return GDK_EVENT_PROPAGATE;
  if (fingers && !(state & GDK_CONTROL_MASK))
    {
      ws_photo_viewport_pan (&self->port, -dx * 24, -dy * 24);
      ws_photo_view_moved (self);
    }
  else
    ws_photo_view_zoom_by (self, self->pointer_x, self->pointer_y, pow (WHEEL_FACTOR, -dy));
  return GDK_EVENT_STOP;
}

static void
pinch_begin (GtkGesture *gesture, GdkEventSequence *sequence, WsPhotoView *self)
{
  /* The first finger has begun a drag that was not meant. */
  ws_photo_view_cancel_drag (self);
  gtk_gesture_set_state (self->drag, GTK_EVENT_SEQUENCE_DENIED);
  gtk_gesture_set_state (gesture, GTK_EVENT_SEQUENCE_CLAIMED);
  self->pinch_zoom = self->port.zoom;
  gtk_gesture_get_bounding_box_center (gesture, &self->pinch_x, &self->pinch_y);
}

static void
pinch_changed (GtkGestureZoom *gesture, double scale, WsPhotoView *self)
{
  double x, y;

  if (!gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y))
    return;
  ws_photo_viewport_pan (&self->port, x - self->pinch_x, y - self->pinch_y);
  self->pinch_x = x;
  self->pinch_y = y;
  ws_photo_viewport_zoom_at (&self->port, x, y, self->pinch_zoom * scale);
  ws_photo_view_moved (self);
}

static GtkGesture *
drag_new_for (WsPhotoView *self, guint button)
{
  GtkGesture *drag = gtk_gesture_drag_new ();

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), button);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  return drag;
}

void
ws_photo_view_input_init (WsPhotoView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *scroll = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);

  self->drag = drag_new_for (self, GDK_BUTTON_PRIMARY);
  g_signal_connect (self->drag, "drag-begin", G_CALLBACK (drag_begin), self);
  g_signal_connect (self->drag, "drag-update", G_CALLBACK (drag_update), self);
  g_signal_connect (self->drag, "drag-end", G_CALLBACK (drag_end), self);
  g_signal_connect (self->drag, "cancel", G_CALLBACK (drag_cancelled), self);

  self->pan = drag_new_for (self, GDK_BUTTON_MIDDLE);
  g_signal_connect (self->pan, "drag-begin", G_CALLBACK (pan_begin), self);
  g_signal_connect (self->pan, "drag-update", G_CALLBACK (pan_update), self);

  self->pinch = gtk_gesture_zoom_new ();
  g_signal_connect (self->pinch, "begin", G_CALLBACK (pinch_begin), self);
  g_signal_connect (self->pinch, "scale-changed", G_CALLBACK (pinch_changed), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (self->pinch));

  g_signal_connect (motion, "motion", G_CALLBACK (pointer_moved), self);
  gtk_widget_add_controller (widget, motion);
  g_signal_connect (scroll, "scroll", G_CALLBACK (scrolled), self);
  gtk_widget_add_controller (widget, scroll);
}
