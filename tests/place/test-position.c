/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-position.h"

#include <locale.h>
#include <math.h>
#include <string.h>

static WsPosition
at (double latitude, double longitude, double error_m)
{
  WsPosition position = ws_position_none ();

  position.latitude = latitude;
  position.longitude = longitude;
  position.error_m = error_m;
  position.altitude = 412.5;
  position.source = WS_POSITION_PHOTO;
  return position;
}

static void
test_distance (void)
{
  const char *checks = g_getenv ("WS_CHECKS");
  g_autofree char *path = NULL, *text = NULL;
  g_auto (GStrv) lines = NULL;
  guint compared = 0;

  g_test_summary ("distances are those of GeographicLib's GeodSolve (shared/checks/coordinates/geodesic.tsv), to a millimetre");
  if (checks == NULL || *checks == '\0')
    {
      g_test_skip ("shared/checks is not there");
      return;
    }
  path = g_build_filename (checks, "coordinates", "geodesic.tsv", NULL);
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 1; lines[i] != NULL && *lines[i] != '\0'; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i], "\t", -1);
      WsPosition a = at (g_ascii_strtod (cells[0], NULL), g_ascii_strtod (cells[1], NULL), NAN);
      WsPosition b = at (g_ascii_strtod (cells[2], NULL), g_ascii_strtod (cells[3], NULL), NAN);

      g_test_message ("%s", lines[i]);
      g_assert_cmpfloat_with_epsilon (ws_position_distance (&a, &b), g_ascii_strtod (cells[4], NULL), 0.001);
      g_assert_cmpfloat_with_epsilon (ws_position_distance (&b, &a), g_ascii_strtod (cells[4], NULL), 0.001);
      compared++;
    }
  g_assert_cmpuint (compared, >=, 50);
}

static void
test_distance_edges (void)
{
  WsPosition none = ws_position_none (), here = at (47, 8, NAN);
  WsPosition west = at (10, 179.9999, NAN), east = at (10, -179.9999, NAN);

  g_test_summary ("an unknown place is at no distance; the 180th meridian is no wall");
  g_assert_true (isnan (ws_position_distance (&none, &here)));
  g_assert_true (isnan (ws_position_distance (&here, &none)));
  g_assert_cmpfloat (ws_position_distance (&here, &here), ==, 0);
  /* 0.0002 degrees at 10 degrees: 21.9 m, by N cos(latitude) of the ellipsoid. */
  g_assert_cmpfloat_with_epsilon (ws_position_distance (&west, &east), 21.93, 0.01);
}

static void
test_precision_table (void)
{
  /* Wieczorek, Guo & Hijmans 2004, Table 2 (metres, rounded up). One entry in print (1 degree at
     30 degrees) is a metre lower than the paper's own formula gives, so one metre is allowed. */
  static const double latitudes[] = { 0, 30, 60, 85 };
  static const struct { double step; int metres[4]; } table[] = {
    { 1, { 156904, 146962, 124605, 112109 } }, { 0.1, { 15691, 14697, 12461, 11211 } },
    { 0.01, { 1570, 1470, 1247, 1122 } },      { 0.001, { 157, 147, 125, 113 } },
    { 0.0001, { 16, 15, 13, 12 } },            { 0.00001, { 2, 2, 2, 2 } },
    /* Georeferencing Best Practices 2020, the further rows: minutes and seconds. */
    { 1 / 60.0, { 2615, 2450, 2077, 1869 } },  { 0.1 / 60, { 262, 245, 208, 187 } },
    { 0.01 / 60, { 27, 25, 21, 19 } },         { 0.001 / 60, { 3, 3, 3, 2 } },
    { 1 / 3600.0, { 44, 41, 35, 32 } },        { 0.1 / 3600, { 5, 5, 4, 4 } },
    { 0.01 / 3600, { 1, 1, 1, 1 } },
  };

  g_test_summary ("uncertainty by precision: Table 2 of Wieczorek 2004 and the table of GBP 2020, within a metre");
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    for (gsize k = 0; k < G_N_ELEMENTS (latitudes); k++)
      {
        double ours = ceil (ws_position_precision_m (latitudes[k], table[i].step));

        g_test_message ("%g degrees at %g: %g, %d", table[i].step, latitudes[k], ours, table[i].metres[k]);
        g_assert_cmpfloat (fabs (ours - table[i].metres[k]), <=, 1);
        g_assert_cmpfloat (ws_position_precision_m (-latitudes[k], table[i].step), ==,
                           ws_position_precision_m (latitudes[k], table[i].step));
      }
  /* The worked example of the paper: 10.27 degrees, 0.01 degree, 1.5568 km. */
  g_assert_cmpfloat_with_epsilon (ws_position_precision_m (10.27, 0.01), 1556.8, 0.05);
}

static void
test_told (void)
{
  static const struct { double lat, lon, told_lat, told_lon; } cases[] = {
    { 47.123456, 8.987654, 47.12, 8.99 },   { -33.8688, 151.2093, -33.87, 151.21 }, { 0.004, -0.004, 0, 0 },
    { -0.0049, 0.0049, 0, 0 },              { -0.006, 0.006, -0.01, 0.01 },          { 89.999, 0.001, 90, 0 },
    { -89.999, 0, -90, 0 },                 { 10, 179.994, 10, 179.99 },            { 10, -179.994, 10, -179.99 },
    { 10, 179.996, 10, 180 },               { 10, -179.996, 10, -180 },
  };

  g_test_summary ("a rounded place lies on the fixed grid of 0.01 degree, with no minus before nought and without altitude");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WsPosition position = at (cases[i].lat, cases[i].lon, 10);
      WsPosition told = ws_position_told (&position, WS_TELL_HUNDREDTH);
      g_autofree char *text = ws_position_to_text (&told, 2);

      g_test_message ("%g, %g", cases[i].lat, cases[i].lon);
      g_assert_cmpfloat (told.latitude, ==, cases[i].told_lat);
      g_assert_cmpfloat (told.longitude, ==, cases[i].told_lon);
      g_assert_false (signbit (told.latitude) && told.latitude == 0);
      g_assert_false (signbit (told.longitude) && told.longitude == 0);
      g_assert_null (strstr (text, "-0.00"));
      g_assert_true (isnan (told.altitude));
    }
}

static const struct { WsTellPlace tell; double step; int decimals; } grids[] = {
  { WS_TELL_THOUSANDTH, 0.001, 3 }, { WS_TELL_HUNDREDTH, 0.01, 2 }, { WS_TELL_TENTH, 0.1, 1 },
};

static void
test_told_grids (void)
{
  static const struct { double lat, lon; const char *told[G_N_ELEMENTS (grids)]; } cases[] = {
    { 47.123456, 8.987654, { "47.123, 8.988", "47.12, 8.99", "47.1, 9.0" } },
    { -33.8688, 151.2093, { "-33.869, 151.209", "-33.87, 151.21", "-33.9, 151.2" } },
    { 0.0004, -0.0004, { "0.000, 0.000", "0.00, 0.00", "0.0, 0.0" } },
    { 89.97, -179.97, { "89.970, -179.970", "89.97, -179.97", "90.0, -180.0" } },
  };

  g_test_summary ("the three grids: the nearest line, as decimal text, and no minus before nought");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    for (gsize k = 0; k < G_N_ELEMENTS (grids); k++)
      {
        WsPosition position = at (cases[i].lat, cases[i].lon, 10);
        WsPosition told = ws_position_told (&position, grids[k].tell);
        g_autofree char *text = ws_position_to_text (&told, ws_tell_place_decimals (grids[k].tell));

        g_assert_cmpstr (text, ==, cases[i].told[k]);
        g_assert_cmpint (ws_tell_place_decimals (grids[k].tell), ==, grids[k].decimals);
        g_assert_cmpfloat (ws_tell_place_step (grids[k].tell), ==, grids[k].step);
        g_assert_true (isnan (told.altitude));
      }
  g_assert_cmpfloat (ws_tell_place_step (WS_TELL_EXACT), ==, 0);
  g_assert_cmpfloat (ws_tell_place_round (WS_TELL_EXACT, 47.123456), ==, 47.123456);
  g_assert_true (isnan (ws_tell_place_step (WS_TELL_WITHHELD)) && isnan (ws_tell_place_step (WS_TELL_REGION)));
  g_assert_true (isnan (ws_tell_place_round (WS_TELL_WITHHELD, 5)) && isnan (ws_tell_place_round (WS_TELL_REGION, 5)));
}

static void
test_told_noise (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (8);

  g_test_summary ("20,000 places on each grid in turn: told the same every time, told again unmoved, and the circle told holds the true place");
  for (int i = 0; i < 20000; i++)
    {
      WsTellPlace tell = grids[i % 3].tell;
      double error = g_rand_boolean (rand) ? NAN : g_rand_double_range (rand, 1, 500);
      WsPosition position = at (g_rand_double_range (rand, -90, 90), g_rand_double_range (rand, -180, 180), error);
      WsPosition told = ws_position_told (&position, tell), again = ws_position_told (&position, tell);
      WsPosition twice = ws_position_told (&told, tell);
      g_autofree char *text = ws_position_to_text (&told, grids[i % 3].decimals);
      WsPosition back;

      g_assert_cmpfloat (told.latitude, ==, again.latitude);
      g_assert_cmpfloat (told.longitude, ==, again.longitude);
      g_assert_cmpfloat (told.error_m, ==, again.error_m);
      g_assert_cmpfloat (told.latitude, ==, twice.latitude);
      g_assert_cmpfloat (told.longitude, ==, twice.longitude);
      /* What a reader sees as decimal text is the number itself. */
      g_assert_true (ws_position_parse (text, &back));
      g_assert_cmpfloat (back.latitude, ==, told.latitude);
      g_assert_cmpfloat (back.longitude, ==, told.longitude);
      g_assert_true (fabs (told.latitude) <= 90 && fabs (told.longitude) <= 180);
      /* Sum, not root of squares (Eq. 8), rounded up; an unknown GPS error is 30 m (GQRG 2020). */
      g_assert_cmpfloat (told.error_m, ==, ceil ((isnan (error) ? 30 : error) + ws_position_precision_m (told.latitude, grids[i % 3].step)));
      g_assert_cmpfloat (told.error_m, >=, ws_position_distance (&position, &told) + (isnan (error) ? 30 : error));
    }
}

static void
test_told_other (void)
{
  WsPosition exact = at (47.123456, 8.987654, 10), none = ws_position_none (), told;

  g_test_summary ("exact is as held; withheld, and region alone, is none; unknown stays unknown however told");
  told = ws_position_told (&exact, WS_TELL_EXACT);
  g_assert_cmpfloat (told.latitude, ==, 47.123456);
  g_assert_cmpfloat (told.error_m, ==, 10);
  g_assert_cmpfloat (told.altitude, ==, 412.5);
  told = ws_position_told (&exact, WS_TELL_WITHHELD);
  g_assert_true (isnan (told.latitude) && isnan (told.longitude) && isnan (told.error_m) && isnan (told.altitude));
  g_assert_cmpint (told.source, ==, WS_POSITION_NONE);
  told = ws_position_told (&exact, WS_TELL_REGION);
  g_assert_true (isnan (told.latitude) && isnan (told.longitude) && isnan (told.error_m) && isnan (told.altitude));
  for (int tell = WS_TELL_WITHHELD; tell < WS_TELL_N_WAYS; tell++)
    {
      told = ws_position_told (&none, (WsTellPlace) tell);
      g_assert_false (ws_position_is_known (&told));
      g_assert_true (isnan (told.error_m));
    }
}

static void
test_gps_uncertainty (void)
{
  g_test_summary ("twice the error shown, 30 m when none is (Georeferencing Quick Reference Guide 2020)");
  g_assert_cmpfloat (ws_position_gps_uncertainty_m (5), ==, 10);
  g_assert_cmpfloat (ws_position_gps_uncertainty_m (NAN), ==, 30);
  g_assert_cmpfloat (ws_position_gps_uncertainty_m (0), ==, 30);
  g_assert_cmpfloat (ws_position_gps_uncertainty_m (-3), ==, 30);
  g_assert_cmpfloat (ws_position_gps_uncertainty_m (INFINITY), ==, 30);
}

static void
test_tell_ids (void)
{
  static const char *const no_ids[] = { NULL, "", "0.0001", "1.0", "0,01", "Exact", "exact ", "none", "1", ".1" };
  WsTellPlace tell;

  g_test_summary ("how a place is told has six words; any other is refused");
  for (int t = WS_TELL_WITHHELD; t < WS_TELL_N_WAYS; t++)
    {
      g_assert_true (ws_tell_place_parse (ws_tell_place_id ((WsTellPlace) t), &tell));
      g_assert_cmpint (tell, ==, t);
    }
  g_assert_true (ws_tell_place_parse ("0.01", &tell));
  g_assert_cmpint (tell, ==, WS_TELL_HUNDREDTH);
  for (gsize i = 0; i < G_N_ELEMENTS (no_ids); i++)
    g_assert_false (ws_tell_place_parse (no_ids[i], &tell));
}

static void
test_parse (void)
{
  static const struct { const char *text; gboolean fine; double lat, lon; } cases[] = {
    { "47.5,8.25", TRUE, 47.5, 8.25 }, { "47.5, 8.25", TRUE, 47.5, 8.25 }, { "47.5 , -8.25 ", TRUE, 47.5, -8.25 },
    { "90,180", TRUE, 90, 180 }, { "-90,-180", TRUE, -90, -180 }, { "0,0", TRUE, 0, 0 }, { "-33,+151", TRUE, -33, 151 },
    { "", FALSE }, { ",", FALSE }, { "47.5", FALSE }, { "47.5,", FALSE }, { ",8", FALSE }, { "47.5 8.25", FALSE },
    { "47.5;8.25", FALSE }, { "47,5,8,25", FALSE }, { "90.0001,0", FALSE }, { "0,180.0001", FALSE }, { "-91,0", FALSE },
    { "nan,0", FALSE }, { "0,nan", FALSE }, { "inf,0", FALSE }, { "0,-inf", FALSE }, { "1e999,0", FALSE },
    { "47.5N,8.25E", FALSE }, { "47\xc2\xb0,8", FALSE }, { "47.5,8.25,3", FALSE }, { "47.5,8.25\n", FALSE },
    { "a,b", FALSE }, { "\xff,\xfe", FALSE }, { "--1,2", FALSE },
  };

  g_test_summary ("LAT,LON in decimal degrees, within the globe, with decimal points in any locale, or refused");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WsPosition position = at (1, 2, 3);

      g_test_message ("“%s”", cases[i].text);
      g_assert_cmpint (ws_position_parse (cases[i].text, &position), ==, cases[i].fine);
      if (!cases[i].fine)
        continue;
      g_assert_cmpfloat (position.latitude, ==, cases[i].lat);
      g_assert_cmpfloat (position.longitude, ==, cases[i].lon);
      /* Typed places bring no error and no altitude of what was there before. */
      g_assert_true (isnan (position.error_m) && isnan (position.altitude));
      g_assert_cmpint (position.source, ==, WS_POSITION_TYPED);
    }
}

static void
test_text (void)
{
  WsPosition position = at (51.2, -30.5, NAN);
  g_autofree char *before = g_strdup (setlocale (LC_ALL, NULL)), *four = NULL, *none = NULL, *many = NULL;

  g_test_summary ("places are written with decimal points where the locale has commas");
  if (setlocale (LC_ALL, "de_DE.UTF-8") == NULL)
    g_test_message ("locale de_DE.UTF-8 is not installed: tried in this one only");
  four = ws_position_to_text (&position, 4);
  none = ws_position_to_text (&position, -5);
  many = ws_position_to_text (&position, 1000);
  g_assert_cmpstr (four, ==, "51.2000, -30.5000");
  g_assert_cmpstr (none, ==, "51, -30");
  g_assert_cmpstr (many, ==, "51.200000000, -30.500000000");
  test_parse ();
  setlocale (LC_ALL, before);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/place/position/distance", test_distance);
  g_test_add_func ("/place/position/distance-edges", test_distance_edges);
  g_test_add_func ("/place/position/precision-table", test_precision_table);
  g_test_add_func ("/place/position/told", test_told);
  g_test_add_func ("/place/position/told-grids", test_told_grids);
  g_test_add_func ("/place/position/told-noise", test_told_noise);
  g_test_add_func ("/place/position/told-other", test_told_other);
  g_test_add_func ("/place/position/gps-uncertainty", test_gps_uncertainty);
  g_test_add_func ("/place/position/tell-ids", test_tell_ids);
  g_test_add_func ("/place/position/parse", test_parse);
  g_test_add_func ("/place/position/text", test_text);
  return g_test_run ();
}
