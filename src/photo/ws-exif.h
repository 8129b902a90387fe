/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The EXIF values that the photo layer uses, as a libexif ExifData, and typed looks into it.
 *
 * libexif's own walk over the file is not used, for four reasons: it gives up where the first
 * APP1 segment is not EXIF, it wants the whole of a TIFF file copied, it drops values of the
 * type UTF-8 (Exif 3.0, type 129), and it runs its maker note parsers over bytes from
 * strangers. So the directories are walked here, bounded, and the few entries that are wanted
 * are handed to libexif. Private to the photo layer. */
#pragma once

#include <glib.h>
#include <libexif/exif-data.h>

#include "ws-container.h"

typedef struct
{
  ExifData *data;
  gboolean damaged;      /* an entry or a directory points outside, or a directory is cut off */
} WsExif;

/* Reads all EXIF spans of a file: of several, the first that has a tag gives it. */
void ws_exif_read (WsExif *exif, const WsContainer *container);
void ws_exif_clear (WsExif *exif);

/* The entry, or NULL. Borrowed. @ifd EXIF_IFD_EXIF looks into IFD 0 afterwards, where TIFF/EP
 * files have these tags. */
ExifEntry *ws_exif_find (const WsExif *exif, ExifIfd ifd, guint tag);

/* The value with number @i of an entry of any numeric type, or of a text that is one number.
 * FALSE if there is none or its denominator is 0. */
gboolean ws_exif_number (const WsExif *exif, ExifEntry *entry, guint i, double *value);

/* The text up to its first NUL, without blanks at the end, as UTF-8 (bytes that are not are
 * taken as Latin-1), control characters made blanks. "" when empty. (transfer full) */
char *ws_exif_text (ExifEntry *entry) G_GNUC_WARN_UNUSED_RESULT;

/* EXIF orientation 1-8, or 0 when absent or not valid; @present tells these apart. */
int ws_exif_orientation (const WsExif *exif, gboolean *present);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (WsExif, ws_exif_clear)
