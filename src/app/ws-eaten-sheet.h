/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page to show at the hospital or read out on the phone: what to say, and one find's photos and notes. Laid out for
 * paper; made on a worker, drawn anywhere. */
#pragma once

#include "ws-desk.h"
#include "ws-text-sheet.h"

/* For ws_task_run(): @data: a WsEatenWish. Result: a WsTextSheet. A photo that cannot be read is named in its place. */
typedef struct
{
  char *find_id;      /* (nullable): without a find */
  char *number;       /* whom to call; "" none was stored */
} WsEatenWish;
void ws_eaten_wish_free (WsEatenWish *wish);
gpointer ws_eaten_sheet_make (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error);

/* What is recorded of the find, one a line: "Ring: hanging (unsure)". (transfer full) */
char *ws_eaten_dup_notes (WsDesk *desk, const WsFind *find) G_GNUC_WARN_UNUSED_RESULT;
/* The texts of the trade on what to say and what to keep, in order; ids end with NULL. */
extern const char *const ws_eaten_say[];
extern const char *const ws_eaten_keep[];
