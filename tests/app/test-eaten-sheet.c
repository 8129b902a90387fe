/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-eaten-sheet.h"

#include <cairo-pdf.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "ws-picture.h"
#include "ws-record.h"
#include "ws-test-library.h"

/* Without white space: where the lines break is not what is tested. (transfer full) */
static char *
dup_unspaced (const char *text)
{
  GString *out = g_string_new (NULL);

  for (const char *p = text; *p != '\0'; p++)
    if (!g_ascii_isspace (*p))
      g_string_append_c (out, *p);
  return g_string_free (out, FALSE);
}

/* Where the page says the text with that id in the language of the run; NULL: nowhere. */
static const char *
find_text (TestDesk *test, const char *page, const char *id)
{
  g_autofree char *text = dup_unspaced (ws_knowledge_text (test->desk->knowledge, test->desk->language, "eaten", id));

  g_assert_cmpstr (text, !=, "");
  return strstr (page, text);
}

/* Prints the sheet and reads the text back, without white space, with pdftotext (poppler, Debian). (transfer full) */
static char *
print_and_read (TestDesk *test, const char *find_id, const char *number, int *n_pages)
{
  g_autoptr (GError) error = NULL;
  WsEatenWish wish = { (char *) find_id, (char *) number };
  WsTextSheet *sheet = ws_eaten_sheet_make (test->desk, &wish, NULL, &error);
  g_autofree char *path = g_build_filename (test->folder, "eaten.pdf", NULL), *text = NULL;
  cairo_surface_t *surface = cairo_pdf_surface_create (path, 595, 842);
  cairo_t *cr = cairo_create (surface);

  g_assert_no_error (error);
  *n_pages = ws_text_sheet_paginate (cr, 595, 842, sheet);
  for (int i = 0; i < *n_pages; i++)
    {
      ws_text_sheet_draw (cr, i, 595, 842, sheet);
      cairo_show_page (cr);
    }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  ws_text_sheet_free (sheet);
  {
    const char *argv[] = { "pdftotext", "-layout", path, "-", NULL };

    g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL, NULL, &error));
    g_assert_no_error (error);
  }
  return dup_unspaced (text);
}

static gboolean
have_pdftotext (void)
{
  g_autofree char *program = g_find_program_in_path ("pdftotext");

  if (program == NULL)
    g_test_skip ("pdftotext (poppler-utils) is not installed");
  return program != NULL;
}

static void
test_empty_library (void)
{
  TestDesk test = test_begin ();
  g_autofree char *text = NULL;
  const char *number, *say, *keep;
  int n_pages;

  g_test_summary ("SAFETY: with an empty library the page still leads with the number, then what to say, then what to keep");
  if (have_pdftotext ())
    {
      text = print_and_read (&test, NULL, "555 0100", &n_pages);
      g_assert_cmpint (n_pages, ==, 1);
      number = strstr (text, "5550100");
      say = find_text (&test, text, "say_who");
      keep = find_text (&test, text, "keep_1");
      g_assert_nonnull (number);
      g_assert_nonnull (say);
      g_assert_nonnull (keep);
      g_assert_true (number < say && say < keep);
    }
  test_end (&test);
}

static void
test_with_find (void)
{
  TestDesk test = test_begin ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = NULL;
  g_autofree char *text = NULL, *gone = NULL;
  int n_pages;

  g_test_summary ("A find's notes come as recorded, unsure ones named so; many photos go on to further pages; a lost photo is named");
  if (!have_pdftotext ())
    {
      test_end (&test);
      return;
    }
  for (guint i = 0; i < 9; i++)
    {
      g_autofree char *name = g_strdup_printf ("p%u.jpg", i);
      g_autofree char *taken = g_strdup_printf ("2025-10-04T14:0%u:00", i);

      g_free (gone);
      gone = test_photo (&test, name, i, 320, taken, NAN, NAN);
    }
  test_import (&test);
  find = test_find (&test, "25-001");
  g_assert_true (ws_record_note (test.desk, find->id, "ring", "hanging", FALSE, FALSE, "", &error));
  g_assert_no_error (error);
  g_assert_cmpint (g_unlink (gone), ==, 0);
  text = print_and_read (&test, find->id, "", &n_pages);
  g_assert_cmpint (n_pages, >, 1);
  g_assert_nonnull (strstr (text, "25-001"));
  g_assert_nonnull (strstr (text, "(unsure)"));
  g_assert_nonnull (strstr (text, "p8.jpg"));
  test_end (&test);
}

/* How far apart the values of the page's first picture lie, by pdfimages (poppler) and the program's own decoder. */
static int
spread_of_picture (TestDesk *test)
{
  g_autofree char *pdf = g_build_filename (test->folder, "eaten.pdf", NULL);
  g_autofree char *root = g_build_filename (test->folder, "image", NULL);
  g_autofree char *path = g_strconcat (root, "-000.jpg", NULL);
  const char *argv[] = { "pdfimages", "-j", pdf, root, NULL };
  g_autoptr (GError) error = NULL;
  g_autoptr (WsPicture) picture = NULL;
  const guint8 *pixels;
  gsize size;
  int least = 255, most = 0;

  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
  picture = ws_picture_decode_file (path, 0, NULL, &error);
  g_assert_no_error (error);
  pixels = g_bytes_get_data (picture->pixels, &size);
  for (gsize i = 0; i < size; i++)
    {
      least = MIN (least, pixels[i]);
      most = MAX (most, pixels[i]);
    }
  return most - least;
}

static void
test_covers (void)
{
  TestDesk test = test_begin ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = NULL;
  g_autoptr (WsShape) all = ws_shape_new_box (&(WsRect) { 0, 0, 1, 1 });
  g_autofree char *photo = NULL, *cover = NULL, *text = NULL;
  int bare, covered;
  int n_pages;

  g_test_summary ("SAFETY: what is covered is painted over on paper as well");
  if (have_pdftotext ())
    {
      g_free (test_photo (&test, "a1.jpg", 1, 320, "2025-10-04T14:00:00", NAN, NAN));
      test_import (&test);
      find = test_find (&test, "25-001");
      photo = test_photo_id (&test, "a1.jpg");
      text = print_and_read (&test, find->id, "", &n_pages);
      bare = spread_of_picture (&test);
      cover = ws_record_cover (test.desk, photo, all, &error);
      g_assert_no_error (error);
      g_free (text);
      text = print_and_read (&test, find->id, "", &n_pages);
      covered = spread_of_picture (&test);
      g_assert_cmpint (bare, >, 60);
      g_assert_cmpint (covered, <, 4);
    }
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  g_test_add_func ("/app/eaten-sheet/empty-library", test_empty_library);
  g_test_add_func ("/app/eaten-sheet/with-find", test_with_find);
  g_test_add_func ("/app/eaten-sheet/covers", test_covers);
  return g_test_run ();
}
