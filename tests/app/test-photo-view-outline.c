/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines by real pointer and key events. The photo's red rectangle, read off the screen, is the edge that lines follow. */
#include <math.h>
#include <string.h>

#include "photo-view-rig.h"

static WsShape *last;   /* drawn or changed */

static void
keep (WsPhotoView *view, const WsShape *shape, gpointer data)
{
  g_clear_pointer (&last, ws_shape_free);
  last = ws_shape_copy (shape);
}

static void
keep_changed (WsPhotoView *view, const char *id, const WsShape *shape, gpointer data)
{
  keep (view, shape, data);
}

/* The photo at 1:1, so that a px is 1/800 across and 1/600 down. */
static Rig *
rig_at_one (WsPhotoViewTool tool)
{
  Rig *rig = rig_new (900, 700, "/photo/800x600", 800, 600);

  g_signal_connect (rig->view, "mark-drawn", G_CALLBACK (keep), NULL);
  g_signal_connect (rig->view, "mark-changed", G_CALLBACK (keep_changed), NULL);
  ws_photo_view_set_zoom (rig->view, 1);
  ws_photo_view_set_tool (rig->view, tool);
  return rig;
}

static void
end (Rig *rig)
{
  g_clear_pointer (&last, ws_shape_free);
  rig_free (rig);
}

static void
click (int x, int y)
{
  rig_do ("mousemove %d %d click 1", x, y);
  /* Not a second click on the same thing. */
  rig_wait (20);
}

static void
assert_points (const char *expected)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_assert_nonnull (last);
  g_assert_cmpint (last->kind, ==, WS_SHAPE_OUTLINE);
  for (guint i = 0; i < last->n_points; i++)
    g_string_append_printf (text, "%s%.4f %.4f", i > 0 ? ", " : "", last->points[i].x, last->points[i].y);
  g_assert_cmpstr (text->str, ==, expected);
}

static void
draws_by_clicks (void)
{
  Rig *rig = rig_at_one (WS_PHOTO_VIEW_OUTLINE);
  int x0, y0, x1, y1;

  g_test_summary ("Clicks set points; the first point, a second click in the same place, or Enter closes the outline");
  rig_find_red (&x0, &y0, &x1, &y1);
  ws_photo_view_set_armed (rig->view, "Cap");
  click (x0, y0);
  click (x1, y0);
  click (x1, y1);
  rig_assert_log (rig, "");
  click (x0, y0);
  rig_assert_log (rig, "drawn outline 0.2500 0.2500 0.5000 0.5000; ");
  assert_points ("0.2500 0.2500, 0.7500 0.2500, 0.7500 0.7500");

  click (x0, y0);
  click (x1, y0);
  click (x1, y1);
  click (x1, y1);
  assert_points ("0.2500 0.2500, 0.7500 0.2500, 0.7500 0.7500");
  rig_assert_log (rig, "drawn outline 0.2500 0.2500 0.5000 0.5000; ");

  click (x0, y0);
  click (x0, y1);
  rig_do ("key Return");
  rig_assert_log (rig, "");
  click (x1, y1);
  rig_do ("key Return");
  assert_points ("0.2500 0.2500, 0.2500 0.7500, 0.7500 0.7500");
  end (rig);
}

static void
takes_back_and_gives_up (void)
{
  Rig *rig = rig_at_one (WS_PHOTO_VIEW_OUTLINE);
  int x0, y0, x1, y1;

  g_test_summary ("Backspace takes the last point back, Escape all of them, then it disarms");
  rig_find_red (&x0, &y0, &x1, &y1);
  ws_photo_view_set_armed (rig->view, "Cap");
  click (x0, y0);
  click (x1, y0);
  click (x1 + 40, y1 + 40);
  rig_do ("key BackSpace");
  click (x1, y1);
  rig_do ("key Return");
  assert_points ("0.2500 0.2500, 0.7500 0.2500, 0.7500 0.7500");
  rig_assert_log (rig, "drawn outline 0.2500 0.2500 0.5000 0.5000; ");
  click (x0, y0);
  click (x1, y0);
  click (x1, y1);
  rig_do ("key Escape");
  rig_do ("key Return");   /* a pen, and no outline closed */
  rig_do ("key Escape");
  rig_assert_log (rig, "");
  rig_do ("key Escape");
  rig_assert_log (rig, "disarm; ");
  /* Backspace with nothing begun belongs to the page. */
  rig_do ("key BackSpace");
  rig_assert_log (rig, "");
  end (rig);
}

static void
draws_by_hand (void)
{
  Rig *rig = rig_at_one (WS_PHOTO_VIEW_OUTLINE);
  int x0, y0, x1, y1;

  g_test_summary ("Dragging round draws by hand and closes where it began, with few points");
  rig_find_red (&x0, &y0, &x1, &y1);
  ws_photo_view_set_armed (rig->view, "Cap");
  rig_do ("mousemove %d %d mousedown 1", x0, y0);
  for (int i = 1; i <= 40; i++)
    {
      double at = i % 10 / 10.0;
      int side = i / 10 % 4;
      int x = side == 0 ? x0 + (x1 - x0) * at : side == 1 ? x1 : side == 2 ? x1 - (x1 - x0) * at : x0;
      int y = side == 0 ? y0 : side == 1 ? y0 + (y1 - y0) * at : side == 2 ? y1 : y1 - (y1 - y0) * at;

      rig_do ("mousemove %d %d", x, y);
    }
  rig_do ("mouseup 1");
  assert_points ("0.2500 0.2500, 0.7500 0.2500, 0.7500 0.7500, 0.2500 0.7500");
  end (rig);
}

/* TRUE if every point of the outline lies within @px of the border of the red rectangle. */
static void
assert_on_red (double px)
{
  g_assert_nonnull (last);
  g_assert_cmpuint (last->n_points, >=, 4);
  for (guint i = 0; i < last->n_points; i++)
    {
      double x = last->points[i].x * 800, y = last->points[i].y * 600;
      double dx = MIN (fabs (x - 200), fabs (x - 600)), dy = MIN (fabs (y - 150), fabs (y - 450));

      g_assert_cmpfloat (MIN (dx, dy), <=, px);
      g_assert_true (x >= 200 - px && x <= 600 + px && y >= 150 - px && y <= 450 + px);
    }
  g_assert_cmpfloat_with_epsilon (last->bounds.width, 0.5, 2 * px / 800);
  g_assert_cmpfloat_with_epsilon (last->bounds.height, 0.5, 2 * px / 600);
}

static void
follows_edges (void)
{
  Rig *rig = rig_at_one (WS_PHOTO_VIEW_EDGE);
  int x0, y0, x1, y1;

  g_test_summary ("Three clicks beside a red rectangle's border give the whole border, to a pixel or two");
  rig_find_red (&x0, &y0, &x1, &y1);
  ws_photo_view_set_armed (rig->view, "Stem base");
  rig_wait (600);
  click (x0 + 100, y0 + 3);
  click (x1 - 3, y0 + 200);
  click (x0 + 60, y1 + 2);
  rig_do ("key Return");
  assert_on_red (2);
  g_assert_cmpuint (last->n_points, <, 20);
  end (rig);
}

static void
line_follows_the_pointer (void)
{
  Rig *rig = rig_at_one (WS_PHOTO_VIEW_EDGE);
  g_autofree guchar *before = NULL, *after = NULL;
  int x0, y0, x1, y1, changed = 0;

  g_test_summary ("The way to the pointer is drawn along the edge before it is set, round the corner");
  rig_find_red (&x0, &y0, &x1, &y1);
  ws_photo_view_set_armed (rig->view, "Stem base");
  rig_wait (600);
  click (x1 - 60, y0);
  rig_do ("mousemove %d %d", x1 - 50, y0);
  before = rig_shoot ();
  rig_do ("mousemove %d %d", x1, y0 + 60);
  after = rig_shoot ();
  /* At the corner, which lies 42 px off the straight way. */
  for (int y = y0 - 2; y <= y0 + 2; y++)
    for (int x = x1 - 12; x <= x1 - 4; x++)
      changed += memcmp (before + 3 * ((gsize) y * RIG_SCREEN_WIDTH + x), after + 3 * ((gsize) y * RIG_SCREEN_WIDTH + x), 3) != 0;
  g_assert_cmpint (changed, >, 9);
  rig_do ("key Escape");
  rig_assert_log (rig, "");
  end (rig);
}

static void
tools_change_while_drawing (void)
{
  Rig *rig = rig_at_one (WS_PHOTO_VIEW_OUTLINE);
  int x0, y0, x1, y1;

  g_test_summary ("X, O, L and F choose the tool; an outline goes on with the other tool for outlines, and is given up for a box");
  rig_find_red (&x0, &y0, &x1, &y1);
  ws_photo_view_set_armed (rig->view, "Cap");
  click (x0 + 100, y0);
  click (x1, y0 + 200);
  click (x0 + 60, y1);
  rig_do ("key f");
  g_assert_cmpint (ws_photo_view_get_tool (rig->view), ==, WS_PHOTO_VIEW_EDGE);
  rig_wait (600);
  rig_do ("key Return");
  assert_on_red (2);
  g_string_truncate (rig->log, 0);
  click (x0, y0);
  click (x1, y0);
  click (x1, y1);
  rig_do ("key x");
  g_assert_cmpint (ws_photo_view_get_tool (rig->view), ==, WS_PHOTO_VIEW_BOX);
  rig_do ("key o");
  g_assert_cmpint (ws_photo_view_get_tool (rig->view), ==, WS_PHOTO_VIEW_OVAL);
  rig_do ("key l");
  g_assert_cmpint (ws_photo_view_get_tool (rig->view), ==, WS_PHOTO_VIEW_OUTLINE);
  rig_do ("key Return Escape");
  rig_assert_log (rig, "");
  end (rig);
}

static void
draws_by_keys (void)
{
  Rig *rig = rig_at_one (WS_PHOTO_VIEW_OUTLINE);

  g_test_summary ("Enter takes a pen in the middle of what is seen, arrows lead it, Enter sets points and at last closes");
  ws_photo_view_set_armed (rig->view, "Stem base");
  rig_do ("key Return Return");
  rig_do ("key --repeat 10 Right");
  rig_do ("key Return");
  rig_do ("key --repeat 9 Down");
  rig_do ("key --repeat 3 alt+Down");
  rig_do ("key Return");
  rig_assert_log (rig, "");
  rig_do ("key Return");
  /* Ten steps of 8 px of 800; nine of 8 and three of 1 of 600. */
  assert_points ("0.5000 0.5000, 0.6000 0.5000, 0.6000 0.6250");
  /* Pointer and keys take turns. */
  g_string_truncate (rig->log, 0);
  rig_do ("key Return Return");
  rig_do ("key --repeat 10 Right");
  rig_do ("key Return");
  click (450, 150);
  rig_do ("key Return");
  g_assert_cmpuint (last->n_points, ==, 3);
  end (rig);
}

static void
edits_points_by_pointer (void)
{
  Rig *rig = rig_at_one (WS_PHOTO_VIEW_OUTLINE);
  int x0, y0, x1, y1;

  g_test_summary ("A point is dragged, one is pulled out of the line, two clicks take one away, and inside all of it moves");
  rig_find_red (&x0, &y0, &x1, &y1);
  rig_add_mark (rig, "m", "outline 0.25 0.25 0.75 0.25 0.75 0.75 0.25 0.75", "A", "Cap", WS_PHOTO_VIEW_MARK_INK);
  ws_photo_view_select (rig->view, "m");
  rig_do ("mousemove %d %d mousedown 1 mousemove %d %d mousemove %d %d mouseup 1", x0, y0, x0 + 10, y0 + 10, x0 + 40, y0 + 30);
  rig_assert_log (rig, "m changed outline 0.2500 0.2500 0.5000 0.5000; ");
  assert_points ("0.3000 0.3000, 0.7500 0.2500, 0.7500 0.7500, 0.2500 0.7500");
  ws_photo_view_set_marks (rig->view, rig->marks);

  rig_do ("mousemove %d %d mousedown 1 mousemove %d %d mousemove %d %d mouseup 1", x1, y0 + 150, x1 + 10, y0 + 150, x1 + 40, y0 + 150);
  assert_points ("0.2500 0.2500, 0.7500 0.2500, 0.8000 0.5000, 0.7500 0.7500, 0.2500 0.7500");
  /* Not answered yet: the next change goes on from there. */
  rig_wait (500);
  rig_do ("mousemove %d %d click --repeat 2 --delay 60 1", x0, y1);
  assert_points ("0.2500 0.2500, 0.7500 0.2500, 0.8000 0.5000, 0.7500 0.7500");
  ws_photo_view_set_marks (rig->view, rig->marks);

  rig_wait (500);
  rig_do ("mousemove %d %d mousedown 1 mousemove %d %d mousemove %d %d mouseup 1", x0 + 200, y0 + 150, x0 + 220, y0 + 150, x0 + 240, y0 + 120);
  assert_points ("0.3000 0.2000, 0.8000 0.2000, 0.8000 0.7000, 0.3000 0.7000");
  end (rig);
}

static void
edits_points_by_keys (void)
{
  Rig *rig = rig_at_one (WS_PHOTO_VIEW_OUTLINE);

  g_test_summary ("F2 goes to the points; arrows, Tab, Insert and Delete; three points stay; Escape leaves them");
  rig_add_mark (rig, "m", "outline 0.25 0.25 0.75 0.25 0.75 0.75 0.25 0.75", "A", "Cap", WS_PHOTO_VIEW_MARK_INK);
  rig_add_mark (rig, "n", "box 0.1 0.1 0.1 0.1", "B", "Cap", WS_PHOTO_VIEW_MARK_INK);
  ws_photo_view_select (rig->view, "n");
  rig_do ("key F2 Insert");
  rig_assert_log (rig, "");
  ws_photo_view_select (rig->view, "m");
  rig_do ("key F2 Right");
  rig_do ("key alt+Down");
  assert_points ("0.2600 0.2517, 0.7500 0.2500, 0.7500 0.7500, 0.2500 0.7500");
  ws_photo_view_set_marks (rig->view, rig->marks);
  rig_do ("key Tab Insert");
  assert_points ("0.2500 0.2500, 0.7500 0.2500, 0.7500 0.5000, 0.7500 0.7500, 0.2500 0.7500");
  rig_do ("key Right");
  assert_points ("0.2500 0.2500, 0.7500 0.2500, 0.7600 0.5000, 0.7500 0.7500, 0.2500 0.7500");
  rig_do ("key Delete");
  assert_points ("0.2500 0.2500, 0.7500 0.2500, 0.7500 0.7500, 0.2500 0.7500");
  rig_do ("key shift+Tab Delete");
  rig_do ("key Delete");
  assert_points ("0.2500 0.2500, 0.7500 0.7500, 0.2500 0.7500");
  g_assert_cmpstr (ws_photo_view_get_selected (rig->view), ==, "m");
  g_string_truncate (rig->log, 0);
  rig_do ("key Escape Delete");
  rig_assert_log (rig, "delete m; ");
  end (rig);
}

static void
overlapping_marks (void)
{
  Rig *rig = rig_at_one (WS_PHOTO_VIEW_BOX);
  int x0, y0, x1, y1;

  g_test_summary ("Clicks go through all marks under the pointer, an outline only where it is");
  rig_find_red (&x0, &y0, &x1, &y1);
  rig_add_mark (rig, "box", "box 0.25 0.25 0.5 0.5", "A", "Cap", WS_PHOTO_VIEW_MARK_INK);
  rig_add_mark (rig, "half", "outline 0.25 0.25 0.75 0.25 0.75 0.75", "B", "Cap", WS_PHOTO_VIEW_MARK_INK);
  rig_add_mark (rig, "oval", "oval 0.3 0.3 0.4 0.4", "C", "Cap", WS_PHOTO_VIEW_MARK_INK);
  click (x0 + 220, y0 + 140);
  rig_wait (500);
  click (x0 + 220, y0 + 140);
  rig_wait (500);
  click (x0 + 220, y0 + 140);
  rig_wait (500);
  click (x0 + 220, y0 + 140);
  rig_assert_log (rig, "selected oval; selected box; selected half; selected oval; ");
  click (x0 + 30, y1 - 30);
  rig_assert_log (rig, "selected box; ");
  end (rig);
}

int
main (int argc, char **argv)
{
  rig_init (&argc, &argv);
  g_test_add_func ("/app/photo-view-outline/draws-by-clicks", draws_by_clicks);
  g_test_add_func ("/app/photo-view-outline/takes-back-and-gives-up", takes_back_and_gives_up);
  g_test_add_func ("/app/photo-view-outline/draws-by-hand", draws_by_hand);
  g_test_add_func ("/app/photo-view-outline/follows-edges", follows_edges);
  g_test_add_func ("/app/photo-view-outline/line-follows-the-pointer", line_follows_the_pointer);
  g_test_add_func ("/app/photo-view-outline/tools-change-while-drawing", tools_change_while_drawing);
  g_test_add_func ("/app/photo-view-outline/draws-by-keys", draws_by_keys);
  g_test_add_func ("/app/photo-view-outline/edits-points-by-pointer", edits_points_by_pointer);
  g_test_add_func ("/app/photo-view-outline/edits-points-by-keys", edits_points_by_keys);
  g_test_add_func ("/app/photo-view-outline/overlapping-marks", overlapping_marks);
  return g_test_run ();
}
