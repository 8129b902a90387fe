/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#include <string.h>

#define AT(array, i) g_ptr_array_index ((array), (i))

/* What another hand wrote into the database. Whole values are compared in test-ws-library-read.c. */

static void
test_shapes (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_whole_find ("25-101", NULL);
  static const char *const wrong[] = {
    "UPDATE mark SET shape = 'box 0.5 0.5 0.6 0.1'",
    "UPDATE mark SET shape = ''",
    "UPDATE mark SET shape = 'blob 0 0 1 1'",
    "UPDATE mark SET shape = 'box 0 0 1 1'; UPDATE cover SET shape = 'oval 0 0 nan 1'",
  };

  g_test_summary ("A shape that is none is an error that names it, never another shape");
  apply (fixture->library, action_put_whole ("import", NULL, find));
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) error = NULL;
      const char *id = i < 3 ? ((WsMark *) AT (find->marks, 0))->id : ((WsCover *) AT (find->covers, 0))->id;

      fixture_execute (fixture, wrong[i]);
      g_assert_null (ws_library_load_find (fixture->library, find->id, &error));
      g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
      g_assert_nonnull (strstr (error->message, id));
    }
}

static void
test_sure_off_photo (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_whole_find ("25-101", NULL);
  g_autoptr (WsFind) back = NULL;

  g_test_summary ("A note read off a photo comes back as not sure, whatever the database says (safety law 1)");
  apply (fixture->library, action_put_whole ("import", NULL, find));
  fixture_execute (fixture, "UPDATE note SET sure = 1, off_photo = 1");
  back = ws_library_load_find (fixture->library, find->id, NULL);
  g_assert_cmpuint (back->notes->len, ==, 2);
  for (guint i = 0; i < back->notes->len; i++)
    {
      const WsNote *note = AT (back->notes, i);

      g_assert_true (note->off_photo);
      g_assert_false (note->sure);
    }
}

static void
test_unknown_kinds (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_whole_find ("25-101", NULL);
  g_autoptr (WsFind) back = NULL;
  const WsPhoto *photo;

  g_test_summary ("A kind that this program does not know is read as unknown");
  apply (fixture->library, action_put_whole ("import", NULL, find));
  fixture_execute (fixture, "UPDATE find SET specimen_is = 'eaten', position_source = 99, when_offset_source = -1, "
                            "when_decimals = 400");
  fixture_execute (fixture, "UPDATE photo SET kind = 17");
  back = ws_library_load_find (fixture->library, find->id, NULL);
  g_assert_cmpint (back->specimen_is, ==, WS_SPECIMEN_UNKNOWN);
  g_assert_cmpint (back->where.source, ==, WS_POSITION_NONE);
  g_assert_cmpint (back->when.offset_source, ==, WS_OFFSET_UNKNOWN);
  g_assert_cmpint (back->when.decimals, ==, 0);
  photo = ((WsFindPhoto *) AT (back->photos, 0))->photo;
  g_assert_cmpint (photo->kind, ==, WS_PHOTO_PLAIN);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  FIXTURE_TEST ("/library/rows/shapes", test_shapes);
  FIXTURE_TEST ("/library/rows/sure-off-photo", test_sure_off_photo);
  FIXTURE_TEST ("/library/rows/unknown-kinds", test_unknown_kinds);
  return g_test_run ();
}
