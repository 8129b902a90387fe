/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Requests that were made. A row refers to its find by id alone: the find may be taken back or removed,
 * but that it was asked about, and what was sent, stays. */
#include "ws-library-private.h"

#include "ws-error.h"
#include "ws-intl.h"

void
ws_sent_request_free (WsSentRequest *sent)
{
  if (sent == NULL)
    return;
  g_free (sent->id);
  g_free (sent->find_id);
  g_free (sent->number);
  g_free (sent->to);
  g_free (sent->question);
  g_free (sent->digest);
  g_free (sent->package);
  g_free (sent->replaces);
  g_free (sent);
}

typedef struct
{
  const WsRequest *request;
  const char *digest, *package;
} Made;

static gboolean
add_request (WsStore *store, gpointer data, GError **error)
{
  const Made *made = data;
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO request (id, find_id, number, whom, question, digest, package, replaces, made_us, sent_us) "
    "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, 0)");

  ws_statement_bind_text (&put, made->request->id);
  ws_statement_bind_text (&put, made->request->find->id);
  ws_statement_bind_text (&put, made->request->find->number);
  ws_statement_bind_text (&put, made->request->to);
  ws_statement_bind_text (&put, made->request->question);
  ws_statement_bind_text (&put, made->digest);
  ws_statement_bind_text (&put, made->package);
  ws_statement_bind_text (&put, made->request->replaces);
  ws_statement_bind_int (&put, made->request->made_us);
  return ws_statement_run (&put, error);
}

gboolean
ws_library_add_request (WsLibrary *library, const WsRequest *request, const char *digest, const char *package,
                        GError **error)
{
  Made made = { request, digest, package };

  return ws_rules_check_id (request->id, _("a request"), error) &&
         ws_rules_check_id (request->find->id, _("a find"), error) &&
         (request->replaces == NULL || ws_rules_check_id (request->replaces, _("a request"), error)) &&
         ws_library_write (library, add_request, &made, error);
}

typedef struct
{
  const char *id;
  gint64 sent_us;
} Sent;

static gboolean
set_sent (WsStore *store, gpointer data, GError **error)
{
  const Sent *sent = data;
  int n_changed;
  g_auto (WsStatement) set = ws_statement (store, "UPDATE request SET sent_us = ? WHERE id = ?");

  ws_statement_bind_int (&set, sent->sent_us);
  ws_statement_bind_text (&set, sent->id);
  if (!ws_statement_run_counted (&set, &n_changed, error))
    return FALSE;
  if (n_changed == 0)
    g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("The request “%s” is not in the library"), sent->id);
  return n_changed > 0;
}

gboolean
ws_library_set_request_sent (WsLibrary *library, const char *request_id, gint64 sent_us, GError **error)
{
  Sent sent = { request_id, sent_us };

  return ws_library_write (library, set_sent, &sent, error);
}

typedef struct
{
  const char *id;       /* (nullable): all */
  GPtrArray *requests;
} Wanted;

static gboolean
load_requests (WsStore *store, gpointer data, GError **error)
{
  const Wanted *wanted = data;
  g_auto (WsStatement) rows = ws_statement (store,
    "SELECT id, find_id, number, whom, question, digest, package, replaces, made_us, sent_us "
    "FROM request WHERE ?1 IS NULL OR id = ?1 ORDER BY made_us DESC, rowid DESC");

  ws_statement_bind_text (&rows, wanted->id);
  while (ws_statement_next (&rows, error))
    {
      WsSentRequest *sent = g_new0 (WsSentRequest, 1);

      sent->id = ws_statement_take_text (&rows);
      sent->find_id = ws_statement_take_text (&rows);
      sent->number = ws_statement_take_text (&rows);
      sent->to = ws_statement_take_text (&rows);
      sent->question = ws_statement_take_text (&rows);
      sent->digest = ws_statement_take_text (&rows);
      sent->package = ws_statement_take_text (&rows);
      sent->replaces = ws_statement_take_text (&rows);
      sent->made_us = ws_statement_take_int (&rows);
      sent->sent_us = ws_statement_take_int (&rows);
      g_ptr_array_add (wanted->requests, sent);
    }
  return ws_statement_ended (&rows);
}

GPtrArray *
ws_library_load_requests (WsLibrary *library, GError **error)
{
  g_autoptr (GPtrArray) requests = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_sent_request_free);
  Wanted wanted = { NULL, requests };

  if (!ws_library_read (library, load_requests, &wanted, error))
    return NULL;
  return g_steal_pointer (&requests);
}

WsSentRequest *
ws_library_load_request (WsLibrary *library, const char *request_id, GError **error)
{
  g_autoptr (GPtrArray) requests = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_sent_request_free);
  Wanted wanted = { request_id, requests };

  if (!ws_library_read (library, load_requests, &wanted, error))
    return NULL;
  if (requests->len > 0)
    return g_ptr_array_steal_index (requests, 0);
  g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("The request “%s” is not in the library"), request_id);
  return NULL;
}
