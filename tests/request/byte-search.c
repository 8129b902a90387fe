/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For memmem(). */
#define _GNU_SOURCE
#include "byte-search.h"

#include "ws-archive.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <math.h>
#include <proj.h>
#include <string.h>
#include <vips/vips.h>

/* --- Pieces ------------------------------------------------------------------------------------------- */

static GBytes *
add_bytes (GPtrArray *pieces, gconstpointer data, gsize size)
{
  GBytes *bytes = g_bytes_new (data, size);

  g_ptr_array_add (pieces, bytes);
  return bytes;
}

gboolean
search_is_jpeg (GBytes *piece)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (piece, &size);

  return size > 3 && data[0] == 0xff && data[1] == 0xd8;
}

static void
add_pixels (GPtrArray *pieces, GBytes *picture)
{
  gsize size;
  const void *data = g_bytes_get_data (picture, &size);
  VipsImage *image = vips_image_new_from_buffer (data, size, "", NULL);
  void *pixels;
  size_t n;

  g_assert_nonnull (image);
  pixels = vips_image_write_to_memory (image, &n);
  g_assert_nonnull (pixels);
  g_ptr_array_add (pieces, g_bytes_new_with_free_func (pixels, n, g_free, pixels));
  g_object_unref (image);
}

static void
add_inline (GPtrArray *pieces, GBytes *page)
{
  gsize size;
  const char *data = g_bytes_get_data (page, &size);
  g_autofree char *text = g_strndup (data, size);

  for (char *at = text; (at = strstr (at, ";base64,")) != NULL;)
    {
      char *end = at + strcspn (at, "\"')");
      guchar *decoded;

      g_assert_cmpint (*end, !=, '\0');
      *end = '\0';
      decoded = g_base64_decode (at + strlen (";base64,"), &size);
      g_ptr_array_add (pieces, g_bytes_new_take (decoded, size));
      if (search_is_jpeg (g_ptr_array_index (pieces, pieces->len - 1)))
        add_pixels (pieces, g_ptr_array_index (pieces, pieces->len - 1));
      at = end + 1;
    }
}

/* A stream that draws is thousands of numbers, among which any short one is met by chance, and no letters: the words that it shows are
 * those that pdftotext reads. It is told by the operators for lines and curves (ISO 32000-1, 8.5.2). */
static gboolean
is_drawing (const GByteArray *stream)
{
  static const char *const operators[] = { " l ", " l\n", " c ", " c\n" };

  for (gsize i = 0; i < G_N_ELEMENTS (operators); i++)
    if (memmem (stream->data, stream->len, operators[i], 3) != NULL)
      return TRUE;
  return FALSE;
}

static void
add_words (GPtrArray *pieces, GBytes *pdf)
{
  g_autofree char *program = g_find_program_in_path ("pdftotext"), *path = NULL, *text = NULL;
  int fd = g_file_open_tmp ("ws-search-XXXXXX", &path, NULL);
  const char *argv[] = { program, "-raw", path, "-", NULL };

  g_assert_cmpint (fd, >=, 0);
  g_close (fd, NULL);
  g_assert_true (g_file_set_contents (path, g_bytes_get_data (pdf, NULL), (gssize) g_bytes_get_size (pdf), NULL));
  if (program == NULL)
    g_test_message ("pdftotext is not installed: the words of the plate are not searched");
  else
    {
      g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &text, NULL, NULL, NULL));
      g_assert_cmpuint (strlen (text), >, 100);
      add_bytes (pieces, text, strlen (text));
    }
  g_unlink (path);
}

/* What inflates of a PDF and does not draw: fonts, metadata, the compressed objects (ISO 32000-1, 7.3.8 and 7.4.4). */
static void
add_streams (GPtrArray *pieces, GBytes *pdf)
{
  gsize size;
  const char *data = g_bytes_get_data (pdf, &size), *end = data + size;

  for (const char *at = data; (at = memmem (at, (gsize) (end - at), "stream", 6)) != NULL;)
    {
      g_autoptr (GZlibDecompressor) inflate = g_zlib_decompressor_new (G_ZLIB_COMPRESSOR_FORMAT_ZLIB);
      g_autoptr (GInputStream) from = NULL, stream = NULL;
      g_autoptr (GByteArray) out = g_byte_array_new ();
      guint8 buffer[16384];
      gssize n;

      at += 6;
      while (at < end && (*at == '\r' || *at == '\n'))
        at++;
      from = g_memory_input_stream_new_from_data (at, end - at, NULL);
      stream = g_converter_input_stream_new (from, G_CONVERTER (inflate));
      while ((n = g_input_stream_read (stream, buffer, sizeof buffer, NULL, NULL)) > 0)
        g_byte_array_append (out, buffer, (guint) n);
      if (out->len > 0 && !is_drawing (out))
        add_bytes (pieces, out->data, out->len);
    }
}

static void
add_file (GPtrArray *pieces, const char *path, GByteArray *content)
{
  GBytes *bytes;

  add_bytes (pieces, path, strlen (path));
  bytes = add_bytes (pieces, content->data, content->len);
  if (g_str_has_suffix (path, ".html"))
    add_inline (pieces, bytes);
  else if (g_str_has_suffix (path, ".pdf"))
    {
      add_streams (pieces, bytes);
      add_words (pieces, bytes);
    }
  else if (search_is_jpeg (bytes))
    add_pixels (pieces, bytes);
}

GPtrArray *
search_pieces (const char *zip)
{
  GPtrArray *pieces = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);
  g_autoptr (GError) error = NULL;
  g_autoptr (WsArchive) archive = ws_archive_open (zip, NULL, &error);
  g_autofree char *text = NULL;
  const WsArchiveEntry *entry;
  gsize size;

  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (zip, &text, &size, NULL));
  add_bytes (pieces, text, size);
  add_bytes (pieces, zip, strlen (zip));
  while ((entry = ws_archive_next (archive, &error)) != NULL)
    {
      g_autoptr (GByteArray) content = g_byte_array_new ();
      gconstpointer data;

      while (ws_archive_read (archive, &data, &size, &error) && size > 0)
        g_byte_array_append (content, data, (guint) size);
      g_assert_no_error (error);
      add_file (pieces, entry->path, content);
    }
  g_assert_no_error (error);
  return pieces;
}

/* --- Words ---------------------------------------------------------------------------------------------- */

void
search_add_word (GPtrArray *words, const char *text)
{
  static const char *const encodings[] = { "UTF-16LE", "UTF-16BE" };

  add_bytes (words, text, strlen (text));
  for (gsize i = 0; i < G_N_ELEMENTS (encodings); i++)
    {
      gsize n;
      g_autofree char *wide = g_convert (text, -1, encodings[i], "UTF-8", NULL, &n, NULL);

      add_bytes (words, wide, n);
    }
}

/* With a point, and with the comma of many countries. */
static void
add_text (GPtrArray *words, const char *format, ...)
{
  g_autofree char *text = NULL, *comma = NULL;
  va_list args;

  va_start (args, format);
  text = g_strdup_vprintf (format, args);
  va_end (args);
  comma = g_strdelimit (g_strdup (text), ".", ',');
  search_add_word (words, text);
  if (!g_str_equal (text, comma))
    search_add_word (words, comma);
}

static void
add_both_orders (GPtrArray *words, const void *value, gsize size)
{
  guint8 swapped[64];

  g_assert_cmpuint (size, <=, sizeof swapped);
  for (gsize i = 0; i < size; i++)
    swapped[i] = ((const guint8 *) value)[size - 1 - i];
  add_bytes (words, value, size);
  add_bytes (words, swapped, size);
}

/* EXIF: degrees and minutes as rationals, each number in its own byte order. */
static void
add_rationals (GPtrArray *words, guint32 degrees, guint32 minutes)
{
  guint32 numbers[] = { degrees, 1, minutes, 1 };

  add_bytes (words, numbers, sizeof numbers);
  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    numbers[i] = GUINT32_SWAP_LE_BE (numbers[i]);
  add_bytes (words, numbers, sizeof numbers);
}

static void
add_degrees (GPtrArray *words, double degrees, double step)
{
  double d = floor (degrees), m = (degrees - d) * 60, s = (m - floor (m)) * 60;
  float single = (float) degrees;
  /* The first decimal that the grid does not tell. A short number such as 9.12 would be met by chance. */
  int decimals = step > 0 ? MAX ((int) round (-log10 (step)) + 1, 3) : 3;
  double scale = pow (10, decimals);

  add_text (words, "%.*f", decimals, floor (degrees * scale) / scale);
  add_text (words, "%.*f", decimals + 1, degrees);
  add_text (words, "%.0f", floor (degrees * 1e6));
  add_text (words, "%.6f", degrees * G_PI / 180);
  add_text (words, "%.0f,%.4f", d, floor (m * 1e4) / 1e4);
  add_text (words, "%.0f %.3f", d, floor (m * 1e3) / 1e3);
  add_text (words, "%.0f°%.3f", d, floor (m * 1e3) / 1e3);
  add_text (words, "%.0f° %.3f", d, floor (m * 1e3) / 1e3);
  for (int i = 0; i < 2; i++)
    {
      double seconds = floor (s) + i;

      add_text (words, "%.0f°%.0f'%.0f", d, floor (m), seconds);
      add_text (words, "%.0f°%02.0f′%02.0f", d, floor (m), seconds);
      add_text (words, "%.0f° %.0f′ %.0f", d, floor (m), seconds);
      add_text (words, "%.0f deg %.0f' %.0f", d, floor (m), seconds);
      add_text (words, "%02.0f%02.0f%02.0f.", d, floor (m), seconds);
    }
  add_both_orders (words, &degrees, sizeof degrees);
  add_both_orders (words, &single, sizeof single);
  add_rationals (words, (guint32) d, (guint32) m);
}

/* The seven letters of a geohash, a cell of about 150 m: bits of longitude and latitude in turn. */
static void
add_geohash (GPtrArray *words, double latitude, double longitude)
{
  static const char letters[] = "0123456789bcdefghjkmnpqrstuvwxyz";
  double low[] = { -180, -90 }, high[] = { 180, 90 }, at[] = { longitude, latitude };
  char text[8] = "";

  for (int bit = 0, value = 0; bit < 35; bit++)
    {
      int axis = bit % 2;
      double middle = (low[axis] + high[axis]) / 2;

      value = value * 2 + (at[axis] >= middle);
      if (at[axis] >= middle)
        low[axis] = middle;
      else
        high[axis] = middle;
      if (bit % 5 == 4)
        {
          text[bit / 5] = letters[value];
          value = 0;
        }
    }
  search_add_word (words, text);
}

static void
add_utm (GPtrArray *words, double latitude, double longitude)
{
  g_autofree char *utm = g_strdup_printf ("EPSG:%d", 32601 + (int) floor ((longitude + 180) / 6));
  PJ *pj = proj_create_crs_to_crs (NULL, "EPSG:4326", utm, NULL);
  PJ_COORD metres;

  g_assert_nonnull (pj);
  metres = proj_trans (pj, PJ_FWD, proj_coord (latitude, longitude, 0, 0));
  proj_destroy (pj);
  for (int i = 0; i < 2; i++)
    {
      add_text (words, "%.0f", floor (metres.xy.x) + i);
      add_text (words, "%.0f", floor (metres.xy.y) + i);
    }
}

GPtrArray *
search_notations (double latitude, double longitude, double step)
{
  GPtrArray *words = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);

  add_degrees (words, latitude, step);
  add_degrees (words, longitude, step);
  add_geohash (words, latitude, longitude);
  add_utm (words, latitude, longitude);
  return words;
}

/* --- The search ----------------------------------------------------------------------------------------- */

/* By their first two bytes, so that each piece is gone through once. */
static GPtrArray **
sort_words (GPtrArray *words)
{
  GPtrArray **by_start = g_new0 (GPtrArray *, 65536);

  for (guint i = 0; i < words->len; i++)
    {
      gsize n;
      const guint8 *word = g_bytes_get_data (g_ptr_array_index (words, i), &n);
      guint start;

      g_assert_cmpuint (n, >=, 2);
      start = word[0] * 256u + word[1];
      if (by_start[start] == NULL)
        by_start[start] = g_ptr_array_new ();
      g_ptr_array_add (by_start[start], g_ptr_array_index (words, i));
    }
  return by_start;
}

static const guint8 *
find_in (const guint8 *data, gsize size, GPtrArray *const *by_start, gsize *n)
{
  for (gsize at = 0; at + 2 <= size; at++)
    {
      const GPtrArray *candidates = by_start[data[at] * 256u + data[at + 1]];

      for (guint i = 0; candidates != NULL && i < candidates->len; i++)
        {
          const guint8 *word = g_bytes_get_data (candidates->pdata[i], n);

          if (*n <= size - at && memcmp (data + at, word, *n) == 0)
            return data + at;
        }
    }
  return NULL;
}

char *
search_find (GPtrArray *pieces, GPtrArray *words)
{
  GPtrArray **by_start = sort_words (words);
  char *found = NULL;

  for (guint i = 0; i < pieces->len && found == NULL; i++)
    {
      gsize size, n;
      const guint8 *data = g_bytes_get_data (g_ptr_array_index (pieces, i), &size), *at;

      at = find_in (data, size, by_start, &n);
      if (at != NULL)
        {
          const guint8 *from = at - MIN ((gsize) (at - data), 40);
          g_autofree char *word = g_strndup ((const char *) at, n);
          g_autofree char *around = g_strndup ((const char *) from, MIN ((gsize) (data + size - from), 120));

          found = g_strdup_printf ("“%s” is in piece %u at %zu: %s", word, i, (gsize) (at - data), around);
        }
    }
  for (guint i = 0; i < 65536; i++)
    g_clear_pointer (&by_start[i], g_ptr_array_unref);
  g_free (by_start);
  return found;
}
