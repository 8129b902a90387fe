/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes a bag into a zip, as libarchive packs it. */
#include "ws-bag.h"

#include "ws-bag-text.h"
#include "ws-blocking.h"
#include "ws-digest.h"
#include "ws-error.h"
#include "ws-file.h"
#include "ws-inner-path.h"
#include "ws-intl.h"

#include <archive.h>
#include <archive_entry.h>
#include <inttypes.h>
#include <string.h>
#include <sys/stat.h>

struct _WsBagWriter
{
  WsSafeFile *file;
  char *path;
  char *top;
  struct archive *zip;
  GHashTable *names;       /* of everything added */
  GString *manifest;
  GString *tag_manifest;
  GString *info;
  guint64 octets, n_files, limit;
};

void
ws_bag_writer_free (WsBagWriter *writer)
{
  if (writer == NULL)
    return;
  if (writer->zip != NULL)
    archive_write_free (writer->zip);
  ws_safe_file_free (writer->file);
  g_hash_table_unref (writer->names);
  g_string_free (writer->manifest, TRUE);
  g_string_free (writer->tag_manifest, TRUE);
  g_string_free (writer->info, TRUE);
  g_free (writer->path);
  g_free (writer->top);
  g_free (writer);
}

static gboolean
fail (WsBagWriter *writer, GError **error)
{
  g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("“%s” cannot be written: %s"), writer->path,
               archive_error_string (writer->zip));
  return FALSE;
}

static gboolean
open_zip (WsBagWriter *writer, GError **error)
{
  writer->zip = archive_write_new ();
  /* The last block is not filled up, since nothing may stand behind the end of a zip. */
  if (archive_write_set_format_zip (writer->zip) != ARCHIVE_OK
      || archive_write_set_options (writer->zip, "zip:hdrcharset=UTF-8") != ARCHIVE_OK
      || archive_write_set_bytes_in_last_block (writer->zip, 1) != ARCHIVE_OK
      || archive_write_open_fd (writer->zip, ws_safe_file_get_fd (writer->file)) != ARCHIVE_OK)
    return fail (writer, error);
  return TRUE;
}

WsBagWriter *
ws_bag_writer_new (const char *path, const char *top, GError **error)
{
  g_autoptr (WsBagWriter) writer = g_new0 (WsBagWriter, 1);

  ws_blocking ("writing a bag");
  writer->path = g_strdup (path);
  writer->top = g_strdup (top);
  writer->names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  writer->manifest = g_string_new (NULL);
  writer->tag_manifest = g_string_new (NULL);
  writer->info = g_string_new (NULL);
  writer->file = ws_safe_file_open (path, error);
  if (writer->file == NULL || !open_zip (writer, error))
    return NULL;
  return g_steal_pointer (&writer);
}

static gboolean
pack (WsBagWriter *writer, const char *inside, gconstpointer data, gsize size, gboolean store, GError **error)
{
  g_autofree char *name = g_strdup_printf ("%s/%s", writer->top, inside);
  struct archive_entry *entry = archive_entry_new ();
  gboolean fine;

  archive_entry_update_pathname_utf8 (entry, name);
  archive_entry_set_filetype (entry, AE_IFREG);
  archive_entry_set_perm (entry, 0644);
  archive_entry_set_size (entry, (la_int64_t) size);
  fine = (store ? archive_write_zip_set_compression_store (writer->zip)
                : archive_write_zip_set_compression_deflate (writer->zip)) == ARCHIVE_OK
         && archive_write_header (writer->zip, entry) == ARCHIVE_OK
         && (size == 0 || archive_write_data (writer->zip, data, size) == (la_ssize_t) size);
  archive_entry_free (entry);
  return fine || fail (writer, error);
}

static void
list (GString *manifest, const char *inside, gconstpointer data, gsize size)
{
  g_autoptr (WsDigest) digest = ws_digest_new (WS_DIGEST_SHA512);
  g_autofree char *sum = NULL;
  g_autofree char *written = ws_bag_text_escape (inside);

  if (size > 0)
    ws_digest_update (digest, data, size);
  sum = ws_digest_finish (digest);
  g_string_append_printf (manifest, "%s  %s\n", sum, written);
}

gboolean
ws_bag_writer_add (WsBagWriter *writer, const char *inside, GBytes *bytes, gboolean store, GError **error)
{
  gsize size;
  gconstpointer data = g_bytes_get_data (bytes, &size);

  if (ws_inner_path_fault (inside) != NULL || !g_str_has_prefix (inside, "data/"))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_USAGE, _("“%s” cannot be the name of a file in a bag"), inside);
      return FALSE;
    }
  if (!g_hash_table_add (writer->names, ws_inner_path_key (inside, TRUE)))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_USAGE, _("“%s” is in the bag already"), inside);
      return FALSE;
    }
  list (writer->manifest, inside, data, size);
  writer->octets += size;
  writer->n_files++;
  return pack (writer, inside, data, size, store, error);
}

/* A line end in the value would begin another label. */
void
ws_bag_writer_add_info (WsBagWriter *writer, const char *label, const char *value)
{
  g_autofree char *line = g_strdup (value);

  g_strdelimit (line, "\r\n", ' ');
  g_string_append_printf (writer->info, "%s: %s\n", label, g_strstrip (line));
}

static gboolean
add_tag_file (WsBagWriter *writer, const char *name, const char *text, gboolean listed, GError **error)
{
  if (listed)
    list (writer->tag_manifest, name, text, strlen (text));
  return pack (writer, name, text, strlen (text), FALSE, error);
}

void
ws_bag_writer_set_limit (WsBagWriter *writer, guint64 limit)
{
  writer->limit = limit;
}

static gboolean
check_limit (WsBagWriter *writer, GError **error)
{
  struct stat info;

  if (writer->limit == 0)
    return TRUE;
  if (fstat (ws_safe_file_get_fd (writer->file), &info) == 0 && info.st_size >= 0 && (guint64) info.st_size <= writer->limit)
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE, _("“%s” would be larger than the limit of %" PRIu64 " bytes"),
               writer->path, writer->limit);
  return FALSE;
}

gboolean
ws_bag_writer_finish (WsBagWriter *writer, GError **error)
{
  g_string_append_printf (writer->info, "Payload-Oxum: %" G_GUINT64_FORMAT ".%" G_GUINT64_FORMAT "\n",
                          writer->octets,
                          writer->n_files);
  if (!add_tag_file (writer, "bagit.txt", "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n", TRUE, error)
      || !add_tag_file (writer, "bag-info.txt", writer->info->str, TRUE, error)
      || !add_tag_file (writer, "manifest-sha512.txt", writer->manifest->str, TRUE, error)
      || !add_tag_file (writer, "tagmanifest-sha512.txt", writer->tag_manifest->str, FALSE, error))
    return FALSE;
  if (archive_write_close (writer->zip) != ARCHIVE_OK)
    return fail (writer, error);
  return check_limit (writer, error) && ws_safe_file_commit (writer->file, error);
}
