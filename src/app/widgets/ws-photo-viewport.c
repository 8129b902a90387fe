/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-photo-viewport.h"

#include <math.h>

void
ws_photo_viewport_init (WsPhotoViewport *port)
{
  *port = (WsPhotoViewport) { .scale = 1, .fit = TRUE, .zoom = 1 };
}

/* Where one axis of the photo starts: in the middle if it is smaller than the view, else with its edges not
 * inside the view, but for the margin. */
static double
settled (double start, double size, double view)
{
  double margin = MIN (WS_PHOTO_VIEWPORT_MARGIN, view / 4);

  if (size + 2 * margin <= view)
    return (view - size) / 2;
  return CLAMP (start, view - size - margin, margin);
}

static void
settle (WsPhotoViewport *port)
{
  port->anchored = FALSE;
  port->x = settled (port->x, port->photo_width * port->zoom, port->view_width);
  port->y = settled (port->y, port->photo_height * port->zoom, port->view_height);
}

static double
one_to_one (const WsPhotoViewport *port)
{
  return 1.0 / port->scale;
}

double
ws_photo_viewport_get_fit_zoom (const WsPhotoViewport *port)
{
  double mx = MIN (WS_PHOTO_VIEWPORT_MARGIN, port->view_width / 4);
  double my = MIN (WS_PHOTO_VIEWPORT_MARGIN, port->view_height / 4);
  double zoom;

  if (port->photo_width <= 0 || port->photo_height <= 0)
    return one_to_one (port);
  zoom = MIN ((port->view_width - 2 * mx) / port->photo_width, (port->view_height - 2 * my) / port->photo_height);
  /* A widget not yet given a size still needs a zoom that can be divided by. */
  return CLAMP (zoom, 1e-6, WS_PHOTO_VIEWPORT_MAX_ZOOM * one_to_one (port));
}

void
ws_photo_viewport_fit (WsPhotoViewport *port)
{
  port->fit = TRUE;
  port->zoom = ws_photo_viewport_get_fit_zoom (port);
  settle (port);
}

void
ws_photo_viewport_set_view (WsPhotoViewport *port, double width, double height, int scale)
{
  double middle_x = (port->view_width / 2 - port->x) / port->zoom;
  double middle_y = (port->view_height / 2 - port->y) / port->zoom;

  if (width == port->view_width && height == port->view_height && scale == port->scale)
    return;
  port->view_width = MAX (width, 0);
  port->view_height = MAX (height, 0);
  port->scale = MAX (scale, 1);
  if (port->fit)
    {
      ws_photo_viewport_fit (port);
      return;
    }
  port->x = port->view_width / 2 - middle_x * port->zoom;
  port->y = port->view_height / 2 - middle_y * port->zoom;
  settle (port);
}

void
ws_photo_viewport_set_photo (WsPhotoViewport *port, int width, int height)
{
  port->photo_width = MAX (width, 0);
  port->photo_height = MAX (height, 0);
  ws_photo_viewport_fit (port);
}

static double
limited_zoom (const WsPhotoViewport *port, double zoom)
{
  double fit = ws_photo_viewport_get_fit_zoom (port);

  return CLAMP (zoom, MIN (fit, one_to_one (port)), WS_PHOTO_VIEWPORT_MAX_ZOOM * one_to_one (port));
}

void
ws_photo_viewport_zoom_at (WsPhotoViewport *port, double x, double y, double zoom)
{
  double old = port->zoom, point_x, point_y;

  if (port->photo_width <= 0 || port->photo_height <= 0 || !isfinite (zoom))
    return;
  /* What is kept is the point that is seen there, so the rounding of the drawing counts, but only once: the steps
   * of one zoom would else add up theirs. */
  if (!port->anchored || fabs (x - port->anchor_x) > 1e-6 || fabs (y - port->anchor_y) > 1e-6)
    ws_photo_viewport_get_origin (port, &port->x, &port->y);
  point_x = CLAMP ((x - port->x) / old, 0, port->photo_width);
  point_y = CLAMP ((y - port->y) / old, 0, port->photo_height);
  port->zoom = limited_zoom (port, zoom);
  port->fit = port->zoom == ws_photo_viewport_get_fit_zoom (port);
  port->x = x - point_x * port->zoom;
  port->y = y - point_y * port->zoom;
  if (port->zoom < old || port->fit)
    settle (port);
  port->anchored = TRUE;
  port->anchor_x = x;
  port->anchor_y = y;
}

/* One axis moved: no farther than settled, unless zooming left it farther off already. */
static double
panned (double start, double by, double size, double view)
{
  double margin = MIN (WS_PHOTO_VIEWPORT_MARGIN, view / 4);
  double low, high;

  if (size + 2 * margin <= view)
    low = high = (view - size) / 2;
  else
    {
      low = view - size - margin;
      high = margin;
    }
  return CLAMP (start + by, MIN (low, start), MAX (high, start));
}

void
ws_photo_viewport_pan (WsPhotoViewport *port, double dx, double dy)
{
  double x = port->x, y = port->y;

  port->x = panned (x, dx, port->photo_width * port->zoom, port->view_width);
  port->y = panned (y, dy, port->photo_height * port->zoom, port->view_height);
  /* Two fingers move and zoom in turns: the place they zoom about goes with them. */
  port->anchor_x += port->x - x;
  port->anchor_y += port->y - y;
}

void
ws_photo_viewport_show (WsPhotoViewport *port, const WsRect *region)
{
  const double around = 1.4;
  double width = region->width * port->photo_width * around;
  double height = region->height * port->photo_height * around;
  double fit = ws_photo_viewport_get_fit_zoom (port);

  if (!(width > 0 && height > 0))
    return;
  port->zoom = MIN (port->view_width / width, port->view_height / height);
  port->zoom = CLAMP (port->zoom, fit, MAX (fit, one_to_one (port)));
  port->fit = port->zoom == fit;
  port->x = port->view_width / 2 - (region->x + region->width / 2) * port->photo_width * port->zoom;
  port->y = port->view_height / 2 - (region->y + region->height / 2) * port->photo_height * port->zoom;
  settle (port);
}

static double
revealing (double start, double size, double view)
{
  double margin = MIN (WS_PHOTO_VIEWPORT_MARGIN, view / 4);

  if (start < margin)
    return margin - start;
  if (start + size > view - margin)
    return MAX (view - margin - start - size, margin - start);
  return 0;
}

void
ws_photo_viewport_reveal (WsPhotoViewport *port, const WsRect *region)
{
  WsRect r = ws_photo_viewport_rect_to_view (port, region);

  ws_photo_viewport_pan (port, revealing (r.x, r.width, port->view_width),
                         revealing (r.y, r.height, port->view_height));
}

void
ws_photo_viewport_get_origin (const WsPhotoViewport *port, double *x, double *y)
{
  *x = round (port->x * port->scale) / port->scale;
  *y = round (port->y * port->scale) / port->scale;
}

WsPoint
ws_photo_viewport_to_photo (const WsPhotoViewport *port, double x, double y)
{
  double ox, oy;

  ws_photo_viewport_get_origin (port, &ox, &oy);
  return (WsPoint) { (x - ox) / (port->zoom * MAX (port->photo_width, 1)),
                     (y - oy) / (port->zoom * MAX (port->photo_height, 1)) };
}

WsPoint
ws_photo_viewport_to_view (const WsPhotoViewport *port, double x, double y)
{
  double ox, oy;

  ws_photo_viewport_get_origin (port, &ox, &oy);
  return (WsPoint) { ox + x * port->photo_width * port->zoom, oy + y * port->photo_height * port->zoom };
}

WsRect
ws_photo_viewport_rect_to_view (const WsPhotoViewport *port, const WsRect *rect)
{
  WsPoint corner = ws_photo_viewport_to_view (port, rect->x, rect->y);

  return (WsRect) { corner.x, corner.y, rect->width * port->photo_width * port->zoom,
                    rect->height * port->photo_height * port->zoom };
}
