/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names of a find, and answers that bring some. Only the choice of the name in force is a step of undo: what somebody
 * said stays, and is taken back by a row of its own. */
#pragma once

#include "ws-desk.h"

/* Adds a name. Of @name count: verbatim, certainty, by ("": the user), date ("": today, UTC), on, reasons, deadly, source
 * (finder or told). That the base was or was not shown is worked out now. Returns its id. */
char *ws_record_name (WsDesk *desk, const char *find_id, const WsName *name, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Takes a name back by a row of its own; a warning stays on the find all the same. WS_ERROR_CONFLICT when it was
 * taken back already. */
gboolean ws_record_withdraw_name (WsDesk *desk, const char *find_id, const char *name_id, const char *reasons,
                                  GError **error);
/* Puts a name in force; NULL: none. WS_ERROR_INVALID for one that was withdrawn or has no text. One undo step. */
gboolean ws_record_choose_name (WsDesk *desk, const char *find_id, const char *name_id, GError **error);

/* Takes in an answer that was read from a file or a mail: matches it to its request and adds it and its names to the
 * find. @file: its file name in received/, "" when it is not kept. Returns the find's id. WS_ERROR_NOT_FOUND: no such
 * request was made here; WS_ERROR_CONFLICT: the answer is to another version of the request, or was taken in before (the
 * message says which); WS_ERROR_INVALID. Nothing is written on an error. */
char *ws_record_answer (WsDesk *desk, const WsAnswer *answer, const char *file, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Takes in an ordinary reply, or what was said: told by @told->by, entered by the user. Of @told count: by, request_id
 * ("": none), opinions, wishes, cannot_name, deadly, phone_poison_service, remarks, verbatim (the words as they came,
 * not ""), made_us (0: now). Returns the answer's id. */
char *ws_record_told (WsDesk *desk, const char *find_id, const WsAnswer *told, GError **error) G_GNUC_WARN_UNUSED_RESULT;
