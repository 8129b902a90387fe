/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-library-private.h"

#include "fixture.h"

#include <string.h>

#define AT(array, i) g_ptr_array_index ((array), (i))

/* --- References --------------------------------------------------------------------------- */

typedef struct
{
  const char *name;
  void (*add) (WsAction *action, const WsFind *find, const char *nothing);
  const char *message_part;
} Case;

static void
find_without_foray (WsAction *action, const WsFind *find, const char *nothing)
{
  g_autoptr (WsFind) changed = ws_find_copy (find);

  ws_set_string (&changed->foray_id, nothing);
  ws_action_put_find (action, changed);
}

static void
foray_with_find (WsAction *action, const WsFind *find, const char *nothing)
{
  ws_action_remove_foray (action, find->foray_id);
}

static void
link_without_find (WsAction *action, const WsFind *find, const char *nothing)
{
  ws_action_put_find_photo (action, nothing, AT (find->photos, 0));
}

static void
link_without_photo (WsAction *action, const WsFind *find, const char *nothing)
{
  g_autoptr (WsPhoto) photo = sample_photo ();
  g_autoptr (WsFindPhoto) link = sample_link (photo, 3);

  ws_action_put_find_photo (action, find->id, link);
}

static void
mark_without_find (WsAction *action, const WsFind *find, const char *nothing)
{
  ws_action_put_mark (action, nothing, AT (find->marks, 0));
}

static void
mark_off_its_photos (WsAction *action, const WsFind *find, const char *nothing)
{
  g_autoptr (WsPhoto) photo = sample_photo ();
  g_autoptr (WsMark) mark = sample_mark (photo->id);

  ws_action_put_photo (action, photo, 0);
  ws_action_put_mark (action, find->id, mark);
}

static void
note_without_find (WsAction *action, const WsFind *find, const char *nothing)
{
  ws_action_put_note (action, nothing, AT (find->notes, 1));
}

static void
note_without_mark (WsAction *action, const WsFind *find, const char *nothing)
{
  g_autoptr (WsNote) note = sample_note (nothing);

  ws_action_put_note (action, find->id, note);
}

static void
excuse_without_find (WsAction *action, const WsFind *find, const char *nothing)
{
  ws_action_put_excuse (action, nothing, AT (find->excuses, 0));
}

static void
cover_without_photo (WsAction *action, const WsFind *find, const char *nothing)
{
  g_autoptr (WsCover) cover = sample_cover (nothing);

  ws_action_put_cover (action, cover);
}

static void
copy_of_nothing (WsAction *action, const WsFind *find, const char *nothing)
{
  g_autoptr (WsPhoto) photo = sample_photo ();

  photo->copy_of = g_strdup (nothing);
  ws_action_put_photo (action, photo, 0);
}

static void
same_digest (WsAction *action, const WsFind *find, const char *nothing)
{
  g_autoptr (WsPhoto) photo = sample_photo ();

  ws_set_string (&photo->digest, ((WsFindPhoto *) AT (find->photos, 0))->photo->digest);
  ws_action_put_photo (action, photo, 0);
}

static const Case cases[] = {
  { "find of no foray", find_without_foray, "a find refers to a foray" },
  { "foray that still has finds", foray_with_find, "a find refers to a foray" },
  { "photo of no find", link_without_find, "a photo of a find refers to a find" },
  { "find with no photo", link_without_photo, "a photo of a find refers to a photo" },
  { "mark of no find", mark_without_find, "a mark refers to a photo of a find" },
  { "mark on a photo of another find", mark_off_its_photos, "a mark refers to a photo of a find" },
  { "note of no find", note_without_find, "a note refers to a find" },
  { "note read off no mark", note_without_mark, "a note refers to a mark" },
  { "reason of no find", excuse_without_find, "a reason for a missing view refers to a find" },
  { "cover of no photo", cover_without_photo, "a covered region refers to a photo" },
  { "copy of no photo", copy_of_nothing, "a photo refers to a photo" },
  { "the same content twice", same_digest, "already" },
};

static void
test_references (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsForay) foray = sample_foray ();
  g_autoptr (WsFind) find = sample_whole_find ("25-101", foray);
  g_autofree char *nothing = ws_id_new ();

  g_test_summary ("What refers to something that is gone is refused, and the message says what");
  apply (fixture->library, action_put_whole ("import", foray, find));
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WsAction *action = ws_action_new ("wrong");

      g_test_message ("%s", cases[i].name);
      cases[i].add (action, find, nothing);
      apply_fails (fixture->library, action, WS_ERROR_CONFLICT, cases[i].message_part);
    }
}

static void
test_whole_or_not (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsForay) foray = sample_foray ();
  g_autoptr (WsFind) find = sample_whole_find ("25-101", foray);
  g_autofree char *nothing = ws_id_new ();
  WsAction *action = action_put_whole ("import", foray, find);

  g_test_summary ("An action whose last step fails writes none of its steps, and makes no step of undo");
  ws_action_remove_mark (action, nothing);
  apply_fails (fixture->library, action, WS_ERROR_CONFLICT, "a mark");
  g_assert_false (ws_library_undo (fixture->library, NULL, NULL));
}

static void
test_any_order (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsForay) foray = sample_foray ();
  g_autoptr (WsFind) find = sample_whole_find ("25-101", foray);
  const WsFindPhoto *link = AT (find->photos, 0);
  WsAction *action = ws_action_new ("backwards");
  g_autofree char *text = NULL;

  g_test_summary ("Inside an action what is referred to may come later");
  ws_action_put_mark (action, find->id, AT (find->marks, 0));
  ws_action_put_find_photo (action, find->id, link);
  ws_action_put_find (action, find);
  ws_action_put_foray (action, foray);
  ws_action_put_photo (action, link->photo, 0);
  apply (fixture->library, action);
  text = find_text (fixture->library, find->id);
  g_assert_nonnull (strstr (text, "cleaned"));
}

/* --- Busy, damaged -------------------------------------------------------------------------- */

static void
test_busy (Fixture *fixture, gconstpointer data)
{
  g_autofree char *path = fixture_dup_path (fixture);
  g_autoptr (WsFind) find = sample_find ("1", NULL);
  g_autoptr (GPtrArray) finds = NULL;
  g_autoptr (GError) error = NULL;
  WsAction *action = ws_action_new ("put");
  gint64 start;
  sqlite3 *other;

  g_test_summary ("While another program holds the lock, reading works and writing is refused after five seconds");
  g_assert_cmpint (sqlite3_open (path, &other), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (other, "BEGIN IMMEDIATE", NULL, NULL, NULL), ==, SQLITE_OK);
  finds = ws_library_load_finds (fixture->library, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (finds->len, ==, 0);
  start = g_get_monotonic_time ();
  ws_action_put_find (action, find);
  g_assert_false (ws_library_apply (fixture->library, action, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_CONFLICT);
  g_assert_nonnull (strstr (error->message, "try again"));
  g_assert_cmpint (g_get_monotonic_time () - start, >=, 4 * G_USEC_PER_SEC);
  sqlite3_exec (other, "ROLLBACK", NULL, NULL, NULL);
  sqlite3_close (other);
  action = ws_action_new ("put");
  ws_action_put_find (action, find);
  apply (fixture->library, action);
}

static void
test_migrated_meanwhile (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsFind) find = sample_find ("1", NULL);
  g_autoptr (GError) read_error = NULL, write_error = NULL;
  g_autofree char *n = NULL;
  WsAction *action = ws_action_new ("put");

  g_test_summary ("When a newer program migrates the open library, this one neither reads nor writes any more");
  fixture_execute (fixture, "PRAGMA user_version = 99");
  g_assert_null (ws_library_load_finds (fixture->library, NULL, &read_error));
  g_assert_error (read_error, WS_ERROR, WS_ERROR_NEWER_FORMAT);
  ws_action_put_find (action, find);
  g_assert_false (ws_library_apply (fixture->library, action, &write_error));
  g_assert_error (write_error, WS_ERROR, WS_ERROR_NEWER_FORMAT);
  n = fixture_query (fixture, "SELECT count (*) FROM find");
  g_assert_cmpstr (n, ==, "0");
}

static gboolean
fill_disk (WsStore *store, gpointer data, GError **error)
{
  return ws_store_execute (store, "PRAGMA max_page_count = 1", error);
}

static void
test_full (Fixture *fixture, gconstpointer data)
{
  g_autofree char *much = g_strnfill (100000, 'x');
  g_autoptr (WsFind) find = sample_find ("1", NULL);
  g_autoptr (GError) error = NULL;
  WsAction *action = ws_action_new ("put");

  g_test_summary ("A full disk is an error that says so, and the library goes on as it was");
  ws_library_read (fixture->library, fill_disk, NULL, &error);
  g_assert_no_error (error);
  ws_set_string (&find->remarks, much);
  ws_action_put_find (action, find);
  apply_fails (fixture->library, action, WS_ERROR_FAILED, "full");
}

static void
test_damaged (Fixture *fixture, gconstpointer data)
{
  g_autofree char *path = fixture_dup_path (fixture);
  g_autofree char *bytes = NULL;
  g_autoptr (WsFind) find = sample_find ("1", NULL);
  g_autoptr (GError) error = NULL;
  WsAction *action = ws_action_new ("put");
  WsLibrary *library;
  gsize size;

  g_test_summary ("A damaged database gives an error that says so");
  ws_action_put_find (action, find);
  apply (fixture->library, action);
  g_assert_finalize_object (g_steal_pointer (&fixture->library));
  g_assert_true (g_file_get_contents (path, &bytes, &size, NULL));
  memset (bytes + 4096, 0x5a, size - 4096);
  g_assert_true (g_file_set_contents (path, bytes, (gssize) size, NULL));
  g_clear_pointer (&bytes, g_free);
  bytes = g_path_get_dirname (path);
  library = ws_library_open (bytes, &error);
  if (library != NULL)
    {
      g_assert_null (ws_library_load_finds (library, NULL, &error));
      g_object_unref (library);
    }
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
  g_assert_nonnull (strstr (error->message, "damaged"));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  FIXTURE_TEST ("/library/store/references", test_references);
  FIXTURE_TEST ("/library/store/whole-or-not", test_whole_or_not);
  FIXTURE_TEST ("/library/store/any-order", test_any_order);
  FIXTURE_TEST ("/library/store/busy", test_busy);
  FIXTURE_TEST ("/library/store/migrated-meanwhile", test_migrated_meanwhile);
  FIXTURE_TEST ("/library/store/full", test_full);
  FIXTURE_TEST ("/library/store/damaged", test_damaged);
  return g_test_run ();
}
