/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A JPEG file taken apart and put together again without decoding: what the picture needs
 * stays, everything else goes. Private to the photo layer. */
#pragma once

#include <gio/gio.h>

/* Rebuilds a JPEG (ISO/IEC 10918-1) by an allow-list: quantization and Huffman tables, frame,
 * restart interval, scans with their data, to the end-of-image marker. A JFIF segment is written
 * anew without its thumbnail and density, an Adobe segment with its colour transform only, since
 * both change how the colours are read. All other application segments and comments, and what
 * follows the image, are left out. @exif (nullable) is an APP1 body, "Exif\0\0" and TIFF, put
 * in after JFIF; @xmp (nullable) another, put in after that.
 *
 * NULL if the stream is not one a browser shows as it is (baseline or progressive, Huffman
 * coded, 8 bits, one or three components) or is damaged. */
GBytes *ws_jpeg_stream_rebuild (GBytes *jpeg, GBytes *exif, GBytes *xmp) G_GNUC_WARN_UNUSED_RESULT;
