/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-ink.h"

#include <string.h>

#define SIZE 120

typedef void (*Draw) (cairo_t *cr, gpointer data);

/* Draws black on white and returns the darkness 0-255 of each pixel. */
static guint8 *
draw (Draw function, gpointer data)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, SIZE, SIZE);
  cairo_t *cr = cairo_create (surface);
  guint8 *pixels = g_new (guint8, SIZE * SIZE);

  function (cr, data);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  g_assert_false (cairo_has_current_point (cr));
  cairo_surface_flush (surface);
  for (int y = 0; y < SIZE; y++)
    memcpy (pixels + y * SIZE, cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface), SIZE);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return pixels;
}

static double
sum_box (const guint8 *pixels, int x0, int y0, int x1, int y1)
{
  double sum = 0;

  for (int y = y0; y < y1; y++)
    for (int x = x0; x < x1; x++)
      sum += pixels[y * SIZE + x] / 255.0;
  return sum;
}

static void
stroke_line (cairo_t *cr, gpointer data)
{
  cairo_move_to (cr, 10, 60);
  cairo_line_to (cr, 110, 60);
  ws_ink_stroke (cr, *(double *) data, 1, 3);
}

static void
stroke_circle (cairo_t *cr, gpointer data)
{
  cairo_arc (cr, 60, 60, 40, 0, 2 * G_PI);
  cairo_close_path (cr);
  ws_ink_stroke (cr, 4, 1, GPOINTER_TO_UINT (data));
}

static void
stroke_odd (cairo_t *cr, gpointer data)
{
  ws_ink_stroke (cr, 3, 1, 0);
  cairo_move_to (cr, 60, 60);
  ws_ink_stroke (cr, 3, 1, 0);
  cairo_move_to (cr, 60, 60);
  cairo_line_to (cr, 60, 60);
  cairo_close_path (cr);
  cairo_move_to (cr, 20, 20);
  cairo_line_to (cr, 90, 20);
  cairo_line_to (cr, 20, 20);
  ws_ink_stroke (cr, 3, 1, 0);
  ws_ink_hatch (cr, 4, 1);
}

static void
hatch_circle (cairo_t *cr, gpointer data)
{
  cairo_arc (cr, 60, 60, 40, 0, 2 * G_PI);
  ws_ink_hatch (cr, *(double *) data, 1);
}

static void
dash_line (cairo_t *cr, gpointer data)
{
  cairo_move_to (cr, 10, 60);
  cairo_line_to (cr, 110, 60);
  ws_ink_dash (cr, 2, 6, 4);
}

static void
test_open_line (void)
{
  double thin = 2, thick = 6;
  g_autofree guint8 *a = draw (stroke_line, &thin), *b = draw (stroke_line, &thick);
  double ratio = sum_box (b, 0, 0, SIZE, SIZE) / sum_box (a, 0, 0, SIZE, SIZE);

  g_test_summary ("An open line is as wide as asked for in the middle and runs out at its ends");
  g_assert_cmpfloat_with_epsilon (ratio, 3, 0.1);
  g_assert_cmpfloat (sum_box (b, 50, 0, 70, SIZE) / 20, >, 6 * 0.6);
  g_assert_cmpfloat (sum_box (b, 50, 0, 70, SIZE) / 20, <, 6 * 1.3);
  g_assert_cmpfloat (sum_box (b, 106, 0, 110, SIZE) / 4, <, sum_box (b, 58, 0, 62, SIZE) / 4 * 0.6);
}

static void
test_closed_line (void)
{
  g_autofree guint8 *a = draw (stroke_circle, GUINT_TO_POINTER (1)), *again = draw (stroke_circle, GUINT_TO_POINTER (1));
  g_autofree guint8 *other = draw (stroke_circle, GUINT_TO_POINTER (2));
  double light = sum_box (a, 15, 15, 60, 60), shade = sum_box (a, 60, 60, 105, 105);

  g_test_summary ("A closed line is heavier below on the right, the same each time, and differs by seed");
  g_assert_cmpfloat (shade, >, light * 1.2);
  g_assert_cmpmem (a, SIZE * SIZE, again, SIZE * SIZE);
  g_assert_cmpint (memcmp (a, other, SIZE * SIZE), !=, 0);
  g_assert_cmpfloat (sum_box (a, 40, 40, 80, 80), ==, 0);   /* a ring, not a disc */
}

static void
test_hatch (void)
{
  double wide = 10, close = 5;
  g_autofree guint8 *a = draw (hatch_circle, &wide), *b = draw (hatch_circle, &close);

  g_test_summary ("Hatching fills the shape, leaves the rest alone, and doubles at half the distance");
  g_assert_cmpfloat (sum_box (a, 0, 0, SIZE, 19), ==, 0);
  g_assert_cmpfloat (sum_box (a, 101, 0, SIZE, SIZE), ==, 0);
  for (int k = 0; k < 4; k++)
    g_assert_cmpfloat (sum_box (b, 30 + 30 * (k % 2), 30 + 30 * (k / 2), 60 + 30 * (k % 2), 60 + 30 * (k / 2)), >, 40);
  g_assert_cmpfloat_with_epsilon (sum_box (b, 0, 0, SIZE, SIZE) / sum_box (a, 0, 0, SIZE, SIZE), 2, 0.35);
}

static void
test_dash (void)
{
  g_autofree guint8 *a = draw (dash_line, NULL);
  int n_changes = 0;

  g_test_summary ("Dashes are apart");
  for (int x = 11; x < 110; x++)
    n_changes += (a[60 * SIZE + x] > 127) != (a[60 * SIZE + x - 1] > 127);
  g_assert_cmpint (n_changes, >=, 16);
}

static void
test_odd_paths (void)
{
  g_autofree guint8 *a = draw (stroke_odd, NULL);

  g_test_summary ("No path, a point and a line that turns back draw without harm");
  g_assert_cmpfloat (sum_box (a, 15, 15, 95, 25), >, 50);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/draw/ink/open-line", test_open_line);
  g_test_add_func ("/draw/ink/closed-line", test_closed_line);
  g_test_add_func ("/draw/ink/hatch", test_hatch);
  g_test_add_func ("/draw/ink/dash", test_dash);
  g_test_add_func ("/draw/ink/odd-paths", test_odd_paths);
  return g_test_run ();
}
