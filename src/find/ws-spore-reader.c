/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Published spore sizes. */
#include "ws-spore-reader.h"

#include "ws-error.h"
#include "ws-intl.h"
#include "ws-spore-notation.h"

#include <math.h>
#include <string.h>

#define MAX_TOLD 60
#define MAX_DIGITS 8

void
ws_spore_fail (GError **error, const char *format, const char *rest)
{
  g_autofree char *valid = g_utf8_make_valid (rest, (gssize) strnlen (rest, 4 * MAX_TOLD));
  g_autofree char *told = g_utf8_substring (valid, 0, MIN (MAX_TOLD, g_utf8_strlen (valid, -1)));

  g_set_error (error, WS_ERROR, WS_ERROR_INVALID, format, told);
}

/* --- Words -------------------------------------------------------------------------------------- */

static gboolean
take_text (const char **text, const char *wanted)
{
  if (!g_str_has_prefix (*text, wanted))
    return FALSE;
  *text += strlen (wanted);
  return TRUE;
}

static gboolean
take_any (const char **text, const char *const *wanted)
{
  for (; *wanted != NULL; wanted++)
    if (take_text (text, *wanted))
      return TRUE;
  return FALSE;
}

void
ws_spore_skip_blanks (const char **text)
{
  static const char *const blanks[] = { " ", "\t", "\n", "\r", "\u00a0", "\u2009", "\u202f", NULL };

  while (take_any (text, blanks))
    ;
}

gboolean
ws_spore_take_number (const char **text, double *number)
{
  const char *at = *text;
  double value = 0, place = 1;
  int digits = 0;

  for (; g_ascii_isdigit (*at) && digits <= MAX_DIGITS; at++, digits++)
    value = 10 * value + g_ascii_digit_value (*at);
  if (digits > 0 && (*at == '.' || *at == ',') && g_ascii_isdigit (at[1]))
    for (at++; g_ascii_isdigit (*at) && digits <= MAX_DIGITS; at++, digits++)
      {
        value = 10 * value + g_ascii_digit_value (*at);
        place *= 10;
      }
  if (digits == 0 || digits > MAX_DIGITS)
    return FALSE;
  *number = value / place;
  *text = at;
  return TRUE;
}

gboolean
ws_spore_take_times (const char **text)
{
  static const char *const signs[] = { "x", "X", "×", "*", NULL };
  const char *at = *text;

  ws_spore_skip_blanks (&at);
  if (!take_any (&at, signs))
    return FALSE;
  ws_spore_skip_blanks (&at);
  *text = at;
  return TRUE;
}

/* One dash or two: hyphen, en dash, em dash, minus. */
static gboolean
take_dash (const char **text)
{
  static const char *const signs[] = { "-", "‐", "‑", "–", "—", "−", NULL };
  const char *at = *text;

  ws_spore_skip_blanks (&at);
  if (!take_any (&at, signs))
    return FALSE;
  (void) take_any (&at, signs);
  ws_spore_skip_blanks (&at);
  *text = at;
  return TRUE;
}

/* "(k-)", "(k)", "(-p)" or "(p)". */
static gboolean
take_bracket (const char **text, gboolean dash_behind, double *number)
{
  const char *at = *text;

  ws_spore_skip_blanks (&at);
  if (!take_text (&at, "("))
    return FALSE;
  ws_spore_skip_blanks (&at);
  if (!dash_behind)
    (void) take_dash (&at);
  if (!ws_spore_take_number (&at, number))
    return FALSE;
  ws_spore_skip_blanks (&at);
  if (dash_behind)
    (void) take_dash (&at);
  if (!take_text (&at, ")"))
    return FALSE;
  *text = at;
  return TRUE;
}

/* (k-) m - n (-p), also m - mean - n, also a single number. */
static gboolean
take_range (const char **text, WsRange *range)
{
  const char *at = *text;
  double second, third;

  *range = (WsRange) WS_RANGE_NONE;
  (void) take_bracket (&at, TRUE, &range->min);
  ws_spore_skip_blanks (&at);
  if (!ws_spore_take_number (&at, &range->low))
    return FALSE;
  range->high = range->low;
  if (take_dash (&at))
    {
      if (!ws_spore_take_number (&at, &second))
        return FALSE;
      range->high = second;
      if (take_dash (&at))
        {
          if (!ws_spore_take_number (&at, &third))
            return FALSE;
          range->mean = second;
          range->high = third;
        }
    }
  (void) take_bracket (&at, FALSE, &range->max);
  *text = at;
  return TRUE;
}

static gboolean
take_count (const char **text, char end, guint *count)
{
  guint64 value = 0;
  int digits = 0;

  for (; g_ascii_isdigit (**text) && digits < 7; (*text)++, digits++)
    value = 10 * value + (guint64) g_ascii_digit_value (**text);
  if (digits == 0 || value == 0 || **text != end)
    return FALSE;
  (*text)++;
  *count = (guint) value;
  return TRUE;
}

/* "(av. 5,8 x 2,3)" */
static gboolean
take_means (const char **text, WsSporeSizes *sizes)
{
  static const char *const words[] = { "average", "avg.", "av.", "mean", "Ø", NULL };
  const char *at = *text;

  ws_spore_skip_blanks (&at);
  if (!take_text (&at, "("))
    return TRUE;
  if (!take_any (&at, words))
    return FALSE;
  ws_spore_skip_blanks (&at);
  if (!ws_spore_take_number (&at, &sizes->length.mean))
    return FALSE;
  if (sizes->has_width && (!ws_spore_take_times (&at) || !ws_spore_take_number (&at, &sizes->width.mean)))
    return FALSE;
  ws_spore_skip_blanks (&at);
  if (!take_text (&at, ")"))
    return FALSE;
  *text = at;
  return TRUE;
}

/* ", L' = 9.4": a mean behind; means that a range holds in its middle are told once. */
static gboolean
take_named_means (const char **text, WsSporeSizes *sizes)
{
  struct { const char *sign; double *mean; } means[] = {
    { "L' =", &sizes->length.mean }, { "W' =", &sizes->width.mean }, { "Q' =", &sizes->q.mean } };

  for (guint i = 0; i < G_N_ELEMENTS (means); i++)
    {
      const char *at = *text;

      (void) take_text (&at, ",");
      ws_spore_skip_blanks (&at);
      if (!take_text (&at, means[i].sign))
        continue;
      ws_spore_skip_blanks (&at);
      if (!ws_spore_take_number (&at, means[i].mean))
        return FALSE;
      *text = at;
    }
  return TRUE;
}

static gboolean
take_q (const char **text, WsSporeSizes *sizes)
{
  const char *at = *text;

  (void) take_text (&at, ",");
  ws_spore_skip_blanks (&at);
  if (!take_text (&at, "Q") || *at == '\'')
    return TRUE;
  ws_spore_skip_blanks (&at);
  if (!take_text (&at, "="))
    return FALSE;
  ws_spore_skip_blanks (&at);
  if (!take_range (&at, &sizes->q))
    return FALSE;
  *text = at;
  return TRUE;
}

/* --- Sense ---------------------------------------------------------------------------------------- */

static gboolean
is_single (const WsRange *range)
{
  return isnan (range->min) && isnan (range->max) && range->low == range->high;
}

/* A width is at most its spore's length; so this holds for smallest, largest, mean and equal percentiles of both. */
static gboolean
width_fits (const WsRange *length, const WsRange *width)
{
  gboolean both_low = isnan (length->min) == isnan (width->min), both_high = isnan (length->max) == isnan (width->max);

  return ws_range_get_smallest (width) <= ws_range_get_smallest (length)
         && ws_range_get_largest (width) <= ws_range_get_largest (length)
         && !(both_low && width->low > length->low) && !(both_high && width->high > length->high)
         && !(width->mean > length->mean);
}

static gboolean
is_a_size (const WsRange *range)
{
  return ws_range_get_smallest (range) >= WS_SPORE_MIN_UM && ws_range_get_largest (range) <= WS_SPORE_MAX_UM;
}

static gboolean
makes_sense (const WsSporeSizes *sizes, const char *text, GError **error)
{
  const char *fault = NULL;

  if (!ws_range_is_sound (&sizes->length) || (sizes->has_width && !ws_range_is_sound (&sizes->width)))
    fault = _("“%s”: the numbers are not in order; a range goes from the smallest to the largest");
  else if (!is_a_size (&sizes->length) || (sizes->has_width && !is_a_size (&sizes->width)))
    fault = _("“%s”: no spore has this size in µm");
  else if (sizes->has_width && is_single (&sizes->length) != is_single (&sizes->width))
    fault = _("“%s”: one number against a range; perhaps a dash was printed as a point");
  else if (sizes->has_width && !width_fits (&sizes->length, &sizes->width))
    fault = _("“%s”: the width is larger than the length; perhaps they were exchanged");
  else if (!isnan (sizes->q.low) && (!ws_range_is_sound (&sizes->q) || ws_range_get_smallest (&sizes->q) < 1))
    fault = _("“%s”: Q, length by width, is 1 or more and goes from the smallest to the largest");
  if (fault != NULL)
    ws_spore_fail (error, fault, text);
  return fault == NULL;
}

static gboolean
take_all (const char *text, WsSporeSizes *sizes)
{
  static const char *const units[] = { "µm", "μm", "um", NULL };   /* micro sign, Greek mu */

  ws_spore_skip_blanks (&text);
  if (take_text (&text, "[") && !(take_count (&text, '/', &sizes->n_spores) && take_count (&text, '/', &sizes->n_bodies) &&
                                  take_count (&text, ']', &sizes->n_collections)))
    return FALSE;
  ws_spore_skip_blanks (&text);
  if (!take_range (&text, &sizes->length))
    return FALSE;
  sizes->has_width = ws_spore_take_times (&text);
  if (sizes->has_width && !take_range (&text, &sizes->width))
    return FALSE;
  if (!take_means (&text, sizes))
    return FALSE;
  ws_spore_skip_blanks (&text);
  (void) take_any (&text, units);
  if (!take_q (&text, sizes) || !take_named_means (&text, sizes))
    return FALSE;
  ws_spore_skip_blanks (&text);
  return *text == '\0';
}

gboolean
ws_spore_sizes_parse (const char *text, WsSporeSizes *sizes, GError **error)
{
  WsRange none = WS_RANGE_NONE;

  *sizes = (WsSporeSizes) { .length = none, .width = none, .q = none, .length_sd = NAN, .width_sd = NAN, .q_sd = NAN };
  if (!take_all (text, sizes))
    {
      ws_spore_fail (error, _("“%s” is not a spore size; write it such as (8.2-) 8.5 - 10.5 (-11.2) × 5.5 - 6.7 µm"), text);
      return FALSE;
    }
  return makes_sense (sizes, text, error);
}
