/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Camera raw files: told by their bytes, and shown by the preview that the camera put into them, which LibRaw's thumbnail
 * interface finds. The raw data are never developed. Private to the photo layer. */
#pragma once

#include "ws-container.h"

/* TRUE for the bytes of a camera raw file: a signature of its own, or a TIFF directory that holds colour filter data. */
gboolean ws_raw_is_raw (const guint8 *data, gsize size);
/* Fills @container with the preview: its kind, size and bytes (@preview), the EXIF data of the raw file and of the preview,
 * how the preview is to be turned, and the size of the raw picture. Errors: WS_ERROR_UNREADABLE when there is no preview
 * that can be shown, WS_ERROR_TOO_LARGE. */
gboolean ws_raw_scan (WsContainer *container, GBytes *bytes, const char *name, GError **error);
/* Adds the EXIF data of a raw file made of boxes (ISO/IEC 14496-12, brand "crx "), which lie in boxes CMT1 (the first
 * directory), CMT2 (Exif) and CMT4 (position), each a TIFF block. In ws-raw-boxes.c. */
void ws_raw_add_boxes (WsContainer *container, const guint8 *data, gsize size);
