/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-test-library.h"

#include "ws-ask.h"
#include "ws-bag.h"
#include "ws-picture.h"
#include "ws-plate-make.h"
#include "ws-record.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

/* --- A find with a base and a cap ------------------------------------------------------------------ */

static void
add_mark (TestDesk *test, const char *part, WsRect box, const char *kind)
{
  g_autofree char *photo = test_photo_id (test, "a1.jpg"), *id = NULL;
  g_autoptr (WsShape) shape = ws_shape_new_box (&box);
  g_autoptr (GError) error = NULL;

  id = ws_record_mark (test->desk, "25-001", photo, part, NULL, shape, kind, &error);
  g_assert_no_error (error);
}

static TestDesk
begin (void)
{
  TestDesk test = test_begin ();
  g_autoptr (GError) error = NULL;

  g_free (test_photo (&test, "a1.jpg", 1, 3200, "2025-10-04T14:03:22", 51.2345678, -30.5432109));
  test_import (&test);
  add_mark (&test, "stem_base", (WsRect) { 0.1, 0.1, 0.5, 0.5 }, "cleaned");
  add_mark (&test, "cap", (WsRect) { 0.5, 0.5, 0.4, 0.4 }, "");
  g_assert_true (ws_record_note (test.desk, "25-001", "growth_form", "gilled_stem", TRUE, FALSE, "", &error));
  g_assert_true (ws_record_note (test.desk, "25-001", "odour", "flour", TRUE, FALSE, "", &error) || error != NULL);
  g_clear_error (&error);
  g_assert_true (ws_record_set (test.desk, "25-001", "only-mine", "SECRETSPOT", &error));
  g_assert_true (ws_record_set (test.desk, "25-001", "locality", "beside the quarry", &error));
  g_assert_no_error (error);
  return test;
}

/* What a program of others says of a file; NULL, and the test skipped by name, when it is not there. */
static char *
ask (const char *const *argv)
{
  g_autofree char *program = g_find_program_in_path (argv[0]), *out = NULL, *trouble = NULL;
  g_autoptr (GError) error = NULL;
  int status;

  if (program == NULL)
    {
      g_autofree char *why = g_strconcat (argv[0], " is not installed", NULL);

      g_test_skip (why);
      return NULL;
    }
  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &trouble, &status, &error);
  g_assert_no_error (error);
  if (!g_spawn_check_wait_status (status, &error))
    g_error ("%s: %s %s", argv[0], error->message, trouble);
  return g_steal_pointer (&out);
}

static char *
save (TestDesk *test, WsPlateFormat format, gboolean sideways, WsTellPlace tell)
{
  WsPlateOptions options = { format, WS_PAPER_A4, sideways, tell };
  char *path = g_build_filename (test->folder, format == WS_PLATE_PDF ? "plate.pdf" : "plate.png", NULL);
  g_autoptr (GError) error = NULL;

  g_assert_true (ws_plate_save (test->desk, "25-001", &options, path, NULL, &error));
  g_assert_no_error (error);
  return path;
}

/* --- Tests ----------------------------------------------------------------------------------------------- */

static void
test_pdf (void)
{
  TestDesk test = begin ();
  g_autofree char *path = save (&test, WS_PLATE_PDF, FALSE, WS_TELL_HUNDREDTH);
  g_autofree char *info = ask ((const char *const[]) { "pdfinfo", path, NULL });
  g_autofree char *text = ask ((const char *const[]) { "pdftotext", "-layout", path, "-", NULL });
  g_autofree char *fonts = ask ((const char *const[]) { "pdffonts", path, NULL });
  g_auto (GStrv) lines = fonts != NULL ? g_strsplit (fonts, "\n", -1) : NULL;

  g_test_summary ("pdfinfo: one A4 page; pdftotext: number, place as told, cautions, what is missing, nothing private; pdffonts: "
                  "every font is in the file");
  if (info == NULL || text == NULL || fonts == NULL)
    {
      test_end (&test);
      return;
    }
  g_test_message ("%s", info);
  g_assert_nonnull (strstr (info, "Pages:           1\n"));
  g_assert_nonnull (strstr (info, "(A4)"));
  g_assert_nonnull (strstr (text, "25-001"));
  g_assert_nonnull (strstr (text, "51.23, -30.54"));
  g_assert_null (strstr (text, "51.234"));
  g_assert_null (strstr (text, "SECRETSPOT"));
  g_assert_nonnull (strstr (text, "beside the quarry"));
  g_assert_nonnull (strstr (text, ws_knowledge_text (test.desk->knowledge, test.desk->language, "view", "v_under")));
  for (guint i = 2; lines[i] != NULL && *lines[i] != '\0'; i++)
    {
      g_test_message ("%s", lines[i]);
      /* Columns from the right: object (2), unicode, subset, embedded. */
      g_assert_true (g_regex_match_simple (" yes (yes|no) +(yes|no) +[0-9]+ +0$", lines[i], 0, 0));
    }
  test_end (&test);
}

/* Everything that exiftool finds, and the page's objects unpacked. */
static void
test_nothing_private (void)
{
  TestDesk test = begin ();
  g_autofree char *path = save (&test, WS_PLATE_PDF, FALSE, WS_TELL_WITHHELD);
  g_autofree char *facts = ask ((const char *const[]) { "exiftool", "-a", "-G1", "-s", "-ee", path, NULL });
  static const char *const never[] = { "GPS", "51.2", "30.54", "SECRETSPOT", "quarry", "14:03", "a1.jpg", "Exif", "Author" };
  g_autofree char *text = ask ((const char *const[]) { "pdftotext", path, "-", NULL });
  g_autofree char *bytes = NULL, *folder = g_path_get_dirname (path);
  gsize size;

  g_test_summary ("a withheld place: neither exiftool nor pdftotext nor the bytes tell it, a time of day, a file name or a camera; the day "
                  "of making has no time and no zone");
  if (facts == NULL || text == NULL)
    {
      test_end (&test);
      return;
    }
  g_test_message ("%s", facts);
  for (guint i = 0; i < G_N_ELEMENTS (never); i++)
    {
      const char *about = strstr (facts, "[PDF]");

      g_assert_nonnull (about);
      if (strstr (about, never[i]) != NULL || strstr (text, never[i]) != NULL)
        g_error ("“%s” is told", never[i]);
    }
  g_assert_nonnull (strstr (facts, "00:00:00Z"));
  g_assert_true (g_file_get_contents (path, &bytes, &size, NULL));
  g_assert_null (g_strstr_len (bytes, (gssize) size, folder));
  g_assert_null (g_strstr_len (bytes, (gssize) size, g_get_user_name ()));
  g_assert_null (g_strstr_len (bytes, (gssize) size, "http://ns.adobe.com/xap"));
  test_end (&test);
}

/* The crops in the PDF: as many px as 300 dpi ask for, or all that the photo has. */
static void
test_dpi (void)
{
  TestDesk test = begin ();
  g_autofree char *path = save (&test, WS_PLATE_PDF, TRUE, WS_TELL_HUNDREDTH);
  g_autofree char *list = ask ((const char *const[]) { "pdfimages", "-list", path, NULL });
  g_auto (GStrv) lines = list != NULL ? g_strsplit (list, "\n", -1) : NULL;
  guint n = 0;

  g_test_summary ("pdfimages: two crops, JPEG, 295 to 310 dpi or the full size of the mark");
  for (guint i = 2; list != NULL && lines[i] != NULL && *lines[i] != '\0'; i++)
    {
      int page, number, width, height, x_ppi, y_ppi;
      char type[16], colour[16], encoding[16];

      g_test_message ("%s", lines[i]);
      g_assert_cmpint (sscanf (lines[i], "%d %d %15s %d %d %15s %*s %*s %15s %*s %*s %*s %d %d", &page, &number, type, &width, &height,
                               colour, encoding, &x_ppi, &y_ppi), ==, 9);
      g_assert_cmpstr (encoding, ==, "jpeg");
      g_assert_true ((x_ppi >= 295 && x_ppi <= 310) || width == 1600 || width == 1280);
      g_assert_cmpint (ABS (x_ppi - y_ppi), <=, 3);
      n++;
    }
  g_assert_cmpuint (n, ==, list != NULL ? 2 : 0);
  test_end (&test);
}

static guint
count_colours (const char *path, int x, int y, int width, int height)
{
  cairo_surface_t *image = cairo_image_surface_create_from_png (path);
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);

  g_assert_cmpint (cairo_surface_status (image), ==, CAIRO_STATUS_SUCCESS);
  for (int j = y; j < y + height; j++)
    for (int i = x; i < x + width; i++)
      {
        const guint8 *row = cairo_image_surface_get_data (image) + (gsize) j * (gsize) cairo_image_surface_get_stride (image);

        g_hash_table_add (seen, GUINT_TO_POINTER (((const guint32 *) (gconstpointer) row)[i] & 0xfcfcfc));
      }
  cairo_surface_destroy (image);
  return g_hash_table_size (seen);
}

/* Where the base stands: laid out again as the file was. */
static WsPlateBox
base_box (TestDesk *test)
{
  g_autoptr (WsFind) find = test_find (test, "25-001");
  g_autoptr (WsFigure) figure = ws_plate_load_figure ("gilled_stem", NULL);
  g_autoptr (WsRequest) request = ws_plate_make_up (test->desk, find, WS_TELL_HUNDREDTH);
  g_autoptr (WsPlate) plate = ws_plate_new (request, test->desk->knowledge, figure, NULL);
  WsPlateSheet sheet = ws_plate_sheet_of_paper (WS_PAPER_A4, FALSE);

  g_assert_true (ws_plate_lay_out (plate, &sheet));
  for (guint i = 0; i < ws_plate_get_n_parts (plate); i++)
    if (g_str_equal (ws_plate_get_view (plate, i), "v_base"))
      return ws_plate_get_box (plate, i);
  g_assert_not_reached ();
}

static void
test_covered (void)
{
  TestDesk test = begin ();
  g_autofree char *open = save (&test, WS_PLATE_PNG, FALSE, WS_TELL_HUNDREDTH), *photo = test_photo_id (&test, "a1.jpg");
  g_autoptr (WsShape) cover = ws_shape_new_box (&(WsRect) { 0.15, 0.15, 0.18, 0.3 });
  WsPlateBox box = base_box (&test);
  int x = (int) ((box.x + box.width / 2) * 300 / 72), y = (int) ((box.y + 20) * 300 / 72);
  g_autofree char *id = NULL, *covered = NULL;
  g_autoptr (GError) error = NULL;
  guint before = count_colours (open, x - 60, y, 40, 40), after;

  g_test_summary ("PNG at 300 dpi; what is covered is one grey on the plate");
  id = ws_record_cover (test.desk, photo, cover, &error);
  g_assert_no_error (error);
  covered = save (&test, WS_PLATE_PNG, FALSE, WS_TELL_HUNDREDTH);
  box = base_box (&test);
  /* The picture stands somewhere in its box: the share of one grey tells. */
  {
    int x0 = (int) (box.x * 300 / 72), y0 = (int) (box.y * 300 / 72), w = (int) (box.width * 300 / 72), h = (int) (box.height * 300 / 72);
    guint greys = 0, all = 0;
    cairo_surface_t *image = cairo_image_surface_create_from_png (covered);

    g_assert_cmpint (cairo_image_surface_get_width (image), ==, (int) (210 / 25.4 * 300));
    for (int j = y0; j < y0 + h; j++)
      for (int i = x0; i < x0 + w; i++)
        {
          const guint8 *row = cairo_image_surface_get_data (image) + (gsize) j * (gsize) cairo_image_surface_get_stride (image);
          guint32 c = ((const guint32 *) (gconstpointer) row)[i] & 0xffffff;

          all++;
          greys += ABS ((int) (c & 0xff) - 0x80) < 6 && ABS ((int) (c >> 8 & 0xff) - 0x80) < 6 && ABS ((int) (c >> 16) - 0x80) < 6;
        }
    after = greys * 100 / MAX (all, 1);
    cairo_surface_destroy (image);
  }
  g_test_message ("%u colours before; %u %% of the box is the one grey after", before, after);
  g_assert_cmpuint (before, >, 4);
  g_assert_cmpuint (after, >, 8);
  test_end (&test);
}

static void
test_choices (void)
{
  static const char *const texts[] = { "", "v_base=1a v_top=2b", "v_top=2b", NULL };
  static const char *const odd[] = { "v_base", "=1a", "v_base=", "  ", "a=b=c d" };

  g_test_summary ("chosen crops read back from the library's text; what is not of its form is left out");
  for (guint i = 0; texts[i] != NULL; i++)
    {
      g_autoptr (GHashTable) choices = ws_plate_choices_parse (texts[i]);
      g_autofree char *text = ws_plate_choices_to_text (choices);

      g_assert_cmpstr (text, ==, texts[i]);
    }
  for (guint i = 0; i < G_N_ELEMENTS (odd); i++)
    {
      g_autoptr (GHashTable) choices = ws_plate_choices_parse (odd[i]);

      g_assert_cmpuint (g_hash_table_size (choices), ==, i == 4 ? 1 : 0);
    }
  {
    g_autoptr (GHashTable) none = ws_plate_choices_parse (NULL);

    g_assert_cmpuint (g_hash_table_size (none), ==, 0);
  }
}

static void
test_package (void)
{
  TestDesk test = begin ();
  g_autofree char *path = g_build_filename (test.folder, "out.zip", NULL);
  WsAskOptions options = WS_ASK_OPTIONS_INIT;
  g_autoptr (GBytes) pdf = NULL;
  g_autoptr (WsBagVerdict) verdict = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("the plate is in the package, and the bag is valid with it");
  options.without_base = "none";
  g_assert_true (ws_ask (test.desk, "25-001", &options, path, FALSE, NULL, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
  verdict = ws_bag_verify (path, NULL, &error);
  g_assert_true (verdict->valid);
  pdf = ws_bag_read_file (path, "data/plate.pdf", 20 * 1000 * 1000, &error);
  g_assert_no_error (error);
  g_assert_true (g_str_has_prefix (g_bytes_get_data (pdf, NULL), "%PDF-"));
  test_end (&test);
}

static void
test_gone (void)
{
  TestDesk test = begin ();
  g_autofree char *photo = g_build_filename (test.photos, "a1.jpg", NULL), *path = g_build_filename (test.folder, "p.pdf", NULL);
  WsPlateOptions options = { WS_PLATE_PDF, WS_PAPER_A4, FALSE, WS_TELL_HUNDREDTH };
  g_autoptr (GError) error = NULL;

  g_test_summary ("a photo that is gone: an error in words and no file");
  g_assert_cmpint (g_unlink (photo), ==, 0);
  g_assert_false (ws_plate_save (test.desk, "25-001", &options, path, NULL, &error));
  g_assert_nonnull (error);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  g_test_add_func ("/work/plate-make/pdf", test_pdf);
  g_test_add_func ("/work/plate-make/nothing-private", test_nothing_private);
  g_test_add_func ("/work/plate-make/dpi", test_dpi);
  g_test_add_func ("/work/plate-make/covered", test_covered);
  g_test_add_func ("/work/plate-make/choices", test_choices);
  g_test_add_func ("/work/plate-make/package", test_package);
  g_test_add_func ("/work/plate-make/gone", test_gone);
  return g_test_run ();
}
