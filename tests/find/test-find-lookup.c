/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "find-support.h"

#include <locale.h>

static void
test_letters (void)
{
  static const struct { guint at; const char *letter; } cases[] = {
    { 0, "A" }, { 1, "B" }, { 25, "Z" }, { 26, "AA" }, { 27, "AB" }, { 51, "AZ" }, { 52, "BA" }, { 701, "ZZ" }, { 702, "AAA" },
  };
  g_autoptr (WsFind) find = ws_find_new ();
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  g_test_summary ("marks are lettered A to Z, AA, AB … by their place in the find, no two alike");
  for (guint i = 0; i < 720; i++)
    {
      WsMark *mark = ws_mark_new ();

      g_free (mark->id);
      mark->id = g_strdup_printf ("mark-%u", i);
      g_ptr_array_add (find->marks, mark);
    }
  for (guint i = 0; i < find->marks->len; i++)
    g_assert_true (g_hash_table_add (seen, ws_find_dup_mark_letter (find, g_ptr_array_index (find->marks, i))));
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *letter = ws_find_dup_mark_letter (find, g_ptr_array_index (find->marks, cases[i].at));

      g_assert_cmpstr (letter, ==, cases[i].letter);
    }
}

static void
test_members (void)
{
  g_autoptr (WsFind) find = support_find ("v_base:cleaned v_top:x excuse:v_ring");

  g_test_summary ("photos, marks and excuses are found by id, and what is not there is NULL");
  g_assert_cmpstr (ws_find_get_photo (find, "photo")->id, ==, "photo");
  g_assert_null (ws_find_get_photo (find, "other"));
  g_assert_null (ws_find_get_photo (find, NULL));
  g_assert_cmpstr (ws_find_get_mark (find, "mark-2")->views[0], ==, "v_top");
  g_assert_null (ws_find_get_mark (find, "mark-3"));
  g_assert_null (ws_find_get_mark (find, NULL));
  g_assert_cmpstr (ws_find_get_excuse (find, "v_ring"), ==, "it is gone");
  g_assert_null (ws_find_get_excuse (find, "v_base"));
  g_assert_true (ws_mark_serves (ws_find_get_mark (find, "mark-1"), "v_base"));
  g_assert_false (ws_mark_serves (ws_find_get_mark (find, "mark-1"), "v_bas"));
}

static void
test_states (void)
{
  static const struct { const char *model, *character, *state; } cases[] = {
    { "", "ring", "" }, { "ring=hanging", "ring", "hanging" }, { "ring=hanging ring=upright", "ring", "upright" },
    { "ring=hanging latex=white", "ring", "hanging" }, { "ring=hanging ring=", "ring", "hanging" },
    { "cap_colour=white|cream", "cap_colour", "white" }, { "ring=hanging", "rin", "" },
    { "form=cup form=jelly", "growth_form", "jelly" },
  };
  g_autoptr (WsFind) find = support_find ("cap_colour=white|cream form=cup cap_colour=red");

  g_test_summary ("the state noted last counts; not recorded is empty, never a guess");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsFind) other = support_find (cases[i].model);

      g_test_message ("“%s”", cases[i].model);
      g_assert_cmpstr (ws_find_get_state (other, cases[i].character), ==, cases[i].state);
    }
  g_assert_cmpstr (ws_find_get_growth_form (find), ==, "cup");
  g_assert_true (ws_find_has_state (find, "cap_colour", "cream"));
  g_assert_true (ws_find_has_state (find, "cap_colour", "red"));
  g_assert_false (ws_find_has_state (find, "cap_colour", "cup"));
  g_assert_false (ws_find_has_state (find, "ring", "cream"));
}

static void
test_specimen_is (void)
{
  static const char *const none[] = { NULL, "", "Kept", "lost", "at spot" };
  WsSpecimenIs is;

  g_test_summary ("where the specimen is has four words; any other is refused");
  for (int i = WS_SPECIMEN_UNKNOWN; i <= WS_SPECIMEN_GONE; i++)
    {
      g_assert_true (ws_specimen_is_parse (ws_specimen_is_id ((WsSpecimenIs) i), &is));
      g_assert_cmpint (is, ==, i);
    }
  g_assert_cmpstr (ws_specimen_is_id (WS_SPECIMEN_AT_SPOT), ==, "at_spot");
  for (gsize i = 0; i < G_N_ELEMENTS (none); i++)
    g_assert_false (ws_specimen_is_parse (none[i], &is));
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/find-lookup/letters", test_letters);
  g_test_add_func ("/find/find-lookup/members", test_members);
  g_test_add_func ("/find/find-lookup/states", test_states);
  g_test_add_func ("/find/find-lookup/specimen-is", test_specimen_is);
  return g_test_run ();
}
