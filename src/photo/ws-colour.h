/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colours as numbers: sRGB to CIE Lab and back, and how far two colours are apart for the eye.
 * Pure arithmetic, any thread. */
#pragma once

#include <glib.h>

typedef struct
{
  double L;                /* lightness, 0-100 */
  double a, b;             /* green to red, blue to yellow */
} WsLab;

/* The white that Lab is told against: D50 in print and in ICC profiles, D65 on screens. */
typedef enum
{
  WS_WHITE_D50,
  WS_WHITE_D65,
} WsWhite;

/* Lab (CIE 15) of an sRGB colour (IEC 61966-2-1), 2 degree observer. For D50 the colour is taken
 * over by the Bradford transform, as ICC profiles do. */
WsLab ws_colour_lab_from_srgb (const guint8 rgb[3], WsWhite white);
/* The nearest 8-bit sRGB colour, each channel cut to 0-255. FALSE if one had to be cut by more
 * than half a step: the colour lies outside sRGB. */
gboolean ws_colour_srgb_from_lab (const WsLab *lab, WsWhite white, guint8 rgb[3]);
/* The colour difference CIEDE2000 (ISO/CIE 11664-6) with kL = kC = kH = 1. Both colours against
 * the same white. The formula as worked out in Sharma, Wu and Dalal, "The CIEDE2000
 * color-difference formula: implementation notes, supplementary test data, and mathematical
 * observations", Color Research and Application 30 (1), 2005. */
double ws_colour_difference (const WsLab *first, const WsLab *second);
