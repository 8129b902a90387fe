/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-digest.h"

#include "ws-blocking.h"
#include "ws-error.h"
#include "ws-intl.h"

#include <errno.h>
#include <fcntl.h>
#include <gcrypt.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define PIECE (256 * 1024)

struct _WsDigest
{
  gcry_md_hd_t handle;
  int algorithm;
};

static const struct { const char *name; WsDigestKind kind; int algorithm; } kinds[] = {
  { "sha512", WS_DIGEST_SHA512, GCRY_MD_SHA512 }, { "sha384", WS_DIGEST_SHA384, GCRY_MD_SHA384 },
  { "sha256", WS_DIGEST_SHA256, GCRY_MD_SHA256 }, { "sha224", WS_DIGEST_SHA224, GCRY_MD_SHA224 },
  { "sha1", WS_DIGEST_SHA1, GCRY_MD_SHA1 },       { "md5", WS_DIGEST_MD5, GCRY_MD_MD5 },
};

static void
init_once (void)
{
  static gsize done;

  if (g_once_init_enter (&done))
    {
      gcry_check_version (NULL);
      gcry_control (GCRYCTL_DISABLE_SECMEM, 0);
      gcry_control (GCRYCTL_INITIALIZATION_FINISHED, 0);
      g_once_init_leave (&done, 1);
    }
}

gboolean
ws_digest_kind_parse (const char *name, WsDigestKind *kind)
{
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_strcmp0 (name, kinds[i].name) == 0)
      {
        *kind = kinds[i].kind;
        return TRUE;
      }
  return FALSE;
}

WsDigest *
ws_digest_new (WsDigestKind kind)
{
  WsDigest *digest = g_new0 (WsDigest, 1);

  init_once ();
  digest->algorithm = kinds[kind].algorithm;
  if (gcry_md_open (&digest->handle, digest->algorithm, 0) != 0)
    g_error ("libgcrypt does not offer %s", kinds[kind].name);
  return digest;
}

void
ws_digest_update (WsDigest *digest, gconstpointer data, gsize size)
{
  if (size > 0)
    gcry_md_write (digest->handle, data, size);
}

char *
ws_digest_finish (WsDigest *digest)
{
  const unsigned char *raw = gcry_md_read (digest->handle, digest->algorithm);
  unsigned int size = gcry_md_get_algo_dlen (digest->algorithm);
  GString *text = g_string_sized_new (2 * size);

  for (unsigned int i = 0; i < size; i++)
    g_string_append_printf (text, "%02x", raw[i]);
  return g_string_free (text, FALSE);
}

void
ws_digest_free (WsDigest *digest)
{
  if (digest == NULL)
    return;
  gcry_md_close (digest->handle);
  g_free (digest);
}

char *
ws_digest_bytes (GBytes *bytes)
{
  g_autoptr (WsDigest) digest = ws_digest_new (WS_DIGEST_SHA512);
  gsize size;
  gconstpointer data = g_bytes_get_data (bytes, &size);

  ws_blocking ("hashing bytes");
  ws_digest_update (digest, data, size);
  return ws_digest_finish (digest);
}

char *
ws_digest_crc32 (gconstpointer data, gsize size)
{
  guint8 sum[4];

  init_once ();
  gcry_md_hash_buffer (GCRY_MD_CRC32, sum, data, size);
  return g_strdup_printf ("%02x%02x%02x%02x", sum[0], sum[1], sum[2], sum[3]);
}

char *
ws_digest_file (const char *path, GCancellable *cancellable, GError **error)
{
  g_autoptr (WsDigest) digest = ws_digest_new (WS_DIGEST_SHA512);
  g_autofree guint8 *piece = g_malloc (PIECE);
  struct stat info;
  gssize n;
  int fd;

  ws_blocking ("hashing a file");
  /* Non-blocking, so that opening a pipe nobody writes to does not hang. */
  fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (fd >= 0 && (fstat (fd, &info) != 0 || !S_ISREG (info.st_mode)))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("“%s” is not a file"), path);
      close (fd);
      return NULL;
    }
  if (fd < 0)
    {
      g_set_error (error, WS_ERROR, errno == ENOENT ? WS_ERROR_NOT_FOUND : WS_ERROR_FAILED,
                   _("“%s” cannot be opened: %s"), path, g_strerror (errno));
      return NULL;
    }
  while ((n = read (fd, piece, PIECE)) > 0)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        {
          close (fd);
          return NULL;
        }
      ws_digest_update (digest, piece, (gsize) n);
    }
  if (n < 0)
    g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("“%s” cannot be read: %s"), path, g_strerror (errno));
  close (fd);
  return n < 0 ? NULL : ws_digest_finish (digest);
}
