/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bag checker. Check sums keep a fuzzer out of a zip, so the input is the tag files, one behind the other with a NUL between, and the bag
 * a folder that also holds data/a.txt. */
#include "fuzz.h"

#include "ws-bag.h"
#include "ws-file.h"

#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

static char *folder;

static void
remove_folder (void)
{
  ws_file_remove_tree (folder, NULL);
}

static char *
make_folder (void)
{
  g_autofree char *data = NULL, *file = NULL;

  folder = g_dir_make_tmp ("ws-fuzz-bag-XXXXXX", NULL);
  g_assert_nonnull (folder);
  atexit (remove_folder);
  data = g_build_filename (folder, "data", NULL);
  file = g_build_filename (data, "a.txt", NULL);
  g_assert_cmpint (g_mkdir (data, 0700), ==, 0);
  g_assert_true (g_file_set_contents_full (file, "a\n", 2, G_FILE_SET_CONTENTS_NONE, 0600, NULL));
  return folder;
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  static const char *const names[] = { "bagit.txt", "manifest-sha512.txt", "bag-info.txt", "tagmanifest-sha512.txt", "fetch.txt", "manifest-md5.txt" };
  const uint8_t *at = data, *end = data + size;
  GError *error = NULL;
  g_autoptr (WsBagVerdict) verdict = NULL;

  if (folder == NULL)
    make_folder ();
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (folder, names[i], NULL);
      const uint8_t *stop = at < end ? memchr (at, 0, (size_t) (end - at)) : NULL;

      stop = stop != NULL ? stop : end;
      if (at < end)
        g_assert_true (g_file_set_contents_full (path, (const char *) at, stop - at, G_FILE_SET_CONTENTS_NONE, 0600, NULL));
      else
        g_unlink (path);
      at = stop < end ? stop + 1 : end;
    }
  verdict = ws_bag_verify (folder, NULL, &error);
  if (verdict == NULL)
    {
      fuzz_check_error (error);
      return 0;
    }
  /* What is not valid says why, in valid text. */
  g_assert_true (verdict->valid == (verdict->errors->len == 0));
  for (guint i = 0; i < verdict->errors->len; i++)
    g_assert_true (g_utf8_validate (g_ptr_array_index (verdict->errors, i), -1, NULL));
  for (guint i = 0; i < verdict->warnings->len; i++)
    g_assert_true (g_utf8_validate (g_ptr_array_index (verdict->warnings, i), -1, NULL));
  return 0;
}
