/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-position.h"

#include <geodesic.h>
#include <math.h>
#include <string.h>

#define WGS84_A 6378137.0
#define WGS84_F (1 / 298.257223563)

WsPosition
ws_position_none (void)
{
  return (WsPosition) { NAN, NAN, NAN, NAN, WS_POSITION_NONE };
}

gboolean
ws_position_is_known (const WsPosition *position)
{
  return isfinite (position->latitude) && isfinite (position->longitude);
}

double
ws_position_distance (const WsPosition *a, const WsPosition *b)
{
  struct geod_geodesic earth;
  double metres;

  if (!ws_position_is_known (a) || !ws_position_is_known (b))
    return NAN;
  geod_init (&earth, WGS84_A, WGS84_F);
  geod_inverse (&earth, a->latitude, a->longitude, b->latitude, b->longitude, &metres, NULL, NULL);
  return metres;
}

/* In the order of WsTellPlace. */
static const struct { const char *id; int parts, decimals; gboolean locality; } tells[WS_TELL_N_WAYS] = {
  { "withheld", -1, 0, FALSE }, { "exact", 0, 5, TRUE },      { "0.01", 100, 2, TRUE },
  { "0.001", 1000, 3, TRUE },   { "0.1", 10, 1, FALSE },      { "region", -1, 0, FALSE },
};

gboolean
ws_tell_place_parse (const char *text, WsTellPlace *tell)
{
  for (gsize i = 0; i < G_N_ELEMENTS (tells); i++)
    if (g_strcmp0 (text, tells[i].id) == 0)
      {
        *tell = (WsTellPlace) i;
        return TRUE;
      }
  return FALSE;
}

const char *
ws_tell_place_id (WsTellPlace tell)
{
  return tells[tell].id;
}

double
ws_tell_place_step (WsTellPlace tell)
{
  return tells[tell].parts > 0 ? 1.0 / tells[tell].parts : tells[tell].parts < 0 ? NAN : 0;
}

int
ws_tell_place_decimals (WsTellPlace tell)
{
  return tells[tell].decimals;
}

/* A whole number over the parts of a degree: the division gives the number that the decimal text means. */
double
ws_tell_place_round (WsTellPlace tell, double degrees)
{
  double rounded;

  if (tells[tell].parts < 0)
    return NAN;
  if (tells[tell].parts == 0)
    return degrees;
  rounded = round (degrees * tells[tell].parts) / tells[tell].parts;
  return rounded == 0 ? 0 : rounded;
}

gboolean
ws_tell_place_has_locality (WsTellPlace tell)
{
  return tells[tell].locality;
}

double
ws_position_precision_m (double latitude, double step)
{
  double e2 = 2 * WGS84_F - WGS84_F * WGS84_F;
  double s = sin (latitude * G_PI / 180);
  double r = WGS84_A * (1 - e2) / pow (1 - e2 * s * s, 1.5);
  double x = WGS84_A / sqrt (1 - e2 * s * s) * cos (latitude * G_PI / 180);

  return hypot (G_PI * r * step / 180, G_PI * x * step / 180);
}

double
ws_position_gps_uncertainty_m (double shown_error_m)
{
  return isfinite (shown_error_m) && shown_error_m > 0 ? 2 * shown_error_m : 30;
}

WsPosition
ws_position_told (const WsPosition *position, WsTellPlace tell)
{
  WsPosition told = *position;

  if (isnan (ws_tell_place_step (tell)) || !ws_position_is_known (position))
    return ws_position_none ();
  if (tell == WS_TELL_EXACT)
    return told;
  told.latitude = ws_tell_place_round (tell, position->latitude);
  told.longitude = ws_tell_place_round (tell, position->longitude);
  told.altitude = NAN;
  told.error_m = ceil ((isfinite (position->error_m) ? position->error_m : 30) +
                       ws_position_precision_m (told.latitude, ws_tell_place_step (tell)));
  return told;
}

char *
ws_position_to_text (const WsPosition *position, int decimals)
{
  char lat[G_ASCII_DTOSTR_BUF_SIZE], lon[G_ASCII_DTOSTR_BUF_SIZE], pattern[8];

  g_snprintf (pattern, sizeof pattern, "%%.%df", CLAMP (decimals, 0, 9));
  return g_strdup_printf ("%s, %s", g_ascii_formatd (lat, sizeof lat, pattern, position->latitude),
                          g_ascii_formatd (lon, sizeof lon, pattern, position->longitude));
}

gboolean
ws_position_parse (const char *text, WsPosition *position)
{
  char *end;
  double lat, lon;

  lat = g_ascii_strtod (text, &end);
  if (end == text)
    return FALSE;
  text = end + strspn (end, " ");
  if (*text != ',')
    return FALSE;
  text++;
  lon = g_ascii_strtod (text, &end);
  if (end == text || end[strspn (end, " ")] != '\0' || !(fabs (lat) <= 90) || !(fabs (lon) <= 180))
    return FALSE;
  *position = ws_position_none ();
  position->latitude = lat;
  position->longitude = lon;
  position->source = WS_POSITION_TYPED;
  return TRUE;
}
