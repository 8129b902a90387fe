/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Camera raw files by their preview. The files are made here, and exiftool reads in them what was meant. */
#include "ws-photo-copy.h"
#include "ws-photo-read.h"
#include "ws-picture-private.h"
#include "ws-raw.h"

#include "photo-making.h"
#include "raw-making.h"
#include "ws-error.h"

#include <string.h>

static char *
write_bytes (const char *name, GBytes *bytes)
{
  char *path = made_path (name);

  g_assert_true (g_file_set_contents (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes), NULL));
  return path;
}

/* A scene without symmetry as JPEG, @width × @height px. */
static char *
make_scene (const char *name, guint width, guint height)
{
  g_autofree char *corner = g_strdup_printf ("rectangle 0,0 %u,%u", width / 3, height / 3);
  g_autofree char *edge = g_strdup_printf ("rectangle 0,%u %u,%u", height * 3 / 4, width, height);
  g_autofree char *size = g_strdup_printf ("%ux%u", width, height);
  char *path = made_path (name);

  g_free (run_tool ("convert", "-size", size, "xc:white", "-fill", "red", "-draw", corner, "-fill", "blue", "-draw", edge,
                    "-quality", "95", "-strip", path, NULL));
  return path;
}

static double
mean_difference (const WsPicture *a, const WsPicture *b)
{
  const guint8 *p = g_bytes_get_data (a->pixels, NULL), *q = g_bytes_get_data (b->pixels, NULL);
  gsize n = g_bytes_get_size (a->pixels);
  double sum = 0;

  g_assert_cmpint (a->width, ==, b->width);
  g_assert_cmpint (a->height, ==, b->height);
  for (gsize i = 0; i < n; i++)
    sum += ABS (p[i] - q[i]);
  return sum / (double) n;
}

/* What a plain JPEG is when ImageMagick has turned it by the tag. */
static WsPicture *
turned_by_others (const char *scene, guint orientation)
{
  g_autofree char *tagged = made_path ("tagged.jpg"), *upright = made_path ("upright.png");
  g_autofree char *tag = g_strdup_printf ("-IFD0:Orientation#=%u", orientation);
  g_autoptr (GError) error = NULL;
  WsPicture *picture;

  g_free (run_tool ("convert", scene, tagged, NULL));
  g_free (run_tool ("exiftool", "-q", "-m", "-overwrite_original", tag, tagged, NULL));
  g_free (run_tool ("convert", tagged, "-auto-orient", "-strip", upright, NULL));
  picture = ws_picture_decode_file (upright, 0, NULL, &error);
  g_assert_no_error (error);
  return picture;
}

static gboolean
have_tools (void)
{
  let_libvips_warn ();
  return have_tool ("convert") && have_tool ("exiftool");
}

static void
test_orientations (void)
{
  g_autofree char *scene = NULL;
  g_autoptr (GBytes) preview = NULL;

  g_test_summary ("The preview of a raw file in each of eight orientations stands upright, as ImageMagick turns a JPEG of "
                  "the same orientation; exiftool finds the same preview in the file");
  if (!have_tools ())
    return;
  scene = make_scene ("scene.jpg", 160, 120);
  preview = read_bytes (scene);
  for (guint i = 1; i <= 8; i++)
    {
      RawPlan plan = { .orientation = i, .preview = preview, .preview_width = 160, .preview_height = 120 };
      g_autoptr (GBytes) dng = make_dng (&plan);
      g_autofree char *path = write_bytes ("upright.dng", dng), *told = NULL;
      g_autoptr (WsPicture) truth = turned_by_others (scene, i), picture = NULL, small = NULL;
      g_autoptr (GError) error = NULL;

      told = run_tool ("exiftool", "-m", "-s3", "-n", "-Orientation", "-PreviewImageLength", path, NULL);
      g_test_message ("%s", told);
      picture = ws_picture_decode_file (path, 0, NULL, &error);
      g_assert_no_error (error);
      g_assert_true (picture->raw_preview);
      g_assert_cmpint (picture->width, ==, i >= 5 ? 120 : 160);
      g_assert_cmpfloat (mean_difference (truth, picture), <, 3);
      small = ws_picture_decode_file (path, 40, NULL, &error);
      g_assert_no_error (error);
      g_assert_cmpint (MAX (small->width, small->height), ==, 40);
    }
}

/* Turned wrongly, the scene differs by dozens: the comparison above can fail. */
static void
test_orientations_differ (void)
{
  g_autofree char *scene = NULL;
  g_autoptr (WsPicture) first = NULL;

  g_test_summary ("The scene of that test looks different in each orientation");
  if (!have_tools ())
    return;
  scene = make_scene ("scene-again.jpg", 120, 120);
  first = turned_by_others (scene, 1);
  for (guint i = 2; i <= 8; i++)
    {
      g_autoptr (WsPicture) other = turned_by_others (scene, i);

      /* The scene is its own mirror image nowhere. */
      g_assert_cmpfloat (mean_difference (first, other), >, 20);
    }
}

static void
test_turned_already (void)
{
  g_autofree char *scene = NULL;
  g_autoptr (GBytes) preview = NULL, dng = NULL;
  g_autoptr (WsPicture) picture = NULL, plain = NULL;
  g_autoptr (WsPhotoFacts) facts = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("A preview that stands already where the raw picture lies is not turned again");
  if (!have_tools ())
    return;
  scene = make_scene ("standing.jpg", 120, 160);
  preview = read_bytes (scene);
  dng = make_dng (&(RawPlan) { .orientation = 6, .preview = preview, .preview_width = 120, .preview_height = 160 });
  facts = ws_photo_facts_read (dng, "standing.dng", &error);
  g_assert_no_error (error);
  g_assert_cmpint (facts->orientation, ==, 6);
  g_assert_false (facts->turn);
  picture = ws_picture_decode (dng, "standing.dng", 0, NULL, &error);
  g_assert_no_error (error);
  plain = ws_picture_decode (preview, "standing.jpg", 0, NULL, &error);
  g_assert_true (g_bytes_equal (picture->pixels, plain->pixels));
}

static void
test_facts (void)
{
  g_autofree char *scene = NULL, *path = NULL, *told = NULL, *taken = NULL;
  g_autoptr (GBytes) preview = NULL, dng = NULL;
  g_autoptr (WsPhotoReading) reading = NULL;
  g_autoptr (WsPhotoCopy) copy = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("Time, zone and camera of a raw file as exiftool reads them; the label; a raw file can be imported and "
                  "copied for sending");
  if (!have_tools ())
    return;
  scene = make_scene ("facts.jpg", 160, 120);
  preview = read_bytes (scene);
  dng = make_dng (&(RawPlan) { .orientation = 8, .preview = preview, .preview_width = 160, .preview_height = 120 });
  path = write_bytes ("facts.dng", dng);
  told = run_tool ("exiftool", "-m", "-s3", "-n", "-DateTimeOriginal", "-OffsetTimeOriginal", "-Make", "-Model",
                   "-Orientation", path, NULL);
  g_assert_cmpstr (told, ==, "2025:10:04 14:03:22\n+02:00\nInvented\nBox\n8\n");
  reading = ws_photo_read (path, NULL, &error);
  g_assert_no_error (error);
  taken = ws_moment_local_text (&reading->facts->taken);
  g_assert_cmpstr (taken, ==, "2025-10-04T14:03:22");
  g_assert_cmpint (reading->facts->taken.offset_minutes, ==, 120);
  g_assert_cmpstr (reading->facts->make, ==, "Invented");
  g_assert_cmpstr (reading->facts->model, ==, "Box");
  g_assert_cmpint (reading->facts->orientation, ==, 8);
  g_assert_cmpint (reading->facts->width, ==, 120);
  g_assert_cmpint (reading->facts->height, ==, 160);
  g_assert_true (reading->facts->raw_preview);
  g_assert_cmpstr (reading->facts->media_type, ==, WS_MEDIA_TYPE_RAW);
  g_assert_cmpuint (reading->facts->warnings->len, ==, 1);
  g_assert_cmpstr (ws_photo_origin_text (WS_MEDIA_TYPE_RAW), ==, "Preview inside a camera raw file");
  g_assert_null (ws_photo_origin_text ("image/jpeg"));
  copy = ws_photo_copy_make (path, &(WsCopyOptions) { .quality = 90 }, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (copy->width, ==, 120);
  g_assert_false (copy->scan_kept);
}

static void
test_small (void)
{
  g_autofree char *scene = NULL;
  g_autoptr (GBytes) preview = NULL, small = NULL, stamp = NULL;
  g_autoptr (WsPhotoFacts) facts = NULL, stamp_facts = NULL;
  g_autoptr (WsPicture) picture = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("A preview much smaller than the raw picture is shown, and its size is told");
  if (!have_tools ())
    return;
  scene = make_scene ("small.jpg", 80, 60);
  preview = read_bytes (scene);
  small = make_dng (&(RawPlan) { .width = 400, .height = 300, .orientation = 1, .preview = preview, .preview_width = 80,
                                 .preview_height = 60 });
  facts = ws_photo_facts_read (small, "small.dng", &error);
  g_assert_no_error (error);
  g_assert_cmpuint (facts->warnings->len, ==, 2);
  g_assert_nonnull (strstr (facts->warnings->pdata[1], "80 × 60 of 400 × 300"));
  /* Without a preview of its own kind only the stamp in the first directory is left. */
  stamp = make_dng (&(RawPlan) { .orientation = 6 });
  stamp_facts = ws_photo_facts_read (stamp, "stamp.dng", &error);
  g_assert_no_error (error);
  g_assert_cmpuint (stamp_facts->warnings->len, ==, 2);
  picture = ws_picture_decode (stamp, "stamp.dng", 0, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (picture->width, ==, 12);
  g_assert_cmpint (picture->height, ==, 16);
  g_assert_cmpint (((const guint8 *) g_bytes_get_data (picture->pixels, NULL))[0], ==, 128);
}

/* Either a picture or an error that names the file, and in time. */
static void
assert_survives (GBytes *bytes, guint *decoded)
{
  gint64 start = g_get_monotonic_time ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WsPicture) picture = ws_picture_decode (bytes, "hostile.dng", 100, NULL, &error);

  g_assert_true ((picture != NULL) == (error == NULL));
  if (error != NULL)
    g_assert_nonnull (strstr (error->message, "hostile.dng"));
  *decoded += picture != NULL ? 1 : 0;
  g_assert_cmpint (g_get_monotonic_time () - start, <, 5 * G_USEC_PER_SEC);
}

static void
test_hostile (void)
{
  static const guint8 bomb[4096] = { 0xff, 0xd8, 0xff, 0xc0, 0, 17, 8, 0xea, 0x60, 0xea, 0x60, 3, 1, 0x11, 0, 2, 0x11, 1,
                                 3, 0x11, 1, 0xff, 0xda, 0, 2 };
  static const char text[4096] = "no picture at all";
  g_autoptr (GBytes) large = g_bytes_new_static (bomb, sizeof bomb), no_jpeg = g_bytes_new_static (text, sizeof text);
  const RawPlan plans[] = {
    { .orientation = 1, .preview = large, .preview_width = 160, .preview_height = 120, .no_stamp = TRUE },
    { .orientation = 1, .preview = large, .preview_width = 65535, .preview_height = 65535, .no_stamp = TRUE },
    { .orientation = 1, .preview = no_jpeg, .preview_width = 160, .preview_height = 120, .no_stamp = TRUE },
    { .orientation = 1, .preview = large, .preview_width = 160, .preview_height = 120, .preview_length = 0x7fffffff,
      .no_stamp = TRUE },
    { .orientation = 1, .preview = large, .preview_width = 160, .preview_height = 120, .preview_offset = 0x7ffffff0,
      .no_stamp = TRUE },
    { .orientation = 99, .preview = large, .preview_width = 160, .preview_height = 120, .no_stamp = TRUE },
    { .orientation = 1, .no_stamp = TRUE },
  };

  let_libvips_warn ();
  g_test_summary ("Raw files whose preview is missing, elsewhere, too large or no picture end with an error that names them");
  for (guint i = 0; i < G_N_ELEMENTS (plans); i++)
    {
      g_autoptr (GBytes) dng = make_dng (&plans[i]);
      g_autoptr (GError) error = NULL;
      g_autoptr (WsPicture) picture = ws_picture_decode (dng, "hostile.dng", 0, NULL, &error);

      g_test_message ("%u: %s", i, error != NULL ? error->message : "decoded");
      g_assert_null (picture);
      g_assert_true (g_error_matches (error, WS_ERROR, WS_ERROR_UNREADABLE) ||
                     g_error_matches (error, WS_ERROR, WS_ERROR_TOO_LARGE));
      g_assert_nonnull (strstr (error->message, "hostile.dng"));
    }
}

static void
test_damaged (void)
{
  g_autofree char *scene = NULL;
  g_autoptr (GBytes) preview = NULL, dng = NULL;
  gsize size;
  const guint8 *data;
  guint decoded = 0, n = 0;
  guint32 random = 12345;

  g_test_summary ("A raw file cut short at many places, and with bytes changed in its directories, ends with a picture or a "
                  "clear error");
  if (!have_tools ())
    return;
  scene = make_scene ("damaged.jpg", 160, 120);
  preview = read_bytes (scene);
  dng = make_dng (&(RawPlan) { .orientation = 6, .preview = preview, .preview_width = 160, .preview_height = 120 });
  data = g_bytes_get_data (dng, &size);
  for (gsize end = 0; end < size; end += size / 60, n++)
    {
      g_autoptr (GBytes) part = g_bytes_new (data, end);

      assert_survives (part, &decoded);
    }
  for (guint i = 0; i < 400; i++, n++)
    {
      g_autofree guint8 *copy = g_memdup2 (data, size);
      g_autoptr (GBytes) bytes = NULL;

      /* The directories stand in the last 800 bytes and after the raw samples. */
      for (guint k = 0; k < 1 + i % 4; k++)
        {
          random = random * 1664525 + 1013904223;
          copy[size - 1 - (random >> 8) % MIN (size, 800)] = (guint8) (random >> 3);
        }
      bytes = g_bytes_new_take (g_steal_pointer (&copy), size);
      assert_survives (bytes, &decoded);
    }
  g_test_message ("%u of %u decoded", decoded, n);
  g_assert_cmpuint (decoded, >, 0);
  g_assert_cmpuint (decoded, <, n);
}

static void
test_apart (void)
{
  g_autofree char *scene = NULL;
  g_autoptr (GBytes) preview = NULL, dng = NULL;
  g_autoptr (WsPicture) here = NULL, apart = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("The child finds the same preview and says that it is one");
  if (!have_tools ())
    return;
  scene = make_scene ("apart.jpg", 160, 120);
  preview = read_bytes (scene);
  dng = make_dng (&(RawPlan) { .orientation = 6, .preview = preview, .preview_width = 160, .preview_height = 120 });
  here = ws_picture_decode (dng, "apart.dng", 0, NULL, &error);
  g_assert_no_error (error);
  apart = ws_picture_decode_stranger (dng, "apart.dng", 0, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (apart->raw_preview);
  g_assert_true (g_bytes_equal (here->pixels, apart->pixels));
}

static void
test_boxes (void)
{
  g_autoptr (GBytes) bytes = make_boxes ();
  g_autofree char *path = write_bytes ("boxes.cr3", bytes), *told = NULL;
  g_autoptr (WsPhotoFacts) facts = NULL;
  g_autoptr (GError) error = NULL;
  g_auto (WsContainer) container = { .kind = WS_CONTAINER_JPEG, .media_type = WS_MEDIA_TYPE_RAW, .width = 1, .height = 1 };
  g_autofree char *taken = NULL;
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);

  g_test_summary ("Raw files made of boxes: time, zone, camera and position as exiftool reads them in the same file");
  if (!have_tools ())
    return;
  told = run_tool ("exiftool", "-m", "-s3", "-n", "-DateTimeOriginal", "-OffsetTimeOriginal", "-Make", "-Model",
                   "-GPSLatitude", "-GPSLongitude", path, NULL);
  g_assert_cmpstr (told, ==, "2025:10:04 14:03:22\n+02:00\nInvented\nBox\n51.5\n-30.25\n");
  g_assert_true (ws_raw_is_raw (data, size));
  ws_raw_add_boxes (&container, data, size);
  facts = ws_photo_facts_from_container (&container, "boxes.cr3", &error);
  g_assert_no_error (error);
  taken = ws_moment_local_text (&facts->taken);
  g_assert_cmpstr (taken, ==, "2025-10-04T14:03:22");
  g_assert_cmpint (facts->taken.offset_minutes, ==, 120);
  g_assert_cmpstr (facts->make, ==, "Invented");
  g_assert_cmpstr (facts->model, ==, "Box");
  g_assert_cmpfloat_with_epsilon (facts->position.latitude, 51.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (facts->position.longitude, -30.25, 1e-9);
  /* Cut short anywhere, nothing is read beyond the end (the sanitizer looks). */
  for (gsize end = 32; end < size; end++)
    {
      g_autofree guint8 *part = g_memdup2 (data, end);
      g_auto (WsContainer) rest = { .kind = WS_CONTAINER_JPEG };

      ws_raw_add_boxes (&rest, part, end);
    }
}

/* A TIFF picture is no raw file, whatever it is called. */
static void
test_kinds (void)
{
  g_autofree char *scene = NULL, *tiff = NULL;
  g_autoptr (WsPicture) picture = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("Raw files are told by their bytes: a TIFF picture called .dng is read as a TIFF picture; names only sort "
                  "files for the import");
  g_assert_true (ws_photo_name_is_raw ("/a/IMG_1.CR3"));
  g_assert_false (ws_photo_name_is_raw ("/a/._IMG_1.CR3"));
  g_assert_false (ws_photo_name_is_raw ("/a.dng/IMG_1.jpg"));
  g_assert_false (ws_photo_name_is_picture ("/a/IMG_1.dng"));
  if (!have_tools ())
    return;
  scene = make_scene ("plain.jpg", 80, 60);
  tiff = made_path ("plain.tif");
  g_free (run_tool ("convert", scene, tiff, NULL));
  picture = ws_picture_decode_file (tiff, 0, NULL, &error);
  g_assert_no_error (error);
  g_assert_false (picture->raw_preview);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  g_test_init (&argc, &argv, NULL);
  ws_picture_init (argv[0], &error);
  g_assert_no_error (error);
  g_test_add_func ("/photo/raw/orientations", test_orientations);
  g_test_add_func ("/photo/raw/orientations-differ", test_orientations_differ);
  g_test_add_func ("/photo/raw/turned-already", test_turned_already);
  g_test_add_func ("/photo/raw/facts", test_facts);
  g_test_add_func ("/photo/raw/small", test_small);
  g_test_add_func ("/photo/raw/hostile", test_hostile);
  g_test_add_func ("/photo/raw/damaged", test_damaged);
  g_test_add_func ("/photo/raw/apart", test_apart);
  g_test_add_func ("/photo/raw/boxes", test_boxes);
  g_test_add_func ("/photo/raw/kinds", test_kinds);
  return g_test_run ();
}
