/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A moment as a camera tells it: the local time as given, the offset from UTC
 * or unknown, where the offset comes from, and a clock correction, each kept
 * apart. The computer's own zone never enters. */
#pragma once

#include <glib.h>

typedef enum
{
  WS_OFFSET_UNKNOWN,
  WS_OFFSET_EXIF,   /* the file says so */
  WS_OFFSET_GPS,    /* inferred from the satellite stamp, rounded to 15 min */
  WS_OFFSET_TOLD,   /* a person says so */
} WsOffsetSource;

typedef struct
{
  gint64 local_us;           /* microseconds from 1970-01-01T00:00 on the local clock as given;
                                WS_MOMENT_UNKNOWN when there is no time */
  guint8 decimals;           /* digits of the second that were given, 0-6 */
  gint16 offset_minutes;     /* east of UTC; only with a known source */
  guint8 offset_source;      /* WsOffsetSource */
  gint32 correction_seconds; /* to be added to the local time: the clock was wrong */
} WsMoment;

#define WS_MOMENT_UNKNOWN G_MININT64
#define WS_MOMENT_INIT { WS_MOMENT_UNKNOWN, 0, 0, WS_OFFSET_UNKNOWN, 0 }

gboolean ws_moment_is_known (const WsMoment *moment);

/* Reads "YYYY-MM-DDTHH:MM:SS[.d…]" (also a blank for the T, and colons in the
 * date as EXIF writes them). FALSE and WS_MOMENT_UNKNOWN for anything else,
 * impossible dates included; years 1826-2999 (photography began in 1826). The
 * offset and correction are left alone. */
gboolean ws_moment_set_local (WsMoment *moment, const char *text);

/* Reads "+HH:MM" or "-HH:MM" within -12:00…+14:00. FALSE otherwise. */
gboolean ws_offset_parse (const char *text, int *minutes);
/* "+02:00". (transfer full) */
char *ws_offset_to_text (int minutes) G_GNUC_WARN_UNUSED_RESULT;

/* The local time as given, "2025-10-04T14:03:22.5"; NULL when unknown.
 * (transfer full) (nullable) */
char *ws_moment_local_text (const WsMoment *moment) G_GNUC_WARN_UNUSED_RESULT;

/* Corrected local time in microseconds: what finds are sorted and split by.
 * WS_MOMENT_UNKNOWN when there is no time. */
gint64 ws_moment_sort_key (const WsMoment *moment);

/* The corrected local date and time to the minute with the offset where known,
 * ISO 8601 ("2025-10-04T14:03+02:00"); NULL when unknown. (transfer full) (nullable) */
char *ws_moment_iso (const WsMoment *moment) G_GNUC_WARN_UNUSED_RESULT;

/* "2025-10-04" of the corrected time; NULL when unknown. (transfer full) (nullable) */
char *ws_moment_date (const WsMoment *moment) G_GNUC_WARN_UNUSED_RESULT;
/* "14:03" of the corrected time; NULL when unknown. (transfer full) (nullable) */
char *ws_moment_clock (const WsMoment *moment) G_GNUC_WARN_UNUSED_RESULT;
