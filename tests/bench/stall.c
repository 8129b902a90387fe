/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long the window does not answer while it takes photos in: the real window, in a process of its own, since it forbids
 * its thread to wait. */
#include "bench.h"

#include "window-rig.h"

#include <stdio.h>
#include <time.h>

static char *photos;

typedef struct
{
  double last, last_own;     /* when the loop came round last, and what the thread had used by then, s */
  double longest, own;       /* the longest time between two rounds, and what of it was the thread's own work */
  gboolean counts;
} Watch;

static double
own_time (void)
{
  struct timespec t;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &t);
  return (double) t.tv_sec + (double) t.tv_nsec / 1e9;
}

static gboolean
watch_cb (gpointer data)
{
  Watch *watch = data;
  double now = (double) g_get_monotonic_time () / G_USEC_PER_SEC, own = own_time ();

  if (watch->counts && now - watch->last > watch->longest)
    {
      watch->longest = now - watch->last;
      watch->own = own - watch->last_own;
    }
  watch->last = now;
  watch->last_own = own;
  return G_SOURCE_CONTINUE;
}

static gboolean
all_there (gpointer data)
{
  return ws_session_get_unsorted (window_rig_get_session ())->len >= GPOINTER_TO_UINT (data);
}

static void
watch_import (WindowRig *rig)
{
  g_autoptr (GDir) dir = g_dir_open (photos, 0, NULL);
  const char *paths[] = { photos, NULL };
  Watch watch = { 0 };
  guint n = 0, source;

  while (dir != NULL && g_dir_read_name (dir) != NULL)
    n++;
  source = g_timeout_add_full (G_PRIORITY_HIGH, 1, watch_cb, &watch, NULL);
  window_rig_wait (100);
  watch.counts = TRUE;
  ws_window_import (window_rig_get_window (), paths);
  window_rig_until (all_there, GUINT_TO_POINTER (n), "the photos");
  window_rig_wait (1000);
  watch.counts = FALSE;
  g_source_remove (source);
  printf ("stall %.6f %.6f\n", watch.longest, watch.own);
  fflush (stdout);
}

int bench_stall_inner (const char *folder, const char *library);

int
bench_stall_inner (const char *folder, const char *library)
{
  WindowRig rig = { (char *) folder, (char *) library, 0 };

  photos = (char *) folder;
  window_rig_start ();
  window_rig_run (&rig, 1200, 800, watch_import);
  return 0;
}

static void
run (Bench *bench)
{
  double shortest = G_MAXDOUBLE, own = 0;

  for (guint i = 0; i < bench->rounds; i++)
    {
      g_autofree char *library = g_strdup_printf ("%s/stall-%u", bench->folder, i);
      g_autofree char *out = NULL;
      g_autoptr (GError) error = NULL;
      const char *argv[] = { bench->program, "--stall", bench->photos, "--stall", library, NULL };
      double longest, own_work;
      const char *line;

      if (!g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &out, NULL, NULL, &error))
        g_error ("%s", error->message);
      line = g_strrstr (out, "stall ");
      if (line == NULL || sscanf (line, "stall %lf %lf", &longest, &own_work) != 2)
        g_error ("the window did not take the photos in: %s", out);
      g_printerr ("longest stall %.1f ms, of it the thread's own work %.1f ms\n", longest * 1000, own_work * 1000);
      if (longest < shortest)
        {
          shortest = longest;
          own = own_work;
        }
    }
  bench_tell_value ("longest stall of the main loop during an import", shortest * 1000, "ms", 50);
  bench_tell_value ("of it the thread’s own work", own * 1000, "ms", 50);
}

const BenchGroup bench_stall = { "stall", run };
