/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-test-library.h"

#include "ws-ask.h"
#include "ws-error.h"
#include "ws-package.h"
#include "ws-picture.h"
#include "ws-record.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

static TestDesk
begin (gboolean with_base)
{
  TestDesk test = test_begin ();
  g_autoptr (GError) error = NULL;

  g_free (test_photo (&test, "a1.jpg", 1, 1600, "2025-10-04T14:00:00", 51.2345678, -30.5));
  test_import (&test);
  if (with_base)
    {
      g_autofree char *photo = test_photo_id (&test, "a1.jpg"), *id = NULL;
      g_autoptr (WsShape) shape = ws_shape_new_box (&(WsRect) { 0.3, 0.3, 0.5, 0.5 });

      id = ws_record_mark (test.desk, "25-001", photo, "stem_base", NULL, shape, "cleaned", &error);
      g_assert_no_error (error);
    }
  return test;
}

static guint
count_files (TestDesk *test, const char *folder)
{
  g_autofree char *path = g_build_filename (test->folder, folder, NULL);
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  guint n = 0;

  while (dir != NULL && g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static guint
count_requests (TestDesk *test)
{
  g_autoptr (GPtrArray) requests = ws_library_load_requests (test->desk->library, NULL);

  return requests->len;
}

static void
test_without_base (void)
{
  static const char *const reasons[] = { NULL, "", "  \n\t" };
  TestDesk test = begin (FALSE);
  g_autofree char *path = g_build_filename (test.folder, "out.zip", NULL);

  g_test_summary ("Without the base a request is refused until a reason is given; blanks are no reason; nothing is written");
  for (gsize i = 0; i < G_N_ELEMENTS (reasons); i++)
    {
      WsAskOptions options = WS_ASK_OPTIONS_INIT;
      g_autoptr (GError) error = NULL;

      options.without_base = reasons[i];
      g_assert_false (ws_ask (test.desk, "25-001", &options, path, TRUE, NULL, NULL, NULL, NULL, &error));
      g_assert_error (error, WS_ERROR, WS_ERROR_REFUSED);
      g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
    }
  g_assert_cmpuint (count_files (&test, "library/sent"), ==, 0);
  g_assert_cmpuint (count_requests (&test), ==, 0);
  {
    WsAskOptions options = WS_ASK_OPTIONS_INIT;
    g_autoptr (GError) error = NULL;
    WsPackageVerdict *verdict;

    options.without_base = "it broke off in the ground";
    g_assert_true (ws_ask (test.desk, "25-001", &options, path, TRUE, NULL, NULL, NULL, NULL, &error));
    g_assert_no_error (error);
    verdict = ws_package_verify (path, NULL, &error);
    g_assert_no_error (error);
    g_assert_true (verdict->bag->valid);
    g_assert_cmpint (verdict->request, ==, WS_REQUEST_VALID);
    ws_package_verdict_free (verdict);
  }
  test_end (&test);
}

static void
test_emergency (void)
{
  TestDesk test = begin (FALSE);
  WsAskOptions options = WS_ASK_OPTIONS_INIT;
  g_autoptr (GError) error = NULL;

  g_test_summary ("An emergency request asks for nothing");
  options.emergency = TRUE;
  options.call_back = "+00 1234";
  g_assert_true (ws_ask (test.desk, "25-001", &options, NULL, FALSE, NULL, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
  test_end (&test);
}

static void
test_kept (void)
{
  TestDesk test = begin (TRUE);
  WsAskOptions options = WS_ASK_OPTIONS_INIT;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (test.folder, "out.zip", NULL), *page = g_build_filename (test.folder, "out.html", NULL);
  g_autofree char *package = NULL;
  g_autoptr (GPtrArray) requests = NULL;
  g_autofree char *kept = NULL, *bytes = NULL, *kept_bytes = NULL;
  gsize size, kept_size;

  g_test_summary ("A request stays in the library exactly as it was made, is known with its digest, and is not undone");
  g_assert_true (ws_ask (test.desk, "25-001", &options, path, TRUE, NULL, NULL, NULL, &package, &error));
  g_assert_no_error (error);
  g_assert_cmpstr (package, ==, path);
  g_assert_true (g_file_test (page, G_FILE_TEST_IS_REGULAR));
  requests = ws_library_load_requests (test.desk->library, &error);
  g_assert_cmpuint (requests->len, ==, 1);
  kept = g_build_filename (ws_library_get_folder (test.desk->library), "sent", ((WsSentRequest *) requests->pdata[0])->package, NULL);
  g_assert_true (g_file_get_contents (path, &bytes, &size, NULL));
  g_assert_true (g_file_get_contents (kept, &kept_bytes, &kept_size, NULL));
  g_assert_cmpmem (bytes, size, kept_bytes, kept_size);
  g_assert_cmpuint (strlen (((WsSentRequest *) requests->pdata[0])->digest), ==, 128);
  ws_library_undo (test.desk->library, NULL, NULL);
  g_assert_cmpuint (count_requests (&test), ==, 1);
  test_end (&test);
}

static void
cancel_at_once (guint done, guint total, const char *what, gpointer data)
{
  g_cancellable_cancel (data);
}

static void
test_cancelled (void)
{
  TestDesk test = begin (TRUE);
  WsAskOptions options = WS_ASK_OPTIONS_INIT;
  g_autoptr (GError) error = NULL;
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autofree char *path = g_build_filename (test.folder, "out.zip", NULL);

  g_test_summary ("A cancelled request leaves no file and no trace in the library");
  g_assert_false (ws_ask (test.desk, "25-001", &options, path, TRUE, cancel_at_once, cancellable, cancellable, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  g_assert_cmpuint (count_files (&test, "library/sent"), ==, 0);
  g_assert_cmpuint (count_requests (&test), ==, 0);
  test_end (&test);
}

static void
test_photo_gone (void)
{
  TestDesk test = begin (TRUE);
  WsAskOptions options = WS_ASK_OPTIONS_INIT;
  g_autoptr (GError) error = NULL;
  g_autofree char *photo = g_build_filename (test.photos, "a1.jpg", NULL);

  g_test_summary ("A photo that is gone is named, and nothing is made");
  g_assert_cmpint (g_unlink (photo), ==, 0);
  g_assert_false (ws_ask (test.desk, "25-001", &options, NULL, FALSE, NULL, NULL, NULL, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
  g_assert_nonnull (strstr (error->message, "a1.jpg"));
  g_assert_cmpuint (count_files (&test, "library/sent"), ==, 0);
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  g_test_add_func ("/work/ask/without-base", test_without_base);
  g_test_add_func ("/work/ask/emergency", test_emergency);
  g_test_add_func ("/work/ask/kept", test_kept);
  g_test_add_func ("/work/ask/cancelled", test_cancelled);
  g_test_add_func ("/work/ask/photo-gone", test_photo_gone);
  return g_test_run ();
}
