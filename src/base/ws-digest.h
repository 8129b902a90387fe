/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Digests by libgcrypt: SHA-512 for everything of ours; the older ones are
 * only read, in bags of other people. */
#pragma once

#include <gio/gio.h>

typedef enum
{
  WS_DIGEST_SHA512,
  WS_DIGEST_SHA384,
  WS_DIGEST_SHA256,
  WS_DIGEST_SHA224,
  WS_DIGEST_SHA1,
  WS_DIGEST_MD5,
} WsDigestKind;

typedef struct _WsDigest WsDigest;

/* Maps BagIt's lower-case algorithm name without punctuation ("sha512"). */
gboolean ws_digest_kind_parse (const char *name, WsDigestKind *kind);

WsDigest *ws_digest_new (WsDigestKind kind) G_GNUC_WARN_UNUSED_RESULT;
void ws_digest_update (WsDigest *digest, gconstpointer data, gsize size);
/* Lower-case hexadecimal text; the digest takes nothing more afterwards. (transfer full) */
char *ws_digest_finish (WsDigest *digest) G_GNUC_WARN_UNUSED_RESULT;
void ws_digest_free (WsDigest *digest);

/* SHA-512 of the bytes, in hexadecimal. (transfer full) */
char *ws_digest_bytes (GBytes *bytes) G_GNUC_WARN_UNUSED_RESULT;
/* SHA-512 of the file, read in pieces. Blocks. NULL with an error. (transfer full) */
char *ws_digest_file (const char *path, GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* CRC-32 as in zip files, eight lower-case hexadecimal digits: finds damage, proves nothing. (transfer full) */
char *ws_digest_crc32 (gconstpointer data, gsize size) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsDigest, ws_digest_free)
