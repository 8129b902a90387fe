/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What everything else does with an open store: execute, transactions, errors. */
#include "ws-library-private.h"

#include "ws-error.h"
#include "ws-intl.h"

#include <errno.h>
#include <string.h>

gboolean
ws_store_execute (WsStore *store, const char *sql, GError **error)
{
  return sqlite3_exec (store->db, sql, NULL, NULL, NULL) == SQLITE_OK || ws_store_fail (store, error);
}

static gboolean
fail_by_constraint (WsStore *store, int extended, GError **error)
{
  if (extended == SQLITE_CONSTRAINT_UNIQUE || extended == SQLITE_CONSTRAINT_PRIMARYKEY)
    g_set_error (error, WS_ERROR, WS_ERROR_CONFLICT,
                 _("The same is in the library already (%s); nothing was written"), sqlite3_errmsg (store->db));
  else
    g_set_error (error, WS_ERROR, WS_ERROR_INVALID,
                 _("The library does not take this value (%s); nothing was written"), sqlite3_errmsg (store->db));
  return FALSE;
}

gboolean
ws_store_fail (WsStore *store, GError **error)
{
  int extended = store->db != NULL ? sqlite3_extended_errcode (store->db) : SQLITE_NOMEM;

  switch (extended & 0xff)
    {
    case SQLITE_CONSTRAINT:
      return fail_by_constraint (store, extended, error);
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      g_set_error (error, WS_ERROR, WS_ERROR_CONFLICT,
                   _("Another program is writing to “%s” and did not finish within five seconds; "
                     "nothing was written, try again"), store->path);
      return FALSE;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("“%s” is damaged (%s); use a backup"),
                   store->path, sqlite3_errmsg (store->db));
      return FALSE;
    case SQLITE_FULL:
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED,
                   _("The disk with “%s” is full; make room and try again"), store->path);
      return FALSE;
    default:
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("The library “%s” does not answer: %s"), store->path,
                   store->db != NULL ? sqlite3_errmsg (store->db) : g_strerror (ENOMEM));
      return FALSE;
    }
}

const char *
ws_store_word_for_table (const char *table)
{
  static const struct { const char *table, *word; } words[] = {
    { "foray", N_("a foray") }, { "find", N_("a find") }, { "photo", N_("a photo") },
    { "find_photo", N_("a photo of a find") }, { "mark", N_("a mark") }, { "note", N_("a note") },
    { "excuse", N_("a reason for a missing view") }, { "cover", N_("a covered region") },
    { "scale", N_("a scale") }, { "measurement", N_("a measurement") }, { "spore_list", N_("a list of spores") },
    { "find_name", N_("a name of a find") }, { "find_answer", N_("an answer about a find") },
  };

  for (guint i = 0; table != NULL && i < G_N_ELEMENTS (words); i++)
    if (strcmp (words[i].table, table) == 0)
      return _(words[i].word);
  return _("something");
}

/* The transaction still stands: what a foreign key misses can be told. */
static gboolean
fail_by_reference (WsStore *store, GError **error)
{
  g_auto (WsStatement) check = ws_statement (store, "PRAGMA foreign_key_check");
  const char *child = NULL, *parent = NULL;

  if (ws_statement_next (&check, NULL))
    {
      child = ws_statement_peek_text (&check);
      check.at++;
      parent = ws_statement_peek_text (&check);
    }
  g_set_error (error, WS_ERROR, WS_ERROR_CONFLICT,
               _("In this change, %s refers to %s that is not in the library, or no longer; "
                 "nothing was written. Look at it again and repeat"),
               ws_store_word_for_table (child), ws_store_word_for_table (parent));
  return FALSE;
}

static gboolean
commit (WsStore *store, GError **error)
{
  int rc = sqlite3_exec (store->db, "COMMIT", NULL, NULL, NULL);

  if (rc == SQLITE_OK)
    return TRUE;
  return sqlite3_extended_errcode (store->db) == SQLITE_CONSTRAINT_FOREIGNKEY ? fail_by_reference (store, error)
                                                                             : ws_store_fail (store, error);
}

/* A newer program may migrate the database while this one has it open. */
static gboolean
check_version (WsStore *store, GError **error)
{
  g_auto (WsStatement) row = ws_statement (store, "PRAGMA user_version");
  gint64 version;

  if (!ws_statement_next (&row, error))
    return FALSE;
  version = ws_statement_take_int (&row);
  if (store->version == 0 || version == store->version)
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_NEWER_FORMAT,
               _("A newer version of this program has taken over “%s” (format %d); close this one and use that"),
               store->path, (int) version);
  return FALSE;
}

static gboolean
transaction (WsStore *store, const char *begin, WsStoreFunc func, gpointer data, GError **error)
{
  if (!ws_store_execute (store, begin, error))
    return FALSE;
  if (check_version (store, error) && func (store, data, error) && commit (store, error))
    return TRUE;
  /* SQLite has rolled back by itself after some failures. */
  if (!sqlite3_get_autocommit (store->db))
    (void) sqlite3_exec (store->db, "ROLLBACK", NULL, NULL, NULL);
  return FALSE;
}

gboolean
ws_store_read (WsStore *store, WsStoreFunc func, gpointer data, GError **error)
{
  return transaction (store, "BEGIN", func, data, error);
}

gboolean
ws_store_write (WsStore *store, WsStoreFunc func, gpointer data, GError **error)
{
  gboolean ok = transaction (store, "BEGIN IMMEDIATE", func, data, error);

  store->wrote = store->wrote || ok;
  return ok;
}
