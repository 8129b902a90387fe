/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo-making.h"

#include "ws-file.h"

#include <glib/gstdio.h>
#include <stdlib.h>

static char *folder;

char *
checks_folder (const char *part)
{
  const char *checks = g_getenv ("WS_CHECKS");
  g_autofree char *path = g_build_filename (checks != NULL ? checks : "", part, NULL);

  if (checks != NULL && *checks != '\0' && g_file_test (path, G_FILE_TEST_IS_DIR))
    return g_steal_pointer (&path);
  path = (g_free (path), g_strdup_printf ("shared checks: %s", part));
  g_test_skip (path);
  return NULL;
}

static void
remove_folder (void)
{
  ws_file_remove_tree (folder, NULL);
  g_free (folder);
}

char *
made_path (const char *name)
{
  if (folder == NULL)
    {
      folder = g_dir_make_tmp ("wholestem-photo-XXXXXX", NULL);
      atexit (remove_folder);
    }
  return g_build_filename (folder, name, NULL);
}

gboolean
have_tool (const char *program)
{
  g_autofree char *path = g_find_program_in_path (program);

  if (path == NULL)
    g_test_skip (program);
  return path != NULL;
}

char *
run_tool (const char *program, ...)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;
  char *output = NULL;
  int status = 0;
  va_list args;
  char *word = (char *) program;

  va_start (args, program);
  for (; word != NULL; word = va_arg (args, char *))
    g_ptr_array_add (words, word);
  va_end (args);
  g_ptr_array_add (words, NULL);
  g_spawn_sync (NULL, (char **) words->pdata, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL,
                &output, NULL, &status, &error);
  g_assert_no_error (error);
  if (status != 0)
    g_test_message ("%s ends with %d", program, status);
  g_assert_cmpint (status, ==, 0);
  return output;
}

GBytes *
read_bytes (const char *path)
{
  char *data = NULL;
  gsize size;

  g_assert_true (g_file_get_contents (path, &data, &size, NULL));
  return g_bytes_new_take (data, size);
}

static gboolean
is_fatal (const char *domain, GLogLevelFlags level, const char *message, gpointer unused)
{
  return g_strcmp0 (domain, "VIPS") != 0;
}

void
let_libvips_warn (void)
{
  g_test_log_set_fatal_handler (is_fatal, NULL);
}
