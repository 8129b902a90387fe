/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-ask-work.h"

#include "ws-error.h"
#include "ws-picture.h"
#include "ws-test-library.h"

#include <math.h>

static TestDesk
begin_with_find (void)
{
  TestDesk test = test_begin ();

  g_free (test_photo (&test, "a1.jpg", 1, 320, "2025-10-04T14:00:00", NAN, NAN));
  test_import (&test);
  return test;
}

static void
test_refused (void)
{
  TestDesk test = begin_with_find ();
  g_autoptr (WsFind) find = test_find (&test, "25-001");
  WsAskMaking *making = ws_ask_making_new (find->id);
  g_autoptr (GError) error = NULL;
  g_autofree char *sent = g_build_filename (test.folder, "out.zip", NULL);

  g_test_summary ("SAFETY: without the base and without a reason no package is made, and no name is offered for one");
  making->path = g_strdup (sent);
  g_assert_null (ws_ask_work_name (test.desk, making, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_REFUSED);
  g_clear_error (&error);
  g_assert_null (ws_ask_work_make (test.desk, making, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_REFUSED);
  g_assert_false (g_file_test (sent, G_FILE_TEST_EXISTS));
  ws_ask_making_free (making);
  test_end (&test);
}

static void
test_made (void)
{
  TestDesk test = begin_with_find ();
  g_autoptr (WsFind) find = test_find (&test, "25-001");
  g_autoptr (WsFind) after = NULL;
  WsAskMaking *making = ws_ask_making_new (find->id);
  g_autoptr (GError) error = NULL;
  g_autofree char *name = NULL, *page = g_build_filename (test.folder, "out.html", NULL);
  g_autoptr (GPtrArray) requests = NULL;
  WsAskMade *made;

  g_test_summary ("With a reason the package is made where it was wished, read back and valid; what became of the specimen is kept");
  making->path = g_build_filename (test.folder, "out.zip", NULL);
  making->page = TRUE;
  making->specimen_is = g_strdup ("gone");
  making->options.without_base = g_strdup ("The specimen is gone");
  name = ws_ask_work_name (test.desk, making, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (name, ==, "25-001 2025-10-04.zip");
  made = ws_ask_work_make (test.desk, making, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (made->package, ==, making->path);
  g_assert_true (made->verdict->bag->valid);
  g_assert_cmpint (made->verdict->request, ==, WS_REQUEST_VALID);
  g_assert_true (g_file_test (page, G_FILE_TEST_IS_REGULAR));
  requests = ws_library_load_requests (test.desk->library, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (requests->len, ==, 1);
  g_assert_cmpstr (((WsSentRequest *) g_ptr_array_index (requests, 0))->id, ==, made->request_id);
  after = test_find (&test, "25-001");
  g_assert_cmpint (after->specimen_is, ==, WS_SPECIMEN_GONE);
  ws_ask_made_free (made);
  ws_ask_making_free (making);
  test_end (&test);
}

static void
test_emergency (void)
{
  TestDesk test = begin_with_find ();
  g_autoptr (WsFind) find = test_find (&test, "25-001");
  WsAskMaking *making = ws_ask_making_new (find->id);
  g_autoptr (GError) error = NULL;
  WsAskMade *made;

  g_test_summary ("SAFETY: an emergency request asks for nothing");
  making->path = g_build_filename (test.folder, "out.zip", NULL);
  making->options.emergency = TRUE;
  made = ws_ask_work_make (test.desk, making, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (made->verdict->request, ==, WS_REQUEST_VALID);
  ws_ask_made_free (made);
  ws_ask_making_free (making);
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  g_test_add_func ("/app/ask-work/refused", test_refused);
  g_test_add_func ("/app/ask-work/made", test_made);
  g_test_add_func ("/app/ask-work/emergency", test_emergency);
  return g_test_run ();
}
