/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-shape.h"

#include <locale.h>
#include <math.h>
#include <string.h>

static void
test_rect_parse (void)
{
  static const struct { const char *text; gboolean fine; WsRect rect; } cases[] = {
    { "0,0,1,1", TRUE, { 0, 0, 1, 1 } },
    { "0.25,0.5,0.125,0.5", TRUE, { 0.25, 0.5, 0.125, 0.5 } },
    { "1e-3,2E-2,.5,.5", TRUE, { 0.001, 0.02, 0.5, 0.5 } },
    /* 0.7 + 0.3 is a little off 1 in doubles: a rounding excess is no fault. */
    { "0.7,0.1,0.3,0.9", TRUE, { 0.7, 0.1, 0.3, 0.9 } },
    { "", FALSE }, { "0,0,1", FALSE }, { "0,0,1,1,", FALSE }, { "0,0,1,1,0", FALSE }, { "0 0 1 1", FALSE },
    { "0;0;1;1", FALSE }, { "0,0,0,1", FALSE }, { "0,0,1,0", FALSE }, { "0,0,-0.5,1", FALSE },
    { "-0.1,0,0.5,0.5", FALSE }, { "0,-0.1,0.5,0.5", FALSE }, { "0.6,0,0.5,0.5", FALSE },
    { "0,0.6,0.5,0.5", FALSE }, { "nan,0,0.5,0.5", FALSE }, { "0,0,nan,1", FALSE }, { "0,0,inf,1", FALSE },
    { "0,0,1e999,1", FALSE }, { "0,0,1,1 px", FALSE }, { "a,b,c,d", FALSE }, { ",,,", FALSE },
    { "0,5,0,5,0,5,0,5", FALSE }, { "0,0,1,1\n0", FALSE },
  };

  g_test_summary ("X,Y,W,H is read with decimal points in any locale, or refused");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WsRect rect = { 0 };

      g_test_message ("“%s”", cases[i].text);
      g_assert_cmpint (ws_rect_parse (cases[i].text, &rect), ==, cases[i].fine);
      if (!cases[i].fine)
        continue;
      g_assert_cmpfloat (rect.x, ==, cases[i].rect.x);
      g_assert_cmpfloat (rect.y, ==, cases[i].rect.y);
      g_assert_cmpfloat (rect.width, ==, cases[i].rect.width);
      g_assert_cmpfloat (rect.height, ==, cases[i].rect.height);
    }
}

static WsRect
random_rect (GRand *rand)
{
  double x0 = g_rand_double (rand), x1 = g_rand_double (rand), y0 = g_rand_double (rand), y1 = g_rand_double (rand);

  return (WsRect) { MIN (x0, x1), MIN (y0, y1), MAX (fabs (x1 - x0), 1e-5), MAX (fabs (y1 - y0), 1e-5) };
}

static void
test_clamped (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);

  g_test_summary ("any rectangle clamped is a valid one of at least 1e-6; one inside keeps its edges");
  for (int i = 0; i < 5000; i++)
    {
      WsRect wild = { g_rand_double_range (rand, -2, 3), g_rand_double_range (rand, -2, 3),
                      g_rand_double_range (rand, -1, 3), g_rand_double_range (rand, -1, 3) };
      WsRect inside = random_rect (rand), clamped = ws_rect_clamped (&wild);

      g_assert_true (ws_rect_is_valid (&clamped));
      g_assert_cmpfloat (clamped.width, >=, 1e-6 - 1e-12);
      g_assert_cmpfloat (clamped.height, >=, 1e-6 - 1e-12);
      if (!ws_rect_is_valid (&inside))
        continue;
      clamped = ws_rect_clamped (&inside);
      g_assert_cmpfloat_with_epsilon (clamped.x + clamped.width, inside.x + inside.width, 2e-6);
      g_assert_cmpfloat_with_epsilon (clamped.y, inside.y, 2e-6);
    }
}

static void
test_overlap (void)
{
  static const struct { WsRect a, b; double share; } cases[] = {
    { { 0, 0, 1, 1 }, { 0.25, 0.25, 0.5, 0.5 }, 1 },
    { { 0, 0, 0.5, 0.5 }, { 0.5, 0, 0.5, 0.5 }, 0 },        /* they only touch */
    { { 0, 0, 0.5, 0.5 }, { 0.75, 0.75, 0.25, 0.25 }, 0 },
    { { 0, 0, 0.5, 0.5 }, { 0.25, 0, 0.5, 0.5 }, 0.5 },
    { { 0, 0, 0.5, 0.5 }, { 0.25, 0.25, 0.5, 0.5 }, 0.25 },
    { { 0, 0, 0.5, 0.5 }, { 0.25, 0.25, 0.25, 0.75 }, 1.0 / 3 },
  };

  g_test_summary ("the share of the smaller rectangle that both cover; areas worked out by hand");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_cmpfloat_with_epsilon (ws_rect_overlap (&cases[i].a, &cases[i].b), cases[i].share, 1e-12);
      g_assert_cmpfloat_with_epsilon (ws_rect_overlap (&cases[i].b, &cases[i].a), cases[i].share, 1e-12);
    }
}

/* The plain reading of "pixels the rectangle touches": every pixel is asked. */
static void
touched (double from, double size, int n, int *first, int *count)
{
  double lo = from * n, hi = (from + size) * n;

  *first = -1;
  *count = 0;
  for (int i = 0; i < n; i++)
    if (MIN (hi, i + 1) - MAX (lo, i) > 1e-5)
      {
        *first = *first < 0 ? i : *first;
        (*count)++;
      }
}

static void
test_to_pixels (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (2);
  int x, y, w, h;

  g_test_summary ("fractions become the pixels touched, as counted pixel by pixel; always inside the picture");
  ws_rect_to_pixels (&(WsRect) { 0, 0, 1, 1 }, 4000, 3000, &x, &y, &w, &h);
  g_assert_cmpint (x + y, ==, 0);
  g_assert_cmpint (w, ==, 4000);
  g_assert_cmpint (h, ==, 3000);
  /* 0.1 + 0.2 is 0.30000000000000004: still two of ten pixels, not three. */
  ws_rect_to_pixels (&(WsRect) { 0.1, 0.7, 0.2, 0.3 }, 10, 10, &x, &y, &w, &h);
  g_assert_cmpint (x, ==, 1);
  g_assert_cmpint (w, ==, 2);
  g_assert_cmpint (y, ==, 7);
  g_assert_cmpint (h, ==, 3);
  ws_rect_to_pixels (&(WsRect) { 1 - 1e-6, 1 - 1e-6, 1e-6, 1e-6 }, 7, 1, &x, &y, &w, &h);
  g_assert_cmpint (x, ==, 6);
  g_assert_cmpint (y, ==, 0);
  g_assert_cmpint (w * h, ==, 1);
  for (int i = 0; i < 2000; i++)
    {
      int width = g_rand_int_range (rand, 1, 400), height = g_rand_int_range (rand, 1, 400), first, count;
      WsRect rect = random_rect (rand);

      ws_rect_to_pixels (&rect, width, height, &x, &y, &w, &h);
      g_assert_true (x >= 0 && y >= 0 && w >= 1 && h >= 1 && x + w <= width && y + h <= height);
      if (rect.width < 0.01 || rect.height < 0.01)
        continue;
      touched (rect.x, rect.width, width, &first, &count);
      g_assert_cmpint (x, ==, first);
      g_assert_cmpint (w, ==, count);
      touched (rect.y, rect.height, height, &first, &count);
      g_assert_cmpint (y, ==, first);
      g_assert_cmpint (h, ==, count);
    }
}

static WsShape *
random_shape (GRand *rand)
{
  WsRect rect = random_rect (rand);
  WsPoint points[40];
  int n = g_rand_int_range (rand, 3, 40);

  rect = ws_rect_clamped (&rect);
  switch (g_rand_int_range (rand, 0, 3))
    {
    case 0:
      return ws_shape_new_box (&rect);
    case 1:
      return ws_shape_new_oval (&rect);
    default:
      for (int i = 0; i < n; i++)
        points[i] = (WsPoint) { g_rand_double (rand), g_rand_double (rand) };
      return ws_shape_new_outline (points, (guint) n);
    }
}

static void
round_trip (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);

  for (int i = 0; i < 1500; i++)
    {
      g_autoptr (WsShape) shape = random_shape (rand), back = NULL;
      g_autofree char *text = NULL;

      g_assert_nonnull (shape);
      text = ws_shape_to_text (shape);
      back = ws_shape_parse (text);
      g_assert_nonnull (back);
      g_assert_true (ws_shape_equal (shape, back));
    }
}

static void
test_round_trip (void)
{
  g_test_summary ("1,500 random shapes written and read back are equal to the last bit");
  round_trip ();
}

static void
test_locale (void)
{
  g_autoptr (WsShape) shape = ws_shape_new_box (&(WsRect) { 0.5, 0.25, 0.25, 0.5 });
  g_autofree char *before = g_strdup (setlocale (LC_ALL, NULL)), *text = NULL;

  g_test_summary ("shapes are written with decimal points where the locale has commas");
  if (setlocale (LC_ALL, "de_DE.UTF-8") == NULL)
    {
      g_test_skip ("locale de_DE.UTF-8 is not installed");
      return;
    }
  text = ws_shape_to_text (shape);
  g_assert_cmpstr (text, ==, "box 0.5 0.25 0.25 0.5");
  round_trip ();
  test_rect_parse ();
  setlocale (LC_ALL, before);
}

static void
test_hostile (void)
{
  static const char *const texts[] = {
    "", " ", "box", "box ", "box 0 0 1", "box 0 0 1 1 1", "box 0 0 1 1 ", "box 0,0,1,1", "Box 0 0 1 1", "box\t0 0 1 1",
    "box 0 0 nan 1", "box 0 0 inf 1", "box 0 0 -inf 1", "box 0 0 1e999 1", "box 0 0 0 1", "box -0.1 0 1 1",
    "box 0.5 0.5 0.6 0.1", "box 0 0 1 1; drop", "oval 0 0 1", "oval 0 0 2 1", "oval nan nan nan nan", "circle 0 0 1 1",
    "outline", "outline ", "outline 0 0 1 0", "outline 0 0 1 0 1", "outline 0 0 1 1 0.5 0.5", "outline 0 0 0 0 0 0",
    "outline 0 0 2 0 1 1", "outline 0 0 1 0 1 nan", "outline 0 0 1 0 1 1 x", "outline -1 0 1 0 1 1",
    "\xff\xfe", "box \xc3\x28 0 1 1", "outlinebox 0 0 1 1", "box 0x 0 1 1", "box --0 0 1 1",
  };
  g_autoptr (GString) many = g_string_new ("outline");
  g_autofree char *digits = g_strnfill (4 * 1024 * 1024, '7');

  g_test_summary ("text that is no shape is refused, bounded in memory and time");
  g_assert_null (ws_shape_parse (NULL));
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (WsShape) shape = ws_shape_parse (texts[i]);

      g_test_message ("“%s”", texts[i]);
      g_assert_null (shape);
    }
  for (int i = 0; i < 200000; i++)
    g_string_append_printf (many, " 0.%d 0.%d", i % 7, i % 11);
  g_assert_null (ws_shape_parse (many->str));
  memcpy (digits, "box ", 4);
  g_assert_null (ws_shape_parse (digits));
}

static void
test_point_limit (void)
{
  g_autofree WsPoint *points = g_new0 (WsPoint, WS_SHAPE_MAX_POINTS + 1);
  g_autoptr (WsShape) most = NULL, back = NULL;
  g_autofree char *text = NULL;

  g_test_summary ("an outline of the largest number of corners is kept and read back, one more is refused");
  for (int i = 0; i <= WS_SHAPE_MAX_POINTS; i++)
    points[i] = (WsPoint) { 0.5 + 0.4 * cos (i * 2 * G_PI / (WS_SHAPE_MAX_POINTS + 1)),
                            0.5 + 0.4 * sin (i * 2 * G_PI / (WS_SHAPE_MAX_POINTS + 1)) };
  g_assert_null (ws_shape_new_outline (points, WS_SHAPE_MAX_POINTS + 1));
  g_assert_null (ws_shape_new_outline (points, 2));
  most = ws_shape_new_outline (points, WS_SHAPE_MAX_POINTS);
  text = ws_shape_to_text (most);
  back = ws_shape_parse (text);
  g_assert_nonnull (back);
  g_assert_true (ws_shape_equal (most, back));
}

static double
share_inside (const WsShape *shape)
{
  int inside = 0;

  for (int i = 0; i < 400; i++)
    for (int j = 0; j < 400; j++)
      inside += ws_shape_contains (shape, (i + 0.5) / 400, (j + 0.5) / 400);
  return inside / 160000.0;
}

static void
test_contains (void)
{
  static const struct { const char *shape; double area; } cases[] = {
    { "box 0.25 0.25 0.5 0.25", 0.125 },
    { "oval 0 0 1 1", G_PI / 4 },
    { "oval 0.25 0.5 0.5 0.25", G_PI / 4 * 0.125 },
    { "outline 0 0 1 0 0 1", 0.5 },
    { "outline 0.1 0.1 0.9 0.1 0.9 0.9 0.5 0.9 0.5 0.5 0.1 0.5", 0.48 },    /* an L */
    /* A pentagram turned by one point: the even-odd rule leaves its middle out. Area of a
       star of radius 0.5 less that of the inner pentagon (radius 0.5 / phi^2), by trigonometry. */
    { "outline 0.5 0 0.79389 0.90451 0.02447 0.34549 0.97553 0.34549 0.20611 0.90451", 0.19384 },
  };

  g_test_summary ("points inside, counted on a grid, make up the area of the shape (areas by geometry)");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsShape) shape = ws_shape_parse (cases[i].shape);

      g_test_message ("%s", cases[i].shape);
      g_assert_nonnull (shape);
      g_assert_cmpfloat_with_epsilon (share_inside (shape), cases[i].area, 0.004);
      g_assert_false (ws_shape_contains (shape, -0.1, 0.5));
      g_assert_false (ws_shape_contains (shape, 0.5, 1.1));
    }
}

static void
test_with_bounds (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);

  g_test_summary ("a shape moved to other bounds holds the same points, moved");
  for (int i = 0; i < 300; i++)
    {
      g_autoptr (WsShape) shape = random_shape (rand), moved = NULL;
      WsRect wild = random_rect (rand), bounds = ws_rect_clamped (&wild);

      moved = ws_shape_with_bounds (shape, &bounds);
      g_assert_cmpint (moved->kind, ==, shape->kind);
      g_assert_cmpmem (&moved->bounds, sizeof bounds, &bounds, sizeof bounds);
      for (int k = 0; k < 20; k++)
        {
          double u = g_rand_double (rand), v = g_rand_double (rand);

          /* A point within rounding of the edge may fall on either side. */
          if (ws_shape_contains (shape, shape->bounds.x + u * shape->bounds.width,
                                 shape->bounds.y + v * shape->bounds.height) !=
              ws_shape_contains (moved, bounds.x + u * bounds.width, bounds.y + v * bounds.height))
            g_assert_cmpint (ws_shape_contains (shape, shape->bounds.x + (u + 1e-6) * shape->bounds.width,
                                                shape->bounds.y + v * shape->bounds.height), !=,
                             ws_shape_contains (shape, shape->bounds.x + (u - 1e-6) * shape->bounds.width,
                                                shape->bounds.y + v * shape->bounds.height));
        }
    }
}

static void
test_copy (void)
{
  WsShape *shape = ws_shape_parse ("outline 0.1 0.1 0.9 0.1 0.5 0.9"), *copy = ws_shape_copy (shape);
  g_autoptr (WsShape) other = ws_shape_parse ("outline 0.1 0.1 0.9 0.1 0.5 0.8");
  g_autoptr (WsShape) oval = ws_shape_parse ("oval 0.1 0.1 0.8 0.8"), box = ws_shape_parse ("box 0.1 0.1 0.8 0.8");

  g_test_summary ("a copy is deep and equal; other corners or another kind are not equal");
  g_assert_true (ws_shape_equal (shape, copy));
  g_assert_false (ws_shape_equal (shape, other));
  g_assert_false (ws_shape_equal (oval, box));
  ws_shape_free (shape);
  g_assert_cmpfloat (copy->points[2].y, ==, 0.9);
  ws_shape_free (copy);
  ws_shape_free (NULL);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/base/shape/rect-parse", test_rect_parse);
  g_test_add_func ("/base/shape/clamped", test_clamped);
  g_test_add_func ("/base/shape/overlap", test_overlap);
  g_test_add_func ("/base/shape/to-pixels", test_to_pixels);
  g_test_add_func ("/base/shape/round-trip", test_round_trip);
  g_test_add_func ("/base/shape/locale", test_locale);
  g_test_add_func ("/base/shape/hostile", test_hostile);
  g_test_add_func ("/base/shape/point-limit", test_point_limit);
  g_test_add_func ("/base/shape/contains", test_contains);
  g_test_add_func ("/base/shape/with-bounds", test_with_bounds);
  g_test_add_func ("/base/shape/copy", test_copy);
  return g_test_run ();
}
