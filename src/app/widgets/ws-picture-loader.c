/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The main thread owns the jobs, those who wait for them and the cache. A worker sees a job only between taking
 * it from the queue and handing it back through the main context; it never touches a task or a callback's data,
 * so nothing of the caller's is ever released on another thread. */
#include "ws-picture-loader.h"

#include "ws-blocking.h"
#include "ws-picture-cache.h"

#define N_THREADS 2

typedef struct
{
  WsPictureLoader *loader;    /* owned: the loader outlives its jobs */
  char *key, *path, *digest;
  int max_edge;
  GCancellable *cancellable;
  GPtrArray *waiting;         /* Waiting; main thread only */

  WsPictureUrgency urgency;   /* under the lock while queued */
  guint64 number;             /* later requests have higher ones */

  WsPictureLevels *levels;    /* the result, written by the worker */
  GError *error;
} Job;

typedef struct
{
  GTask *task;
  GSource *cancelled;         /* (nullable) */
  Job *job;                   /* borrowed */
} Waiting;

struct _WsPictureLoader
{
  GObject parent;

  WsPictureDecode decode;
  GMainContext *context;
  GHashTable *jobs;           /* key -> Job, borrowed */
  guint64 counter;

  WsPictureCache *cache;

  GMutex lock;                /* of all below */
  GCond changed;
  GQueue queue;               /* Job, not yet taken */
  gboolean expected_runs;     /* one thread works on what is only expected */
  gboolean quit;
  GThread *threads[N_THREADS];
};

G_DEFINE_FINAL_TYPE (WsPictureLoader, ws_picture_loader, G_TYPE_OBJECT)

static void
waiting_free (gpointer data)
{
  Waiting *waiting = data;

  if (waiting->cancelled != NULL)
    {
      g_source_destroy (waiting->cancelled);
      g_source_unref (waiting->cancelled);
    }
  g_object_unref (waiting->task);
  g_free (waiting);
}

static void
job_free (gpointer data)
{
  Job *job = data;

  g_ptr_array_unref (job->waiting);
  g_object_unref (job->cancellable);
  ws_picture_levels_unref (job->levels);
  g_clear_error (&job->error);
  g_free (job->key);
  g_free (job->path);
  g_free (job->digest);
  g_object_unref (job->loader);
  g_free (job);
}

/* --- Workers ---------------------------------------------------------------------------- */

/* TRUE if @a comes before @b. */
static gboolean
comes_first (const Job *a, const Job *b)
{
  return a->urgency != b->urgency ? a->urgency > b->urgency : a->number > b->number;
}

/* The job to do next, or NULL when nothing may be done now. Lock held. */
static Job *
best_job (WsPictureLoader *self)
{
  Job *best = NULL;

  for (GList *link = self->queue.head; link != NULL; link = link->next)
    {
      Job *job = link->data;

      if (job->urgency == WS_PICTURE_EXPECTED && self->expected_runs)
        continue;
      if (best == NULL || comes_first (job, best))
        best = job;
    }
  return best;
}

/* Waits for a job; NULL at the end. @expected: whether it counts as one that is only expected. */
static Job *
take_job (WsPictureLoader *self, gboolean *expected)
{
  Job *job = NULL;

  g_mutex_lock (&self->lock);
  while (!self->quit && (job = best_job (self)) == NULL)
    g_cond_wait (&self->changed, &self->lock);
  if (job != NULL)
    {
      g_queue_remove (&self->queue, job);
      *expected = job->urgency == WS_PICTURE_EXPECTED;
      self->expected_runs |= *expected;
    }
  g_mutex_unlock (&self->lock);
  return job;
}

static gboolean job_done (gpointer data);

static void
hand_back (WsPictureLoader *self, Job *job)
{
  /* Not g_main_context_invoke(): that may run the function right here. */
  g_autoptr (GSource) source = g_idle_source_new ();

  g_source_set_priority (source, G_PRIORITY_DEFAULT);
  g_source_set_callback (source, job_done, job, NULL);
  g_source_attach (source, self->context);
}

static gpointer
work (gpointer data)
{
  WsPictureLoader *self = data;
  gboolean expected = FALSE;
  Job *job;

  ws_blocking_give_way ();
  while ((job = take_job (self, &expected)) != NULL)
    {
      WsPicture *picture = NULL;

      if (!g_cancellable_set_error_if_cancelled (job->cancellable, &job->error))
        picture = self->decode (job->path, job->max_edge, job->cancellable, &job->error);
      if (picture != NULL)
        job->levels = ws_picture_levels_new (picture, job->max_edge);

      g_mutex_lock (&self->lock);
      if (expected)
        {
          self->expected_runs = FALSE;
          g_cond_signal (&self->changed);
        }
      g_mutex_unlock (&self->lock);
      hand_back (self, job);
    }
  return NULL;
}

/* --- Jobs, on the main thread --------------------------------------------------------- */

static gboolean
job_done (gpointer data)
{
  Job *job = data;
  WsPictureLoader *self = job->loader;
  g_autoptr (GPtrArray) tasks = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (WsPictureLevels) levels = g_steal_pointer (&job->levels);
  g_autoptr (GError) error = g_steal_pointer (&job->error);

  if (g_hash_table_lookup (self->jobs, job->key) == job)
    g_hash_table_remove (self->jobs, job->key);
  if (levels != NULL)
    ws_picture_cache_keep (self->cache, job->digest, levels);
  /* A callback may do anything, so the job is gone before the first one runs. */
  for (guint i = 0; i < job->waiting->len; i++)
    {
      Waiting *waiting = g_ptr_array_index (job->waiting, i);

      g_ptr_array_add (tasks, g_object_ref (waiting->task));
    }
  job_free (job);
  for (guint i = 0; i < tasks->len; i++)
    {
      GTask *task = g_ptr_array_index (tasks, i);

      if (levels != NULL)
        g_task_return_pointer (task, ws_picture_levels_ref (levels), (GDestroyNotify) ws_picture_levels_unref);
      else
        g_task_return_error (task, g_error_copy (error));
    }
  return G_SOURCE_REMOVE;
}

/* Nobody waits any more: out of the queue, or stopped as soon as the decoder looks. */
static void
abandon (Job *job)
{
  WsPictureLoader *self = job->loader;
  gboolean queued;

  g_hash_table_remove (self->jobs, job->key);
  g_cancellable_cancel (job->cancellable);
  g_mutex_lock (&self->lock);
  queued = g_queue_remove (&self->queue, job);
  g_mutex_unlock (&self->lock);
  if (queued)
    job_free (job);
}

static gboolean
waiting_cancelled (GCancellable *cancellable, gpointer data)
{
  Waiting *waiting = data;
  Job *job = waiting->job;

  g_task_return_error_if_cancelled (waiting->task);
  g_ptr_array_remove (job->waiting, waiting);
  if (job->waiting->len == 0)
    abandon (job);
  return G_SOURCE_REMOVE;
}

static void
wait_for (Job *job, GTask *task)
{
  Waiting *waiting = g_new0 (Waiting, 1);
  GCancellable *cancellable = g_task_get_cancellable (task);

  waiting->task = g_object_ref (task);
  waiting->job = job;
  g_ptr_array_add (job->waiting, waiting);
  if (cancellable == NULL)
    return;
  waiting->cancelled = g_cancellable_source_new (cancellable);
  g_source_set_callback (waiting->cancelled, G_SOURCE_FUNC (waiting_cancelled), waiting, NULL);
  g_source_attach (waiting->cancelled, job->loader->context);
}

static void
start_threads (WsPictureLoader *self)
{
  for (int i = 0; i < N_THREADS && self->threads[i] == NULL; i++)
    self->threads[i] = g_thread_new ("picture-loader", work, self);
}

static Job *
job_new (WsPictureLoader *self, const char *key, const char *path, const char *digest, int max_edge)
{
  Job *job = g_new0 (Job, 1);

  job->loader = g_object_ref (self);
  job->key = g_strdup (key);
  job->path = g_strdup (path);
  job->digest = g_strdup (digest);
  job->max_edge = max_edge;
  job->cancellable = g_cancellable_new ();
  job->waiting = g_ptr_array_new_with_free_func (waiting_free);
  g_hash_table_insert (self->jobs, job->key, job);
  return job;
}

void
ws_picture_loader_load_async (WsPictureLoader *self, const char *path, const char *digest, int max_edge,
                              WsPictureUrgency urgency, GCancellable *cancellable,
                              GAsyncReadyCallback callback, gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (self, cancellable, callback, user_data);
  g_autofree char *key = g_strdup_printf ("%s %d", digest, max_edge);
  WsPictureLevels *levels;
  gboolean is_new;
  Job *job;

  g_return_if_fail (WS_IS_PICTURE_LOADER (self) && path != NULL && digest != NULL && max_edge >= 0);

  g_task_set_name (task, "load a picture");
  if (g_task_return_error_if_cancelled (task))
    return;
  levels = ws_picture_cache_find (self->cache, digest, max_edge);
  if (levels != NULL)
    {
      g_task_return_pointer (task, levels, (GDestroyNotify) ws_picture_levels_unref);
      return;
    }
  job = g_hash_table_lookup (self->jobs, key);
  is_new = job == NULL;
  if (is_new)
    job = job_new (self, key, path, digest, max_edge);
  wait_for (job, task);

  g_mutex_lock (&self->lock);
  job->urgency = is_new ? urgency : MAX (job->urgency, urgency);
  job->number = ++self->counter;
  if (is_new)
    g_queue_push_tail (&self->queue, job);
  g_cond_broadcast (&self->changed);
  g_mutex_unlock (&self->lock);
  start_threads (self);
}

WsPictureLevels *
ws_picture_loader_peek (WsPictureLoader *self, const char *digest, int max_edge)
{
  return ws_picture_cache_find (self->cache, digest, max_edge);
}

char *
ws_picture_loader_dup_thumbnail_digest (const char *digest)
{
  return g_strconcat ("thumbnail ", digest, NULL);
}

gsize
ws_picture_loader_get_kept_bytes (WsPictureLoader *self)
{
  return ws_picture_cache_get_bytes (self->cache);
}

WsPictureLevels *
ws_picture_loader_load_finish (WsPictureLoader *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

static void
ws_picture_loader_finalize (GObject *object)
{
  WsPictureLoader *self = WS_PICTURE_LOADER (object);

  /* Every job holds the loader, so the threads are idle here and end at once. */
  g_mutex_lock (&self->lock);
  self->quit = TRUE;
  g_cond_broadcast (&self->changed);
  g_mutex_unlock (&self->lock);
  for (int i = 0; i < N_THREADS; i++)
    if (self->threads[i] != NULL)
      g_thread_join (self->threads[i]);

  g_hash_table_unref (self->jobs);
  ws_picture_cache_free (self->cache);
  g_main_context_unref (self->context);
  g_mutex_clear (&self->lock);
  g_cond_clear (&self->changed);
  G_OBJECT_CLASS (ws_picture_loader_parent_class)->finalize (object);
}

static void
ws_picture_loader_class_init (WsPictureLoaderClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ws_picture_loader_finalize;
}

static void
ws_picture_loader_init (WsPictureLoader *self)
{
  self->context = g_main_context_ref_thread_default ();
  self->jobs = g_hash_table_new (g_str_hash, g_str_equal);
  g_mutex_init (&self->lock);
  g_cond_init (&self->changed);
  g_queue_init (&self->queue);
}

WsPictureLoader *
ws_picture_loader_new (gsize max_bytes, WsPictureDecode decode)
{
  WsPictureLoader *self = g_object_new (WS_TYPE_PICTURE_LOADER, NULL);

  self->cache = ws_picture_cache_new (max_bytes);
  self->decode = decode != NULL ? decode : ws_picture_decode_file;
  return self;
}
