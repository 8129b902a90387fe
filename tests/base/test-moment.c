/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-moment.h"

#include <locale.h>
#include <string.h>
#include <time.h>

/* Seconds since 1970 as GNU date counts them, taking the text as UTC. */
static gint64
ask_date (const char *text)
{
  const char *argv[] = { "date", "-u", "-d", text, "+%s", NULL };
  g_autofree char *out = NULL;
  int status;

  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL,
                               &out, NULL, &status, NULL));
  g_assert_cmpint (status, ==, 0);
  return g_ascii_strtoll (out, NULL, 10);
}

static void
test_against_date (void)
{
  static const char *const texts[] = {
    "2025-10-04 14:03:22", "2024-02-29 00:00:00", "2000-02-29 23:59:59", "1970-01-01 00:00:00", "1969-12-31 23:59:59",
    "1900-03-01 12:00:00", "1826-01-01 00:00:00", "2999-12-31 23:59:59", "2038-01-19 03:14:08", "1883-07-14 06:30:00",
  };
  g_autofree char *date = g_find_program_in_path ("date");

  g_test_summary ("local times count from 1970 as GNU date counts them in UTC");
  if (date == NULL)
    {
      g_test_skip ("the program date is not here");
      return;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      WsMoment moment = WS_MOMENT_INIT;

      g_test_message ("%s", texts[i]);
      g_assert_true (ws_moment_set_local (&moment, texts[i]));
      g_assert_cmpint (moment.local_us, ==, ask_date (texts[i]) * 1000000);
    }
}

static void
test_valid (void)
{
  static const struct { const char *text, *back; int decimals; } cases[] = {
    { "2025-10-04T14:03:22", "2025-10-04T14:03:22", 0 },
    { "2025:10:04 14:03:22", "2025-10-04T14:03:22", 0 },
    { "2025-10-04T14:03:22.5", "2025-10-04T14:03:22.5", 1 },
    { "2025-10-04T14:03:22.050", "2025-10-04T14:03:22.050", 3 },
    { "2025-10-04T14:03:22.000001", "2025-10-04T14:03:22.000001", 6 },
    { "2025-10-04T14:03:22.1234567", "2025-10-04T14:03:22.123456", 6 },
    { "2025-10-04T14:03:22.99999999999999999999999999999999999999", "2025-10-04T14:03:22.999999", 6 },
    { "1969-12-31T23:59:59.25", "1969-12-31T23:59:59.25", 2 },
    { "1826-01-01T00:00:00.000001", "1826-01-01T00:00:00.000001", 6 },
    { "1969-12-31T23:59:59.0", "1969-12-31T23:59:59.0", 1 },
    { "2024-02-29T12:00:00", "2024-02-29T12:00:00", 0 },
    { "2000-02-29T12:00:00", "2000-02-29T12:00:00", 0 },
    { "2999-12-31T23:59:59.999999", "2999-12-31T23:59:59.999999", 6 },
  };

  g_test_summary ("times read come back as given, with as many decimals, before 1970 too");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WsMoment moment = WS_MOMENT_INIT;
      g_autofree char *back = NULL;

      g_test_message ("%s", cases[i].text);
      g_assert_true (ws_moment_set_local (&moment, cases[i].text));
      g_assert_true (ws_moment_is_known (&moment));
      back = ws_moment_local_text (&moment);
      g_assert_cmpstr (back, ==, cases[i].back);
      g_assert_cmpint (moment.decimals, ==, cases[i].decimals);
    }
}

static void
test_invalid (void)
{
  static const char *const texts[] = {
    NULL, "", " ", "2025", "2025-10-04", "2025-10-04T14:03", "2025-10-04T14:03:22Z", "2025-10-04T14:03:22+02:00",
    "2025-10-04T14:03:22.", "2025-10-04T14:03:22,5", "2025-10-04T14:03:22 ", " 2025-10-04T14:03:22",
    "2025-10-04t14:03:22", "2025/10/04 14:03:22", "25-10-04T14:03:22", "2025-10-4T14:03:22", "2025-10-04T4:03:22",
    /* not in the calendar: the Gregorian rule, 1900 and 2100 are common years */
    "2023-02-29T00:00:00", "1900-02-29T00:00:00", "2100-02-29T00:00:00", "2025-02-30T00:00:00", "2025-04-31T00:00:00",
    "2025-13-01T00:00:00", "2025-00-01T00:00:00", "2025-01-00T00:00:00", "2025-01-32T00:00:00",
    "2025-01-01T24:00:00", "2025-01-01T00:60:00", "2025-06-30T23:59:60", "2025-01-01T-1:00:00",
    /* EXIF 2.3: unknown is blanks with colons, and cameras write zeros (common practice, no source) */
    "0000:00:00 00:00:00", "    :  :     :  :  ", "1825-12-31T23:59:59", "3000-01-01T00:00:00", "9999-99-99T99:99:99",
    "+025-10-04T14:03:22", "2025-1\xd9\xa0-04T14:03:22", "2025-10-04T14:03:22.5x", "2025-10-04T14:03:22.-5",
    "99999999999999999999-01-01T00:00:00",
  };

  g_test_summary ("no time, an impossible date and junk are refused and leave the moment unknown");
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      WsMoment moment = { 1, 3, 60, WS_OFFSET_EXIF, 7 };

      g_test_message ("“%s”", texts[i] != NULL ? texts[i] : "(null)");
      g_assert_false (ws_moment_set_local (&moment, texts[i]));
      g_assert_false (ws_moment_is_known (&moment));
      g_assert_null (ws_moment_local_text (&moment));
      g_assert_null (ws_moment_iso (&moment));
      g_assert_null (ws_moment_date (&moment));
      g_assert_null (ws_moment_clock (&moment));
      g_assert_cmpint (ws_moment_sort_key (&moment), ==, WS_MOMENT_UNKNOWN);
      /* The offset and the correction are not the text's business. */
      g_assert_cmpint (moment.offset_minutes, ==, 60);
      g_assert_cmpint (moment.correction_seconds, ==, 7);
    }
}

static void
test_offsets (void)
{
  static const struct { const char *text; gboolean fine; int minutes; } cases[] = {
    { "+00:00", TRUE, 0 }, { "+02:00", TRUE, 120 }, { "-03:30", TRUE, -210 }, { "-00:30", TRUE, -30 },
    { "+05:45", TRUE, 345 }, { "+14:00", TRUE, 840 }, { "-12:00", TRUE, -720 },
    { "+14:15", FALSE }, { "-12:15", FALSE }, { "+02:60", FALSE }, { "+2:00", FALSE }, { "02:00", FALSE },
    { "Z", FALSE }, { "", FALSE }, { NULL, FALSE }, { "+0200", FALSE }, { "+02:00 ", FALSE }, { "+99:99", FALSE },
    { "   :  ", FALSE }, { "+ 2:00", FALSE },
  };

  g_test_summary ("offsets from UTC: -12:00 to +14:00, and every quarter of an hour comes back");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      int minutes = 0;

      g_test_message ("“%s”", cases[i].text != NULL ? cases[i].text : "(null)");
      g_assert_cmpint (ws_offset_parse (cases[i].text, &minutes), ==, cases[i].fine);
      if (cases[i].fine)
        g_assert_cmpint (minutes, ==, cases[i].minutes);
    }
  for (int m = -720; m <= 840; m += 15)
    {
      g_autofree char *text = ws_offset_to_text (m);
      int back = 1;

      g_assert_true (ws_offset_parse (text, &back));
      g_assert_cmpint (back, ==, m);
    }
}

static void
test_correction (void)
{
  static const struct { const char *text; int correction; const char *date, *clock, *iso; } cases[] = {
    { "2025-10-04T14:03:22", 0, "2025-10-04", "14:03", "2025-10-04T14:03+02:00" },
    { "2025-10-04T14:03:22", 3600, "2025-10-04", "15:03", "2025-10-04T15:03+02:00" },
    { "2025-10-04T14:03:22", -3600, "2025-10-04", "13:03", "2025-10-04T13:03+02:00" },
    { "2025-10-04T23:59:59", 1, "2025-10-05", "00:00", "2025-10-05T00:00+02:00" },
    { "2024-02-28T23:00:00", 7200, "2024-02-29", "01:00", "2024-02-29T01:00+02:00" },
    { "2025-01-01T00:00:00", -1, "2024-12-31", "23:59", "2024-12-31T23:59+02:00" },
    { "1970-01-01T00:00:00", -86400, "1969-12-31", "00:00", "1969-12-31T00:00+02:00" },
    /* A camera that woke up in 1980 (its clock was reset): 45 years of seconds. */
    { "1980-01-01T00:00:00", 1443916800, "2025-10-03", "00:00", "2025-10-03T00:00+02:00" },
  };

  g_test_summary ("a wrong clock is corrected in what is sorted and shown, and the time as given stays");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WsMoment moment = { 0, 0, 120, WS_OFFSET_EXIF, cases[i].correction };
      g_autofree char *date = NULL, *clock_text = NULL, *iso = NULL, *local = NULL;

      g_test_message ("%s %+d s", cases[i].text, cases[i].correction);
      g_assert_true (ws_moment_set_local (&moment, cases[i].text));
      g_assert_cmpint (ws_moment_sort_key (&moment) - moment.local_us, ==, (gint64) cases[i].correction * 1000000);
      date = ws_moment_date (&moment);
      clock_text = ws_moment_clock (&moment);
      iso = ws_moment_iso (&moment);
      local = ws_moment_local_text (&moment);
      g_assert_cmpstr (date, ==, cases[i].date);
      g_assert_cmpstr (clock_text, ==, cases[i].clock);
      g_assert_cmpstr (iso, ==, cases[i].iso);
      g_assert_cmpstr (local, ==, cases[i].text);
    }
}

static void
test_sort (void)
{
  WsMoment early = WS_MOMENT_INIT, late = WS_MOMENT_INIT;

  g_test_summary ("sorting is by corrected local time; the offset from UTC has no say");
  g_assert_true (ws_moment_set_local (&early, "2025-10-04T10:00:00"));
  g_assert_true (ws_moment_set_local (&late, "2025-10-04T10:00:01"));
  g_assert_cmpint (ws_moment_sort_key (&early), <, ws_moment_sort_key (&late));
  late.offset_minutes = 840;
  late.offset_source = WS_OFFSET_EXIF;
  early.offset_minutes = -720;
  early.offset_source = WS_OFFSET_TOLD;
  g_assert_cmpint (ws_moment_sort_key (&early), <, ws_moment_sort_key (&late));
  early.correction_seconds = 2;
  g_assert_cmpint (ws_moment_sort_key (&early), >, ws_moment_sort_key (&late));
}

static void
test_no_zone (void)
{
  static const char *const zones[] = { "UTC", "Europe/Berlin", "America/St_Johns", "Pacific/Kiritimati", "XYZ-5:30", "" };
  /* 02:30 of that day does not exist in Berlin, and an hour later it exists twice in autumn. */
  static const char *const texts[] = { "2025-03-30T02:30:00", "2025-10-26T02:30:00", "1969-12-31T23:00:00.5" };
  g_autofree char *before = g_strdup (g_getenv ("TZ"));

  g_test_summary ("the same under every TZ: the computer's own zone never enters");
  for (gsize z = 0; z < G_N_ELEMENTS (zones); z++)
    {
      g_setenv ("TZ", zones[z], TRUE);
      tzset ();
      for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
        {
          WsMoment moment = WS_MOMENT_INIT;
          g_autofree char *back = NULL, *iso = NULL, *want = g_strndup (texts[i], strlen ("2025-03-30T02:30"));

          g_test_message ("%s in “%s”", texts[i], zones[z]);
          g_assert_true (ws_moment_set_local (&moment, texts[i]));
          back = ws_moment_local_text (&moment);
          iso = ws_moment_iso (&moment);
          g_assert_cmpstr (back, ==, texts[i]);
          g_assert_cmpstr (iso, ==, want);
        }
    }
  if (before != NULL)
    g_setenv ("TZ", before, TRUE);
  else
    g_unsetenv ("TZ");
  tzset ();
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/base/moment/against-date", test_against_date);
  g_test_add_func ("/base/moment/valid", test_valid);
  g_test_add_func ("/base/moment/invalid", test_invalid);
  g_test_add_func ("/base/moment/offsets", test_offsets);
  g_test_add_func ("/base/moment/correction", test_correction);
  g_test_add_func ("/base/moment/sort", test_sort);
  g_test_add_func ("/base/moment/no-zone", test_no_zone);
  return g_test_run ();
}
