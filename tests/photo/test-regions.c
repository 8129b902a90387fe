/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Regions in copies, as a reader of metadata that nobody here wrote shows them. */
#include "ws-photo-copy.h"

#include "photo-making.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* The stored picture: grey, with a red block at these pixels. */
#define WIDTH 160
#define HEIGHT 120
#define BLOCK_X 24
#define BLOCK_Y 16
#define BLOCK_W 40
#define BLOCK_H 30

static void
write_copy (const WsPhotoCopy *copy, const char *path)
{
  g_file_set_contents (path, g_bytes_get_data (copy->jpeg, NULL), (gssize) g_bytes_get_size (copy->jpeg), NULL);
}

/* Fails when exiftool has no region @i. The node is to be freed, the object borrowed from it. */
static JsonNode *
read_regions (const char *path, JsonArray **regions)
{
  g_autofree char *text = run_tool ("exiftool", "-json", "-struct", "-n", "-XMP-iptcExt:ImageRegion", path, NULL);
  JsonNode *root = json_from_string (text, NULL);
  JsonObject *object = json_array_get_object_element (json_node_get_array (root), 0);

  g_test_message ("%s", text);
  g_assert_true (json_object_has_member (object, "ImageRegion"));
  *regions = json_object_get_array_member (object, "ImageRegion");
  return root;
}

static JsonObject *
boundary_of (JsonArray *regions, guint i)
{
  return json_object_get_object_member (json_array_get_object_element (regions, i), "RegionBoundary");
}

static double
number_of (JsonObject *object, const char *name)
{
  g_assert_true (json_object_has_member (object, name));
  return json_object_get_double_member (object, name);
}

static WsPhotoCopy *
make_copy (const char *path, const WsRegion *regions, guint n, int max_edge)
{
  g_autoptr (GArray) array = g_array_new (FALSE, FALSE, sizeof (WsRegion));
  WsCopyOptions options = { .max_edge = max_edge, .regions = array, .language = "en" };
  g_autoptr (GError) error = NULL;
  WsPhotoCopy *copy;

  g_array_append_vals (array, regions, n);
  copy = ws_photo_copy_make (path, &options, NULL, &error);
  g_assert_no_error (error);
  return copy;
}

static char *
block_jpeg (const char *name)
{
  g_autofree char *ppm = made_path ("block.ppm");
  char *path = made_path (name);
  GString *text = g_string_new ("P6\n160 120\n255\n");

  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      {
        gboolean in = x >= BLOCK_X && x < BLOCK_X + BLOCK_W && y >= BLOCK_Y && y < BLOCK_Y + BLOCK_H;

        g_string_append_len (text, in ? "\xf0\x10\x10" : "\x80\x80\x80", 3);
      }
  g_file_set_contents (ppm, text->str, (gssize) text->len, NULL);
  g_string_free (text, TRUE);
  g_free (run_tool ("cjpeg", "-quality", "95", "-sample", "1x1", "-outfile", path, ppm, NULL));
  return path;
}

/* The bounds in px of what is red, found by looking at every pixel that another decoder gives. */
static void
find_block (const char *path, int *x, int *y, int *w, int *h, int *width, int *height)
{
  g_autofree char *ppm = made_path ("seen.ppm"), *text = NULL;
  gsize size, head;
  int right = 0, bottom = 0;

  g_free (run_tool ("djpeg", "-outfile", ppm, path, NULL));
  g_file_get_contents (ppm, &text, &size, NULL);
  g_assert_cmpint (sscanf (text, "P6 %d %d", width, height), ==, 2);
  head = size - (gsize) *width * (gsize) *height * 3;
  *x = *width;
  *y = *height;
  for (int j = 0; j < *height; j++)
    for (int i = 0; i < *width; i++)
      {
        const guint8 *pixel = (const guint8 *) text + head + (j * *width + i) * 3;

        if (pixel[0] < 190 || pixel[1] > 80)
          continue;
        *x = MIN (*x, i);
        *y = MIN (*y, j);
        right = MAX (right, i + 1);
        bottom = MAX (bottom, j + 1);
      }
  *w = right - *x;
  *h = bottom - *y;
}

static void
test_orientations (void)
{
  g_test_summary ("For all eight orientations of the source exiftool shows the region exactly where the block is seen");
  if (!have_tool ("exiftool") || !have_tool ("cjpeg") || !have_tool ("vips") || !have_tool ("djpeg"))
    return;
  for (int orientation = 1; orientation <= 8; orientation++)
    {
      g_autofree char *path = block_jpeg ("turned.jpg"), *out = made_path ("turned-copy.jpg"), *upright = made_path ("upright.jpg");
      g_autofree char *argument = g_strdup_printf ("-Orientation=%d", orientation), *whole = g_strconcat (upright, "[Q=98]", NULL);
      g_autoptr (WsPhotoCopy) copy = NULL;
      g_autoptr (WsShape) shape = NULL;
      g_autoptr (JsonNode) root = NULL;
      JsonArray *regions;
      JsonObject *boundary;
      int x, y, w, h, width, height, seen[6];

      g_free (run_tool ("exiftool", "-q", "-n", "-overwrite_original", argument, path, NULL));
      /* Where a person sees it: by the autorotate of libvips. */
      g_free (run_tool ("vips", "autorot", path, whole, NULL));
      find_block (upright, &x, &y, &w, &h, &width, &height);
      g_assert_cmpint (w * h, ==, BLOCK_W * BLOCK_H);
      shape = ws_shape_new_box (&(WsRect) { x / (double) width, y / (double) height, w / (double) width, h / (double) height });
      copy = make_copy (path, &(WsRegion) { shape, "r1", "cap", NULL, NULL }, 1, 0);
      write_copy (copy, out);
      find_block (out, &seen[0], &seen[1], &seen[2], &seen[3], &seen[4], &seen[5]);
      root = read_regions (out, &regions);
      boundary = boundary_of (regions, 0);
      g_assert_cmpstr (json_object_get_string_member (boundary, "RbShape"), ==, "rectangle");
      g_assert_cmpstr (json_object_get_string_member (boundary, "RbUnit"), ==, "relative");
      g_assert_cmpint (lround (number_of (boundary, "RbX") * seen[4]), ==, seen[0]);
      g_assert_cmpint (lround (number_of (boundary, "RbY") * seen[5]), ==, seen[1]);
      g_assert_cmpint (lround (number_of (boundary, "RbW") * seen[4]), ==, seen[2]);
      g_assert_cmpint (lround (number_of (boundary, "RbH") * seen[5]), ==, seen[3]);
      g_assert_cmpint (copy->scan_kept, ==, orientation == 1);
    }
}

static void
test_shapes (void)
{
  static const WsPoint corners[] = { { 0.1, 0.1 }, { 0.5, 0.25 }, { 1.0 / 3, 1 } };
  g_autoptr (WsShape) box = ws_shape_new_box (&(WsRect) { 0.25, 0.125, 0.5, 0.75 });
  g_autoptr (WsShape) round = ws_shape_new_oval (&(WsRect) { 0.25, 0.25, 0.3, 0.4 });
  g_autoptr (WsShape) oval = ws_shape_new_oval (&(WsRect) { 0.2, 0.1, 0.6, 0.2 });
  g_autoptr (WsShape) outline = ws_shape_new_outline (corners, G_N_ELEMENTS (corners));
  const WsRegion all[] = { { box, "a", "cap <&> Täubling", "http://purl.obolibrary.org/obo/FAO_0000009", "pileus" }, { round, "b", "b", NULL, NULL },
                           { oval, "c", "c", NULL, NULL }, { outline, "d", "d", NULL, NULL } };
  g_autofree char *path = NULL, *out = made_path ("shapes.jpg");
  g_autoptr (WsPhotoCopy) copy = NULL;
  g_autoptr (JsonNode) root = NULL;
  JsonArray *regions, *vertices;
  JsonObject *first, *type;

  g_test_summary ("Boxes are rectangles, round ovals circles with the radius by the width, others polygons; names and kinds are read back");
  if (!have_tool ("exiftool") || !have_tool ("cjpeg"))
    return;
  path = block_jpeg ("shapes-from.jpg");
  copy = make_copy (path, all, G_N_ELEMENTS (all), 0);
  write_copy (copy, out);
  root = read_regions (out, &regions);
  g_assert_cmpuint (json_array_get_length (regions), ==, 4);
  first = json_array_get_object_element (regions, 0);
  g_assert_cmpstr (json_object_get_string_member (first, "RId"), ==, "a");
  g_assert_cmpstr (json_object_get_string_member (first, "Name"), ==, "cap <&> Täubling");
  type = json_array_get_object_element (json_object_get_array_member (first, "RCtype"), 0);
  g_assert_cmpstr (json_array_get_string_element (json_object_get_array_member (type, "Identifier"), 0), ==, all[0].kind);
  g_assert_cmpstr (json_object_get_string_member (type, "Name"), ==, "pileus");
  /* 0.3 of 160 and 0.4 of 120 are both 48 px: a circle. */
  g_assert_cmpstr (json_object_get_string_member (boundary_of (regions, 1), "RbShape"), ==, "circle");
  g_assert_cmpfloat_with_epsilon (number_of (boundary_of (regions, 1), "RbX"), 0.4, 1e-6);
  g_assert_cmpfloat_with_epsilon (number_of (boundary_of (regions, 1), "RbY"), 0.45, 1e-6);
  g_assert_cmpfloat_with_epsilon (number_of (boundary_of (regions, 1), "RbRx"), 0.15, 1e-6);
  g_assert_cmpstr (json_object_get_string_member (boundary_of (regions, 2), "RbShape"), ==, "polygon");
  vertices = json_object_get_array_member (boundary_of (regions, 2), "RbVertices");
  for (guint i = 0; i < json_array_get_length (vertices); i++)
    {
      JsonObject *at = json_array_get_object_element (vertices, i);
      double dx = (number_of (at, "RbX") - 0.5) / 0.3, dy = (number_of (at, "RbY") - 0.2) / 0.1;

      g_assert_cmpfloat_with_epsilon (dx * dx + dy * dy, 1, 1e-4);
    }
  vertices = json_object_get_array_member (boundary_of (regions, 3), "RbVertices");
  g_assert_cmpuint (json_array_get_length (vertices), ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      g_assert_cmpfloat_with_epsilon (number_of (json_array_get_object_element (vertices, i), "RbX"), corners[i].x, 1e-6);
      g_assert_cmpfloat_with_epsilon (number_of (json_array_get_object_element (vertices, i), "RbY"), corners[i].y, 1e-6);
    }
}

/* A rough ring of as many corners as there may be. */
static WsShape *
rich_outline (guint32 seed)
{
  g_autofree WsPoint *points = g_new (WsPoint, WS_SHAPE_MAX_POINTS);
  g_autoptr (GRand) random = g_rand_new_with_seed (seed);

  for (guint i = 0; i < WS_SHAPE_MAX_POINTS; i++)
    {
      double angle = 2 * G_PI * i / WS_SHAPE_MAX_POINTS, radius = 0.4 + g_rand_double_range (random, -0.004, 0.004);

      points[i] = (WsPoint) { 0.5 + radius * cos (angle), 0.5 + radius * sin (angle) };
    }
  return ws_shape_new_outline (points, WS_SHAPE_MAX_POINTS);
}

static void
test_room (void)
{
  static const guint numbers[] = { 1, 12, 60, 1500 };
  g_autofree char *path = NULL, *out = made_path ("room.jpg");
  g_autoptr (WsShape) rich = rich_outline (1);

  g_test_summary ("However many outlines of however many corners: one segment that is read, and no outline further off than 1 % of the width while they are polygons");
  if (!have_tool ("exiftool") || !have_tool ("cjpeg"))
    return;
  path = block_jpeg ("room-from.jpg");
  for (gsize k = 0; k < G_N_ELEMENTS (numbers); k++)
    {
      g_autofree WsRegion *regions = g_new (WsRegion, numbers[k]);
      g_autoptr (WsPhotoCopy) copy = NULL;
      g_autoptr (JsonNode) root = NULL;
      JsonArray *array, *vertices;

      for (guint i = 0; i < numbers[k]; i++)
        regions[i] = (WsRegion) { rich, "id", "name", NULL, NULL };
      copy = make_copy (path, regions, numbers[k], 0);
      write_copy (copy, out);
      root = read_regions (out, &array);
      g_assert_cmpuint (json_array_get_length (array), >=, MIN (numbers[k], 60));
      if (k > 1)
        continue;
      vertices = json_object_get_array_member (boundary_of (array, 0), "RbVertices");
      for (guint i = 0; i < json_array_get_length (vertices); i++)
        {
          JsonObject *at = json_array_get_object_element (vertices, i);

          g_assert_cmpfloat_with_epsilon (hypot (number_of (at, "RbX") - 0.5, number_of (at, "RbY") - 0.5), 0.4, 0.01);
        }
      g_assert_cmpuint (json_array_get_length (vertices), >, 20);
    }
}

static void
test_nothing_else (void)
{
  /* What exiftool may show of a copy with regions: its own, the file's, the coding's, and the regions. */
  static const char *const allowed[] = { "ExifTool:", "System:", "File:", "JFIF:", "Composite:ImageSize", "Composite:Megapixels", "XMP-x:XMPToolkit",
                                         "XMP-iptcExt:ImageRegion", NULL };
  g_autoptr (WsShape) box = ws_shape_new_box (&(WsRect) { 0.25, 0.125, 0.5, 0.75 });
  g_autofree char *path = NULL, *out = made_path ("only.jpg"), *text = NULL;

  g_test_summary ("With regions nothing else is in the copy: a list of allowed tags, everything else fails");
  if (!have_tool ("exiftool") || !have_tool ("cjpeg"))
    return;
  path = block_jpeg ("only-from.jpg");
  g_free (run_tool ("exiftool", "-q", "-overwrite_original", "-XMP-dc:Creator=Sssecret", "-XMP-xmpMM:HistoryAction=Sssecret", "-IPTC:By-line=Sssecret",
                    "-GPSLatitude=51.5", "-GPSLatitudeRef=N", path, NULL));
  for (int max_edge = 0; max_edge <= 100; max_edge += 100)
    {
      g_autoptr (WsPhotoCopy) copy = make_copy (path, &(WsRegion) { box, "a", "cap", NULL, NULL }, 1, max_edge);
      g_auto (GStrv) lines = NULL;

      write_copy (copy, out);
      text = (g_free (text), run_tool ("exiftool", "-a", "-u", "-G1", "-s", "-ee", "-struct", out, NULL));
      lines = g_strsplit (text, "\n", -1);
      for (guint i = 0; lines[i] != NULL && *lines[i] != '\0'; i++)
        {
          g_auto (GStrv) words = g_strsplit_set (lines[i], "[] ", -1);
          g_autoptr (GString) tag = g_string_new (words[1]);
          gboolean fine = FALSE;

          g_string_append_c (tag, ':');
          for (guint k = 2; words[k] != NULL && tag->str[tag->len - 1] == ':'; k++)
            g_string_append (tag, words[k]);
          for (guint k = 0; allowed[k] != NULL; k++)
            fine |= g_str_has_prefix (tag->str, allowed[k]);
          if (!fine)
            g_error ("%s is not allowed: %s", tag->str, lines[i]);
        }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  let_libvips_warn ();
  g_test_add_func ("/photo/regions/orientations", test_orientations);
  g_test_add_func ("/photo/regions/shapes", test_shapes);
  g_test_add_func ("/photo/regions/room", test_room);
  g_test_add_func ("/photo/regions/nothing-else", test_nothing_else);
  return g_test_run ();
}
