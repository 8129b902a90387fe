/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photo facts against programs and files nobody here wrote. */
#include "ws-photo-facts.h"

#include "photo-making.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static double
member (JsonObject *object, const char *name)
{
  JsonNode *node = json_object_get_member (object, name);

  if (node == NULL)
    return NAN;
  /* A list such as "200 0": the first value. */
  if (json_node_get_value_type (node) == G_TYPE_STRING)
    {
      const char *text = json_node_get_string (node);
      char *end;
      double value = g_ascii_strtod (text, &end);

      return end == text ? NAN : value;
    }
  return json_node_get_double (node);
}

static const char *
text_member (JsonObject *object, const char *name)
{
  JsonNode *node = json_object_get_member (object, name);

  return node != NULL && json_node_get_value_type (node) == G_TYPE_STRING ? json_node_get_string (node) : NULL;
}

/* Where the truth has no valid value, ours is unknown. */
static void
compare_number (const char *file, const char *key, double ours, double truth, double tolerance)
{
  g_test_message ("%s %s: %.10g, truth %.10g", file, key, ours, truth);
  if (isfinite (truth))
    g_assert_cmpfloat_with_epsilon (ours, truth, tolerance);
  else
    g_assert_false (isfinite (ours));
}

static void
compare_relative (const char *file, JsonObject *truth, const char *key, double ours)
{
  double value = member (truth, key);

  compare_number (file, key, ours, value, fabs (value) * 1e-6 + 1e-300);
}

static void
compare_text (const char *ours, const char *truth)
{
  g_assert_cmpstr (ours != NULL ? ours : "", ==, truth != NULL ? truth : "");
}

/* exiftool's "2008:10:22 16:29:49" and "69" as "2008-10-22T16:29:49.69"; NULL when not a date. */
static char *
expected_time (JsonObject *truth)
{
  const char *text = text_member (truth, "DateTimeOriginal");
  const char *decimals = text_member (truth, "SubSecTimeOriginal");
  int y, mo, d, h, mi, s;
  GString *out;

  if (text == NULL || sscanf (text, "%4d:%2d:%2d %2d:%2d:%2d", &y, &mo, &d, &h, &mi, &s) != 6 || y == 0)
    return NULL;
  out = g_string_new (NULL);
  g_string_append_printf (out, "%04d-%02d-%02dT%02d:%02d:%02d", y, mo, d, h, mi, s);
  if (decimals != NULL && g_ascii_isdigit (*decimals))
    g_string_append_printf (out, ".%s", decimals);
  return g_string_free (out, FALSE);
}

static char *
expected_utc (JsonObject *truth)
{
  const char *date = text_member (truth, "GPSDateStamp"), *time = text_member (truth, "GPSTimeStamp");
  int y, mo, d;

  if (date == NULL || time == NULL || sscanf (date, "%4d:%2d:%2d", &y, &mo, &d) != 3 || y == 0)
    return NULL;
  return g_strdup_printf ("%04d-%02d-%02dT%sZ", y, mo, d, time);
}

static void
compare_time (JsonObject *truth, const WsPhotoFacts *facts)
{
  g_autofree char *time = expected_time (truth);
  g_autofree char *ours = ws_moment_local_text (&facts->taken);
  g_autofree char *utc = expected_utc (truth);
  const char *offset = text_member (truth, "OffsetTimeOriginal");

  g_assert_cmpstr (ours, ==, time);
  if (offset != NULL && time != NULL)
    {
      g_autofree char *told = ws_offset_to_text (facts->taken.offset_minutes);

      g_assert_cmpint (facts->taken.offset_source, ==, WS_OFFSET_EXIF);
      g_assert_cmpstr (told, ==, offset);
    }
  else
    g_assert_cmpint (facts->taken.offset_source, !=, WS_OFFSET_EXIF);
  g_assert_cmpstr (facts->gps_utc, ==, utc);
  /* A time or stamp that is there and not used is warned of. */
  if ((time == NULL && json_object_has_member (truth, "DateTimeOriginal")) ||
      json_object_has_member (truth, "gps_unusable"))
    g_assert_cmpuint (facts->warnings->len, >, 0);
}

static void
compare_with_truth (JsonObject *truth, const WsPhotoFacts *facts)
{
  const char *file = text_member (truth, json_object_has_member (truth, "file") ? "file" : "SourceFile");
  double orientation = member (truth, "Orientation");
  gboolean heic = g_str_has_prefix (facts->media_type, "image/hei") || g_str_equal (facts->media_type, "image/avif");
  gboolean turned = !heic && orientation >= 5 && orientation <= 8;
  const char *reference = text_member (truth, "GPSImgDirectionRef");
  char ours[2] = { facts->direction_reference, '\0' };

  g_assert_cmpint (turned ? facts->height : facts->width, ==, (int) member (truth, "ImageWidth"));
  g_assert_cmpint (turned ? facts->width : facts->height, ==, (int) member (truth, "ImageHeight"));
  g_assert_cmpint (facts->orientation, ==, orientation >= 1 && orientation <= 8 ? (int) orientation : 0);
  compare_text (facts->make, text_member (truth, "Make"));
  compare_text (facts->model, text_member (truth, "Model"));
  compare_relative (file, truth, "FocalLength", facts->focal_length);
  compare_relative (file, truth, "FocalLengthIn35mmFormat", facts->focal_length_35);
  compare_relative (file, truth, "ISO", facts->iso);
  compare_relative (file, truth, "ExposureTime", facts->exposure_time);
  compare_relative (file, truth, "FNumber", facts->f_number);
  compare_relative (file, truth, "GPSAltitude", facts->position.altitude);
  compare_relative (file, truth, "GPSHPositioningError", facts->position.error_m);
  compare_relative (file, truth, "GPSImgDirection", facts->direction);
  compare_text (ours, reference);
  compare_number (file, "latitude", facts->position.latitude, member (truth, "GPSLatitude"), 1e-7);
  compare_number (file, "longitude", facts->position.longitude, member (truth, "GPSLongitude"), 1e-7);
  compare_time (truth, facts);
}

static void
test_truth (void)
{
  g_autofree char *folder = checks_folder ("exif");
  g_autofree char *path = NULL;
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  g_autoptr (GError) error = NULL;
  JsonArray *rows;

  g_test_summary ("Camera files against exiftool 12.57 -n (shared checks, exif/truth.json)");
  if (folder == NULL)
    return;
  path = g_build_filename (folder, "truth.json", NULL);
  json_parser_load_from_file (parser, path, &error);
  g_assert_no_error (error);
  rows = json_node_get_array (json_parser_get_root (parser));
  g_assert_cmpuint (json_array_get_length (rows), >, 0);
  for (guint i = 0; i < json_array_get_length (rows); i++)
    {
      JsonObject *truth = json_array_get_object_element (rows, i);
      g_autofree char *photo = g_build_filename (folder, text_member (truth, "file"), NULL);
      g_autoptr (WsPhotoFacts) facts = ws_photo_facts_read_file (photo, &error);

      g_test_message ("%s", photo);
      g_assert_no_error (error);
      compare_with_truth (truth, facts);
      for (guint w = 0; w < facts->warnings->len; w++)
        g_test_message ("  warning: %s", (char *) facts->warnings->pdata[w]);
    }
}

/* Whole-file damage: each file ends with facts or an error that names it. */
static void
test_malformed (void)
{
  g_autofree char *folder = checks_folder ("malformed");
  g_autoptr (GDir) dir = NULL;
  const char *name;
  guint n = 0;

  g_test_summary ("Damaged and fuzzed files end with facts or a clear error (shared checks, malformed)");
  if (folder == NULL)
    return;
  dir = g_dir_open (folder, 0, NULL);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autoptr (GError) error = NULL;
      gint64 start = g_get_monotonic_time ();
      g_autoptr (WsPhotoFacts) facts = ws_photo_facts_read_file (path, &error);

      n++;
      g_assert_cmpint (g_get_monotonic_time () - start, <, 2 * G_USEC_PER_SEC);
      g_test_message ("%s: %s", name, facts != NULL ? facts->media_type : error->message);
      g_assert_true ((facts != NULL) == (error == NULL));
      if (error != NULL)
        g_assert_nonnull (strstr (error->message, name));
      else
        g_assert_cmpint (facts->width, >, 0);
    }
  g_assert_cmpuint (n, >, 0);
}

typedef struct
{
  const char *name;
  const char *arguments;   /* one a line, as exiftool reads them from a file */
} Made;

static const Made made[] = {
  { "whole", "-DateTimeOriginal=2025:10:04 14:03:22\n-SubSecTimeOriginal=05\n-OffsetTimeOriginal=+02:00\n"
             "-GPSLatitude=51.123456\n-GPSLatitudeRef=N\n-GPSLongitude=7.25\n-GPSLongitudeRef=E\n"
             "-GPSAltitude=12.5\n-GPSAltitudeRef=0\n-Make=Invented\n-Model=Invented One  \n-ISO=3200\n" },
  { "south", "-GPSLatitude=33.9\n-GPSLatitudeRef=S\n-GPSLongitude=151.2\n-GPSLongitudeRef=W\n-GPSAltitude=3.25\n"
             "-GPSAltitudeRef=1\n-GPSHPositioningError=4.5\n-GPSImgDirection=359.5\n-GPSImgDirectionRef=M\n"
             "-Orientation=6\n" },
  { "stamps", "-DateTimeOriginal=2024:02:29 23:59:59\n-GPSDateStamp=2024:03:01\n-GPSTimeStamp=07:59:58\n"
              "-ExposureTime=0.004\n-FNumber=2.8\n-FocalLength=60\n-FocalLengthIn35mmFormat=90\n-Orientation=3\n" },
  { "no-references", "-GPSLatitude=51.5\n-GPSLongitude=7.25\n-GPSAltitude=90\n-Orientation=8\n" },
};

static const char *const endings[] = { "jpg", "png", "webp", "tif", "heic", "avif" };

/* A plain picture of each kind by libvips' own program, its metadata by exiftool. */
static char *
make_photo (const Made *what, const char *ending)
{
  g_autofree char *name = g_strdup_printf ("%s.%s", what->name, ending);
  g_autofree char *arguments = made_path ("arguments.txt");
  char *path = made_path (name);
  g_autofree char *log = NULL;

  g_free (run_tool ("vips", "black", path, "64", "48", "--bands", "3", NULL));
  /* vips writes EXIF of its own into some kinds. */
  g_free (run_tool ("exiftool", "-q", "-m", "-overwrite_original", "-EXIF:all=", path, NULL));
  g_file_set_contents (arguments, what->arguments, -1, NULL);
  log = run_tool ("exiftool", "-q", "-m", "-n", "-overwrite_original", "-@", arguments, path, NULL);
  return path;
}

/* What exiftool reads, with the names of truth.json. */
static JsonNode *
read_by_exiftool (const char *path)
{
  g_autofree char *text = run_tool ("exiftool", "-n", "-json", "-Make", "-Model", "-Orientation", "-DateTimeOriginal",
                                    "-SubSecTimeOriginal", "-OffsetTimeOriginal", "-FocalLength",
                                    "-FocalLengthIn35mmFormat", "-ISO", "-ExposureTime", "-FNumber",
                                    "-Composite:GPSLatitude", "-Composite:GPSLongitude", "-Composite:GPSAltitude",
                                    "-GPSHPositioningError", "-GPSImgDirection", "-GPSImgDirectionRef",
                                    "-GPSDateStamp", "-GPSTimeStamp", "-File:ImageWidth", "-File:ImageHeight",
                                    "-ImageWidth", "-ImageHeight", path, NULL);

  return json_from_string (text, NULL);
}

static void
test_exiftool (void)
{
  g_test_summary ("Photos made here, six kinds of file, side by side with exiftool -n");
  if (!have_tool ("exiftool") || !have_tool ("vips"))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (made); i++)
    for (guint k = 0; k < G_N_ELEMENTS (endings); k++)
      {
        g_autofree char *path = make_photo (&made[i], endings[k]);
        g_autoptr (JsonNode) truth = read_by_exiftool (path);
        g_autoptr (GError) error = NULL;
        g_autoptr (WsPhotoFacts) facts = ws_photo_facts_read_file (path, &error);

        g_test_message ("%s", path);
        g_assert_no_error (error);
        compare_with_truth (json_array_get_object_element (json_node_get_array (truth), 0), facts);
      }
}

/* exiv2's value of a key, "" when it has none. */
static char *
read_by_exiv2 (const char *path, const char *key)
{
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  const char *words[] = { "exiv2", "-q", "-PEv", "-K", key, path, NULL };

  /* Its exit status is not 0 when the key is not there. */
  g_spawn_sync (NULL, (char **) words, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL,
                &text, NULL, NULL, &error);
  g_assert_no_error (error);
  return g_steal_pointer (&text);
}

static void
compare_with_exiv2 (const char *path, const WsPhotoFacts *facts)
{
  g_autofree char *time = read_by_exiv2 (path, "Exif.Photo.DateTimeOriginal");
  g_autofree char *make = read_by_exiv2 (path, "Exif.Image.Make");
  g_autofree char *turned = read_by_exiv2 (path, "Exif.Image.Orientation");
  WsMoment moment = WS_MOMENT_INIT;

  g_strchomp (make);
  g_strchomp (time);
  g_assert_cmpstr (facts->make != NULL ? facts->make : "", ==, make);
  g_assert_cmpint (facts->orientation, ==, atoi (turned));
  if (ws_moment_set_local (&moment, time))
    g_assert_cmpint (facts->taken.local_us / G_USEC_PER_SEC, ==, moment.local_us / G_USEC_PER_SEC);
  else
    g_assert_false (ws_moment_is_known (&facts->taken));
}

static void
test_exiv2 (void)
{
  g_test_summary ("The same photos side by side with exiv2, an implementation of its own");
  if (!have_tool ("exiv2") || !have_tool ("exiftool") || !have_tool ("vips"))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (made); i++)
    for (guint k = 0; k < 4; k++)
      {
        g_autofree char *path = make_photo (&made[i], endings[k]);
        g_autoptr (WsPhotoFacts) facts = ws_photo_facts_read_file (path, NULL);

        g_test_message ("%s", path);
        compare_with_exiv2 (path, facts);
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/facts/truth", test_truth);
  g_test_add_func ("/photo/facts/malformed", test_malformed);
  g_test_add_func ("/photo/facts/exiftool", test_exiftool);
  g_test_add_func ("/photo/facts/exiv2", test_exiv2);
  return g_test_run ();
}
