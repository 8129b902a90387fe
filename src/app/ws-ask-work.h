/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making a request package and checking it at once, for ws_task_run(). */
#pragma once

#include "ws-ask.h"
#include "ws-package.h"
#include "ws-progress-board.h"

typedef struct
{
  char *find_id;
  WsAskOptions options;       /* its texts are owned here: see ws_ask_making_free() */
  char *specimen_is;          /* (nullable): stored with the find first */
  char *path;                 /* (nullable): only in the library's sent/ */
  gboolean page;              /* also saves the page beside it */
  WsProgressBoard *progress;
} WsAskMaking;
WsAskMaking *ws_ask_making_new (const char *find_id);
void ws_ask_making_free (WsAskMaking *making);

typedef struct
{
  char *package;              /* where it lies */
  goffset size;               /* bytes */
  WsPackageVerdict *verdict;  /* of the file as it lies there */
  char *request_id;           /* (nullable) */
} WsAskMade;
void ws_ask_made_free (WsAskMade *made);

/* @data: a WsAskMaking. Result: a WsAskMade. */
gpointer ws_ask_work_make (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error);

/* The name offered for the package: collecting number and date. @data: a WsAskMaking. Result: text. */
gpointer ws_ask_work_name (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error);
