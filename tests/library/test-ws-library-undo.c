/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#include <string.h>

#define AT(array, i) g_ptr_array_index ((array), (i))

static void
undo (WsLibrary *library, const char *expected_label)
{
  g_autofree char *label = NULL;
  g_autoptr (GError) error = NULL;

  ws_library_undo (library, &label, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (label, ==, expected_label);
}

static void
redo (WsLibrary *library, const char *expected_label)
{
  g_autofree char *label = NULL;
  g_autoptr (GError) error = NULL;

  ws_library_redo (library, &label, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (label, ==, expected_label);
}

static void
assert_peek (WsLibrary *library, const char *undo_label, const char *redo_label)
{
  g_autofree char *undo_next = NULL, *redo_next = NULL;

  ws_library_peek_undo (library, &undo_next, &redo_next);
  g_assert_cmpstr (undo_next, ==, undo_label);
  g_assert_cmpstr (redo_next, ==, redo_label);
}

/* The undo or redo is refused, and the library is as it was. */
static void
assert_refused (WsLibrary *library, gboolean (*turn) (WsLibrary *, char **, GError **), WsError code)
{
  g_autofree char *before = library_text (library), *after = NULL, *label = NULL;
  g_autofree char *undo_before = NULL, *redo_before = NULL, *undo_after = NULL, *redo_after = NULL;
  g_autoptr (GError) error = NULL;

  ws_library_peek_undo (library, &undo_before, &redo_before);
  g_assert_false (turn (library, &label, &error));
  g_assert_error (error, WS_ERROR, (int) code);
  g_assert_null (label);
  after = library_text (library);
  g_assert_cmpstr (after, ==, before);
  ws_library_peek_undo (library, &undo_after, &redo_after);
  g_assert_cmpstr (undo_after, ==, undo_before);
  g_assert_cmpstr (redo_after, ==, redo_before);
}

/* --- Everything, there and back ------------------------------------------------------------- */

typedef struct
{
  WsForay *foray;
  WsFind *find, *other;
} World;

static WsAction *
import (World *world)
{
  return action_put_whole ("import", world->foray, world->find);
}

static WsAction *
import_other (World *world)
{
  return action_put_whole ("import other", NULL, world->other);
}

static WsAction *
edit_find (World *world)
{
  WsAction *action = ws_action_new ("edit find");
  g_autoptr (WsFind) find = ws_find_copy (world->find);

  ws_set_string (&find->number, "25-900");
  ws_set_string (&find->only_mine, "");
  find->where = ws_position_none ();
  find->when = (WsMoment) WS_MOMENT_INIT;
  g_clear_pointer (&find->foray_id, g_free);
  ws_action_put_find (action, find);
  return action;
}

static WsAction *
edit_foray (World *world)
{
  WsAction *action = ws_action_new ("edit foray");
  g_autoptr (WsForay) foray = ws_foray_copy (world->foray);

  ws_set_string (&foray->place, "elsewhere");
  ws_action_put_foray (action, foray);
  return action;
}

static WsAction *
move_mark (World *world)
{
  WsAction *action = ws_action_new ("move mark");
  g_autoptr (WsMark) mark = ws_mark_copy (AT (world->find->marks, 0));

  mark->shape->bounds.x = 0.7;
  mark->measure.measured = FALSE;
  ws_action_put_mark (action, world->find->id, mark);
  return action;
}

static WsAction *
remove_mark (World *world)
{
  WsAction *action = ws_action_new ("remove mark");

  ws_action_remove_mark (action, ((WsMark *) AT (world->find->marks, 0))->id);
  return action;
}

static WsAction *
share_photo (World *world)
{
  WsAction *action = ws_action_new ("share photo");

  ws_action_put_find_photo (action, world->other->id, AT (world->find->photos, 1));
  return action;
}

/* As "move this photo to that find" does it, marks and all. */
static WsAction *
move_photo (World *world)
{
  WsAction *action = ws_action_new ("move photo");
  const WsMark *mark = AT (world->find->marks, 1);

  ws_action_put_find_photo (action, world->other->id, AT (world->find->photos, 1));
  ws_action_put_mark (action, world->other->id, mark);
  ws_action_remove_find_photo (action, world->find->id, mark->photo_id);
  return action;
}

static WsAction *
set_aside (World *world)
{
  WsAction *action = ws_action_new ("set aside");
  g_autoptr (WsPhoto) photo = ws_photo_copy (((WsFindPhoto *) AT (world->find->photos, 0))->photo);

  photo->set_aside = TRUE;
  ws_action_put_photo (action, photo, 0);
  return action;
}

static WsAction *
make_copy_of (World *world)
{
  WsAction *action = ws_action_new ("copy of");
  g_autoptr (WsPhoto) photo = ws_photo_copy (((WsFindPhoto *) AT (world->find->photos, 0))->photo);

  photo->kind = WS_PHOTO_COPY;
  photo->copy_of = g_strdup (((WsFindPhoto *) AT (world->other->photos, 0))->photo->id);
  ws_action_put_photo (action, photo, 0);
  return action;
}

static WsAction *
edit_note (World *world)
{
  WsAction *action = ws_action_new ("edit note");
  g_autoptr (WsNote) note = ws_note_copy (AT (world->find->notes, 1));

  note->sure = FALSE;
  ws_action_put_note (action, world->find->id, note);
  ws_action_remove_note (action, ((WsNote *) AT (world->find->notes, 0))->id);
  return action;
}

static WsAction *
excuse (World *world)
{
  WsAction *action = ws_action_new ("excuse");
  g_autoptr (WsExcuse) stem_base = sample_excuse ("stem-base");

  ws_action_put_excuse (action, world->find->id, stem_base);
  ws_action_remove_excuse (action, world->find->id, "spore-print");
  return action;
}

static WsAction *
cover (World *world)
{
  WsAction *action = ws_action_new ("cover");
  g_autoptr (WsCover) more = sample_cover (((WsFindPhoto *) AT (world->other->photos, 0))->photo->id);

  ws_action_put_cover (action, more);
  ws_action_remove_cover (action, ((WsCover *) AT (world->find->covers, 0))->id);
  return action;
}

static WsAction *
sizes (World *world)
{
  WsAction *action = ws_action_new ("sizes");
  g_autoptr (WsScale) scale = sample_scale (((WsFindPhoto *) AT (world->other->photos, 0))->photo->id);
  g_autoptr (WsMeasurement) measurement = ws_measurement_copy (AT (world->find->measurements, 0));
  g_autoptr (WsSporeList) list = sample_spore_list ();

  measurement->value = 3;
  ws_action_put_scale (action, scale);
  ws_action_remove_scale (action, ((WsScale *) AT (world->find->scales, 0))->id);
  ws_action_put_measurement (action, world->find->id, measurement);
  ws_action_remove_measurement (action, ((WsMeasurement *) AT (world->find->measurements, 1))->id);
  ws_action_put_spore_list (action, world->find->id, list);
  ws_action_remove_spore_list (action, ((WsSporeList *) AT (world->find->spores, 0))->id);
  return action;
}

static WsAction *
remove_other (World *world)
{
  WsAction *action = ws_action_new ("remove other");

  ws_action_remove_find (action, world->other->id);
  return action;
}

/* As "these are all one find" does it: the photos and marks of both in one, the other one gone. */
static WsAction *
merge (World *world)
{
  WsAction *action = ws_action_new ("merge");

  for (guint i = 0; i < world->other->photos->len; i++)
    ws_action_put_find_photo (action, world->find->id, AT (world->other->photos, i));
  for (guint i = 0; i < world->other->marks->len; i++)
    ws_action_put_mark (action, world->find->id, AT (world->other->marks, i));
  for (guint i = 0; i < world->other->notes->len; i++)
    ws_action_put_note (action, world->find->id, AT (world->other->notes, i));
  for (guint i = 0; i < world->other->measurements->len; i++)
    ws_action_put_measurement (action, world->find->id, AT (world->other->measurements, i));
  ws_action_put_spore_list (action, world->find->id, AT (world->other->spores, 0));
  ws_action_share_names (action, world->other->id, world->find->id);
  ws_action_remove_find (action, world->other->id);
  return action;
}

static WsAction *
remove_all (World *world)
{
  WsAction *action = ws_action_new ("remove all");

  ws_action_remove_foray (action, world->foray->id);
  ws_action_remove_find (action, world->find->id);
  return action;
}

typedef struct
{
  const char *label;
  WsAction *(*make) (World *world);
} Move;

static const Move one_path[] = {
  { "import", import }, { "import other", import_other }, { "edit foray", edit_foray }, { "move mark", move_mark },
  { "share photo", share_photo }, { "set aside", set_aside }, { "copy of", make_copy_of },
  { "edit find", edit_find }, { "edit note", edit_note }, { "excuse", excuse }, { "cover", cover },
  { "sizes", sizes }, { "remove mark", remove_mark }, { "move photo", move_photo }, { "remove other", remove_other },
  { "remove all", remove_all },
};
static const Move another_path[] = {
  { "import", import }, { "import other", import_other }, { "move photo", move_photo }, { "merge", merge },
  { "move mark", move_mark }, { "remove mark", remove_mark }, { "remove all", remove_all },
};

static void
world_clear (World *world)
{
  ws_foray_unref (world->foray);
  ws_find_unref (world->find);
  ws_find_unref (world->other);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (World, world_clear)

static void
make_world (World *world)
{
  world->foray = sample_foray ();
  world->find = sample_whole_find ("25-101", world->foray);
  world->other = sample_whole_find ("25-102", world->foray);
}

/* Each move, then all of them back and forth again, with the library closed and opened in between. */
static void
walk (Fixture *fixture, const Move *moves, guint n)
{
  g_auto (World) world = { NULL };
  g_autoptr (GPtrArray) states = g_ptr_array_new_with_free_func (g_free);

  make_world (&world);
  g_ptr_array_add (states, library_text (fixture->library));
  for (guint i = 0; i < n; i++)
    {
      g_test_message ("%s", moves[i].label);
      apply (fixture->library, moves[i].make (&world));
      g_ptr_array_add (states, library_text (fixture->library));
      g_assert_cmpstr (AT (states, i), !=, AT (states, i + 1));
      assert_peek (fixture->library, moves[i].label, NULL);
    }
  for (guint round = 0; round < 2; round++)
    {
      for (guint i = n; i > 0; i--)
        {
          g_autofree char *text = NULL;

          undo (fixture->library, moves[i - 1].label);
          text = library_text (fixture->library);
          g_assert_cmpstr (text, ==, AT (states, i - 1));
          if (i == n / 2)
            fixture_reopen (fixture);
        }
      assert_peek (fixture->library, NULL, moves[0].label);
      assert_refused (fixture->library, ws_library_undo, WS_ERROR_NOT_FOUND);
      for (guint i = 0; i < n; i++)
        {
          g_autofree char *text = NULL;

          redo (fixture->library, moves[i].label);
          text = library_text (fixture->library);
          g_assert_cmpstr (text, ==, AT (states, i + 1));
          if (i == n / 2)
            fixture_reopen (fixture);
        }
      assert_peek (fixture->library, moves[n - 1].label, NULL);
      assert_refused (fixture->library, ws_library_redo, WS_ERROR_NOT_FOUND);
    }
}

static void
test_everything (Fixture *fixture, gconstpointer data)
{
  g_test_summary ("Every kind of action can be taken back and done again, across restarts, to the last bit");
  walk (fixture, one_path, G_N_ELEMENTS (one_path));
}

static void
test_merge (Fixture *fixture, gconstpointer data)
{
  g_test_summary ("So can moving photos and merging finds");
  walk (fixture, another_path, G_N_ELEMENTS (another_path));
}

static void
test_one_step (Fixture *fixture, gconstpointer data)
{
  g_auto (World) world = { NULL };
  g_autofree char *steps = NULL, *same = NULL, *empty = NULL, *before = NULL, *after = NULL;

  g_test_summary ("One action is one step however much it holds; one that changes nothing is none");
  make_world (&world);
  before = library_text (fixture->library);
  apply (fixture->library, import (&world));
  steps = fixture_query (fixture, "SELECT count (*) FROM undo_log");
  g_assert_cmpstr (steps, ==, "1");
  apply (fixture->library, import (&world));
  apply (fixture->library, ws_action_new ("nothing"));
  same = fixture_query (fixture, "SELECT count (*) FROM undo_log");
  g_assert_cmpstr (same, ==, "1");
  undo (fixture->library, "import");
  after = library_text (fixture->library);
  g_assert_cmpstr (after, ==, before);
}

static void
test_new_action_ends_redo (Fixture *fixture, gconstpointer data)
{
  g_auto (World) world = { NULL };

  g_test_summary ("A new action clears what could have been done again");
  make_world (&world);
  apply (fixture->library, import (&world));
  apply (fixture->library, edit_find (&world));
  apply (fixture->library, move_mark (&world));
  undo (fixture->library, "move mark");
  undo (fixture->library, "edit find");
  assert_peek (fixture->library, "import", "edit find");
  apply (fixture->library, edit_foray (&world));
  assert_peek (fixture->library, "edit foray", NULL);
  undo (fixture->library, "edit foray");
  undo (fixture->library, "import");
}

static void
test_bounded (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_find ("0", NULL);
  g_autofree char *steps = NULL, *oldest = NULL;

  g_test_summary ("The log keeps the last 1000 steps");
  fixture_execute (fixture,
                   "INSERT INTO undo_log (origin, label, made_us, undone, changes) "
                   "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 1000) "
                   "SELECT 'another', 'old ' || i, 0, 0, x'' FROM n");
  for (guint i = 1; i <= 5; i++)
    {
      g_autofree char *label = g_strdup_printf ("new %u", i);
      WsAction *action = ws_action_new (label);
      g_autoptr (WsFind) next = ws_find_copy (find);

      g_free (next->number);
      next->number = g_strdup_printf ("%u", i);
      ws_action_put_find (action, next);
      apply (fixture->library, action);
    }
  steps = fixture_query (fixture, "SELECT count (*) FROM undo_log");
  g_assert_cmpint (atoi (steps), ==, WS_LIBRARY_UNDO_STEPS);
  oldest = fixture_query (fixture, "SELECT label FROM undo_log ORDER BY step LIMIT 1");
  g_assert_cmpstr (oldest, ==, "old 6");
  for (guint i = 5; i >= 1; i--)
    {
      g_autofree char *label = g_strdup_printf ("new %u", i);

      undo (fixture->library, label);
    }
}

/* --- What undo leaves alone ------------------------------------------------------------------- */

static void
test_measure (Fixture *fixture, gconstpointer data)
{
  g_auto (World) world = { NULL };
  WsMeasure measure = { TRUE, 30, 20, 2.5, 0.25, 0.5, 0.125, 9 };
  g_autofree char *measured = NULL, *again = NULL, *gone = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("A mark that was measured since can be taken back; after redo its measure is there again");
  make_world (&world);
  apply (fixture->library, import (&world));
  g_assert_true (ws_library_store_measure (fixture->library, AT (world.find->marks, 1), &measure, &error));
  g_assert_no_error (error);
  measured = find_text (fixture->library, world.find->id);
  g_assert_nonnull (strstr (measured, "method=9"));
  undo (fixture->library, "import");
  gone = find_text (fixture->library, world.find->id);
  g_assert_cmpstr (gone, ==, "gone");
  redo (fixture->library, "import");
  again = find_text (fixture->library, world.find->id);
  g_assert_cmpstr (again, ==, measured);
}

static void
test_path (Fixture *fixture, gconstpointer data)
{
  g_auto (World) world = { NULL };
  const WsPhoto *photo;
  g_autofree char *moved = NULL, *again = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("An import whose photos were found elsewhere since can be taken back");
  make_world (&world);
  photo = ((WsFindPhoto *) AT (world.find->photos, 0))->photo;
  apply (fixture->library, import (&world));
  g_assert_true (ws_library_store_photo_path (fixture->library, photo->id, "/elsewhere/1.jpg", 7, 8, &error));
  g_assert_no_error (error);
  moved = find_text (fixture->library, world.find->id);
  g_assert_nonnull (strstr (moved, "path=</elsewhere/1.jpg> size=7 time=8"));
  undo (fixture->library, "import");
  redo (fixture->library, "import");
  again = find_text (fixture->library, world.find->id);
  g_assert_cmpstr (again, ==, moved);
}

static void
test_request_stays (Fixture *fixture, gconstpointer data)
{
  g_auto (World) world = { NULL };
  g_autoptr (WsRequest) request = ws_request_new ();
  g_autoptr (GPtrArray) requests = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *setting = NULL;

  g_test_summary ("A request and a setting are not taken back, nor do they stand in the way");
  make_world (&world);
  apply (fixture->library, import (&world));
  g_free (request->id);
  request->id = ws_id_new ();
  ws_find_unref (request->find);
  request->find = ws_find_ref (world.find);
  g_assert_true (ws_library_add_request (fixture->library, request, "d", "p.zip", &error));
  g_assert_true (ws_library_set_setting (fixture->library, "name", "Ada", &error));
  undo (fixture->library, "import");
  requests = ws_library_load_requests (fixture->library, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (requests->len, ==, 1);
  g_assert_cmpstr (((WsSentRequest *) AT (requests, 0))->find_id, ==, world.find->id);
  setting = ws_library_dup_setting (fixture->library, "name");
  g_assert_cmpstr (setting, ==, "Ada");
  assert_peek (fixture->library, NULL, "import");
}

/* --- Two programs ----------------------------------------------------------------------------- */

static void
test_conflict_same_value (Fixture *fixture, gconstpointer data)
{
  g_auto (World) world = { NULL };
  WsLibrary *second = fixture_open_again (fixture);
  WsAction *action = ws_action_new ("second moves the mark");
  g_autoptr (WsMark) mark = NULL;

  g_test_summary ("An undo over another program's change of the same value is refused, nothing is written");
  make_world (&world);
  apply (fixture->library, import (&world));
  apply (fixture->library, move_mark (&world));
  mark = ws_mark_copy (AT (world.find->marks, 0));
  mark->shape->bounds.x = 0.25;
  ws_action_put_mark (action, world.find->id, mark);
  apply (second, action);
  assert_peek (fixture->library, "move mark", NULL);
  assert_refused (fixture->library, ws_library_undo, WS_ERROR_CONFLICT);
  undo (second, "second moves the mark");
  undo (fixture->library, "move mark");
  undo (fixture->library, "import");
  g_assert_finalize_object (second);
}

static void
test_conflict_reference (Fixture *fixture, gconstpointer data)
{
  g_auto (World) world = { NULL };
  WsLibrary *second = fixture_open_again (fixture);
  WsAction *action = ws_action_new ("second notes");
  g_autoptr (WsNote) note = sample_note (NULL);

  g_test_summary ("An undo that would take a find away from under another program's note is refused");
  make_world (&world);
  apply (fixture->library, import (&world));
  ws_action_put_note (action, world.find->id, note);
  apply (second, action);
  assert_refused (fixture->library, ws_library_undo, WS_ERROR_CONFLICT);
  undo (second, "second notes");
  undo (fixture->library, "import");
  g_assert_finalize_object (second);
}

static void
test_conflict_removed (Fixture *fixture, gconstpointer data)
{
  g_auto (World) world = { NULL };
  WsLibrary *second = fixture_open_again (fixture);

  g_test_summary ("An undo or redo of what another program has removed is refused");
  make_world (&world);
  apply (fixture->library, import (&world));
  apply (fixture->library, move_mark (&world));
  apply (second, remove_mark (&world));
  assert_refused (fixture->library, ws_library_undo, WS_ERROR_CONFLICT);
  undo (second, "remove mark");
  undo (fixture->library, "move mark");
  apply (second, remove_mark (&world));
  assert_refused (fixture->library, ws_library_redo, WS_ERROR_CONFLICT);
  g_assert_finalize_object (second);
}

static void
test_other_values (Fixture *fixture, gconstpointer data)
{
  g_auto (World) world = { NULL };
  WsLibrary *second = fixture_open_again (fixture);
  WsAction *action = ws_action_new ("second renames");
  g_autoptr (WsFind) find = NULL, now = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("Each program takes back its own; what the other has changed beside it stays");
  make_world (&world);
  apply (fixture->library, import (&world));
  apply (fixture->library, edit_find (&world));
  find = ws_library_load_find (second, world.find->id, &error);
  g_assert_no_error (error);
  ws_set_string (&find->field_name, "second's name");
  ws_action_put_find (action, find);
  apply (second, action);
  assert_peek (fixture->library, "edit find", NULL);
  assert_peek (second, "second renames", NULL);
  undo (fixture->library, "edit find");
  now = ws_library_load_find (fixture->library, world.find->id, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (now->field_name, ==, "second's name");
  g_assert_cmpstr (now->number, ==, "25-101");
  g_assert_finalize_object (second);

  /* Who opens the library later has the whole history. */
  fixture_reopen (fixture);
  assert_peek (fixture->library, "second renames", "edit find");
}

static void
test_unrecorded (Fixture *fixture, gconstpointer data)
{
  g_auto (World) world = { NULL };

  g_test_summary ("A change that stands in no log is not undone by accident");
  make_world (&world);
  apply (fixture->library, import (&world));
  apply (fixture->library, edit_find (&world));
  fixture_execute (fixture, "UPDATE find SET number = 'by hand'");
  assert_refused (fixture->library, ws_library_undo, WS_ERROR_CONFLICT);
}

static void
test_damaged_log (Fixture *fixture, gconstpointer data)
{
  g_auto (World) world = { NULL };

  g_test_summary ("A step that cannot be read is refused with nothing written");
  make_world (&world);
  apply (fixture->library, import (&world));
  fixture_execute (fixture, "UPDATE undo_log SET changes = substr (changes, 1, 200)");
  assert_refused (fixture->library, ws_library_undo, WS_ERROR_UNREADABLE);
  fixture_execute (fixture, "UPDATE undo_log SET changes = x'ff00ff00ff'");
  assert_refused (fixture->library, ws_library_undo, WS_ERROR_UNREADABLE);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  FIXTURE_TEST ("/library/undo/everything", test_everything);
  FIXTURE_TEST ("/library/undo/merge", test_merge);
  FIXTURE_TEST ("/library/undo/one-step", test_one_step);
  FIXTURE_TEST ("/library/undo/new-action-ends-redo", test_new_action_ends_redo);
  FIXTURE_TEST ("/library/undo/bounded", test_bounded);
  FIXTURE_TEST ("/library/undo/measure", test_measure);
  FIXTURE_TEST ("/library/undo/path", test_path);
  FIXTURE_TEST ("/library/undo/request-stays", test_request_stays);
  FIXTURE_TEST ("/library/undo/conflict-same-value", test_conflict_same_value);
  FIXTURE_TEST ("/library/undo/conflict-reference", test_conflict_reference);
  FIXTURE_TEST ("/library/undo/conflict-removed", test_conflict_removed);
  FIXTURE_TEST ("/library/undo/other-values", test_other_values);
  FIXTURE_TEST ("/library/undo/unrecorded", test_unrecorded);
  FIXTURE_TEST ("/library/undo/damaged-log", test_damaged_log);
  return g_test_run ();
}
