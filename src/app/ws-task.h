/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one way to run work off the thread that draws. Call everything here from that thread.
 *
 *   static gpointer load (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
 *   { return ws_library_load_find (desk->library, data, error); }
 *
 *   static void loaded (gpointer owner, gpointer result, GError *error, gpointer done_data)
 *   { … }
 *
 *   ws_task_run (desk, load, g_strdup (id), g_free, NULL, self, loaded, NULL, (GDestroyNotify) ws_find_unref);
 *
 * The worker sees the desk and @data, nothing else: hand it a snapshot, never a widget. */
#pragma once

#include "ws-desk.h"

/* On a worker thread. NULL with an error is a failure; NULL without one is an empty answer. */
typedef gpointer (*WsTaskFunc) (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error);
/* On the thread that draws, and not at all when the owner is gone. @result and @error (nullable) are the
 * task's and go away afterwards: take a reference or a copy of what is to stay. */
typedef void (*WsTaskDone) (gpointer owner, gpointer result, GError *error, gpointer done_data);

/* Reads and long work: a few run at a time, in no order. @desk (nullable) is referenced. @data is freed on the thread
 * that draws, by @free_data (nullable). @owner (nullable), a GObject, is held weakly: disposing it silences @done
 * but does not stop the work (cancel for that). @done (nullable). A task cancelled before it starts ends with
 * G_IO_ERROR_CANCELLED; one that is running decides itself, and what it has finished is delivered although
 * a cancel came late. */
void ws_task_run (WsDesk *desk, WsTaskFunc func, gpointer data, GDestroyNotify free_data,
                  GCancellable *cancellable, gpointer owner, WsTaskDone done, gpointer done_data,
                  GDestroyNotify free_result);

/* Edits: one after the other in the order of the calls, so that what was done first is stored first. An edit cannot be
 * cancelled (its @cancellable is NULL). */
void ws_task_write (WsDesk *desk, WsTaskFunc func, gpointer data, GDestroyNotify free_data,
                    gpointer owner, WsTaskDone done, gpointer done_data, GDestroyNotify free_result);

/* Inside a WsTaskDone of the two above: takes the result over, so that it is not freed. (transfer full) */
gpointer ws_task_steal (void) G_GNUC_WARN_UNUSED_RESULT;

/* Tasks begun and not yet delivered; what a test waits for. */
guint ws_task_count (void);
/* At the end of the program: waits until every edit is stored, and for running reads; reads that have not begun are
 * dropped. Nothing is delivered any more, and no task may be begun. */
void ws_task_finish_all (void);
