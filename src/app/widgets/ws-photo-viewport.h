/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a photo lies in the widget that shows it: zoom, position, and the way from a place in the
 * widget to a fraction of the photo and back. Plain arithmetic, no widget. */
#pragma once

#include <glib.h>

#include "ws-shape.h"

/* Room left around a photo that fits, widget px: marks at its edge keep their handles. */
#define WS_PHOTO_VIEWPORT_MARGIN 12.0
/* The largest zoom: device px per photo px. */
#define WS_PHOTO_VIEWPORT_MAX_ZOOM 8.0

typedef struct
{
  double view_width, view_height;  /* of the widget, in its px */
  int scale;                       /* device px per widget px, at least 1 */
  int photo_width, photo_height;   /* of the upright photo, px; 0: no photo */
  gboolean fit;                    /* the zoom follows the widget's size */
  double zoom;                     /* widget px per photo px, > 0 */
  double x, y;                     /* the photo's top left in the widget, not rounded */
  gboolean anchored;               /* zoomed last, and about this place: */
  double anchor_x, anchor_y;
} WsPhotoViewport;

/* An empty widget without a photo. */
void ws_photo_viewport_init (WsPhotoViewport *port);
/* The widget's size and scale. A photo that fits is fitted again, else the middle stays in the middle. */
void ws_photo_viewport_set_view (WsPhotoViewport *port, double width, double height, int scale);
/* Another photo of @width x @height px; it is fitted. */
void ws_photo_viewport_set_photo (WsPhotoViewport *port, int width, int height);

/* The zoom at which the photo fits, at most the largest zoom. */
double ws_photo_viewport_get_fit_zoom (const WsPhotoViewport *port);
void ws_photo_viewport_fit (WsPhotoViewport *port);
/* Zooms to @zoom (widget px per photo px, limited) and keeps the photo's point under (@x, @y) there. Zooming
 * out may move it, so that no empty room is shown that need not be. */
void ws_photo_viewport_zoom_at (WsPhotoViewport *port, double x, double y, double zoom);
/* Moves the photo by widget px, not beyond its edges. */
void ws_photo_viewport_pan (WsPhotoViewport *port, double dx, double dy);
/* Zooms and moves so that @region (fractions) is in the middle with some of what surrounds it; not beyond 1:1
 * unless the photo is larger than that already when it fits. */
void ws_photo_viewport_show (WsPhotoViewport *port, const WsRect *region);
/* Moves as little as needed for @region (fractions) to be inside the widget. */
void ws_photo_viewport_reveal (WsPhotoViewport *port, const WsRect *region);

/* The photo's top left as drawn: on a whole device px, so that 1:1 is exact. */
void ws_photo_viewport_get_origin (const WsPhotoViewport *port, double *x, double *y);
/* Fractions of the photo at a place of the widget; outside 0-1 beside the photo. */
WsPoint ws_photo_viewport_to_photo (const WsPhotoViewport *port, double x, double y);
/* The place in the widget of a point given in fractions. */
WsPoint ws_photo_viewport_to_view (const WsPhotoViewport *port, double x, double y);
/* The same for a rectangle: fractions to widget px. */
WsRect ws_photo_viewport_rect_to_view (const WsPhotoViewport *port, const WsRect *rect);
