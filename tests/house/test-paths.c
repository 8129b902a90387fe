/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "house-support.h"

#include <locale.h>
#include <string.h>

/* Folders of some machine, addresses of package registries, and work left undone. */
static const struct { const char *pattern, *what; } marks[] = {
  { "(?<![\\w.~*-])/(home|root|tmp|Users|mnt|media|var/tmp|var/folders)(/|\\b(?![\\w-]))", "a path of a machine" },
  { "\\b[A-Za-z]:\\\\\\\\?Users\\b", "a path of a machine" },
  { "\\b(pypi\\.org|files\\.pythonhosted\\.org|registry\\.npmjs\\.org|deb\\.debian\\.org|security\\.debian\\.org|static\\.crates\\.io|"
    "index\\.crates\\.io|proxy\\.golang\\.org|conda\\.anaconda\\.org|repo\\.maven)", "an address of a registry" },
  { "\\b(10\\.\\d+\\.\\d+\\.\\d+|192\\.168\\.\\d+\\.\\d+|127\\.0\\.0\\.1:\\d+|localhost:\\d+)", "an address of a machine" },
  { "\\b(TODO|FIXME|XXX)\\b", "work left undone" },
};

/* What the version control knows of; without it (an archive of the source) all files. (transfer full) */
static GPtrArray *
list_files (const char *root)
{
  const char *argv[] = { "git", "-C", root, "ls-files", "-z", NULL };
  g_autofree char *out = NULL, *git = g_build_filename (root, ".git", NULL);
  GPtrArray *paths;
  gsize at = 0;
  int status = 1;

  if (!g_file_test (git, G_FILE_TEST_EXISTS))
    return house_list (root, "", NULL);
  if (!g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, &out, NULL,
                     &status, NULL) || status != 0)
    return house_list (root, "", NULL);
  paths = g_ptr_array_new_with_free_func (g_free);
  /* Names end with a NUL, the list with an empty one: the text of the pipe is one NUL longer. */
  while (out[at] != '\0')
    {
      g_ptr_array_add (paths, g_strdup (out + at));
      at += strlen (out + at) + 1;
    }
  return paths;
}

static void
look_for (const char *pattern, const char *what, const char *path, const char *text, GPtrArray *faults)
{
  g_autoptr (GRegex) regex = g_regex_new (pattern, 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;

  g_assert_nonnull (regex);
  for (g_regex_match (regex, text, 0, &match); g_match_info_matches (match); g_match_info_next (match, NULL))
    {
      g_autofree char *words = g_match_info_fetch (match, 0);
      int at;

      g_match_info_fetch_pos (match, 0, &at, NULL);
      house_fault (faults, path, house_line_of (text, text + at), "%s: %s", what, words);
    }
}

/* Where this very build lies, wherever that is. */
static void
look_for_this_machine (const char *path, const char *text, GPtrArray *faults)
{
  static const char *const variables[] = { "WS_SOURCE_ROOT", "WS_BUILD_ROOT", "WS_CHECKS" };

  for (gsize i = 0; i < G_N_ELEMENTS (variables); i++)
    {
      const char *folder = g_getenv (variables[i]);
      const char *there = folder != NULL && *folder != '\0' ? strstr (text, folder) : NULL;

      if (there != NULL)
        house_fault (faults, path, house_line_of (text, there), "a path of this machine: %s", folder);
    }
}

static void
rule_paths (const char *root, GPtrArray *faults)
{
  g_autoptr (GPtrArray) paths = list_files (root);

  for (guint i = 0; i < paths->len; i++)
    {
      const char *path = g_ptr_array_index (paths, i);
      g_autofree char *text = house_read (root, path);

      /* A licence is quoted as it stands; what is no text has no lines; and this file holds what is looked for. */
      if (text == NULL || g_str_equal (path, "LICENSE") || g_str_equal (path, "tests/house/test-paths.c"))
        continue;
      for (gsize m = 0; m < G_N_ELEMENTS (marks); m++)
        look_for (marks[m].pattern, marks[m].what, path, text, faults);
      look_for_this_machine (path, text, faults);
    }
}

static void
rule_licence (const char *root, GPtrArray *faults)
{
  static const char *const endings[] = { ".c", ".h", NULL };
  static const char *const folders[] = { "src", "tests" };

  for (gsize f = 0; f < G_N_ELEMENTS (folders); f++)
    {
      g_autoptr (GPtrArray) paths = house_list (root, folders[f], endings);

      for (guint i = 0; i < paths->len; i++)
        {
          g_autofree char *text = house_read (root, g_ptr_array_index (paths, i));

          if (text == NULL || !g_str_has_prefix (text, "/* SPDX-License-Identifier: GPL-3.0-or-later */\n"))
            house_fault (faults, g_ptr_array_index (paths, i), 1, "the licence line is missing");
        }
    }
}

static void
test_paths (void)
{
  g_test_summary ("no file names a folder of some machine, a registry or a machine's address, nor leaves a note of work undone");
  house_check (rule_paths);
}

static void
test_licence (void)
{
  static const char *const files[] = {
    "src/base/a.c", "/* SPDX-License-Identifier: GPL-3.0-or-later */\n", "src/base/b.h", "#pragma once\n",
    "tests/base/c.c", "\n/* SPDX-License-Identifier: GPL-3.0-or-later */\n", NULL,
  };

  g_test_summary ("every source file begins with its licence, and one that does not is found");
  house_check (rule_licence);
  house_check_sees (rule_licence, files, "src/base/b.h:1: the licence line is missing\ntests/base/c.c:1: the licence line is missing");
}

static void
test_sees (void)
{
  g_autofree char *here = g_strconcat ("\ncd ", g_getenv ("WS_SOURCE_ROOT"), "/src\n", NULL);
  const char *files[] = {
    "a.c", "g_dir_make_tmp ();\nopen (\"/home/anna/x\");\n",
    "b.md", "see /tmp for more; https://example.org/home/x is fine, and ~/tmp/x, $TMP/root/y, sub/root/z and /temporary, /tmpfs-case\n",
    "c.txt", "C:\\Users\\anna\nhttps://pypi.org/simple\n10.0.0.7\nversion 10.0.1\n",
    "d.py", "# TODO: later\nTODOS = 1\n",
    "e/f.txt", "file:///root/x\n",
    "g.bin", "\xff /home/x\n",
    "h.sh", here,
    NULL,
  };
  g_autofree char *faults = g_strconcat ("a.c:2: a path of a machine: /home/\n"
                                         "b.md:1: a path of a machine: /tmp\n"
                                         "c.txt:1: a path of a machine: C:\\Users\n"
                                         "c.txt:2: an address of a registry: pypi.org\n"
                                         "c.txt:3: an address of a machine: 10.0.0.7\n"
                                         "d.py:1: work left undone: TODO\n"
                                         "e/f.txt:1: a path of a machine: /root/\n"
                                         "h.sh:2: a path of this machine: ", g_getenv ("WS_SOURCE_ROOT"), NULL);

  g_test_summary ("the rule finds such paths and notes, and is not taken in by addresses and longer names");
  if (strstr (here, "/home/") != NULL || strstr (here, "/root/") != NULL || strstr (here, "/tmp/") != NULL)
    files[12] = NULL;
  if (files[12] == NULL)
    *strstr (faults, "\nh.sh") = '\0';
  house_check_sees (rule_paths, files, faults);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/house/paths/tree", test_paths);
  g_test_add_func ("/house/paths/licence", test_licence);
  g_test_add_func ("/house/paths/sees", test_sees);
  return g_test_run ();
}
