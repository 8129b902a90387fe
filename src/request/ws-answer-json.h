/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Answers as JSON (schema in data/schema/answer-0.1.schema.json), and as a block of text in a mail. */
#pragma once

#include <gio/gio.h>

#include "ws-answer.h"
#include "ws-knowledge.h"

#define WS_ANSWER_FORMAT "0.1"
#define WS_ANSWER_FORMAT_MAJOR 0
/* The largest answer file, and the largest text that is searched for a block. */
#define WS_ANSWER_MAX_BYTES (4 << 20)

/* Ids with their texts in the answer's language. (transfer full) */
GBytes *ws_answer_to_json (const WsAnswer *answer, const WsKnowledge *knowledge) G_GNUC_WARN_UNUSED_RESULT;

/* Reads and checks an answer file of a stranger. Members that are not known are ignored; they are kept because the file is kept as it
 * came. Whether it fits a request of ours is for the caller to see: request_id, request_digest. Collects every fault into @faults (of
 * char*) when given. WS_ERROR_UNREADABLE (no JSON, or no answer), _TOO_LARGE, _NEWER_FORMAT, _INVALID (the first fault). */
WsAnswer *ws_answer_from_json (GBytes *bytes, GPtrArray *faults, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* The lines of data/schema/README.md around @json. (transfer full) */
char *ws_answer_to_block (GBytes *json) G_GNUC_WARN_UNUSED_RESULT;
/* The answer file out of a mail or whatever a person pasted: the first block in it, quoted or not. NULL with WS_ERROR_NOT_FOUND when there is no block,
 * _UNREADABLE when its end is missing or its sum is wrong, _TOO_LARGE. (transfer full) */
GBytes *ws_answer_from_block (GBytes *text, GError **error) G_GNUC_WARN_UNUSED_RESULT;
