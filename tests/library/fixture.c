/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#include "ws-file.h"

#include <sqlite3.h>
#include <string.h>

void
fixture_set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;

  fixture->folder = g_dir_make_tmp ("wholestem-XXXXXX", &error);
  g_assert_no_error (error);
  path = g_build_filename (fixture->folder, "library", NULL);
  fixture->library = ws_library_open (path, &error);
  g_assert_no_error (error);
}

void
fixture_clear (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  if (fixture->library != NULL)
    g_assert_finalize_object (fixture->library);
  ws_file_remove_tree (fixture->folder, &error);
  g_assert_no_error (error);
  g_free (fixture->folder);
}

WsLibrary *
fixture_open_again (Fixture *fixture)
{
  g_autoptr (GError) error = NULL;
  WsLibrary *library = ws_library_open (ws_library_get_folder (fixture->library), &error);

  g_assert_no_error (error);
  return library;
}

void
fixture_reopen (Fixture *fixture)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_strdup (ws_library_get_folder (fixture->library));

  g_assert_finalize_object (fixture->library);
  fixture->library = ws_library_open (path, &error);
  g_assert_no_error (error);
}

char *
fixture_dup_path (Fixture *fixture)
{
  return g_build_filename (fixture->folder, "library", "library.db", NULL);
}

static sqlite3 *
connect (const char *path)
{
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL), ==, SQLITE_OK);
  sqlite3_busy_timeout (db, 5000);
  return db;
}

void
database_execute (const char *path, const char *sql)
{
  sqlite3 *db = connect (path);
  char *message = NULL;

  sqlite3_exec (db, "PRAGMA ignore_check_constraints = ON; PRAGMA foreign_keys = OFF", NULL, NULL, NULL);
  sqlite3_exec (db, sql, NULL, NULL, &message);
  g_assert_cmpstr (message, ==, NULL);
  sqlite3_close (db);
}

char *
database_query (const char *path, const char *sql)
{
  sqlite3 *db = connect (path);
  sqlite3_stmt *stmt = NULL;
  char *text = NULL;

  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &stmt, NULL), ==, SQLITE_OK);
  if (sqlite3_step (stmt) == SQLITE_ROW)
    text = g_strdup ((const char *) sqlite3_column_text (stmt, 0));
  sqlite3_finalize (stmt);
  sqlite3_close (db);
  return text;
}

char *
database_dup_refusal (const char *path, const char *sql)
{
  sqlite3 *db = connect (path);
  g_autofree char *refusal = NULL;
  char *message = NULL;

  sqlite3_exec (db, "PRAGMA foreign_keys = ON", NULL, NULL, NULL);
  sqlite3_exec (db, sql, NULL, NULL, &message);
  refusal = g_strdup (message);
  sqlite3_free (message);
  sqlite3_close (db);
  return g_steal_pointer (&refusal);
}

void
fixture_execute (Fixture *fixture, const char *sql)
{
  g_autofree char *path = fixture_dup_path (fixture);

  database_execute (path, sql);
}

char *
fixture_query (Fixture *fixture, const char *sql)
{
  g_autofree char *path = fixture_dup_path (fixture);

  return database_query (path, sql);
}

/* --- With a library -------------------------------------------------------------------- */

void
apply (WsLibrary *library, WsAction *action)
{
  g_autoptr (GError) error = NULL;
  gboolean ok = ws_library_apply (library, action, &error);

  g_assert_no_error (error);
  g_assert_true (ok);
}

void
apply_fails (WsLibrary *library, WsAction *action, WsError code, const char *message_part)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *before = library_text (library);
  gboolean ok = ws_library_apply (library, action, &error);
  g_autofree char *after = library_text (library);

  g_assert_error (error, WS_ERROR, (int) code);
  g_assert_false (ok);
  if (strstr (error->message, message_part) == NULL)
    g_error ("“%s” does not say “%s”", error->message, message_part);
  g_assert_cmpstr (after, ==, before);
}

char *
find_text (WsLibrary *library, const char *id)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = ws_library_load_find (library, id, &error);

  if (find != NULL)
    return find_to_text (find);
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
  return g_strdup ("gone");
}
