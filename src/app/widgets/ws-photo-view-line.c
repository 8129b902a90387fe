/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An outline that is begun: corners, set by clicks or where the arrows lead a pen, and the ways between them, straight or
 * along the edges. It is handed in when it is closed. */
#include "ws-photo-view-private.h"

#include <math.h>

/* Drawing by hand, a corner every so many widget px. */
#define STROKE_STEP 5.0
/* Two clicks in one place, widget px. */
#define SAME_PLACE 4.0

void
ws_photo_view_line_init (WsPhotoView *self)
{
  Line *line = &self->line;

  line->corners = g_array_new (FALSE, FALSE, sizeof (WsPoint));
  line->legs = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
  line->pen_leg = g_array_new (FALSE, FALSE, sizeof (WsPoint));
}

void
ws_photo_view_line_free (WsPhotoView *self)
{
  g_array_unref (self->line.corners);
  g_ptr_array_unref (self->line.legs);
  g_array_unref (self->line.pen_leg);
  ws_shape_free (self->line.closed);
}

gboolean
ws_photo_view_draws_lines (WsPhotoView *self)
{
  return self->tool == WS_PHOTO_VIEW_OUTLINE || self->tool == WS_PHOTO_VIEW_EDGE;
}

gboolean
ws_photo_view_line_begun (WsPhotoView *self)
{
  return self->line.corners->len > 0 || self->line.by_keys;
}

static void
forget (Line *line)
{
  g_array_set_size (line->corners, 0);
  g_ptr_array_set_size (line->legs, 0);
  g_array_set_size (line->pen_leg, 0);
  line->by_keys = line->pen_moved = line->by_hand = FALSE;
}

void
ws_photo_view_line_drop (WsPhotoView *self)
{
  forget (&self->line);
  g_clear_pointer (&self->line.closed, ws_shape_free);
}

static WsPoint
nth_corner (Line *line, guint i)
{
  return g_array_index (line->corners, WsPoint, i);
}

/* Whether a place of the widget is within @hit of a corner. */
static gboolean
is_at (WsPhotoView *self, guint corner, double x, double y, double hit)
{
  WsPoint c = nth_corner (&self->line, corner);
  WsPoint place = ws_photo_viewport_to_view (&self->port, c.x, c.y);

  return hypot (place.x - x, place.y - y) <= hit;
}

/* --- The ways ------------------------------------------------------------------------------------------- */

/* From @from, which is in it, to @to, which is not. */
static void
follow (WsPhotoView *self, WsPoint from, WsPoint to, guint n_before, GArray *leg)
{
  const WsEdgePath *path = self->edges.path;
  g_autoptr (GArray) before = g_array_new (FALSE, FALSE, sizeof (WsPoint));

  g_array_set_size (leg, 0);
  if (self->tool != WS_PHOTO_VIEW_EDGE || path == NULL)
    {
      g_array_append_val (leg, from);
      return;
    }
  for (guint i = 0; i < n_before; i++)
    {
      GArray *earlier = g_ptr_array_index (self->line.legs, i);

      g_array_append_vals (before, earlier->data, earlier->len);
    }
  from = ws_edge_path_snap (path, &from);
  to = ws_edge_path_snap (path, &to);
  ws_edge_path_follow (path, &from, &to, before, leg);
}

static void
follow_to_pen (WsPhotoView *self)
{
  Line *line = &self->line;

  g_array_set_size (line->pen_leg, 0);
  if (line->corners->len > 0)
    follow (self, nth_corner (line, line->corners->len - 1), line->pen, line->legs->len, line->pen_leg);
}

void
ws_photo_view_line_refollow (WsPhotoView *self, gboolean all)
{
  Line *line = &self->line;

  for (guint i = 0; i < line->legs->len; i++)
    if (all || ((GArray *) g_ptr_array_index (line->legs, i))->len <= 1)
      follow (self, nth_corner (line, i), nth_corner (line, i + 1), i, g_ptr_array_index (line->legs, i));
  follow_to_pen (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* --- Corners ----------------------------------------------------------------------------------------------- */

static void
changed (WsPhotoView *self)
{
  follow_to_pen (self);
  ws_photo_view_update_words (self);
}

static void
add_corner (WsPhotoView *self, WsPoint corner)
{
  Line *line = &self->line;

  if (line->corners->len >= WS_EDGE_PATH_MAX_CORNERS && !line->by_hand)
    return;
  if (line->corners->len >= WS_SHAPE_MAX_POINTS)
    return;
  g_clear_pointer (&line->closed, ws_shape_free);
  corner.x = CLAMP (corner.x, 0, 1);
  corner.y = CLAMP (corner.y, 0, 1);
  if (line->corners->len > 0)
    {
      GArray *leg = g_array_new (FALSE, FALSE, sizeof (WsPoint));

      follow (self, nth_corner (line, line->corners->len - 1), corner, line->legs->len, leg);
      g_ptr_array_add (line->legs, leg);
    }
  g_array_append_val (line->corners, corner);
  line->pen = corner;
  line->pen_moved = FALSE;
  changed (self);
}

void
ws_photo_view_line_take_back (WsPhotoView *self)
{
  Line *line = &self->line;

  if (line->corners->len > 0)
    g_array_set_size (line->corners, line->corners->len - 1);
  if (line->legs->len > 0)
    g_ptr_array_set_size (line->legs, line->legs->len - 1);
  if (line->corners->len == 0)
    line->by_hand = FALSE;
  /* Enter would else close the line where nothing is. */
  line->pen_moved = TRUE;
  changed (self);
}

/* --- Closing ------------------------------------------------------------------------------------------------ */

/* All ways together, and from the last corner to the first. */
static GArray *
whole_line (WsPhotoView *self)
{
  Line *line = &self->line;
  GArray *whole = g_array_new (FALSE, FALSE, sizeof (WsPoint));
  g_autoptr (GArray) last = g_array_new (FALSE, FALSE, sizeof (WsPoint));

  for (guint i = 0; i < line->legs->len; i++)
    {
      GArray *leg = g_ptr_array_index (line->legs, i);

      g_array_append_vals (whole, leg->data, leg->len);
    }
  follow (self, nth_corner (line, line->corners->len - 1), nth_corner (line, 0), line->legs->len, last);
  g_array_append_vals (whole, last->data, last->len);
  return whole;
}

/* TRUE if the edges that are known now reach round all corners. */
static gboolean
edges_hold (WsPhotoView *self)
{
  WsRect region;

  if (self->tool != WS_PHOTO_VIEW_EDGE || self->edges.path == NULL || self->line.by_hand)
    return FALSE;
  region = ws_edge_path_get_region (self->edges.path);
  for (guint i = 0; i < self->line.corners->len; i++)
    {
      WsPoint c = nth_corner (&self->line, i);

      if (c.x < region.x || c.y < region.y || c.x > region.x + region.width || c.y > region.y + region.height)
        return FALSE;
    }
  return TRUE;
}

static WsShape *
make_shape (WsPhotoView *self)
{
  Line *line = &self->line;
  const WsPhotoViewport *port = &self->port;
  g_autoptr (GArray) whole = NULL;

  if (edges_hold (self))
    return ws_edge_path_outline (self->edges.path, (const WsPoint *) line->corners->data, line->corners->len);
  if (self->tool == WS_PHOTO_VIEW_OUTLINE && !line->by_hand)
    return ws_shape_new_outline ((const WsPoint *) line->corners->data, line->corners->len);
  whole = whole_line (self);
  return ws_edge_path_simplify ((const WsPoint *) whole->data, whole->len, port->photo_width * port->zoom,
                                port->photo_height * port->zoom);
}

/* Hands it in. Too few corners, or a line that encloses nothing, are left as they are. */
static void
close_line (WsPhotoView *self)
{
  g_autoptr (WsShape) shape = self->line.corners->len >= 3 ? make_shape (self) : NULL;

  if (shape == NULL)
    return;
  forget (&self->line);
  self->line.closed = ws_shape_copy (shape);
  ws_photo_view_update_words (self);
  g_signal_emit (self, ws_photo_view_signals[self->cover ? COVER_DRAWN : MARK_DRAWN], 0, shape);
}

/* --- By pointer ------------------------------------------------------------------------------------------------ */

void
ws_photo_view_line_click (WsPhotoView *self, double x, double y, double hit)
{
  guint n = self->line.corners->len;

  if (n > 0 && is_at (self, n - 1, x, y, SAME_PLACE))
    close_line (self);
  else if (n >= 3 && is_at (self, 0, x, y, hit / 2))
    close_line (self);
  else
    add_corner (self, ws_photo_viewport_to_photo (&self->port, x, y));
}

void
ws_photo_view_line_stroke (WsPhotoView *self, double x, double y)
{
  guint n = self->line.corners->len;

  if (n > 0 && is_at (self, n - 1, x, y, STROKE_STEP))
    return;
  /* Along the edges a drag is a click where it begins and one where it ends. */
  self->line.by_hand = self->line.by_hand || self->tool == WS_PHOTO_VIEW_OUTLINE;
  add_corner (self, ws_photo_viewport_to_photo (&self->port, x, y));
}

void
ws_photo_view_line_lift (WsPhotoView *self, double x, double y, double hit)
{
  if (self->line.corners->len >= 3 && is_at (self, 0, x, y, hit))
    close_line (self);
  else
    ws_photo_view_line_stroke (self, x, y);
}

void
ws_photo_view_line_point (WsPhotoView *self, double x, double y)
{
  WsPoint pen = ws_photo_viewport_to_photo (&self->port, x, y);

  if (self->line.corners->len == 0)
    return;
  self->line.pen = (WsPoint) { CLAMP (pen.x, 0, 1), CLAMP (pen.y, 0, 1) };
  if (self->line.by_keys)
    {
      self->line.by_keys = FALSE;
      ws_photo_view_update_words (self);
    }
  follow_to_pen (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* --- By keys ---------------------------------------------------------------------------------------------------- */

void
ws_photo_view_line_begin_by_keys (WsPhotoView *self)
{
  WsRect seen;

  if (!ws_photo_view_get_visible (self, &seen))
    return;
  g_clear_pointer (&self->line.closed, ws_shape_free);
  self->line.by_keys = self->line.pen_moved = TRUE;
  self->line.pen = (WsPoint) { seen.x + seen.width / 2, seen.y + seen.height / 2 };
  changed (self);
}

void
ws_photo_view_line_step (WsPhotoView *self, double dx, double dy)
{
  Line *line = &self->line;
  gboolean took_over = !line->by_keys;

  line->by_keys = line->pen_moved = TRUE;
  line->pen.x = CLAMP (line->pen.x + dx, 0, 1);
  line->pen.y = CLAMP (line->pen.y + dy, 0, 1);
  follow_to_pen (self);
  if (took_over)
    ws_photo_view_update_words (self);
}

void
ws_photo_view_line_enter (WsPhotoView *self)
{
  if (self->line.by_keys && self->line.pen_moved)
    add_corner (self, self->line.pen);
  else
    close_line (self);
}

gboolean
ws_photo_view_line_get_bounds (WsPhotoView *self, WsRect *bounds)
{
  Line *line = &self->line;
  double x0 = line->pen.x, y0 = line->pen.y, x1 = x0, y1 = y0;

  if (!ws_photo_view_line_begun (self))
    return FALSE;
  for (guint i = 0; i < line->corners->len; i++)
    {
      WsPoint c = nth_corner (line, i);

      x0 = MIN (x0, c.x);
      y0 = MIN (y0, c.y);
      x1 = MAX (x1, c.x);
      y1 = MAX (y1, c.y);
    }
  *bounds = (WsRect) { x0, y0, x1 - x0, y1 - y0 };
  return TRUE;
}
