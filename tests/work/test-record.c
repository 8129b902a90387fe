/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-test-library.h"

#include "ws-error.h"
#include "ws-evidence.h"
#include "ws-picture.h"
#include "ws-record.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

static TestDesk
begin (void)
{
  TestDesk test = test_begin ();

  g_free (test_photo (&test, "a1.jpg", 1, 1600, "2025-10-04T14:00:00", 51.2, -30.5));
  g_free (test_photo (&test, "a2.jpg", 2, 800, "2025-10-04T14:01:00", 51.2, -30.5));
  test_import (&test);
  return test;
}

static char *
mark (TestDesk *test, const char *part, const char *base_kind, gboolean whole, GError **error)
{
  g_autoptr (WsFind) find = test_find (test, "25-001");
  g_autofree char *photo = test_photo_id (test, "a1.jpg");
  g_autoptr (WsShape) shape = ws_shape_new_box (&(WsRect) { 0.3, 0.3, 0.5, 0.5 });

  return ws_record_mark (test->desk, find->id, photo, part, NULL, whole ? NULL : shape, base_kind, error);
}

static WsEvidenceState
base_state (TestDesk *test)
{
  g_autoptr (WsFind) find = test_find (test, "25-001");
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, test->desk->knowledge, "en");

  return ws_evidence_get_base (evidence)->state;
}

static void
test_base (void)
{
  static const struct { const char *kind; WsEvidenceState state; } cases[] = {
    { "", WS_EVIDENCE_MISSING }, { "with_soil", WS_EVIDENCE_WEAK }, { "washed", WS_EVIDENCE_WEAK }, { "cut", WS_EVIDENCE_MISSING },
    { "broken", WS_EVIDENCE_MISSING }, { "in_ground", WS_EVIDENCE_MISSING }, { "left_in_hole", WS_EVIDENCE_MISSING },
    { "from_below", WS_EVIDENCE_MISSING }, { "cannot_tell", WS_EVIDENCE_MISSING }, { "cleaned", WS_EVIDENCE_SHOWN } };

  g_test_summary ("Of all base kinds only a sharp mark of a base dug out whole and cleaned shows it");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TestDesk test = begin ();
      g_autoptr (GError) error = NULL;
      g_autofree char *id = mark (&test, "stem_base", cases[i].kind, FALSE, &error);

      g_assert_no_error (error);
      g_test_message ("%s", cases[i].kind);
      g_assert_cmpint (base_state (&test), ==, cases[i].state);
      test_end (&test);
    }
}

static void
test_base_refused (void)
{
  TestDesk test = begin ();
  g_autoptr (GError) error = NULL;
  g_autofree char *whole = NULL, *label = NULL, *unknown = NULL, *part = NULL;

  g_test_summary ("A mark of the whole photo never shows the base, and kinds and parts that do not exist are refused");
  whole = mark (&test, "stem_base", "cleaned", TRUE, &error);
  g_assert_null (whole);
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  g_clear_error (&error);
  label = mark (&test, "stem_base", "", TRUE, &error);
  g_assert_no_error (error);
  g_assert_cmpint (base_state (&test), ==, WS_EVIDENCE_MISSING);
  unknown = mark (&test, "stem_base", "spotless", FALSE, &error);
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "cleaned"));
  g_clear_error (&error);
  part = mark (&test, "leg", "", FALSE, &error);
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "stem_base"));
  test_end (&test);
}

static void
test_measured (void)
{
  TestDesk test = begin ();
  g_autoptr (GError) error = NULL;
  g_autofree char *id = mark (&test, "cap", "", FALSE, &error);
  g_autoptr (WsFind) find = test_find (&test, "25-001"), after = NULL;
  const WsMark *before = ws_find_get_mark (find, id);
  g_autoptr (WsMark) moved = ws_mark_copy (before);

  g_test_summary ("A mark is measured when it is made and again when its shape changes");
  g_assert_true (before->measure.measured);
  g_assert_cmpint (before->measure.width_px, ==, 800);
  g_assert_cmpint (before->measure.height_px, ==, 600);
  ws_shape_free (moved->shape);
  moved->shape = ws_shape_new_box (&(WsRect) { 0.25, 0.25, 0.25, 0.25 });
  g_assert_true (ws_record_change_mark (test.desk, find->id, moved, &error));
  after = test_find (&test, "25-001");
  g_assert_cmpint (ws_find_get_mark (after, id)->measure.width_px, ==, 400);
  test_end (&test);
}

static void
test_labels (void)
{
  TestDesk test = begin ();
  g_autoptr (GError) error = NULL;
  g_autofree char *photo = test_photo_id (&test, "a2.jpg");
  g_autoptr (WsFind) with = NULL, without = NULL;

  g_test_summary ("Labelling a photo marks it as a whole; the same label again takes it away");
  g_assert_true (ws_record_label_photo (test.desk, "25-001", photo, "v_habitat", &error));
  with = test_find (&test, "25-001");
  g_assert_cmpuint (with->marks->len, ==, 1);
  g_assert_true (((WsMark *) with->marks->pdata[0])->whole_photo);
  g_assert_true (ws_record_label_photo (test.desk, "25-001", photo, "v_habitat", &error));
  without = test_find (&test, "25-001");
  g_assert_cmpuint (without->marks->len, ==, 0);
  g_assert_false (ws_record_label_photo (test.desk, "25-001", photo, "v_nothing", &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  test_end (&test);
}

static void
test_notes (void)
{
  TestDesk test = begin ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) first = NULL, second = NULL, none = NULL;

  g_test_summary ("A note replaces the same person's earlier one; read off a photo it is never sure; unknown states are refused by name");
  g_assert_true (ws_record_note (test.desk, "25-001", "growth_form", "gilled_stem", FALSE, FALSE, NULL, &error));
  g_assert_true (ws_record_note (test.desk, "25-001", "growth_form", "pored_stem", TRUE, TRUE, NULL, &error));
  first = test_find (&test, "25-001");
  g_assert_cmpuint (first->notes->len, ==, 1);
  g_assert_cmpstr (ws_find_get_growth_form (first), ==, "pored_stem");
  g_assert_false (((WsNote *) first->notes->pdata[0])->sure);
  g_assert_true (ws_record_note (test.desk, "25-001", "growth_form", "cup", TRUE, FALSE, "b", &error));
  second = test_find (&test, "25-001");
  g_assert_cmpuint (second->notes->len, ==, 2);
  g_assert_false (ws_record_note (test.desk, "25-001", "growth_form", "umbrella", TRUE, FALSE, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "gilled_stem"));
  g_clear_error (&error);
  g_assert_false (ws_record_note (test.desk, "25-001", "taste", "mild", TRUE, FALSE, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_true (ws_record_note (test.desk, "25-001", "growth_form", "", TRUE, FALSE, NULL, &error));
  none = test_find (&test, "25-001");
  g_assert_cmpuint (none->notes->len, ==, 1);
  test_end (&test);
}

static void
test_habitat (void)
{
  TestDesk test = begin ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) later = NULL;
  const char *ids[] = { NULL, NULL };

  g_test_summary ("Habitat and trees are copied from the find before, as unsure, and do not replace what is noted");
  g_free (test_photo (&test, "b1.jpg", 3, 400, "2025-10-04T15:00:00", NAN, NAN));
  test_import (&test);
  g_assert_true (ws_record_note (test.desk, "25-001", "trees", "beech", TRUE, FALSE, NULL, &error));
  g_assert_true (ws_record_note (test.desk, "25-001", "habitat", "slope", TRUE, FALSE, NULL, &error));
  g_assert_true (ws_record_note (test.desk, "25-002", "habitat", "bog", TRUE, FALSE, NULL, &error));
  later = test_find (&test, "25-002");
  ids[0] = later->id;
  g_assert_true (ws_record_copy_habitat (test.desk, NULL, ids, &error));
  g_assert_no_error (error);
  g_clear_pointer (&later, ws_find_unref);
  later = test_find (&test, "25-002");
  g_assert_cmpstr (ws_find_get_state (later, "trees"), ==, "beech");
  g_assert_cmpstr (ws_find_get_state (later, "habitat"), ==, "bog");
  g_assert_false (((WsNote *) later->notes->pdata[later->notes->len - 1])->sure);
  test_end (&test);
}

static void
test_excuse (void)
{
  TestDesk test = begin ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = NULL;

  g_test_summary ("A reason why the base cannot be had is kept, and the base stays missing");
  g_assert_true (ws_record_excuse (test.desk, "25-001", "v_base", "grew under a root", &error));
  find = test_find (&test, "25-001");
  g_assert_cmpstr (ws_find_get_excuse (find, "v_base"), ==, "grew under a root");
  g_assert_cmpint (base_state (&test), ==, WS_EVIDENCE_MISSING);
  g_assert_true (ws_record_excuse (test.desk, "25-001", "v_base", "", &error));
  g_clear_pointer (&find, ws_find_unref);
  find = test_find (&test, "25-001");
  g_assert_null (ws_find_get_excuse (find, "v_base"));
  test_end (&test);
}

static void
test_set (void)
{
  static const struct { const char *key, *value; gboolean fine; } cases[] = {
    { "number", "K 7", TRUE }, { "field-name", "grey one", TRUE }, { "place", "51.25,-30.25,12", TRUE }, { "place", "95,0", FALSE },
    { "place", "51,0,-3", FALSE }, { "place", "here", FALSE }, { "time", "2025-02-30", FALSE }, { "time", "2025-02-28T07:15", TRUE },
    { "specimen-is", "kept", TRUE }, { "specimen-is", "eaten", FALSE }, { "colour", "red", FALSE }, { "number", "", FALSE } };
  TestDesk test = begin ();
  g_autoptr (WsFind) find = test_find (&test, "25-001"), after = NULL;

  g_test_summary ("Fields of a find take what is possible and refuse the rest");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      g_test_message ("%s=%s", cases[i].key, cases[i].value);
      g_assert_cmpint (ws_record_set (test.desk, find->id, cases[i].key, cases[i].value, &error), ==, cases[i].fine);
      if (!cases[i].fine)
        g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
    }
  after = test_find (&test, "K 7");
  g_assert_cmpfloat (after->where.latitude, ==, 51.25);
  g_assert_cmpfloat (after->where.error_m, ==, 12);
  test_end (&test);
}

static void
test_moved_photo (void)
{
  TestDesk test = begin ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = test_find (&test, "25-001");
  const WsPhoto *photo = ((WsFindPhoto *) find->photos->pdata[0])->photo;
  g_autofree char *other = g_build_filename (test.photos, "renamed.jpg", NULL), *found = NULL, *gone = NULL;

  g_test_summary ("A photo that was renamed is found again by its content; one that is gone is named");
  g_assert_cmpint (g_rename (photo->path, other), ==, 0);
  found = ws_record_locate_photo (test.desk, photo, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (found, ==, other);
  g_assert_cmpint (g_unlink (other), ==, 0);
  gone = ws_record_locate_photo (test.desk, photo, &error);
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  g_test_add_func ("/work/record/base", test_base);
  g_test_add_func ("/work/record/base-refused", test_base_refused);
  g_test_add_func ("/work/record/measured", test_measured);
  g_test_add_func ("/work/record/labels", test_labels);
  g_test_add_func ("/work/record/notes", test_notes);
  g_test_add_func ("/work/record/habitat", test_habitat);
  g_test_add_func ("/work/record/excuse", test_excuse);
  g_test_add_func ("/work/record/set", test_set);
  g_test_add_func ("/work/record/moved-photo", test_moved_photo);
  return g_test_run ();
}
