/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is being made or changed: a draft of a new box or oval, and the changed shape of a mark that is there. Both stay visible
 * after they were handed to the page, until the page sets the marks as it has stored them. */
#include "ws-photo-view-private.h"

#include <math.h>

/* --- Rectangles --------------------------------------------------------------------------- */

WsRect
ws_photo_view_rect_moved (const WsRect *rect, double dx, double dy)
{
  return (WsRect) { CLAMP (rect->x + dx, 0, MAX (1 - rect->width, 0)),
                    CLAMP (rect->y + dy, 0, MAX (1 - rect->height, 0)), rect->width, rect->height };
}

static void
resize_axis (double *start, double *size, gboolean first, gboolean second, double by, double least)
{
  double end = *start + *size, floor_size = MIN (least, *size);

  if (first)
    *start = CLAMP (*start + by, 0, end - floor_size);
  if (second)
    end = CLAMP (end + by, *start + floor_size, 1);
  if (first || second)
    *size = end - *start;
}

WsRect
ws_photo_view_rect_resized (const WsRect *rect, Edges edges, double dx, double dy, WsPoint least)
{
  WsRect r = *rect;

  resize_axis (&r.x, &r.width, edges & EDGE_LEFT, edges & EDGE_RIGHT, dx, least.x);
  resize_axis (&r.y, &r.height, edges & EDGE_TOP, edges & EDGE_BOTTOM, dy, least.y);
  return r;
}

WsRect
ws_photo_view_rect_between (WsPoint a, WsPoint b, gboolean square, int photo_width, int photo_height)
{
  double ax = CLAMP (a.x, 0, 1), ay = CLAMP (a.y, 0, 1);
  double bx = CLAMP (b.x, 0, 1), by = CLAMP (b.y, 0, 1);

  if (square)
    {
      double room_x = (b.x < a.x ? ax : 1 - ax) * photo_width;
      double room_y = (b.y < a.y ? ay : 1 - ay) * photo_height;
      double side = MAX (fabs (bx - ax) * photo_width, fabs (by - ay) * photo_height);

      side = MIN (side, MIN (room_x, room_y));
      bx = ax + (b.x < a.x ? -side : side) / photo_width;
      by = ay + (b.y < a.y ? -side : side) / photo_height;
    }
  return (WsRect) { MIN (ax, bx), MIN (ay, by), fabs (bx - ax), fabs (by - ay) };
}

/* --- A mark that is changed ------------------------------------------------------------ */

static void
set_shape (WsShape **field, WsShape *shape)
{
  ws_shape_free (*field);
  *field = shape;
}

void
ws_photo_view_begin_edit (WsPhotoView *self, const char *id)
{
  WsPhotoViewMark *mark = ws_photo_view_find_mark (self, id);

  if (mark == NULL || g_strcmp0 (self->edit_id, id) == 0)
    return;
  ws_photo_view_commit_edit (self);
  g_free (self->edit_id);
  self->edit_id = g_strdup (id);
  set_shape (&self->edit, ws_shape_copy (mark->shape));
  set_shape (&self->edit_base, ws_shape_copy (mark->shape));
  self->edit_handed_in = FALSE;
}

void
ws_photo_view_set_edit (WsPhotoView *self, const WsRect *bounds)
{
  ws_photo_view_take_edit (self, ws_shape_with_bounds (self->edit_base, bounds));
}

void
ws_photo_view_take_edit (WsPhotoView *self, WsShape *shape)
{
  set_shape (&self->edit, shape);
  self->edit_handed_in = FALSE;
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
ws_photo_view_commit_edit (WsPhotoView *self)
{
  g_autoptr (WsShape) shape = NULL;
  g_autofree char *id = NULL;
  WsPhotoViewMark *mark = ws_photo_view_find_mark (self, self->edit_id);

  if (mark == NULL || self->edit_handed_in || ws_shape_equal (self->edit, self->edit_base))
    return;
  id = g_strdup (self->edit_id);
  shape = ws_shape_copy (self->edit);
  set_shape (&self->edit_base, ws_shape_copy (shape));
  self->edit_handed_in = TRUE;
  g_signal_emit (self, ws_photo_view_signals[MARK_CHANGED], 0, id, shape);
}

/* --- A new mark ----------------------------------------------------------------------------- */

void
ws_photo_view_set_draft (WsPhotoView *self, const WsRect *bounds)
{
  self->has_draft = TRUE;
  self->draft_handed_in = FALSE;
  self->draft = *bounds;
  /* The banner makes room for a mark at the top. */
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
ws_photo_view_commit_draft (WsPhotoView *self)
{
  g_autoptr (WsShape) shape = NULL;

  if (!self->has_draft || self->draft_handed_in || !ws_rect_is_valid (&self->draft))
    return;
  shape = self->tool == WS_PHOTO_VIEW_OVAL ? ws_shape_new_oval (&self->draft) : ws_shape_new_box (&self->draft);
  self->draft_handed_in = TRUE;
  self->draft_by_keys = FALSE;
  ws_photo_view_update_words (self);
  g_signal_emit (self, ws_photo_view_signals[self->cover ? COVER_DRAWN : MARK_DRAWN], 0, shape);
}

void
ws_photo_view_give_up (WsPhotoView *self)
{
  self->has_draft = self->draft_by_keys = self->draft_handed_in = FALSE;
  ws_photo_view_line_drop (self);
  if (!self->edit_handed_in)
    g_clear_pointer (&self->edit_id, g_free);
  g_hash_table_remove_all (self->held_keys);
  ws_photo_view_update_words (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

gboolean
ws_photo_view_delete_selected (WsPhotoView *self)
{
  g_autofree char *id = g_strdup (self->selected);

  if (id == NULL)
    return FALSE;
  ws_photo_view_give_up (self);
  g_signal_emit (self, ws_photo_view_signals[MARK_DELETE], 0, id);
  return TRUE;
}
