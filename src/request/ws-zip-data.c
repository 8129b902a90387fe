/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The headers and descriptors around the data of a zip, against its directory. */
#include "ws-zip-directory.h"

#include "ws-intl.h"

#include <string.h>

#define HEADER_SIZE 30
#define ENCRYPTED (1 << 0 | 1 << 6 | 1 << 13)
#define SIZES_BEHIND (1 << 3)

/* With the sizes behind the data, the header may leave them out. */
static gboolean
fits (guint64 local, guint64 directory, gboolean behind)
{
  return local == directory || (behind && local == 0);
}

static gboolean
check_header (const WsArchiveEntry *entry, const WsZipHeader *header, const char *name, GError **error)
{
  gboolean behind = (header->flags & SIZES_BEHIND) != 0;
  gsize length = strlen (entry->path);

  if (header->flags & ENCRYPTED)
    return ws_zip_refuse (error, _("“%s” is encrypted"), name);
  if (header->name_length != length + (entry->is_folder ? 1 : 0) || memcmp (header->name, entry->path, length) != 0
      || (entry->is_folder && header->name[length] != '/'))
    return ws_zip_refuse (error, _("“%s” has another name beside its data than in the directory"), name);
  if (header->method != entry->method || !fits (header->crc, entry->crc, behind)
      || !fits (header->size, entry->size, behind) || !fits (header->packed, entry->packed, behind))
    return ws_zip_refuse (error,
                          _("“%s” has another size, check sum or method beside its data than in the directory"), name);
  return TRUE;
}

/* Reads the header of @entry; *@data becomes where its data begin. */
static gboolean
read_header (int fd, const WsArchiveEntry *entry, guint64 directory, const char *name, WsZipHeader *header,
             guint64 *data, GError **error)
{
  guint8 fixed[HEADER_SIZE];
  g_autofree guint8 *rest = NULL;
  gsize n, extra;

  if (!ws_zip_pread (fd, entry->offset, fixed, sizeof fixed, error))
    return FALSE;
  if (memcmp (fixed, "PK\003\004", 4) != 0)
    return ws_zip_refuse (error, _("the data of “%s” do not lie where the directory says"), name);
  header->flags = ws_zip_u16 (fixed + 6);
  header->method = ws_zip_u16 (fixed + 8);
  header->crc = ws_zip_u32 (fixed + 14);
  header->packed = ws_zip_u32 (fixed + 18);
  header->size = ws_zip_u32 (fixed + 22);
  header->name_length = n = ws_zip_u16 (fixed + 26);
  extra = ws_zip_u16 (fixed + 28);
  *data = entry->offset + HEADER_SIZE + n + extra;
  if (*data > directory || directory - *data < entry->packed)
    return ws_zip_refuse (error, _("the data of “%s” reach into the directory"), name);
  rest = g_malloc (n + extra + 1);
  if (!ws_zip_pread (fd, entry->offset + HEADER_SIZE, rest, n + extra, error))
    return FALSE;
  header->name = rest;
  return ws_zip_read_extra (header, rest + n, extra, TRUE, name, error)
         && check_header (entry, header, name, error);
}

/* The descriptor between the data and @next: 32 or 64 bit wide, with a signature or without. */
static gboolean
check_descriptor (int fd, const WsArchiveEntry *entry, guint64 at, guint64 length, const char *name, GError **error)
{
  guint8 bytes[24], *field = bytes;
  gboolean wide = length == 20 || length == 24, right;

  if (length != 12 && length != 16 && length != 20 && length != 24)
    return ws_zip_refuse (error, _("other data stand between “%s” and what follows, or both overlap"), name);
  if (!ws_zip_pread (fd, at, bytes, length, error))
    return FALSE;
  if (length == 16 || length == 24)
    {
      if (memcmp (field, "PK\007\010", 4) != 0)
        return ws_zip_refuse (error, _("other data stand between “%s” and what follows, or both overlap"), name);
      field += 4;
    }
  right = ws_zip_u32 (field) == entry->crc
          && (wide ? ws_zip_u64 (field + 4) : ws_zip_u32 (field + 4)) == entry->packed
          && (wide ? ws_zip_u64 (field + 12) : ws_zip_u32 (field + 8)) == entry->size;
  if (!right)
    return ws_zip_refuse (error, _("“%s” has another size or check sum behind its data than in the directory"),
                          name);
  return TRUE;
}

static gboolean
check_one (int fd, const WsArchiveEntry *entry, guint64 next, guint64 directory, GError **error)
{
  g_autofree char *name = ws_inner_path_quote (entry->path);
  WsZipHeader header = { 0 };
  guint64 end = 0;

  if (!read_header (fd, entry, directory, name, &header, &end, error))
    return FALSE;
  end += entry->packed;
  if (end > next)
    return ws_zip_refuse (error, _("the data of “%s” overlap those of another entry"), name);
  if (header.flags & SIZES_BEHIND)
    return check_descriptor (fd, entry, end, next - end, name, error);
  if (end != next)
    return ws_zip_refuse (error, _("other data stand between “%s” and what follows, or both overlap"), name);
  return TRUE;
}

gboolean
ws_zip_check_data (int fd, GPtrArray *entries, guint64 directory, GError **error)
{
  if ((entries->len > 0 ? ((WsArchiveEntry *) g_ptr_array_index (entries, 0))->offset : directory) != 0)
    return ws_zip_refuse (error, _("data stand before its first entry"));
  for (guint i = 0; i < entries->len; i++)
    {
      const WsArchiveEntry *entry = g_ptr_array_index (entries, i);
      const WsArchiveEntry *following = i + 1 < entries->len ? g_ptr_array_index (entries, i + 1) : NULL;

      if (!check_one (fd, entry, following != NULL ? following->offset : directory, directory, error))
        return FALSE;
    }
  return TRUE;
}
