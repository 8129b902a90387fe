/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a hostile file may not ask for, and that the refusal names the limit. */
#include "ws-picture-private.h"

#include "photo-making.h"
#include "ws-error.h"

#include <string.h>

/* The limits as a person reads them: in the message stand the file, the limit and what to do. */
static void
assert_refused (GBytes *bytes, const char *limit, const char *advice)
{
  g_autoptr (GError) error = NULL;
  gint64 start = g_get_monotonic_time ();

  g_assert_null (ws_picture_decode (bytes, "hostile", 0, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_TOO_LARGE);
  g_test_message ("%s", error->message);
  g_assert_nonnull (strstr (error->message, "hostile"));
  g_assert_nonnull (strstr (error->message, limit));
  g_assert_nonnull (strstr (error->message, advice));
  /* From headers: decoding would take many times this. */
  g_assert_cmpint (g_get_monotonic_time () - start, <, 2 * G_USEC_PER_SEC);
}

static void
put32 (GByteArray *out, guint32 value)
{
  guint8 bytes[] = { (guint8) (value >> 24), (guint8) (value >> 16), (guint8) (value >> 8), (guint8) value };

  g_byte_array_append (out, bytes, 4);
}

/* PNG 3rd edition, annex D. */
static guint32
crc_of (const guint8 *data, guint size)
{
  guint32 crc = 0xffffffff;

  for (guint i = 0; i < size; i++)
    {
      crc ^= data[i];
      for (int bit = 0; bit < 8; bit++)
        crc = (crc & 1) != 0 ? 0xedb88320 ^ crc >> 1 : crc >> 1;
    }
  return ~crc;
}

static void
put_chunk (GByteArray *out, const char *type, const guint8 *body, guint size)
{
  guint start;

  put32 (out, size);
  start = out->len;
  g_byte_array_append (out, (const guint8 *) type, 4);
  g_byte_array_append (out, body, size);
  put32 (out, crc_of (out->data + start, out->len - start));
}

/* A PNG that promises much and holds nothing. */
static GBytes *
make_png (guint32 width, guint32 height, guint8 depth, guint8 colour, guint8 interlace)
{
  static const guint8 nothing[] = { 0x78, 0x9c, 0x03, 0, 0, 0, 0, 1 };
  g_autoptr (GByteArray) head = g_byte_array_new ();
  GByteArray *out = g_byte_array_new ();
  guint8 rest[] = { depth, colour, 0, 0, interlace };

  g_byte_array_append (out, (const guint8 *) "\x89PNG\r\n\x1a\n", 8);
  put32 (head, width);
  put32 (head, height);
  g_byte_array_append (head, rest, sizeof rest);
  put_chunk (out, "IHDR", head->data, head->len);
  put_chunk (out, "IDAT", nothing, sizeof nothing);
  put_chunk (out, "IEND", NULL, 0);
  return g_byte_array_free_to_bytes (out);
}

static void
test_pixels (void)
{
  g_autoptr (GBytes) wide = make_png (G_MAXINT32, G_MAXINT32, 8, 2, 0), over = make_png (20000, 10001, 8, 2, 0);

  g_test_summary ("Too many pixels are refused from the header, with the limit in the message");
  assert_refused (wide, "200 million", "shrink");
  assert_refused (over, "200 million", "shrink");
}

static void
test_memory (void)
{
  /* 14000 × 13500 of 16 bits and four bands that must be held whole: 1.5 GB, and 0.6 GB for the result. */
  g_autoptr (GBytes) held = make_png (14000, 13500, 16, 6, 1), by_rows = make_png (14000, 13500, 16, 6, 0);
  g_autoptr (GError) error = NULL;

  let_libvips_warn ();
  g_test_summary ("Memory is reckoned before decoding; the same picture stored by rows needs less");
  assert_refused (held, "2000 MB", "JPEG");
  /* Decoded small, the rows of this one are allowed, and then it is found out to be empty. */
  g_assert_null (ws_picture_decode (by_rows, "rows", 64, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
}

/* The last scan of a progressive JPEG @times over. */
static GBytes *
repeat_scan (const char *path, guint times)
{
  g_autofree char *data = NULL;
  gsize size, at, end;
  GByteArray *out = g_byte_array_new ();

  g_assert_true (g_file_get_contents (path, &data, &size, NULL));
  end = size - 2;
  for (at = end - 2; at > 0 && !((guint8) data[at] == 0xff && (guint8) data[at + 1] == 0xda); at--)
    continue;
  g_assert_cmpuint (at, >, 0);
  g_byte_array_append (out, (const guint8 *) data, (guint) at);
  for (guint i = 0; i < times; i++)
    g_byte_array_append (out, (const guint8 *) data + at, (guint) (end - at));
  g_byte_array_append (out, (const guint8 *) data + end, 2);
  return g_byte_array_free_to_bytes (out);
}

static void
test_scans (void)
{
  g_autofree char *noise = NULL, *path = NULL, *target = NULL;
  g_autoptr (GBytes) once = NULL, often = NULL;
  g_autoptr (WsPicture) picture = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("A JPEG of hundreds of layers, each a walk over the whole picture, is refused; ten are not");
  let_libvips_warn ();
  if (!have_tool ("vips"))
    return;
  noise = made_path ("noise.png");
  path = made_path ("layers.jpg");
  target = g_strconcat (path, "[interlace]", NULL);
  g_free (run_tool ("vips", "gaussnoise", noise, "200", "150", "--mean", "128", NULL));
  g_free (run_tool ("vips", "copy", noise, target, NULL));
  once = repeat_scan (path, 1);
  often = repeat_scan (path, 400);
  picture = ws_picture_decode (once, "once", 0, NULL, &error);
  g_assert_no_error (error);
  assert_refused (often, "100", "ordinary JPEG");
}

/* What looks like a scan inside a comment is none. */
static void
test_no_scans (void)
{
  static const guint8 comment[] = { 0xff, 0xfe, 0, 8, 0xff, 0xda, 0xff, 0xda, 0xff, 0xda };
  g_autofree char *noise = NULL, *path = NULL, *data = NULL;
  g_autoptr (GByteArray) out = g_byte_array_new ();
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (WsPicture) picture = NULL;
  g_autoptr (GError) error = NULL;
  gsize size;

  g_test_summary ("Bytes in a comment that look like layers are not counted");
  let_libvips_warn ();
  if (!have_tool ("vips"))
    return;
  noise = made_path ("plain.png");
  path = made_path ("plain.jpg");
  g_free (run_tool ("vips", "gaussnoise", noise, "200", "150", "--mean", "128", NULL));
  g_free (run_tool ("vips", "copy", noise, path, NULL));
  g_assert_true (g_file_get_contents (path, &data, &size, NULL));
  g_byte_array_append (out, (const guint8 *) data, 2);
  for (int i = 0; i < 60; i++)
    g_byte_array_append (out, comment, sizeof comment);
  g_byte_array_append (out, (const guint8 *) data + 2, (guint) size - 2);
  bytes = g_byte_array_free_to_bytes (g_steal_pointer (&out));
  picture = ws_picture_decode (bytes, "comments", 0, NULL, &error);
  g_assert_no_error (error);
}

static void
test_time (void)
{
  g_autofree char *path = NULL, *data = NULL;
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (WsPicture) picture = NULL;
  g_autoptr (GError) error = NULL;
  gsize size;

  let_libvips_warn ();
  g_test_summary ("A picture that takes too long is given up, with the limit in the message");
  if (!have_tool ("vips"))
    return;
  path = made_path ("slow.png");
  g_free (run_tool ("vips", "gaussnoise", path, "5000", "4000", "--mean", "128", NULL));
  g_assert_true (g_file_get_contents (path, &data, &size, NULL));
  bytes = g_bytes_new_take (g_steal_pointer (&data), size);
  g_assert_null (ws_picture_decode_within (bytes, "slow.png", 0, 0, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_TOO_LARGE);
  g_test_message ("%s", error->message);
  g_assert_nonnull (strstr (error->message, "slow.png"));
  g_assert_nonnull (strstr (error->message, "limit of 0 seconds"));
  g_clear_error (&error);
  picture = ws_picture_decode_within (bytes, "slow.png", 400, 60, NULL, &error);
  g_assert_no_error (error);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  g_test_init (&argc, &argv, NULL);
  ws_picture_init (argv[0], &error);
  g_assert_no_error (error);
  g_test_add_func ("/photo/picture-limits/pixels", test_pixels);
  g_test_add_func ("/photo/picture-limits/memory", test_memory);
  g_test_add_func ("/photo/picture-limits/scans", test_scans);
  g_test_add_func ("/photo/picture-limits/no-scans", test_no_scans);
  g_test_add_func ("/photo/picture-limits/time", test_time);
  return g_test_run ();
}
