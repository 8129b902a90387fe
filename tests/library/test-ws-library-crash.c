/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A program that is killed at any moment loses nothing that it was told is stored. The child says what it is
 * about to do ("?") and what is done ("!") on its output; the parent kills it and compares. */
#include "ws-file.h"

#include "fixture.h"

#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#define N_KILLS 30

/* One write() a line, so that a line is never cut. */
static void
say (const char *what, const char *id)
{
  char line[64];
  int n = g_snprintf (line, sizeof line, "%s %s\n", what, id);

  if (write (STDOUT_FILENO, line, (gsize) n) != n)
    _exit (1);
}

static int
run_child (const char *folder)
{
  g_autoptr (WsLibrary) library = ws_library_open (folder, NULL);

  for (guint i = 1; library != NULL; i++)
    {
      g_autoptr (WsFind) find = sample_whole_find ("1", NULL);

      say ("?put", find->id);
      if (!ws_library_apply (library, action_put_whole ("put", NULL, find), NULL))
        break;
      say ("!put", find->id);
      if (i % 3 != 0)
        continue;
      say ("?undo", find->id);
      if (!ws_library_undo (library, NULL, NULL))
        break;
      say ("!undo", find->id);
    }
  return 1;
}

/* Appends what the child says until it has said @until, or all it says. */
static void
hear (int output, GString *said, const char *until)
{
  char piece[4096];
  gssize n;

  while ((until == NULL || strstr (said->str, until) == NULL) && (n = read (output, piece, sizeof piece)) > 0)
    g_string_append_len (said, piece, n);
}

/* Starts the child, kills it @delay_us after it began, or after the first thing that it has stored, and gives
 * all it said. */
static char *
run_and_kill (const char *folder, gboolean has_stored, gulong delay_us)
{
  const char *argv[] = { "/proc/self/exe", "--child", folder, NULL };
  g_autoptr (GError) error = NULL;
  GString *said = g_string_new (NULL);
  GPid pid;
  int output, status;

  g_spawn_async_with_pipes (NULL, (char **) argv, NULL, G_SPAWN_DO_NOT_REAP_CHILD, NULL, NULL, &pid, NULL, &output,
                            NULL, &error);
  g_assert_no_error (error);
  if (has_stored)
    hear (output, said, "!put");
  g_usleep (delay_us);
  g_assert_cmpint (kill (pid, SIGKILL), ==, 0);
  g_assert_cmpint (waitpid (pid, &status, 0), ==, pid);
  g_assert_true (WIFSIGNALED (status) && WTERMSIG (status) == SIGKILL);
  hear (output, said, NULL);
  close (output);
  g_spawn_close_pid (pid);
  return g_string_free (said, FALSE);
}

typedef struct
{
  GHashTable *stored;  /* ids that must be there */
  GHashTable *maybe;   /* ids that may be there or not: killed in the middle */
  guint n_done;
} Book;

static void
note_down (Book *book, const char *said)
{
  g_auto (GStrv) lines = g_strsplit (said, "\n", -1);

  for (char **line = lines; *line != NULL && **line != '\0'; line++)
    {
      const char *id = strchr (*line, ' ') + 1;

      if (g_str_has_prefix (*line, "!"))
        {
          g_hash_table_remove (book->maybe, id);
          book->n_done++;
        }
      else
        g_hash_table_add (book->maybe, g_strdup (id));
      if (g_str_has_prefix (*line, "!put"))
        g_hash_table_add (book->stored, g_strdup (id));
      else
        g_hash_table_remove (book->stored, id);
    }
}

/* Every find that must be there is there, with all that was put with it; no other is, but for one. */
static void
compare (Book *book, const char *folder)
{
  g_autoptr (GError) error = NULL;
  WsLibrary *library = ws_library_open (folder, &error);
  g_autoptr (GPtrArray) finds = NULL;
  g_autoptr (GHashTable) there = g_hash_table_new (g_str_hash, g_str_equal);
  GHashTableIter iter;
  gpointer id;

  g_assert_no_error (error);
  finds = ws_library_load_finds (library, NULL, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < finds->len; i++)
    {
      const WsFind *find = g_ptr_array_index (finds, i);

      g_hash_table_add (there, find->id);
      g_assert_true (g_hash_table_contains (book->stored, find->id) || g_hash_table_contains (book->maybe, find->id));
      g_assert_cmpuint (find->photos->len, ==, 2);
      g_assert_cmpuint (find->marks->len, ==, 2);
      g_assert_cmpuint (find->notes->len, ==, 2);
      g_assert_cmpuint (find->excuses->len, ==, 1);
      g_assert_cmpuint (find->covers->len, ==, 1);
    }
  g_hash_table_iter_init (&iter, book->stored);
  while (g_hash_table_iter_next (&iter, &id, NULL))
    g_assert_true (g_hash_table_contains (there, id));

  /* What was in doubt is settled now. */
  g_hash_table_iter_init (&iter, book->maybe);
  while (g_hash_table_iter_next (&iter, &id, NULL))
    if (g_hash_table_contains (there, id))
      g_hash_table_add (book->stored, g_strdup (id));
  g_hash_table_remove_all (book->maybe);
  g_object_unref (library);
}

static void
test_kill (void)
{
  g_autofree char *top = g_dir_make_tmp ("wholestem-XXXXXX", NULL);
  g_autofree char *folder = g_build_filename (top, "library", NULL);
  g_autofree char *path = g_build_filename (folder, "library.db", NULL);
  g_autofree char *integrity = NULL, *references = NULL;
  Book book = { g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL),
                g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL), 0 };

  g_test_summary ("A child is killed at 30 random moments; what it was told is stored is there, whole");
  for (guint i = 0; i < N_KILLS; i++)
    {
      gulong delay_us = (gulong) g_test_rand_int_range (1000, 400 * 1000);
      g_autofree char *said = run_and_kill (folder, i % 2 == 0, delay_us);

      note_down (&book, said);
      compare (&book, folder);
    }
  g_test_message ("%u actions and undos were acknowledged", book.n_done);
  g_assert_cmpuint (book.n_done, >=, N_KILLS / 2);
  integrity = database_query (path, "PRAGMA integrity_check");
  references = database_query (path, "PRAGMA foreign_key_check");
  g_assert_cmpstr (integrity, ==, "ok");
  g_assert_cmpstr (references, ==, NULL);
  g_hash_table_unref (book.stored);
  g_hash_table_unref (book.maybe);
  ws_file_remove_tree (top, NULL);
}

int
main (int argc, char *argv[])
{
  if (argc == 3 && g_str_equal (argv[1], "--child"))
    return run_child (argv[2]);
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/library/crash/kill", test_kill);
  return g_test_run ();
}
