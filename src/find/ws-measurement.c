/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-measurement.h"

#include "ws-error.h"
#include "ws-intl.h"
#include "ws-range.h"

#include <math.h>

/* Relative standard uncertainty, squared. */
typedef double Share;

static double
distance_px (const WsPoint *a, const WsPoint *b, int width, int height)
{
  return hypot ((b->x - a->x) * width, (b->y - a->y) * height);
}

static gboolean
is_inside (const WsPoint *point)
{
  return point->x >= 0 && point->x <= 1 && point->y >= 0 && point->y <= 1;
}

static gboolean
fail (GError **error, const char *message)
{
  g_set_error_literal (error, WS_ERROR, WS_ERROR_INVALID, message);
  return FALSE;
}

/* What a scale tells, or what is taken where it does not. */
typedef struct { double point_px, ruler_mm, tilt; } Limits;

static Limits
limits_of (const WsScale *scale)
{
  return (Limits) { isnan (scale->point_error) ? WS_MEASURING_POINT_PX : scale->point_error,
                    isnan (scale->mm_error) ? WS_MEASURING_RULER_MM : scale->mm_error,
                    isnan (scale->tilt) ? WS_MEASURING_TILT : scale->tilt };
}

gboolean
ws_measurement_check_scale (const WsScale *scale, int width, int height, GError **error)
{
  Limits limits = limits_of (scale);
  double px;

  if (width < 1 || height < 1)
    return fail (error, _("The size of the photo is not known, so nothing can be measured on it"));
  if (!isfinite (scale->mm) || scale->mm <= 0)
    return fail (error, _("The distance between the two points of the scale must be more than 0 mm"));
  if (!(limits.point_px >= 0 && limits.point_px <= width + height) || !(limits.ruler_mm >= 0) ||
      !(limits.tilt >= 0 && limits.tilt <= WS_MEASURING_MAX_TILT))
    return fail (error, _("What a measurement may be off by cannot be: give px and mm from 0, and a tilt from 0 to 45 degrees"));
  if (!is_inside (&scale->a) || !is_inside (&scale->b))
    return fail (error, _("A point of the scale lies outside the photo"));
  px = distance_px (&scale->a, &scale->b, width, height);
  if (px < 1 || px <= 2 * limits.point_px)
    return fail (error, _("The two points of the scale are too close together: set them far apart on the ruler"));
  if (limits.ruler_mm >= scale->mm)
    return fail (error, _("The ruler may be off by as much as the scale is long: set a longer scale"));
  return TRUE;
}

static Share
ends_share (double limit_px, double way_px)
{
  return 2 * (limit_px / way_px) * (limit_px / way_px) / 3;
}

static WsLength
measure (const WsScale *scale, int width, int height, double way_px)
{
  Limits limits = limits_of (scale);
  double scale_px = distance_px (&scale->a, &scale->b, width, height);
  double lean = cos (limits.tilt * G_PI / 180), lean_width = 1 / lean - lean, ruler = limits.ruler_mm / scale->mm;
  double mm = ws_scale_get_mm_per_pixel (scale, width, height) * way_px;
  Share sum = ruler * ruler / 3 + ends_share (limits.point_px, scale_px) + ends_share (limits.point_px, way_px)
              + lean_width * lean_width / 12;

  return (WsLength) { mm, 2 * mm * sqrt (sum) };
}

gboolean
ws_measurement_length (const WsScale *scale, int width, int height, const WsPoint *from, const WsPoint *to, WsLength *length,
                       GError **error)
{
  double way;

  if (!ws_measurement_check_scale (scale, width, height, error))
    return FALSE;
  if (!is_inside (from) || !is_inside (to))
    return fail (error, _("An end of the measured way lies outside the photo"));
  way = distance_px (from, to, width, height);
  if (way < 1)
    return fail (error, _("The two ends of the measured way are the same point"));
  *length = measure (scale, width, height, way);
  return TRUE;
}

gboolean
ws_measurement_mark_size (const WsScale *scale, int width, int height, const WsShape *mark, WsLength *across, WsLength *up,
                          GError **error)
{
  const WsRect *bounds = &mark->bounds;

  if (!ws_measurement_check_scale (scale, width, height, error))
    return FALSE;
  if (bounds->width * width < 1 || bounds->height * height < 1)
    return fail (error, _("The mark is smaller than one pixel"));
  *across = measure (scale, width, height, bounds->width * width);
  *up = measure (scale, width, height, bounds->height * height);
  return TRUE;
}

static gboolean
is_measured_again (const GPtrArray *measurements, guint index)
{
  const WsMeasurement *this = g_ptr_array_index (measurements, index);

  for (guint i = index + 1; i < measurements->len && *this->specimen != '\0'; i++)
    {
      const WsMeasurement *later = g_ptr_array_index (measurements, i);

      if (g_str_equal (later->quantity, this->quantity) && g_str_equal (later->specimen, this->specimen))
        return TRUE;
    }
  return FALSE;
}

WsRange
ws_measurement_get_range (const GPtrArray *measurements, const char *quantity, WsPercentileRule rule)
{
  g_autofree double *values = g_new (double, measurements->len + 1);
  guint n = 0;

  for (guint i = 0; i < measurements->len; i++)
    {
      const WsMeasurement *one = g_ptr_array_index (measurements, i);

      if (g_str_equal (one->quantity, quantity) && isfinite (one->value) && !is_measured_again (measurements, i))
        values[n++] = one->value;
    }
  return ws_range_of (values, n, rule);
}

char *
ws_length_to_text (const WsLength *length, char point)
{
  double off = length->uncertainty_mm, unit, rounded;
  g_autofree char *value = NULL, *uncertainty = NULL;
  int place, decimals;

  if (!isfinite (length->mm) || !isfinite (off))
    return g_strdup ("");
  place = off > 0.01 ? (int) floor (log10 (off)) : -2;
  if (off / pow (10, place) < 2)
    place--;
  place = MAX (place, -2);
  unit = pow (10, place);
  /* Rounded up, unless next to nothing is lost: what is told must not promise too much. */
  rounded = ceil (0.95 * off / unit) * unit;
  decimals = MAX (-place, 0);
  value = ws_decimal_to_text (round (length->mm / unit) * unit, decimals, point);
  uncertainty = ws_decimal_to_text (rounded, decimals, point);
  return g_strdup_printf ("%s ± %s mm", value, uncertainty);
}
