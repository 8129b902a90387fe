/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Safety law 3 (design §6): the most dangerous opinion stays on a find whichever name is in force, and no later answer
 * takes it down. */
#include "ws-values.h"

#include <locale.h>
#include <math.h>

static WsName *
add_name (WsFind *find, const char *id, const char *verbatim)
{
  WsName *name = ws_name_new ();

  ws_set_string (&name->id, id);
  ws_set_string (&name->verbatim, verbatim);
  name->certainty = WS_CERTAINTY_SURE;
  g_ptr_array_add (find->names, name);
  return name;
}

static void
test_warning (void)
{
  g_autoptr (WsFind) find = ws_find_new ();

  g_test_summary ("a warning stands against a sure name in force, later names, its own withdrawal and an amended answer");
  g_assert_null (ws_find_get_warning (find));
  add_name (find, "first", "Volvariella sp.")->answer_id = g_strdup ("answer-1");
  ((WsName *) g_ptr_array_index (find->names, 0))->deadly = TRUE;
  add_name (find, "second", "Agaricus arvensis")->answer_id = g_strdup ("answer-2");
  add_name (find, "taken back", "")->withdraws = g_strdup ("first");
  find->name_in_force = g_strdup ("second");
  for (guint i = 1; i <= 2; i++)
    {
      WsAnswer *answer = ws_answer_new ();

      answer->id = (g_free (answer->id), g_strdup_printf ("answer-%u", i));
      answer->replaces = i == 2 ? g_strdup ("answer-1") : NULL;
      g_ptr_array_add (find->answers, answer);
    }
  g_assert_true (ws_find_is_name_withdrawn (find, "first"));
  g_assert_true (ws_find_is_answer_replaced (find, "answer-1"));
  g_assert_cmpstr (ws_find_get_name_in_force (find)->id, ==, "second");
  g_assert_cmpstr (ws_find_get_warning (find)->id, ==, "first");
}

static void
test_in_force (void)
{
  g_autoptr (WsFind) find = ws_find_new ();

  g_test_summary ("no name is in force unless chosen; one taken back is not, and one that is not there is none");
  add_name (find, "only", "Amanita phalloides");
  g_assert_null (ws_find_get_name_in_force (find));
  find->name_in_force = g_strdup ("only");
  g_assert_cmpstr (ws_find_get_name_in_force (find)->id, ==, "only");
  add_name (find, "taken back", "")->withdraws = g_strdup ("only");
  g_assert_null (ws_find_get_name_in_force (find));
  g_free (find->name_in_force);
  find->name_in_force = g_strdup ("nowhere");
  g_assert_null (ws_find_get_name_in_force (find));
}

static char *
number (void)
{
  static int n;

  return g_strdup_printf ("n%d", ++n);
}

static void
test_names_of_answer (void)
{
  g_autoptr (WsAnswer) answer = ws_answer_new ();
  g_autoptr (GPtrArray) none = NULL, warning = NULL, two = NULL;
  const WsName *name;

  g_test_summary ("an answer gives a name for each opinion, a warning alone when it has none, and nothing for “cannot be named”");
  ws_set_string (&answer->id, "a");
  ws_set_string (&answer->by, "Ute Beispiel");
  answer->made_us = G_GINT64_CONSTANT (1759651200) * G_USEC_PER_SEC;   /* 2025-10-05T08:00Z */
  answer->cannot_name = TRUE;
  none = ws_answer_dup_names (answer, 0, number, 7);
  g_assert_cmpuint (none->len, ==, 0);
  answer->deadly = TRUE;
  ws_set_string (&answer->remarks, "away from the kitchen");
  warning = ws_answer_dup_names (answer, 0, number, 7);
  g_assert_cmpuint (warning->len, ==, 1);
  name = g_ptr_array_index (warning, 0);
  g_assert_cmpstr (name->verbatim, ==, "");
  g_assert_true (name->deadly);
  g_assert_cmpstr (name->reasons, ==, "away from the kitchen");
  for (guint i = 0; i < 2; i++)
    {
      WsOpinion *opinion = ws_opinion_new ();

      ws_set_string (&opinion->name, i == 0 ? "Amanita sp." : "Volvariella sp.");
      opinion->certainty = WS_CERTAINTY_PROBABLE;
      g_ptr_array_add (answer->opinions, opinion);
    }
  two = ws_answer_dup_names (answer, 0, number, 7);
  g_assert_cmpuint (two->len, ==, 2);
  name = g_ptr_array_index (two, 1);
  g_assert_cmpstr (name->verbatim, ==, "Volvariella sp.");
  g_assert_cmpstr (name->by, ==, "Ute Beispiel");
  g_assert_cmpstr (name->date, ==, "2025-10-05");
  g_assert_cmpstr (name->answer_id, ==, "a");
  g_assert_cmpint (name->source, ==, WS_NAME_BY_ANSWER);
  g_assert_cmpint (name->base_shown, ==, 0);
  g_assert_true (name->deadly);
  g_assert_cmpint (name->created_us, ==, 7);
}

static void
test_series (void)
{
  static const struct { WsObserved observed; double minutes; int index; } cases[] = {
    { WS_OBSERVED_FRESH, NAN, 0 }, { WS_OBSERVED_AFTER, 0, 1 }, { WS_OBSERVED_AFTER, 5, 2 }, { WS_OBSERVED_UNKNOWN, NAN, -1 },
    { WS_OBSERVED_AFTER, 15, -1 }, { WS_OBSERVED_DRIED, NAN, -1 } };
  g_autoptr (WsFind) find = ws_find_new ();

  g_test_summary ("notes of one character stand side by side by the time at which they were taken");
  for (guint i = 0; i < 3; i++)
    {
      WsNote *note = ws_note_new ();

      ws_set_string (&note->character, "bruising");
      note->observed = cases[i].observed;
      note->minutes = cases[i].minutes;
      g_ptr_array_add (find->notes, note);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const WsNote *note = ws_find_get_note_at (find, "bruising", "", "", cases[i].observed, cases[i].minutes);

      g_assert_true (note == (cases[i].index < 0 ? NULL : g_ptr_array_index (find->notes, cases[i].index)));
    }
  g_assert_null (ws_find_get_note_at (find, "bruising", "b", "", WS_OBSERVED_FRESH, NAN));
  g_assert_null (ws_find_get_note_at (find, "bruising", "", "Ute", WS_OBSERVED_FRESH, NAN));
}

static void
test_scale (void)
{
  g_autoptr (WsFind) find = ws_find_new ();
  WsFindPhoto *link = ws_find_photo_new ();

  g_test_summary ("a mark has the millimetres of its photo's last scale, and none without");
  ws_set_string (&link->photo->id, "p");
  link->photo->width = 4000;
  link->photo->height = 3000;
  g_ptr_array_add (find->photos, link);
  for (guint i = 0; i < 2; i++)
    {
      WsMark *mark = ws_mark_new ();
      WsScale *scale = ws_scale_new ();

      ws_set_string (&mark->photo_id, i == 0 ? "p" : "other");
      g_ptr_array_add (find->marks, mark);
      ws_set_string (&scale->photo_id, "p");
      scale->a = (WsPoint) { 0, 0 };
      scale->b = (WsPoint) { 0.3, 0.3 };   /* 1200 and 900 px: 1500 px, 3-4-5 */
      scale->mm = i == 0 ? 100 : 30;
      g_ptr_array_add (find->scales, scale);
    }
  ws_find_fill_scales (find);
  g_assert_cmpfloat_with_epsilon (((WsMark *) g_ptr_array_index (find->marks, 0))->measure.mm_per_pixel, 0.02, 1e-12);
  g_assert_true (isnan (((WsMark *) g_ptr_array_index (find->marks, 1))->measure.mm_per_pixel));
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/find-names/warning", test_warning);
  g_test_add_func ("/find/find-names/in-force", test_in_force);
  g_test_add_func ("/find/find-names/names-of-answer", test_names_of_answer);
  g_test_add_func ("/find/find-names/series", test_series);
  g_test_add_func ("/find/find-names/scale", test_scale);
  return g_test_run ();
}
