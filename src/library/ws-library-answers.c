/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Answers, received and given: rows that only ever come. */
#include "ws-library-private.h"

#include "ws-error.h"
#include "ws-intl.h"

WsAnswer *
ws_row_take_answer (WsStatement *row)
{
  WsAnswer *answer = ws_answer_new ();

  ws_statement_take_into (row, &answer->id);
  answer->kind = (WsAnswerKind) ws_statement_take_kind (row, WS_ANSWER_TOLD);
  ws_statement_take_into (row, &answer->request_id);
  ws_statement_take_into (row, &answer->request_digest);
  answer->replaces = ws_statement_take_text (row);
  ws_statement_take_into (row, &answer->by);
  answer->made_us = ws_statement_take_int (row);
  ws_statement_take_into (row, &answer->language);
  answer->cannot_name = ws_statement_take_int (row) != 0;
  answer->deadly = ws_statement_take_int (row) != 0;
  answer->phone_poison_service = ws_statement_take_int (row) != 0;
  ws_statement_take_into (row, &answer->remarks);
  ws_statement_take_into (row, &answer->verbatim);
  ws_statement_take_into (row, &answer->entered_by);
  answer->received_us = ws_statement_take_int (row);
  return answer;
}

/* --- What an answer holds -------------------------------------------------------------------- */

static gboolean
fill_reasons (WsStore *store, const char *answer_id, guint place, WsOpinion *opinion, GError **error)
{
  g_auto (WsStatement) rows = ws_statement (store,
    "SELECT text, photo_id, part FROM reason WHERE answer_id = ? AND opinion = ? ORDER BY place");

  ws_statement_bind_text (&rows, answer_id);
  ws_statement_bind_int (&rows, place);
  while (ws_statement_next (&rows, error))
    {
      WsReason *reason = ws_reason_new ();

      ws_statement_take_into (&rows, &reason->text);
      reason->photo_id = ws_statement_take_text (&rows);
      ws_statement_take_into (&rows, &reason->part);
      g_ptr_array_add (opinion->reasons, reason);
    }
  return ws_statement_ended (&rows);
}

static gboolean
fill_opinions (WsStore *store, WsAnswer *answer, GError **error)
{
  g_auto (WsStatement) rows = ws_statement (store,
    "SELECT name, certainty, named_on FROM opinion WHERE answer_id = ? ORDER BY place");

  ws_statement_bind_text (&rows, answer->id);
  while (ws_statement_next (&rows, error))
    {
      WsOpinion *opinion = ws_opinion_new ();

      g_ptr_array_add (answer->opinions, opinion);
      ws_statement_take_into (&rows, &opinion->name);
      opinion->certainty = (WsCertainty) ws_statement_take_kind (&rows, WS_CERTAINTY_SURE);
      opinion->on = (WsNamedOn) ws_statement_take_kind (&rows, WS_NAMED_ON_BOTH);
    }
  return ws_statement_ended (&rows);
}

static gboolean
fill_wishes (WsStore *store, WsAnswer *answer, GError **error)
{
  g_auto (WsStatement) rows = ws_statement (store,
    "SELECT view, character, part, text FROM wish WHERE answer_id = ? ORDER BY place");

  ws_statement_bind_text (&rows, answer->id);
  while (ws_statement_next (&rows, error))
    {
      WsWish *wish = ws_wish_new ();

      g_ptr_array_add (answer->wishes, wish);
      ws_statement_take_into (&rows, &wish->view);
      ws_statement_take_into (&rows, &wish->character);
      ws_statement_take_into (&rows, &wish->part);
      ws_statement_take_into (&rows, &wish->text);
    }
  return ws_statement_ended (&rows);
}

gboolean
ws_answer_fill (WsStore *store, WsAnswer *answer, GError **error)
{
  if (!fill_opinions (store, answer, error) || !fill_wishes (store, answer, error))
    return FALSE;
  for (guint i = 0; i < answer->opinions->len; i++)
    if (!fill_reasons (store, answer->id, i, g_ptr_array_index (answer->opinions, i), error))
      return FALSE;
  return TRUE;
}

/* --- Adding -------------------------------------------------------------------------------------- */

typedef struct
{
  const char *find_id;   /* (nullable) */
  const WsAnswer *answer;
  GPtrArray *names;      /* (nullable) */
  const char *file;
} Told;

static gboolean
insert_answer (WsStore *store, const Told *told, GError **error)
{
  const WsAnswer *answer = told->answer;
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO answer (id, kind, request_id, request_digest, replaces, by_whom, made_us, language, cannot_name, "
    "deadly, phone_poison_service, remarks, verbatim, entered_by, received_us, given, file) "
    "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");

  ws_statement_bind_text (&put, answer->id);
  ws_statement_bind_int (&put, answer->kind);
  ws_statement_bind_text (&put, answer->request_id);
  ws_statement_bind_text (&put, answer->request_digest);
  ws_statement_bind_text (&put, answer->replaces);
  ws_statement_bind_text (&put, answer->by);
  ws_statement_bind_int (&put, answer->made_us);
  ws_statement_bind_text (&put, answer->language);
  ws_statement_bind_int (&put, answer->cannot_name != FALSE);
  ws_statement_bind_int (&put, answer->deadly != FALSE);
  ws_statement_bind_int (&put, answer->phone_poison_service != FALSE);
  ws_statement_bind_text (&put, answer->remarks);
  ws_statement_bind_text (&put, answer->verbatim);
  ws_statement_bind_text (&put, answer->entered_by);
  ws_statement_bind_int (&put, answer->received_us);
  ws_statement_bind_int (&put, told->find_id == NULL);
  ws_statement_bind_text (&put, told->file != NULL ? told->file : "");
  return ws_statement_run (&put, error);
}

static gboolean
insert_opinion (WsStore *store, const char *answer_id, guint place, const WsOpinion *opinion, GError **error)
{
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO opinion (answer_id, place, name, certainty, named_on) VALUES (?, ?, ?, ?, ?)");

  ws_statement_bind_text (&put, answer_id);
  ws_statement_bind_int (&put, place);
  ws_statement_bind_text (&put, opinion->name);
  ws_statement_bind_int (&put, opinion->certainty);
  ws_statement_bind_int (&put, opinion->on);
  if (!ws_statement_run (&put, error))
    return FALSE;
  for (guint i = 0; i < opinion->reasons->len; i++)
    {
      const WsReason *reason = g_ptr_array_index (opinion->reasons, i);
      g_auto (WsStatement) why = ws_statement (store,
        "INSERT INTO reason (answer_id, opinion, place, text, photo_id, part) VALUES (?, ?, ?, ?, ?, ?)");

      ws_statement_bind_text (&why, answer_id);
      ws_statement_bind_int (&why, place);
      ws_statement_bind_int (&why, i);
      ws_statement_bind_text (&why, reason->text);
      ws_statement_bind_text (&why, reason->photo_id);
      ws_statement_bind_text (&why, reason->part);
      if (!ws_statement_run (&why, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
insert_wish (WsStore *store, const char *answer_id, guint place, const WsWish *wish, GError **error)
{
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO wish (answer_id, place, view, character, part, text) VALUES (?, ?, ?, ?, ?, ?)");

  ws_statement_bind_text (&put, answer_id);
  ws_statement_bind_int (&put, place);
  ws_statement_bind_text (&put, wish->view);
  ws_statement_bind_text (&put, wish->character);
  ws_statement_bind_text (&put, wish->part);
  ws_statement_bind_text (&put, wish->text);
  return ws_statement_run (&put, error);
}

static gboolean
link_to_find (WsStore *store, const Told *told, GError **error)
{
  g_auto (WsStatement) link = ws_statement (store,
    "INSERT INTO find_answer (find_id, answer_id) SELECT id, ? FROM find WHERE id = ?");
  int n;

  if (told->find_id == NULL)
    return TRUE;
  ws_statement_bind_text (&link, told->answer->id);
  ws_statement_bind_text (&link, told->find_id);
  if (!ws_statement_run_counted (&link, &n, error))
    return FALSE;
  if (n == 0)
    g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("There is no find “%s” in the library"), told->find_id);
  return n > 0;
}

static gboolean
add_answer (WsStore *store, gpointer data, GError **error)
{
  const Told *told = data;
  const WsAnswer *answer = told->answer;

  if (!insert_answer (store, told, error) || !link_to_find (store, told, error))
    return FALSE;
  for (guint i = 0; i < answer->opinions->len; i++)
    if (!insert_opinion (store, answer->id, i, g_ptr_array_index (answer->opinions, i), error))
      return FALSE;
  for (guint i = 0; i < answer->wishes->len; i++)
    if (!insert_wish (store, answer->id, i, g_ptr_array_index (answer->wishes, i), error))
      return FALSE;
  for (guint i = 0; told->names != NULL && i < told->names->len; i++)
    if (!ws_write_name (store, told->find_id, g_ptr_array_index (told->names, i), error))
      return FALSE;
  return TRUE;
}

gboolean
ws_library_add_answer (WsLibrary *library, const char *find_id, const WsAnswer *answer, GPtrArray *names,
                       const char *file, GError **error)
{
  Told told = { find_id, answer, names, file };

  if ((find_id != NULL && !ws_rules_check_id (find_id, _("a find"), error)) || !ws_rules_check_answer (answer, error))
    return FALSE;
  if (find_id == NULL && names != NULL && names->len > 0)
    return ws_rules_refuse (error, _("An answer given to somebody else names no find of this library"));
  for (guint i = 0; names != NULL && i < names->len; i++)
    if (!ws_rules_check_name (g_ptr_array_index (names, i), error))
      return FALSE;
  return ws_library_write (library, add_answer, &told, error);
}

/* --- Loading ------------------------------------------------------------------------------------- */

typedef struct
{
  const char *request_id;  /* (nullable) */
  const char *id;          /* (nullable) */
  GPtrArray *answers;
} Wanted;

static gboolean
load_answers (WsStore *store, gpointer data, GError **error)
{
  const Wanted *wanted = data;
  g_auto (WsStatement) rows = ws_statement (store,
    "SELECT " WS_ANSWER_COLUMNS "FROM answer AS a WHERE (?1 IS NULL OR a.request_id = ?1) "
    "AND (?2 IS NULL OR a.id = ?2) ORDER BY a.received_us, a.made_us, a.rowid");

  ws_statement_bind_text (&rows, wanted->request_id);
  ws_statement_bind_text (&rows, wanted->id);
  while (ws_statement_next (&rows, error))
    g_ptr_array_add (wanted->answers, ws_row_take_answer (&rows));
  if (!ws_statement_ended (&rows))
    return FALSE;
  for (guint i = 0; i < wanted->answers->len; i++)
    if (!ws_answer_fill (store, g_ptr_array_index (wanted->answers, i), error))
      return FALSE;
  return TRUE;
}

GPtrArray *
ws_library_load_answers (WsLibrary *library, const char *request_id, GError **error)
{
  g_autoptr (GPtrArray) answers = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_answer_unref);
  Wanted wanted = { request_id, NULL, answers };

  if (!ws_library_read (library, load_answers, &wanted, error))
    return NULL;
  return g_steal_pointer (&answers);
}

WsAnswer *
ws_library_load_answer (WsLibrary *library, const char *answer_id, GError **error)
{
  g_autoptr (GPtrArray) answers = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_answer_unref);
  Wanted wanted = { NULL, answer_id, answers };

  if (!ws_library_read (library, load_answers, &wanted, error) || answers->len == 0)
    return NULL;
  return ws_answer_ref (g_ptr_array_index (answers, 0));
}
