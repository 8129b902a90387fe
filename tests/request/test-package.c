/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bag-maker.h"
#include "byte-search.h"
#include "request-maker.h"

#include "ws-error.h"
#include "ws-file.h"
#include "ws-package.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <vips/vips.h>

#define SERIAL "SN-314159265"
#define ARTIST "Konrad Geheimrat"

static WsKnowledge *knowledge;
static char *folder;

/* --- Originals ------------------------------------------------------------------------------------ */

/* Grey noise; with a magenta block where maker_find() covers the second photo. */
static void
make_original (const char *name, gboolean with_block)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  VipsImage *noise = NULL, *grey = NULL, *bands = NULL, *base = NULL, *black = NULL, *block = NULL, *whole = NULL;
  double ones[] = { 1, 1, 1 }, magenta[] = { 255, 0, 255 };

  g_assert_cmpint (vips_gaussnoise (&noise, 1200, 900, "mean", 128.0, "sigma", 20.0, NULL), ==, 0);
  g_assert_cmpint (vips_cast_uchar (noise, &grey, NULL), ==, 0);
  g_assert_cmpint (vips_bandjoin ((VipsImage *[]) { grey, grey, grey }, &bands, 3, NULL), ==, 0);
  g_assert_cmpint (vips_copy (bands, &base, "interpretation", VIPS_INTERPRETATION_sRGB, NULL), ==, 0);
  g_assert_cmpint (vips_black (&black, 356, 266, "bands", 3, NULL), ==, 0);
  g_assert_cmpint (vips_linear (black, &block, ones, magenta, 3, "uchar", TRUE, NULL), ==, 0);
  if (with_block)
    g_assert_cmpint (vips_insert (base, block, &whole, 722, 47, NULL), ==, 0);
  g_assert_cmpint (vips_jpegsave (with_block ? whole : base, path, "Q", 90, NULL), ==, 0);
  g_object_unref (noise);
  g_object_unref (grey);
  g_object_unref (bands);
  g_object_unref (base);
  g_object_unref (black);
  g_object_unref (block);
  g_clear_object (&whole);
}

/* Fills every place of a file where a secret can sit. FALSE without exiftool. */
static gboolean
add_secrets (const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL), *exiftool = g_find_program_in_path ("exiftool");
  const char *argv[] = { exiftool, "-q", "-overwrite_original", "-n", "-SerialNumber=" SERIAL, "-LensSerialNumber=" SERIAL, "-Artist=" ARTIST,
                         "-Copyright=" ARTIST, "-GPSLatitude=51.987654321", "-GPSLatitudeRef=N", "-GPSLongitude=9.123456789", "-GPSLongitudeRef=E",
                         "-UserComment=" MAKER_ONLY_MINE, "-ImageDescription=" MAKER_ONLY_MINE, "-XMP-dc:Description=" MAKER_ONLY_MINE,
                         "-XMP-dc:Creator=" ARTIST, "-IPTC:City=" MAKER_ONLY_MINE, "-IPTC:By-line=" ARTIST, "-Comment=" MAKER_ONLY_MINE,
                         "-DateTimeOriginal=2025:10:04 14:03:22", "-OffsetTimeOriginal=+02:00", "-Make=Knipsomat", "-Model=K-1", path, NULL };
  g_autofree char *text = NULL, *longer = NULL;
  gsize size;
  int status;

  if (exiftool == NULL)
    return FALSE;
  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL, &status, NULL));
  g_assert_cmpint (status, ==, 0);
  g_assert_true (g_file_get_contents (path, &text, &size, NULL));
  longer = g_malloc (size + strlen (MAKER_ONLY_MINE));
  memcpy (longer, text, size);
  memcpy (longer + size, MAKER_ONLY_MINE, strlen (MAKER_ONLY_MINE));
  maker_put (folder, name, longer, (gssize) (size + strlen (MAKER_ONLY_MINE)));
  return TRUE;
}

static GHashTable *
paths_of (const WsRequest *request)
{
  static const char *const names[] = { "IMG_4711 Heidelbeerwinkel.JPG", "IMG_4712.JPG" };
  GHashTable *paths = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);

  for (guint i = 0; i < request->find->photos->len; i++)
    g_hash_table_insert (paths, ((WsFindPhoto *) g_ptr_array_index (request->find->photos, i))->photo->id,
                         g_build_filename (folder, names[i % 2], NULL));
  return paths;
}

/* --- Writing and taking apart ----------------------------------------------------------------------- */

typedef struct { guint last, total, cancel_at; GCancellable *cancellable; } Steps;

static void
count (guint done, guint total, gpointer data)
{
  Steps *steps = data;

  g_assert_cmpuint (done, ==, steps->last + 1);
  steps->last = done;
  steps->total = total;
  if (done == steps->cancel_at)
    g_cancellable_cancel (steps->cancellable);
}

/* The figure of the find's growth form. */
static WsFigure *
load_figure (void)
{
  g_autofree char *path = g_build_filename (g_getenv ("WS_SOURCE_ROOT"), "data", "figures", "gilled_stem.svg", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = ws_file_read (path, WS_FIGURE_MAX_BYTES, &error);
  WsFigure *figure;

  g_assert_no_error (error);
  figure = ws_figure_parse (path, bytes, &error);
  g_assert_no_error (error);
  return figure;
}

/* With everything that a package can have. */
static char *
write_package (const WsRequest *request, char **page_path)
{
  g_autoptr (WsFigure) figure = load_figure ();
  const WsPlateWish plate = { .figure = figure, .paper = WS_PAPER_A4 };
  g_autofree char *out = g_build_filename (folder, "out", NULL);
  char *path = g_build_filename (out, "package.zip", NULL);
  g_autoptr (GHashTable) paths = paths_of (request);
  g_autoptr (GError) error = NULL;
  g_autofree char *page = g_build_filename (out, "page.html", NULL);

  g_mkdir_with_parents (out, 0755);
  ws_package_write (request, paths, knowledge, path, page_path != NULL ? page : NULL, &plate, 0, NULL, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
  if (page_path != NULL)
    *page_path = g_steal_pointer (&page);
  return path;
}

static char *
text_of (GPtrArray *errors)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < errors->len; i++)
    g_string_append_printf (text, "%s\n", (char *) g_ptr_array_index (errors, i));
  return g_string_free (text, FALSE);
}

static void
assert_verdict (const char *path, gboolean bag, WsRequestVerdict request, const char *words)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsPackageVerdict) verdict = ws_package_verify (path, NULL, &error);
  g_autofree char *text = NULL;

  g_assert_no_error (error);
  text = text_of (verdict->bag->errors);
  g_test_message ("%s", text);
  if (verdict->bag->valid != bag || verdict->request != request)
    g_error ("bag %d, request %d: %s", verdict->bag->valid, verdict->request, text);
  if (words == NULL)
    g_assert_cmpstr (text, ==, "");
  else if (strstr (text, words) == NULL)
    g_error ("“%s” is not in %s", words, text);
}

static guint
count_below (const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  guint n = 0;

  while (dir != NULL && g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static void
clear_out (void)
{
  g_autofree char *out = g_build_filename (folder, "out", NULL);

  ws_file_remove_tree (out, NULL);
}

/* Every piece of bytes that leaves; the page beside the package is the one in it. */
static GPtrArray *
pieces_of (const char *path, const char *page_path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) inside = ws_bag_read_file (path, "data/request.html", 100 << 20, &error);
  g_autofree char *page = NULL;
  gsize size;

  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (page_path, &page, &size, NULL));
  g_assert_cmpmem (page, size, g_bytes_get_data (inside, NULL), g_bytes_get_size (inside));
  return search_pieces (path);
}

static void
assert_nowhere (GPtrArray *pieces, GPtrArray *words)
{
  g_autofree char *found = search_find (pieces, words);

  if (found != NULL)
    g_error ("%s", found);
}

/* --- Tests ------------------------------------------------------------------------------------------- */

static void
test_right (void)
{
  static const WsTellPlace tells[] = { WS_TELL_EXACT, WS_TELL_HUNDREDTH, WS_TELL_WITHHELD, WS_TELL_THOUSANDTH, WS_TELL_TENTH,
                                       WS_TELL_REGION };

  g_test_summary ("What is written verifies as bag and as request; progress runs to its end; the digest is that of the file");
  for (guint i = 0; i < G_N_ELEMENTS (tells); i++)
    {
      g_autoptr (WsRequest) request = maker_request (i > 0, tells[i], i == 1 ? "de" : "en");
      g_autofree char *path = g_build_filename (folder, "out", "package.zip", NULL), *digest = NULL, *sum = NULL, *out = g_build_filename (folder, "out", NULL);
      g_autoptr (GHashTable) paths = paths_of (request);
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) json = NULL;
      Steps steps = { 0 };

      g_mkdir_with_parents (out, 0755);
      ws_package_write (request, paths, knowledge, path, NULL, NULL, 0, count, &steps, NULL, &digest, &error);
      g_assert_no_error (error);
      g_assert_cmpuint (steps.last, ==, steps.total);
      assert_verdict (path, TRUE, WS_REQUEST_VALID, NULL);
      json = ws_bag_read_file (path, "data/request.json", 1 << 20, &error);
      g_assert_no_error (error);
      sum = g_compute_checksum_for_bytes (G_CHECKSUM_SHA512, json);
      g_assert_cmpstr (digest, ==, sum);
      g_assert_cmpuint (count_below ("out"), ==, 1);
      clear_out ();
    }
}

static void
assert_no_metadata (GPtrArray *pieces)
{
  static const char *const never[] = { "GPS", "Serial", "Artist", "Creator", "Comment", "MakerNote", "[IPTC]", "[XMP-dc", "[XMP-xmp", "[XMP-exif", "[XMP-photoshop", "Thumbnail", "Knipsomat", "2025:10:04" };
  g_autofree char *exiftool = g_find_program_in_path ("exiftool");
  guint n = 0;

  for (guint i = 0; i < pieces->len; i++)
    {
      g_autofree char *path = g_build_filename (folder, "piece.jpg", NULL), *out = NULL;
      const char *argv[] = { exiftool, "-a", "-G1", "-s", "-ee", path, NULL };
      gsize size;
      const char *data = g_bytes_get_data (g_ptr_array_index (pieces, i), &size);

      if (!search_is_jpeg (g_ptr_array_index (pieces, i)))
        continue;
      n++;
      maker_put (folder, "piece.jpg", data, (gssize) size);
      g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &out, NULL, NULL, NULL));
      for (gsize j = 0; j < G_N_ELEMENTS (never); j++)
        if (strstr (out, never[j]) != NULL)
          g_error ("exiftool finds %s in piece %u: %s", never[j], i, out);
      g_unlink (path);
    }
  /* Two copies, two pictures of the page, three close-ups, the plate. */
  g_assert_cmpuint (n, ==, 8);
}

static void
test_secrets (void)
{
  static const WsTellPlace tells[] = { WS_TELL_THOUSANDTH, WS_TELL_HUNDREDTH, WS_TELL_TENTH, WS_TELL_REGION, WS_TELL_WITHHELD };

  g_test_summary ("No byte of a package tells only-mine text, the exact place, the camera, its serial number or the names of files");
  if (!add_secrets ("IMG_4711 Heidelbeerwinkel.JPG") || !add_secrets ("IMG_4712.JPG"))
    {
      g_test_skip ("exiftool is not installed");
      return;
    }
  for (guint i = 0; i < 2 * G_N_ELEMENTS (tells); i++)
    {
      g_autoptr (WsRequest) request = maker_request (TRUE, tells[i / 2], "en");
      g_autofree char *page = NULL, *path = NULL;
      double step = ws_tell_place_step (tells[i / 2]);
      g_autoptr (GPtrArray) pieces = NULL, words = search_notations (MAKER_LATITUDE, MAKER_LONGITUDE, isnan (step) ? 0 : step);
      static const char *const secrets[] = { MAKER_ONLY_MINE, "Heidelbeerwinkel", "Hochsitz", SERIAL, ARTIST, "IMG_471", "Knipsomat", "14:03", "14:05", "T14:0" };

      /* Also when somebody forgot to take the secrets out of the find. */
      if (i % 2)
        {
          ws_find_unref (request->find);
          request->find = maker_find (TRUE);
          request->place = request->find->where;
        }
      path = write_package (request, &page);
      pieces = pieces_of (path, page);
      for (gsize j = 0; j < G_N_ELEMENTS (secrets); j++)
        search_add_word (words, secrets[j]);
      assert_nowhere (pieces, words);
      assert_no_metadata (pieces);
      clear_out ();
    }
}

/* So that the search above is known to find what is there. */
static void
test_search_finds (void)
{
  g_autoptr (WsRequest) request = maker_request (TRUE, WS_TELL_EXACT, "en");
  g_autofree char *page = NULL, *path = write_package (request, &page);
  g_autoptr (GPtrArray) pieces = pieces_of (path, page), notations = search_notations (MAKER_LATITUDE, MAKER_LONGITUDE, 0);
  static const char *const told[] = { "51.98765", "9.12346", "14:03", "K-1" };
  g_autofree char *found = search_find (pieces, notations);

  g_test_summary ("An exact request does tell place, time and camera, where the search looks");
  g_assert_nonnull (found);
  for (gsize j = 0; j < G_N_ELEMENTS (told); j++)
    {
      g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);

      search_add_word (words, told[j]);
      g_free (found);
      found = search_find (pieces, words);
      g_assert_nonnull (found);
    }
  clear_out ();
}

static void
test_covered (void)
{
  g_autoptr (WsRequest) request = maker_request (TRUE, WS_TELL_HUNDREDTH, "en");
  g_autofree char *page = NULL, *path = NULL;
  g_autoptr (GPtrArray) pieces = NULL;
  WsMark *over = ws_mark_copy (g_ptr_array_index (request->find->marks, 2));
  guint n = 0;

  g_test_summary ("A covered region is painted over in the copy, in the picture of the page and in a close-up over it");
  ws_set_string (&over->id, "44444444-4444-4444-8444-44444444444f");
  ws_shape_free (over->shape);
  over->shape = ws_shape_new_box (&(WsRect) { 0.5, 0, 0.5, 0.5 });
  g_ptr_array_add (request->find->marks, over);
  path = write_package (request, &page);
  pieces = pieces_of (path, page);
  for (guint i = 0; i < pieces->len; i++)
    {
      VipsImage *image = NULL, *red = NULL, *green = NULL, *difference = NULL;
      gsize size;
      const void *data = g_bytes_get_data (g_ptr_array_index (pieces, i), &size);
      double most;

      if (!search_is_jpeg (g_ptr_array_index (pieces, i)))
        continue;
      g_assert_cmpint (vips_jpegload_buffer ((void *) data, size, &image, NULL), ==, 0);
      g_assert_cmpint (vips_extract_band (image, &red, 0, NULL), ==, 0);
      g_assert_cmpint (vips_extract_band (image, &green, 1, NULL), ==, 0);
      g_assert_cmpint (vips_subtract (red, green, &difference, NULL), ==, 0);
      g_assert_cmpint (vips_max (difference, &most, NULL), ==, 0);
      /* The block has 255 between red and green, the noise none, JPEG a little. */
      g_assert_cmpfloat (most, <, 60);
      n++;
      g_object_unref (image);
      g_object_unref (red);
      g_object_unref (green);
      g_object_unref (difference);
    }
  g_assert_cmpuint (n, ==, 9);
  clear_out ();
}

static void
test_no_base (void)
{
  g_autoptr (WsRequest) request = maker_request (FALSE, WS_TELL_HUNDREDTH, "en");
  g_autoptr (GHashTable) paths = paths_of (request);
  g_autofree char *out = g_build_filename (folder, "out", NULL), *path = g_build_filename (out, "package.zip", NULL), *other = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("Without the base and without a reason nothing is written, except in an emergency");
  ws_set_string (&request->without_base, "");
  g_mkdir_with_parents (out, 0755);
  g_assert_false (ws_package_write (request, paths, knowledge, path, NULL, NULL, 0, NULL, NULL, NULL, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_REFUSED);
  g_assert_cmpuint (count_below ("out"), ==, 0);
  request->emergency = TRUE;
  other = write_package (request, NULL);
  assert_verdict (other, TRUE, WS_REQUEST_VALID, NULL);
  clear_out ();
}

static void
test_cancel (void)
{
  g_autoptr (WsRequest) request = maker_request (TRUE, WS_TELL_HUNDREDTH, "en");
  g_autoptr (GHashTable) paths = paths_of (request);
  g_autofree char *out = g_build_filename (folder, "out", NULL), *path = g_build_filename (out, "package.zip", NULL);
  g_autofree char *page = g_build_filename (out, "page.html", NULL);

  g_test_summary ("Cancelled at any step, neither the zip nor the page is there");
  g_mkdir_with_parents (out, 0755);
  for (guint at = 1; at <= 9; at++)
    {
      g_autoptr (GCancellable) cancellable = g_cancellable_new ();
      g_autoptr (GError) error = NULL;
      Steps steps = { 0, 0, at, cancellable };

      g_assert_false (ws_package_write (request, paths, knowledge, path, page, NULL, 0, count, &steps, cancellable, NULL, &error));
      g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
      g_assert_cmpuint (steps.total, ==, 9);
      g_assert_cmpuint (count_below ("out"), ==, 0);
    }
  clear_out ();
}

static void
test_missing (void)
{
  g_autoptr (WsRequest) request = maker_request (TRUE, WS_TELL_HUNDREDTH, "en");
  g_autoptr (GHashTable) paths = paths_of (request);
  g_autofree char *out = g_build_filename (folder, "out", NULL), *path = g_build_filename (out, "package.zip", NULL);
  g_autofree char *page = g_build_filename (folder, "none", "page.html", NULL);
  g_autoptr (GError) error = NULL;

  g_test_summary ("A photo that is gone, or a page that cannot be written, leaves nothing behind");
  g_mkdir_with_parents (out, 0755);
  g_assert_false (ws_package_write (request, paths, knowledge, path, page, NULL, 0, NULL, NULL, NULL, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
  g_assert_cmpuint (count_below ("out"), ==, 0);
  g_clear_error (&error);
  g_hash_table_remove_all (paths);
  g_assert_false (ws_package_write (request, paths, knowledge, path, NULL, NULL, 0, NULL, NULL, NULL, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
  g_assert_cmpuint (count_below ("out"), ==, 0);
  clear_out ();
}

/* --- Verifying what was changed ------------------------------------------------------------------------- */

static void
append_byte (const char *root, const char *inside)
{
  g_autofree char *path = g_build_filename (root, inside, NULL), *text = NULL;
  gsize size;

  g_assert_true (g_file_get_contents (path, &text, &size, NULL));
  text = g_realloc (text, size + 1);
  text[size] = 'x';
  maker_put (root, inside, text, (gssize) size + 1);
}

/* Writes the manifest anew, as a forger would. */
static void
seal (const char *root)
{
  const char *argv[] = { "sh", "-c", "rm -f tagmanifest-sha512.txt bag-info.txt; find data -type f -exec sha512sum {} + > manifest-sha512.txt", NULL };
  int status;

  g_assert_true (g_spawn_sync (root, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, &status, NULL));
  g_assert_cmpint (status, ==, 0);
}

static void
replace (const char *root, const char *inside, const char *from, const char *to)
{
  g_autofree char *path = g_build_filename (root, inside, NULL), *text = NULL;
  g_autoptr (GString) changed = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  changed = g_string_new (text);
  g_assert_cmpuint (g_string_replace (changed, from, to, 1), ==, 1);
  maker_put (root, inside, changed->str, (gssize) changed->len);
}

static void
drop (const char *root, const char *inside)
{
  g_autofree char *path = g_build_filename (root, inside, NULL);

  g_assert_cmpint (g_unlink (path), ==, 0);
}

static void change_nothing (const char *r) { }
static void change_photo (const char *r) { append_byte (r, "data/photos/25-101-01.jpg"); }
static void forge_photo (const char *r) { change_photo (r); seal (r); }
static void forge_question (const char *r) { replace (r, "data/request.json", "\"emergency\" : false", "\"emergency\" : 7"); seal (r); }
static void forge_mark (const char *r) { replace (r, "data/request.json", "\"width\" : 0.4", "\"width\" : 0.9"); seal (r); }
static void forge_text (const char *r) { maker_put (r, "data/request.json", "no json", -1); seal (r); }
static void forge_newer (const char *r) { replace (r, "data/request.json", "\"0.2\"", "\"3.0\""); seal (r); }
static void drop_page (const char *r) { drop (r, "data/request.html"); seal (r); }
static void drop_photo (const char *r) { drop (r, "data/photos/25-101-02.jpg"); seal (r); }
static void drop_json (const char *r) { drop (r, "data/request.json"); seal (r); }
static void lose_photo (const char *r) { drop (r, "data/photos/25-101-02.jpg"); }

static void
test_verify (void)
{
  static const struct { void (*act) (const char *root); gboolean bag; WsRequestVerdict request; const char *words; } cases[] = {
    { change_nothing, TRUE, WS_REQUEST_VALID, NULL },
    { seal, TRUE, WS_REQUEST_VALID, NULL },
    { change_photo, FALSE, WS_REQUEST_INVALID, "was changed" },
    { lose_photo, FALSE, WS_REQUEST_INVALID, "missing" },
    { forge_photo, TRUE, WS_REQUEST_INVALID, "digest" },
    { forge_question, TRUE, WS_REQUEST_INVALID, "emergency" },
    { forge_mark, TRUE, WS_REQUEST_INVALID, "find.marks[0].shape" },
    { forge_text, TRUE, WS_REQUEST_INVALID, "JSON" },
    { forge_newer, TRUE, WS_REQUEST_INVALID, "newer" },
    { drop_page, TRUE, WS_REQUEST_INVALID, "request.html" },
    { drop_photo, TRUE, WS_REQUEST_INVALID, "25-101-02.jpg" },
    { drop_json, TRUE, WS_REQUEST_NONE, NULL },
  };
  g_autoptr (WsRequest) request = maker_request (TRUE, WS_TELL_HUNDREDTH, "en");
  g_autofree char *path = write_package (request, NULL), *unzip = g_find_program_in_path ("unzip");

  g_test_summary ("Unpacked and changed, with manifests old or forged: bag and request are judged apart");
  if (unzip == NULL)
    {
      g_test_skip ("unzip is not installed");
      return;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *apart = g_build_filename (folder, "apart", NULL), *root = g_build_filename (apart, "25-101-2025-10-04", NULL);
      const char *argv[] = { unzip, "-q", path, "-d", apart, NULL };
      int status;

      g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL, &status, NULL));
      g_assert_cmpint (status, ==, 0);
      cases[i].act (root);
      assert_verdict (root, cases[i].bag, cases[i].request, cases[i].words);
      ws_file_remove_tree (apart, NULL);
    }
  clear_out ();
}

static void
test_verify_others (void)
{
  g_autofree char *root = g_build_filename (folder, "plain", NULL), *none = g_build_filename (folder, "none", NULL);
  g_autoptr (GError) error = NULL;

  g_test_summary ("A bag that is no request is none; what is not there is an error");
  maker_bag (root, "0.97", "md5");
  assert_verdict (root, TRUE, WS_REQUEST_NONE, NULL);
  g_assert_null (ws_package_verify (none, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
}

int
main (int argc, char **argv)
{
  int status;

  if (VIPS_INIT (argv[0]) != 0)
    return 1;
  g_test_init (&argc, &argv, NULL);
  knowledge = maker_knowledge ();
  folder = maker_folder ();
  make_original ("IMG_4711 Heidelbeerwinkel.JPG", FALSE);
  make_original ("IMG_4712.JPG", TRUE);
  g_test_add_func ("/request/package/right", test_right);
  g_test_add_func ("/request/package/secrets", test_secrets);
  g_test_add_func ("/request/package/search-finds", test_search_finds);
  g_test_add_func ("/request/package/covered", test_covered);
  g_test_add_func ("/request/package/no-base", test_no_base);
  g_test_add_func ("/request/package/cancel", test_cancel);
  g_test_add_func ("/request/package/missing", test_missing);
  g_test_add_func ("/request/package/verify", test_verify);
  g_test_add_func ("/request/package/verify-others", test_verify_others);
  status = g_test_run ();
  ws_file_remove_tree (folder, NULL);
  g_free (folder);
  ws_knowledge_unref (knowledge);
  vips_shutdown ();
  return status;
}
