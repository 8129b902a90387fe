/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-file.h"

#include "ws-error.h"

#include <glib/gstdio.h>
#include <locale.h>
#include <signal.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

typedef struct { char *dir; } Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  f->dir = g_dir_make_tmp ("ws-file-XXXXXX", NULL);
  g_assert_nonnull (f->dir);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  const char *argv[] = { "rm", "-rf", "--", f->dir, NULL };

  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, NULL));
  g_free (f->dir);
}

static char *
in_dir (Fixture *f, const char *name)
{
  return g_build_filename (f->dir, name, NULL);
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* All names in the folder, hidden ones too, sorted: "a b". */
static char *
listing (const char *dir)
{
  g_autoptr (GDir) open = g_dir_open (dir, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  while ((name = g_dir_read_name (open)) != NULL)
    g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, by_name);
  g_ptr_array_add (names, NULL);
  return g_strjoinv (" ", (char **) names->pdata);
}

static void
assert_holds (const char *path, const char *text)
{
  g_autofree char *contents = NULL;

  g_assert_true (g_file_get_contents (path, &contents, NULL, NULL));
  g_assert_cmpstr (contents, ==, text);
}

static void
assert_listing (const char *dir, const char *names)
{
  g_autofree char *there = listing (dir);

  g_assert_cmpstr (there, ==, names);
}

static void
test_whole_or_not (Fixture *f, gconstpointer data)
{
  g_autofree char *path = in_dir (f, "note.txt");
  g_autoptr (WsSafeFile) file = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("the old file stays until the new one is whole; then nothing but the new one is there");
  g_assert_true (ws_file_write (path, "old", 3, &error));
  file = ws_safe_file_open (path, &error);
  g_assert_no_error (error);
  g_assert_true (ws_safe_file_write (file, "new ", 4, &error));
  assert_holds (path, "old");
  g_assert_true (ws_safe_file_write (file, "text", 4, &error));
  assert_holds (path, "old");
  assert_holds (ws_safe_file_get_temporary (file), "new text");
  g_assert_true (ws_safe_file_commit (file, &error));
  assert_holds (path, "new text");
  assert_listing (f->dir, "note.txt");
}

static void
test_dropped (Fixture *f, gconstpointer data)
{
  g_autofree char *path = in_dir (f, "note.txt");
  WsSafeFile *file = ws_safe_file_open (path, NULL);

  g_test_summary ("a file that is freed without commit leaves nothing");
  g_assert_true (ws_safe_file_write (file, "x", 1, NULL));
  g_assert_cmpint (write (ws_safe_file_get_fd (file), "y", 1), ==, 1);
  ws_safe_file_free (file);
  assert_listing (f->dir, "");
  ws_safe_file_free (NULL);
}

static void
test_mode (Fixture *f, gconstpointer data)
{
  g_autofree char *path = in_dir (f, "note.txt");
  mode_t before = umask (027);
  struct stat info;

  g_test_summary ("the file gets the permissions any new file gets, not those of the temporary one");
  g_assert_true (ws_file_write (path, "", 0, NULL));
  umask (before);
  g_assert_cmpint (stat (path, &info), ==, 0);
  g_assert_cmpint (info.st_mode & 0777, ==, 0640);
}

static void
test_full_disk (Fixture *f, gconstpointer data)
{
  g_autofree char *path = in_dir (f, "note.txt"), *much = g_strnfill (300000, 'x');
  g_autoptr (GError) error = NULL;
  struct rlimit before, small;
  gboolean written;

  g_test_summary ("a write that the system cuts short (limit of file size) is an error; the old file stays, nothing else");
  g_assert_true (ws_file_write (path, "old", 3, NULL));
  signal (SIGXFSZ, SIG_IGN);
  getrlimit (RLIMIT_FSIZE, &before);
  small = before;
  small.rlim_cur = 100000;
  setrlimit (RLIMIT_FSIZE, &small);
  written = ws_file_write (path, much, 300000, &error);
  setrlimit (RLIMIT_FSIZE, &before);
  g_assert_false (written);
  g_assert_error (error, WS_ERROR, WS_ERROR_FAILED);
  g_assert_nonnull (strstr (error->message, path));
  assert_holds (path, "old");
  assert_listing (f->dir, "note.txt");
}

static void
test_bad_targets (Fixture *f, gconstpointer data)
{
  g_autofree char *nowhere = in_dir (f, "gone/note.txt"), *folder = in_dir (f, "folder");
  g_autoptr (GError) error = NULL;

  g_test_summary ("no such folder, and a folder in the file's place: an error that names it, and nothing is left");
  g_assert_false (ws_file_write (nowhere, "x", 1, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
  g_assert_nonnull (strstr (error->message, nowhere));
  g_clear_error (&error);
  g_assert_cmpint (g_mkdir (folder, 0700), ==, 0);
  g_assert_false (ws_file_write (folder, "x", 1, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_FAILED);
  g_assert_nonnull (strstr (error->message, folder));
  assert_listing (f->dir, "folder");
}

static void
test_long_name (Fixture *f, gconstpointer data)
{
  g_autofree char *name = g_strnfill (255, 'n'), *path = in_dir (f, name);
  g_autoptr (GError) error = NULL;

  g_test_summary ("a name as long as a file system takes can still be written");
  g_assert_true (ws_file_write (path, "x", 1, &error));
  g_assert_no_error (error);
  assert_listing (f->dir, name);
}

static void
test_read (Fixture *f, gconstpointer data)
{
  g_autofree char *path = in_dir (f, "data"), *empty = in_dir (f, "empty"), *gone = in_dir (f, "gone");
  g_autofree char *text = g_strnfill (200000, 'd');
  g_autoptr (GBytes) bytes = NULL, nothing = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("a file is read up to the limit and not one byte beyond; no file is an error by its own code");
  g_assert_true (g_file_set_contents (path, text, 200000, NULL));
  g_assert_true (g_file_set_contents (empty, "", 0, NULL));
  bytes = ws_file_read (path, 200000, &error);
  g_assert_no_error (error);
  g_assert_cmpmem (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), text, 200000);
  nothing = ws_file_read (empty, 0, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (g_bytes_get_size (nothing), ==, 0);
  g_assert_null (ws_file_read (path, 199999, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_TOO_LARGE);
  g_assert_nonnull (strstr (error->message, path));
  g_assert_nonnull (strstr (error->message, "199999"));
  g_clear_error (&error);
  g_assert_null (ws_file_read (gone, 10, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
  g_assert_nonnull (strstr (error->message, gone));
}

static void
test_read_no_file (Fixture *f, gconstpointer data)
{
  g_autofree char *pipe_path = in_dir (f, "pipe");
  g_autoptr (GError) error = NULL;

  g_test_summary ("a folder, a pipe nobody writes to (no hang) and a device are not files; a file that hides its size meets the limit");
  g_assert_null (ws_file_read (f->dir, 10, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
  g_clear_error (&error);
  g_assert_cmpint (mkfifo (pipe_path, 0600), ==, 0);
  alarm (20);
  g_assert_null (ws_file_read (pipe_path, 10, &error));
  alarm (0);
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
  g_assert_nonnull (strstr (error->message, pipe_path));
  g_clear_error (&error);
  g_assert_null (ws_file_read ("/dev/zero", 10, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
  g_clear_error (&error);
  if (!g_file_test ("/proc/self/status", G_FILE_TEST_EXISTS))
    return;
  g_assert_null (ws_file_read ("/proc/self/status", 10, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_TOO_LARGE);
}

static void
test_remove_tree (Fixture *f, gconstpointer data)
{
  g_autofree char *tree = in_dir (f, "tree"), *deep = in_dir (f, "tree/a/b"), *file = in_dir (f, "tree/a/.hidden");
  g_autofree char *outside = in_dir (f, "outside"), *kept = in_dir (f, "outside/kept"), *link = in_dir (f, "tree/a/link");
  g_autofree char *dangling = in_dir (f, "tree/dangling"), *top = in_dir (f, "top-link"), *to_file = in_dir (f, "tree/to-file");
  g_autoptr (GError) error = NULL;

  g_test_summary ("a folder goes with all below it, but links are removed, never followed");
  g_assert_cmpint (g_mkdir_with_parents (deep, 0700), ==, 0);
  g_assert_cmpint (g_mkdir_with_parents (outside, 0700), ==, 0);
  g_assert_true (g_file_set_contents (file, "x", 1, NULL));
  g_assert_true (g_file_set_contents (kept, "kept", 4, NULL));
  g_assert_cmpint (symlink (outside, link), ==, 0);
  g_assert_cmpint (symlink (kept, to_file), ==, 0);
  g_assert_cmpint (symlink ("nowhere", dangling), ==, 0);
  g_assert_cmpint (symlink (outside, top), ==, 0);
  g_assert_true (ws_file_remove_tree (tree, &error));
  g_assert_no_error (error);
  g_assert_true (ws_file_remove_tree (top, &error));
  assert_listing (f->dir, "outside");
  assert_holds (kept, "kept");
  /* Nothing there is nothing left to do. */
  g_assert_true (ws_file_remove_tree (tree, &error));
  g_assert_no_error (error);
}

static void
test_name_from (void)
{
  static const struct { const char *text, *name; } cases[] = {
    { "25-101", "25-101" }, { "25/101", "25-101" }, { "../../etc/passwd", "etc-passwd" }, { "..", "find" },
    { ".hidden", "hidden" }, { "a..b", "a..b" }, { "", "find" }, { NULL, "find" }, { "///", "find" }, { "-rf", "rf" },
    { "C:\\temp\\x", "C-temp-x" }, { "a\nb\tc", "a-b-c" }, { "x.", "x" }, { "x . - ", "x" }, { "no. 7", "no.-7" },
    { "$(reboot)", "reboot" }, { "a'\"`b", "a-b" }, { "\xe2\x80\xae" "gpj.exe", NULL }, { "\xe8\x98\x91", NULL },
  };

  g_test_summary ("hostile texts give plain file names");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *name = ws_file_name_from (cases[i].text);

      g_test_message ("“%s” → “%s”", cases[i].text != NULL ? cases[i].text : "(null)", name);
      /* What is not ASCII is spelt as the C library transliterates it: only the rule is tested. */
      if (cases[i].name != NULL)
        g_assert_cmpstr (name, ==, cases[i].name);
      g_assert_true (g_regex_match_simple ("^[A-Za-z0-9][A-Za-z0-9.-]{0,79}$", name, 0, 0));
    }
}

static void
test_name_from_noise (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  gsize page = (gsize) sysconf (_SC_PAGESIZE);
  char *wall = mmap (NULL, 2 * page, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);

  g_test_summary ("6,000 texts of random bytes, broken UTF-8 too, give names of 1-80 plain characters");
  /* Each text ends where a page begins that may not be read: libraries are no place for a sanitizer. */
  g_assert_true (wall != MAP_FAILED);
  g_assert_cmpint (mprotect (wall + page, page, PROT_NONE), ==, 0);
  for (int i = 0; i < 6000; i++)
    {
      g_autoptr (GString) text = g_string_new (NULL);
      g_autofree char *name = NULL;

      for (int n = g_rand_int_range (rand, 0, 200); n > 0; n--)
        g_string_append_c (text, (char) g_rand_int_range (rand, 1, 256));
      memcpy (wall + page - text->len - 1, text->str, text->len + 1);
      name = ws_file_name_from (wall + page - text->len - 1);
      g_assert_true (g_regex_match_simple ("^[A-Za-z0-9][A-Za-z0-9.-]{0,79}$", name, 0, 0));
    }
  munmap (wall, 2 * page);
}

#define ADD(path, func) g_test_add (path, Fixture, NULL, set_up, func, tear_down)

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  ADD ("/base/file/whole-or-not", test_whole_or_not);
  ADD ("/base/file/dropped", test_dropped);
  ADD ("/base/file/mode", test_mode);
  ADD ("/base/file/full-disk", test_full_disk);
  ADD ("/base/file/bad-targets", test_bad_targets);
  ADD ("/base/file/long-name", test_long_name);
  ADD ("/base/file/read", test_read);
  ADD ("/base/file/read-no-file", test_read_no_file);
  ADD ("/base/file/remove-tree", test_remove_tree);
  g_test_add_func ("/base/file/name-from", test_name_from);
  g_test_add_func ("/base/file/name-from-noise", test_name_from_noise);
  return g_test_run ();
}
