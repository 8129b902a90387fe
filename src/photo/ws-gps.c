/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-gps.h"

#include "ws-intl.h"

#include <math.h>
#include <string.h>

#define MINUTE_US ((gint64) 60 * G_USEC_PER_SEC)
#define DAY_US (24 * 60 * MINUTE_US)

static char *
read_text (const WsExif *exif, guint tag)
{
  return ws_exif_text (ws_exif_find (exif, EXIF_IFD_GPS, tag));
}

/* Degrees, minutes, seconds; the later ones may be missing. Each part is 0-60, the sum at most
 * @limit. */
static gboolean
read_degrees (const WsExif *exif, ExifEntry *entry, double limit, double *degrees)
{
  double unit = 1, part;

  *degrees = 0;
  for (guint i = 0; i < MIN (entry->components, 3); i++, unit *= 60)
    {
      if (!ws_exif_number (exif, entry, i, &part) || part < 0 || (i > 0 && part > 60))
        return FALSE;
      *degrees += part / unit;
    }
  return *degrees <= limit;
}

/* +1 or -1 for the letter that a reference begins with; 0 when it is none of the two. */
static int
read_sign (const WsExif *exif, guint tag, char plus, char minus)
{
  g_autofree char *text = read_text (exif, tag);
  char letter = g_ascii_toupper (*text);

  return letter == plus ? 1 : letter == minus ? -1 : 0;
}

static void
read_coordinates (WsPhotoFacts *facts, const WsExif *exif)
{
  ExifEntry *lat = ws_exif_find (exif, EXIF_IFD_GPS, EXIF_TAG_GPS_LATITUDE);
  ExifEntry *lon = ws_exif_find (exif, EXIF_IFD_GPS, EXIF_TAG_GPS_LONGITUDE);
  int north = read_sign (exif, EXIF_TAG_GPS_LATITUDE_REF, 'N', 'S');
  int east = read_sign (exif, EXIF_TAG_GPS_LONGITUDE_REF, 'E', 'W');
  double latitude, longitude;

  if (lat == NULL && lon == NULL)
    return;
  if (lat == NULL || lon == NULL)
    ws_photo_facts_warn (facts, _("The photo gives half a position, which is no use"));
  else if (!read_degrees (exif, lat, 90, &latitude) || !read_degrees (exif, lon, 180, &longitude))
    ws_photo_facts_warn (facts, _("The photo gives a position with impossible numbers"));
  else if (north == 0 || east == 0)
    ws_photo_facts_warn (facts, _("The photo does not say whether its position is north or south, east or west"));
  else
    {
      facts->position.latitude = north * latitude;
      facts->position.longitude = east * longitude;
      facts->position.source = WS_POSITION_PHOTO;
      if (latitude == 0 && longitude == 0)
        ws_photo_facts_warn (facts, _("The photo gives 0, 0 as its position, which devices write when they "
                                      "do not know it"));
    }
}

/* Exif 2.3: 0 above, 1 below sea level; Exif 3.0 adds 2 and 3 and gives 0 and 1 to the
 * ellipsoid. Odd means below in both. */
static void
read_altitude (WsPhotoFacts *facts, const WsExif *exif)
{
  ExifEntry *entry = ws_exif_find (exif, EXIF_IFD_GPS, EXIF_TAG_GPS_ALTITUDE);
  ExifEntry *reference = ws_exif_find (exif, EXIF_IFD_GPS, EXIF_TAG_GPS_ALTITUDE_REF);
  double metres, below;

  if (entry == NULL)
    return;
  if (!ws_exif_number (exif, entry, 0, &metres))
    ws_photo_facts_warn (facts, _("The photo gives an altitude that is not a number"));
  else if (!ws_exif_number (exif, reference, 0, &below) || !(below == 0 || below == 1 || below == 2 || below == 3))
    ws_photo_facts_warn (facts, _("The photo does not say whether its altitude is above or below the sea"));
  else
    facts->position.altitude = below == 1 || below == 3 ? -metres : metres;
}

static void
read_direction (WsPhotoFacts *facts, const WsExif *exif)
{
  ExifEntry *entry = ws_exif_find (exif, EXIF_IFD_GPS, EXIF_TAG_GPS_IMG_DIRECTION);
  g_autofree char *reference = read_text (exif, EXIF_TAG_GPS_IMG_DIRECTION_REF);
  double degrees;

  if (entry != NULL && ws_exif_number (exif, entry, 0, &degrees) && degrees >= 0 && degrees <= 360)
    facts->direction = degrees;
  else if (entry != NULL)
    ws_photo_facts_warn (facts, _("The photo gives a direction of view that is not possible"));
  if (*reference == 'T' || *reference == 'M')
    facts->direction_reference = *reference;
  else if (*reference != '\0' && *reference != ' ')
    ws_photo_facts_warn (facts, _("The photo gives “%s” as what its direction of view refers to, which is "
                                  "neither true nor magnetic north"), reference);
}

static void
read_error (WsPhotoFacts *facts, const WsExif *exif)
{
  ExifEntry *entry = ws_exif_find (exif, EXIF_IFD_GPS, EXIF_TAG_GPS_H_POSITIONING_ERROR);
  double metres;

  if (entry == NULL)
    return;
  if (ws_exif_number (exif, entry, 0, &metres) && metres >= 0)
    facts->position.error_m = metres;
  else
    ws_photo_facts_warn (facts, _("The photo gives an error of its position that is not a number"));
}

/* Seconds since midnight from the three numbers of GPSTimeStamp. */
static gboolean
read_clock (const WsExif *exif, ExifEntry *entry, double *hours, double *minutes, double *seconds)
{
  return ws_exif_number (exif, entry, 0, hours) && ws_exif_number (exif, entry, 1, minutes) &&
         ws_exif_number (exif, entry, 2, seconds) && *hours >= 0 && *hours < 24 && *hours == floor (*hours) &&
         *minutes >= 0 && *minutes < 60 && *minutes == floor (*minutes) && *seconds >= 0 && *seconds < 60;
}

/* "2025:10:04" and the same with other signs or none between; the year as in ws_moment. */
static GDateTime *
read_date (const char *text)
{
  int parts[3] = { 0 };
  const int lengths[3] = { 4, 2, 2 };

  for (int p = 0; p < 3; p++)
    {
      for (int i = 0; i < lengths[p]; i++, text++)
        {
          if (!g_ascii_isdigit (*text))
            return NULL;
          parts[p] = parts[p] * 10 + (*text - '0');
        }
      if (p < 2 && *text != '\0' && strchr (":-/. ", *text) != NULL)
        text++;
    }
  if (*text != '\0' || parts[0] < 1826 || parts[0] > 2999)
    return NULL;
  return g_date_time_new_utc (parts[0], parts[1], parts[2], 0, 0, 0);
}

/* The offset that @local has from @utc if they differ by a multiple of 15 minutes, give or
 * take three: the stamp is that of the last fix. */
static gboolean
offset_between (gint64 local, gint64 utc, int *minutes)
{
  gint64 difference = local - utc;
  gint64 quarters = (difference + (difference < 0 ? -15 : 15) * MINUTE_US / 2) / (15 * MINUTE_US);
  gint64 rest = difference - quarters * 15 * MINUTE_US;

  if (ABS (rest) > 3 * MINUTE_US || quarters < -12 * 4 || quarters > 14 * 4)
    return FALSE;
  *minutes = (int) quarters * 15;
  return TRUE;
}

/* @utc is the stamp, or its time of day on 1970-01-01 when @dated is FALSE: then each day about
 * the local one is tried, and one of them alone must fit. */
static void
infer_offset (WsPhotoFacts *facts, gint64 utc, gboolean dated)
{
  gint64 local = facts->taken.local_us;
  gint64 day = local / DAY_US - (local % DAY_US < 0 ? 1 : 0);
  int minutes = 0, found = 0;

  if (!ws_moment_is_known (&facts->taken) || facts->taken.offset_source != WS_OFFSET_UNKNOWN)
    return;
  if (dated)
    found = offset_between (local, utc, &minutes) ? 1 : 0;
  else
    for (gint64 d = day - 1; d <= day + 1; d++)
      found += offset_between (local, utc + d * DAY_US, &minutes) ? 1 : 0;
  if (found == 1)
    {
      facts->taken.offset_minutes = (gint16) minutes;
      facts->taken.offset_source = WS_OFFSET_GPS;
    }
}

static char *
utc_text (GDateTime *date, double hours, double minutes, double seconds)
{
  g_autofree char *day = g_date_time_format (date, "%Y-%m-%d");
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  gsize length;

  /* Cut off rather than rounded, so that 59.9999999999 does not become 60. */
  g_ascii_formatd (digits, sizeof digits, "%012.9f", floor (seconds * 1e9 + 0.01) / 1e9);
  length = strlen (digits);
  while (length > 0 && digits[length - 1] == '0')
    length--;
  if (length > 0 && digits[length - 1] == '.')
    length--;
  return g_strdup_printf ("%sT%02d:%02d:%.*sZ", day, (int) hours, (int) minutes, (int) length, digits);
}

static void
read_stamp (WsPhotoFacts *facts, const WsExif *exif, gboolean is_void)
{
  ExifEntry *clock = ws_exif_find (exif, EXIF_IFD_GPS, EXIF_TAG_GPS_TIME_STAMP);
  g_autofree char *day = read_text (exif, EXIF_TAG_GPS_DATE_STAMP);
  g_autoptr (GDateTime) date = read_date (day);
  gboolean no_date = strspn (day, " :") == strlen (day);
  double h, m, s;
  gint64 utc;

  if (!no_date && date == NULL)
    ws_photo_facts_warn (facts, _("The photo gives “%s” as the date of the satellites, which is not a possible date"),
                         day);
  if (clock == NULL)
    return;
  if (!read_clock (exif, clock, &h, &m, &s))
    {
      ws_photo_facts_warn (facts, _("The photo gives a time of the satellites that is not possible"));
      return;
    }
  if (date != NULL)
    facts->gps_utc = utc_text (date, h, m, s);
  utc = (gint64) (h * 3600 + m * 60) * G_USEC_PER_SEC + (gint64) (s * G_USEC_PER_SEC);
  if (date != NULL)
    utc += g_date_time_to_unix (date) * G_USEC_PER_SEC;
  if (!is_void && (date != NULL || no_date))
    infer_offset (facts, utc, date != NULL);
}

void
ws_gps_read (WsPhotoFacts *facts, const WsExif *exif)
{
  g_autofree char *status = read_text (exif, EXIF_TAG_GPS_STATUS);
  gboolean is_void = *status == 'V';

  if (is_void)
    ws_photo_facts_warn (facts, _("The photo says that its position is void, so it is not used"));
  else
    {
      read_coordinates (facts, exif);
      read_altitude (facts, exif);
      read_error (facts, exif);
    }
  read_direction (facts, exif);
  read_stamp (facts, exif, is_void);
}
