/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The directory of a zip (APPNOTE 6.3, sections 4.3 and 4.4), read and checked by itself, because
 * libarchive hides what a hostile archive does there. Only ws-archive.c calls this. */
#pragma once

#include "ws-archive.h"

/* One record of the directory and the header before the data, as far as both say the same things. */
typedef struct
{
  guint16 flags, method;
  guint32 crc;
  guint64 packed, size, offset;
  const guint8 *name;
  gsize name_length;
  gboolean wide;      /* sizes stand in a zip64 field */
} WsZipHeader;

/* Where the directory lies. */
typedef struct { guint64 offset, size, n_entries; } WsZipEnd;

/* Finds the end record of the zip in @fd of @file_size bytes. WS_ERROR_UNREADABLE when there is none. */
gboolean ws_zip_find_end (int fd, guint64 file_size, WsZipEnd *end, GError **error);

/* The entries, WsArchiveEntry, sorted by where their data lie; every rule of ws-archive.h is checked
 * except what only unpacking can tell. */
GPtrArray *ws_zip_read_directory (int fd, const WsZipEnd *end, GError **error) G_GNUC_WARN_UNUSED_RESULT;

void ws_archive_entry_free (WsArchiveEntry *entry);

/* --- Shared by the files ws-zip-*.c ------------------------------------------------- */

/* Exactly @size bytes at @offset; FALSE with WS_ERROR_REFUSED when the file ends before. */
gboolean ws_zip_pread (int fd, guint64 offset, gpointer buffer, gsize size, GError **error);
guint16 ws_zip_u16 (const guint8 *at);
guint32 ws_zip_u32 (const guint8 *at);
guint64 ws_zip_u64 (const guint8 *at);
/* Sets WS_ERROR_REFUSED, and returns FALSE. */
gboolean ws_zip_refuse (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);
/* Takes the zip64 sizes of the extra field into @header, where the plain ones are full, and checks the
 * other extra fields. @name: for messages. */
gboolean ws_zip_read_extra (WsZipHeader *header, const guint8 *extra, gsize length, gboolean local,
                            const char *name, GError **error);
/* Checks that header, data and descriptor of each of @entries say what the directory says, and that
 * they cover the file from its first byte to @directory without overlap or gap. */
gboolean ws_zip_check_data (int fd, GPtrArray *entries, guint64 directory, GError **error);
