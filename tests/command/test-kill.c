/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program is killed at random moments of an import and of editing: what it had shown as saved is there afterwards. */
#include "ws-test-library.h"

#include "ws-picture.h"

#include <errno.h>
#include <math.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#define KILLS 30

/* Runs a shell script in a process group of its own, kills the group after @ms, and gives what it had printed. */
static char *
run_and_kill (const char *script, guint ms)
{
  GString *out = g_string_new (NULL);
  char piece[4096];
  int pipes[2], status;
  gssize n;
  pid_t child;

  g_assert_cmpint (pipe (pipes), ==, 0);
  child = fork ();
  g_assert_cmpint (child, >=, 0);
  if (child == 0)
    {
      setpgid (0, 0);
      dup2 (pipes[1], STDOUT_FILENO);
      close (pipes[0]);
      close (pipes[1]);
      execl ("/bin/sh", "sh", "-c", script, NULL);
      _exit (127);
    }
  setpgid (child, child);
  close (pipes[1]);
  g_usleep (ms * 1000);
  kill (-child, SIGKILL);
  while ((n = read (pipes[0], piece, sizeof piece)) > 0 || (n < 0 && errno == EINTR))
    if (n > 0)
      g_string_append_len (out, piece, n);
  close (pipes[0]);
  waitpid (child, &status, 0);
  return g_string_free (out, FALSE);
}

static void
assert_sound (const char *library)
{
  g_autofree char *database = g_build_filename (library, "library.db", NULL);
  g_autofree char *out = NULL;
  const char *argv[] = { "sqlite3", database, "pragma integrity_check; pragma foreign_key_check;", NULL };
  g_autoptr (GError) error = NULL;

  if (!g_file_test (database, G_FILE_TEST_EXISTS))
    return;
  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (out, ==, "ok\n");
}

static void
test_editing (void)
{
  TestDesk test = test_begin ();
  g_autofree char *library = g_build_filename (test.folder, "library", NULL);
  g_autofree char *tool = g_build_filename (g_getenv ("WS_BUILD_ROOT"), "src", "command", "wholestem-tool", NULL);
  g_autofree char *script = NULL;
  guint64 last = 0, acknowledged_in_all = 0;

  g_test_summary ("Killed while editing: the last value that was acknowledged, or the one after it, is stored");
  g_free (test_photo (&test, "a1.jpg", 1, 400, "2025-10-04T14:00:00", NAN, NAN));
  test_import (&test);
  ws_desk_unref (test.desk);
  script = g_strdup_printf ("i=$START; while :; do '%s' set --library '%s' 25-001 remarks=$i && echo $i; i=$((i+1)); done", tool, library);
  for (guint round = 0; round < KILLS / 2; round++)
    {
      g_autofree char *out = NULL, *start = g_strdup_printf ("%" G_GUINT64_FORMAT, last + 1);
      g_autoptr (GError) error = NULL;
      g_autoptr (WsFind) find = NULL;
      const char *line;
      guint64 acknowledged = last, stored;

      g_setenv ("START", start, TRUE);
      out = run_and_kill (script, (guint) g_test_rand_int_range (60, 2500));
      g_strchomp (out);
      line = strrchr (out, '\n');
      if (out[0] != '\0')
        acknowledged = g_ascii_strtoull (line != NULL ? line + 1 : out, NULL, 10);
      acknowledged_in_all += acknowledged - last;
      assert_sound (library);
      test.desk = ws_desk_open (library, &error);
      g_assert_no_error (error);
      find = test_find (&test, "25-001");
      stored = g_ascii_strtoull (find->remarks, NULL, 10);
      g_test_message ("acknowledged %" G_GUINT64_FORMAT ", stored %" G_GUINT64_FORMAT, acknowledged, stored);
      g_assert_cmpuint (stored, >=, acknowledged);
      g_assert_cmpuint (stored, <=, acknowledged + 1);
      last = stored;
      ws_desk_unref (test.desk);
    }
  g_assert_cmpuint (acknowledged_in_all, >, 0);
  test.desk = ws_desk_open (library, NULL);
  test_end (&test);
}

static void
test_importing (void)
{
  TestDesk test = test_begin ();
  g_autofree char *tool = g_build_filename (g_getenv ("WS_BUILD_ROOT"), "src", "command", "wholestem-tool", NULL);
  guint finished = 0;

  g_test_summary ("Killed while importing: the library is sound, photos are untouched, and an import that said it was done is there");
  for (guint i = 0; i < 6; i++)
    {
      g_autofree char *name = g_strdup_printf ("p%u.jpg", i), *taken = g_strdup_printf ("2025-10-04T14:%02u:00", i);

      g_free (test_photo (&test, name, i + 1, 1200, taken, NAN, NAN));
    }
  for (guint round = 0; round < KILLS / 2; round++)
    {
      g_autofree char *library = g_strdup_printf ("%s/library-%u", test.folder, round);
      g_autofree char *script = g_strdup_printf ("'%s' import --library '%s' '%s' && echo saved", tool, library, test.photos);
      g_autofree char *out = run_and_kill (script, (guint) g_test_rand_int_range (20, 3000));
      g_autoptr (GError) error = NULL;
      g_autoptr (WsDesk) desk = NULL;
      g_autoptr (GPtrArray) photos = NULL, finds = NULL;

      assert_sound (library);
      desk = ws_desk_open (library, &error);
      g_assert_no_error (error);
      photos = ws_library_load_all_photos (desk->library, &error);
      finds = ws_library_load_finds (desk->library, NULL, &error);
      g_assert_no_error (error);
      g_test_message ("%u photos, %u finds, said: %s", photos->len, finds->len, out);
      /* One action stores all photos, another makes the finds. */
      g_assert_true (photos->len == 0 || photos->len == 6);
      if (strstr (out, "saved") != NULL)
        {
          g_assert_cmpuint (photos->len, ==, 6);
          g_assert_cmpuint (finds->len, ==, 1);
          finished++;
        }
    }
  g_test_message ("%u of %u imports were finished before the kill", finished, KILLS / 2);
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  g_test_add_func ("/command/kill/editing", test_editing);
  g_test_add_func ("/command/kill/importing", test_importing);
  return g_test_run ();
}
