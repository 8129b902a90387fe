/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The demo through the tool, as data/demo/run does it: the truth table of the scenes is what nobody typed by hand. */
#include "ws-test-library.h"

#include "ws-digest.h"
#include "ws-picture.h"

#include <json-glib/json-glib.h>
#include <string.h>

static char *tool, *demo;

static int
run (const char *const *argv, char **out)
{
  g_autoptr (GError) error = NULL;
  char *ignored = NULL;
  int status;

  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, out != NULL ? out : &ignored, NULL, &status, &error);
  g_assert_no_error (error);
  g_free (ignored);
  g_assert_true (WIFEXITED (status));
  return WEXITSTATUS (status);
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* Digest and time of every original, to see that nothing touched them. */
static char *
originals (void)
{
  g_autofree char *folder = g_build_filename (demo, "photos", NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autofree char *digest = ws_digest_file (path, NULL, NULL);
      g_autoptr (GFile) file = g_file_new_for_path (path);
      g_autoptr (GFileInfo) info = g_file_query_info (file, "time::modified,time::modified-usec", 0, NULL, NULL);

      g_ptr_array_add (lines, g_strdup_printf ("%s %s %" G_GUINT64_FORMAT, name, digest,
                                               g_file_info_get_attribute_uint64 (info, "time::modified")));
    }
  g_ptr_array_sort (lines, by_name);
  g_ptr_array_add (lines, NULL);
  return g_strjoinv ("\n", (char **) lines->pdata);
}

static int
base_shown (const char *library, const char *number)
{
  const char *argv[] = { tool, "check", "--json", "--library", library, number, NULL };
  g_autofree char *out = NULL;
  g_autoptr (JsonNode) node = NULL;
  JsonObject *object;

  run (argv, &out);
  node = json_from_string (out, NULL);
  g_assert_nonnull (node);
  object = json_node_get_object (node);
  return json_object_get_null_member (object, "baseShown") ? -1 : json_object_get_boolean_member (object, "baseShown");
}

static int
ask (const char *library, const char *number, const char *package, const char *reason)
{
  const char *argv[] = { tool, "ask", "--library", library, number, "-o", package, reason != NULL ? "--without-base" : NULL, reason, NULL };

  return run (argv, NULL);
}

static void
test_demo (void)
{
  /* What the scenes were built to show: data/demo/finds.tsv. */
  static const struct { const char *number; int base; } finds[] = {
    { "25-101", 1 },    /* dug out whole and cleaned */
    { "25-102", 0 },    /* never photographed */
    { "25-103", 0 },    /* cut off */
    { "25-104", 0 },    /* still in the ground */
    { "25-105", 0 },    /* out of focus */
  };
  TestDesk test = test_begin ();
  g_autofree char *library = g_build_filename (test.folder, "demo", NULL), *load = g_build_filename (demo, "load", NULL);
  g_autofree char *package = g_build_filename (test.folder, "out.zip", NULL), *before = NULL, *after = NULL;
  const char *loading[] = { load, tool, library, NULL }, *verifying[] = { tool, "verify", package, NULL };

  g_test_summary ("The demo from its card of photos to a verified request; each base is judged as its scene was built");
  before = originals ();
  g_assert_cmpint (run (loading, NULL), ==, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (finds); i++)
    {
      g_test_message ("%s", finds[i].number);
      g_assert_cmpint (base_shown (library, finds[i].number), ==, finds[i].base);
    }
  g_assert_cmpint (ask (library, "25-102", package, NULL), ==, 1);
  g_assert_false (g_file_test (package, G_FILE_TEST_EXISTS));
  g_assert_cmpint (ask (library, "25-102", package, "not dug out"), ==, 0);
  g_assert_cmpint (run (verifying, NULL), ==, 0);
  g_assert_cmpint (ask (library, "25-101", package, NULL), ==, 0);
  g_assert_cmpint (run (verifying, NULL), ==, 0);
  after = originals ();
  g_assert_cmpstr (after, ==, before);
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  tool = g_build_filename (g_getenv ("WS_BUILD_ROOT"), "src", "command", "wholestem-tool", NULL);
  demo = g_build_filename (g_getenv ("WS_SOURCE_ROOT"), "data", "demo", NULL);
  g_test_add_func ("/command/demo", test_demo);
  return g_test_run ();
}
