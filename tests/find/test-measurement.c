/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-measurement.h"

#include "ws-error.h"
#include "ws-value.h"

#include <math.h>

#define W 4000
#define H 3000

typedef struct { double point_px, ruler_mm, tilt; } Limits;

static WsScale *
scale_of (WsPoint a, WsPoint b, double mm, Limits limits)
{
  WsScale *scale = ws_scale_new ();

  scale->a = a;
  scale->b = b;
  scale->mm = mm;
  scale->point_error = limits.point_px;
  scale->mm_error = limits.ruler_mm;
  scale->tilt = limits.tilt;
  return scale;
}

static WsPoint
at (double x_px, double y_px)
{
  return (WsPoint) { x_px / W, y_px / H };
}

static void
test_lengths (void)
{
  g_autoptr (WsScale) scale = scale_of ((WsPoint) { 0.1, 0.9 }, (WsPoint) { 0.6, 0.9 }, 100, (Limits) { 0, 0, 0 });
  g_autoptr (GError) error = NULL;
  WsPoint from = at (1000, 500), along = at (2000, 500), slant = at (1300, 900);
  WsRect box = { 0.25, 0.2, 0.1, 0.2 };
  g_autoptr (WsShape) mark = ws_shape_new_oval (&box);
  WsLength length, across, up;

  g_test_summary ("a scale of 100 mm on 2000 px: 1000 px are 50 mm, 300 by 400 px are 25 mm, with nothing off");
  g_assert_true (ws_measurement_check_scale (scale, W, H, &error));
  g_assert_cmpfloat_with_epsilon (ws_scale_get_mm_per_pixel (scale, W, H), 0.05, 1e-12);
  g_assert_true (ws_measurement_length (scale, W, H, &from, &along, &length, &error));
  g_assert_cmpfloat_with_epsilon (length.mm, 50, 1e-9);
  g_assert_cmpfloat_with_epsilon (length.uncertainty_mm, 0, 1e-9);
  g_assert_true (ws_measurement_length (scale, W, H, &from, &slant, &length, &error));
  g_assert_cmpfloat_with_epsilon (length.mm, 25, 1e-9);
  g_assert_true (ws_measurement_mark_size (scale, W, H, mark, &across, &up, &error));
  g_assert_cmpfloat_with_epsilon (across.mm, 20, 1e-9);
  g_assert_cmpfloat_with_epsilon (up.mm, 30, 1e-9);
}

static double
within (GRand *rand, double limit)
{
  return g_rand_double_range (rand, -limit, limit + 1e-12);
}

/* JCGM 101:2008 (GUM, Supplement 1): the distribution itself, drawn at random, instead of the formula. */
static void
test_monte_carlo (void)
{
  static const struct { Limits limits; double scale_px, way_px, mm; } cases[] = {
    { { 2, 0.5, 10 }, 2000, 1000, 100 }, { { 2, 0.5, 10 }, 300, 80, 20 }, { { 5, 0, 0 }, 400, 150, 50 },
    { { 0, 1, 0 }, 1000, 700, 30 },      { { 0, 0, 25 }, 1000, 700, 30 },  { { 1, 0.2, 0 }, 120, 900, 10 },
    { { 3, 1, 20 }, 600, 60, 50 },
  };
  g_autoptr (GRand) rand = g_rand_new_with_seed (100);

  g_test_summary ("seven settings, 40,000 draws each: the spread of lengths is what the formula says within 4 %, and 93 of 100 "
                  "draws or more lie inside what is told");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const Limits *limits = &cases[i].limits;
      g_autoptr (WsScale) drawn = scale_of (at (10, 10), at (10 + cases[i].scale_px, 10), cases[i].mm, *limits);
      double lean = cos (limits->tilt * G_PI / 180), sum = 0, squares = 0, sd;
      WsPoint from = at (100, 100), to = at (100, 100 + cases[i].way_px);
      g_autoptr (GError) error = NULL;
      guint inside = 0, n = 40000;
      WsLength told;

      g_assert_true (ws_measurement_length (drawn, W, H, &from, &to, &told, &error));
      g_assert_cmpfloat_with_epsilon (told.mm, cases[i].mm * cases[i].way_px / cases[i].scale_px, 1e-9);
      for (guint k = 0; k < n; k++)
        {
          double way = cases[i].way_px + within (rand, limits->point_px) + within (rand, limits->point_px);
          double scale = cases[i].scale_px + within (rand, limits->point_px) + within (rand, limits->point_px);
          double mm = cases[i].mm + within (rand, limits->ruler_mm);
          double length = mm * way / scale * g_rand_double_range (rand, lean, 1 / lean + 1e-12);

          sum += length;
          squares += length * length;
          inside += fabs (length - told.mm) <= told.uncertainty_mm;
        }
      sd = sqrt (squares / n - sum / n * (sum / n));
      g_test_message ("%g mm: told ±%g, drawn ±%g, %.1f %% inside", told.mm, told.uncertainty_mm, 2 * sd, 100.0 * inside / n);
      g_assert_cmpfloat_with_epsilon (told.uncertainty_mm / (2 * sd), 1, 0.04);
      g_assert_cmpuint (inside, >=, n * 93 / 100);
    }
}

static void
test_refused (void)
{
  static const struct { struct { WsPoint a, b; double mm; } scale; Limits limits; WsPoint from, to; int width; const char *why; } cases[] = {
    { { { 0.1, 0.1 }, { 0.1, 0.1 }, 100 }, { 2, 1, 10 }, { 0, 0 }, { 1, 1 }, W, "scale points coincide" },
    { { { 0.1, 0.1 }, { 0.1008, 0.1 }, 100 }, { 2, 1, 10 }, { 0, 0 }, { 1, 1 }, W, "scale within its own error" },
    { { { 0.1, 0.1 }, { 0.9, 0.1 }, 0 }, { 2, 1, 10 }, { 0, 0 }, { 1, 1 }, W, "no distance" },
    { { { 0.1, 0.1 }, { 0.9, 0.1 }, -5 }, { 2, 1, 10 }, { 0, 0 }, { 1, 1 }, W, "negative distance" },
    { { { 0.1, 0.1 }, { 0.9, 0.1 }, NAN }, { 2, 1, 10 }, { 0, 0 }, { 1, 1 }, W, "distance not a number" },
    { { { 0.1, 0.1 }, { 1.1, 0.1 }, 100 }, { 2, 1, 10 }, { 0, 0 }, { 1, 1 }, W, "scale outside" },
    { { { 0.1, NAN }, { 0.9, 0.1 }, 100 }, { 2, 1, 10 }, { 0, 0 }, { 1, 1 }, W, "scale point not a number" },
    { { { 0.1, 0.1 }, { 0.9, 0.1 }, 100 }, { -1, 1, 10 }, { 0, 0 }, { 1, 1 }, W, "negative limit" },
    { { { 0.1, 0.1 }, { 0.9, 0.1 }, 100 }, { 2, -1, 10 }, { 0, 0 }, { 1, 1 }, W, "ruler off by less than nothing" },
    { { { 0.1, 0.1 }, { 0.9, 0.1 }, 100 }, { 2, 1, 90 }, { 0, 0 }, { 1, 1 }, W, "seen end on" },
    { { { 0.1, 0.1 }, { 0.9, 0.1 }, 100 }, { 2, 100, 10 }, { 0, 0 }, { 1, 1 }, W, "ruler off by its length" },
    { { { 0.1, 0.1 }, { 0.9, 0.1 }, 100 }, { 2, 1, 10 }, { 0.5, 0.5 }, { 0.5, 0.5 }, W, "no way" },
    { { { 0.1, 0.1 }, { 0.9, 0.1 }, 100 }, { 2, 1, 10 }, { 0.5, 0.5 }, { 0.5, -0.5 }, W, "end outside" },
    { { { 0.1, 0.1 }, { 0.9, 0.1 }, 100 }, { 2, 1, 10 }, { 0, 0 }, { 1, 1 }, 0, "no photo size" },
  };

  g_test_summary ("scales and ways that cannot be: an error each, in words");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (WsScale) scale = scale_of (cases[i].scale.a, cases[i].scale.b, cases[i].scale.mm, cases[i].limits);
      WsLength length;

      g_test_message ("%s", cases[i].why);
      g_assert_false (ws_measurement_length (scale, cases[i].width, H, &cases[i].from, &cases[i].to, &length, &error));
      g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
    }
}

static void
test_untold (void)
{
  g_autoptr (WsScale) untold = scale_of ((WsPoint) { 0.1, 0.1 }, (WsPoint) { 0.6, 0.1 }, 100, (Limits) { NAN, NAN, NAN });
  g_autoptr (WsScale) told = scale_of ((WsPoint) { 0.1, 0.1 }, (WsPoint) { 0.6, 0.1 }, 100,
                                       (Limits) { WS_MEASURING_POINT_PX, WS_MEASURING_RULER_MM, WS_MEASURING_TILT });
  WsPoint from = { 0.2, 0.2 }, to = { 0.3, 0.3 };
  WsLength a, b;

  g_test_summary ("what a scale does not tell is never taken as nothing off");
  g_assert_true (ws_measurement_length (untold, W, H, &from, &to, &a, NULL));
  g_assert_true (ws_measurement_length (told, W, H, &from, &to, &b, NULL));
  g_assert_cmpfloat (a.uncertainty_mm, ==, b.uncertainty_mm);
  g_assert_cmpfloat (a.uncertainty_mm, >, 0);
}

static void
test_ranges (void)
{
  static const struct { const char *quantity, *specimen; double value; } rows[] = {
    { "cap_width", "a", 20 }, { "cap_width", "a", 50 }, { "cap_width", "b", 80 }, { "stem_length", "b", 100 },
    { "cap_width", "", 62 }, { "cap_width", "", 61 }, { "cap_width", "c", 120 } };
  g_autoptr (GPtrArray) rest = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_measurement_unref);
  g_autofree char *text = NULL, *none = NULL;
  WsRange range;

  g_test_summary ("several specimens: a remeasured one counts once, other quantities not at all; 25 of them get their brackets");
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      WsMeasurement *one = ws_measurement_new ();

      ws_set_string (&one->quantity, rows[i].quantity);
      ws_set_string (&one->specimen, rows[i].specimen);
      one->value = rows[i].value;
      g_ptr_array_add (rest, one);
    }
  range = ws_measurement_get_range (rest, "cap_width", WS_PERCENTILES_LINEAR);
  text = ws_range_to_text (&range, WS_RANGE_SIZES, 0, '.');
  g_assert_cmpstr (text, ==, "50–120");
  g_assert_cmpfloat_with_epsilon (range.mean, (50 + 80 + 62 + 61 + 120) / 5.0, 1e-9);
  for (guint i = 0; i < 20; i++)
    {
      WsMeasurement *one = ws_measurement_new ();

      ws_set_string (&one->quantity, "cap_width");
      one->value = 70 + i;
      g_ptr_array_add (rest, one);
    }
  range = ws_measurement_get_range (rest, "cap_width", WS_PERCENTILES_LINEAR);
  g_free (text);
  text = ws_range_to_text (&range, WS_RANGE_SIZES, 0, '.');
  g_assert_cmpstr (text, ==, "(50–) 61–89 (–120)");
  range = ws_measurement_get_range (rest, "stem_width", WS_PERCENTILES_LINEAR);
  none = ws_range_to_text (&range, WS_RANGE_SIZES, 0, '.');
  g_assert_cmpstr (none, ==, "");
}

static void
test_text (void)
{
  static const struct { WsLength length; char point; const char *text; } cases[] = {
    { { 52.3, 2.6 }, '.', "52 ± 3 mm" },   { { 52.34, 1.23 }, '.', "52.3 ± 1.2 mm" }, { { 8.436, 0.57 }, ',', "8,4 ± 0,6 mm" },
    { { 127, 23 }, '.', "130 ± 30 mm" },   { { 127, 13.1 }, '.', "127 ± 13 mm" },     { { 52.3, 2.05 }, '.', "52 ± 2 mm" },
    { { 52.3, 2.4 }, '.', "52 ± 3 mm" },   { { 5, 0.004 }, '.', "5.00 ± 0.01 mm" },   { { 5, 0 }, '.', "5.00 ± 0.00 mm" },
    { { NAN, 1 }, '.', "" },
  };

  g_test_summary ("lengths with what they may be off by, to the place that is meant");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = ws_length_to_text (&cases[i].length, cases[i].point);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/measurement/lengths", test_lengths);
  g_test_add_func ("/find/measurement/monte-carlo", test_monte_carlo);
  g_test_add_func ("/find/measurement/refused", test_refused);
  g_test_add_func ("/find/measurement/untold", test_untold);
  g_test_add_func ("/find/measurement/ranges", test_ranges);
  g_test_add_func ("/find/measurement/text", test_text);
  return g_test_run ();
}
