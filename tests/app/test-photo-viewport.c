/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plain geometry, checked by hand: the numbers in the tables are sums anybody can redo. */
#include <math.h>

#include "ws-photo-viewport.h"

static WsPhotoViewport
viewport (double width, double height, int scale, int photo_width, int photo_height)
{
  WsPhotoViewport port;

  ws_photo_viewport_init (&port);
  ws_photo_viewport_set_view (&port, width, height, scale);
  ws_photo_viewport_set_photo (&port, photo_width, photo_height);
  return port;
}

static void
fits (void)
{
  static const struct { double w, h; int scale, pw, ph; double zoom, x, y; } cases[] = {
    { 824, 624, 1, 800, 600, 1, 12, 12 },
    { 424, 624, 1, 800, 600, 0.5, 12, 162 },
    { 824, 324, 1, 600, 800, 0.375, 299.5, 12 },
    { 424, 324, 2, 800, 600, 0.5, 12, 12 },
    { 1024, 1024, 1, 10, 10, 8, 472, 472 },     /* never beyond 8 to 1 */
    { 1024, 1024, 2, 10, 10, 4, 492, 492 },     /* …of the screen's own px */
  };

  g_test_summary ("A photo is fitted inside the margin and in the middle");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WsPhotoViewport port = viewport (cases[i].w, cases[i].h, cases[i].scale, cases[i].pw, cases[i].ph);

      g_assert_cmpfloat_with_epsilon (port.zoom, cases[i].zoom, 1e-12);
      g_assert_cmpfloat_with_epsilon (port.x, cases[i].x, 1e-9);
      g_assert_cmpfloat_with_epsilon (port.y, cases[i].y, 1e-9);
      g_assert_true (port.fit);
    }
}

static void
there_and_back (void)
{
  g_test_summary ("A place of the widget as fractions, and back, at any zoom");
  for (double zoom = 0.05; zoom < 9; zoom *= 1.37)
    {
      WsPhotoViewport port = viewport (731, 517, 1, 6011, 4003);

      ws_photo_viewport_zoom_at (&port, 300, 200, zoom);
      for (double x = 0.1; x < 1; x += 0.2)
        {
          WsPoint view = ws_photo_viewport_to_view (&port, x, 1 - x);
          WsPoint photo = ws_photo_viewport_to_photo (&port, view.x, view.y);

          g_assert_cmpfloat_with_epsilon (photo.x, x, 1e-12);
          g_assert_cmpfloat_with_epsilon (photo.y, 1 - x, 1e-12);
        }
    }
}

static void
zoom_keeps_the_point (void)
{
  static const WsPoint places[] = { { 400, 300 }, { 150, 200 }, { 700, 120 }, { 330, 555 } };

  g_test_summary ("Zooming in, step by step, keeps the point under the pointer within half a screen px");
  for (int scale = 1; scale <= 2; scale++)
    for (guint i = 0; i < G_N_ELEMENTS (places); i++)
      {
        WsPhotoViewport port = viewport (800, 600, scale, 4000, 3000);
        WsPoint point = ws_photo_viewport_to_photo (&port, places[i].x, places[i].y);

        for (int step = 0; step < 25; step++)
          {
            WsPoint now;

            ws_photo_viewport_zoom_at (&port, places[i].x, places[i].y, port.zoom * 1.25);
            now = ws_photo_viewport_to_view (&port, point.x, point.y);
            g_assert_cmpfloat (fabs (now.x - places[i].x), <=, 0.5 / scale + 1e-9);
            g_assert_cmpfloat (fabs (now.y - places[i].y), <=, 0.5 / scale + 1e-9);
          }
        g_assert_cmpfloat_with_epsilon (port.zoom, 8.0 / scale, 1e-12);
        g_assert_false (port.fit);
        for (int step = 0; step < 40; step++)
          ws_photo_viewport_zoom_at (&port, places[i].x, places[i].y, port.zoom / 1.25);
        g_assert_true (port.fit);
        g_assert_cmpfloat_with_epsilon (port.zoom, ws_photo_viewport_get_fit_zoom (&port), 1e-12);
      }
}

static void
zoom_is_bounded (void)
{
  WsPhotoViewport port = viewport (800, 600, 1, 4000, 3000);

  g_test_summary ("No zoom beyond the bounds, and none that is no number");
  ws_photo_viewport_zoom_at (&port, 1, 1, 1e9);
  g_assert_cmpfloat (port.zoom, ==, 8);
  ws_photo_viewport_zoom_at (&port, 1, 1, -3);
  g_assert_cmpfloat (port.zoom, ==, ws_photo_viewport_get_fit_zoom (&port));
  ws_photo_viewport_zoom_at (&port, 1, 1, NAN);
  ws_photo_viewport_zoom_at (&port, 1, 1, INFINITY);
  g_assert_cmpfloat (port.zoom, ==, ws_photo_viewport_get_fit_zoom (&port));

  port = viewport (0, 0, 1, 4000, 3000);
  g_assert_cmpfloat (port.zoom, >, 0);
}

static void
pan_stops_at_the_edges (void)
{
  WsPhotoViewport port = viewport (800, 600, 1, 4000, 3000);

  g_test_summary ("The photo cannot be moved away, and a photo that fits cannot be moved at all");
  ws_photo_viewport_pan (&port, 500, 500);
  g_assert_cmpfloat_with_epsilon (port.x, (800 - 4000 * port.zoom) / 2, 1e-9);
  ws_photo_viewport_zoom_at (&port, 400, 300, 1);
  ws_photo_viewport_pan (&port, 1e6, 1e6);
  g_assert_cmpfloat (port.x, ==, 12);
  g_assert_cmpfloat (port.y, ==, 12);
  ws_photo_viewport_pan (&port, -1e6, -1e6);
  g_assert_cmpfloat (port.x, ==, 800 - 4000 - 12);
  g_assert_cmpfloat (port.y, ==, 600 - 3000 - 12);
}

static void
shows_a_region (void)
{
  WsPhotoViewport port = viewport (800, 600, 1, 4000, 3000);
  WsRect region = { 0.5, 0.5, 0.1, 0.1 };
  WsRect place;

  g_test_summary ("A region is shown in the middle, whole, not beyond 1:1");
  ws_photo_viewport_show (&port, &region);
  place = ws_photo_viewport_rect_to_view (&port, &region);
  g_assert_cmpfloat_with_epsilon (place.x + place.width / 2, 400, 1);
  g_assert_cmpfloat_with_epsilon (place.y + place.height / 2, 300, 1);
  g_assert_cmpfloat (place.width, <=, 800);
  g_assert_cmpfloat (port.zoom, ==, 1);

  region = (WsRect) { 0.95, 0.95, 0.01, 0.01 };
  ws_photo_viewport_fit (&port);
  ws_photo_viewport_zoom_at (&port, 0, 0, 1);
  ws_photo_viewport_reveal (&port, &region);
  place = ws_photo_viewport_rect_to_view (&port, &region);
  g_assert_cmpfloat (place.x, >=, 0);
  g_assert_cmpfloat (place.x + place.width, <=, 800);
  g_assert_cmpfloat (place.y + place.height, <=, 600);
}

static void
resizing_keeps_the_middle (void)
{
  WsPhotoViewport port = viewport (800, 600, 1, 4000, 3000);
  WsPoint before, after;

  g_test_summary ("A window that changes its size keeps what is in the middle");
  ws_photo_viewport_zoom_at (&port, 100, 500, 1);
  before = ws_photo_viewport_to_photo (&port, 400, 300);
  ws_photo_viewport_set_view (&port, 360, 500, 1);
  after = ws_photo_viewport_to_photo (&port, 180, 250);
  g_assert_cmpfloat_with_epsilon (before.x, after.x, 1.0 / 4000);
  g_assert_cmpfloat_with_epsilon (before.y, after.y, 1.0 / 3000);
  g_assert_cmpfloat (port.zoom, ==, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/photo-viewport/fits", fits);
  g_test_add_func ("/app/photo-viewport/there-and-back", there_and_back);
  g_test_add_func ("/app/photo-viewport/zoom-keeps-the-point", zoom_keeps_the_point);
  g_test_add_func ("/app/photo-viewport/zoom-is-bounded", zoom_is_bounded);
  g_test_add_func ("/app/photo-viewport/pan-stops-at-the-edges", pan_stops_at_the_edges);
  g_test_add_func ("/app/photo-viewport/shows-a-region", shows_a_region);
  g_test_add_func ("/app/photo-viewport/resizing-keeps-the-middle", resizing_keeps_the_middle);
  return g_test_run ();
}
