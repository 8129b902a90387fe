/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-archive.h"

#include "ws-blocking.h"
#include "ws-error.h"
#include "ws-intl.h"
#include "ws-zip-directory.h"

#include <archive.h>
#include <archive_entry.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define BLOCK 65536

struct _WsArchive
{
  int fd;
  GPtrArray *entries;
  struct archive *reader;
  GCancellable *cancellable;
  guint n_given;
  const WsArchiveEntry *current;
  guint64 taken;  /* bytes of the current entry read so far */
};

void
ws_archive_free (WsArchive *archive)
{
  if (archive == NULL)
    return;
  if (archive->reader != NULL)
    archive_read_free (archive->reader);
  g_clear_pointer (&archive->entries, g_ptr_array_unref);
  g_clear_object (&archive->cancellable);
  if (archive->fd >= 0)
    close (archive->fd);
  g_free (archive);
}

GPtrArray *
ws_archive_get_entries (WsArchive *archive)
{
  return archive->entries;
}

/* What begins like a zip but has no end was cut off, or has too much behind it. */
static gboolean
find_end (int fd, guint64 size, WsZipEnd *end, GError **error)
{
  g_autoptr (GError) problem = NULL;
  char head[4];

  if (ws_zip_find_end (fd, size, end, &problem))
    return TRUE;
  if (g_error_matches (problem, WS_ERROR, WS_ERROR_UNREADABLE) && size >= 4
      && ws_zip_pread (fd, 0, head, sizeof head, NULL) && memcmp (head, "PK", 2) == 0 && head[2] < 9)
    return ws_zip_refuse (error, _("its end is missing; it may have been cut off, or has other data behind it"));
  g_propagate_error (error, g_steal_pointer (&problem));
  return FALSE;
}

static gboolean
open_reader (WsArchive *archive, GError **error)
{
  archive->reader = archive_read_new ();
  if (archive->reader == NULL || archive_read_support_format_zip_seekable (archive->reader) != ARCHIVE_OK
      || lseek (archive->fd, 0, SEEK_SET) != 0
      || archive_read_open_fd (archive->reader, archive->fd, BLOCK) != ARCHIVE_OK)
    return ws_zip_refuse (error, _("it cannot be unpacked: %s"),
                          archive->reader != NULL ? archive_error_string (archive->reader) : g_strerror (ENOMEM));
  return TRUE;
}

WsArchive *
ws_archive_open (const char *path, GCancellable *cancellable, GError **error)
{
  g_autoptr (WsArchive) archive = g_new0 (WsArchive, 1);
  struct stat info;
  WsZipEnd end;

  ws_blocking ("reading an archive");
  archive->cancellable = cancellable != NULL ? g_object_ref (cancellable) : NULL;
  archive->fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (archive->fd < 0 || fstat (archive->fd, &info) != 0)
    {
      g_set_error (error, WS_ERROR, errno == ENOENT ? WS_ERROR_NOT_FOUND : WS_ERROR_FAILED,
                   _("“%s” cannot be opened: %s"),
                   path, g_strerror (errno));
      return NULL;
    }
  if (!S_ISREG (info.st_mode))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("“%s” is not a file"), path);
      return NULL;
    }
  if (!find_end (archive->fd, (guint64) info.st_size, &end, error))
    return NULL;
  archive->entries = ws_zip_read_directory (archive->fd, &end, error);
  /* libarchive takes an archive without entries for none. */
  if (archive->entries == NULL || (archive->entries->len > 0 && !open_reader (archive, error)))
    return NULL;
  return g_steal_pointer (&archive);
}

/* libarchive gives the entries in the order of their data, as our list is sorted. */
const WsArchiveEntry *
ws_archive_next (WsArchive *archive, GError **error)
{
  struct archive_entry *header;
  int status;

  if (g_cancellable_set_error_if_cancelled (archive->cancellable, error))
    return NULL;
  if (archive->n_given == archive->entries->len)
    return NULL;
  status = archive_read_next_header (archive->reader, &header);
  archive->current = g_ptr_array_index (archive->entries, archive->n_given++);
  archive->taken = 0;
  /* A warning is about the name in the present locale, which is not used. */
  if ((status == ARCHIVE_OK || status == ARCHIVE_WARN)
      && archive_entry_filetype (header) == (archive->current->is_folder ? AE_IFDIR : AE_IFREG)
      && archive_entry_hardlink (header) == NULL && archive_entry_symlink (header) == NULL
      && (!archive_entry_size_is_set (header) || (guint64) archive_entry_size (header) == archive->current->size))
    return archive->current;
  {
    g_autofree char *name = ws_inner_path_quote (archive->current->path);

    ws_zip_refuse (error, _("“%s” cannot be unpacked as the directory says"), name);
  }
  return NULL;
}

gboolean
ws_archive_read (WsArchive *archive, gconstpointer *data, gsize *size, GError **error)
{
  g_autofree char *name = NULL, *why = NULL;
  la_int64_t offset = 0;
  gsize n = 0;
  int status;

  if (g_cancellable_set_error_if_cancelled (archive->cancellable, error))
    return FALSE;
  do
    status = archive->current->is_folder ? ARCHIVE_EOF
                                         : archive_read_data_block (archive->reader, data, &n, &offset);
  while (status == ARCHIVE_OK && n == 0);
  if (status == ARCHIVE_EOF && archive->taken == archive->current->size)
    {
      *size = 0;
      return TRUE;
    }
  if (status == ARCHIVE_OK && (guint64) offset == archive->taken && n <= archive->current->size - archive->taken)
    {
      archive->taken += n;
      *size = n;
      return TRUE;
    }
  name = ws_inner_path_quote (archive->current->path);
  if (status == ARCHIVE_OK || status == ARCHIVE_EOF)
    return ws_zip_refuse (error, _("“%s” unpacks to another size than the directory says"), name);
  why = g_strdup (archive_error_string (archive->reader));
  return ws_zip_refuse (error, _("“%s” is damaged: %s"), name, why != NULL ? g_strstrip (why) : "");
}
