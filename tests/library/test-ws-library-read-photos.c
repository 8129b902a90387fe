/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#define AT(array, i) g_ptr_array_index ((array), (i))

static void
put_photo (WsLibrary *library, const WsPhoto *photo, guint64 likeness)
{
  WsAction *action = ws_action_new ("put photo");

  ws_action_put_photo (action, photo, likeness);
  apply (library, action);
}

static void
test_one (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsPhoto) photo = sample_photo (), by_id = NULL, by_digest = NULL, none = NULL, no_digest = NULL;
  g_autoptr (WsPhoto) bare = ws_photo_new (), bare_back = NULL;
  g_autofree char *put = photo_to_text (photo), *got = NULL, *got_by_digest = NULL, *put_bare = NULL, *got_bare = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("A photo comes back by id and by digest, bit for bit; what is not there is NULL without error");
  put_photo (fixture->library, photo, 1);
  g_free (bare->id);
  bare->id = ws_id_new ();
  put_bare = photo_to_text (bare);
  put_photo (fixture->library, bare, 0);
  by_id = ws_library_load_photo (fixture->library, photo->id, &error);
  got = photo_to_text (by_id);
  g_assert_cmpstr (got, ==, put);
  by_digest = ws_library_load_photo_by_digest (fixture->library, photo->digest, &error);
  got_by_digest = photo_to_text (by_digest);
  g_assert_cmpstr (got_by_digest, ==, put);
  bare_back = ws_library_load_photo (fixture->library, bare->id, &error);
  got_bare = photo_to_text (bare_back);
  g_assert_cmpstr (got_bare, ==, put_bare);
  none = ws_library_load_photo (fixture->library, "nothing", &error);
  g_assert_null (none);
  no_digest = ws_library_load_photo_by_digest (fixture->library, "", &error);
  g_assert_null (no_digest);
  g_assert_no_error (error);
}

static void
test_lists (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_whole_find ("25-101", NULL);
  g_autoptr (WsPhoto) late = sample_photo (), early = sample_photo (), timeless = sample_photo (), aside = sample_photo ();
  g_autoptr (GPtrArray) unsorted = NULL, set_aside = NULL, all = NULL;

  g_test_summary ("Unsorted are those of no find, in order of time; those set aside stand apart");
  apply (fixture->library, action_put_whole ("import", NULL, find));
  late->taken.local_us = 1000000;
  early->taken.local_us = 2000000;
  early->taken.correction_seconds = -3600;
  timeless->taken = (WsMoment) WS_MOMENT_INIT;
  aside->set_aside = TRUE;
  put_photo (fixture->library, timeless, 0);
  put_photo (fixture->library, late, 0);
  put_photo (fixture->library, aside, 0);
  put_photo (fixture->library, early, 0);
  unsorted = ws_library_load_unsorted (fixture->library, NULL);
  g_assert_cmpuint (unsorted->len, ==, 3);
  g_assert_cmpstr (((WsPhoto *) AT (unsorted, 0))->id, ==, early->id);
  g_assert_cmpstr (((WsPhoto *) AT (unsorted, 1))->id, ==, late->id);
  g_assert_cmpstr (((WsPhoto *) AT (unsorted, 2))->id, ==, timeless->id);
  set_aside = ws_library_load_set_aside (fixture->library, NULL);
  g_assert_cmpuint (set_aside->len, ==, 1);
  g_assert_cmpstr (((WsPhoto *) AT (set_aside, 0))->id, ==, aside->id);
  all = ws_library_load_all_photos (fixture->library, NULL);
  g_assert_cmpuint (all->len, ==, 6);
}

static void
test_finds_of_photo (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) one = sample_whole_find ("1", NULL), two = sample_whole_find ("2", NULL);
  const char *id = ((WsFindPhoto *) AT (one->photos, 0))->photo->id;
  WsAction *action = ws_action_new ("share");
  g_auto (GStrv) before = NULL, after = NULL, none = NULL;

  g_test_summary ("The finds of a photo: one, two, none");
  apply (fixture->library, action_put_whole ("import", NULL, one));
  apply (fixture->library, action_put_whole ("import", NULL, two));
  before = ws_library_dup_finds_of_photo (fixture->library, id, NULL);
  g_assert_cmpuint (g_strv_length (before), ==, 1);
  g_assert_cmpstr (before[0], ==, one->id);
  ws_action_put_find_photo (action, two->id, AT (one->photos, 0));
  apply (fixture->library, action);
  after = ws_library_dup_finds_of_photo (fixture->library, id, NULL);
  g_assert_cmpuint (g_strv_length (after), ==, 2);
  g_assert_true (g_strv_contains ((const char *const *) after, two->id));
  none = ws_library_dup_finds_of_photo (fixture->library, "nothing", NULL);
  g_assert_cmpuint (g_strv_length (none), ==, 0);
}

static void
test_likeness (Fixture *fixture, gconstpointer data)
{
  static const struct { guint64 likeness; int width, height; } stored[] = {
    { 0x00000000000000ff, 1000, 1000 },                        /* 0 */
    { 0x00000000000000ff, 2000, 1000 },                        /* 1 */
    { 0x000000000000003f, 3000, 1000 },                        /* 2 */
    { G_GUINT64_CONSTANT (0xffffffff00000000), 4000, 3000 },   /* 3 */
    { 0, 9000, 9000 },                                         /* 4: none known */
  };
  static const struct { guint64 likeness; int width, height, expected; } cases[] = {
    { 0x00000000000000ff, 100, 100, 1 },     /* the larger of two that are the same */
    { 0x00000000000000ff, 2000, 1000, 2 },   /* only one has more pixels, at distance 2 */
    { 0x000000000000003f, 1000, 999, 2 },
    { 0x00000000000000ff, 3000, 1000, -1 },  /* none has more pixels */
    { G_GUINT64_CONSTANT (0xffffffff0000003f), 100, 100, 3 },  /* distance 6 */
    { G_GUINT64_CONSTANT (0xffffffff0000007f), 100, 100, -1 }, /* distance 7 */
    { 0, 10, 10, -1 },
  };
  g_autoptr (GPtrArray) ids = g_ptr_array_new_with_free_func (g_free);

  g_test_summary ("The nearest picture with more pixels is found, up to 6 bits away");
  for (guint i = 0; i < G_N_ELEMENTS (stored); i++)
    {
      g_autoptr (WsPhoto) photo = sample_photo ();

      photo->width = stored[i].width;
      photo->height = stored[i].height;
      put_photo (fixture->library, photo, stored[i].likeness);
      g_ptr_array_add (ids, g_strdup (photo->id));
    }
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (WsPhoto) found = ws_library_find_likeness (fixture->library, cases[i].likeness, cases[i].width,
                                                            cases[i].height, &error);

      g_test_message ("%u", i);
      g_assert_no_error (error);
      g_assert_cmpstr (found != NULL ? found->id : NULL, ==,
                       cases[i].expected >= 0 ? AT (ids, cases[i].expected) : NULL);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  FIXTURE_TEST ("/library/read-photos/one", test_one);
  FIXTURE_TEST ("/library/read-photos/lists", test_lists);
  FIXTURE_TEST ("/library/read-photos/finds-of-photo", test_finds_of_photo);
  FIXTURE_TEST ("/library/read-photos/likeness", test_likeness);
  return g_test_run ();
}
