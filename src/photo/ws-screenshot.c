/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-screenshot.h"

#include <math.h>
#include <string.h>

/* Sizes of screens in pixels, longer edge first (from memory, common practice, no source; a
 * size missing here only means that the time of such a picture is believed). Sizes that cameras
 * also make (640 x 480, 1600 x 1200, 2048 x 1536, ...) are left out. */
static const guint16 screens[][2] = {
  /* telephones */
  { 960, 540 }, { 1136, 640 }, { 1280, 720 }, { 1334, 750 }, { 1520, 720 }, { 1560, 720 }, { 1600, 720 },
  { 1612, 720 }, { 1640, 720 }, { 1650, 720 }, { 1792, 828 }, { 1920, 1080 }, { 2160, 1080 }, { 2208, 1242 },
  { 2220, 1080 }, { 2244, 1080 }, { 2246, 1080 }, { 2248, 1080 }, { 2270, 1080 }, { 2280, 1080 },
  { 2310, 1080 }, { 2312, 1080 }, { 2316, 1080 }, { 2337, 1080 }, { 2340, 1080 }, { 2388, 1080 },
  { 2400, 1080 }, { 2408, 1080 }, { 2412, 1080 }, { 2424, 1080 }, { 2436, 1125 }, { 2460, 1080 },
  { 2520, 1080 }, { 2532, 1170 }, { 2556, 1179 }, { 2622, 1206 }, { 2640, 1080 }, { 2688, 1242 },
  { 2778, 1284 }, { 2796, 1290 }, { 2868, 1320 }, { 2560, 1440 }, { 2880, 1440 }, { 2960, 1440 },
  { 3040, 1440 }, { 3088, 1440 }, { 3120, 1440 }, { 3168, 1440 }, { 3200, 1440 }, { 2712, 1220 },
  { 2992, 1344 }, { 2772, 1240 },
  /* tablets */
  { 1280, 800 }, { 1920, 1200 }, { 2000, 1200 }, { 2160, 1620 }, { 2224, 1668 }, { 2266, 1488 },
  { 2360, 1640 }, { 2388, 1668 }, { 2420, 1668 }, { 2560, 1600 }, { 2732, 2048 }, { 2752, 2064 },
  /* desks and laps */
  { 1366, 768 }, { 1440, 900 }, { 1600, 900 }, { 1680, 1050 }, { 2560, 1080 }, { 2880, 1800 },
  { 3024, 1964 }, { 3072, 1920 }, { 3440, 1440 }, { 3456, 2234 }, { 3840, 2160 }, { 5120, 2880 },
};

static gboolean
is_screen_size (int width, int height)
{
  for (gsize i = 0; i < G_N_ELEMENTS (screens); i++)
    if (MAX (width, height) == screens[i][0] && MIN (width, height) == screens[i][1])
      return TRUE;
  return FALSE;
}

static gboolean
says_so (ExifEntry *entry)
{
  g_autofree char *text = NULL, *lower = NULL;
  const char *at = "";

  if (entry == NULL)
    return FALSE;
  /* UserComment begins with eight bytes that name its encoding. */
  if (entry->tag == EXIF_TAG_USER_COMMENT && entry->size > 8)
    at = text = g_strndup ((const char *) entry->data + 8, entry->size - 8);
  else if (entry->tag != EXIF_TAG_USER_COMMENT)
    at = text = ws_exif_text (entry);
  lower = g_ascii_strdown (at, -1);
  return g_str_has_prefix (lower, "screenshot") || g_str_has_prefix (lower, "screen shot");
}

gboolean
ws_screenshot_is_likely (const WsPhotoFacts *facts, const WsExif *exif)
{
  if (says_so (ws_exif_find (exif, EXIF_IFD_EXIF, EXIF_TAG_USER_COMMENT)) ||
      says_so (ws_exif_find (exif, EXIF_IFD_0, EXIF_TAG_IMAGE_DESCRIPTION)))
    return TRUE;
  if (facts->make != NULL || facts->model != NULL || isfinite (facts->exposure_time) || isfinite (facts->f_number))
    return FALSE;
  if (strcmp (facts->media_type, "image/png") != 0 && strcmp (facts->media_type, "image/jpeg") != 0)
    return FALSE;
  return is_screen_size (facts->width, facts->height);
}
