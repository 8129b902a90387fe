/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything that leaves in a package as pieces of bytes, and words that must not be in them. */
#pragma once

#include <glib.h>

/* Of GBytes: the path of the zip, the zip as it is, every name and file in it, the inline base64 of a page, the
 * streams of a PDF inflated and its words as pdftotext reads them, and the pixels of every picture. (transfer full) */
GPtrArray *search_pieces (const char *zip);

/* Of GBytes: a position as people and files write it, each finer than a grid of @step degrees (0 withheld): decimal
 * degrees, degrees with minutes and seconds, ISO 6709, UTM, geohash, millionths, radians, EXIF rationals, floats;
 * with points and commas, in UTF-8 and UTF-16. (transfer full) */
GPtrArray *search_notations (double latitude, double longitude, double step);
/* Adds a text in UTF-8 and UTF-16. */
void search_add_word (GPtrArray *words, const char *text);

/* The first word found in a piece, with what stands around it; NULL if none is. (transfer full) */
char *search_find (GPtrArray *pieces, GPtrArray *words);
gboolean search_is_jpeg (GBytes *piece);
