/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-moment.h"

#include <string.h>

gboolean
ws_moment_is_known (const WsMoment *moment)
{
  return moment->local_us != WS_MOMENT_UNKNOWN;
}

/* Exactly @count digits; moves on. */
static gboolean
take_digits (const char **text, int count, int *value)
{
  *value = 0;
  for (int i = 0; i < count; i++, (*text)++)
    {
      if (!g_ascii_isdigit (**text))
        return FALSE;
      *value = *value * 10 + (**text - '0');
    }
  return TRUE;
}

static gboolean
take_one_of (const char **text, const char *allowed)
{
  if (**text == '\0' || strchr (allowed, **text) == NULL)
    return FALSE;
  (*text)++;
  return TRUE;
}

/* Digits after the point; more than six are read and dropped. */
static gboolean
take_decimals (const char **text, int *micro, guint8 *decimals)
{
  int scale = 100000;

  *micro = 0;
  *decimals = 0;
  if (!g_ascii_isdigit (**text))
    return FALSE;
  for (; g_ascii_isdigit (**text); (*text)++, scale /= 10)
    {
      *micro += (**text - '0') * scale;
      if (scale > 0)
        (*decimals)++;
    }
  return TRUE;
}

gboolean
ws_moment_set_local (WsMoment *moment, const char *text)
{
  int year, month, day, hour, minute, second, micro = 0;
  guint8 decimals = 0;
  g_autoptr (GDateTime) time = NULL;

  moment->local_us = WS_MOMENT_UNKNOWN;
  moment->decimals = 0;
  if (text == NULL || !take_digits (&text, 4, &year) || !take_one_of (&text, "-:") ||
      !take_digits (&text, 2, &month) || !take_one_of (&text, "-:") || !take_digits (&text, 2, &day) ||
      !take_one_of (&text, "T ") || !take_digits (&text, 2, &hour) || !take_one_of (&text, ":") ||
      !take_digits (&text, 2, &minute) || !take_one_of (&text, ":") || !take_digits (&text, 2, &second))
    return FALSE;
  if (*text == '.')
    {
      text++;
      if (!take_decimals (&text, &micro, &decimals))
        return FALSE;
    }
  if (*text != '\0' || year < 1826 || year > 2999)
    return FALSE;
  time = g_date_time_new_utc (year, month, day, hour, minute, second);
  if (time == NULL)
    return FALSE;
  moment->local_us = g_date_time_to_unix (time) * G_USEC_PER_SEC + micro;
  moment->decimals = decimals;
  return TRUE;
}

gboolean
ws_offset_parse (const char *text, int *minutes)
{
  int sign, hours, mins;

  if (text == NULL || (*text != '+' && *text != '-'))
    return FALSE;
  sign = *text++ == '-' ? -1 : 1;
  if (!take_digits (&text, 2, &hours) || !take_one_of (&text, ":") || !take_digits (&text, 2, &mins) ||
      *text != '\0' || mins > 59)
    return FALSE;
  *minutes = sign * (hours * 60 + mins);
  return *minutes >= -12 * 60 && *minutes <= 14 * 60;
}

char *
ws_offset_to_text (int minutes)
{
  return g_strdup_printf ("%c%02d:%02d", minutes < 0 ? '-' : '+', ABS (minutes) / 60, ABS (minutes) % 60);
}

static GDateTime *
to_date_time (gint64 us)
{
  /* Floor division: times before 1970 have negative microseconds. */
  gint64 seconds = us / G_USEC_PER_SEC - (us % G_USEC_PER_SEC < 0 ? 1 : 0);

  return g_date_time_new_from_unix_utc (seconds);
}

static char *
format (gint64 us, const char *pattern)
{
  g_autoptr (GDateTime) time = NULL;

  if (us == WS_MOMENT_UNKNOWN)
    return NULL;
  time = to_date_time (us);
  return time != NULL ? g_date_time_format (time, pattern) : NULL;
}

char *
ws_moment_local_text (const WsMoment *moment)
{
  g_autofree char *whole = format (moment->local_us, "%Y-%m-%dT%H:%M:%S");
  char digits[8];
  int micro;

  if (whole == NULL || moment->decimals == 0)
    return g_steal_pointer (&whole);
  micro = (int) (((moment->local_us % G_USEC_PER_SEC) + G_USEC_PER_SEC) % G_USEC_PER_SEC);
  g_snprintf (digits, sizeof digits, "%06d", micro);
  digits[MIN (moment->decimals, 6)] = '\0';
  return g_strdup_printf ("%s.%s", whole, digits);
}

gint64
ws_moment_sort_key (const WsMoment *moment)
{
  if (!ws_moment_is_known (moment))
    return WS_MOMENT_UNKNOWN;
  return moment->local_us + (gint64) moment->correction_seconds * G_USEC_PER_SEC;
}

char *
ws_moment_iso (const WsMoment *moment)
{
  g_autofree char *text = format (ws_moment_sort_key (moment), "%Y-%m-%dT%H:%M");
  g_autofree char *offset = NULL;

  if (text == NULL || moment->offset_source == WS_OFFSET_UNKNOWN)
    return g_steal_pointer (&text);
  offset = ws_offset_to_text (moment->offset_minutes);
  return g_strconcat (text, offset, NULL);
}

char *
ws_moment_date (const WsMoment *moment)
{
  return format (ws_moment_sort_key (moment), "%Y-%m-%d");
}

char *
ws_moment_clock (const WsMoment *moment)
{
  return format (ws_moment_sort_key (moment), "%H:%M");
}
