/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-library-private.h"

#include "ws-file.h"

#include "fixture.h"

#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

/* The tables and indexes of a database, in order of their names. */
#define ALL_SQL                                                                                  \
  "SELECT group_concat (sql, x'0a') FROM (SELECT sql FROM sqlite_master WHERE sql IS NOT NULL " \
  "AND name NOT LIKE 'sqlite_%' ORDER BY type, name)"

static char *
digest_of (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = ws_file_read (path, 100 * 1000 * 1000, &error);

  g_assert_no_error (error);
  return g_compute_checksum_for_bytes (G_CHECKSUM_SHA512, bytes);
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* The names in a folder, sorted, blanks between. */
static char *
list_folder (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, compare_names);
  g_ptr_array_add (names, NULL);
  return g_strjoinv (" ", (char **) names->pdata);
}

static char *
read_format (int format)
{
  g_autofree char *name = g_strdup_printf ("format-%d.sql", format);
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "library", name, NULL);
  g_autoptr (GError) error = NULL;
  char *sql = NULL;

  g_file_get_contents (path, &sql, NULL, &error);
  g_assert_no_error (error);
  return sql;
}

typedef struct
{
  char *folder;
  char *path;    /* of library.db in it; not made yet */
} Place;

static void
set_up (Place *place, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  place->folder = g_dir_make_tmp ("wholestem-XXXXXX", &error);
  g_assert_no_error (error);
  place->path = g_build_filename (place->folder, "library.db", NULL);
}

static void
tear_down (Place *place, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  ws_file_remove_tree (place->folder, &error);
  g_assert_no_error (error);
  g_free (place->folder);
  g_free (place->path);
}

/* Opening is refused, the file is as it was and nothing was put beside it. */
static void
assert_refused (Place *place, WsError code, const char *message_part)
{
  g_autofree char *before = digest_of (place->path), *after = NULL, *names = NULL;
  g_autoptr (GError) error = NULL;
  WsLibrary *library = ws_library_open (place->folder, &error);

  g_assert_null (library);
  g_assert_error (error, WS_ERROR, (int) code);
  g_assert_nonnull (strstr (error->message, message_part));
  g_assert_nonnull (strstr (error->message, place->path));
  after = digest_of (place->path);
  g_assert_cmpstr (after, ==, before);
  names = list_folder (place->folder);
  g_assert_cmpstr (names, ==, "library.db");
}

static void
test_new (Place *place, gconstpointer data)
{
  g_autofree char *folder = g_build_filename (place->folder, "a", "b", NULL);
  g_autofree char *path = g_build_filename (folder, "library.db", NULL);
  g_autofree char *names = NULL, *mode = NULL, *version = NULL, *application = NULL;
  g_autoptr (GError) error = NULL;
  WsLibrary *library = ws_library_open (folder, &error);
  struct stat info;

  g_test_summary ("A new library is whole, ours, for its owner alone, and in write-ahead mode");
  g_assert_no_error (error);
  g_assert_finalize_object (library);
  names = list_folder (folder);
  g_assert_cmpstr (names, ==, "library.db received sent thumbnails");
  g_assert_cmpint (g_stat (folder, &info), ==, 0);
  g_assert_cmphex (info.st_mode & 0777, ==, 0700);
  mode = database_query (path, "PRAGMA journal_mode");
  version = database_query (path, "PRAGMA user_version");
  application = database_query (path, "SELECT printf ('%x', application_id) FROM pragma_application_id");
  g_assert_cmpstr (mode, ==, "wal");
  g_assert_cmpint (atoi (version), ==, WS_LIBRARY_FORMAT);
  g_assert_cmpstr (application, ==, "5753746d");
}

static gboolean
query_pragma (WsStore *store, gpointer data, GError **error)
{
  static const char *const pragmas[] = { "PRAGMA synchronous", "PRAGMA foreign_keys", "PRAGMA busy_timeout" };
  gint64 *values = data;

  for (guint i = 0; i < G_N_ELEMENTS (pragmas); i++)
    {
      g_auto (WsStatement) row = ws_statement (store, pragmas[i]);

      g_assert_true (ws_statement_next (&row, error));
      values[i] = ws_statement_take_int (&row);
    }
  return TRUE;
}

static void
test_connection (Fixture *fixture, gconstpointer data)
{
  gint64 values[3] = { 0 };

  g_test_summary ("Full synchronisation, foreign keys and the busy timeout are on");
  g_assert_true (ws_library_read (fixture->library, query_pragma, values, NULL));
  g_assert_cmpint (values[0], ==, 2); /* FULL: https://www.sqlite.org/pragma.html#pragma_synchronous */
  g_assert_cmpint (values[1], ==, 1);
  g_assert_cmpint (values[2], ==, 5000);
}

static void
test_garbage (Place *place, gconstpointer data)
{
  g_autofree char *long_text = g_strnfill (100000, 'x');
  const char *const contents[] = { "", "not a database", long_text, "SQLite format 3" };

  g_test_summary ("A file that is no database is refused and left as it is");
  for (guint i = 0; i < G_N_ELEMENTS (contents); i++)
    {
      g_test_message ("%.20s", contents[i]);
      g_assert_true (g_file_set_contents (place->path, contents[i], -1, NULL));
      assert_refused (place, WS_ERROR_UNREADABLE, "is not a library");
    }
}

static void
test_foreign (Place *place, gconstpointer data)
{
  g_test_summary ("A database of another program is refused and left as it is, in either journal mode");
  database_execute (place->path, "CREATE TABLE theirs (x); PRAGMA user_version = 1");
  assert_refused (place, WS_ERROR_UNREADABLE, "is not a library");
  database_execute (place->path, "PRAGMA journal_mode = WAL; INSERT INTO theirs VALUES (1)");
  assert_refused (place, WS_ERROR_UNREADABLE, "is not a library");
  database_execute (place->path, "PRAGMA application_id = 0x5753746d; PRAGMA user_version = 0");
  assert_refused (place, WS_ERROR_UNREADABLE, "is not a library");
}

static void
test_foreign_log (Place *place, gconstpointer data)
{
  g_autofree char *log = g_strconcat (place->path, "-wal", NULL);
  g_autofree char *aside = g_strconcat (place->path, ".aside", NULL);
  g_autofree char *before = NULL, *after = NULL, *log_before = NULL, *log_after = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *data_of_log = NULL;
  gsize size;
  sqlite3 *db;

  g_test_summary ("Not even the write-ahead log that another program left behind is touched");
  g_assert_cmpint (sqlite3_open (place->path, &db), ==, SQLITE_OK);
  sqlite3_exec (db, "PRAGMA journal_mode = WAL; CREATE TABLE theirs (x); INSERT INTO theirs VALUES (1)", NULL, NULL,
                NULL);
  /* As after a crash: both files as they are while it is open. */
  g_assert_true (g_file_get_contents (log, &data_of_log, &size, NULL));
  g_assert_cmpuint (size, >, 0);
  g_assert_true (g_file_set_contents (aside, data_of_log, (gssize) size, NULL));
  before = digest_of (place->path);
  sqlite3_db_config (db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);
  sqlite3_close (db);
  g_assert_cmpint (g_rename (aside, log), ==, 0);
  log_before = digest_of (log);

  g_assert_null (ws_library_open (place->folder, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
  after = digest_of (place->path);
  log_after = digest_of (log);
  g_assert_cmpstr (after, ==, before);
  g_assert_cmpstr (log_after, ==, log_before);
}

static void
test_newer (Place *place, gconstpointer data)
{
  g_autofree char *newer = g_strdup_printf ("PRAGMA user_version = %d; CREATE TABLE newer (x)", WS_LIBRARY_FORMAT + 1);
  g_autoptr (GError) error = NULL;
  WsStore *store = ws_store_open (place->path, ws_store_migrations, WS_LIBRARY_FORMAT, &error);

  g_test_summary ("A library of a newer version is refused and left as it is");
  g_assert_no_error (error);
  ws_store_close (store);
  database_execute (place->path, newer);
  assert_refused (place, WS_ERROR_NEWER_FORMAT, "newer version");
}

static void
test_folder_in_the_way (Place *place, gconstpointer data)
{
  g_autofree char *below = g_build_filename (place->path, "deeper", NULL);
  g_autoptr (GError) error = NULL, error_pipe = NULL, error_below = NULL;

  g_test_summary ("A folder or a pipe in the database's place, and a file in the folder's place, give an error");
  g_assert_cmpint (g_mkdir (place->path, 0700), ==, 0);
  g_assert_null (ws_library_open (place->folder, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
  g_assert_cmpint (g_rmdir (place->path), ==, 0);
  g_assert_cmpint (mkfifo (place->path, 0600), ==, 0);
  g_assert_null (ws_library_open (place->folder, &error_pipe));
  g_assert_error (error_pipe, WS_ERROR, WS_ERROR_UNREADABLE);
  g_assert_cmpint (g_unlink (place->path), ==, 0);
  g_assert_true (g_file_set_contents (place->path, "", 0, NULL));
  g_assert_null (ws_library_open (below, &error_below));
  g_assert_error (error_below, WS_ERROR, WS_ERROR_FAILED);
  g_assert_nonnull (strstr (error_below->message, below));
}

/* --- Formats ------------------------------------------------------------------------------ */

static void
test_text_of_format (Place *place, gconstpointer data)
{
  g_autofree char *sql = read_format (WS_LIBRARY_FORMAT);
  g_autofree char *old = g_build_filename (place->folder, "old.db", NULL);
  g_autofree char *expected = NULL, *made = NULL;
  WsStore *store = ws_store_open (place->path, ws_store_migrations, WS_LIBRARY_FORMAT, NULL);

  g_test_summary ("The tables of a new library are those of the format's text, which never changes again");
  ws_store_close (store);
  database_execute (old, sql);
  expected = database_query (old, ALL_SQL);
  made = database_query (place->path, ALL_SQL);
  g_assert_cmpstr (made, ==, expected);
}

/* What came with format 2: there, or empty in a library that was older. */
static void
assert_format_2 (WsLibrary *library, const WsFind *find, gboolean there)
{
  g_autoptr (GPtrArray) received = ws_library_load_received (library, NULL);
  const WsNote *note = g_ptr_array_index (find->notes, 0);

  g_assert_cmpuint (received->len, ==, there);
  g_assert_cmpuint (find->scales->len, ==, there);
  g_assert_cmpuint (find->measurements->len, ==, there);
  g_assert_cmpuint (find->spores->len, ==, there);
  g_assert_cmpuint (find->names->len, ==, there);
  g_assert_cmpuint (find->answers->len, ==, there);
  g_assert_cmpint (note->observed, ==, there ? WS_OBSERVED_AFTER : WS_OBSERVED_UNKNOWN);
  g_assert_cmpint (note->minutes == 5, ==, there);
  g_assert_cmpuint (g_strv_length (note->answers), ==, there);
  if (!there)
    return;
  g_assert_cmpfloat (((WsSporeList *) g_ptr_array_index (find->spores, 0))->spores[1].width, ==, 5.6);
  g_assert_cmpstr (ws_find_get_name_in_force (find)->verbatim, ==, "Amanita cf. phalloides");
  g_assert_nonnull (ws_find_get_wish (find, "v_base", NULL, NULL));
  /* 50 mm over half of 4000 px. */
  g_assert_cmpfloat (((WsMark *) g_ptr_array_index (find->marks, 0))->measure.mm_per_pixel, ==, 0.025);
}

static void
test_every_format (Place *place, gconstpointer data)
{
  g_test_summary ("A library of each format up to this one opens with what is in it");
  for (int format = 1; format <= WS_LIBRARY_FORMAT; format++)
    {
      g_autofree char *sql = read_format (format);
      g_autofree char *version = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (WsFind) find = NULL;
      g_autoptr (GPtrArray) requests = NULL;
      WsLibrary *library;

      (void) g_unlink (place->path);
      database_execute (place->path, sql);
      library = ws_library_open (place->folder, &error);
      g_assert_no_error (error);
      find = ws_library_load_find (library, "25-007", &error);
      g_assert_no_error (error);
      requests = ws_library_load_requests (library, &error);
      g_assert_no_error (error);
      g_assert_cmpstr (find->field_name, ==, "the pale one");
      g_assert_cmpuint (find->photos->len, ==, 1);
      g_assert_cmpuint (find->marks->len, ==, 1);
      g_assert_true (((WsMark *) find->marks->pdata[0])->measure.measured);
      g_assert_cmpuint (find->notes->len, ==, 1);
      g_assert_cmpuint (find->covers->len, ==, 1);
      g_assert_cmpuint (requests->len, ==, 1);
      assert_format_2 (library, find, format >= 2);
      g_object_unref (library);
      version = database_query (place->path, "PRAGMA user_version");
      g_assert_cmpint (atoi (version), ==, WS_LIBRARY_FORMAT);
    }
}

static gboolean
add_column (WsStore *store, GError **error)
{
  return ws_store_execute (store, "ALTER TABLE find ADD COLUMN weather TEXT NOT NULL DEFAULT 'fair'", error);
}

static gboolean
fail_half_way (WsStore *store, GError **error)
{
  return add_column (store, error) && ws_store_execute (store, "CREATE TABLE find (x)", error);
}

static gboolean
break_reference (WsStore *store, GError **error)
{
  return ws_store_execute (store, "DELETE FROM photo", error);
}

/* A library of format 1 with the contents of its text and one step of undo. */
static void
make_format_1 (Place *place)
{
  g_autofree char *sql = read_format (1);

  database_execute (place->path, sql);
  database_execute (place->path, "INSERT INTO undo_log (origin, label, made_us, undone, changes) "
                                 "VALUES ('o', 'Mark', 0, 0, x'00')");
}

static void
test_migrate (Place *place, gconstpointer data)
{
  const WsMigration migrations[] = { ws_store_migrations[0], add_column };
  g_autofree char *copy = g_strconcat (place->path, ".format-1", NULL);
  g_autofree char *weather = NULL, *version = NULL, *old_version = NULL, *old_number = NULL, *steps = NULL;
  g_autofree char *names = NULL;
  g_autoptr (GError) error = NULL;
  WsStore *store;

  g_test_summary ("A migration keeps what is there, forgets undo and leaves a copy of the old file");
  make_format_1 (place);
  store = ws_store_open (place->path, migrations, 2, &error);
  g_assert_no_error (error);
  ws_store_close (store);
  weather = database_query (place->path, "SELECT number || ' ' || weather FROM find");
  version = database_query (place->path, "PRAGMA user_version");
  steps = database_query (place->path, "SELECT count (*) FROM undo_log");
  g_assert_cmpstr (weather, ==, "25-007 fair");
  g_assert_cmpstr (version, ==, "2");
  g_assert_cmpstr (steps, ==, "0");
  old_version = database_query (copy, "PRAGMA user_version");
  old_number = database_query (copy, "SELECT number FROM find");
  g_assert_cmpstr (old_version, ==, "1");
  g_assert_cmpstr (old_number, ==, "25-007");
  names = list_folder (place->folder);
  g_assert_cmpstr (names, ==, "library.db library.db.format-1");
}

static void
test_migrate_new (Place *place, gconstpointer data)
{
  const WsMigration migrations[] = { ws_store_migrations[0], add_column };
  g_autofree char *version = NULL, *names = NULL;
  g_autoptr (GError) error = NULL;
  WsStore *store = ws_store_open (place->path, migrations, 2, &error);

  g_test_summary ("A new library goes through all migrations at once");
  g_assert_no_error (error);
  ws_store_close (store);
  version = database_query (place->path, "PRAGMA user_version");
  names = list_folder (place->folder);
  g_assert_cmpstr (version, ==, "2");
  g_assert_cmpstr (names, ==, "library.db");
}

static void
test_migrate_fails (Place *place, gconstpointer data)
{
  const WsMigration bad[] = { fail_half_way, break_reference };

  g_test_summary ("A migration that fails, or breaks a reference, changes nothing");
  make_format_1 (place);
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      const WsMigration migrations[] = { ws_store_migrations[0], bad[i] };
      g_autofree char *before = database_query (place->path, ALL_SQL), *after = NULL, *version = NULL, *n = NULL;
      g_autoptr (GError) error = NULL;

      g_assert_null (ws_store_open (place->path, migrations, 2, &error));
      g_assert_nonnull (error);
      after = database_query (place->path, ALL_SQL);
      version = database_query (place->path, "PRAGMA user_version");
      n = database_query (place->path, "SELECT (SELECT count (*) FROM photo) + (SELECT count (*) FROM undo_log)");
      g_assert_cmpstr (after, ==, before);
      g_assert_cmpstr (version, ==, "1");
      g_assert_cmpstr (n, ==, "2");
    }
}

static gpointer
open_in_thread (gpointer folder)
{
  g_autoptr (GError) error = NULL;
  WsLibrary *library = ws_library_open (folder, &error);

  g_assert_no_error (error);
  return library;
}

static void
test_race (Place *place, gconstpointer data)
{
  GThread *threads[6];
  WsLibrary *libraries[6];
  g_autofree char *names = NULL;

  g_test_summary ("Several that make the same new library at once all get the same one");
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("opener", open_in_thread, place->folder);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    libraries[i] = g_thread_join (threads[i]);
  g_assert_true (ws_library_set_setting (libraries[0], "name", "Ada", NULL));
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    {
      g_autofree char *name = ws_library_dup_setting (libraries[i], "name");

      g_assert_cmpstr (name, ==, "Ada");
    }
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    g_assert_finalize_object (libraries[i]);
  names = list_folder (place->folder);
  g_assert_cmpstr (names, ==, "library.db received sent thumbnails");
}

#define PLACE_TEST(path, test) g_test_add (path, Place, NULL, set_up, test, tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  PLACE_TEST ("/library/schema/new", test_new);
  FIXTURE_TEST ("/library/schema/connection", test_connection);
  PLACE_TEST ("/library/schema/garbage", test_garbage);
  PLACE_TEST ("/library/schema/foreign", test_foreign);
  PLACE_TEST ("/library/schema/foreign-log", test_foreign_log);
  PLACE_TEST ("/library/schema/newer", test_newer);
  PLACE_TEST ("/library/schema/folder-in-the-way", test_folder_in_the_way);
  PLACE_TEST ("/library/schema/text-of-format", test_text_of_format);
  PLACE_TEST ("/library/schema/every-format", test_every_format);
  PLACE_TEST ("/library/schema/migrate", test_migrate);
  PLACE_TEST ("/library/schema/migrate-new", test_migrate_new);
  PLACE_TEST ("/library/schema/migrate-fails", test_migrate_fails);
  PLACE_TEST ("/library/schema/race", test_race);
  return g_test_run ();
}
