/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The go-back list off the thread that draws: on paper, and as a page for the pocket. */
#pragma once

#include "ws-desk.h"
#include "ws-go-back.h"
#include "ws-text-sheet.h"

typedef struct
{
  gint64 now_us;      /* local time at which it is looked at */
  char *path;         /* of the pocket page; of paper: not used */
} WsGoBackWish;
WsGoBackWish *ws_go_back_wish_new (gint64 now_us, const char *path) G_GNUC_WARN_UNUSED_RESULT;
void ws_go_back_wish_free (WsGoBackWish *wish);

/* For ws_task_run(), @data: a WsGoBackWish. Result: a WsTextSheet. */
gpointer ws_go_back_make_sheet (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error);
/* Writes the page to the wish's path, whole or not at all. Result: the path. */
gpointer ws_go_back_save_page (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error);

/* "by tomorrow, of the specimen that was kept: Stem base, Underside" lines of a find, one a row that has the same hour and
 * place. (transfer full): of char*. */
GPtrArray *ws_go_back_dup_lines (const WsGoBackFind *find, gint64 now_us, const WsKnowledge *knowledge, const char *language) G_GNUC_WARN_UNUSED_RESULT;
/* The computer's local time as finds have it, microseconds. */
gint64 ws_go_back_now (void);
