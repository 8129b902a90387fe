/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measuring by hand on a photo: a scale from two points of known distance, then lengths in millimetres with what they
 * may be off by.
 *
 * With D mm between two points that lie d0 px apart, a way of d px is L = D * d / d0. What each may be off by is given
 * as limits, within which any value is taken as equally likely; the standard uncertainty of such a value is its half
 * width / sqrt(3), of unequal limits their distance / sqrt(12) (JCGM 100:2008, GUM, 4.3.7 and 4.3.8). Each end point
 * counts along the way. A line that leans out of the plane of the ruler by up to t is up to 1 / cos t longer than it
 * looks, and one measured by a ruler that leans, up to cos t shorter; so the factor lies between cos t and 1 / cos t. With
 * limits e px for each end point (point_error), r mm for the ruler (mm_error) and t (tilt), the independent parts add up as (GUM, 5.1.2, product form 5.1.6):
 *
 *   (u(L) / L)^2 = (r / D)^2 / 3 + 2 (e / d0)^2 / 3 + 2 (e / d)^2 / 3 + (1 / cos t - cos t)^2 / 12
 *
 * and what is told is L +- U with U = 2 u(L), which holds about 95 of 100 (GUM, 6.2 and G.6.6). Not in it: that the
 * fungus lies nearer to the camera than the ruler or farther from it. */
#pragma once

#include "ws-range.h"
#include "ws-sizes.h"

#include <gio/gio.h>

/* What a scale does not tell (judgement): a careful hand on a photo seen at its own size, a printed ruler, a fungus laid
 * flat by eye. */
#define WS_MEASURING_POINT_PX 2.0
#define WS_MEASURING_RULER_MM 0.5
#define WS_MEASURING_TILT 10.0
#define WS_MEASURING_MAX_TILT 45.0   /* degrees */

typedef struct { double mm, uncertainty_mm; } WsLength;

/* FALSE if nothing can be measured by @scale on its photo of @width x @height px: WS_ERROR_INVALID with what is wrong: points
 * outside the photo or nearer than twice what an end point may be off by, a distance that is not positive or that may be
 * off by all of it, an error below 0, a tilt above WS_MEASURING_MAX_TILT. */
gboolean ws_measurement_check_scale (const WsScale *scale, int width, int height, GError **error);

/* The way from @from to @to, fractions of the upright photo. Errors as above; also points outside the photo or less than a
 * pixel apart. */
gboolean ws_measurement_length (const WsScale *scale, int width, int height, const WsPoint *from, const WsPoint *to,
                                WsLength *length, GError **error);

/* Width and height of the rectangle round a mark. */
gboolean ws_measurement_mark_size (const WsScale *scale, int width, int height, const WsShape *mark, WsLength *across,
                                   WsLength *up, GError **error);

/* The range of a quantity over @measurements (of WsMeasurement, oldest first): of a lettered specimen what was measured
 * last, of specimens without a letter everything. */
WsRange ws_measurement_get_range (const GPtrArray *measurements, const char *quantity, WsPercentileRule rule);

/* "52 ± 3 mm": the uncertainty with one digit, two when the first is a 1 (GUM, 7.2.6), never rounded down below what it
 * is by more than a twentieth; the length to the same place. @point: decimal sign. (transfer full) */
char *ws_length_to_text (const WsLength *length, char point) G_GNUC_WARN_UNUSED_RESULT;
