/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-words.h"

#include <locale.h>

static void
test_date (void)
{
  g_autofree char *date = ws_words_date ("2025-10-04"), *none = ws_words_date (""), *odd = ws_words_date ("autumn");

  g_test_summary ("The weekday of a date is the one the calendar has (4 October 2025 was a Saturday); odd dates stay as written");
  g_assert_cmpstr (date, ==, "Saturday, 4 October 2025");
  g_assert_cmpstr (none, ==, "Date not known");
  g_assert_cmpstr (odd, ==, "autumn");
}

static void
test_place_people (void)
{
  static const struct { const char *place, *people, *text; } cases[] = {
    { "", "", "" }, { "Alder fen", "", "Alder fen" }, { "", "Ada", "with Ada" }, { "Alder fen", "Ada", "Alder fen, with Ada" },
  };
  g_autofree char *none = ws_words_place_people (NULL);

  g_assert_cmpstr (none, ==, "");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsForay) foray = ws_foray_new ();
      g_autofree char *text = NULL;

      ws_set_string (&foray->place, cases[i].place);
      ws_set_string (&foray->people, cases[i].people);
      text = ws_words_place_people (foray);
      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

static void
test_details (void)
{
  g_autoptr (WsFind) find = ws_find_new ();
  g_autofree char *bare = ws_words_find_details (find);
  g_autofree char *placed = NULL, *told = NULL;

  g_test_summary ("A place in words comes before the bare position; an unknown time is left out");
  g_assert_cmpstr (bare, ==, "no photo yet");
  find->where = (WsPosition) { 51.2, -30.5, 8, 0, WS_POSITION_TYPED };
  g_assert_true (ws_moment_set_local (&find->when, "2025-10-04T14:03:22"));
  placed = ws_words_find_details (find);
  g_assert_cmpstr (placed, ==, "14:03 · 51.2000, -30.5000 · no photo yet");
  ws_set_string (&find->locality, "by the ditch");
  told = ws_words_find_details (find);
  g_assert_cmpstr (told, ==, "14:03 · by the ditch · no photo yet");
}

static void
test_photo (void)
{
  g_autoptr (WsPhoto) photo = ws_photo_new ();
  g_autofree char *without = NULL, *with = NULL;

  ws_set_string (&photo->path, "/photos/a b.JPG");
  without = ws_words_photo (photo);
  g_assert_cmpstr (without, ==, "a b.JPG, time not known");
  g_assert_true (ws_moment_set_local (&photo->taken, "2025-10-04T14:03:22"));
  with = ws_words_photo (photo);
  g_assert_cmpstr (with, ==, "a b.JPG, 4 October 2025, 14:03");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8");
  g_test_add_func ("/app/words/date", test_date);
  g_test_add_func ("/app/words/place-people", test_place_people);
  g_test_add_func ("/app/words/details", test_details);
  g_test_add_func ("/app/words/photo", test_photo);
  return g_test_run ();
}
