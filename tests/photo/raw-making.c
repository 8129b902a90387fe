/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "raw-making.h"

#include <string.h>

/* TIFF 6.0: types, and an entry whose value is @count numbers or bytes at @data. */
enum { BYTE = 1, ASCII = 2, SHORT = 3, LONG = 4, RATIONAL = 5, SRATIONAL = 10 };

typedef struct
{
  guint16 tag, type;
  guint32 count;
  const void *data;          /* guint8, guint16 or guint32 in the order of this machine */
} Entry;

static void
put16 (GByteArray *out, guint value)
{
  guint8 bytes[] = { (guint8) value, (guint8) (value >> 8) };

  g_byte_array_append (out, bytes, 2);
}

static void
put32 (GByteArray *out, guint32 value)
{
  put16 (out, value & 0xffff);
  put16 (out, value >> 16);
}

static void
put_value (GByteArray *out, const Entry *entry)
{
  guint n = entry->type == RATIONAL || entry->type == SRATIONAL ? entry->count * 2 : entry->count;

  for (guint i = 0; i < n; i++)
    if (entry->type == BYTE || entry->type == ASCII)
      g_byte_array_append (out, (const guint8 *) entry->data + i, 1);
    else if (entry->type == SHORT)
      put16 (out, ((const guint16 *) entry->data)[i]);
    else
      put32 (out, ((const guint32 *) entry->data)[i]);
}

/* Long values first, then the directory; returns where it is. */
static guint32
put_directory (GByteArray *out, const Entry *entries, guint n)
{
  g_autoptr (GByteArray) table = g_byte_array_new ();
  guint32 at;

  put16 (table, n);
  for (guint i = 0; i < n; i++)
    {
      g_autoptr (GByteArray) value = g_byte_array_new ();

      put_value (value, &entries[i]);
      put16 (table, entries[i].tag);
      put16 (table, entries[i].type);
      put32 (table, entries[i].count);
      if (value->len > 4)
        {
          put32 (table, out->len);
          g_byte_array_append (out, value->data, value->len);
          if (out->len % 2 != 0)
            g_byte_array_append (out, (const guint8 *) "", 1);
        }
      else
        {
          g_byte_array_append (value, (const guint8 *) "\0\0\0\0", 4 - value->len);
          g_byte_array_append (table, value->data, 4);
        }
    }
  put32 (table, 0);
  at = out->len;
  g_byte_array_append (out, table->data, table->len);
  return at;
}

static guint32
put_bytes (GByteArray *out, const void *data, gsize size)
{
  guint32 at = out->len;

  g_byte_array_append (out, data, (guint) size);
  if (out->len % 2 != 0)
    g_byte_array_append (out, (const guint8 *) "", 1);
  return at;
}

#define ONE(value) &(guint32) { (value) }
#define ONE16(value) &(guint16) { (guint16) (value) }

/* The raw picture: grey in a filter of red, green, green, blue. */
static guint32
put_raw (GByteArray *out, guint width, guint height)
{
  g_autofree guint8 *samples = g_malloc (width * height * 2);
  guint32 at;

  memset (samples, 0x10, width * height * 2);
  at = put_bytes (out, samples, width * height * 2);
  return put_directory (out, (Entry[]) {
    { 0x00fe, LONG, 1, ONE (0) }, { 0x0100, LONG, 1, ONE (width) }, { 0x0101, LONG, 1, ONE (height) },
    { 0x0102, SHORT, 1, ONE16 (16) }, { 0x0103, SHORT, 1, ONE16 (1) }, { 0x0106, SHORT, 1, ONE16 (32803) },
    { 0x0111, LONG, 1, ONE (at) }, { 0x0115, SHORT, 1, ONE16 (1) }, { 0x0116, LONG, 1, ONE (height) },
    { 0x0117, LONG, 1, ONE (width * height * 2) }, { 0x828d, SHORT, 2, (guint16[]) { 2, 2 } },
    { 0x828e, BYTE, 4, (guint8[]) { 0, 1, 1, 2 } } }, 12);
}

static guint32
put_preview (GByteArray *out, const RawPlan *plan)
{
  gsize size;
  const void *data = g_bytes_get_data (plan->preview, &size);
  guint32 at = put_bytes (out, data, size);

  return put_directory (out, (Entry[]) {
    { 0x00fe, LONG, 1, ONE (1) }, { 0x0100, LONG, 1, ONE (plan->preview_width) },
    { 0x0101, LONG, 1, ONE (plan->preview_height) }, { 0x0102, SHORT, 3, (guint16[]) { 8, 8, 8 } },
    { 0x0103, SHORT, 1, ONE16 (7) }, { 0x0106, SHORT, 1, ONE16 (6) },
    { 0x0111, LONG, 1, ONE (plan->preview_offset != 0 ? plan->preview_offset : at) }, { 0x0115, SHORT, 1, ONE16 (3) },
    { 0x0116, LONG, 1, ONE (plan->preview_height) },
    { 0x0117, LONG, 1, ONE (plan->preview_length != 0 ? plan->preview_length : (guint32) size) } }, 10);
}

GBytes *
make_dng (const RawPlan *plan)
{
  guint width = plan->width != 0 ? plan->width : 160, height = plan->height != 0 ? plan->height : 120;
  GByteArray *out = g_byte_array_new ();
  guint8 grey[16 * 12 * 3];
  guint32 subs[2], exif, stamp, first, n_subs = plan->preview != NULL ? 2 : 1;
  static const guint32 matrix[] = { 1, 1, 0, 1, 0, 1, 0, 1, 1, 1, 0, 1, 0, 1, 0, 1, 1, 1 };
  static const guint32 neutral[] = { 1, 1, 1, 1, 1, 1 };

  put_bytes (out, "II*\0\0\0\0\0", 8);
  memset (grey, 128, sizeof grey);
  stamp = put_bytes (out, grey, sizeof grey);
  subs[0] = put_raw (out, width, height);
  subs[1] = plan->preview != NULL ? put_preview (out, plan) : 0;
  exif = put_directory (out, (Entry[]) { { 0x9003, ASCII, 20, "2025:10:04 14:03:22" },
                                         { 0x9011, ASCII, 7, "+02:00" } }, 2);
  first = put_directory (out, (Entry[]) {
    { 0x00fe, LONG, 1, ONE (1) }, { 0x0100, LONG, 1, ONE (plan->no_stamp ? 1 : 16) },
    { 0x0101, LONG, 1, ONE (plan->no_stamp ? 1 : 12) },
    { 0x0102, SHORT, 3, (guint16[]) { 8, 8, 8 } }, { 0x0103, SHORT, 1, ONE16 (1) },
    { 0x0106, SHORT, 1, ONE16 (2) }, { 0x010f, ASCII, 9, "Invented" }, { 0x0110, ASCII, 4, "Box" },
    { 0x0111, LONG, 1, ONE (stamp) }, { 0x0112, SHORT, 1, ONE16 (plan->orientation) }, { 0x0115, SHORT, 1, ONE16 (3) },
    { 0x0116, LONG, 1, ONE (plan->no_stamp ? 1 : 12) }, { 0x0117, LONG, 1, ONE (sizeof grey) },
    { 0x014a, LONG, n_subs, subs }, { 0x8769, LONG, 1, ONE (exif) },
    { 0xc612, BYTE, 4, (guint8[]) { 1, 4, 0, 0 } }, { 0xc614, ASCII, 13, "Invented Box" },
    { 0xc621, SRATIONAL, 9, matrix }, { 0xc628, RATIONAL, 3, neutral }, { 0xc65a, SHORT, 1, ONE16 (21) } }, 20);
  for (int i = 0; i < 4; i++)
    out->data[4 + i] = (guint8) (first >> (8 * i));
  return g_byte_array_free_to_bytes (out);
}

static void
put_be32 (GByteArray *out, guint32 value)
{
  guint8 bytes[] = { (guint8) (value >> 24), (guint8) (value >> 16), (guint8) (value >> 8), (guint8) value };

  g_byte_array_append (out, bytes, 4);
}

static void
put_box (GByteArray *out, const char *type, const void *body, gsize size)
{
  put_be32 (out, (guint32) size + 8);
  g_byte_array_append (out, (const guint8 *) type, 4);
  g_byte_array_append (out, body, (guint) size);
}

/* A TIFF block with one directory in a box. */
static void
put_block (GByteArray *out, const char *type, const Entry *entries, guint n)
{
  g_autoptr (GByteArray) block = g_byte_array_new ();
  guint32 at;

  put_bytes (block, "II*\0\0\0\0\0", 8);
  at = put_directory (block, entries, n);
  for (int i = 0; i < 4; i++)
    block->data[4 + i] = (guint8) (at >> (8 * i));
  put_box (out, type, block->data, block->len);
}

GBytes *
make_boxes (void)
{
  static const guint8 id[] = { 0x85, 0xc0, 0xb6, 0x87, 0x82, 0x0f, 0x11, 0xe0, 0x81, 0x11, 0xf4, 0xce, 0x46, 0x2b, 0x6a, 0x48 };
  g_autoptr (GByteArray) own = g_byte_array_new (), movie = g_byte_array_new ();
  GByteArray *out = g_byte_array_new ();

  put_bytes (own, id, sizeof id);
  put_block (own, "CMT1", (Entry[]) { { 0x010f, ASCII, 9, "Invented" }, { 0x0110, ASCII, 4, "Box" },
                                      { 0x0112, SHORT, 1, ONE16 (6) } }, 3);
  put_block (own, "CMT2", (Entry[]) { { 0x9003, ASCII, 20, "2025:10:04 14:03:22" }, { 0x9011, ASCII, 7, "+02:00" } }, 2);
  put_block (own, "CMT4", (Entry[]) {
    { 1, ASCII, 2, "N" }, { 2, RATIONAL, 3, (guint32[]) { 51, 1, 30, 1, 0, 1 } },
    { 3, ASCII, 2, "W" }, { 4, RATIONAL, 3, (guint32[]) { 30, 1, 15, 1, 0, 1 } } }, 4);
  put_box (movie, "uuid", own->data, own->len);
  put_box (out, "ftyp", "crx \0\0\0\1crx isom", 16);
  put_box (out, "moov", movie->data, movie->len);
  return g_byte_array_free_to_bytes (out);
}
