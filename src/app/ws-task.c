/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-task.h"

/* Two cores decode; two more threads so that a long import never keeps the pages from loading. */
#define READERS 4

typedef struct
{
  WsDesk *desk;
  WsTaskFunc func;
  gpointer data;
  GDestroyNotify free_data;
  GCancellable *cancellable;
  gpointer owner;          /* weak; cleared by GObject when the owner is disposed */
  gboolean owned;
  WsTaskDone done;
  gpointer done_data;
  GDestroyNotify free_result;
  GMainContext *context;
  gpointer result;
  GError *error;
} Job;

static GThreadPool *readers, *writer;
static guint pending;      /* these two only on the thread that draws */
static Job *delivered;     /* whose done is running */
static gint closing;       /* atomic */

static void
job_free (Job *job)
{
  if (job->owner != NULL)
    g_object_remove_weak_pointer (job->owner, &job->owner);
  if (job->result != NULL && job->free_result != NULL)
    job->free_result (job->result);
  if (job->data != NULL && job->free_data != NULL)
    job->free_data (job->data);
  g_clear_error (&job->error);
  g_clear_object (&job->cancellable);
  g_clear_pointer (&job->desk, ws_desk_unref);
  g_main_context_unref (job->context);
  g_free (job);
}

static gboolean
deliver (gpointer data)
{
  Job *job = data;

  pending--;
  if (!g_atomic_int_get (&closing) && job->done != NULL && (!job->owned || job->owner != NULL))
    {
      g_autoptr (GObject) owner = job->owner != NULL ? g_object_ref (job->owner) : NULL;

      Job *outer = delivered;   /* a done may run the main loop */

      delivered = job;
      job->done (owner, job->result, job->error, job->done_data);
      delivered = outer;
    }
  job_free (job);
  return G_SOURCE_REMOVE;
}

static void
run_job (gpointer data, gpointer user_data)
{
  Job *job = data;
  gboolean dropped = user_data == &readers && g_atomic_int_get (&closing);

  if (!dropped && !g_cancellable_set_error_if_cancelled (job->cancellable, &job->error))
    job->result = job->func (job->desk, job->data, job->cancellable, &job->error);
  /* Not g_main_context_invoke(): it would run here if the context happened to be free. */
  g_autoptr (GSource) source = g_idle_source_new ();
  g_source_set_priority (source, G_PRIORITY_DEFAULT);
  g_source_set_callback (source, deliver, job, NULL);
  g_source_attach (source, job->context);
}

static void
push (GThreadPool **pool, int threads, Job *job)
{
  if (*pool == NULL)
    *pool = g_thread_pool_new (run_job, pool, threads, FALSE, NULL);
  pending++;
  g_thread_pool_push (*pool, job, NULL);
}

static Job *
job_new (WsDesk *desk, WsTaskFunc func, gpointer data, GDestroyNotify free_data,
         gpointer owner, WsTaskDone done, gpointer done_data, GDestroyNotify free_result)
{
  Job *job = g_new0 (Job, 1);

  job->desk = desk != NULL ? ws_desk_ref (desk) : NULL;
  job->func = func;
  job->data = data;
  job->free_data = free_data;
  job->owner = owner;
  job->owned = owner != NULL;
  if (owner != NULL)
    g_object_add_weak_pointer (owner, &job->owner);
  job->done = done;
  job->done_data = done_data;
  job->free_result = free_result;
  job->context = g_main_context_ref_thread_default ();
  return job;
}

void
ws_task_run (WsDesk *desk, WsTaskFunc func, gpointer data, GDestroyNotify free_data,
             GCancellable *cancellable, gpointer owner, WsTaskDone done, gpointer done_data,
             GDestroyNotify free_result)
{
  Job *job;

  g_return_if_fail (!g_atomic_int_get (&closing));
  job = job_new (desk, func, data, free_data, owner, done, done_data, free_result);
  if (cancellable != NULL)
    job->cancellable = g_object_ref (cancellable);
  push (&readers, READERS, job);
}

void
ws_task_write (WsDesk *desk, WsTaskFunc func, gpointer data, GDestroyNotify free_data,
               gpointer owner, WsTaskDone done, gpointer done_data, GDestroyNotify free_result)
{
  g_return_if_fail (!g_atomic_int_get (&closing));
  push (&writer, 1, job_new (desk, func, data, free_data, owner, done, done_data, free_result));
}

gpointer
ws_task_steal (void)
{
  g_return_val_if_fail (delivered != NULL, NULL);
  return g_steal_pointer (&delivered->result);
}

guint
ws_task_count (void)
{
  return pending;
}

void
ws_task_finish_all (void)
{
  g_atomic_int_set (&closing, TRUE);
  if (writer != NULL)
    g_thread_pool_free (g_steal_pointer (&writer), FALSE, TRUE);
  if (readers != NULL)
    g_thread_pool_free (g_steal_pointer (&readers), FALSE, TRUE);
  while (pending > 0)
    g_main_context_iteration (NULL, TRUE);
}
