/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-record-names.h"

#include "ws-error.h"
#include "ws-evidence.h"
#include "ws-id.h"
#include "ws-intl.h"
#include "ws-record-private.h"

/* The day it is in UTC, so that no zone of the computer enters. */
static char *
today (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_utc ();

  return g_date_time_format (now, "%Y-%m-%d");
}

static char *
my_name (WsDesk *desk)
{
  char *name = ws_library_dup_setting (desk->library, "my-name");

  return name != NULL ? name : g_strdup ("");
}

/* Whether the base is shown as the find stands: 1, 0, or -1 where the form has none. */
static int
base_shown_now (WsDesk *desk, const WsFind *find)
{
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, desk->knowledge, desk->language);

  return evidence->base_shown;
}

char *
ws_record_name (WsDesk *desk, const char *find_id, const WsName *given, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (WsName) name = ws_name_copy (given);
  g_autofree char *id = ws_id_new (), *me = my_name (desk), *date = today ();

  if (find == NULL)
    return NULL;
  if (name->source == WS_NAME_BY_ANSWER)
    return ws_record_invalid (error, _("A name of an answer comes with the answer")), NULL;
  if (name->source == WS_NAME_TOLD && name->by[0] == '\0')
    return ws_record_invalid (error, _("Say who told this name")), NULL;
  ws_set_string (&name->id, id);
  if (name->by[0] == '\0')
    ws_set_string (&name->by, me);
  if (name->date[0] == '\0')
    ws_set_string (&name->date, date);
  ws_set_string (&name->entered_by, name->source == WS_NAME_TOLD ? me : "");
  g_clear_pointer (&name->answer_id, g_free);
  g_clear_pointer (&name->withdraws, g_free);
  name->base_shown = base_shown_now (desk, find);
  name->created_us = g_get_real_time ();
  return ws_library_add_name (desk->library, find->id, name, error) ? g_steal_pointer (&id) : NULL;
}

gboolean
ws_record_withdraw_name (WsDesk *desk, const char *find_id, const char *name_id, const char *reasons, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (WsName) row = ws_name_new ();
  g_autofree char *id = ws_id_new (), *me = my_name (desk), *date = today ();

  if (find == NULL)
    return FALSE;
  if (ws_find_is_name_withdrawn (find, name_id))
    {
      g_set_error_literal (error, WS_ERROR, WS_ERROR_CONFLICT, _("This name was taken back already"));
      return FALSE;
    }
  ws_set_string (&row->id, id);
  ws_set_string (&row->by, me);
  ws_set_string (&row->date, date);
  ws_set_string (&row->reasons, reasons);
  row->withdraws = g_strdup (name_id);
  row->base_shown = base_shown_now (desk, find);
  row->created_us = g_get_real_time ();
  return ws_library_add_name (desk->library, find->id, row, error);
}

gboolean
ws_record_choose_name (WsDesk *desk, const char *find_id, const char *name_id, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  const WsName *name = find != NULL && name_id != NULL ? ws_find_get_name (find, name_id) : NULL;
  g_autoptr (WsFind) changed = NULL;
  WsAction *action;

  if (find == NULL)
    return FALSE;
  if (name_id != NULL && (name == NULL || name->verbatim[0] == '\0' || ws_find_is_name_withdrawn (find, name_id)))
    return ws_record_invalid (error, _("This cannot be the name in force: it was taken back, or it is no name of this find"));
  changed = ws_find_copy (find);
  g_free (changed->name_in_force);
  changed->name_in_force = g_strdup (name_id);
  action = ws_action_new (_("Choose the name in force"));
  ws_action_put_find (action, changed);
  return ws_library_apply (desk->library, action, error);
}

/* --- Answers ---------------------------------------------------------------------------------- */

/* Adds the answer with its names; an answer that is there already is told by name. */
static gboolean
take_in (WsDesk *desk, const WsFind *find, const WsAnswer *answer, const char *file, GError **error)
{
  g_autoptr (GPtrArray) names = ws_answer_dup_names (answer, base_shown_now (desk, find), ws_id_new,
                                                     answer->received_us);
  g_autoptr (GError) trouble = NULL;
  g_autoptr (WsAnswer) before = ws_library_load_answer (desk->library, answer->id, &trouble);

  if (trouble != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&trouble));
      return FALSE;
    }
  if (before != NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_CONFLICT, _("This answer by %s was taken in before; nothing was changed"),
                   before->by);
      return FALSE;
    }
  return ws_library_add_answer (desk->library, find->id, answer, names, file, error);
}

char *
ws_record_answer (WsDesk *desk, const WsAnswer *given, const char *file, GError **error)
{
  g_autoptr (WsAnswer) answer = ws_answer_copy (given);
  g_autoptr (WsSentRequest) request = NULL;
  g_autoptr (WsFind) find = NULL;
  g_autoptr (GError) trouble = NULL;

  request = ws_library_load_request (desk->library, given->request_id, &trouble);
  if (g_error_matches (trouble, WS_ERROR, WS_ERROR_NOT_FOUND))
    g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND,
                 _("This answers a request that was not made in this library (%s); open the library it was made in"),
                 given->request_id);
  else if (request == NULL)
    g_propagate_error (error, g_steal_pointer (&trouble));
  if (request == NULL)
    return NULL;
  if (!g_str_equal (request->digest, given->request_digest))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_CONFLICT,
                   _("This answers another version of the request for %s than the one that was sent; ask %s which "
                     "package was looked at"), request->number, given->by);
      return NULL;
    }
  find = ws_library_load_find (desk->library, request->find_id, error);
  if (find == NULL)
    return NULL;
  answer->kind = WS_ANSWER_FILE;
  answer->received_us = g_get_real_time ();
  return take_in (desk, find, answer, file, error) ? g_strdup (find->id) : NULL;
}

char *
ws_record_told (WsDesk *desk, const char *find_id, const WsAnswer *told, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (WsAnswer) answer = ws_answer_copy (told);
  g_autofree char *id = ws_id_new (), *me = my_name (desk);

  if (find == NULL)
    return NULL;
  if (told->by[0] == '\0' || told->verbatim[0] == '\0')
    return ws_record_invalid (error, _("Say who told it, and enter the words as they came")), NULL;
  ws_set_string (&answer->id, id);
  answer->kind = WS_ANSWER_TOLD;
  ws_set_string (&answer->entered_by, me);
  ws_set_string (&answer->request_digest, "");
  g_clear_pointer (&answer->replaces, g_free);
  answer->received_us = g_get_real_time ();
  if (answer->made_us == 0)
    answer->made_us = answer->received_us;
  return take_in (desk, find, answer, "", error) ? g_steal_pointer (&id) : NULL;
}
