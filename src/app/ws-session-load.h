/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a session loads, gathered on a worker thread. Only for ws-session.c. */
#pragma once

#include "ws-desk.h"
#include "ws-figure.h"

/* One find, judged. */
typedef struct
{
  WsFind *find;
  WsEvidence *evidence;   /* of it; taken by who uses it */
  WsForay *foray;         /* (nullable) */
  char *stamp;            /* equal stamps: nothing differs */
} WsLoadedFind;
void ws_loaded_find_free (WsLoadedFind *loaded);

typedef struct
{
  GPtrArray *finds;       /* WsLoadedFind, in order */
  GPtrArray *unsorted;    /* WsPhoto */
  GPtrArray *requests;    /* WsSentRequest */
  GHashTable *settings;   /* key to text */
  GHashTable *figures;    /* growth form to WsFigure; NULL unless asked for */
  char *undo, *redo;      /* (nullable) */
  guint edits;            /* the session's count when the load began */
} WsLoaded;
void ws_loaded_free (WsLoaded *loaded);

typedef struct
{
  guint edits;
  gboolean figures;
} WsLoadWish;

/* Both for ws_task_run(): @data a WsLoadWish; the result a WsLoaded. */
gpointer ws_loaded_load (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error);

/* NULL without error when the find is gone. @foray (nullable) is taken over as it is. */
WsLoadedFind *ws_loaded_find_load (WsDesk *desk, const char *id, WsForay *foray,
                                   GError **error) G_GNUC_WARN_UNUSED_RESULT;
