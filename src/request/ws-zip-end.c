/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The records at the end of a zip, and the small readers that all ws-zip files use. */
#include "ws-zip-directory.h"

#include "ws-error.h"
#include "ws-intl.h"

#include <errno.h>
#include <string.h>
#include <unistd.h>

#define END_SIZE 22
#define LOCATOR_SIZE 20
#define WIDE_END_SIZE 56

guint16
ws_zip_u16 (const guint8 *at)
{
  return (guint16) (at[0] | at[1] << 8);
}

guint32
ws_zip_u32 (const guint8 *at)
{
  return (guint32) ws_zip_u16 (at) | (guint32) ws_zip_u16 (at + 2) << 16;
}

guint64
ws_zip_u64 (const guint8 *at)
{
  return (guint64) ws_zip_u32 (at) | (guint64) ws_zip_u32 (at + 4) << 32;
}

gboolean
ws_zip_refuse (GError **error, const char *format, ...)
{
  g_autofree char *what = NULL;
  va_list args;

  va_start (args, format);
  what = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error (error, WS_ERROR, WS_ERROR_REFUSED, _("The archive is refused: %s"), what);
  return FALSE;
}

gboolean
ws_zip_pread (int fd, guint64 offset, gpointer buffer, gsize size, GError **error)
{
  char *at = buffer;

  while (size > 0)
    {
      gssize n = offset <= G_MAXINT64 ? pread (fd, at, size, (off_t) offset) : 0;

      if (n < 0 && errno == EINTR)
        continue;
      if (n < 0)
        {
          g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("The archive cannot be read: %s"), g_strerror (errno));
          return FALSE;
        }
      if (n == 0)
        return ws_zip_refuse (error, _("it ends before one of its parts does; it may have been cut off"));
      at += n;
      offset += (guint64) n;
      size -= (gsize) n;
    }
  return TRUE;
}

/* The end record is the last signature of the file, and it must reach exactly to the end of the
 * file: a signature inside its remark would be the end for other programs. */
static gboolean
find_end_record (int fd, guint64 file_size, guint8 record[END_SIZE], guint64 *offset, GError **error)
{
  gsize span = (gsize) MIN (file_size, END_SIZE + 65535);
  g_autofree guint8 *tail = g_malloc (span + 1);

  if (!ws_zip_pread (fd, file_size - span, tail, span, error))
    return FALSE;
  for (gsize i = span < END_SIZE ? 0 : span - 3; i-- > 0;)
    {
      gsize left = span - i;

      if (memcmp (tail + i, "PK\005\006", 4) != 0)
        continue;
      if (left < END_SIZE || left != (gsize) END_SIZE + ws_zip_u16 (tail + i + 20))
        return ws_zip_refuse (error, _("data stand behind its end, or its end is damaged"));
      if (left - END_SIZE > WS_ARCHIVE_MAX_REMARK)
        return ws_zip_refuse (error, _("the remark at its end is longer than %d bytes"), WS_ARCHIVE_MAX_REMARK);
      memcpy (record, tail + i, END_SIZE);
      *offset = file_size - left;
      return TRUE;
    }
  g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("This is no zip archive, or its end is missing"));
  return FALSE;
}

static gboolean
agrees (guint64 wide, guint32 plain, guint32 full)
{
  return plain == full || wide == plain;
}

/* @at: offset of the end record; the locator of a zip64 end stands right before it. */
static gboolean
read_wide_end (int fd, guint64 at, const guint8 *record, WsZipEnd *end, guint64 *end_of_directory, GError **error)
{
  guint8 locator[LOCATOR_SIZE], wide[WIDE_END_SIZE];
  guint64 offset;

  if (at < LOCATOR_SIZE)
    return TRUE;
  if (!ws_zip_pread (fd, at - LOCATOR_SIZE, locator, sizeof locator, error))
    return FALSE;
  if (memcmp (locator, "PK\006\007", 4) != 0)
    return TRUE;
  offset = ws_zip_u64 (locator + 8);
  if (ws_zip_u32 (locator + 4) != 0 || ws_zip_u32 (locator + 16) > 1)
    return ws_zip_refuse (error, _("it is one of several volumes"));
  if (offset > at - LOCATOR_SIZE || at - LOCATOR_SIZE - offset < WIDE_END_SIZE)
    return ws_zip_refuse (error, _("its zip64 end does not lie where it says"));
  if (!ws_zip_pread (fd, offset, wide, sizeof wide, error))
    return FALSE;
  if (memcmp (wide, "PK\006\006", 4) != 0 || ws_zip_u64 (wide + 4) != at - LOCATOR_SIZE - offset - 12)
    return ws_zip_refuse (error, _("its zip64 end does not lie where it says"));
  if (ws_zip_u32 (wide + 16) != 0 || ws_zip_u32 (wide + 20) != 0
      || ws_zip_u64 (wide + 24) != ws_zip_u64 (wide + 32))
    return ws_zip_refuse (error, _("it is one of several volumes"));
  end->n_entries = ws_zip_u64 (wide + 32);
  end->size = ws_zip_u64 (wide + 40);
  end->offset = ws_zip_u64 (wide + 48);
  *end_of_directory = offset;
  if (!agrees (end->n_entries, ws_zip_u16 (record + 10), 0xffff)
      || !agrees (end->size, ws_zip_u32 (record + 12), G_MAXUINT32)
      || !agrees (end->offset, ws_zip_u32 (record + 16), G_MAXUINT32))
    return ws_zip_refuse (error, _("its two end records disagree"));
  return TRUE;
}

gboolean
ws_zip_find_end (int fd, guint64 file_size, WsZipEnd *end, GError **error)
{
  guint8 record[END_SIZE];
  guint64 at = 0, end_of_directory;

  if (!find_end_record (fd, file_size, record, &at, error))
    return FALSE;
  end->n_entries = ws_zip_u16 (record + 10);
  end->size = ws_zip_u32 (record + 12);
  end->offset = ws_zip_u32 (record + 16);
  end_of_directory = at;
  if (ws_zip_u16 (record + 4) != 0 && ws_zip_u16 (record + 4) != 0xffff)
    return ws_zip_refuse (error, _("it is one of several volumes"));
  if (!read_wide_end (fd, at, record, end, &end_of_directory, error))
    return FALSE;
  if (end_of_directory == at
      && (ws_zip_u16 (record + 4) != 0 || ws_zip_u16 (record + 6) != 0
          || ws_zip_u16 (record + 8) != end->n_entries))
    return ws_zip_refuse (error, _("it is one of several volumes"));
  if (end->n_entries > WS_ARCHIVE_MAX_ENTRIES)
    return ws_zip_refuse (error, _("it holds more than %d entries"), WS_ARCHIVE_MAX_ENTRIES);
  if (end->size > WS_ARCHIVE_MAX_DIRECTORY)
    return ws_zip_refuse (error, _("its directory is larger than %d bytes"), WS_ARCHIVE_MAX_DIRECTORY);
  if (end->offset > end_of_directory || end_of_directory - end->offset != end->size)
    return ws_zip_refuse (error,
                          _("its directory does not lie where its end says; data may stand before or inside it"));
  return TRUE;
}
