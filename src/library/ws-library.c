/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The object and its thread. The thread alone sees the database; everybody else hands it a job and
 * waits. It is joined before the object is freed, so it may use the object without a reference. */
#include "ws-library-private.h"

#include "ws-blocking.h"
#include "ws-digest.h"
#include "ws-error.h"
#include "ws-intl.h"

#include <errno.h>
#include <string.h>

#define WATCH_EVERY_US G_USEC_PER_SEC

/* Carries the signal into the opener's main context; outlives the library while a source is pending. */
typedef struct
{
  GWeakRef library;
  GMainContext *context;
  gint pending;
} Teller;

struct _WsLibrary
{
  GObject parent_instance;

  char *folder;
  GAsyncQueue *jobs;
  GThread *thread;
  Teller *teller;

  /* The library's thread alone: */
  WsStore *store;
  gint64 data_version;
  gint64 watched_us;
};

G_DEFINE_FINAL_TYPE (WsLibrary, ws_library, G_TYPE_OBJECT)

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

/* --- Telling ---------------------------------------------------------------------------- */

static Teller *
teller_new (WsLibrary *library)
{
  Teller *teller = g_atomic_rc_box_new0 (Teller);

  g_weak_ref_init (&teller->library, library);
  teller->context = g_main_context_ref_thread_default ();
  return teller;
}

static void
teller_clear (gpointer data)
{
  Teller *teller = data;

  g_weak_ref_clear (&teller->library);
  g_main_context_unref (teller->context);
}

static void
teller_release (gpointer teller)
{
  g_atomic_rc_box_release_full (teller, teller_clear);
}

static gboolean
tell (gpointer data)
{
  Teller *teller = data;
  g_autoptr (WsLibrary) library = g_weak_ref_get (&teller->library);

  /* Before the signal: a change from here on is told again. */
  g_atomic_int_set (&teller->pending, FALSE);
  if (library != NULL)
    g_signal_emit (library, signals[CHANGED], 0);
  return G_SOURCE_REMOVE;
}

static void
teller_schedule (Teller *teller)
{
  g_autoptr (GSource) source = NULL;

  if (!g_atomic_int_compare_and_exchange (&teller->pending, FALSE, TRUE))
    return;
  source = g_idle_source_new ();
  g_source_set_priority (source, G_PRIORITY_DEFAULT);
  g_source_set_callback (source, tell, g_atomic_rc_box_acquire (teller), teller_release);
  g_source_attach (source, teller->context);
}

/* --- The thread ------------------------------------------------------------------------- */

typedef struct
{
  gboolean (*transaction) (WsStore *store, WsStoreFunc func, gpointer data, GError **error); /* (nullable) */
  WsStoreFunc func;
  gpointer data;
  GError **error;
  gboolean ok;
  gboolean done;
  GMutex lock;
  GCond cond;
} Job;

static Job quit_job;

static gboolean
job_run (Job *job, WsStore *store)
{
  return job->transaction != NULL ? job->transaction (store, job->func, job->data, job->error)
                                  : job->func (store, job->data, job->error);
}

/* The caller goes on, and the job with it. */
static void
job_finish (Job *job, gboolean ok)
{
  g_mutex_lock (&job->lock);
  job->ok = ok;
  job->done = TRUE;
  g_cond_signal (&job->cond);
  g_mutex_unlock (&job->lock);
}

/* A number that changes when another connection has committed. */
static gint64
read_data_version (WsStore *store)
{
  g_auto (WsStatement) version = ws_statement (store, "PRAGMA data_version");

  return ws_statement_next (&version, NULL) ? ws_statement_take_int (&version) : 0;
}

static gboolean
changed_elsewhere (WsLibrary *self)
{
  gint64 now = g_get_monotonic_time ();
  gint64 before = self->data_version;

  if (now - self->watched_us < WATCH_EVERY_US)
    return FALSE;
  self->watched_us = now;
  self->data_version = read_data_version (self->store);
  return self->data_version != before;
}

static void
watch (WsLibrary *self)
{
  gboolean elsewhere = changed_elsewhere (self);

  if (self->store->wrote || elsewhere)
    teller_schedule (self->teller);
  self->store->wrote = FALSE;
}

static gpointer
run_thread (gpointer data)
{
  WsLibrary *self = data;
  Job *job;

  while ((job = g_async_queue_timeout_pop (self->jobs, WATCH_EVERY_US)) != &quit_job)
    {
      gboolean ok = job != NULL && job_run (job, self->store);

      /* Told before the caller goes on, so that a change is never told later than it is known. */
      if (self->store != NULL)
        watch (self);
      if (job != NULL)
        job_finish (job, ok);
    }
  ws_store_close (self->store);
  return NULL;
}

/* Every public function that touches the database comes by here. */
static gboolean
run_job (WsLibrary *self, Job *job)
{
  ws_blocking ("waiting for the library");
  g_mutex_init (&job->lock);
  g_cond_init (&job->cond);
  g_async_queue_push (self->jobs, job);
  g_mutex_lock (&job->lock);
  while (!job->done)
    g_cond_wait (&job->cond, &job->lock);
  g_mutex_unlock (&job->lock);
  g_mutex_clear (&job->lock);
  g_cond_clear (&job->cond);
  return job->ok;
}

gboolean
ws_library_read (WsLibrary *library, WsStoreFunc func, gpointer data, GError **error)
{
  Job job = { ws_store_read, func, data, error };

  return run_job (library, &job);
}

gboolean
ws_library_write (WsLibrary *library, WsStoreFunc func, gpointer data, GError **error)
{
  Job job = { ws_store_write, func, data, error };

  return run_job (library, &job);
}

/* --- The object ------------------------------------------------------------------------- */

static void
ws_library_finalize (GObject *object)
{
  WsLibrary *self = WS_LIBRARY (object);

  if (self->thread != NULL)
    {
      g_async_queue_push (self->jobs, &quit_job);
      g_thread_join (self->thread);
    }
  teller_release (self->teller);
  g_async_queue_unref (self->jobs);
  g_free (self->folder);
  G_OBJECT_CLASS (ws_library_parent_class)->finalize (object);
}

static void
ws_library_class_init (WsLibraryClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ws_library_finalize;
  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 0);
}

static void
ws_library_init (WsLibrary *self)
{
  self->jobs = g_async_queue_new ();
  self->teller = teller_new (self);
}

char *
ws_library_default_folder (void)
{
  return g_build_filename (g_get_user_data_dir (), "wholestem", NULL);
}

static gboolean
make_folder (const char *folder, const char *name, GError **error)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);

  if (g_mkdir_with_parents (path, 0700) == 0)
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("The folder “%s” cannot be made (%s); choose another one"),
               path, g_strerror (errno));
  return FALSE;
}

static gboolean
open_store (WsStore *none, gpointer data, GError **error)
{
  WsLibrary *self = data;
  g_autofree char *path = g_build_filename (self->folder, "library.db", NULL);

  self->store = ws_store_open (path, ws_store_migrations, WS_LIBRARY_FORMAT, error);
  if (self->store == NULL)
    return FALSE;
  self->watched_us = g_get_monotonic_time ();
  self->data_version = read_data_version (self->store);
  return TRUE;
}

WsLibrary *
ws_library_open (const char *folder, GError **error)
{
  g_autoptr (WsLibrary) self = g_object_new (WS_TYPE_LIBRARY, NULL);
  Job job = { NULL, open_store, self, error };

  g_return_val_if_fail (folder != NULL, NULL);
  self->folder = g_canonicalize_filename (folder, NULL);
  if (!make_folder (self->folder, ".", error))
    return NULL;
  self->thread = g_thread_new ("library", run_thread, self);
  /* The folders come last: nothing is put beside a database that is not ours. */
  if (!run_job (self, &job) || !make_folder (self->folder, "thumbnails", error) ||
      !make_folder (self->folder, "received", error) || !make_folder (self->folder, "sent", error))
    return NULL;
  return g_steal_pointer (&self);
}

const char *
ws_library_get_folder (WsLibrary *library)
{
  return library->folder;
}

char *
ws_library_dup_thumbnail_path (WsLibrary *library, const char *digest)
{
  g_autofree char *key = g_strdup (digest);
  g_autofree char *folder = NULL;
  g_autofree char *name = NULL;

  /* Whatever else than a digest of ours could name a file anywhere. */
  if (strlen (digest) < 8 || strspn (digest, "0123456789abcdef") != strlen (digest))
    {
      g_autoptr (GBytes) text = g_bytes_new (digest, strlen (digest));

      g_free (key);
      key = ws_digest_bytes (text);
    }
  folder = g_strndup (key, 2);
  name = g_strconcat (key, ".jpg", NULL);
  return g_build_filename (library->folder, "thumbnails", folder, name, NULL);
}
