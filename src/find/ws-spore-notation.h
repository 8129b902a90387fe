/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spore sizes: from a list of measured spores to the notation of the trade, and published notations back to numbers.
 *
 * [a/b/c] (k-) m - n (-p): a spores of b fruit bodies of c collections; m and n are the 5th and the 95th percentile, k the
 * smallest, p the largest; without k, m is the smallest, without p, n the largest. Q is length / width of a single spore; L',
 * W', Q' are means (Tulloss & Lindgren 2005, Mycotaxon 91: 193-194). The mean of the ratios is not the ratio of the means.
 * Others print other ranges in the same form, so a parsed one has no percentile rule. */
#pragma once

#include "ws-range.h"

#include <gio/gio.h>

typedef struct { double length, width; } WsSpore;   /* µm; length >= width */

/* No spore is smaller or larger (of 690 published means the lengths are 3 to 21 µm; wide of it for asci-borne ones). */
#define WS_SPORE_MIN_UM 0.5
#define WS_SPORE_MAX_UM 500.0
#define WS_SPORE_MAX_COUNT 10000

/* Reads "8.2x5.4 8.5x5.6 …" or one a line, with decimal points or commas and x or ×. NULL with WS_ERROR_INVALID naming what
 * is wrong: not a number, a width larger than its length, a size no spore has, none or too many. (element-type WsSpore) */
GArray *ws_spore_list_parse (const char *text, GError **error) G_GNUC_WARN_UNUSED_RESULT;

typedef struct
{
  guint n_spores, n_bodies, n_collections;   /* 0: not said */
  gboolean has_width;                        /* FALSE: one dimension only */
  WsRange length, width, q;                  /* µm; q of 1 and more; NAN where not given */
  double length_sd, width_sd, q_sd;          /* of the sample; NAN: not known */
  WsPercentileRule rule;
} WsSporeSizes;

/* What the list says, by @rule. @n_bodies and @n_collections: what the spores were taken from, 0: not said. */
WsSporeSizes ws_spore_sizes_of (const WsSpore *spores, guint n, guint n_bodies, guint n_collections, WsPercentileRule rule);

/* "[30/1/1] (8.2-) 8.5 - 10.5 (-11.2) × (5.4-) 5.5 - 6.7 (-7.0) µm, Q = (1.47-) 1.48 - 1.59 (-1.61), L' = 9.4, W' = 6.1,
 * Q' = 1.53"; what is not known is left out. Decimal points. The rule has to be printed beside it: the
 * knowledge text "percentiles" of ws_percentile_rule_id(). (transfer full) */
char *ws_spore_sizes_to_text (const WsSporeSizes *sizes) G_GNUC_WARN_UNUSED_RESULT;

/* Reads a published notation: numbers with points or commas, any dash, brackets with or without one, one or two dimensions,
 * a mean in the middle of a range ("7.0–7.9–8.9") or behind as "(av. 5,8 x 2,3)", [a/b/c] in front, "Q = …" behind, µm or
 * nothing. FALSE with WS_ERROR_INVALID naming what is wrong; refused are also numbers that are not in order, a width larger
 * than the length ("5.5-6.8 x 8.8-9.5"), and one number against a range ("4.6 x 1.8-2.0": 4-6 was meant, but nobody
 * knows). */
gboolean ws_spore_sizes_parse (const char *text, WsSporeSizes *sizes, GError **error);

/* Volume in µm³ of an ellipsoid of rotation: pi / 6 * length * width². */
double ws_spore_volume (const WsSpore *spore);
