/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-blocking.h"

#include "fixture.h"

#include <glib/gstdio.h>
#include <string.h>

static void
put_find (WsLibrary *library, const char *number)
{
  g_autoptr (WsFind) find = sample_find (number, NULL);
  WsAction *action = ws_action_new ("put");

  ws_action_put_find (action, find);
  apply (library, action);
}

/* --- Many threads ----------------------------------------------------------------------- */

#define N_THREADS 8
#define N_FINDS 20

static gpointer
write_and_read (gpointer library)
{
  for (guint i = 0; i < N_FINDS; i++)
    {
      g_autoptr (GPtrArray) finds = NULL;
      g_autoptr (GError) error = NULL;

      put_find (library, "1");
      finds = ws_library_load_finds (library, NULL, &error);
      g_assert_no_error (error);
      g_assert_cmpuint (finds->len, >, i);
    }
  return NULL;
}

static void
test_threads (Fixture *fixture, gconstpointer data)
{
  GThread *threads[N_THREADS];
  WsLibrary *second = fixture_open_again (fixture);
  g_autoptr (GPtrArray) finds = NULL;

  g_test_summary ("Many threads over two handles write and read at once, nothing is lost");
  for (guint i = 0; i < N_THREADS; i++)
    threads[i] = g_thread_new ("writer", write_and_read, i % 2 == 0 ? fixture->library : second);
  for (guint i = 0; i < N_THREADS; i++)
    g_thread_join (threads[i]);
  finds = ws_library_load_finds (fixture->library, NULL, NULL);
  g_assert_cmpuint (finds->len, ==, N_THREADS * N_FINDS);
  g_assert_finalize_object (second);
}

/* --- The signal ------------------------------------------------------------------------- */

typedef struct
{
  GMainContext *context;
  GThread *thread;     /* that the signal came on */
  guint n;
} Heard;

static void
heard (WsLibrary *library, gpointer data)
{
  Heard *ears = data;

  ears->n++;
  ears->thread = g_thread_self ();
}

static gboolean
time_is_up (gpointer up)
{
  *(gboolean *) up = TRUE;
  return G_SOURCE_REMOVE;
}

/* Runs the context until something was heard or the time is up. */
static void
listen (Heard *ears, guint milliseconds)
{
  gboolean up = FALSE;
  GSource *timeout = g_timeout_source_new (milliseconds);

  g_source_set_callback (timeout, time_is_up, &up, NULL);
  g_source_attach (timeout, ears->context);
  while (ears->n == 0 && !up)
    g_main_context_iteration (ears->context, TRUE);
  g_source_destroy (timeout);
  g_source_unref (timeout);
}

static void
test_changed (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GMainContext) context = g_main_context_new ();
  Heard ears = { context };
  WsLibrary *listener;
  g_autoptr (GPtrArray) finds = NULL;

  g_test_summary ("\"changed\" comes in the opener's context: after own writes, after another's, never without");
  g_main_context_push_thread_default (context);
  listener = fixture_open_again (fixture);
  g_main_context_pop_thread_default (context);
  g_signal_connect (listener, "changed", G_CALLBACK (heard), &ears);

  put_find (fixture->library, "1");
  listen (&ears, 5000);
  g_assert_cmpuint (ears.n, ==, 1);
  g_assert_true (ears.thread == g_thread_self ());

  ears.n = 0;
  put_find (listener, "2");
  put_find (listener, "3");
  listen (&ears, 5000);
  g_assert_cmpuint (ears.n, ==, 1);
  ears.n = 0;
  g_assert_true (ws_library_set_setting (listener, "name", "Ada", NULL));
  listen (&ears, 5000);
  g_assert_cmpuint (ears.n, ==, 1);

  ears.n = 0;
  finds = ws_library_load_finds (listener, NULL, NULL);
  listen (&ears, 1500);
  g_assert_cmpuint (ears.n, ==, 0);
  g_assert_finalize_object (listener);
}

static void
test_no_change (Fixture *fixture, gconstpointer data)
{
  Heard ears = { g_main_context_default () };
  WsAction *action = ws_action_new ("put");
  g_autoptr (WsNote) orphan = sample_note (NULL);
  g_autoptr (GError) error = NULL;
  g_autofree char *id = ws_id_new ();

  g_test_summary ("A write that failed is not told as a change");
  g_signal_connect (fixture->library, "changed", G_CALLBACK (heard), &ears);
  ws_action_put_note (action, id, orphan);
  g_assert_false (ws_library_apply (fixture->library, action, &error));
  listen (&ears, 300);
  g_assert_cmpuint (ears.n, ==, 0);
}

static void
test_closed_while_telling (Fixture *fixture, gconstpointer data)
{
  Heard ears = { g_main_context_default () };

  g_test_summary ("A library that is closed before its signal came out is freed, and the signal does not come");
  for (guint i = 0; i < 20; i++)
    {
      WsLibrary *library = fixture_open_again (fixture);

      g_signal_connect (library, "changed", G_CALLBACK (heard), &ears);
      put_find (library, "1");
      g_assert_finalize_object (library);
    }
  listen (&ears, 100);
  g_assert_cmpuint (ears.n, ==, 0);
}

/* --- The rest --------------------------------------------------------------------------- */

static void
test_blocking (void)
{
  g_autofree char *folder = g_dir_make_tmp ("wholestem-XXXXXX", NULL);

  g_test_summary ("A call on the thread that draws is a critical warning");
  if (g_test_subprocess ())
    {
      ws_blocking_forbid_here ();
      g_clear_object (&(WsLibrary *) { ws_library_open (folder, NULL) });
      return;
    }
  g_test_trap_subprocess (NULL, 0, 0);
  g_test_trap_assert_failed ();
  g_test_trap_assert_stderr ("*waiting for the library on the thread that draws*");
  g_assert_cmpint (g_remove (folder), ==, 0);
}

static void
test_thumbnails (Fixture *fixture, gconstpointer data)
{
  g_autofree char *thumbnails = g_build_filename (ws_library_get_folder (fixture->library), "thumbnails/", NULL);
  g_autofree char *path = ws_library_dup_thumbnail_path (fixture->library, "0123456789abcdef");
  const char *const hostile[] = { "", "..", "../../../etc/passwd", "/etc/passwd", "ab/../../x", "ABCDEF0123", "ab", "a\nb" };

  g_test_summary ("Thumbnails are named after the digest, and never outside of their folder");
  g_assert_true (g_str_has_prefix (path, thumbnails));
  g_assert_true (g_str_has_suffix (path, "/thumbnails/01/0123456789abcdef.jpg"));
  for (guint i = 0; i < G_N_ELEMENTS (hostile); i++)
    {
      g_autofree char *odd = ws_library_dup_thumbnail_path (fixture->library, hostile[i]);
      const char *below = odd + strlen (thumbnails);

      g_assert_true (g_str_has_prefix (odd, thumbnails));
      g_assert_cmpuint (strspn (below, "0123456789abcdef/"), ==, strlen (below) - strlen (".jpg"));
    }
}

static void
test_folder (Fixture *fixture, gconstpointer data)
{
  g_autofree char *usual = ws_library_default_folder ();
  g_autofree char *here = g_get_current_dir ();
  g_autoptr (GError) error = NULL;
  WsLibrary *library;

  g_test_summary ("The folder is told as an absolute path");
  g_assert_true (g_path_is_absolute (usual));
  g_assert_true (g_str_has_suffix (usual, "/wholestem"));
  g_assert_cmpint (g_chdir (fixture->folder), ==, 0);
  library = ws_library_open ("library/../second", &error);
  g_assert_no_error (error);
  g_assert_true (g_path_is_absolute (ws_library_get_folder (library)));
  g_assert_true (g_str_has_suffix (ws_library_get_folder (library), "/second"));
  g_assert_finalize_object (library);
  g_assert_cmpint (g_chdir (here), ==, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  FIXTURE_TEST ("/library/library/threads", test_threads);
  FIXTURE_TEST ("/library/library/changed", test_changed);
  FIXTURE_TEST ("/library/library/no-change", test_no_change);
  FIXTURE_TEST ("/library/library/closed-while-telling", test_closed_while_telling);
  g_test_add_func ("/library/library/blocking", test_blocking);
  FIXTURE_TEST ("/library/library/thumbnails", test_thumbnails);
  FIXTURE_TEST ("/library/library/folder", test_folder);
  return g_test_run ();
}
