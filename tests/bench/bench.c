/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How fast the program is beside general tools, measured in one run on photos made for it. Not a test: it only tells.
 *
 *   ninja -C BUILD bench             all rows (needs Xvfb); BENCH_ARGS in the environment holds arguments for it:
 *   tests/bench/run BUILD [--photos N] [--rounds N] [--only GROUP,…] [--processor]
 *
 * Ratios of one run compare; seconds of two runs do not. */
#include "bench.h"

#include "ws-file.h"
#include "ws-picture.h"

#include <locale.h>
#include <sys/resource.h>
#include <sys/wait.h>

static const BenchGroup *const groups[] = { &bench_import, &bench_screen, &bench_stall, &bench_clarity, &bench_lists };

/* --- Timing ------------------------------------------------------------------------------------------------------ */

static gboolean by_processor;

static double
used (int who)
{
  struct rusage usage;

  getrusage (who, &usage);
  return (double) usage.ru_utime.tv_sec + (double) usage.ru_stime.tv_sec +
         (double) (usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) / G_USEC_PER_SEC;
}

double
bench_now (void)
{
  if (by_processor)
    return used (RUSAGE_SELF) + used (RUSAGE_CHILDREN);
  return (double) g_get_monotonic_time () / G_USEC_PER_SEC;
}

static double
timed (BenchFunc func, gpointer data)
{
  double start = bench_now ();

  func (data);
  return bench_now () - start;
}

void
bench_side_by_side (guint rounds, BenchFunc ours, BenchFunc theirs, gpointer data, double *our_seconds, double *their_seconds)
{
  *our_seconds = *their_seconds = G_MAXDOUBLE;
  for (guint i = 0; i < rounds; i++)
    {
      double mine = timed (ours, data), other = timed (theirs, data);

      *our_seconds = MIN (*our_seconds, mine);
      *their_seconds = MIN (*their_seconds, other);
    }
}

void
bench_spawn (const char *const *argv, double *peak_mb)
{
  g_autoptr (GError) error = NULL;
  struct rusage usage;
  int status;
  GPid pid;

  if (!g_spawn_async (NULL, (char **) argv, NULL,
                      G_SPAWN_SEARCH_PATH | G_SPAWN_DO_NOT_REAP_CHILD | G_SPAWN_STDOUT_TO_DEV_NULL, NULL, NULL, &pid, &error))
    g_error ("%s", error->message);
  if (wait4 (pid, &status, 0, &usage) != pid || !WIFEXITED (status) || WEXITSTATUS (status) != 0)
    g_error ("%s %s … failed", argv[0], argv[1]);
  if (peak_mb != NULL)
    *peak_mb = (double) usage.ru_maxrss * 1024 / 1e6;
}

/* --- The table ------------------------------------------------------------------------------------------------------ */

static char *
seconds (double value)
{
  return value < 0.1 ? g_strdup_printf ("%.2f ms", value * 1000) : g_strdup_printf ("%.2f s", value);
}

void
bench_tell_ratio (const char *work, const char *beside, double our_seconds, double their_seconds, double aim)
{
  g_autofree char *ours = seconds (our_seconds), *theirs = seconds (their_seconds);

  g_print ("| %s | %s | %s | %s | %.2f × | ≤ %.1f × |\n", work, beside, ours, theirs, our_seconds / their_seconds, aim);
}

void
bench_tell_value (const char *work, double value, const char *unit, double aim)
{
  g_print ("| %s | | %.4g %s | | | ≤ %g %s |\n", work, value, unit, aim, unit);
}

/* --- The run --------------------------------------------------------------------------------------------------------- */

static gboolean
is_wanted (const char *only, const char *name)
{
  g_auto (GStrv) names = only != NULL ? g_strsplit (only, ",", -1) : NULL;

  return only == NULL || g_strv_contains ((const char *const *) names, name);
}

static void
run (Bench *bench, const char *only)
{
  g_autoptr (GError) error = NULL;
  double start = bench_now ();

  bench->folder = g_dir_make_tmp ("wholestem-bench-XXXXXX", &error);
  if (bench->folder == NULL)
    g_error ("%s", error->message);
  bench->photos = g_build_filename (bench->folder, "photos", NULL);
  bench_make_photos (bench);
  g_printerr ("%u photos made in %.0f s\n", bench->n_photos, bench_now () - start);
  g_print ("| work | beside | ours | the other | ratio | aim |\n| --- | --- | --- | --- | --- | --- |\n");
  for (gsize i = 0; i < G_N_ELEMENTS (groups); i++)
    if (is_wanted (only, groups[i]->name))
      groups[i]->run (bench);
  ws_file_remove_tree (bench->folder, NULL);
  g_free (bench->folder);
  g_free (bench->photos);
}

/* The child of the group "stall". */
int bench_stall_inner (const char *photos, const char *library);

int
main (int argc, char **argv)
{
  int n_photos = 200, rounds = 3;
  g_autofree char *only = NULL;
  g_auto (GStrv) stall = NULL;
  GOptionEntry entries[] = {
    { "photos", 0, 0, G_OPTION_ARG_INT, &n_photos, "How many photos to make (200)", "N" },
    { "rounds", 0, 0, G_OPTION_ARG_INT, &rounds, "How often each thing is done (3)", "N" },
    { "only", 0, 0, G_OPTION_ARG_STRING, &only, "Groups of rows: import, screen, stall, clarity, lists", "GROUP,…" },
    { "processor", 0, 0, G_OPTION_ARG_NONE, &by_processor, "Count processor time: on a machine that does other work too", NULL },
    { "stall", 0, G_OPTION_FLAG_HIDDEN, G_OPTION_ARG_FILENAME_ARRAY, &stall, NULL, NULL },
    { NULL } };
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  Bench bench = { .program = argv[0], .tool = g_getenv ("WS_TOOL") };

  setlocale (LC_ALL, "");
  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error) || n_photos < 1 || rounds < 1 || bench.tool == NULL)
    {
      g_printerr ("%s\n", error != NULL ? error->message : "start it with tests/bench/run");
      return 2;
    }
  if (stall != NULL && g_strv_length (stall) == 2)
    return bench_stall_inner (stall[0], stall[1]);
  if (!ws_picture_init (argv[0], &error))
    g_error ("%s", error->message);
  bench.n_photos = (guint) n_photos;
  bench.rounds = (guint) rounds;
  run (&bench, only);
  return 0;
}
