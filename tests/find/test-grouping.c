/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-grouping.h"

#include <locale.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* One photo from its name and, each led by its sign: @ the local time ("10:00:00", or with the date and a T; "-" for none),
 * ^ seconds of clock correction, ; a place "LAT,LON", ~ its error in metres, ! a likely screenshot. */
static WsPhoto *
photo_from (const char *text)
{
  static const char signs[] = "@^;~!";
  WsPhoto *photo = ws_photo_new ();
  g_autofree char *name = g_strndup (text, strcspn (text, signs));

  ws_set_string (&photo->id, name);
  ws_set_string (&photo->path, name);
  for (text += strlen (name); *text != '\0'; text += 1 + strcspn (text + 1, signs))
    {
      g_autofree char *rest = g_strndup (text + 1, strcspn (text + 1, signs));
      g_autofree char *time = g_strconcat (strchr (rest, 'T') != NULL ? "" : "2025-10-04T", rest, NULL);

      if (*text == '@' && !g_str_equal (rest, "-"))
        g_assert_true (ws_moment_set_local (&photo->taken, time));
      else if (*text == ';')
        g_assert_true (ws_position_parse (rest, &photo->position));
      else if (*text == '~')
        photo->position.error_m = g_ascii_strtod (rest, NULL);
      else if (*text == '^')
        photo->taken.correction_seconds = atoi (rest);
      else if (*text == '!')
        photo->kind = WS_PHOTO_SCREENSHOT;
    }
  return photo;
}

static GPtrArray *
photos_from (const char *model)
{
  GPtrArray *photos = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_photo_unref);
  g_auto (GStrv) words = g_strsplit (model, " ", -1);

  for (guint i = 0; words[i] != NULL; i++)
    if (*words[i] != '\0')
      g_ptr_array_add (photos, photo_from (words[i]));
  return photos;
}

static void
append_names (GString *text, GPtrArray *photos)
{
  for (guint i = 0; i < photos->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? " " : "", ((WsPhoto *) g_ptr_array_index (photos, i))->id);
}

/* "1 2 | 3 4 / 5": the groups, then what is unsorted. */
static char *
print (const WsGrouping *grouping)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < grouping->groups->len; i++)
    {
      g_string_append (text, i > 0 ? " | " : "");
      append_names (text, g_ptr_array_index (grouping->groups, i));
    }
  if (grouping->unsorted->len > 0)
    g_string_append (text, grouping->groups->len > 0 ? " / " : "/ ");
  append_names (text, grouping->unsorted);
  return g_string_free (text, FALSE);
}

/* At 47 degrees north 0.0001 degree is 11.12 m of latitude. */
static const struct { const char *what, *photos, *groups; } cases[] = {
  { "nothing", "", "" },
  { "one", "1@10:00:00", "1" },
  { "a gap of just 600 s is no gap", "1@10:00:00 2@10:10:00", "1 2" },
  { "a second more is", "1@10:00:00 2@10:10:01", "1 | 2" },
  { "a thousandth more is", "1@10:00:00 2@10:10:00.001", "1 | 2" },
  { "the gap counts from the last photo, not the first", "1@10:00:00 2@10:09:00 3@10:18:00 4@10:30:00", "1 2 3 | 4" },
  { "order of the card does not matter", "4@10:30:00 2@10:01:00 3@10:29:00 1@10:00:00", "1 2 | 3 4" },
  { "over midnight", "1@2025-10-04T23:55:00 2@2025-10-05T00:02:00", "1 2" },
  { "no time: unsorted", "1@10:00:00 2@- 3@10:01:00", "1 3 / 2" },
  { "only without time", "1@- 2@-", "/ 1 2" },
  { "a screenshot has no time of its own", "1@10:00:00 2@10:01:00! 3@10:02:00", "1 3 / 2" },
  { "a screenshot does not bridge a gap", "1@10:00:00 2@10:08:00! 3@10:16:00", "1 | 3 / 2" },
  { "alike in time: by name", "b@10:00:00 a@10:00:00 c@10:00:00", "a b c" },
  { "apart: 33 m", "1@10:00:00;47,8 2@10:01:00;47.0003,8", "1 | 2" },
  { "not apart: 22 m", "1@10:00:00;47,8 2@10:01:00;47.0002,8", "1 2" },
  { "distance counts from the last photo with a place", "1@10:00:00;47,8 2@10:01:00;47.0002,8 3@10:02:00;47.0004,8", "1 2 3" },
  { "errors of 10 m (twice each, summed: 40 m) hold 33 m", "1@10:00:00;47,8~10 2@10:01:00;47.0003,8~10", "1 2" },
  { "… and not 44 m", "1@10:00:00;47,8~10 2@10:01:00;47.0004,8~10", "1 | 2" },
  { "one stated error counts alone", "1@10:00:00;47,8~20 2@10:01:00;47.0003,8", "1 2" },
  { "small errors do not narrow the 30 m", "1@10:00:00;47,8~1 2@10:01:00;47.0002,8~1", "1 2" },
  { "no place never splits", "1@10:00:00;47,8 2@10:01:00 3@10:02:00;47,8", "1 2 3" },
  { "no place between two places", "1@10:00:00;47,8 2@10:01:00 3@10:02:00;48,8", "1 2 | 3" },
  { "nothing but time", "1@10:00:00 2@10:01:00 3@10:20:00", "1 2 | 3" },
  { "a new find forgets where the old one was", "1@10:00:00;47,8 2@10:20:00 3@10:21:00;48,8", "1 | 2 3" },
  { "180th meridian: 22 m over it", "1@10:00:00;10,179.9999 2@10:01:00;10,-179.9999", "1 2" },
  { "180th meridian: 110 m over it", "1@10:00:00;10,179.9995 2@10:01:00;10,-179.9995", "1 | 2" },
  { "two cameras with right clocks", "a1@10:00:00 b1@10:00:30 a2@10:01:00 b2@10:20:00", "a1 b1 a2 | b2" },
  { "a camera an hour slow, corrected", "a1@10:00:00 b1@09:00:30^+3600 a2@10:01:00", "a1 b1 a2" },
  { "… and not corrected", "a1@10:00:00 b1@09:00:30 a2@10:01:00", "b1 | a1 a2" },
  { "a correction can part", "1@10:00:00 2@10:01:00^+3600", "1 | 2" },
  { "a correction back in time", "1@10:00:00 2@10:30:00^-1795", "1 2" },
};

static void
test_cases (void)
{
  static const WsGroupingRule rule = { WS_GROUPING_GAP, WS_GROUPING_DISTANCE };

  g_test_summary ("photos become finds by gap in time, then by distance (printed as “1 2 | 3 / unsorted”)");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) photos = photos_from (cases[i].photos);
      g_autoptr (WsGrouping) grouping = ws_grouping_split (photos, &rule);
      g_autofree char *text = print (grouping);

      g_test_message ("%s", cases[i].what);
      g_assert_cmpstr (text, ==, cases[i].groups);
    }
}

static void
test_other_rule (void)
{
  static const WsGroupingRule close = { 60, 5 }, wide = { 7200, 100000 };
  g_autoptr (GPtrArray) photos = photos_from ("1@10:00:00;47,8 2@10:00:50;47.0001,8 3@10:02:00;47.0001,8 4@11:30:00;47.1,8");
  g_autoptr (WsGrouping) narrow = ws_grouping_split (photos, &close), broad = ws_grouping_split (photos, &wide);
  g_autofree char *one = print (narrow), *two = print (broad);

  g_test_summary ("the rule is the caller's");
  g_assert_cmpstr (one, ==, "1 | 2 | 3 | 4");
  g_assert_cmpstr (two, ==, "1 2 3 4");
}

static void
test_each_once (void)
{
  static const WsGroupingRule rule = { WS_GROUPING_GAP, WS_GROUPING_DISTANCE };
  g_autoptr (GRand) rand = g_rand_new_with_seed (12);

  g_test_summary ("500 random days: each photo comes out once, groups are in order of time and none is empty");
  for (int day = 0; day < 500; day++)
    {
      g_autoptr (GString) model = g_string_new (NULL);
      g_autoptr (GPtrArray) photos = NULL;
      g_autoptr (WsGrouping) grouping = NULL;
      gint64 last = G_MININT64;
      guint n = (guint) g_rand_int_range (rand, 0, 30), out = 0;

      for (guint i = 0; i < n; i++)
        g_string_append_printf (model, "p%u@%02d:%02d:00%s%s ", i, g_rand_int_range (rand, 9, 12), g_rand_int_range (rand, 0, 60),
                                g_rand_boolean (rand) ? ";47.0001,8" : g_rand_boolean (rand) ? ";47.0009,8~3" : "",
                                g_rand_int_range (rand, 0, 9) == 0 ? "!" : "");
      photos = photos_from (model->str);
      grouping = ws_grouping_split (photos, &rule);
      for (guint g = 0; g < grouping->groups->len; g++)
        {
          GPtrArray *group = g_ptr_array_index (grouping->groups, g);

          g_assert_cmpuint (group->len, >, 0);
          for (guint i = 0; i < group->len; i++, out++)
            {
              const WsPhoto *photo = g_ptr_array_index (group, i);

              g_assert_cmpint (ws_moment_sort_key (&photo->taken), >=, last);
              last = ws_moment_sort_key (&photo->taken);
            }
        }
      g_assert_cmpuint (out + grouping->unsorted->len, ==, n);
    }
}

static void
test_summarise (void)
{
  static const struct { const char *photos, *when; double lat, lon, least, most; } sums[] = {
    /* error of each, twice what is shown or 30 m, reaches round its photo; the mean is half way */
    { "1@10:05:00;47,8~5 2@10:01:00;47,8~5", "2025-10-04T10:01:00", 47, 8, 10, 11 },
    { "1@10:05:00;47,8 2@10:06:00", "2025-10-04T10:05:00", 47, 8, 30, 31 },
    { "1@10:00:00;47,8~5 2@10:01:00;47.0002,8~5", "2025-10-04T10:00:00", 47.0001, 8, 21.1, 23 },
    { "1@10:00:00;47,8~5 2@10:01:00;47.0002,8~50", "2025-10-04T10:00:00", 47.0001, 8, 111.1, 113 },
    { "1@10:00:00;10,179.9999~5 2@10:01:00;10,-179.9999~5", "2025-10-04T10:00:00", 10, 180, 20.9, 22 },
    { "1@10:00:00 2@-", "2025-10-04T10:00:00", NAN, NAN, 0, 0 },
    { "1@-;47,8", NULL, 47, 8, 30, 31 },
    { "1@09:00:00! 2@10:00:00", "2025-10-04T10:00:00", NAN, NAN, 0, 0 },
    { "1@09:00:00^+7200 2@10:00:00", "2025-10-04T10:00:00", NAN, NAN, 0, 0 },
    { "", NULL, NAN, NAN, 0, 0 },
  };

  g_test_summary ("the find has the first corrected time, and the mean place with the radius that holds all photos and their errors");
  for (gsize i = 0; i < G_N_ELEMENTS (sums); i++)
    {
      g_autoptr (GPtrArray) photos = photos_from (sums[i].photos);
      g_autofree char *text = NULL;
      WsMoment when;
      WsPosition where;

      g_test_message ("%s", sums[i].photos);
      ws_grouping_summarise (photos, &when, &where);
      text = ws_moment_local_text (&when);
      g_assert_cmpstr (text, ==, sums[i].when);
      g_assert_cmpint (ws_position_is_known (&where), ==, isfinite (sums[i].lat));
      if (!ws_position_is_known (&where))
        continue;
      g_assert_cmpfloat_with_epsilon (where.latitude, sums[i].lat, 1e-7);
      g_assert_cmpfloat_with_epsilon (fabs (where.longitude), sums[i].lon, 1e-7);
      g_assert_true (where.error_m >= sums[i].least && where.error_m <= sums[i].most);
      g_assert_cmpfloat (where.error_m, ==, ceil (where.error_m));
      for (guint k = 0; k < photos->len; k++)
        {
          const WsPosition *p = &((WsPhoto *) g_ptr_array_index (photos, k))->position;

          g_assert_true (!ws_position_is_known (p) ||
                         where.error_m >= ws_position_distance (&where, p) + ws_position_gps_uncertainty_m (p->error_m));
        }
    }
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/grouping/cases", test_cases);
  g_test_add_func ("/find/grouping/other-rule", test_other_rule);
  g_test_add_func ("/find/grouping/each-once", test_each_once);
  g_test_add_func ("/find/grouping/summarise", test_summarise);
  return g_test_run ();
}
