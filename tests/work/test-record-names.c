/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-test-library.h"

#include "ws-arrange.h"
#include "ws-error.h"
#include "ws-id.h"
#include "ws-record-names.h"
#include "ws-record.h"

#include <math.h>
#include <string.h>

static TestDesk
begin (void)
{
  TestDesk test = test_begin ();

  g_free (test_photo (&test, "a1.jpg", 1, 400, "2025-10-04T14:00:00", 51.2, -30.5));
  g_free (test_photo (&test, "a2.jpg", 2, 400, "2025-10-04T14:01:00", 51.2, -30.5));
  test_import (&test);
  g_assert_true (ws_library_set_setting (test.desk->library, "my-name", "Ada Beispiel", NULL));
  return test;
}

static char *
give (TestDesk *test, const char *verbatim, gboolean deadly)
{
  g_autoptr (WsName) name = ws_name_new ();
  g_autoptr (GError) error = NULL;
  char *id;

  ws_set_string (&name->verbatim, verbatim);
  name->certainty = WS_CERTAINTY_PROBABLE;
  name->deadly = deadly;
  id = ws_record_name (test->desk, "25-001", name, &error);
  g_assert_no_error (error);
  return id;
}

static void
test_names (void)
{
  TestDesk test = begin ();
  g_autofree char *deadly = give (&test, "Amanita cf. virosa", TRUE), *plain = give (&test, "Agaricus sp.", FALSE);
  g_autofree char *label = NULL;
  g_autoptr (WsFind) find = NULL, back = NULL;
  g_autoptr (GError) error = NULL;
  const WsName *name;

  g_test_summary ("A name knows who, when and that the base is not shown; taken back it cannot be in force, and its warning stays");
  find = test_find (&test, "25-001");
  name = ws_find_get_name (find, deadly);
  g_assert_cmpstr (name->by, ==, "Ada Beispiel");
  g_assert_cmpuint (strlen (name->date), ==, strlen ("2025-10-04"));
  g_assert_cmpint (name->base_shown, ==, 0);
  g_assert_cmpint (name->source, ==, WS_NAME_BY_FINDER);
  g_assert_true (ws_record_choose_name (test.desk, "25-001", plain, &error));
  g_assert_true (ws_record_withdraw_name (test.desk, "25-001", deadly, "a slip", &error));
  g_assert_no_error (error);
  g_assert_false (ws_record_withdraw_name (test.desk, "25-001", deadly, "again", &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_CONFLICT);
  g_clear_error (&error);
  g_assert_false (ws_record_choose_name (test.desk, "25-001", deadly, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  back = test_find (&test, "25-001");
  g_assert_cmpstr (ws_find_get_name_in_force (back)->verbatim, ==, "Agaricus sp.");
  g_assert_cmpstr (ws_find_get_warning (back)->verbatim, ==, "Amanita cf. virosa");
  g_assert_cmpuint (back->names->len, ==, 3);
  g_assert_true (ws_library_undo (test.desk->library, &label, NULL));
  g_clear_pointer (&back, ws_find_unref);
  back = test_find (&test, "25-001");
  g_assert_null (ws_find_get_name_in_force (back));
  g_assert_cmpuint (back->names->len, ==, 3);
  test_end (&test);
}

static void
test_told (void)
{
  TestDesk test = begin ();
  g_autoptr (WsAnswer) told = ws_answer_new ();
  WsWish *wish = ws_wish_new ();
  g_autoptr (WsFind) find = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *id = NULL;
  const WsAnswer *answer = NULL;

  g_test_summary ("What was told keeps its words and who entered it; a wish and a warning come with it");
  told->deadly = TRUE;
  ws_set_string (&wish->view, "v_base");
  g_ptr_array_add (told->wishes, wish);
  g_assert_null (ws_record_told (test.desk, "25-001", told, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  g_clear_error (&error);
  ws_set_string (&told->by, "Ute Muster");
  ws_set_string (&told->verbatim, "Keep it away from the kitchen. Base please!");
  id = ws_record_told (test.desk, "25-001", told, &error);
  g_assert_no_error (error);
  find = test_find (&test, "25-001");
  g_assert_nonnull (ws_find_get_wish (find, "v_base", NULL, &answer));
  g_assert_cmpstr (answer->verbatim, ==, "Keep it away from the kitchen. Base please!");
  g_assert_cmpstr (answer->entered_by, ==, "Ada Beispiel");
  g_assert_cmpint (answer->kind, ==, WS_ANSWER_TOLD);
  g_assert_cmpstr (ws_find_get_warning (find)->by, ==, "Ute Muster");
  g_assert_cmpint (ws_find_get_warning (find)->source, ==, WS_NAME_TOLD);
  test_end (&test);
}

/* A request for the find, as if it had been sent. */
static WsAnswer *
request_and_answer (TestDesk *test)
{
  g_autoptr (WsFind) find = test_find (test, "25-001");
  g_autoptr (WsRequest) request = ws_request_new ();
  g_autofree char *id = ws_id_new (), *answer_id = ws_id_new ();
  WsAnswer *answer = ws_answer_new ();
  WsOpinion *opinion = ws_opinion_new ();

  ws_set_string (&request->id, id);
  ws_find_unref (request->find);
  request->find = ws_find_ref (find);
  g_assert_true (ws_library_add_request (test->desk->library, request, "digest", "25-001.zip", NULL));
  ws_set_string (&answer->id, answer_id);
  ws_set_string (&answer->request_id, id);
  ws_set_string (&answer->request_digest, "digest");
  ws_set_string (&answer->by, "Ute Muster");
  answer->made_us = 1759700000000000;
  ws_set_string (&opinion->name, "Volvariella gloiocephala ?");
  g_ptr_array_add (answer->opinions, opinion);
  return answer;
}

static void
test_answer (void)
{
  TestDesk test = begin ();
  g_autoptr (WsAnswer) answer = request_and_answer (&test), foreign = ws_answer_copy (answer), other = ws_answer_copy (answer);
  g_autofree char *nowhere = ws_id_new (), *another = ws_id_new (), *find_id = NULL;
  g_autoptr (WsFind) find = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("An answer finds its request by id and digest; to none, to another version and twice each get their own word");
  ws_set_string (&foreign->request_id, nowhere);
  g_assert_null (ws_record_answer (test.desk, foreign, "", &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
  g_assert_nonnull (strstr (error->message, nowhere));
  g_clear_error (&error);
  ws_set_string (&other->id, another);
  ws_set_string (&other->request_digest, "of another version");
  g_assert_null (ws_record_answer (test.desk, other, "", &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_CONFLICT);
  g_assert_nonnull (strstr (error->message, "version"));
  g_clear_error (&error);
  find_id = ws_record_answer (test.desk, answer, "a.json", &error);
  g_assert_no_error (error);
  g_assert_null (ws_record_answer (test.desk, answer, "a.json", &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_CONFLICT);
  g_assert_nonnull (strstr (error->message, "before"));
  find = test_find (&test, "25-001");
  g_assert_cmpstr (find->id, ==, find_id);
  g_assert_cmpuint (find->answers->len, ==, 1);
  g_assert_cmpuint (find->names->len, ==, 1);
  g_assert_cmpstr (((WsName *) g_ptr_array_index (find->names, 0))->date, ==, "2025-10-05");
  test_end (&test);
}

static void
test_divided (void)
{
  TestDesk test = begin ();
  g_autofree char *deadly = give (&test, "Amanita cf. virosa", TRUE), *photo = test_photo_id (&test, "a2.jpg"), *id = NULL;
  const char *photos[] = { photo, NULL };
  g_autoptr (WsFind) half = NULL, whole = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("A warning stays with both halves of a divided find, and comes along when they are merged");
  id = ws_arrange_split (test.desk, "25-001", photos, &error);
  g_assert_no_error (error);
  half = ws_library_load_find (test.desk->library, id, NULL);
  g_assert_cmpstr (ws_find_get_warning (half)->id, ==, deadly);
  g_assert_true (ws_arrange_merge (test.desk, id, "25-001", &error));
  g_assert_no_error (error);
  whole = ws_library_load_find (test.desk->library, id, NULL);
  g_assert_cmpuint (whole->names->len, ==, 1);
  g_assert_cmpstr (ws_find_get_warning (whole)->id, ==, deadly);
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/work/record-names/names", test_names);
  g_test_add_func ("/work/record-names/told", test_told);
  g_test_add_func ("/work/record-names/answer", test_answer);
  g_test_add_func ("/work/record-names/divided", test_divided);
  return g_test_run ();
}
