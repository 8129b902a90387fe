/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-range.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const rule_ids[] = { "unsaid", "linear", "nearest" };

const char *
ws_percentile_rule_id (WsPercentileRule rule)
{
  return rule_ids[rule];
}

gboolean
ws_percentile_rule_parse (const char *text, WsPercentileRule *rule)
{
  for (guint i = 0; i < G_N_ELEMENTS (rule_ids); i++)
    if (g_strcmp0 (text, rule_ids[i]) == 0)
      {
        *rule = i;
        return TRUE;
      }
  return FALSE;
}

double
ws_percentile (const double *sorted, guint n, double share, WsPercentileRule rule)
{
  /* Products such as 0.95 * 40 may miss the whole number by a rounding error. */
  double fuzz = 4 * DBL_EPSILON, at, whole;
  guint below;

  if (n == 0 || rule == WS_PERCENTILES_UNSAID || !(share >= 0 && share <= 1))
    return NAN;
  at = rule == WS_PERCENTILES_LINEAR ? (n - 1) * share : n * share - 1;
  whole = floor (at + fuzz * n);
  if (whole < 0)
    return sorted[0];
  below = MIN ((guint) whole, n - 1);
  if (below == n - 1 || at - whole <= fuzz * n)
    return sorted[below];
  if (rule == WS_PERCENTILES_NEAREST)
    return sorted[below + 1];
  return sorted[below] + (at - whole) * (sorted[below + 1] - sorted[below]);
}

static int
compare_values (gconstpointer a, gconstpointer b)
{
  double one = *(const double *) a, two = *(const double *) b;

  return one < two ? -1 : one > two;
}

static double
mean_of (const double *values, guint n)
{
  double sum = 0;

  for (guint i = 0; i < n; i++)
    sum += values[i];
  return n > 0 ? sum / n : NAN;
}

WsRange
ws_range_of (const double *values, guint n, WsPercentileRule rule)
{
  WsRange range = WS_RANGE_NONE;
  g_autofree double *sorted = g_memdup2 (values, n * sizeof *values);

  if (n == 0)
    return range;
  qsort (sorted, n, sizeof *sorted, compare_values);
  range.mean = mean_of (values, n);
  if (n < WS_RANGE_MIN_FOR_TAILS || rule == WS_PERCENTILES_UNSAID)
    {
      range.low = sorted[0];
      range.high = sorted[n - 1];
      return range;
    }
  range.min = sorted[0];
  range.max = sorted[n - 1];
  range.low = ws_percentile (sorted, n, 0.05, rule);
  range.high = ws_percentile (sorted, n, 0.95, rule);
  return range;
}

double
ws_standard_deviation (const double *values, guint n)
{
  double mean = mean_of (values, n), sum = 0;

  for (guint i = 0; i < n; i++)
    sum += (values[i] - mean) * (values[i] - mean);
  return n > 1 ? sqrt (sum / (n - 1)) : NAN;
}

double
ws_range_get_smallest (const WsRange *range)
{
  return isnan (range->min) ? range->low : range->min;
}

double
ws_range_get_largest (const WsRange *range)
{
  return isnan (range->max) ? range->high : range->max;
}

gboolean
ws_range_is_sound (const WsRange *range)
{
  const double given[] = { range->min, range->low, range->mean, range->high, range->max };
  double last = 0;

  if (isnan (range->low) || isnan (range->high))
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (given); i++)
    {
      if (isnan (given[i]))
        continue;
      /* The mean of many values that are nearly one may miss them by a rounding error. */
      if (!isfinite (given[i]) || given[i] <= 0 || given[i] < last * (1 - 1e-12))
        return FALSE;
      last = MAX (last, given[i]);
    }
  return TRUE;
}

char *
ws_decimal_to_text (double value, int decimals, char point)
{
  static const char *const formats[] = { "%.0f", "%.1f", "%.2f", "%.3f" };
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  char *dot;

  /* A half as typed (8.545) lies beside a half in binary; that must not decide the last digit. */
  value += copysign (fabs (value) * 1e-12, value);
  g_ascii_formatd (text, sizeof text, formats[CLAMP (decimals, 0, 3)], value);
  dot = strchr (text, '.');
  if (dot != NULL)
    *dot = point;
  return g_strdup (text);
}

char *
ws_range_to_text (const WsRange *range, WsRangeForm form, int decimals, char point)
{
  const char *between = form == WS_RANGE_SIZES ? "–" : " - ", *bracket = form == WS_RANGE_SIZES ? "–" : "-";
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *min = NULL, *low = NULL, *high = NULL, *max = NULL;

  if (!ws_range_is_sound (range))
    return g_strdup ("");
  low = ws_decimal_to_text (range->low, decimals, point);
  high = ws_decimal_to_text (range->high, decimals, point);
  min = isnan (range->min) ? g_strdup (low) : ws_decimal_to_text (range->min, decimals, point);
  max = isnan (range->max) ? g_strdup (high) : ws_decimal_to_text (range->max, decimals, point);
  if (!g_str_equal (min, low))
    g_string_append_printf (text, "(%s%s) ", min, bracket);
  g_string_append (text, low);
  if (!g_str_equal (low, high))
    g_string_append_printf (text, "%s%s", between, high);
  if (!g_str_equal (max, high))
    g_string_append_printf (text, " (%s%s)", bracket, max);
  return g_string_free (g_steal_pointer (&text), FALSE);
}
