/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From whatever colours a file stores to sRGB of 8 bits and three bands. */
#include "ws-picture-private.h"

#include "ws-assumed.h"

/* Alpha is painted on white before anything else, so that no later step need know of it. */
gboolean
ws_picture_flatten (VipsImage **image)
{
  double white = (*image)->Type == VIPS_INTERPRETATION_CMYK ? 0 :
                 (*image)->BandFmt == VIPS_FORMAT_USHORT ? 65535 : 255;
  VipsArrayDouble *background;
  VipsImage *next = NULL;
  gboolean done;

  /* Lab of 8 bits comes packed, in four bands of which none is alpha. */
  if ((*image)->Coding == VIPS_CODING_LABQ)
    return ws_vips_step (image, &next, vips_LabQ2Lab (*image, &next, NULL));
  if (!vips_image_hasalpha (*image))
    return TRUE;
  background = vips_array_double_newv (1, white);
  done = ws_vips_step (image, &next, vips_flatten (*image, &next, "background", background, NULL));
  vips_area_unref (VIPS_AREA (background));
  return done;
}

/* Puts the profile of @colours where the file has none. The image is copied first: others may share its metadata. */
static gboolean
add_assumed (VipsImage **image, WsColours colours)
{
  GBytes *profile = ws_assumed_profile (colours);
  VipsImage *next = NULL;

  if (profile == NULL || (*image)->Bands != 3 || vips_image_get_typeof (*image, VIPS_META_ICC_NAME) != 0)
    return TRUE;
  if (!ws_vips_step (image, &next, vips_copy (*image, &next, NULL)))
    return FALSE;
  vips_image_set_blob_copy (*image, VIPS_META_ICC_NAME, g_bytes_get_data (profile, NULL), g_bytes_get_size (profile));
  return TRUE;
}

/* sRGB by the embedded profile; where that is broken or does not fit, as if there were none. */
static gboolean
apply_profile (VipsImage **image)
{
  VipsImage *next = NULL;
  g_autofree char *why = NULL;

  if (vips_image_get_typeof (*image, VIPS_META_ICC_NAME) == 0)
    return TRUE;
  if (ws_vips_step (image, &next, vips_icc_transform (*image, &next, "srgb", "embedded", TRUE, NULL)))
    return TRUE;
  why = ws_vips_take_error ();
  g_debug ("colour profile not used: %s", why);
  return TRUE;
}

static gboolean
to_three_bands (VipsImage **image)
{
  VipsImage *next = NULL;
  VipsImage *same[3] = { *image, *image, *image };

  if ((*image)->Bands == 1 || (*image)->Bands == 2)
    {
      if ((*image)->Bands == 2 && !ws_vips_step (image, &next, vips_extract_band (*image, &next, 0, NULL)))
        return FALSE;
      same[0] = same[1] = same[2] = *image;
      return ws_vips_step (image, &next, vips_bandjoin (same, &next, 3, NULL));
    }
  if ((*image)->Bands > 3)
    return ws_vips_step (image, &next, vips_extract_band (*image, &next, 0, "n", 3, NULL));
  return TRUE;
}

gboolean
ws_picture_to_srgb (VipsImage **image, WsColours colours)
{
  VipsImage *next = NULL;

  if (!add_assumed (image, colours) || !apply_profile (image))
    return FALSE;
  if ((*image)->Type != VIPS_INTERPRETATION_sRGB && vips_colourspace_issupported (*image) &&
      !ws_vips_step (image, &next, vips_colourspace (*image, &next, VIPS_INTERPRETATION_sRGB, NULL)))
    return FALSE;
  if (!to_three_bands (image))
    return FALSE;
  if ((*image)->BandFmt != VIPS_FORMAT_UCHAR &&
      !ws_vips_step (image, &next, vips_cast (*image, &next, VIPS_FORMAT_UCHAR, NULL)))
    return FALSE;
  return TRUE;
}
