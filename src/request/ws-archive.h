/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads a zip of a stranger. Everything the archive says of itself is checked before anything is
 * unpacked, and what is unpacked is checked against it; nothing is ever written.
 *
 * An archive is refused whose parts overlap, leave gaps or stand before or behind it; whose local headers
 * or data descriptors say something else than its directory; that is encrypted, in several
 * volumes, or packed otherwise than stored or deflated; that holds links, devices, the same name
 * twice, a file where another entry needs a folder, a name that is not UTF-8 or that
 * ws_inner_path_fault() complains of, or a backslash in a name; or that passes a limit below. */
#pragma once

#include <gio/gio.h>

#include "ws-inner-path.h"

#define WS_ARCHIVE_MAX_ENTRIES 20000
/* All entries unpacked, in bytes. */
#define WS_ARCHIVE_MAX_UNPACKED (G_GUINT64_CONSTANT (4) << 30)
/* Unpacked to packed size, of the whole and of each entry, from WS_ARCHIVE_RATIO_FROM bytes on. */
#define WS_ARCHIVE_MAX_RATIO 200
#define WS_ARCHIVE_RATIO_FROM (G_GUINT64_CONSTANT (16) << 20)
/* The directory at the end of the archive, in bytes. */
#define WS_ARCHIVE_MAX_DIRECTORY (32 << 20)
/* The remark at the very end, in bytes: what libarchive searches for the end record. */
#define WS_ARCHIVE_MAX_REMARK 16000

typedef struct
{
  char *path;         /* UTF-8, "/" between parts, none at the end */
  gboolean is_folder;
  guint64 size;       /* unpacked, bytes */
  guint64 packed;     /* bytes */
  guint64 offset;     /* of its local header */
  guint32 crc;
  guint16 method;     /* 0 stored, 8 deflated */
  guint16 flags;
} WsArchiveEntry;

typedef struct _WsArchive WsArchive;

/* Opens and checks the zip at @path. NULL with WS_ERROR_NOT_FOUND or _FAILED; _UNREADABLE when it is
 * no zip at all; _REFUSED when it is one that breaks a rule (the message names entry and rule).
 * Blocks. */
WsArchive *ws_archive_open (const char *path, GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
void ws_archive_free (WsArchive *archive);

/* All entries in the order in which ws_archive_next() gives them. Borrowed; of WsArchiveEntry. */
GPtrArray *ws_archive_get_entries (WsArchive *archive);

/* The next entry, whose data may then be read (or not). NULL at the end, or with an error. Blocks. */
const WsArchiveEntry *ws_archive_next (WsArchive *archive, GError **error);
/* The next piece of the entry: TRUE with *@size 0 at its end. The piece is valid until the next
 * call. FALSE with WS_ERROR_REFUSED when the data are damaged or not what the directory says. */
gboolean ws_archive_read (WsArchive *archive, gconstpointer *data, gsize *size, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsArchive, ws_archive_free)
