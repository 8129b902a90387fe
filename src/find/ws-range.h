/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The range of a measured quantity over several specimens or spores, in the form (min–) a–b (–max): a and b are the
 * 5th and the 95th percentile, the brackets hold the rare extremes (Tulloss & Lindgren 2005, Mycotaxon 91: 193-194).
 * What a percentile of a short list is depends on a rule; so the rule is stored and printed with the range. */
#pragma once

#include <glib.h>

typedef enum
{
  WS_PERCENTILES_UNSAID,    /* a published range that does not say */
  WS_PERCENTILES_LINEAR,    /* between the two nearest values: quantile type 7 of GNU R */
  WS_PERCENTILES_NEAREST,   /* the smallest value that has the share at or below it: type 1 */
} WsPercentileRule;

/* Sample quantiles as numbered by Hyndman & Fan 1996 (The American Statistician 50: 361-365). @sorted: ascending;
 * @share: 0-1. NAN when there are no values or the rule is not said. */
double ws_percentile (const double *sorted, guint n, double share, WsPercentileRule rule);

/* "unsaid", "linear", "nearest"; FALSE for anything else. */
const char *ws_percentile_rule_id (WsPercentileRule rule);
gboolean ws_percentile_rule_parse (const char *text, WsPercentileRule *rule);

/* A tail of 5 % of fewer values would be less than one of them (judgement): then a and b are the extremes. */
#define WS_RANGE_MIN_FOR_TAILS 20

/* NAN: not given. Of those given: min <= low <= mean <= high <= max. */
typedef struct { double min, low, mean, high, max; } WsRange;

#define WS_RANGE_NONE { __builtin_nan (""), __builtin_nan (""), __builtin_nan (""), __builtin_nan (""), __builtin_nan ("") }

/* The range of @values, in any order; mean is their arithmetic mean. Without values everything is NAN. */
WsRange ws_range_of (const double *values, guint n, WsPercentileRule rule);
/* Sample standard deviation (divisor n - 1); NAN for fewer than two values. */
double ws_standard_deviation (const double *values, guint n);

/* The smallest and the largest value known of it: the brackets, else low and high. */
double ws_range_get_smallest (const WsRange *range);
double ws_range_get_largest (const WsRange *range);
/* TRUE if low and high are known and everything known is finite, positive and in order. */
gboolean ws_range_is_sound (const WsRange *range);

typedef enum
{
  WS_RANGE_SIZES,   /* (42–) 50–120 (–135) */
  WS_RANGE_SPORES,  /* (8.2-) 8.5 - 10.5 (-11.2) */
} WsRangeForm;

/* The range without its mean, @decimals 0-3, with @point as decimal sign ('.' or ','). A bracket that would print as
 * the number beside it is left out: then that is the extreme. "" if it is not sound. (transfer full) */
char *ws_range_to_text (const WsRange *range, WsRangeForm form, int decimals, char point) G_GNUC_WARN_UNUSED_RESULT;

/* @value with @decimals 0-3 and @point. (transfer full) */
char *ws_decimal_to_text (double value, int decimals, char point) G_GNUC_WARN_UNUSED_RESULT;
