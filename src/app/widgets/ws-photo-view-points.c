/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The points of the selected outline: found under the pointer, moved, added and removed. Each is a change of the mark. */
#include "ws-photo-view-private.h"

#include <math.h>

const WsShape *
ws_photo_view_selected_outline (WsPhotoView *self)
{
  WsPhotoViewMark *mark = ws_photo_view_find_mark (self, self->selected);
  const WsShape *shape = mark != NULL ? ws_photo_view_mark_shape (self, mark) : NULL;

  return shape != NULL && shape->kind == WS_SHAPE_OUTLINE ? shape : NULL;
}

static WsPoint
place_of (WsPhotoView *self, const WsShape *shape, guint i)
{
  const WsPoint *p = &shape->points[i % shape->n_points];

  return ws_photo_viewport_to_view (&self->port, p->x, p->y);
}

int
ws_photo_view_point_at (WsPhotoView *self, double x, double y, double hit)
{
  const WsShape *shape = ws_photo_view_selected_outline (self);
  double least = hit / 2;
  int nearest = -1;

  for (guint i = 0; shape != NULL && i < shape->n_points; i++)
    {
      WsPoint place = place_of (self, shape, i);
      double distance = hypot (place.x - x, place.y - y);

      if (distance <= least)
        {
          least = distance;
          nearest = (int) i;
        }
    }
  return nearest;
}

int
ws_photo_view_point_before (WsPhotoView *self, double x, double y, double hit)
{
  const WsShape *shape = ws_photo_view_selected_outline (self);
  double least = hit / 2;
  int nearest = -1;

  for (guint i = 0; shape != NULL && i < shape->n_points; i++)
    {
      WsPoint a = place_of (self, shape, i), b = place_of (self, shape, i + 1);
      double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
      double along = square > 0 ? CLAMP (((x - a.x) * dx + (y - a.y) * dy) / square, 0, 1) : 0;
      double distance = hypot (x - a.x - along * dx, y - a.y - along * dy);

      if (distance <= least)
        {
          least = distance;
          nearest = (int) i;
        }
    }
  return nearest;
}

static WsPoint
inside (WsPoint place)
{
  return (WsPoint) { CLAMP (place.x, 0, 1), CLAMP (place.y, 0, 1) };
}

/* Puts the changed points into the mark; points that enclose nothing leave it as it is. */
static gboolean
put (WsPhotoView *self, const GArray *points)
{
  WsShape *changed = ws_shape_new_outline ((const WsPoint *) points->data, points->len);

  if (changed == NULL)
    return FALSE;
  ws_photo_view_take_edit (self, changed);
  return TRUE;
}

static GArray *
begin (WsPhotoView *self)
{
  const WsShape *shape;
  GArray *points = g_array_new (FALSE, FALSE, sizeof (WsPoint));

  ws_photo_view_begin_edit (self, self->selected);
  shape = ws_photo_view_selected_outline (self);
  g_array_append_vals (points, shape->points, shape->n_points);
  return points;
}

void
ws_photo_view_move_point (WsPhotoView *self, int point, WsPoint place)
{
  g_autoptr (GArray) points = begin (self);

  if (point < 0 || point >= (int) points->len)
    return;
  g_array_index (points, WsPoint, point) = inside (place);
  put (self, points);
}

void
ws_photo_view_add_point (WsPhotoView *self, int after, WsPoint place)
{
  g_autoptr (GArray) points = begin (self);
  WsPoint point = inside (place);

  if (after < 0 || after >= (int) points->len || points->len >= WS_SHAPE_MAX_POINTS)
    return;
  g_array_insert_val (points, after + 1, point);
  put (self, points);
}

gboolean
ws_photo_view_remove_point (WsPhotoView *self, int point)
{
  g_autoptr (GArray) points = begin (self);

  if (point < 0 || point >= (int) points->len || points->len <= 3)
    return FALSE;
  g_array_remove_index (points, point);
  return put (self, points);
}

void
ws_photo_view_set_point (WsPhotoView *self, int point)
{
  const WsShape *shape = ws_photo_view_selected_outline (self);
  int n = shape != NULL ? (int) shape->n_points : 0;

  point = point < 0 || n == 0 ? -1 : MIN (point, n - 1);
  if (point == self->point)
    return;
  self->point = point;
  ws_photo_view_update_words (self);
}
