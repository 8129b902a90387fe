/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bag-maker.h"

#include "ws-bag.h"
#include "ws-error.h"
#include "ws-file.h"

#include <glib/gstdio.h>
#include <string.h>

static void
add (WsBagWriter *writer, const char *inside, const char *text, gboolean store)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr (GError) error = NULL;

  ws_bag_writer_add (writer, inside, bytes, store, &error);
  g_assert_no_error (error);
}

static void
write_bag (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsBagWriter) writer = ws_bag_writer_new (path, "25-101-Fundsache", &error);

  g_assert_no_error (error);
  add (writer, "data/request.json", "{\"text\": \"text text text text text\"}\n", FALSE);
  add (writer, "data/photos/25-101-01.jpg", "as if it were a picture", TRUE);
  add (writer, "data/empty", "", FALSE);
  add (writer, "data/odd %0A name \xc3\xa4.txt", "odd", FALSE);
  ws_bag_writer_add_info (writer, "Bagging-Date", "2025-10-04");
  ws_bag_writer_add_info (writer, "Contact-Name", "Eva\nPayload-Oxum: 0.0");
  ws_bag_writer_finish (writer, &error);
  g_assert_no_error (error);
}

static char *
run (const char *folder, const char *first, ...)
{
  g_autoptr (GPtrArray) argv = g_ptr_array_new ();
  char *out = NULL;
  g_autofree char *err = NULL;
  g_autoptr (GError) error = NULL;
  va_list args;
  int status;

  va_start (args, first);
  for (const char *word = first; word != NULL; word = va_arg (args, const char *))
    g_ptr_array_add (argv, (char *) word);
  va_end (args);
  g_ptr_array_add (argv, NULL);
  g_spawn_sync (folder, (char **) argv->pdata, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &err, &status, &error);
  g_assert_no_error (error);
  if (status != 0)
    g_error ("%s: %s %s", first, out, err);
  return out;
}

static guint
count_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static void
test_outside (void)
{
  g_autofree char *folder = maker_folder (), *path = g_build_filename (folder, "a.zip", NULL);
  g_autofree char *unzip = g_find_program_in_path ("unzip"), *sums = g_find_program_in_path ("sha512sum");
  g_autofree char *out = NULL, *list = NULL, *info = NULL, *text = NULL, *bag = NULL;

  g_test_summary ("Info-ZIP's unzip finds no fault, and sha512sum confirms both manifests after unpacking");
  if (unzip == NULL || sums == NULL)
    {
      g_test_skip ("unzip or sha512sum is not installed");
      ws_file_remove_tree (folder, NULL);
      return;
    }
  write_bag (path);
  out = run (folder, unzip, "-tqq", "a.zip", NULL);
  g_clear_pointer (&out, g_free);
  list = run (folder, unzip, "-v", "a.zip", NULL);
  g_assert_nonnull (strstr (list, "Stored       23"));
  out = run (folder, unzip, "-q", "a.zip", NULL);
  bag = g_build_filename (folder, "25-101-Fundsache", NULL);
  g_clear_pointer (&out, g_free);
  /* sha512sum knows no escapes of BagIt, so the one line with one is left out. */
  out = run (bag, "sh", "-c", "grep -v %25 manifest-sha512.txt | sha512sum -c --strict", NULL);
  g_assert_nonnull (strstr (out, "data/photos/25-101-01.jpg: OK"));
  g_clear_pointer (&out, g_free);
  out = run (bag, sums, "-c", "--strict", "tagmanifest-sha512.txt", NULL);
  g_assert_nonnull (strstr (out, "bag-info.txt: OK"));
  info = g_build_filename (bag, "bag-info.txt", NULL);
  g_assert_true (g_file_get_contents (info, &text, NULL, NULL));
  g_assert_cmpstr (text, ==, "Bagging-Date: 2025-10-04\nContact-Name: Eva Payload-Oxum: 0.0\nPayload-Oxum: 63.4\n");
  ws_file_remove_tree (folder, NULL);
}

static void
test_own (void)
{
  g_autofree char *folder = maker_folder (), *path = g_build_filename (folder, "a.zip", NULL);
  g_autofree char *again = g_build_filename (folder, "b.zip", NULL), *one = NULL, *two = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WsBagVerdict) verdict = NULL;
  g_autoptr (GBytes) odd = NULL;
  gsize n_one, n_two;

  g_test_summary ("Our own check finds the bag valid, and the same content makes the same bytes");
  write_bag (path);
  verdict = ws_bag_verify (path, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (verdict->errors->len, ==, 0);
  g_assert_cmpuint (verdict->warnings->len, ==, 0);
  odd = ws_bag_read_file (path, "data/odd %0A name \xc3\xa4.txt", 100, &error);
  g_assert_no_error (error);
  g_assert_cmpmem (g_bytes_get_data (odd, NULL), g_bytes_get_size (odd), "odd", 3);
  write_bag (again);
  g_assert_true (g_file_get_contents (path, &one, &n_one, NULL));
  g_assert_true (g_file_get_contents (again, &two, &n_two, NULL));
  g_assert_cmpmem (one, n_one, two, n_two);
  g_assert_cmpuint (count_files (folder), ==, 2);
  ws_file_remove_tree (folder, NULL);
}

static void
test_unfinished (void)
{
  g_autofree char *folder = maker_folder (), *path = g_build_filename (folder, "a.zip", NULL);
  g_autofree char *before = NULL;
  WsBagWriter *writer;

  g_test_summary ("Given up half-way nothing stays behind, and a file that was there stays as it was");
  writer = ws_bag_writer_new (path, "top", NULL);
  add (writer, "data/x", "x", TRUE);
  ws_bag_writer_free (writer);
  g_assert_cmpuint (count_files (folder), ==, 0);
  maker_put (folder, "a.zip", "before", -1);
  writer = ws_bag_writer_new (path, "top", NULL);
  add (writer, "data/x", "x", TRUE);
  ws_bag_writer_free (writer);
  g_assert_cmpuint (count_files (folder), ==, 1);
  g_assert_true (g_file_get_contents (path, &before, NULL, NULL));
  g_assert_cmpstr (before, ==, "before");
  ws_file_remove_tree (folder, NULL);
}

static void
test_refused (void)
{
  static const char *const names[] = { "x", "data/../x", "/data/x", "data//x", "data/X", "data/x" };
  g_autofree char *folder = maker_folder (), *path = g_build_filename (folder, "a.zip", NULL);
  g_autofree char *nowhere = g_build_filename (folder, "none", "a.zip", NULL);
  g_autoptr (WsBagWriter) writer = ws_bag_writer_new (path, "top", NULL);
  g_autoptr (GBytes) bytes = g_bytes_new ("x", 1);
  g_autoptr (GError) error = NULL;

  g_test_summary ("Names outside data/, and names that differ only in case, are not written");
  add (writer, "data/x", "x", TRUE);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_assert_false (ws_bag_writer_add (writer, names[i], bytes, TRUE, &error));
      g_assert_error (error, WS_ERROR, WS_ERROR_USAGE);
      g_clear_error (&error);
    }
  g_assert_null (ws_bag_writer_new (nowhere, "top", &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
  g_clear_pointer (&writer, ws_bag_writer_free);
  ws_file_remove_tree (folder, NULL);
}

static void
test_full (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsBagWriter) writer = NULL;
  g_autofree char *folder = maker_folder (), *script = NULL, *out = NULL;

  g_test_summary ("A disk that is full is an error, and nothing stays behind");
  /* A limit on file sizes is a full disk that needs no rights. */
  if (g_test_subprocess ())
    {
      g_autofree char *path = g_build_filename (g_getenv ("WS_TEST_FOLDER"), "a.zip", NULL);
      g_autofree char *noise = g_malloc (4 << 20);
      g_autoptr (GBytes) bytes = NULL;
      gboolean fine;

      for (gsize i = 0; i < 4 << 20; i++)
        noise[i] = (char) g_random_int ();
      bytes = g_bytes_new (noise, 4 << 20);
      writer = ws_bag_writer_new (path, "top", &error);
      fine = ws_bag_writer_add (writer, "data/x", bytes, TRUE, &error) && ws_bag_writer_finish (writer, &error);
      g_assert_false (fine);
      g_assert_error (error, WS_ERROR, WS_ERROR_FAILED);
      g_printerr ("%s\n", error->message);
      return;
    }
  script = g_strdup_printf ("trap '' XFSZ; ulimit -f 1024; WS_TEST_FOLDER='%s' exec '%s' -p /request/bag-writer/full --GTestSubprocess",
                            folder, g_get_prgname ());
  out = run (NULL, "sh", "-c", script, NULL);
  g_assert_cmpuint (count_files (folder), ==, 0);
  ws_file_remove_tree (folder, NULL);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_set_prgname (argv[0]);
  g_test_add_func ("/request/bag-writer/outside", test_outside);
  g_test_add_func ("/request/bag-writer/own", test_own);
  g_test_add_func ("/request/bag-writer/unfinished", test_unfinished);
  g_test_add_func ("/request/bag-writer/refused", test_refused);
  g_test_add_func ("/request/bag-writer/full", test_full);
  return g_test_run ();
}
