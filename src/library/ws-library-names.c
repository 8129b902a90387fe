/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names of finds: rows that only ever come (why they stand apart from their finds: see ws-library-format-2.c). */
#include "ws-library-private.h"

#include "ws-error.h"
#include "ws-intl.h"

WsName *
ws_row_take_name (WsStatement *row)
{
  WsName *name = ws_name_new ();
  gint64 base_shown;

  ws_statement_take_into (row, &name->id);
  ws_statement_take_into (row, &name->verbatim);
  name->certainty = (WsCertainty) ws_statement_take_kind (row, WS_CERTAINTY_SURE);
  ws_statement_take_into (row, &name->by);
  ws_statement_take_into (row, &name->date);
  name->on = (WsNamedOn) ws_statement_take_kind (row, WS_NAMED_ON_BOTH);
  base_shown = ws_statement_take_int (row);
  name->base_shown = base_shown == 0 || base_shown == 1 ? (int) base_shown : -1;
  ws_statement_take_into (row, &name->reasons);
  name->source = (WsNameSource) ws_statement_take_kind (row, WS_NAME_TOLD);
  name->answer_id = ws_statement_take_text (row);
  ws_statement_take_into (row, &name->entered_by);
  name->deadly = ws_statement_take_int (row) != 0;
  name->withdraws = ws_statement_take_text (row);
  name->created_us = ws_statement_take_int (row);
  return name;
}

static gboolean
insert_name (WsStore *store, const WsName *name, GError **error)
{
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO name (id, verbatim, certainty, by_whom, date, named_on, base_shown, reasons, source, answer_id, "
    "entered_by, deadly, withdraws, created_us) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");

  ws_statement_bind_text (&put, name->id);
  ws_statement_bind_text (&put, name->verbatim);
  ws_statement_bind_int (&put, name->certainty);
  ws_statement_bind_text (&put, name->by);
  ws_statement_bind_text (&put, name->date);
  ws_statement_bind_int (&put, name->on);
  ws_statement_bind_int (&put, name->base_shown);
  ws_statement_bind_text (&put, name->reasons);
  ws_statement_bind_int (&put, name->source);
  ws_statement_bind_text (&put, name->answer_id);
  ws_statement_bind_text (&put, name->entered_by);
  ws_statement_bind_int (&put, name->deadly != FALSE);
  ws_statement_bind_text (&put, name->withdraws);
  ws_statement_bind_int (&put, name->created_us);
  return ws_statement_run (&put, error);
}

/* TRUE if the find is there. */
static gboolean
find_is_there (WsStore *store, const char *find_id, GError **error)
{
  g_auto (WsStatement) row = ws_statement (store, "SELECT 1 FROM find WHERE id = ?");

  ws_statement_bind_text (&row, find_id);
  if (ws_statement_next (&row, error))
    return TRUE;
  if (ws_statement_ended (&row))
    g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("There is no find “%s” in the library"), find_id);
  return FALSE;
}

/* A withdrawal must take back a name of the same find. */
static gboolean
withdrawn_is_there (WsStore *store, const char *find_id, const WsName *name, GError **error)
{
  g_auto (WsStatement) row = ws_statement (store, "SELECT 1 FROM find_name WHERE find_id = ? AND name_id = ?");

  if (name->withdraws == NULL)
    return TRUE;
  ws_statement_bind_text (&row, find_id);
  ws_statement_bind_text (&row, name->withdraws);
  if (ws_statement_next (&row, error))
    return TRUE;
  if (ws_statement_ended (&row))
    g_set_error_literal (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("The name to be taken back is not one of this find"));
  return FALSE;
}

gboolean
ws_write_name (WsStore *store, const char *find_id, const WsName *name, GError **error)
{
  g_auto (WsStatement) link = ws_statement (store, "INSERT INTO find_name (find_id, name_id) VALUES (?, ?)");

  ws_statement_bind_text (&link, find_id);
  ws_statement_bind_text (&link, name->id);
  return find_is_there (store, find_id, error) && withdrawn_is_there (store, find_id, name, error) &&
         insert_name (store, name, error) && ws_statement_run (&link, error);
}

typedef struct
{
  const char *find_id;
  const WsName *name;
} Given;

static gboolean
add_name (WsStore *store, gpointer data, GError **error)
{
  const Given *given = data;

  return ws_write_name (store, given->find_id, given->name, error);
}

gboolean
ws_library_add_name (WsLibrary *library, const char *find_id, const WsName *name, GError **error)
{
  Given given = { find_id, name };

  return ws_rules_check_id (find_id, _("a find"), error) && ws_rules_check_name (name, error) &&
         ws_library_write (library, add_name, &given, error);
}

gboolean
ws_write_shared_names (WsStore *store, const WsStep *step, GError **error)
{
  g_auto (WsStatement) names = ws_statement (store,
    "INSERT INTO find_name (find_id, name_id) SELECT ?2, name_id FROM find_name WHERE find_id = ?1 "
    "ON CONFLICT DO NOTHING");
  g_auto (WsStatement) answers = ws_statement (store,
    "INSERT INTO find_answer (find_id, answer_id) SELECT ?2, answer_id FROM find_answer WHERE find_id = ?1 "
    "ON CONFLICT DO NOTHING");

  ws_statement_bind_text (&names, step->id);
  ws_statement_bind_text (&names, step->other);
  ws_statement_bind_text (&answers, step->id);
  ws_statement_bind_text (&answers, step->other);
  return ws_statement_run (&names, error) && ws_statement_run (&answers, error);
}
