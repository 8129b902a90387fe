/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A position on WGS 84 with its uncertainty, and how it is told to others. */
#pragma once

#include <glib.h>

typedef enum
{
  WS_POSITION_NONE,
  WS_POSITION_PHOTO,   /* read off a photo */
  WS_POSITION_TRACK,   /* interpolated from a track */
  WS_POSITION_TYPED,   /* a person gave it */
} WsPositionSource;

typedef struct
{
  double latitude;     /* degrees, -90…90; NAN when unknown */
  double longitude;    /* degrees, -180…180 */
  double error_m;      /* radius in metres that holds the true place; NAN when unknown */
  double altitude;     /* metres; NAN when unknown */
  WsPositionSource source;
} WsPosition;

/* An unknown position. */
WsPosition ws_position_none (void);
gboolean ws_position_is_known (const WsPosition *position);

/* Geodesic distance on WGS 84 in metres, by PROJ's geodesic routines (Karney 2013);
 * NAN if either is unknown. */
double ws_position_distance (const WsPosition *a, const WsPosition *b);

/* How exactly a place is told. */
typedef enum
{
  WS_TELL_WITHHELD,
  WS_TELL_EXACT,
  WS_TELL_HUNDREDTH,   /* rounded to 0.01 degree: the default */
  WS_TELL_THOUSANDTH,  /* … to 0.001 degree */
  WS_TELL_TENTH,       /* … to 0.1 degree */
  WS_TELL_REGION,      /* country and region in the sender's words, and no position */
  WS_TELL_N_WAYS,
} WsTellPlace;

/* "withheld", "exact", "0.01", "0.001", "0.1", "region"; FALSE for anything else. */
gboolean ws_tell_place_parse (const char *text, WsTellPlace *tell);
const char *ws_tell_place_id (WsTellPlace tell);

/* The step of the grid in degrees; 0 when exact; NAN when no position is told. */
double ws_tell_place_step (WsTellPlace tell);
/* How many decimals of a degree a reader is shown; those of the step, 5 when exact. */
int ws_tell_place_decimals (WsTellPlace tell);
/* The nearest line of the grid, exactly the decimal number a reader sees; the value itself when
 * exact; NAN when no position is told. Told again it stays. */
double ws_tell_place_round (WsTellPlace tell, double degrees);
/* FALSE where the place in words could give away what the coordinates leave out. */
gboolean ws_tell_place_has_locality (WsTellPlace tell);

/* The position as told: rounded to a fixed grid (never random, so that repeated requests
 * cannot be averaged), with the altitude gone unless exact, and the uncertainty grown by
 * ws_position_precision_m() (Wieczorek, Guo & Hijmans 2004, Eq. 1-5; sums, not roots, of
 * the parts: Eq. 8), rounded up to whole metres. Unknown stays unknown; withheld, and region
 * alone, is none. */
WsPosition ws_position_told (const WsPosition *position, WsTellPlace tell);

/* Uncertainty in metres that a precision of @step degrees adds at a latitude:
 * sqrt(latErr^2 + longErr^2) of the paper, whole cell, not rounded. */
double ws_position_precision_m (double latitude, double step);

/* GPS error as a radius that holds the place: twice the figure shown, 30 m when none is
 * (Georeferencing Quick Reference Guide 2020). */
double ws_position_gps_uncertainty_m (double shown_error_m);

/* "51.2000, -30.5000" with @decimals, decimal points whatever the locale. (transfer full) */
char *ws_position_to_text (const WsPosition *position, int decimals) G_GNUC_WARN_UNUSED_RESULT;
/* Reads "LAT,LON" in decimal degrees. */
gboolean ws_position_parse (const char *text, WsPosition *position);
