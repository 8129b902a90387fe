/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-test-library.h"

#include "ws-error.h"
#include "ws-record-sizes.h"
#include "ws-record.h"

#include <math.h>
#include <string.h>

static TestDesk
begin (void)
{
  TestDesk test = test_begin ();

  g_free (test_photo (&test, "a1.jpg", 1, 800, "2025-10-04T14:00:00", 51.2, -30.5));
  test_import (&test);
  g_assert_true (ws_library_set_setting (test.desk->library, "my-name", "Ada Beispiel", NULL));
  return test;
}

static void
test_on_photo (void)
{
  TestDesk test = begin ();
  g_autofree char *photo = test_photo_id (&test, "a1.jpg"), *id = NULL, *scale_id = NULL;
  g_autoptr (WsMeasurement) measurement = ws_measurement_new ();
  g_autoptr (WsScale) scale = ws_scale_new ();
  g_autoptr (WsFind) find = NULL;
  g_autoptr (GError) error = NULL;
  const WsMeasurement *stored;

  g_test_summary ("A length on a photo comes from the photo's scale; without one it is refused; undo takes it back");
  ws_set_string (&measurement->quantity, "cap_width");
  measurement->photo_id = g_strdup (photo);
  measurement->a = (WsPoint) { 0.25, 0.5 };
  measurement->b = (WsPoint) { 0.75, 0.5 };
  g_assert_null (ws_record_measurement (test.desk, "25-001", measurement, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
  g_clear_error (&error);
  ws_set_string (&scale->photo_id, photo);
  scale->a = (WsPoint) { 0.1, 0.9 };
  scale->b = (WsPoint) { 0.6, 0.9 };
  scale->mm = 50;
  scale_id = ws_record_scale (test.desk, scale, &error);
  g_assert_no_error (error);
  id = ws_record_measurement (test.desk, "25-001", measurement, &error);
  g_assert_no_error (error);
  find = test_find (&test, "25-001");
  stored = g_ptr_array_index (find->measurements, 0);
  /* As far apart as the scale's points. */
  g_assert_cmpfloat_with_epsilon (stored->value, 50, 1e-9);
  g_assert_cmpfloat (stored->error, >, 0);
  g_assert_cmpstr (stored->observer, ==, "Ada Beispiel");
  ws_set_string (&measurement->quantity, "pores_per_mm");
  g_free (ws_record_measurement (test.desk, "25-001", measurement, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  g_clear_error (&error);
  scale->b = scale->a;
  g_assert_null (ws_record_scale (test.desk, scale, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  g_assert_true (ws_library_undo (test.desk->library, NULL, NULL));
  g_clear_pointer (&find, ws_find_unref);
  find = test_find (&test, "25-001");
  g_assert_cmpuint (find->measurements->len, ==, 0);
  g_assert_true (ws_record_remove_scale (test.desk, scale_id, NULL));
  test_end (&test);
}

static void
test_by_ruler (void)
{
  TestDesk test = begin ();
  g_autoptr (WsMeasurement) measurement = ws_measurement_new ();
  g_autoptr (WsFind) find = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *id = NULL, *again = NULL;

  g_test_summary ("A size by ruler is stored as given and changed by its id; a quantity that there is not is refused by name");
  ws_set_string (&measurement->quantity, "stem_length");
  ws_set_string (&measurement->specimen, "a");
  measurement->value = 82;
  id = ws_record_measurement (test.desk, "25-001", measurement, &error);
  g_assert_no_error (error);
  ws_set_string (&measurement->id, id);
  measurement->value = 84;
  measurement->error = 1;
  again = ws_record_measurement (test.desk, "25-001", measurement, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (again, ==, id);
  find = test_find (&test, "25-001");
  g_assert_cmpuint (find->measurements->len, ==, 1);
  g_assert_cmpfloat (((WsMeasurement *) g_ptr_array_index (find->measurements, 0))->value, ==, 84);
  ws_set_string (&measurement->quantity, "weight");
  g_assert_null (ws_record_measurement (test.desk, "25-001", measurement, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "stem_length"));
  g_assert_true (ws_record_remove_measurement (test.desk, id, NULL));
  test_end (&test);
}

static void
test_spores (void)
{
  static const struct { const char *text; guint n; WsError code; } cases[] = {
    { "8.2x5.4 8,5×5,6", 2, 0 },
    { "3.5-4.5(-5) x 2.5-3 µm", 0, 0 },               /* a published notation: reference/trade.md §5.3 */
    { "5.5-6.8 x 8.8-9.5 µm", 0, WS_ERROR_INVALID },   /* a published mistake: the same */
    { "small", 0, WS_ERROR_INVALID } };
  TestDesk test = begin ();

  g_test_summary ("Spores are read from what was typed, which is kept; mistakes are refused");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsSporeList) list = ws_spore_list_new ();
      g_autoptr (WsFind) find = NULL;
      g_autoptr (GError) error = NULL;
      g_autofree char *id = NULL;

      g_test_message ("%s", cases[i].text);
      ws_set_string (&list->verbatim, cases[i].text);
      list->from = WS_SPORES_FROM_PRINT;
      id = ws_record_spore_list (test.desk, "25-001", list, &error);
      if (cases[i].code != 0)
        {
          g_assert_error (error, WS_ERROR, (int) cases[i].code);
          continue;
        }
      g_assert_no_error (error);
      find = test_find (&test, "25-001");
      g_assert_cmpuint (find->spores->len, ==, 1);
      g_assert_cmpuint (((WsSporeList *) g_ptr_array_index (find->spores, 0))->n_spores, ==, cases[i].n);
      g_assert_cmpstr (((WsSporeList *) g_ptr_array_index (find->spores, 0))->verbatim, ==, cases[i].text);
      g_assert_true (ws_record_remove_spore_list (test.desk, id, NULL));
    }
  test_end (&test);
}

/* --- Timed notes --------------------------------------------------------------------------------- */

static char *
note_at (TestDesk *test, const char *character, const char *state, WsObserved observed, double minutes, GError **error)
{
  g_autoptr (WsNote) note = ws_note_new ();

  ws_set_string (&note->character, character);
  g_strfreev (note->states);
  note->states = g_strsplit (state, "|", -1);
  note->sure = TRUE;
  note->observed = observed;
  note->minutes = minutes;
  return ws_record_whole_note (test->desk, "25-001", note, error);
}

static void
test_series (void)
{
  static const double minutes[] = { 0, 1, 5, 5 };
  TestDesk test = begin ();
  g_autoptr (WsFind) find = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("Notes of different minutes stand side by side; the same minute again replaces");
  for (gsize i = 0; i < G_N_ELEMENTS (minutes); i++)
    {
      g_autofree char *id = note_at (&test, "bruising", i < 2 ? "none" : "blue", WS_OBSERVED_AFTER, minutes[i], &error);

      g_assert_no_error (error);
      g_assert_cmpstr (id, !=, "");
    }
  find = test_find (&test, "25-001");
  g_assert_cmpuint (find->notes->len, ==, 3);
  test_end (&test);
}

static void
test_colours (void)
{
  TestDesk test = begin ();
  g_autoptr (WsFind) find = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *cap = NULL, *ring = NULL, *nobody = NULL;
  const WsNote *note;

  g_test_summary ("Who does not see colours reliably notes them as unsure and by name; other notes stay sure");
  g_assert_true (ws_library_set_setting (test.desk->library, "colours-unsure", "yes", NULL));
  cap = note_at (&test, "cap_colour", "brown", WS_OBSERVED_FRESH, NAN, &error);
  ring = note_at (&test, "ring", "hanging", WS_OBSERVED_FRESH, NAN, &error);
  g_assert_no_error (error);
  find = test_find (&test, "25-001");
  note = g_ptr_array_index (find->notes, 0);
  g_assert_cmpstr (note->id, ==, cap);
  g_assert_false (note->sure);
  g_assert_cmpstr (note->observer, ==, "Ada Beispiel");
  note = g_ptr_array_index (find->notes, 1);
  g_assert_cmpstr (note->id, ==, ring);
  g_assert_true (note->sure);
  g_assert_true (ws_library_set_setting (test.desk->library, "my-name", NULL, NULL));
  nobody = note_at (&test, "cap_colour", "white", WS_OBSERVED_FRESH, NAN, &error);
  g_assert_null (nobody);
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/work/record-sizes/on-photo", test_on_photo);
  g_test_add_func ("/work/record-sizes/by-ruler", test_by_ruler);
  g_test_add_func ("/work/record-sizes/spores", test_spores);
  g_test_add_func ("/work/record-notes/series", test_series);
  g_test_add_func ("/work/record-notes/colours", test_colours);
  return g_test_run ();
}
