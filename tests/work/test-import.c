/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-test-library.h"

#include "ws-digest.h"
#include "ws-error.h"
#include "ws-file.h"
#include "ws-import.h"
#include "ws-picture.h"

#include <glib/gstdio.h>
#include <math.h>
#include <sys/stat.h>
#include <unistd.h>

#define DAY "2025-10-04T"

static void
make (TestDesk *test, const char *name, guint seed, const char *clock, double lat, double lon)
{
  g_autofree char *taken = clock != NULL ? g_strconcat (DAY, clock, NULL) : NULL;

  g_free (test_photo (test, name, seed, 640, taken, lat, lon));
}

static WsImportResult *
import_folder (TestDesk *test, const WsImportOptions *options)
{
  g_autoptr (GError) error = NULL;
  const char *paths[] = { test->photos, NULL };
  WsImportResult *result = ws_import_photos (test->desk, paths, options, NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  return result;
}

static void
test_grouped (void)
{
  TestDesk test = test_begin ();
  g_autofree char *text = NULL;

  g_test_summary ("Photos become finds by a gap in time, then by distance; without a time they stay unsorted");
  make (&test, "a1.jpg", 1, "14:00:00", 51.2, -30.5);
  make (&test, "a2.jpg", 2, "14:01:00", 51.2, -30.5);
  make (&test, "b1.jpg", 3, "14:05:00", 51.201, -30.5);   /* 111 m on */
  make (&test, "b2.jpg", 4, "14:06:00", NAN, NAN);
  make (&test, "c1.jpg", 5, "14:30:00", 51.201, -30.5);   /* 24 minutes later */
  make (&test, "d1.jpg", 6, NULL, NAN, NAN);
  test_import (&test);
  text = test_finds_text (&test);
  g_assert_cmpstr (text, ==, "25-001: a1.jpg a2.jpg | 25-002: b1.jpg b2.jpg | 25-003: c1.jpg / unsorted: d1.jpg");
  test_end (&test);
}

static void
test_twice (void)
{
  TestDesk test = test_begin ();
  g_autofree char *before = NULL, *after = NULL;
  g_autoptr (WsImportResult) again = NULL;

  g_test_summary ("The same content twice is one photo, in one import and in two");
  make (&test, "a1.jpg", 1, "14:00:00", NAN, NAN);
  {
    g_autofree char *from = g_build_filename (test.photos, "a1.jpg", NULL), *to = g_build_filename (test.photos, "copy.jpg", NULL);
    g_autoptr (GBytes) bytes = ws_file_read (from, 1 << 24, NULL);

    g_assert_true (ws_file_write (to, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), NULL));
  }
  test_import (&test);
  before = test_finds_text (&test);
  g_assert_cmpstr (before, ==, "25-001: a1.jpg");
  again = import_folder (&test, NULL);
  g_assert_cmpuint (again->added->len, ==, 0);
  g_assert_cmpuint (again->known->len, ==, 1);
  test_import (&test);
  after = test_finds_text (&test);
  g_assert_cmpstr (after, ==, before);
  test_end (&test);
}

static void
test_passed_over (void)
{
  TestDesk test = test_begin ();
  g_autoptr (WsImportResult) result = NULL;
  g_autoptr (GString) names = g_string_new (NULL);
  static const struct { const char *name, *content; } files[] = {
    { "broken.jpg", "\xff\xd8\xff\xe0 this is no picture" }, { "empty.png", "" }, { "list.pdf", "%PDF-1.4" },
    { "alone.nef", "raw" }, { "note.txt", "said nothing of" } };

  g_test_summary ("What is not a photo is counted with the reason; links are not followed; a broken file does not stop the rest");
  make (&test, "a1.jpg", 1, "14:00:00", NAN, NAN);
  for (gsize i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autofree char *path = g_build_filename (test.photos, files[i].name, NULL);

      g_assert_true (g_file_set_contents (path, files[i].content, -1, NULL));
    }
  {
    g_autofree char *link = g_build_filename (test.photos, "link.jpg", NULL), *target = g_build_filename (test.photos, "a1.jpg", NULL);

    g_assert_cmpint (symlink (target, link), ==, 0);
  }
  result = import_folder (&test, NULL);
  g_assert_cmpuint (result->added->len, ==, 1);
  for (guint i = 0; i < result->passed_over->len; i++)
    {
      const WsPassedOver *entry = g_ptr_array_index (result->passed_over, i);
      g_autofree char *name = g_path_get_basename (entry->path);

      g_assert_cmpstr (entry->why, !=, "");
      g_string_append_printf (names, "%s ", name);
    }
  g_assert_cmpstr (names->str, ==, "alone.nef broken.jpg empty.png link.jpg list.pdf ");
  test_end (&test);
}

static void
test_originals (void)
{
  TestDesk test = test_begin ();
  static const char *const names[] = { "a1.jpg", "a2.jpg", "b1.jpg" };
  char *digests[3];
  struct stat stats[3];

  g_test_summary ("Originals keep their bytes and their times");
  for (int i = 0; i < 3; i++)
    {
      g_autofree char *path = g_build_filename (test.photos, names[i], NULL);

      make (&test, names[i], (guint) i + 1, "14:00:00", 51.2, -30.5);
      digests[i] = ws_digest_file (path, NULL, NULL);
      g_assert_cmpint (chmod (path, 0444), ==, 0);
      g_assert_cmpint (stat (path, &stats[i]), ==, 0);
    }
  test_import (&test);
  for (int i = 0; i < 3; i++)
    {
      g_autofree char *path = g_build_filename (test.photos, names[i], NULL), *digest = ws_digest_file (path, NULL, NULL);
      struct stat after;

      g_assert_cmpint (stat (path, &after), ==, 0);
      g_assert_cmpstr (digest, ==, digests[i]);
      g_assert_cmpint (after.st_mtim.tv_sec, ==, stats[i].st_mtim.tv_sec);
      g_assert_cmpint (after.st_mtim.tv_nsec, ==, stats[i].st_mtim.tv_nsec);
      g_assert_cmpint (after.st_ctim.tv_sec, ==, stats[i].st_ctim.tv_sec);
      g_assert_cmpint (after.st_ctim.tv_nsec, ==, stats[i].st_ctim.tv_nsec);
      g_assert_cmpint (after.st_size, ==, stats[i].st_size);
      g_free (digests[i]);
    }
  test_end (&test);
}

static void
cancel_at_three (guint done, guint total, const char *what, gpointer data)
{
  if (done == 3)
    g_cancellable_cancel (data);
}

static void
test_cancel (void)
{
  TestDesk test = test_begin ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (WsImportResult) result = NULL;
  g_autoptr (GPtrArray) stored = NULL;
  const char *paths[] = { test.photos, NULL };

  g_test_summary ("A cancel leaves what was done: it is stored, and a second import takes the rest");
  for (guint i = 0; i < 12; i++)
    {
      g_autofree char *name = g_strdup_printf ("p%02u.jpg", i);

      make (&test, name, i + 1, "14:00:00", NAN, NAN);
    }
  result = ws_import_photos (test.desk, paths, NULL, cancel_at_three, cancellable, cancellable, &error);
  g_assert_no_error (error);
  g_assert_true (result->cancelled);
  g_assert_cmpuint (result->added->len, >=, 3);
  g_assert_cmpuint (result->added->len, <, 12);
  stored = ws_library_load_all_photos (test.desk->library, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (stored->len, ==, result->added->len);
  {
    g_autoptr (WsImportResult) rest = import_folder (&test, NULL);

    g_assert_cmpuint (rest->added->len + result->added->len, ==, 12);
  }
  test_end (&test);
}

static void
test_pairs_and_copies (void)
{
  TestDesk test = test_begin ();
  g_autoptr (WsImportResult) result = NULL;
  g_autofree char *raw = g_build_filename (test.photos, "a1.DNG", NULL);
  guint n_copies = 0, n_pairs = 0;

  g_test_summary ("A raw file beside its picture is one photo with it; a shrunk copy is known as a copy of the larger one");
  make (&test, "a1.jpg", 1, "14:00:00", NAN, NAN);
  make (&test, "a2.jpg", 2, "14:00:30", NAN, NAN);
  g_assert_true (g_file_set_contents (raw, "raw", -1, NULL));
  g_free (test_photo (&test, "sent.jpg", 1, 320, NULL, NAN, NAN));
  result = import_folder (&test, NULL);
  g_assert_cmpuint (result->added->len, ==, 3);
  for (guint i = 0; i < result->added->len; i++)
    {
      const WsPhoto *photo = g_ptr_array_index (result->added, i);

      n_copies += photo->kind == WS_PHOTO_COPY && photo->copy_of != NULL && photo->width == 320;
      n_pairs += photo->companion != NULL && g_str_has_suffix (photo->companion, "a1.DNG");
    }
  g_assert_cmpuint (n_copies, ==, 1);
  g_assert_cmpuint (n_pairs, ==, 1);
  test_end (&test);
}

static void
test_card (void)
{
  TestDesk test = test_begin ();
  g_autofree char *kept = g_build_filename (test.folder, "kept", NULL), *other = g_build_filename (kept, "a1.jpg", NULL);
  g_autofree char *second = g_build_filename (kept, "a1 (2).jpg", NULL), *original = g_build_filename (test.photos, "a1.jpg", NULL);
  g_autofree char *wanted = NULL, *copied = NULL;
  g_autoptr (WsImportResult) result = NULL;

  g_test_summary ("From a card photos are copied first under their own names; a name that is taken by something else gets a number");
  make (&test, "a1.jpg", 1, "14:00:00", NAN, NAN);
  g_assert_cmpint (g_mkdir (kept, 0755), ==, 0);
  g_assert_true (g_file_set_contents (other, "something else", -1, NULL));
  result = import_folder (&test, &(WsImportOptions) { kept, FALSE });
  g_assert_cmpuint (result->added->len, ==, 1);
  g_assert_cmpstr (((WsPhoto *) g_ptr_array_index (result->added, 0))->path, ==, second);
  wanted = ws_digest_file (original, NULL, NULL);
  copied = ws_digest_file (second, NULL, NULL);
  g_assert_cmpstr (copied, ==, wanted);
  test_end (&test);
}

static void
test_undo (void)
{
  TestDesk test = test_begin ();
  g_autofree char *none = NULL, *back = NULL, *finds = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("The finds and the import are one step of undo each");
  make (&test, "a1.jpg", 1, "14:00:00", NAN, NAN);
  make (&test, "a2.jpg", 2, "14:00:10", NAN, NAN);
  test_import (&test);
  finds = test_finds_text (&test);
  g_assert_true (ws_library_undo (test.desk->library, NULL, &error));
  none = test_finds_text (&test);
  g_assert_cmpstr (none, ==, " / unsorted: a1.jpg a2.jpg");
  g_assert_true (ws_library_redo (test.desk->library, NULL, &error));
  back = test_finds_text (&test);
  g_assert_cmpstr (back, ==, finds);
  test_end (&test);
}

static void
test_later_visit (void)
{
  TestDesk test = test_begin ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WsImportResult) later = NULL;
  g_autoptr (WsFind) suggested = NULL, elsewhere = NULL;
  const WsGroupingRule rule = { WS_GROUPING_GAP, WS_GROUPING_DISTANCE };

  g_test_summary ("Photos of another day at the spot of an old find suggest that find; those of another spot do not");
  make (&test, "a1.jpg", 1, "14:00:00", 51.2, -30.5);
  test_import (&test);
  g_free (test_photo (&test, "l1.jpg", 7, 640, "2025-10-06T09:00:00", 51.20005, -30.5));
  later = import_folder (&test, NULL);
  suggested = ws_import_suggest_find (test.desk, later->added, &rule, &error);
  g_assert_no_error (error);
  g_assert_nonnull (suggested);
  g_assert_cmpstr (suggested->number, ==, "25-001");
  g_free (test_photo (&test, "m1.jpg", 8, 640, "2025-10-06T09:00:00", 51.21, -30.5));
  {
    g_autoptr (WsImportResult) more = import_folder (&test, NULL);

    elsewhere = ws_import_suggest_find (test.desk, more->added, &rule, &error);
    g_assert_no_error (error);
    g_assert_null (elsewhere);
  }
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  g_test_add_func ("/work/import/grouped", test_grouped);
  g_test_add_func ("/work/import/twice", test_twice);
  g_test_add_func ("/work/import/passed-over", test_passed_over);
  g_test_add_func ("/work/import/originals", test_originals);
  g_test_add_func ("/work/import/cancel", test_cancel);
  g_test_add_func ("/work/import/pairs-and-copies", test_pairs_and_copies);
  g_test_add_func ("/work/import/card", test_card);
  g_test_add_func ("/work/import/undo", test_undo);
  g_test_add_func ("/work/import/later-visit", test_later_visit);
  return g_test_run ();
}
