/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "house-support.h"

#include <glib/gstdio.h>
#include <string.h>

static gboolean
ends_well (const char *name, const char *const *endings)
{
  for (guint i = 0; endings != NULL && endings[i] != NULL; i++)
    if (g_str_has_suffix (name, endings[i]))
      return TRUE;
  return endings == NULL;
}

static void
list_into (GPtrArray *paths, const char *root, const char *folder, const char *const *endings)
{
  g_autofree char *full = g_build_filename (root, folder, NULL);
  g_autoptr (GDir) dir = g_dir_open (full, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = *folder != '\0' ? g_build_filename (folder, name, NULL) : g_strdup (name);
      g_autofree char *there = g_build_filename (root, path, NULL);

      if (g_file_test (there, G_FILE_TEST_IS_SYMLINK))
        continue;
      if (g_file_test (there, G_FILE_TEST_IS_DIR))
        {
          if (*name != '.' && *name != '_')
            list_into (paths, root, path, endings);
        }
      else if (ends_well (name, endings))
        g_ptr_array_add (paths, g_steal_pointer (&path));
    }
}

static int
by_text (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

GPtrArray *
house_list (const char *root, const char *folder, const char *const *endings)
{
  GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);

  list_into (paths, root, folder, endings);
  g_ptr_array_sort (paths, by_text);
  return paths;
}

char *
house_read (const char *root, const char *path)
{
  g_autofree char *full = g_build_filename (root, path, NULL), *text = NULL;
  gsize size;

  if (!g_file_get_contents (full, &text, &size, NULL) || !g_utf8_validate (text, (gssize) size, NULL))
    return NULL;
  return g_steal_pointer (&text);
}

/* Moves past a string or character literal that begins at @p. */
static char *
skip_literal (char *p)
{
  char quote = *p++;

  while (*p != '\0' && *p != quote && *p != '\n')
    p += *p == '\\' && p[1] != '\0' ? 2 : 1;
  return *p == quote ? p + 1 : p;
}

static char *
blank_until (char *p, const char *end)
{
  char *stop = strstr (p + 2, end);

  /* A line comment ends before the line end, another one after its two signs. */
  stop = stop == NULL ? p + strlen (p) : *end == '\n' ? stop : stop + strlen (end);
  for (; p < stop; p++)
    if (*p != '\n')
      *p = ' ';
  return p;
}

char *
house_without_comments (const char *text)
{
  char *plain = g_strdup (text), *p = plain;

  while (*p != '\0')
    if (*p == '"' || *p == '\'')
      p = skip_literal (p);
    else if (g_str_has_prefix (p, "/*"))
      p = blank_until (p, "*/");
    else if (g_str_has_prefix (p, "//"))
      p = blank_until (p, "\n");
    else
      p++;
  return plain;
}

int
house_line_of (const char *text, const char *at)
{
  int line = 1;

  for (; text < at; text++)
    line += *text == '\n';
  return line;
}

void
house_fault (GPtrArray *faults, const char *path, int line, const char *format, ...)
{
  g_autofree char *what = NULL;
  va_list args;

  va_start (args, format);
  what = g_strdup_vprintf (format, args);
  va_end (args);
  g_ptr_array_add (faults, g_strdup_printf ("%s:%d: %s", path, line, what));
}

void
house_check (HouseRule rule)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func (g_free);
  const char *root = g_getenv ("WS_SOURCE_ROOT");

  g_assert_nonnull (root);
  rule (root, faults);
  for (guint i = 0; i < faults->len; i++)
    g_test_message ("FAULT %s", (const char *) g_ptr_array_index (faults, i));
  if (faults->len > 0)
    g_test_fail_printf ("%u faults; the first: %s", faults->len, (const char *) g_ptr_array_index (faults, 0));
}

void
house_check_sees (HouseRule rule, const char *const *files, const char *expected)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *root = g_dir_make_tmp ("ws-house-XXXXXX", NULL), *found = NULL;
  const char *rm[] = { "rm", "-rf", "--", root, NULL };

  for (guint i = 0; files[i] != NULL; i += 2)
    {
      g_autofree char *path = g_build_filename (root, files[i], NULL), *folder = g_path_get_dirname (path);

      g_assert_cmpint (g_mkdir_with_parents (folder, 0700), ==, 0);
      g_assert_true (g_file_set_contents (path, files[i + 1], -1, NULL));
    }
  rule (root, faults);
  g_ptr_array_add (faults, NULL);
  found = g_strjoinv ("\n", (char **) faults->pdata);
  g_assert_true (g_spawn_sync (NULL, (char **) rm, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, NULL));
  g_assert_cmpstr (found, ==, expected);
}
