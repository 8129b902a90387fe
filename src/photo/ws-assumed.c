/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-assumed.h"

#include <lcms2.h>

/* A matrix profile with the white of D65 and one curve for all channels, which is freed. */
static GBytes *
make_profile (const cmsCIExyYTRIPLE *primaries, cmsToneCurve *curve)
{
  static const cmsCIExyY white = { 0.3127, 0.3290, 1 };
  cmsToneCurve *curves[] = { curve, curve, curve };
  cmsHPROFILE profile = curve != NULL ? cmsCreateRGBProfile (&white, primaries, curves) : NULL;
  cmsUInt32Number size = 0;
  g_autofree guint8 *data = NULL;
  gboolean done = profile != NULL && cmsSaveProfileToMem (profile, NULL, &size);

  if (done)
    {
      data = g_malloc (size);
      done = cmsSaveProfileToMem (profile, data, &size);
    }
  if (profile != NULL)
    cmsCloseProfile (profile);
  if (curve != NULL)
    cmsFreeToneCurve (curve);
  return done ? g_bytes_new_take (g_steal_pointer (&data), size) : NULL;
}

GBytes *
ws_assumed_profile (WsColours colours)
{
  /* Adobe RGB (1998), version 2005-05, which is the optional colour space of DCF. */
  static const cmsCIExyYTRIPLE adobe = { { 0.64, 0.33, 1 }, { 0.21, 0.71, 1 }, { 0.15, 0.06, 1 } };
  /* Primaries of SMPTE EG 432-1 (code 12 of ITU-T H.273), curve of IEC 61966-2-1. */
  static const cmsCIExyYTRIPLE p3 = { { 0.680, 0.320, 1 }, { 0.265, 0.690, 1 }, { 0.150, 0.060, 1 } };
  static const double curve[] = { 2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045 };
  static GBytes *profiles[WS_N_COLOURS];
  static gsize made;

  if (g_once_init_enter (&made))
    {
      profiles[WS_COLOURS_ADOBE_RGB] = make_profile (&adobe, cmsBuildGamma (NULL, 563.0 / 256));
      profiles[WS_COLOURS_P3] = make_profile (&p3, cmsBuildParametricToneCurve (NULL, 4, curve));
      g_once_init_leave (&made, 1);
    }
  return profiles[colours];
}
