/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-blocking.h"

#include "ws-digest.h"
#include "ws-file.h"

#include <locale.h>

static void do_say (void) { ws_blocking ("counting spores"); }
static void do_read (void) { g_bytes_unref (ws_file_read ("/dev/null", 1, NULL)); }
static void do_write (void) { (void) ws_file_write ("", "", 0, NULL); }
static void do_remove (void) { (void) ws_file_remove_tree ("", NULL); }
static void do_digest (void) { g_free (ws_digest_file ("", NULL, NULL)); }

static const struct { const char *name; void (*call) (void); } slow[] = {
  { "say", do_say }, { "read", do_read }, { "write", do_write }, { "remove", do_remove }, { "digest", do_digest },
};

static void
run_marked (gconstpointer data)
{
  ws_blocking_forbid_here ();
  slow[GPOINTER_TO_SIZE (data)].call ();
}

static void
test_marked (gconstpointer data)
{
  g_autofree char *path = g_strconcat ("/base/blocking/marked/", slow[GPOINTER_TO_SIZE (data)].name, "/subprocess", NULL);

  g_test_summary ("slow work on the thread that draws is a critical warning, which is fatal in tests");
  g_test_trap_subprocess (path, 0, 0);
  g_test_trap_assert_failed ();
  g_test_trap_assert_stderr ("*CRITICAL*on the thread that draws*");
}

static gpointer
say_elsewhere (gpointer data)
{
  do_say ();
  return NULL;
}

static void
test_elsewhere_subprocess (void)
{
  ws_blocking_forbid_here ();
  g_thread_join (g_thread_new ("elsewhere", say_elsewhere, NULL));
}

static void
test_elsewhere (void)
{
  g_test_summary ("the same work on any other thread is fine");
  g_test_trap_subprocess ("/base/blocking/elsewhere/subprocess", 0, 0);
  g_test_trap_assert_passed ();
}

static void
test_unmarked (void)
{
  g_test_summary ("a program that names no thread, as on the command line, may block anywhere");
  do_say ();
  g_thread_join (g_thread_new ("elsewhere", say_elsewhere, NULL));
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (slow); i++)
    {
      g_autofree char *path = g_strconcat ("/base/blocking/marked/", slow[i].name, NULL);
      g_autofree char *inner = g_strconcat (path, "/subprocess", NULL);

      g_test_add_data_func (path, GSIZE_TO_POINTER (i), test_marked);
      g_test_add_data_func (inner, GSIZE_TO_POINTER (i), run_marked);
    }
  g_test_add_func ("/base/blocking/elsewhere", test_elsewhere);
  g_test_add_func ("/base/blocking/elsewhere/subprocess", test_elsewhere_subprocess);
  g_test_add_func ("/base/blocking/unmarked", test_unmarked);
  return g_test_run ();
}
