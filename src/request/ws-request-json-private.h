/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the files that write and read request.json. */
#pragma once

#include "ws-json-members.h"
#include "ws-request-json.h"

/* --- Writing ------------------------------------------------------------------------------------ */

typedef struct
{
  JsonBuilder *json;
  const WsRequest *request;
  const WsKnowledge *knowledge;
  const char *language;
  GPtrArray *photos;  /* WsPackagePhoto */
} WsRequestWriter;

/* An id with its text: {"id": …, "text": …}; null without an id. */
void ws_request_json_add_word (WsRequestWriter *writer, const char *key, const char *kind, const char *id);
/* Members "scales", "measurements", "spores" of the find. */
void ws_request_json_add_sizes (WsRequestWriter *writer);
/* Members "names", "nameInForce" and "wishes". */
void ws_request_json_add_names (WsRequestWriter *writer);

/* --- Reading ------------------------------------------------------------------------------------ */

/* The elements of an array that need not be there, as objects. */
typedef void (*WsRequestTake) (const WsJsonMembers *in, WsFind *find, gint64 made_us);
void ws_request_json_read_each (const WsJsonMembers *in, const char *key, WsRequestTake take, WsFind *find,
                                gint64 made_us);
/* Two members "a" and "b", points of a photo. FALSE after a fault. */
gboolean ws_request_json_take_points (const WsJsonMembers *in, WsPoint *a, WsPoint *b);
/* What format 0.1 does not have; the photos are read before. */
void ws_request_json_read_sizes (const WsJsonMembers *in, WsFind *find, gint64 made_us);
void ws_request_json_read_names (const WsJsonMembers *in, WsFind *find, gint64 made_us);

/* Adds the mark or note to @find, or faults to @in. The photos are read before the marks, the marks before the
 * notes. @made_us: how old it is. */
void ws_request_json_read_mark (const WsJsonMembers *in, WsFind *find, gint64 made_us);
void ws_request_json_read_note (const WsJsonMembers *in, WsFind *find, gint64 made_us);
