/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copies that leave. The promise is that nothing goes along that was not asked for; the tests
 * fill photos with secrets and look for them with exiftool and byte by byte. */
#include "ws-photo-copy.h"

#include "photo-making.h"
#include "ws-error.h"
#include "ws-picture.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

#define SECRET "Sssecret"

static const char secrets[] =
  "-IFD0:Artist=" SECRET "\n-IFD0:Copyright=" SECRET "\n-IFD0:Software=" SECRET "\n-IFD0:HostComputer=" SECRET "\n"
  "-IFD0:ImageDescription=" SECRET "\n-IFD0:Make=" SECRET "\n-IFD0:Model=" SECRET "\n-IFD0:XPAuthor=" SECRET "\n"
  "-ExifIFD:UserComment=" SECRET "\n-ExifIFD:SerialNumber=" SECRET "\n-ExifIFD:LensSerialNumber=" SECRET "\n"
  "-ExifIFD:OwnerName=" SECRET "\n-ExifIFD:ImageUniqueID=" SECRET "\n-ExifIFD:DateTimeOriginal=2001:02:03 04:05:06\n"
  "-GPSLatitude=51.5\n-GPSLatitudeRef=N\n-GPSLongitude=7.25\n-GPSLongitudeRef=E\n-GPSProcessingMethod=" SECRET "\n"
  "-XMP-dc:Creator=" SECRET "\n-XMP-exif:GPSLatitude=51.5\n-IPTC:By-line=" SECRET "\n-Comment=" SECRET "\n";

/* A fine pattern, so that nothing about it compresses away; 160 x 120, made of @seed. */
static char *
pattern_ppm (const char *name, guint32 seed)
{
  char *path = made_path (name);
  GString *ppm = g_string_new ("P6\n160 120\n255\n");
  g_autoptr (GRand) random = g_rand_new_with_seed (seed);

  for (int i = 0; i < 160 * 120 * 3; i++)
    g_string_append_c (ppm, (char) (64 + g_rand_int_range (random, 0, 128)));
  g_file_set_contents (path, ppm->str, (gssize) ppm->len, NULL);
  g_string_free (ppm, TRUE);
  return path;
}

/* A JPEG with every kind of private metadata: EXIF, GPS, XMP, IPTC, comment, thumbnail, maker
 * note, a second image behind the first (as MPF has it) and text after that. */
static char *
secret_jpeg (const char *name, const char *more)
{
  g_autofree char *ppm = pattern_ppm ("pattern.ppm", 1), *arguments = made_path ("arguments.txt");
  g_autofree char *thumbnail = made_path ("thumbnail.jpg"), *embed = g_strconcat ("-ThumbnailImage<=", thumbnail, NULL);
  g_autofree char *text = g_strconcat (secrets, more, NULL), *data = NULL, *second = NULL;
  char *path = made_path (name);
  gsize size, second_size;
  GString *file;

  g_free (run_tool ("vips", "copy", ppm, path, NULL));
  g_free (run_tool ("vips", "thumbnail", ppm, thumbnail, "40", NULL));
  g_file_set_contents (arguments, text, -1, NULL);
  g_free (run_tool ("exiftool", "-q", "-m", "-n", "-overwrite_original", "-@", arguments, embed, path, NULL));
  g_file_get_contents (path, &data, &size, NULL);
  g_file_get_contents (thumbnail, &second, &second_size, NULL);
  file = g_string_new_len (data, (gssize) size);
  g_string_append_len (file, second, (gssize) second_size);
  g_string_append (file, SECRET);
  g_file_set_contents (path, file->str, (gssize) file->len, NULL);
  g_string_free (file, TRUE);
  return path;
}

static WsPhotoCopy *
make_copy (const char *path, const WsCopyOptions *options)
{
  g_autoptr (GError) error = NULL;
  WsPhotoCopy *copy = ws_photo_copy_make (path, options, NULL, &error);

  g_assert_no_error (error);
  return copy;
}

/* All tags of the copy that are not about the file as such or the coding of the picture, as
 * exiftool shows them with everything it knows switched on: "IFD0:Make=… …", sorted. */
static char *
tags_of (const WsPhotoCopy *copy)
{
  g_autofree char *path = made_path ("copy-tags.jpg"), *text = NULL;
  g_autoptr (JsonNode) root = NULL;
  g_autoptr (GPtrArray) tags = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GList) names = NULL;
  JsonObject *object;

  g_file_set_contents (path, g_bytes_get_data (copy->jpeg, NULL), (gssize) g_bytes_get_size (copy->jpeg), NULL);
  text = run_tool ("exiftool", "-json", "-G1", "-a", "-u", "-U", "-ee", "-n", path, NULL);
  root = json_from_string (text, NULL);
  object = json_array_get_object_element (json_node_get_array (root), 0);
  names = g_list_sort (json_object_get_members (object), (GCompareFunc) strcmp);
  for (GList *l = names; l != NULL; l = l->next)
    {
      const char *name = l->data;
      g_auto (GValue) value = G_VALUE_INIT, string = G_VALUE_INIT;

      if (strchr (name, ':') == NULL || g_str_has_prefix (name, "System:") || g_str_has_prefix (name, "File:") ||
          g_str_has_prefix (name, "ExifTool:ExifToolVersion") || g_str_has_prefix (name, "Composite:ImageSize") ||
          g_str_has_prefix (name, "Composite:Megapixels") || g_str_has_prefix (name, "JFIF:") ||
          g_str_has_prefix (name, "Adobe:"))
        continue;
      json_node_get_value (json_object_get_member (object, name), &value);
      g_value_init (&string, G_TYPE_STRING);
      g_value_transform (&value, &string);
      g_ptr_array_add (tags, g_strdup_printf ("%s=%s", name, g_value_get_string (&string)));
    }
  g_ptr_array_add (tags, NULL);
  return g_strjoinv (" ", (char **) tags->pdata);
}

static void
assert_no_secret (const WsPhotoCopy *copy)
{
  gsize size;
  const char *data = g_bytes_get_data (copy->jpeg, &size);

  g_assert_null (g_strstr_len (data, (gssize) size, SECRET));
  for (gsize i = 0; i + 4 < size; i++)
    g_assert_cmpint (memcmp (data + i, SECRET, 4), !=, 0);
  /* Nothing after the image, and only one of them. */
  g_assert_cmpint (memcmp (data + size - 2, "\xff\xd9", 2), ==, 0);
  for (gsize i = 2; i + 2 < size; i++)
    g_assert_cmpint (memcmp (data + i, "\xff\xd8\xff", 3), !=, 0);
}

static WsPicture *
decode_copy (const WsPhotoCopy *copy)
{
  g_autoptr (GError) error = NULL;
  WsPicture *picture = ws_picture_decode (copy->jpeg, "copy", 0, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpint (picture->width, ==, copy->width);
  g_assert_cmpint (picture->height, ==, copy->height);
  return picture;
}

static void
test_allow_list (void)
{
  static const struct { const char *more; int max_edge; gboolean kept; } files[] = {
    { "", 0, TRUE },
    { "-IFD0:Orientation=1\n", 0, TRUE },
    { "-IFD0:Orientation=6\n", 0, FALSE },
    { "", 100, FALSE },
  };

  g_test_summary ("Nothing private goes along, whether the data are kept or encoded (exiftool and every byte)");
  if (!have_tool ("exiftool") || !have_tool ("vips"))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autofree char *path = secret_jpeg ("secret.jpg", files[i].more);
      WsCopyOptions options = { .max_edge = files[i].max_edge };
      g_autoptr (WsPhotoCopy) copy = make_copy (path, &options);
      g_autofree char *tags = tags_of (copy);

      g_assert_cmpint (copy->scan_kept, ==, files[i].kept);
      g_assert_cmpstr (tags, ==, "");
      assert_no_secret (copy);
    }
}

/* The secrets are really there in what is copied; else the test above proves nothing. */
static void
test_secrets_are_there (void)
{
  g_autofree char *path = NULL, *text = NULL;
  static const char *const groups[] = { "IFD0", "ExifIFD", "GPS", "IFD1", "XMP-dc", "IPTC", "File" };

  g_test_summary ("The test's own photo holds what the copies must not hold");
  if (!have_tool ("exiftool") || !have_tool ("vips"))
    return;
  path = secret_jpeg ("secret.jpg", "");
  text = run_tool ("exiftool", "-G1", "-a", "-s", path, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (groups); i++)
    {
      g_autofree char *group = g_strdup_printf ("[%s]", groups[i]);

      g_assert_nonnull (strstr (text, group));
    }
  g_assert_nonnull (strstr (text, "ThumbnailImage"));
  g_assert_nonnull (strstr (text, "SerialNumber"));
}

static void
test_what_is_told (void)
{
  WsMoment taken = WS_MOMENT_INIT;
  WsCopyOptions options = { .taken = &taken, .make = "Invented", .model = "Invented One", .description = "Täubling, cap" };
  const char *whole = "ExifIFD:DateTimeOriginal=2025:10:04 14:03:22 ExifIFD:OffsetTimeOriginal=+02:00 "
                      "IFD0:ImageDescription=Täubling, cap IFD0:Make=Invented IFD0:Model=Invented One IFD0:Orientation=1";
  g_autofree char *path = NULL;

  g_test_summary ("What is asked for is written, by the corrected clock, and nothing else (exiftool)");
  if (!have_tool ("exiftool") || !have_tool ("vips"))
    return;
  ws_moment_set_local (&taken, "2025-10-04T13:03:22.75");
  taken.correction_seconds = 3600;
  taken.offset_source = WS_OFFSET_TOLD;
  taken.offset_minutes = 120;
  for (int shrunk = 0; shrunk < 2; shrunk++)
    {
      g_autoptr (WsPhotoCopy) copy = NULL;
      g_autofree char *tags = NULL;

      path = (g_free (path), secret_jpeg ("told.jpg", ""));
      options.max_edge = shrunk == 0 ? 0 : 90;
      copy = make_copy (path, &options);
      tags = tags_of (copy);
      g_assert_cmpint (copy->scan_kept, ==, shrunk == 0);
      /* exiftool derives these from the two above. */
      g_assert_true (g_str_has_prefix (tags, "Composite:SubSecDateTimeOriginal="));
      g_assert_true (g_str_has_suffix (tags, whole));
      g_assert_cmpuint (strlen (tags), <, strlen (whole) + 70);
      assert_no_secret (copy);
    }
}

static void
test_pixels_kept (void)
{
  static const char *const forms[] = { "[Q=90]", "[Q=75,interlace=true]", "[Q=95,subsample-mode=off]", "[Q=90,restart-interval=4]" };
  g_autofree char *ppm = NULL, *path = NULL;

  g_test_summary ("A copy that keeps its data has the same pixels, in every form of coding");
  if (!have_tool ("vips") || !have_tool ("djpeg"))
    return;
  ppm = pattern_ppm ("pattern.ppm", 1);
  for (guint i = 0; i < G_N_ELEMENTS (forms); i++)
    {
      g_autofree char *target = NULL, *out = made_path ("kept.jpg"), *a = NULL, *b = NULL;
      g_autofree char *first = made_path ("first.ppm"), *second = made_path ("second.ppm");
      WsCopyOptions options = { .make = "Invented" };
      g_autoptr (WsPhotoCopy) copy = NULL;
      gsize na, nb;

      path = (g_free (path), made_path ("form.jpg"));
      target = g_strconcat (path, forms[i], NULL);
      g_free (run_tool ("vips", "copy", ppm, target, NULL));
      copy = make_copy (path, &options);
      g_assert_true (copy->scan_kept);
      g_file_set_contents (out, g_bytes_get_data (copy->jpeg, NULL), (gssize) g_bytes_get_size (copy->jpeg), NULL);
      g_free (run_tool ("djpeg", "-outfile", first, path, NULL));
      g_free (run_tool ("djpeg", "-outfile", second, out, NULL));
      g_file_get_contents (first, &a, &na, NULL);
      g_file_get_contents (second, &b, &nb, NULL);
      g_assert_cmpmem (a, na, b, nb);
    }
}

/* A profile that is sRGB may go, one that is not must be applied. */
static void
test_profiles (void)
{
  static const struct { const char *profile; gboolean kept; } cases[] = { { "srgb", TRUE }, { "p3", FALSE } };
  g_autofree char *ppm = NULL;

  g_test_summary ("An sRGB profile is dropped and the data kept; another is applied");
  if (!have_tool ("vips"))
    return;
  ppm = pattern_ppm ("pattern.ppm", 1);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *name = g_strdup_printf ("profile-%s.jpg", cases[i].profile), *path = made_path (name);
      WsCopyOptions options = { 0 };
      g_autoptr (WsPhotoCopy) copy = NULL;
      g_autofree char *tags = NULL;

      g_free (run_tool ("vips", "icc_transform", ppm, path, cases[i].profile, "--input-profile", "srgb", NULL));
      copy = make_copy (path, &options);
      g_assert_cmpint (copy->scan_kept, ==, cases[i].kept);
      if (have_tool ("exiftool"))
        {
          tags = tags_of (copy);
          g_assert_cmpstr (tags, ==, "");
        }
    }
}

static GPtrArray *
cover_shapes (void)
{
  const WsPoint star[] = { { 0.7, 0.1 }, { 0.72, 0.4 }, { 0.95, 0.5 }, { 0.73, 0.55 }, { 0.701, 0.95 }, { 0.69, 0.5 },
                           { 0.6003, 0.301 } };
  GPtrArray *shapes = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_shape_free);

  g_ptr_array_add (shapes, ws_shape_new_box (&(WsRect) { 0.0501, 0.0502, 0.2003, 0.3004 }));
  g_ptr_array_add (shapes, ws_shape_new_oval (&(WsRect) { 0.1, 0.5, 0.303, 0.404 }));
  g_ptr_array_add (shapes, ws_shape_new_outline (star, G_N_ELEMENTS (star)));
  return shapes;
}

/* TRUE if any of a fine grid of points in the pixel lies in the shape: an oracle that shares no
 * code with the painting. */
static gboolean
touches (const WsShape *shape, int x, int y, int width, int height)
{
  for (int j = 0; j <= 8; j++)
    for (int i = 0; i <= 8; i++)
      if (ws_shape_contains (shape, (x + i / 8.0) / width, (y + j / 8.0) / height))
        return TRUE;
  return FALSE;
}

/* A PNG that holds @seed's noise in all pixels that a shape touches and the same picture
 * elsewhere. */
static char *
noise_under (GPtrArray *shapes, const char *name, guint32 seed)
{
  g_autofree char *first = pattern_ppm ("first.ppm", 1), *other = pattern_ppm ("other.ppm", seed), *a = NULL, *b = NULL;
  g_autofree char *ppm = made_path ("under.ppm");
  char *path = made_path (name);
  gsize size, head;

  g_file_get_contents (first, &a, &size, NULL);
  g_file_get_contents (other, &b, NULL, NULL);
  head = size - 160 * 120 * 3;
  for (int y = 0; y < 120; y++)
    for (int x = 0; x < 160; x++)
      for (guint s = 0; s < shapes->len; s++)
        if (touches (shapes->pdata[s], x, y, 160, 120))
          memcpy (a + head + (y * 160 + x) * 3, b + head + (y * 160 + x) * 3, 3);
  g_file_set_contents (ppm, a, (gssize) size, NULL);
  g_free (run_tool ("vips", "copy", ppm, path, NULL));
  return path;
}

/* The strongest form of "gone": two photos that differ in covered pixels only give the same
 * copy, byte for byte. */
static void
test_covered (void)
{
  g_autoptr (GPtrArray) shapes = cover_shapes ();
  const WsRect crop = { 0.05, 0.1, 0.8, 0.85 };
  const struct { int max_edge; const WsRect *crop; } cases[] = { { 0, NULL }, { 100, NULL }, { 37, NULL }, { 0, &crop }, { 50, &crop } };
  g_autofree char *one = NULL, *two = NULL;

  g_test_summary ("Nothing of a covered region is left at any size: box, oval and outline");
  if (!have_tool ("vips"))
    return;
  one = noise_under (shapes, "one.png", 2);
  two = noise_under (shapes, "two.png", 3);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WsCopyOptions options = { .max_edge = cases[i].max_edge, .crop = cases[i].crop, .covers = shapes };
      g_autoptr (WsPhotoCopy) a = make_copy (one, &options), b = make_copy (two, &options);
      WsCopyOptions open = { .max_edge = cases[i].max_edge, .crop = cases[i].crop };
      g_autoptr (WsPhotoCopy) c = make_copy (one, &open), d = make_copy (two, &open);

      g_assert_true (g_bytes_equal (a->jpeg, b->jpeg));
      /* Uncovered, the two differ: the test can fail. */
      g_assert_false (g_bytes_equal (c->jpeg, d->jpeg));
      g_assert_false (a->scan_kept);
    }
}

/* And not more than a pixel's width beyond the shape is painted. */
static void
test_not_too_much (void)
{
  g_autoptr (GPtrArray) shapes = cover_shapes ();
  g_autofree char *path = NULL;
  WsCopyOptions options = { .covers = shapes, .quality = 100 };
  g_autoptr (WsPhotoCopy) copy = NULL;
  g_autoptr (WsPicture) before = NULL, after = NULL;
  const guint8 *p, *q;
  double changed = 0;
  int n = 0;

  g_test_summary ("What is not covered stays as it was");
  if (!have_tool ("vips"))
    return;
  path = noise_under (shapes, "before.png", 2);
  copy = make_copy (path, &options);
  before = ws_picture_decode_file (path, 0, NULL, NULL);
  after = decode_copy (copy);
  p = g_bytes_get_data (before->pixels, NULL);
  q = g_bytes_get_data (after->pixels, NULL);
  for (int y = 0; y < 120; y++)
    for (int x = 0; x < 160; x++)
      {
        gboolean near = FALSE;

        for (guint s = 0; s < shapes->len; s++)
          near |= touches (shapes->pdata[s], x - 1, y - 1, 160, 120) || touches (shapes->pdata[s], x + 1, y + 1, 160, 120) ||
                  touches (shapes->pdata[s], x, y, 160, 120);
        if (near)
          continue;
        n++;
        changed += ABS (p[(y * 160 + x) * 3 + 1] - q[(y * 160 + x) * 3 + 1]);
      }
  g_assert_cmpint (n, >, 10000);
  g_test_message ("mean change %g", changed / n);
  g_assert_cmpfloat (changed / n, <, 3);
}

static void
test_crop (void)
{
  const WsRect crop = { 0.25, 0.5, 0.5, 0.25 }, outside = { 0.5, 0.5, 0.6, 0.2 };
  WsCopyOptions options = { .crop = &crop, .quality = 100 };
  g_autofree char *ppm = NULL, *path = NULL;
  g_autoptr (WsPhotoCopy) copy = NULL;
  g_autoptr (WsPicture) whole = NULL, part = NULL;
  g_autoptr (GError) error = NULL;
  double sum = 0;

  g_test_summary ("A crop is the region asked for; one outside the photo is refused");
  if (!have_tool ("vips"))
    return;
  ppm = pattern_ppm ("pattern.ppm", 1);
  path = made_path ("crop.png");
  g_free (run_tool ("vips", "copy", ppm, path, NULL));
  copy = make_copy (path, &options);
  part = decode_copy (copy);
  whole = ws_picture_decode_file (path, 0, NULL, NULL);
  g_assert_cmpint (part->width, ==, 80);
  g_assert_cmpint (part->height, ==, 30);
  for (int y = 0; y < 30; y++)
    for (int x = 0; x < 80 * 3; x++)
      sum += ABS (((const guint8 *) g_bytes_get_data (part->pixels, NULL))[y * 240 + x] -
                  ((const guint8 *) g_bytes_get_data (whole->pixels, NULL))[(y + 60) * 480 + 120 + x]);
  g_assert_cmpfloat (sum / (30 * 240), <, 4);
  options.crop = &outside;
  g_assert_null (ws_photo_copy_make (path, &options, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
}

static void
test_checks (const char *part)
{
  g_autofree char *folder = checks_folder (part);
  g_autoptr (GDir) dir = NULL;
  const char *name;
  guint n = 0;

  if (folder == NULL)
    return;
  let_libvips_warn ();
  dir = g_dir_open (folder, 0, NULL);
  for (; (name = g_dir_read_name (dir)) != NULL; n++)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autoptr (GError) error = NULL;
      WsCopyOptions options = { .make = "Invented" };
      g_autoptr (WsPhotoCopy) copy = ws_photo_copy_make (path, &options, NULL, &error);

      g_test_message ("%s: %s", name, copy == NULL ? error->message : copy->scan_kept ? "kept" : "encoded");
      g_assert_true ((copy != NULL) == (error == NULL));
      if (copy != NULL)
        {
          g_autoptr (WsPicture) picture = decode_copy (copy);

          g_assert_cmpint (picture->width, >, 0);
        }
      if (copy != NULL && g_str_equal (part, "exif/photos"))
        {
          g_autofree char *tags = tags_of (copy);

          g_assert_cmpstr (tags, ==, "IFD0:Make=Invented IFD0:Orientation=1");
        }
    }
  g_assert_cmpuint (n, >, 0);
}

static void
test_cameras (void)
{
  g_test_summary ("Copies of camera files hold the allow-list and nothing else (shared checks, exif/photos; exiftool)");
  if (have_tool ("exiftool"))
    test_checks ("exif/photos");
}

static void
test_malformed (void)
{
  g_test_summary ("Damaged and fuzzed files are copied or refused (shared checks, malformed)");
  test_checks ("malformed");
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  g_test_init (&argc, &argv, NULL);
  ws_picture_init (argv[0], &error);
  g_assert_no_error (error);
  g_test_add_func ("/photo/photo-copy/secrets-are-there", test_secrets_are_there);
  g_test_add_func ("/photo/photo-copy/allow-list", test_allow_list);
  g_test_add_func ("/photo/photo-copy/what-is-told", test_what_is_told);
  g_test_add_func ("/photo/photo-copy/pixels-kept", test_pixels_kept);
  g_test_add_func ("/photo/photo-copy/profiles", test_profiles);
  g_test_add_func ("/photo/photo-copy/covered", test_covered);
  g_test_add_func ("/photo/photo-copy/not-too-much", test_not_too_much);
  g_test_add_func ("/photo/photo-copy/crop", test_crop);
  g_test_add_func ("/photo/photo-copy/cameras", test_cameras);
  g_test_add_func ("/photo/photo-copy/malformed", test_malformed);
  return g_test_run ();
}
