/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Opening the database: telling ours from others, making a new one, migrating an old one. */
#include "ws-library-private.h"

#include "ws-error.h"
#include "ws-id.h"
#include "ws-intl.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define BUSY_TIMEOUT_MS 5000

const WsMigration ws_store_migrations[WS_LIBRARY_FORMAT] = { ws_store_make_format_1, ws_store_make_format_2 };

static void
store_free (WsStore *store)
{
  if (store->statements != NULL)
    g_hash_table_unref (store->statements);
  sqlite3_close (store->db);
  g_free (store->path);
  g_free (store->origin);
  g_free (store);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsStore, store_free)

void
ws_store_close (WsStore *store)
{
  if (store != NULL)
    store_free (store);
}

static WsStore *
store_new (const char *path)
{
  WsStore *store = g_new0 (WsStore, 1);

  store->path = g_strdup (path);
  store->origin = ws_id_new ();
  store->statements = g_hash_table_new_full (g_str_hash, g_str_equal, NULL,
                                             (GDestroyNotify) (void (*) (void)) sqlite3_finalize);
  return store;
}

static gboolean
connect (WsStore *store, const char *path, int flags, GError **error)
{
  int rc = sqlite3_open_v2 (path, &store->db, flags | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE, NULL);

  if (rc != SQLITE_OK)
    return ws_store_fail (store, error);
  sqlite3_busy_timeout (store->db, BUSY_TIMEOUT_MS);
  sqlite3_db_config (store->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
  return TRUE;
}

static gboolean
query_int (WsStore *store, const char *sql, gint64 *number, GError **error)
{
  sqlite3_stmt *stmt = NULL;
  gboolean ok = sqlite3_prepare_v2 (store->db, sql, -1, &stmt, NULL) == SQLITE_OK &&
                sqlite3_step (stmt) == SQLITE_ROW;

  if (ok)
    *number = sqlite3_column_int64 (stmt, 0);
  else
    ws_store_fail (store, error);
  sqlite3_finalize (stmt);
  return ok;
}

static gboolean
refuse_newer (const char *path, gint64 version, int newest, GError **error)
{
  g_set_error (error, WS_ERROR, WS_ERROR_NEWER_FORMAT,
               _("“%s” was written by a newer version of this program (format %d, this one knows %d); "
                 "use that version"), path, (int) version, newest);
  return FALSE;
}

/* Refuses whatever is not a database of ours by the first bytes of the file, before SQLite sees it:
 * SQLite would take in a journal that lies beside it. Our files bear their application id from the
 * start, since they are made whole under another name. Places in the header by
 * https://www.sqlite.org/fileformat2.html#the_database_header */
static gboolean
check_header (const char *path, int newest, GError **error)
{
  guint8 header[100] = { 0 };
  guint32 application, version;
  gboolean is_file = g_file_test (path, G_FILE_TEST_IS_REGULAR);
  FILE *file = is_file ? g_fopen (path, "rbe") : NULL;
  gsize size = 0;

  if (is_file && file == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("“%s” cannot be opened: %s"), path, g_strerror (errno));
      return FALSE;
    }
  if (file != NULL)
    {
      size = fread (header, 1, sizeof header, file);
      fclose (file);
    }
  memcpy (&version, header + 60, sizeof version);
  memcpy (&application, header + 68, sizeof application);
  if (size == sizeof header && memcmp (header, "SQLite format 3", 16) == 0 &&
      GUINT32_FROM_BE (application) == WS_STORE_APPLICATION_ID && version != 0)
    return GUINT32_FROM_BE (version) <= (guint32) newest ||
           refuse_newer (path, GUINT32_FROM_BE (version), newest, error);
  g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
               _("“%s” is not a library of this program and was left as it is; choose another folder"), path);
  return FALSE;
}

/* Connects to a database of ours. Its true version may stand in the write-ahead log only; if it is newer,
 * the log stays what it is. */
static gboolean
connect_to_ours (WsStore *store, int newest, gint64 *version, GError **error)
{
  if (!check_header (store->path, newest, error) ||
      !connect (store, store->path, SQLITE_OPEN_READWRITE, error) ||
      sqlite3_db_config (store->db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL) != SQLITE_OK ||
      !query_int (store, "PRAGMA user_version", version, error))
    return FALSE;
  if (*version > newest)
    return refuse_newer (store->path, *version, newest, error);
  sqlite3_db_config (store->db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 0, NULL);
  return TRUE;
}

static gboolean
set_version (WsStore *store, int version, GError **error)
{
  g_autofree char *sql = g_strdup_printf ("PRAGMA application_id = %d; PRAGMA user_version = %d;",
                                          WS_STORE_APPLICATION_ID, version);

  return ws_store_execute (store, sql, error);
}

static gboolean
check_references (WsStore *store, GError **error)
{
  g_auto (WsStatement) check = ws_statement (store, "PRAGMA foreign_key_check");

  if (ws_statement_next (&check, error))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
                   _("“%s” is damaged: %s refers to something that is not there; "
                     "use the copy that lies beside it"),
                   store->path, ws_store_word_for_table (ws_statement_peek_text (&check)));
      return FALSE;
    }
  return ws_statement_ended (&check);
}

/* A copy by SQLite itself, which sees the write-ahead log too, under a name that says the format. */
static gboolean
copy_before (WsStore *store, int version, GError **error)
{
  g_autofree char *copy = g_strdup_printf ("%s.format-%d", store->path, version);
  g_autofree char *temporary = g_strdup_printf ("%s.%s", copy, store->origin);
  g_autoptr (WsStore) from = store_new (store->path);
  g_autoptr (WsStore) to = store_new (temporary);
  sqlite3_backup *backup = NULL;
  gboolean ok = connect (from, store->path, SQLITE_OPEN_READONLY, error) &&
                connect (to, temporary, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, error);

  if (ok)
    {
      backup = sqlite3_backup_init (to->db, "main", from->db, "main");
      ok = backup != NULL && sqlite3_backup_step (backup, -1) == SQLITE_DONE;
      ok = sqlite3_backup_finish (backup) == SQLITE_OK && ok;
      if (!ok)
        ws_store_fail (to, error);
    }
  if (ok && g_rename (temporary, copy) != 0)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("“%s” cannot be written: %s"), copy, g_strerror (errno));
      ok = FALSE;
    }
  if (!ok)
    (void) g_unlink (temporary);
  return ok;
}

typedef struct
{
  const WsMigration *migrations;
  int n;
} Migrations;

/* In a transaction: nobody else can migrate at the same time, and whoever came second finds it done. */
static gboolean
migrate (WsStore *store, gpointer data, GError **error)
{
  const Migrations *to = data;
  gint64 version;

  if (!query_int (store, "PRAGMA user_version", &version, error))
    return FALSE;
  if (version >= to->n)
    return TRUE;
  if (version > 0 && !copy_before (store, (int) version, error))
    return FALSE;
  for (int i = (int) version; i < to->n; i++)
    if (!to->migrations[i] (store, error))
      return FALSE;
  /* A changeset fits only the tables it was recorded from. */
  if (version > 0 && !ws_store_execute (store, "DELETE FROM undo_log", error))
    return FALSE;
  return check_references (store, error) && set_version (store, to->n, error);
}

static gboolean
run_migrations (WsStore *store, const WsMigration *migrations, int n, GError **error)
{
  Migrations to = { migrations, n };

  return ws_store_execute (store, "PRAGMA foreign_keys = OFF", error) &&
         ws_store_write (store, migrate, &to, error) &&
         ws_store_execute (store, "PRAGMA foreign_keys = ON", error);
}

/* Puts @temporary at @path unless another program was faster. */
static gboolean
put_in_place (const char *temporary, const char *path, GError **error)
{
  if (link (temporary, path) == 0 || errno == EEXIST)
    {
      (void) g_unlink (temporary);
      return TRUE;
    }
  /* A file system without hard links. */
  if (!g_file_test (path, G_FILE_TEST_EXISTS) && g_rename (temporary, path) == 0)
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("“%s” cannot be made: %s"), path, g_strerror (errno));
  return FALSE;
}

/* The database is made whole under another name and then put in its place, so that whoever finds one
 * finds a whole one. */
static gboolean
make_new (const char *path, const WsMigration *migrations, int n, GError **error)
{
  WsStore *store = store_new (path);
  g_autofree char *temporary = g_strdup_printf ("%s.%s", path, store->origin);
  gboolean ok = connect (store, temporary, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, error) &&
                ws_store_execute (store, "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL", error) &&
                run_migrations (store, migrations, n, error);

  store_free (store);
  ok = ok && put_in_place (temporary, path, error);
  if (!ok)
    (void) g_unlink (temporary);
  return ok;
}

static gboolean
set_up (WsStore *store, int version, GError **error)
{
  store->version = version;
  return ws_store_execute (store,
                           "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;"
                           "PRAGMA trusted_schema = OFF; PRAGMA temp_store = MEMORY;"
                           "CREATE TEMP TABLE chosen (find_id TEXT PRIMARY KEY NOT NULL) WITHOUT ROWID;",
                           error) &&
         ws_search_register (store, error) &&
         query_int (store, "SELECT COALESCE(MAX(step), 0) FROM undo_log", &store->steps_at_open, error);
}

WsStore *
ws_store_open (const char *path, const WsMigration *migrations, int n_migrations, GError **error)
{
  g_autoptr (WsStore) store = store_new (path);
  gint64 version;

  if (!g_file_test (path, G_FILE_TEST_EXISTS) && !make_new (path, migrations, n_migrations, error))
    return NULL;
  if (!connect_to_ours (store, n_migrations, &version, error) ||
      (version < n_migrations && !run_migrations (store, migrations, n_migrations, error)) ||
      !set_up (store, n_migrations, error))
    return NULL;
  return g_steal_pointer (&store);
}
