/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos come in: read once each, in parallel, then grouped into finds. */
#pragma once

#include "ws-desk.h"
#include "ws-grouping.h"

typedef struct
{
  const char *copy_into;   /* (nullable): copy the files into this folder first, verified by digest */
  gboolean copy_removable; /* copy what lies on removable media into copy_into or, when that is NULL, the library's photos/ */
  gboolean in_background;  /* the reading gives way to everything else, so that a window goes on answering */
} WsImportOptions;

typedef struct { char *path; char *why; } WsPassedOver;

typedef struct
{
  GPtrArray *added;        /* WsPhoto new to the library */
  GPtrArray *known;        /* WsPhoto that were there already (same content) */
  GPtrArray *passed_over;  /* WsPassedOver: not a picture, damaged, too large, … */
  gboolean cancelled;      /* what was done stays */
} WsImportResult;
void ws_import_result_free (WsImportResult *result);

/* Reads @paths (files and folders, NULL-terminated), follows no links, and stores each photo as it is read (thumbnail,
 * facts, digest): unsorted, one undo step per call. Originals are opened read-only. Pairs (raw or clip with the
 * same name) become one photo; shrunk copies and likely screenshots are marked as such. NULL only when nothing could
 * be done at all. */
WsImportResult *ws_import_photos (WsDesk *desk, const char *const *paths, const WsImportOptions *options,
                                  WsProgress progress, gpointer data, GCancellable *cancellable,
                                  GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* An existing find that later photos may belong to (same place within its error, another day; or within
 * the gap of its time). NULL when none. */
WsFind *ws_import_suggest_find (WsDesk *desk, GPtrArray *group, const WsGroupingRule *rule, GError **error);

/* Makes one find of each group: a foray per day, collecting numbers YY-NNN continuing the highest of the year; no find
 * for photos that already belong to one. One undo step. Returns the ids of the new finds. */
char **ws_import_make_finds (WsDesk *desk, const WsGrouping *grouping, GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsImportResult, ws_import_result_free)
