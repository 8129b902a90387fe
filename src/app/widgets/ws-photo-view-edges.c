/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The edges of what is seen, for the line that follows them: found on a worker, again when the photo was moved or zoomed so
 * far that another part or another level is needed. Until they are there, lines are straight. */
#include "ws-photo-view-private.h"

/* Seen besides what is seen, as a share of it at each side: moving the photo a little asks for nothing. */
#define AROUND 0.25
/* While somebody moves or zooms on, nothing is asked for. */
#define SETTLE_MS 60

typedef struct
{
  WsPictureLevels *levels;
  guint level;
  WsRect region;
} Job;

static void
job_free (Job *job)
{
  ws_picture_levels_unref (job->levels);
  g_free (job);
}

static void
find (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Job *job = data;
  WsEdgePath *path = ws_edge_path_new (g_ptr_array_index (job->levels->pictures, job->level), &job->region, cancellable);

  if (!g_task_return_error_if_cancelled (task))
    g_task_return_pointer (task, path, (GDestroyNotify) ws_edge_path_unref);
  else
    ws_edge_path_unref (path);
}

static void
found (GObject *source, GAsyncResult *result, gpointer data)
{
  WsPhotoView *self = WS_PHOTO_VIEW (source);
  g_autoptr (GError) error = NULL;
  WsEdgePath *path = g_task_propagate_pointer (G_TASK (result), &error);

  /* Cancelled: others are on their way, or none are wanted. */
  if (error != NULL)
    return;
  g_clear_object (&self->edges.cancellable);
  ws_edge_path_unref (self->edges.path);
  self->edges.path = path;
  ws_photo_view_line_refollow (self, FALSE);
}

static void
stop (EdgeFinding *edges)
{
  if (edges->later != 0)
    g_source_remove (edges->later);
  edges->later = 0;
  if (edges->cancellable != NULL)
    g_cancellable_cancel (edges->cancellable);
  g_clear_object (&edges->cancellable);
}

void
ws_photo_view_drop_edges (WsPhotoView *self)
{
  stop (&self->edges);
  g_clear_pointer (&self->edges.path, ws_edge_path_unref);
  g_clear_pointer (&self->edges.levels, ws_picture_levels_unref);
}

static gboolean
holds (const WsRect *outer, const WsRect *inner)
{
  return inner->x >= outer->x - 1e-9 && inner->y >= outer->y - 1e-9 &&
         inner->x + inner->width <= outer->x + outer->width + 1e-9 &&
         inner->y + inner->height <= outer->y + outer->height + 1e-9;
}

static gboolean
ask (gpointer data)
{
  WsPhotoView *self = data;
  EdgeFinding *edges = &self->edges;
  WsPictureLevels *levels = ws_photo_tiles_get_levels (self->tiles);
  Job *job;
  g_autoptr (GTask) task = NULL;
  WsRect seen, region;

  edges->later = 0;
  if (levels == NULL || !ws_photo_view_get_visible (self, &seen))
    return G_SOURCE_REMOVE;
  stop (edges);
  region = (WsRect) { seen.x - AROUND * seen.width, seen.y - AROUND * seen.height, (1 + 2 * AROUND) * seen.width,
                      (1 + 2 * AROUND) * seen.height };
  job = g_new0 (Job, 1);
  job->levels = ws_picture_levels_ref (levels);
  job->level = edges->level;
  edges->region = job->region = (WsRect) { MAX (region.x, 0), MAX (region.y, 0),
                                           MIN (region.x + region.width, 1) - MAX (region.x, 0),
                                           MIN (region.y + region.height, 1) - MAX (region.y, 0) };
  edges->cancellable = g_cancellable_new ();
  task = g_task_new (self, edges->cancellable, found, NULL);
  g_task_set_task_data (task, job, (GDestroyNotify) job_free);
  g_task_run_in_thread (task, find);
  return G_SOURCE_REMOVE;
}

void
ws_photo_view_update_edges (WsPhotoView *self)
{
  EdgeFinding *edges = &self->edges;
  WsPictureLevels *levels = ws_photo_tiles_get_levels (self->tiles);
  WsRect seen;
  guint level;

  if (self->tool != WS_PHOTO_VIEW_EDGE || !ws_photo_view_can_draw (self) || !ws_photo_view_get_visible (self, &seen))
    return;
  level = ws_picture_levels_pick (levels, self->port.photo_width, self->port.zoom * self->port.scale);
  if (levels == edges->levels && level == edges->level && holds (&edges->region, &seen))
    return;
  if (levels != edges->levels)
    {
      g_clear_pointer (&edges->levels, ws_picture_levels_unref);
      edges->levels = ws_picture_levels_ref (levels);
    }
  edges->level = level;
  edges->region = (WsRect) { 0, 0, 0, 0 };
  if (edges->later != 0)
    g_source_remove (edges->later);
  edges->later = g_timeout_add (SETTLE_MS, ask, self);
}
