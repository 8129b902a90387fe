/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The reader of zips of strangers: opens, and reads every entry to its end. */
#include "fuzz.h"

#include "ws-archive.h"

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  GError *error = NULL;
  g_autoptr (WsArchive) archive = ws_archive_open (fuzz_file (data, size), NULL, &error);
  const WsArchiveEntry *entry;
  guint64 total = 0;

  if (archive == NULL)
    {
      fuzz_check_error (error);
      return 0;
    }
  while ((entry = ws_archive_next (archive, &error)) != NULL)
    {
      gconstpointer piece;
      gsize n;
      guint64 read = 0;

      g_assert_true (g_utf8_validate (entry->path, -1, NULL));
      g_assert_null (ws_inner_path_fault (entry->path));
      while (ws_archive_read (archive, &piece, &n, &error) && n > 0)
        read += n;
      /* Never more than was announced. */
      g_assert_cmpuint (read, <=, entry->size);
      total += read;
      if (error != NULL)
        break;
    }
  g_assert_cmpuint (total, <=, WS_ARCHIVE_MAX_UNPACKED);
  if (error != NULL)
    fuzz_check_error (error);
  return 0;
}
