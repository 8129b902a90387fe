/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was measured by hand: the scale of a photo, lengths and widths of a specimen, lists of spores. Values
 * as in ws-values.h. What is computed from them is in ws-measurement.h and ws-spore-notation.h. */
#pragma once

#include "ws-shape.h"
#include "ws-spore-notation.h"
#include "ws-value.h"

/* --- Scale: two points of a photo whose distance is known (a ruler in the frame) ------ */

typedef struct
{
  gatomicrefcount refs;
  char *id;
  char *photo_id;
  WsPoint a, b;         /* fractions of the upright photo */
  double mm;            /* between the points, above 0 */
  double mm_error;      /* of that distance, ± mm; NAN not told */
  double point_error;   /* of each end point, ± px of the upright photo; NAN not told */
  double tilt;          /* degrees by which ruler and part may be tilted against each other; NAN not told */
  gint64 created_us;
} WsScale;

/* --- Measurement: one length or width --------------------------------------------------- */

typedef struct
{
  gatomicrefcount refs;
  char *id;
  char *quantity;       /* id of quantities.tsv; its unit is that of value and error */
  char *specimen;       /* "a", "b", …; "" when not said */
  double value;         /* above 0 */
  double error;         /* ±; NAN not told */
  char *photo_id;       /* (nullable): NULL: on the specimen, by ruler */
  WsPoint a, b;         /* on the photo: its ends */
  char *observer;       /* "" when not said */
  char *remark;         /* for the identifier */
  gint64 created_us;
} WsMeasurement;

/* --- Spore list: every spore as it was measured ------------------------------------------- */

typedef enum
{
  WS_SPORES_FROM_UNKNOWN,
  WS_SPORES_FROM_PRINT,   /* dropped, mature */
  WS_SPORES_FROM_GILLS,   /* scraped or squashed from gills or pores */
} WsSporesFrom;

/* No list is longer: so many are read from a request.json. */
#define WS_SPORE_LIST_MAX 5000

typedef struct
{
  gatomicrefcount refs;
  char *id;
  char *specimen;       /* "" when not said, or when of several */
  guint n_spores;       /* measured one by one, at most WS_SPORE_LIST_MAX; 0 when only verbatim is given */
  WsSpore *spores;      /* n_spores of them, µm */
  guint n_specimens;    /* fruit bodies they come from; 0 not said */
  WsSporesFrom from;
  char *mount;          /* "water", "KOH 5 %", …; "" when not said */
  WsPercentileRule rule;  /* by which its range is printed */
  char *verbatim;       /* the list or notation as it was typed or published */
  char *observer;
  char *remark;         /* for the identifier */
  gint64 created_us;
} WsSporeList;

WS_DECLARE_VALUE (WsScale, ws_scale)
WS_DECLARE_VALUE (WsMeasurement, ws_measurement)
WS_DECLARE_VALUE (WsSporeList, ws_spore_list)
#define WS_TYPE_SCALE (ws_scale_get_type ())
#define WS_TYPE_MEASUREMENT (ws_measurement_get_type ())
#define WS_TYPE_SPORE_LIST (ws_spore_list_get_type ())

/* Replaces the spores of a list that is being made: copies @n of them. */
void ws_spore_list_set (WsSporeList *list, const WsSpore *spores, guint n);

/* mm for one pixel of the upright photo of @width x @height px; NAN when the points coincide. */
double ws_scale_get_mm_per_pixel (const WsScale *scale, int width, int height);

/* "unknown", "print", "gills". */
const char *ws_spores_from_id (WsSporesFrom from);
gboolean ws_spores_from_parse (const char *text, WsSporesFrom *from);
