/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pointer. Where the photo lies is read off the screen, from its red rectangle, and not asked of the widget: a drag
 * from corner to corner of the rectangle must give a quarter, a quarter, a half, a half. */
#include <math.h>

#include "photo-view-rig.h"

static void
drag (int x0, int y0, int x1, int y1)
{
  rig_do ("mousemove %d %d mousedown 1 mousemove %d %d mousemove %d %d mouseup 1", x0, y0, (x0 + x1) / 2,
          (y0 + y1) / 2, x1, y1);
}

static void
draws_exactly (void)
{
  Rig *rig = rig_new (900, 700, "/photo/800x600", 800, 600);
  int x0, y0, x1, y1;

  g_test_summary ("At 1:1 a drag from corner to corner of the red rectangle gives exactly its fractions");
  ws_photo_view_set_zoom (rig->view, 1);
  rig_find_red (&x0, &y0, &x1, &y1);
  g_assert_cmpint (x1 - x0, ==, 400);
  g_assert_cmpint (y1 - y0, ==, 300);
  ws_photo_view_set_armed (rig->view, "Stem base");
  drag (x0, y0, x1, y1);
  rig_assert_log (rig, "drawn box 0.2500 0.2500 0.5000 0.5000; ");
  drag (x1, y1, x0, y0);
  rig_assert_log (rig, "drawn box 0.2500 0.2500 0.5000 0.5000; ");
  drag (x0, y1, x1, y0);
  rig_assert_log (rig, "drawn box 0.2500 0.2500 0.5000 0.5000; ");
  /* Beyond the photo's edge: clamped there. */
  drag (x0, y0, 899, 699);
  rig_assert_log (rig, "drawn box 0.2500 0.2500 0.7500 0.7500; ");

  ws_photo_view_set_tool (rig->view, WS_PHOTO_VIEW_OVAL);
  drag (x0, y0, x1, y1);
  rig_assert_log (rig, "drawn oval 0.2500 0.2500 0.5000 0.5000; ");
  rig_free (rig);
}

static void
draws_when_fitted (void)
{
  static const struct { const char *photo; int width, height; } cases[] = {
    { "/photo/4000x3000", 4000, 3000 }, { "/photo/3001x4003", 3001, 4003 }, { "/photo/317x211", 317, 211 },
  };

  g_test_summary ("Fitted, at any odd zoom, the same within one px of the screen");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Rig *rig = rig_new (900, 700, cases[i].photo, cases[i].width, cases[i].height);
      int x0, y0, x1, y1;
      double x, y, w, h, px;

      ws_photo_view_set_armed (rig->view, "Cap");
      rig_find_red (&x0, &y0, &x1, &y1);
      px = 0.5 / (x1 - x0) + 1.0 / cases[i].width;
      drag (x0, y0, x1, y1);
      g_assert_cmpint (sscanf (rig->log->str, "drawn box %lf %lf %lf %lf", &x, &y, &w, &h), ==, 4);
      g_assert_cmpfloat_with_epsilon (x, 0.25, px);
      g_assert_cmpfloat_with_epsilon (y, 0.25, 1.5 * px);
      g_assert_cmpfloat_with_epsilon (w, 0.5, px);
      g_assert_cmpfloat_with_epsilon (h, 0.5, 1.5 * px);
      rig_free (rig);
    }
}

static void
shift_makes_squares (void)
{
  Rig *rig = rig_new (900, 700, "/photo/800x600", 800, 600);
  int x0, y0, x1, y1;

  g_test_summary ("With Shift the mark is as wide as high in pixels, and stays inside the photo");
  ws_photo_view_set_zoom (rig->view, 1);
  ws_photo_view_set_armed (rig->view, "Cap");
  rig_find_red (&x0, &y0, &x1, &y1);
  rig_do ("keydown shift");
  drag (x0, y0, x0 + 200, y0 + 90);
  rig_assert_log (rig, "drawn box 0.2500 0.2500 0.2500 0.3333; ");
  drag (x0, y0, x1, 699);
  rig_do ("keyup shift");
  rig_assert_log (rig, "drawn box 0.2500 0.2500 0.5625 0.7500; ");
  rig_free (rig);
}

static void
slips_are_clicks (void)
{
  Rig *rig = rig_new (900, 700, "/photo/800x600", 800, 600);

  g_test_summary ("A drag below 4 px draws nothing, nor does one that is no thicker; Escape gives a drag up");
  ws_photo_view_set_armed (rig->view, "Cap");
  drag (300, 300, 303, 303);
  drag (300, 300, 400, 302);
  rig_assert_log (rig, "");
  rig_do ("mousemove 300 300 mousedown 1 mousemove 350 350 mousemove 400 400 key Escape mouseup 1");
  rig_assert_log (rig, "");
  rig_do ("key Escape");
  rig_assert_log (rig, "disarm; ");
  drag (300, 300, 400, 400);
  g_assert_true (g_str_has_prefix (rig->log->str, "drawn box"));
  rig_free (rig);
}

static void
selects_and_moves (void)
{
  Rig *rig = rig_new (900, 700, "/photo/800x600", 800, 600);
  int x0, y0, x1, y1;

  g_test_summary ("A click selects, again the larger mark beneath; a drag moves the selected mark, no other");
  ws_photo_view_set_zoom (rig->view, 1);
  rig_find_red (&x0, &y0, &x1, &y1);
  rig_add_mark (rig, "small", "box 0.25 0.25 0.25 0.25", "A", "Cap", WS_PHOTO_VIEW_MARK_INK);
  rig_add_mark (rig, "large", "oval 0.0 0.0 0.75 0.75", "B", "Whole", WS_PHOTO_VIEW_MARK_WEAK);
  drag (x0 + 100, y0 + 75, x0 + 140, y0 + 75);
  rig_assert_log (rig, "");
  rig_do ("mousemove %d %d click 1", x0 + 100, y0 + 75);
  rig_assert_log (rig, "selected small; ");
  rig_do ("click 1");
  rig_assert_log (rig, "selected large; ");
  rig_do ("click 1");
  rig_assert_log (rig, "selected small; ");

  drag (x0 + 100, y0 + 75, x0 + 180, y0 + 75 - 60);
  rig_assert_log (rig, "small changed box 0.3500 0.1500 0.2500 0.2500; ");
  /* The view shows the new place before the page has answered, and goes on from there. */
  drag (x0 + 180, y0 + 15, 1, y0 + 15);
  rig_assert_log (rig, "small changed box 0.0000 0.1500 0.2500 0.2500; ");
  /* The page refused: it sets the marks as they were. */
  ws_photo_view_set_marks (rig->view, rig->marks);
  drag (x0 + 100, y0 + 75, x0 + 100, y0 + 75 + 6);
  rig_assert_log (rig, "small changed box 0.2500 0.2600 0.2500 0.2500; ");

  rig_do ("mousemove %d %d click 1", x1 + 100, y1 + 100);
  rig_assert_log (rig, "selected none; ");
  rig_free (rig);
}

static void
handles_resize (void)
{
  /* The handle's place as shares of the mark; the change of 40, 30 px it must make to left, top, right, bottom. */
  static const struct { double x, y; int left, top, right, bottom; } cases[] = {
    { 0, 0, 1, 1, 0, 0 }, { 0.5, 0, 0, 1, 0, 0 }, { 1, 0, 0, 1, 1, 0 }, { 0, 0.5, 1, 0, 0, 0 },
    { 1, 0.5, 0, 0, 1, 0 }, { 0, 1, 1, 0, 0, 1 }, { 0.5, 1, 0, 0, 0, 1 }, { 1, 1, 0, 0, 1, 1 },
  };
  Rig *rig = rig_new (900, 700, "/photo/800x600", 800, 600);
  int x0, y0, x1, y1;

  g_test_summary ("Each of the eight handles moves its own edges, also when taken 5 px beside it");
  ws_photo_view_set_zoom (rig->view, 1);
  rig_find_red (&x0, &y0, &x1, &y1);
  rig_add_mark (rig, "m", "box 0.25 0.25 0.5 0.5", "A", "Cap", WS_PHOTO_VIEW_MARK_INK);
  ws_photo_view_select (rig->view, "m");
  rig_assert_log (rig, "");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    for (int beside = -5; beside <= 5; beside += 10)
      {
        int x = x0 + (x1 - x0) * cases[i].x + beside, y = y0 + (y1 - y0) * cases[i].y + beside;
        double dx = 40.0 / 800, dy = 30.0 / 600;
        g_autofree char *expected =
          g_strdup_printf ("m changed box %.4f %.4f %.4f %.4f; ", 0.25 + cases[i].left * dx, 0.25 + cases[i].top * dy,
                           0.5 + (cases[i].right - cases[i].left) * dx, 0.5 + (cases[i].bottom - cases[i].top) * dy);

        drag (x, y, x + 40, y + 30);
        rig_assert_log (rig, expected);
        ws_photo_view_set_marks (rig->view, rig->marks);
      }
  /* An edge stops before the other one. */
  drag (x0, y0 + 150, x0 + 600, y0 + 150);
  rig_assert_log (rig, "m changed box 0.7450 0.2500 0.0050 0.5000; ");
  rig_free (rig);
}

static void
covers (void)
{
  Rig *rig = rig_new (900, 700, "/photo/800x600", 800, 600);
  int x0, y0, x1, y1;

  g_test_summary ("While covering, a drag asks for a covered region and not for a mark");
  ws_photo_view_set_zoom (rig->view, 1);
  rig_find_red (&x0, &y0, &x1, &y1);
  ws_photo_view_set_cover (rig->view, TRUE);
  drag (x0, y0, x1, y1);
  rig_assert_log (rig, "cover box 0.2500 0.2500 0.5000 0.5000; ");
  ws_photo_view_set_cover (rig->view, FALSE);
  drag (x0, y0, x1, y1);
  rig_assert_log (rig, "");
  rig_free (rig);
}

static void
wheel_zooms_at_the_pointer (void)
{
  Rig *rig = rig_new (900, 700, "/photo/4000x3000", 4000, 3000);
  int x0, y0, x1, y1, corner_x, corner_y;
  double zoom = ws_photo_view_get_zoom (rig->view);

  g_test_summary ("The wheel keeps the corner of the red rectangle under the pointer, in and out");
  rig_wait_sharp (rig);
  rig_find_red (&x0, &y0, &corner_x, &corner_y);
  for (int total = 1; total <= 9; total += 4)
    {
      rig_do ("mousemove %d %d click --repeat %d 4", corner_x, corner_y, total == 1 ? 1 : 4);
      g_assert_cmpfloat_with_epsilon (ws_photo_view_get_zoom (rig->view), zoom * pow (1.25, total), 1e-9);
      rig_wait_sharp (rig);
      rig_find_red (&x0, &y0, &x1, &y1);
      /* The corner was read off to half a px, which four steps make 1.2. */
      g_assert_cmpint (abs (x1 - corner_x), <=, 2);
      g_assert_cmpint (abs (y1 - corner_y), <=, 2);
      corner_x = x1;
      corner_y = y1;
    }
  rig_do ("click --repeat 40 5");
  g_assert_cmpfloat_with_epsilon (ws_photo_view_get_zoom (rig->view), zoom, 1e-9);
  rig_free (rig);
}

static void
pans (void)
{
  Rig *rig = rig_new (900, 700, "/photo/4000x3000", 4000, 3000);
  int x0, y0, x1, y1, x2, y2;

  g_test_summary ("The middle button, Space, and an empty hand move the photo by what the pointer moved");
  ws_photo_view_show_region (rig->view, &(WsRect) { 0.75, 0.75, 0.001, 0.001 });
  rig_wait_sharp (rig);
  rig_find_red (&x0, &y0, &x1, &y1);
  rig_do ("mousemove 300 300 mousedown 2 mousemove 350 280 mousemove 371 257 mouseup 2");
  rig_find_red (&x0, &y0, &x2, &y2);
  g_assert_cmpint (x2 - x1, ==, 71);
  g_assert_cmpint (y2 - y1, ==, -43);

  ws_photo_view_set_armed (rig->view, "Cap");
  rig_do ("mousemove 300 300 keydown space mousedown 1 mousemove 280 300 mousemove 229 343 mouseup 1 keyup space");
  rig_find_red (&x0, &y0, &x2, &y2);
  g_assert_cmpint (x2 - x1, ==, 0);
  g_assert_cmpint (y2 - y1, ==, 0);
  rig_assert_log (rig, "");

  ws_photo_view_set_armed (rig->view, NULL);
  drag (300, 300, 350, 310);
  rig_find_red (&x0, &y0, &x2, &y2);
  g_assert_cmpint (x2 - x1, ==, 50);
  g_assert_cmpint (y2 - y1, ==, 10);
  rig_assert_log (rig, "");
  rig_free (rig);
}

int
main (int argc, char **argv)
{
  rig_init (&argc, &argv);
  g_test_add_func ("/app/photo-view-input/draws-exactly", draws_exactly);
  g_test_add_func ("/app/photo-view-input/draws-when-fitted", draws_when_fitted);
  g_test_add_func ("/app/photo-view-input/shift-makes-squares", shift_makes_squares);
  g_test_add_func ("/app/photo-view-input/slips-are-clicks", slips_are_clicks);
  g_test_add_func ("/app/photo-view-input/selects-and-moves", selects_and_moves);
  g_test_add_func ("/app/photo-view-input/handles-resize", handles_resize);
  g_test_add_func ("/app/photo-view-input/covers", covers);
  g_test_add_func ("/app/photo-view-input/wheel-zooms-at-the-pointer", wheel_zooms_at_the_pointer);
  g_test_add_func ("/app/photo-view-input/pans", pans);
  return g_test_run ();
}
