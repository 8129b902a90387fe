/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the import page lets a worker do. All for ws_task_run() and ws_session_edit(). */
#pragma once

#include "ws-import.h"
#include "ws-progress-board.h"

/* @data: a WsImportReading. Result: a WsImportResult. */
typedef struct { char **paths; WsProgressBoard *progress; } WsImportReading;
void ws_import_reading_free (WsImportReading *reading);
gpointer ws_import_work_read (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error);

/* Groups photos that are in no find yet. */
typedef struct
{
  GHashTable *only;      /* (nullable): ids of the photos in question, else all loose ones */
  WsGroupingRule rule;
} WsImportWish;
void ws_import_wish_free (WsImportWish *wish);

typedef struct
{
  WsGrouping *grouping;
  GPtrArray *old_finds;  /* for each group the WsFind it may belong to, or NULL */
} WsImportPreview;
void ws_import_preview_free (WsImportPreview *preview);
/* @data: a WsImportWish. Result: a WsImportPreview. */
gpointer ws_import_work_group (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error);

/* What becomes of one group. */
typedef enum { WS_IMPORT_NEW_FIND, WS_IMPORT_SAME_SPECIMEN, WS_IMPORT_ANOTHER_SPECIMEN } WsImportFate;

typedef struct
{
  GPtrArray *groups;     /* as in the preview */
  GPtrArray *old_finds;
  WsImportFate *fates;   /* one for each group */
} WsImportMaking;
void ws_import_making_free (WsImportMaking *making);
/* @data: a WsImportMaking. Result: the number of new finds, as a guint *. */
gpointer ws_import_work_make (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error);
