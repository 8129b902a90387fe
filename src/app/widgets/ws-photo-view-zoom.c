/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Moving and zooming the photo. */
#include "ws-photo-view-private.h"

void
ws_photo_view_moved (WsPhotoView *self)
{
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
  ws_photo_view_load_level_later (self);
  ws_photo_view_update_edges (self);
  g_object_notify_by_pspec (G_OBJECT (self), ws_photo_view_props[PROP_ZOOM]);
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

/* What is in the middle of the view, as fractions. */
static WsPoint
middle_of (const WsPhotoViewport *port)
{
  return (WsPoint) { (port->view_width / 2 - port->x) / (port->zoom * MAX (port->photo_width, 1)),
                     (port->view_height / 2 - port->y) / (port->zoom * MAX (port->photo_height, 1)) };
}

/* Photos of another size, lying or upright, begin alike when they fit. */
static double
zoom_beyond_fit (const WsPhotoViewport *port)
{
  return port->zoom / ws_photo_viewport_get_fit_zoom (port);
}

WsPhotoViewApart
ws_photo_view_get_apart (WsPhotoView *self, WsPhotoView *other)
{
  const WsPhotoViewport *from = &other->port, *port = &self->port;
  WsPoint a = middle_of (from), b = middle_of (port);

  if (port->photo_width <= 0 || from->photo_width <= 0)
    return (WsPhotoViewApart) { 1, 0, 0 };
  return (WsPhotoViewApart) { zoom_beyond_fit (port) / zoom_beyond_fit (from), b.x - a.x, b.y - a.y };
}

void
ws_photo_view_follow_apart (WsPhotoView *self, WsPhotoView *other, const WsPhotoViewApart *apart)
{
  const WsPhotoViewport *from = &other->port;
  WsPhotoViewport *port = &self->port;
  WsPoint middle = middle_of (from);

  if (port->photo_width <= 0 || from->photo_width <= 0)
    return;
  if (from->fit)
    ws_photo_viewport_fit (port);
  else
    {
      port->fit = FALSE;
      port->anchored = FALSE;
      port->zoom = MIN (apart->zoom * zoom_beyond_fit (from) * ws_photo_viewport_get_fit_zoom (port),
                        WS_PHOTO_VIEWPORT_MAX_ZOOM / port->scale);
      port->x = port->view_width / 2 - (middle.x + apart->x) * port->photo_width * port->zoom;
      port->y = port->view_height / 2 - (middle.y + apart->y) * port->photo_height * port->zoom;
    }
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
  ws_photo_view_load_level_later (self);
}

void
ws_photo_view_follow (WsPhotoView *self, WsPhotoView *other)
{
  ws_photo_view_follow_apart (self, other, &(WsPhotoViewApart) { 1, 0, 0 });
}

WsPoint
ws_photo_view_to_view (WsPhotoView *self, double x, double y)
{
  return ws_photo_viewport_to_view (&self->port, x, y);
}
