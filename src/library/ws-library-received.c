/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Requests that came from others. */
#include "ws-library-private.h"

#include "ws-intl.h"

void
ws_received_free (WsReceived *received)
{
  if (received == NULL)
    return;
  g_free (received->id);
  g_free (received->digest);
  g_free (received->from);
  g_free (received->number);
  g_free (received->question);
  g_free (received->language);
  g_free (received->package);
  g_free (received->replaces);
  g_free (received);
}

static gboolean
add_received (WsStore *store, gpointer data, GError **error)
{
  const WsReceived *received = data;
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO received (id, digest, sender, number, question, language, package, replaces, emergency, made_us, "
    "received_us) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");

  ws_statement_bind_text (&put, received->id);
  ws_statement_bind_text (&put, received->digest);
  ws_statement_bind_text (&put, received->from);
  ws_statement_bind_text (&put, received->number);
  ws_statement_bind_text (&put, received->question);
  ws_statement_bind_text (&put, received->language);
  ws_statement_bind_text (&put, received->package);
  ws_statement_bind_text (&put, received->replaces);
  ws_statement_bind_int (&put, received->emergency != FALSE);
  ws_statement_bind_int (&put, received->made_us);
  ws_statement_bind_int (&put, received->received_us);
  return ws_statement_run (&put, error);
}

gboolean
ws_library_add_received (WsLibrary *library, const WsReceived *received, GError **error)
{
  const char *const texts[] = { received->digest, received->from, received->number, received->question,
                                received->language, received->package, NULL };

  return ws_rules_check_id (received->id, _("a request"), error) &&
         (received->replaces == NULL || ws_rules_check_id (received->replaces, _("a request"), error)) &&
         ws_rules_check_texts (texts, error) && ws_library_write (library, add_received, (gpointer) received, error);
}

static gboolean
load_received (WsStore *store, gpointer data, GError **error)
{
  GPtrArray *all = data;
  g_auto (WsStatement) rows = ws_statement (store,
    "SELECT r.id, r.digest, r.sender, r.number, r.question, r.language, r.package, r.replaces, r.emergency, r.made_us, "
    "r.received_us, (SELECT count (*) FROM answer AS a WHERE a.request_id = r.id AND a.given) "
    "FROM received AS r ORDER BY r.emergency DESC, r.received_us DESC, r.rowid DESC");

  while (ws_statement_next (&rows, error))
    {
      WsReceived *received = g_new0 (WsReceived, 1);

      g_ptr_array_add (all, received);
      received->id = ws_statement_take_text (&rows);
      received->digest = ws_statement_take_text (&rows);
      received->from = ws_statement_take_text (&rows);
      received->number = ws_statement_take_text (&rows);
      received->question = ws_statement_take_text (&rows);
      received->language = ws_statement_take_text (&rows);
      received->package = ws_statement_take_text (&rows);
      received->replaces = ws_statement_take_text (&rows);
      received->emergency = ws_statement_take_int (&rows) != 0;
      received->made_us = ws_statement_take_int (&rows);
      received->received_us = ws_statement_take_int (&rows);
      received->n_answers = (guint) ws_statement_take_int (&rows);
    }
  return ws_statement_ended (&rows);
}

GPtrArray *
ws_library_load_received (WsLibrary *library, GError **error)
{
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_received_free);

  if (!ws_library_read (library, load_received, all, error))
    return NULL;
  return g_steal_pointer (&all);
}
