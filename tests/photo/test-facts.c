/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-photo-facts.h"

#include "ws-error.h"

#include <math.h>
#include <string.h>

/* A little-endian TIFF block: one IFD 0 with pointers to the other two. */
typedef struct
{
  guint ifd;             /* 0, 1 Exif, 2 GPS */
  guint16 tag, type;
  guint32 count;
  const char *value;     /* the bytes, or NULL: @offset is written as it is */
  guint32 offset;
} Entry;

#define ASCII(ifd, tag, text) { ifd, tag, 2, sizeof text, text, 0 }
#define LE16(n) (char[]) { (char) ((n) & 255), (char) ((n) >> 8), 0, 0 }

static void
put (GByteArray *out, guint32 value, guint bytes)
{
  for (guint i = 0; i < bytes; i++)
    {
      guint8 byte = (guint8) (value >> (8 * i));

      g_byte_array_append (out, &byte, 1);
    }
}

static guint
type_bytes (guint type)
{
  static const guint sizes[] = { 0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4 };

  return type < G_N_ELEMENTS (sizes) ? sizes[type] : 1;
}

static void
put_directory (GByteArray *block, const Entry *entries, guint n_entries, guint ifd, const guint32 *pointers)
{
  g_autoptr (GByteArray) values = g_byte_array_new ();
  guint n = pointers != NULL ? 2 : 0;
  guint32 after;

  for (guint i = 0; i < n_entries; i++)
    n += entries[i].ifd == ifd ? 1 : 0;
  after = block->len + 2 + n * 12 + 4;
  put (block, n, 2);
  for (guint i = 0; i < n_entries; i++)
    {
      const Entry *e = &entries[i];
      guint bytes = e->count * type_bytes (e->type);

      if (e->ifd != ifd)
        continue;
      put (block, e->tag, 2);
      put (block, e->type, 2);
      put (block, e->count, 4);
      if (e->value == NULL)
        put (block, e->offset, 4);
      else if (bytes <= 4)
        {
          g_byte_array_append (block, (const guint8 *) e->value, bytes);
          put (block, 0, 4 - bytes);
        }
      else
        {
          put (block, after + values->len, 4);
          g_byte_array_append (values, (const guint8 *) e->value, bytes);
        }
    }
  for (guint i = 0; pointers != NULL && i < 2; i++)
    {
      put (block, i == 0 ? 0x8769 : 0x8825, 2);
      put (block, 4, 2);
      put (block, 1, 4);
      put (block, pointers[i], 4);
    }
  put (block, 0, 4);
  g_byte_array_append (block, values->data, values->len);
}

static GByteArray *
make_block (const Entry *entries, guint n)
{
  GByteArray *block = g_byte_array_new ();
  guint32 pointers[2];

  g_byte_array_append (block, (const guint8 *) "II*\0\0\0\0\0", 8);
  pointers[0] = block->len;
  put_directory (block, entries, n, 1, NULL);
  pointers[1] = block->len;
  put_directory (block, entries, n, 2, NULL);
  for (guint i = 0; i < 4; i++)
    block->data[4 + i] = (guint8) (block->len >> (8 * i));
  put_directory (block, entries, n, 0, pointers);
  return block;
}

/* SOI, APP1, a frame header of 40 x 30, start of scan. */
static void
put_app1 (GByteArray *file, const GByteArray *block)
{
  guint length = block->len + 8;
  const guint8 head[] = { 0xff, 0xe1, (guint8) (length >> 8), (guint8) length, 'E', 'x', 'i', 'f', 0, 0 };

  g_byte_array_append (file, head, sizeof head);
  g_byte_array_append (file, block->data, block->len);
}

static GBytes *
finish_jpeg (GByteArray *file)
{
  static const guint8 tail[] = { 0xff, 0xc0, 0, 11, 8, 0, 30, 0, 40, 1, 1, 0x11, 0, 0xff, 0xda, 0, 2, 0xff, 0xd9 };

  g_byte_array_append (file, tail, sizeof tail);
  return g_byte_array_free_to_bytes (file);
}

static GBytes *
make_jpeg (const Entry *entries, guint n)
{
  GByteArray *file = g_byte_array_new ();
  g_autoptr (GByteArray) block = make_block (entries, n);

  g_byte_array_append (file, (const guint8 *) "\xff\xd8", 2);
  put_app1 (file, block);
  return finish_jpeg (file);
}

static WsPhotoFacts *
read_entries (const Entry *entries, guint n)
{
  g_autoptr (GBytes) jpeg = make_jpeg (entries, n);
  g_autoptr (GError) error = NULL;
  WsPhotoFacts *facts = ws_photo_facts_read (jpeg, "made.jpg", &error);

  g_assert_no_error (error);
  return facts;
}

/* What came of it in one line: time, offset and its source, position, number of warnings. */
static char *
told (const WsPhotoFacts *facts)
{
  g_autofree char *time = ws_moment_local_text (&facts->taken);
  g_autofree char *offset = ws_offset_to_text (facts->taken.offset_minutes);
  const char *const sources[] = { "-", "exif", "gps" };
  g_autofree char *place = ws_position_is_known (&facts->position) ? ws_position_to_text (&facts->position, 4)
                                                                    : g_strdup ("-");

  return g_strdup_printf ("%s %s %s %s | %s | %u", time != NULL ? time : "-",
                          facts->taken.offset_source != WS_OFFSET_UNKNOWN ? offset : "-",
                          sources[facts->taken.offset_source], facts->gps_utc != NULL ? facts->gps_utc : "-",
                          place, facts->warnings->len);
}

#define R(a, b) (char) ((a) & 255), (char) (((a) >> 8) & 255), (char) (((a) >> 16) & 255), 0, (char) (b), 0, 0, 0
static const char noon_utc[] = { R (12, 1), R (3, 1), R (20, 1) };
static const char lat_51_30[] = { R (51, 1), R (30, 1), R (0, 1) };
static const char lon_7_15[] = { R (7, 1), R (15, 1), R (0, 1) };
static const char broken[] = { R (51, 1), R (30, 1), R (0, 0) };
static const char beyond[] = { R (91, 1), R (0, 1), R (0, 1) };
static const char hour_25[] = { R (25, 1), R (0, 1), R (0, 1) };

#define TAKEN ASCII (1, 0x9003, "2025:10:04 14:03:22")
#define STAMP { 2, 7, 5, 3, noon_utc, 0 }
#define DATED ASCII (2, 0x1d, "2025:10:04")
#define LAT { 2, 2, 5, 3, lat_51_30, 0 }
#define LON { 2, 4, 5, 3, lon_7_15, 0 }
#define NORTH ASCII (2, 1, "N")
#define WEST ASCII (2, 3, "W")

typedef struct
{
  const char *what;
  Entry entries[8];
  const char *told;
} Case;

/* Rules: standards.md 4.3 (design), Exif 2.32 tables of tags. */
static const Case cases[] = {
  { "nothing", { { 0 } }, "- - - - | - | 0" },
  { "time alone", { TAKEN }, "2025-10-04T14:03:22 - - - | - | 0" },
  { "decimals as given", { TAKEN, ASCII (1, 0x9291, "05") }, "2025-10-04T14:03:22.05 - - - | - | 0" },
  { "decimals, blanks after", { TAKEN, ASCII (1, 0x9291, "5   ") }, "2025-10-04T14:03:22.5 - - - | - | 0" },
  { "decimals not digits", { TAKEN, ASCII (1, 0x9291, "x5") }, "2025-10-04T14:03:22 - - - | - | 1" },
  { "offset told", { TAKEN, ASCII (1, 0x9011, "+02:00") }, "2025-10-04T14:03:22 +02:00 exif - | - | 0" },
  { "offset blank", { TAKEN, ASCII (1, 0x9011, "   :  ") }, "2025-10-04T14:03:22 - - - | - | 0" },
  { "offset impossible", { TAKEN, ASCII (1, 0x9011, "+15:00") }, "2025-10-04T14:03:22 - - - | - | 1" },
  { "offset of another time", { TAKEN, ASCII (1, 0x9010, "+02:00") }, "2025-10-04T14:03:22 - - - | - | 0" },
  { "offset from the stamps", { TAKEN, STAMP, DATED },
    "2025-10-04T14:03:22 +02:00 gps 2025-10-04T12:03:20Z | - | 0" },
  { "offset told wins", { TAKEN, ASCII (1, 0x9011, "+01:00"), STAMP, DATED },
    "2025-10-04T14:03:22 +01:00 exif 2025-10-04T12:03:20Z | - | 0" },
  { "no date stamp: one day fits", { TAKEN, STAMP }, "2025-10-04T14:03:22 +02:00 gps - | - | 0" },
  { "no date stamp: two days fit", { ASCII (1, 0x9003, "2025:10:04 01:03:22"), STAMP },
    "2025-10-04T01:03:22 - - - | - | 0" },
  { "stamp of an older fix", { ASCII (1, 0x9003, "2025:10:04 14:09:22"), STAMP, DATED },
    "2025-10-04T14:09:22 - - 2025-10-04T12:03:20Z | - | 0" },
  { "day turns between", { ASCII (1, 0x9003, "2025:10:05 01:03:19"), STAMP, DATED },
    "2025-10-05T01:03:19 +13:00 gps 2025-10-04T12:03:20Z | - | 0" },
  { "offset out of range", { ASCII (1, 0x9003, "2025:10:05 03:03:19"), STAMP, DATED },
    "2025-10-05T03:03:19 - - 2025-10-04T12:03:20Z | - | 0" },
  { "date stamp impossible", { TAKEN, STAMP, ASCII (2, 0x1d, "2025:13:04") },
    "2025-10-04T14:03:22 - - - | - | 1" },
  { "hour 25", { TAKEN, { 2, 7, 5, 3, hour_25, 0 }, DATED }, "2025-10-04T14:03:22 - - - | - | 1" },
  { "impossible date", { ASCII (1, 0x9003, "2025:02:30 14:03:22") }, "- - - - | - | 1" },
  { "empty date", { ASCII (1, 0x9003, "    :  :     :  :  ") }, "- - - - | - | 1" },
  { "zeros", { ASCII (1, 0x9003, "0000:00:00 00:00:00") }, "- - - - | - | 1" },
  { "no time, so no offset", { ASCII (1, 0x9011, "+02:00") }, "- - - - | - | 0" },
  { "date without its NUL", { { 1, 0x9003, 2, 19, "2025:10:04 14:03:22", 0 } }, "2025-10-04T14:03:22 - - - | - | 0" },
  { "date in IFD 0 (TIFF/EP)", { ASCII (0, 0x9003, "2025:10:04 14:03:22") }, "2025-10-04T14:03:22 - - - | - | 0" },
  { "date of the last change only", { ASCII (0, 0x0132, "2025:10:04 14:03:22") }, "- - - - | - | 0" },
  { "place", { NORTH, LAT, WEST, LON }, "- - - - | 51.5000, -7.2500 | 0" },
  { "place void", { NORTH, LAT, WEST, LON, ASCII (2, 9, "V") }, "- - - - | - | 1" },
  { "place active", { NORTH, LAT, WEST, LON, ASCII (2, 9, "A") }, "- - - - | 51.5000, -7.2500 | 0" },
  { "place without a reference", { LAT, WEST, LON }, "- - - - | - | 1" },
  { "reference blank", { ASCII (2, 1, " "), LAT, WEST, LON }, "- - - - | - | 1" },
  { "references swapped", { ASCII (2, 1, "W"), LAT, ASCII (2, 3, "N"), LON }, "- - - - | - | 1" },
  { "half a place", { NORTH, LAT }, "- - - - | - | 1" },
  { "0/0 in a place", { NORTH, { 2, 2, 5, 3, broken, 0 }, WEST, LON }, "- - - - | - | 1" },
  { "latitude 91", { NORTH, { 2, 2, 5, 3, beyond, 0 }, WEST, LON }, "- - - - | - | 1" },
  { "place beyond the end", { NORTH, { 2, 2, 5, 3, NULL, 60000 }, WEST, LON }, "- - - - | - | 2" },
  { "huge count", { { 1, 0x9003, 2, 0xffffffff, NULL, 8 } }, "- - - - | - | 1" },
  { "count 0", { { 1, 0x9003, 2, 0, NULL, 8 } }, "- - - - | - | 0" },
  { "unknown type", { { 1, 0x9003, 77, 20, NULL, 8 } }, "- - - - | - | 1" },
};

static void
test_rules (void)
{
  g_test_summary ("Time, zone and place by standards.md 4.3; what cannot be trusted is unknown and warned of");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      guint n = 0;
      g_autoptr (WsPhotoFacts) facts = NULL;
      g_autofree char *line = NULL;

      while (n < 8 && cases[i].entries[n].tag != 0)
        n++;
      facts = read_entries (cases[i].entries, n);
      line = told (facts);
      g_test_message ("%s", cases[i].what);
      g_assert_cmpstr (line, ==, cases[i].told);
    }
}

/* The number types that a value may come in, whatever the standard wants. */
static void
test_types (void)
{
  static const char minus[] = { (char) 0xfe, (char) 0xff, (char) 0xff, (char) 0xff, 1, 0, 0, 0 };
  const Entry entries[] = {
    { 0, 0x0112, 4, 1, LE16 (6), 0 },                        /* LONG, not SHORT */
    { 0, 0x010f, 129, 6, "M\xc3\xa4ke", 0 },                 /* UTF-8 (Exif 3.0) */
    { 0, 0x0110, 2, 5, "M\xe4ke", 0 },                       /* Latin-1 */
    { 1, 0x8827, 4, 1, LE16 (3200), 0 },                     /* LONG */
    { 1, 0x829a, 10, 1, minus, 0 },                          /* SRATIONAL below zero */
    { 1, 0x829d, 11, 1, "\x00\x00\x20\x40", 0 },             /* FLOAT 2.5 */
    { 1, 0x920a, 12, 1, "\0\0\0\0\0\0\x39\x40", 0 },         /* DOUBLE 25 */
    { 1, 0xa405, 2, 3, "50", 0 },                            /* ASCII */
  };
  g_autoptr (WsPhotoFacts) facts = read_entries (entries, G_N_ELEMENTS (entries));

  g_test_summary ("Numbers are read in any type; texts come out as UTF-8");
  g_assert_cmpint (facts->orientation, ==, 6);
  g_assert_cmpint (facts->width, ==, 30);
  g_assert_cmpint (facts->height, ==, 40);
  g_assert_true (facts->turn);
  g_assert_cmpstr (facts->make, ==, "Mäke");
  g_assert_cmpstr (facts->model, ==, "Mäke");
  g_assert_cmpfloat (facts->iso, ==, 3200);
  g_assert_true (isnan (facts->exposure_time));
  g_assert_cmpfloat (facts->f_number, ==, 2.5);
  g_assert_cmpfloat (facts->focal_length, ==, 25);
  g_assert_cmpfloat (facts->focal_length_35, ==, 50);
  g_assert_cmpuint (facts->warnings->len, ==, 1);
}

/* The directory points to itself as Exif and GPS directory; read once each, no loop. */
static void
test_loop (void)
{
  g_autoptr (GByteArray) block = g_byte_array_new ();
  GByteArray *file = g_byte_array_new ();
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (WsPhotoFacts) facts = NULL;
  const guint32 pointers[] = { 8, 8 };

  g_test_summary ("A directory that points to itself ends");
  g_byte_array_append (block, (const guint8 *) "II*\0\x08\0\0\0", 8);
  put_directory (block, NULL, 0, 0, pointers);
  g_byte_array_append (file, (const guint8 *) "\xff\xd8", 2);
  put_app1 (file, block);
  bytes = finish_jpeg (file);
  facts = ws_photo_facts_read (bytes, "loop.jpg", NULL);
  g_assert_cmpint (facts->width, ==, 40);
}

/* XMP first, EXIF second: the standard wants EXIF first, writers do not all heed it. */
static void
test_second_app1 (void)
{
  const Entry entries[] = { TAKEN };
  g_autoptr (GByteArray) block = make_block (entries, 1);
  GByteArray *file = g_byte_array_new ();
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (WsPhotoFacts) facts = NULL;
  g_autofree char *line = NULL;
  static const char xmp[] = "\xff\xd8\xff\xe1\0\x24http://ns.adobe.com/xap/1.0/\0 <x/>";

  g_test_summary ("EXIF is found behind another APP1 segment");
  g_byte_array_append (file, (const guint8 *) xmp, 4 + 0x24);
  put_app1 (file, block);
  bytes = finish_jpeg (file);
  facts = ws_photo_facts_read (bytes, "xmp.jpg", NULL);
  line = told (facts);
  g_assert_cmpstr (line, ==, "2025-10-04T14:03:22 - - - | - | 0");
}

/* Every cut and many flipped bytes of a file with everything in it, under the sanitizers. */
static void
test_cut_and_flipped (void)
{
  const Entry entries[] = { TAKEN, NORTH, LAT, WEST, LON, STAMP, DATED };
  g_autoptr (GBytes) whole = make_jpeg (entries, G_N_ELEMENTS (entries));
  gsize size;
  const guint8 *data = g_bytes_get_data (whole, &size);
  g_autoptr (GRand) random = g_rand_new_with_seed (7);

  g_test_summary ("Cut and flipped files end with facts or an error");
  for (gsize cut = 0; cut < size; cut++)
    {
      g_autoptr (GBytes) part = g_bytes_new (data, cut);
      g_autoptr (GError) error = NULL;
      g_autoptr (WsPhotoFacts) facts = ws_photo_facts_read (part, "cut.jpg", &error);

      g_assert_true ((facts == NULL) == (error != NULL));
    }
  for (int i = 0; i < 20000; i++)
    {
      g_autofree guint8 *copy = g_memdup2 (data, size);
      g_autoptr (GBytes) part = NULL;
      g_autoptr (WsPhotoFacts) facts = NULL;

      for (int k = 0; k < 3; k++)
        copy[g_rand_int_range (random, 2, (int) size)] = (guint8) g_rand_int (random);
      part = g_bytes_new_take (g_steal_pointer (&copy), size);
      facts = ws_photo_facts_read (part, "flipped.jpg", NULL);
    }
}

static void
test_not_pictures (void)
{
  static const struct { const char *bytes; gsize size; } files[] = {
    { "", 0 }, { "GIF89a          ", 16 }, { "\xff\xd8\xff", 3 }, { "\xff\xd8\xff\xe0\0\x10JFIF    ", 14 },
    { "\x89PNG\r\n\x1a\n    IHDR", 16 }, { "RIFF    WEBPVP8 ", 16 }, { "II*\0\x08\0\0\0\0\0\0\0", 12 },
    { "\0\0\0\x0c""ftypheic", 12 }, { "<svg xmlns='http://www.w3.org/2000/svg'/>", 40 },
  };

  g_test_summary ("What is not a picture of ours is an error that names the file");
  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autoptr (GBytes) bytes = g_bytes_new (files[i].bytes, files[i].size);
      g_autoptr (GError) error = NULL;
      WsPhotoFacts *facts = ws_photo_facts_read (bytes, "letter.pdf", &error);

      g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
      g_assert_null (facts);
      g_assert_nonnull (strstr (error->message, "letter.pdf"));
    }
}

static void
test_screenshot (void)
{
  g_test_summary ("A screen's size without a camera is a likely screenshot, with one it is not");
  for (int with_camera = 0; with_camera < 2; with_camera++)
    {
      const Entry camera[] = { ASCII (0, 0x010f, "Maker") };
      g_autoptr (GBytes) made = make_jpeg (camera, (guint) with_camera);
      gsize size;
      g_autofree guint8 *data = g_memdup2 (g_bytes_get_data (made, NULL), g_bytes_get_size (made));
      g_autoptr (GBytes) sized = NULL;
      g_autoptr (WsPhotoFacts) facts = NULL;

      size = g_bytes_get_size (made);
      memcpy (data + size - 14, "\x09\x60\x04\x38", 4);   /* 1080 x 2400 */
      sized = g_bytes_new_take (g_steal_pointer (&data), size);
      facts = ws_photo_facts_read (sized, "screen.jpg", NULL);
      g_assert_cmpint (facts->width, ==, 1080);
      g_assert_cmpint (facts->height, ==, 2400);
      g_assert_cmpint (facts->likely_screenshot, ==, with_camera == 0);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/facts/rules", test_rules);
  g_test_add_func ("/photo/facts/types", test_types);
  g_test_add_func ("/photo/facts/loop", test_loop);
  g_test_add_func ("/photo/facts/second-app1", test_second_app1);
  g_test_add_func ("/photo/facts/cut-and-flipped", test_cut_and_flipped);
  g_test_add_func ("/photo/facts/not-pictures", test_not_pictures);
  g_test_add_func ("/photo/facts/screenshot", test_screenshot);
  return g_test_run ();
}
