/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the files that read request.json. */
#pragma once

#include "ws-json-members.h"
#include "ws-request-json.h"

/* Adds the mark or note to @find, or faults to @in. The photos are read before the marks, the marks before the
 * notes. @made_us: how old it is. */
void ws_request_json_read_mark (const WsJsonMembers *in, WsFind *find, gint64 made_us);
void ws_request_json_read_note (const WsJsonMembers *in, WsFind *find, gint64 made_us);
