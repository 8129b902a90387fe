/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-zip-directory.h"

#include "ws-intl.h"

#include <string.h>

#define RECORD_SIZE 46
#define ENCRYPTED (1 << 0 | 1 << 6 | 1 << 13)
#define PATCH (1 << 5)
#define TYPE_MASK 0170000
#define TYPE_FILE 0100000
#define TYPE_FOLDER 0040000

void
ws_archive_entry_free (WsArchiveEntry *entry)
{
  g_free (entry->path);
  g_free (entry);
}

/* A field for the name as Unicode must say the name that stands in the header, since libarchive and
 * others would take it instead. */
static gboolean
check_unicode_name (const WsZipHeader *header, const guint8 *data, gsize length, const char *name, GError **error)
{
  if (length >= 5 && length - 5 == header->name_length && memcmp (data + 5, header->name, length - 5) == 0)
    return TRUE;
  return ws_zip_refuse (error, _("“%s” has a second name that differs"), name);
}

static gboolean
take_wide (guint64 *value, const guint8 **data, gsize *length, const char *name, GError **error)
{
  if (*value != G_MAXUINT32)
    return TRUE;
  if (*length < 8)
    return ws_zip_refuse (error, _("the zip64 sizes of “%s” are cut short"), name);
  *value = ws_zip_u64 (*data);
  *data += 8;
  *length -= 8;
  return TRUE;
}

static gboolean
read_wide (WsZipHeader *header, const guint8 *data, gsize length, gboolean local, const char *name, GError **error)
{
  if (header->wide)
    return ws_zip_refuse (error, _("“%s” has two zip64 fields"), name);
  header->wide = TRUE;
  return take_wide (&header->size, &data, &length, name, error)
         && take_wide (&header->packed, &data, &length, name, error)
         && (local || take_wide (&header->offset, &data, &length, name, error));
}

gboolean
ws_zip_read_extra (WsZipHeader *header, const guint8 *extra, gsize length, gboolean local, const char *name,
                   GError **error)
{
  /* Up to three bytes may be left: some programs align the data with them. */
  while (length >= 4)
    {
      guint16 id = ws_zip_u16 (extra);
      gsize size = ws_zip_u16 (extra + 2);

      if (size > length - 4)
        return ws_zip_refuse (error, _("an extra field of “%s” is longer than its header"), name);
      if (id == 0x0001 && !read_wide (header, extra + 4, size, local, name, error))
        return FALSE;
      if (id == 0x7075 && !check_unicode_name (header, extra + 4, size, name, error))
        return FALSE;
      if (id == 0x9901 || id == 0x0017)
        return ws_zip_refuse (error, _("“%s” is encrypted"), name);
      extra += 4 + size;
      length -= 4 + size;
    }
  return TRUE;
}

/* @external: the attributes; their upper half holds the Unix mode, which some programs use whatever system
 * the entry says it was made on. */
static gboolean
check_type (const char *name, gboolean is_folder, guint32 external, GError **error)
{
  guint32 type = (external >> 16) & TYPE_MASK;

  if (type != 0 && type != TYPE_FILE && type != TYPE_FOLDER)
    return ws_zip_refuse (error, _("“%s” is a link or a device, not a file"), name);
  if ((type == TYPE_FOLDER && !is_folder) || (type == TYPE_FILE && is_folder))
    return ws_zip_refuse (error, _("“%s” says that it is a file and a folder"), name);
  return TRUE;
}

static gboolean
check_name (const WsZipHeader *header, const char *quoted, GError **error)
{
  g_autofree char *path = g_strndup ((const char *) header->name, header->name_length);
  gsize length = strlen (path);
  const char *fault;

  if (length != header->name_length || !g_utf8_validate (path, -1, NULL))
    return ws_zip_refuse (error, _("the name “%s” is not UTF-8 text"), quoted);
  if (length > 1 && path[length - 1] == '/')
    path[length - 1] = '\0';
  fault = ws_inner_path_fault (path);
  if (fault == NULL && strchr (path, '\\') != NULL)
    fault = _("it holds a backslash");
  if (fault != NULL)
    return ws_zip_refuse (error, _("the name “%s” is not allowed: %s"), quoted, fault);
  return TRUE;
}

static gboolean
check_entry (const WsZipHeader *header, const guint8 *record, const char *name, gboolean is_folder, GError **error)
{
  if (header->flags & ENCRYPTED)
    return ws_zip_refuse (error, _("“%s” is encrypted"), name);
  if ((header->flags & PATCH) || (header->method != 0 && header->method != 8))
    return ws_zip_refuse (error, _("“%s” is packed in a way that is not read here (method %u); only stored and "
                                   "deflated entries are"), name, header->method);
  if (ws_zip_u16 (record + 34) != 0)
    return ws_zip_refuse (error, _("it is one of several volumes"));
  if (header->method == 0 && header->size != header->packed)
    return ws_zip_refuse (error, _("“%s” is stored, but its two sizes differ"), name);
  if (is_folder && header->size != 0)
    return ws_zip_refuse (error, _("the folder “%s” has data"), name);
  if (header->size > WS_ARCHIVE_RATIO_FROM && header->size / WS_ARCHIVE_MAX_RATIO > header->packed)
    return ws_zip_refuse (error, _("“%s” unpacks to more than %d times its packed size"), name,
                          WS_ARCHIVE_MAX_RATIO);
  return check_type (name, is_folder, ws_zip_u32 (record + 38), error);
}

/* Takes one record at the head of *@at. */
static WsArchiveEntry *
read_record (const guint8 **at, gsize *left, GError **error)
{
  const guint8 *record = *at;
  WsZipHeader header = { 0 };
  g_autofree char *raw = NULL, *name = NULL;
  WsArchiveEntry *entry;
  gsize extra, whole;
  gboolean is_folder;

  if (*left < RECORD_SIZE || memcmp (record, "PK\001\002", 4) != 0)
    {
      ws_zip_refuse (error, _("its directory is damaged"));
      return NULL;
    }
  header.flags = ws_zip_u16 (record + 8);
  header.method = ws_zip_u16 (record + 10);
  header.crc = ws_zip_u32 (record + 16);
  header.packed = ws_zip_u32 (record + 20);
  header.size = ws_zip_u32 (record + 24);
  header.offset = ws_zip_u32 (record + 42);
  header.name = record + RECORD_SIZE;
  header.name_length = ws_zip_u16 (record + 28);
  extra = ws_zip_u16 (record + 30);
  whole = RECORD_SIZE + header.name_length + extra + ws_zip_u16 (record + 32);
  if (whole > *left)
    {
      ws_zip_refuse (error, _("its directory is damaged"));
      return NULL;
    }
  raw = g_strndup ((const char *) header.name, header.name_length);
  name = ws_inner_path_quote (raw);
  is_folder = header.name_length > 0 && header.name[header.name_length - 1] == '/';
  if (!check_name (&header, name, error)
      || !ws_zip_read_extra (&header, header.name + header.name_length, extra, FALSE, name, error)
      || !check_entry (&header, record, name, is_folder, error))
    return NULL;
  entry = g_new0 (WsArchiveEntry, 1);
  entry->path = g_strndup (raw, header.name_length - (is_folder ? 1 : 0));
  entry->is_folder = is_folder;
  entry->size = header.size;
  entry->packed = header.packed;
  entry->offset = header.offset;
  entry->crc = header.crc;
  entry->method = header.method;
  entry->flags = header.flags;
  *at += whole;
  *left -= whole;
  return entry;
}

static int
compare_offsets (gconstpointer a, gconstpointer b)
{
  const WsArchiveEntry *one = *(const WsArchiveEntry *const *) a, *two = *(const WsArchiveEntry *const *) b;

  return one->offset < two->offset ? -1 : one->offset > two->offset;
}

/* No name twice, and no file where another name has a folder. */
static gboolean
check_tree (GPtrArray *entries, GError **error)
{
  g_autoptr (GHashTable) files = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < entries->len; i++)
    {
      WsArchiveEntry *entry = g_ptr_array_index (entries, i);

      if (!g_hash_table_insert (files, entry->path, entry))
        {
          g_autofree char *name = ws_inner_path_quote (entry->path);

          return ws_zip_refuse (error, _("it holds “%s” twice"), name);
        }
    }
  for (guint i = 0; i < entries->len; i++)
    {
      WsArchiveEntry *entry = g_ptr_array_index (entries, i);
      g_autofree char *path = g_strdup (entry->path);

      for (char *slash = strrchr (path, '/'); slash != NULL; slash = strrchr (path, '/'))
        {
          const WsArchiveEntry *above;

          *slash = '\0';
          above = g_hash_table_lookup (files, path);
          if (above != NULL && !above->is_folder)
            {
              g_autofree char *name = ws_inner_path_quote (path);

              return ws_zip_refuse (error, _("“%s” is a file and a folder"), name);
            }
        }
    }
  return TRUE;
}

static gboolean
check_total (GPtrArray *entries, guint64 packed, GError **error)
{
  guint64 total = 0;

  for (guint i = 0; i < entries->len; i++)
    {
      guint64 size = ((WsArchiveEntry *) g_ptr_array_index (entries, i))->size;

      if (size > WS_ARCHIVE_MAX_UNPACKED || (total += size) > WS_ARCHIVE_MAX_UNPACKED)
        return ws_zip_refuse (error, _("it unpacks to more than 4 GiB"));
    }
  if (total > WS_ARCHIVE_RATIO_FROM && total / WS_ARCHIVE_MAX_RATIO > packed)
    return ws_zip_refuse (error, _("it unpacks to more than %d times its size"), WS_ARCHIVE_MAX_RATIO);
  return TRUE;
}

GPtrArray *
ws_zip_read_directory (int fd, const WsZipEnd *end, GError **error)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_archive_entry_free);
  g_autofree guint8 *directory = g_malloc (end->size + 1);
  const guint8 *at = directory;
  gsize left = end->size;

  if (!ws_zip_pread (fd, end->offset, directory, left, error))
    return NULL;
  for (guint64 i = 0; i < end->n_entries; i++)
    {
      WsArchiveEntry *entry = read_record (&at, &left, error);

      if (entry == NULL)
        return NULL;
      g_ptr_array_add (entries, entry);
    }
  if (left != 0)
    {
      ws_zip_refuse (error, _("its directory holds more than its end says"));
      return NULL;
    }
  if (!check_total (entries, end->offset, error) || !check_tree (entries, error))
    return NULL;
  g_ptr_array_sort (entries, compare_offsets);
  if (!ws_zip_check_data (fd, entries, end->offset, error))
    return NULL;
  return g_steal_pointer (&entries);
}
