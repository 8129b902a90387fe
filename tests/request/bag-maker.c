/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bag-maker.h"

#include <glib/gstdio.h>
#include <string.h>

char *
maker_folder (void)
{
  g_autoptr (GError) error = NULL;
  char *folder = g_dir_make_tmp ("ws-test-XXXXXX", &error);

  g_assert_no_error (error);
  return folder;
}

void
maker_put (const char *root, const char *inside, const char *text, gssize size)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (root, inside, NULL);
  g_autofree char *above = g_path_get_dirname (path);

  g_assert_cmpint (g_mkdir_with_parents (above, 0755), ==, 0);
  g_file_set_contents (path, text, size, &error);
  g_assert_no_error (error);
}

static GChecksumType
checksum_type (const char *name)
{
  return g_str_has_prefix (name, "md5")      ? G_CHECKSUM_MD5
         : g_str_has_prefix (name, "sha1")   ? G_CHECKSUM_SHA1
         : g_str_has_prefix (name, "sha256") ? G_CHECKSUM_SHA256
         : g_str_has_prefix (name, "sha384") ? G_CHECKSUM_SHA384
                                             : G_CHECKSUM_SHA512;
}

static void
append (const char *root, const char *inside, const char *text)
{
  g_autofree char *path = g_build_filename (root, inside, NULL);
  g_autofree char *before = NULL, *whole = NULL;

  if (!g_file_get_contents (path, &before, NULL, NULL))
    before = g_strdup ("");
  whole = g_strconcat (before, text, NULL);
  maker_put (root, inside, whole, -1);
}

void
maker_list (const char *root, const char *manifest, const char *text, const char *listed)
{
  const char *algorithm = strchr (manifest, '-') + 1;
  g_autofree char *sum = g_compute_checksum_for_string (checksum_type (algorithm), text, -1);
  g_autofree char *line = g_strdup_printf ("%s  %s\n", sum, listed);

  append (root, manifest, line);
}

void
maker_bag (const char *root, const char *version, const char *algorithms)
{
  static const char *const payload[][2] = { { "data/one.txt", "one\n" }, { "data/more/two.txt", "two two\n" } };
  g_autofree char *declaration = g_strdup_printf ("BagIt-Version: %s\nTag-File-Character-Encoding: UTF-8\n", version);
  g_auto (GStrv) names = g_strsplit (algorithms, " ", -1);

  maker_put (root, "bagit.txt", declaration, -1);
  for (guint i = 0; i < G_N_ELEMENTS (payload); i++)
    {
      maker_put (root, payload[i][0], payload[i][1], -1);
      for (guint j = 0; names[j] != NULL; j++)
        {
          g_autofree char *manifest = g_strdup_printf ("manifest-%s.txt", names[j]);

          maker_list (root, manifest, payload[i][1], payload[i][0]);
        }
    }
}

void
maker_tag_manifest (const char *root, const char *algorithm)
{
  g_autofree char *manifest = g_strdup_printf ("tagmanifest-%s.txt", algorithm);
  g_autoptr (GDir) dir = g_dir_open (root, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (root, name, NULL);
      g_autofree char *text = NULL;

      if (!g_str_has_prefix (name, "tagmanifest-") && g_file_get_contents (path, &text, NULL, NULL))
        maker_list (root, manifest, text, name);
    }
}

/* --- Zips, after PKWARE's APPNOTE 6.3 ------------------------------------------------------- */

static guint32
crc32_of (const char *data, gsize size)
{
  guint32 crc = 0xffffffff;

  for (gsize i = 0; i < size; i++)
    {
      crc ^= (guchar) data[i];
      for (int bit = 0; bit < 8; bit++)
        crc = crc >> 1 ^ (crc & 1 ? 0xedb88320 : 0);
    }
  return ~crc;
}

static void
number (GByteArray *out, guint64 value, guint width)
{
  for (guint i = 0; i < width; i++, value >>= 8)
    {
      guint8 byte = value & 0xff;

      g_byte_array_append (out, &byte, 1);
    }
}

static void
bytes (GByteArray *out, const void *data, gsize size)
{
  if (size > 0)
    g_byte_array_append (out, data, (guint) size);
}

static GByteArray *
deflated (const char *data, gsize size)
{
  g_autoptr (GZlibCompressor) packer = g_zlib_compressor_new (G_ZLIB_COMPRESSOR_FORMAT_RAW, 9);
  g_autoptr (GOutputStream) memory = g_memory_output_stream_new_resizable ();
  g_autoptr (GOutputStream) stream = g_converter_output_stream_new (memory, G_CONVERTER (packer));

  g_assert_true (g_output_stream_write_all (stream, data, size, NULL, NULL, NULL));
  g_assert_true (g_output_stream_close (stream, NULL, NULL));
  return g_bytes_unref_to_array (g_memory_output_stream_steal_as_bytes (G_MEMORY_OUTPUT_STREAM (memory)));
}

#define TRUTH(lie, truth) ((lie) >= 0 ? (guint64) (lie) : (guint64) (truth))

static void
put_entry (GByteArray *out, GByteArray *directory, const MakerEntry *entry)
{
  gsize size = entry->size >= 0 ? (gsize) entry->size : strlen (entry->data);
  const char *local_name = entry->local_name != NULL ? entry->local_name : entry->name;
  g_autoptr (GByteArray) packed = entry->method == 8 ? deflated (entry->data, size) : g_byte_array_new ();
  guint32 crc = crc32_of (entry->data, size);
  gboolean behind = (entry->flags & 8) != 0;
  guint offset = out->len;

  if (entry->method != 8)
    bytes (packed, entry->data, size);
  bytes (out, "PK\003\004", 4);
  number (out, 20, 2);
  number (out, TRUTH (entry->local_flags, entry->flags), 2);
  number (out, TRUTH (entry->local_method, entry->method), 2);
  number (out, 0x5a210000, 4);
  number (out, TRUTH (entry->local_crc, behind ? 0 : crc), 4);
  number (out, TRUTH (entry->local_size, behind ? 0 : packed->len), 4);
  number (out, TRUTH (entry->local_size, behind ? 0 : size), 4);
  number (out, strlen (local_name), 2);
  number (out, entry->extra_size, 2);
  bytes (out, local_name, strlen (local_name));
  bytes (out, entry->extra, entry->extra_size);
  bytes (out, packed->data, packed->len);
  if (behind)
    {
      bytes (out, "PK\007\010", 4);
      number (out, crc, 4);
      number (out, packed->len, 4);
      number (out, TRUTH (entry->behind_size, size), 4);
    }
  for (guint i = 0; i < entry->gap; i++)
    number (out, 0, 1);

  bytes (directory, "PK\001\002", 4);
  number (directory, 3 << 8 | 20, 2);
  number (directory, 20, 2);
  number (directory, entry->flags, 2);
  number (directory, entry->method, 2);
  number (directory, 0x5a210000, 4);
  number (directory, TRUTH (entry->central_crc, crc), 4);
  number (directory, TRUTH (entry->central_packed, packed->len), 4);
  number (directory, TRUTH (entry->central_size, size), 4);
  number (directory, strlen (entry->name), 2);
  number (directory, entry->extra_size, 2);
  number (directory, 0, 6);
  number (directory, (guint64) entry->mode << 16, 4);
  number (directory, TRUTH (entry->offset, offset), 4);
  bytes (directory, entry->name, strlen (entry->name));
  bytes (directory, entry->extra, entry->extra_size);
}

static void
put_wide_end (GByteArray *out, const MakerEnd *end, guint n, guint size, guint offset)
{
  guint at = out->len;

  bytes (out, "PK\006\006", 4);
  number (out, 44, 8);
  number (out, 45, 2);
  number (out, 45, 2);
  number (out, (guint64) end->disk, 4);
  number (out, 0, 4);
  number (out, end->n_entries > 0 ? (guint64) end->n_entries : n, 8);
  number (out, end->n_entries > 0 ? (guint64) end->n_entries : n, 8);
  number (out, end->size > 0 ? (guint64) end->size : size, 8);
  number (out, end->offset > 0 ? (guint64) end->offset : offset, 8);
  bytes (out, "PK\006\007", 4);
  number (out, 0, 4);
  number (out, at, 8);
  number (out, 1, 4);
}

GBytes *
maker_zip (const MakerEntry *entries, guint n, const MakerEnd *end)
{
  static const MakerEnd plain = { 0 };
  GByteArray *out = g_byte_array_new ();
  g_autoptr (GByteArray) directory = g_byte_array_new ();
  guint offset;

  end = end != NULL ? end : &plain;
  bytes (out, end->before, end->before != NULL ? strlen (end->before) : 0);
  for (guint i = 0; i < n; i++)
    put_entry (out, directory, &entries[i]);
  offset = out->len;
  bytes (out, directory->data, directory->len);
  if (end->wide)
    put_wide_end (out, end, n, directory->len, offset);
  bytes (out, "PK\005\006", 4);
  number (out, end->wide ? 0 : (guint64) end->disk, 2);
  number (out, 0, 2);
  /* A zip64 end replaces what is full here. */
  number (out, end->n_entries > 0 ? MIN (0xffff, (guint64) end->n_entries) : MIN (0xffff, n), 2);
  number (out, end->n_entries > 0 ? MIN (0xffff, (guint64) end->n_entries) : MIN (0xffff, n), 2);
  number (out, end->size > 0 ? MIN (G_MAXUINT32, (guint64) end->size) : directory->len, 4);
  number (out, end->offset > 0 ? MIN (G_MAXUINT32, (guint64) end->offset) : offset, 4);
  number (out, end->remark != NULL ? strlen (end->remark) : 0, 2);
  bytes (out, end->remark, end->remark != NULL ? strlen (end->remark) : 0);
  bytes (out, end->after, end->after != NULL ? strlen (end->after) : 0);
  return g_byte_array_free_to_bytes (out);
}
