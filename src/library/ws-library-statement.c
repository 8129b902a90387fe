/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-library-private.h"

#include <math.h>

WsStatement
ws_statement (WsStore *store, const char *sql)
{
  WsStatement statement = { store, g_hash_table_lookup (store->statements, sql), 0, SQLITE_OK };

  if (statement.stmt == NULL)
    {
      statement.rc = sqlite3_prepare_v3 (store->db, sql, -1, SQLITE_PREPARE_PERSISTENT, &statement.stmt, NULL);
      if (statement.rc == SQLITE_OK)
        g_hash_table_insert (store->statements, (gpointer) sql, statement.stmt);
    }
  return statement;
}

void
ws_statement_end (WsStatement *statement)
{
  if (statement->stmt == NULL)
    return;
  sqlite3_reset (statement->stmt);
  sqlite3_clear_bindings (statement->stmt);
  statement->stmt = NULL;
}

/* The place of the next parameter, 0 after a failure. */
static int
next_parameter (WsStatement *statement)
{
  return statement->rc == SQLITE_OK ? ++statement->at : 0;
}

void
ws_statement_bind_text (WsStatement *statement, const char *text)
{
  int at = next_parameter (statement);

  if (at > 0)
    statement->rc = sqlite3_bind_text (statement->stmt, at, text, -1, SQLITE_STATIC);
}

void
ws_statement_bind_int (WsStatement *statement, gint64 number)
{
  int at = next_parameter (statement);

  if (at > 0)
    statement->rc = sqlite3_bind_int64 (statement->stmt, at, number);
}

void
ws_statement_bind_double (WsStatement *statement, double number)
{
  int at = next_parameter (statement);

  if (at > 0)
    statement->rc = isnan (number) ? sqlite3_bind_null (statement->stmt, at)
                                   : sqlite3_bind_double (statement->stmt, at, number);
}

void
ws_statement_bind_blob (WsStatement *statement, gconstpointer data, gsize size)
{
  int at = next_parameter (statement);

  if (at > 0)
    statement->rc = sqlite3_bind_blob64 (statement->stmt, at, data, size, SQLITE_STATIC);
}

void
ws_statement_bind_strv (WsStatement *statement, char **strings)
{
  int at = next_parameter (statement);

  if (at > 0)
    statement->rc = sqlite3_bind_text (statement->stmt, at, ws_strv_to_text (strings), -1, g_free);
}

void
ws_statement_bind_moment (WsStatement *statement, const WsMoment *moment)
{
  if (ws_moment_is_known (moment))
    ws_statement_bind_int (statement, moment->local_us);
  else
    ws_statement_bind_text (statement, NULL);
  ws_statement_bind_int (statement, moment->decimals);
  ws_statement_bind_int (statement, moment->offset_minutes);
  ws_statement_bind_int (statement, moment->offset_source);
  ws_statement_bind_int (statement, moment->correction_seconds);
}

void
ws_statement_bind_position (WsStatement *statement, const WsPosition *position)
{
  ws_statement_bind_double (statement, position->latitude);
  ws_statement_bind_double (statement, position->longitude);
  ws_statement_bind_double (statement, position->error_m);
  ws_statement_bind_double (statement, position->altitude);
  ws_statement_bind_int (statement, position->source);
}

gboolean
ws_statement_next (WsStatement *statement, GError **error)
{
  statement->at = 0;
  if (statement->rc == SQLITE_OK || statement->rc == SQLITE_ROW)
    statement->rc = sqlite3_step (statement->stmt);
  if (statement->rc != SQLITE_ROW && statement->rc != SQLITE_DONE)
    ws_store_fail (statement->store, error);
  return statement->rc == SQLITE_ROW;
}

gboolean
ws_statement_ended (const WsStatement *statement)
{
  return statement->rc == SQLITE_DONE;
}

gboolean
ws_statement_run (WsStatement *statement, GError **error)
{
  while (ws_statement_next (statement, error))
    continue;
  return ws_statement_ended (statement);
}

gboolean
ws_statement_run_counted (WsStatement *statement, int *n_changed, GError **error)
{
  gboolean ok = ws_statement_run (statement, error);

  *n_changed = ok ? sqlite3_changes (statement->store->db) : 0;
  return ok;
}

const char *
ws_statement_peek_text (WsStatement *statement)
{
  const unsigned char *text = sqlite3_column_text (statement->stmt, statement->at++);

  return text != NULL ? (const char *) text : "";
}

char *
ws_statement_take_text (WsStatement *statement)
{
  return g_strdup ((const char *) sqlite3_column_text (statement->stmt, statement->at++));
}

void
ws_statement_take_into (WsStatement *statement, char **field)
{
  ws_set_string (field, ws_statement_peek_text (statement));
}

gint64
ws_statement_take_int (WsStatement *statement)
{
  return sqlite3_column_int64 (statement->stmt, statement->at++);
}

int
ws_statement_take_kind (WsStatement *statement, int last)
{
  gint64 kind = ws_statement_take_int (statement);

  return kind >= 0 && kind <= last ? (int) kind : 0;
}

double
ws_statement_take_double (WsStatement *statement)
{
  int at = statement->at++;

  return sqlite3_column_type (statement->stmt, at) == SQLITE_NULL ? NAN
                                                                  : sqlite3_column_double (statement->stmt, at);
}

char **
ws_statement_take_strv (WsStatement *statement)
{
  return ws_strv_from_text (ws_statement_peek_text (statement));
}

void
ws_statement_take_moment (WsStatement *statement, WsMoment *moment)
{
  gboolean known = sqlite3_column_type (statement->stmt, statement->at) != SQLITE_NULL;
  gint64 local_us = ws_statement_take_int (statement);

  moment->local_us = known ? local_us : WS_MOMENT_UNKNOWN;
  moment->decimals = (guint8) ws_statement_take_kind (statement, 6);
  moment->offset_minutes = (gint16) ws_statement_take_int (statement);
  moment->offset_source = (guint8) ws_statement_take_kind (statement, WS_OFFSET_TOLD);
  moment->correction_seconds = (gint32) ws_statement_take_int (statement);
}

void
ws_statement_take_position (WsStatement *statement, WsPosition *position)
{
  position->latitude = ws_statement_take_double (statement);
  position->longitude = ws_statement_take_double (statement);
  position->error_m = ws_statement_take_double (statement);
  position->altitude = ws_statement_take_double (statement);
  position->source = (WsPositionSource) ws_statement_take_kind (statement, WS_POSITION_TYPED);
}

#define END_OF_STRING '\x1f'

char *
ws_strv_to_text (char **strings)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; strings != NULL && strings[i] != NULL; i++)
    {
      for (const char *p = strings[i]; *p != '\0'; p++)
        if (*p == END_OF_STRING)
          g_string_append (text, "\\u");
        else if (*p == '\\')
          g_string_append (text, "\\\\");
        else
          g_string_append_c (text, *p);
      g_string_append_c (text, END_OF_STRING);
    }
  return g_string_free (text, FALSE);
}

char **
ws_strv_from_text (const char *text)
{
  GPtrArray *strings = g_ptr_array_new ();
  g_autoptr (GString) string = g_string_new (NULL);

  for (const char *p = text; *p != '\0'; p++)
    if (*p == END_OF_STRING)
      {
        g_ptr_array_add (strings, g_strdup (string->str));
        g_string_truncate (string, 0);
      }
    else if (*p == '\\' && p[1] != '\0')
      g_string_append_c (string, *++p == 'u' ? END_OF_STRING : *p);
    else
      g_string_append_c (string, *p);
  g_ptr_array_add (strings, NULL);
  return (char **) g_ptr_array_free (strings, FALSE);
}
