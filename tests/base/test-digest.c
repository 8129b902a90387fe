/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-digest.h"

#include "ws-error.h"
#include "ws-file.h"

#include <glib/gstdio.h>
#include <locale.h>
#include <string.h>
#include <sys/stat.h>

static const struct { const char *name; WsDigestKind kind; const char *tool; } kinds[] = {
  { "sha512", WS_DIGEST_SHA512, "sha512sum" }, { "sha384", WS_DIGEST_SHA384, "sha384sum" },
  { "sha256", WS_DIGEST_SHA256, "sha256sum" }, { "sha224", WS_DIGEST_SHA224, "sha224sum" },
  { "sha1", WS_DIGEST_SHA1, "sha1sum" },       { "md5", WS_DIGEST_MD5, "md5sum" },
};

static char *
digest_of (WsDigestKind kind, const guint8 *data, gsize size, gsize piece)
{
  g_autoptr (WsDigest) digest = ws_digest_new (kind);

  for (gsize at = 0; at < size; at += piece)
    ws_digest_update (digest, data + at, MIN (piece, size - at));
  return ws_digest_finish (digest);
}

static void
test_vectors (void)
{
  /* FIPS 180-4 example "abc", and RFC 1321 for MD5; written down from memory. */
  static const char *const abc[] = {
    "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a"
    "2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f",
    "cb00753f45a35e8bb5a03d699ac65007272c32ab0eded1631a8b605a43ff5bed8086072ba1e7cc2358baeca134c825a7",
    "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
    "23097d223405d8228642a477bda255b32aadbce4bda0b3f7e36c9da7",
    "a9993e364706816aba3e25717850c26c9cd0d89d",
    "900150983cd24fb0d6963f7d28e17f72",
  };

  g_test_summary ("the digests of “abc” are those of the standards (from memory)");
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autofree char *text = digest_of (kinds[i].kind, (const guint8 *) "abc", 3, 1);

      g_assert_cmpstr (text, ==, abc[i]);
    }
}

/* The first word that an outside tool prints about the file, NULL when the tool is not here. */
static char *
ask_tool (const char *tool, const char *path)
{
  const char *argv[] = { tool, path, NULL };
  g_autofree char *out = NULL, *there = g_find_program_in_path (tool);
  int status;

  if (there == NULL)
    return NULL;
  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, NULL, &status, NULL));
  g_assert_cmpint (status, ==, 0);
  return g_strndup (out, strcspn (out, " "));
}

static void
test_outside_tools (void)
{
  /* Around the block sizes of the algorithms (64 and 128 bytes) and of our reading. */
  static const gsize sizes[] = { 0, 1, 55, 56, 63, 64, 65, 111, 112, 127, 128, 129, 262143, 262144, 262145, 1048583 };
  g_autofree char *dir = g_dir_make_tmp ("ws-digest-XXXXXX", NULL), *path = g_build_filename (dir, "data", NULL);
  g_autoptr (GRand) rand = g_rand_new_with_seed (6);
  guint compared = 0;

  g_test_summary ("the digests of files are those that sha512sum and its kin print");
  for (gsize s = 0; s < G_N_ELEMENTS (sizes); s++)
    {
      g_autofree guint8 *data = g_malloc (sizes[s] + 1);
      g_autofree char *whole = NULL, *in_memory = NULL;
      g_autoptr (GBytes) bytes = NULL;

      for (gsize i = 0; i < sizes[s]; i++)
        data[i] = (guint8) g_rand_int (rand);
      g_assert_true (g_file_set_contents (path, (char *) data, (gssize) sizes[s], NULL));
      bytes = g_bytes_new (data, sizes[s]);
      whole = ws_digest_file (path, NULL, NULL);
      in_memory = ws_digest_bytes (bytes);
      g_assert_cmpstr (whole, ==, in_memory);
      for (gsize k = 0; k < G_N_ELEMENTS (kinds); k++)
        {
          g_autofree char *theirs = ask_tool (kinds[k].tool, path);
          g_autofree char *ours = digest_of (kinds[k].kind, data, sizes[s], 1000);

          if (theirs == NULL)
            continue;
          g_assert_cmpstr (ours, ==, theirs);
          if (kinds[k].kind == WS_DIGEST_SHA512)
            g_assert_cmpstr (whole, ==, theirs);
          compared++;
        }
    }
  if (compared == 0)
    g_test_skip ("none of the programs sha512sum … md5sum is here");
  g_unlink (path);
  g_rmdir (dir);
}

static void
test_names (void)
{
  static const char *const not_names[] = { NULL, "", "SHA512", "sha-512", "sha512 ", "sha3", "crc32", "sha51" };
  WsDigestKind kind;

  g_test_summary ("BagIt's names of algorithms (RFC 8493, 2.4) are known, others are not");
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      kind = (WsDigestKind) -1;
      g_assert_true (ws_digest_kind_parse (kinds[i].name, &kind));
      g_assert_cmpint (kind, ==, kinds[i].kind);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (not_names); i++)
    g_assert_false (ws_digest_kind_parse (not_names[i], &kind));
}

static void
test_bad_files (void)
{
  g_autofree char *dir = g_dir_make_tmp ("ws-digest-XXXXXX", NULL), *path = g_build_filename (dir, "gone", NULL);
  g_autoptr (GCancellable) cancelled = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_test_summary ("no file, a folder and a cancelled reading give an error and no digest");
  g_assert_null (ws_digest_file (path, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
  g_assert_nonnull (strstr (error->message, path));
  g_clear_error (&error);
  g_assert_null (ws_digest_file (dir, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
  g_assert_nonnull (strstr (error->message, dir));
  g_clear_error (&error);
  /* A pipe that nobody writes to, and a file without end, would never be done with. */
  g_assert_cmpint (mkfifo (path, 0600), ==, 0);
  g_assert_null (ws_digest_file (path, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
  g_clear_error (&error);
  g_unlink (path);
  g_assert_null (ws_digest_file ("/dev/zero", NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
  g_clear_error (&error);
  g_assert_true (g_file_set_contents (path, "x", 1, NULL));
  g_cancellable_cancel (cancelled);
  g_assert_null (ws_digest_file (path, cancelled, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_unlink (path);
  g_rmdir (dir);
}

static void
test_crc32 (void)
{
  g_autofree char *check = ws_digest_crc32 ("123456789", 9), *nothing = ws_digest_crc32 ("", 0);

  g_test_summary ("CRC-32: the check value of the catalogues of such sums, cbf43926 (from memory), and nothing");
  g_assert_cmpstr (check, ==, "cbf43926");
  g_assert_cmpstr (nothing, ==, "00000000");
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/base/digest/vectors", test_vectors);
  g_test_add_func ("/base/digest/outside-tools", test_outside_tools);
  g_test_add_func ("/base/digest/names", test_names);
  g_test_add_func ("/base/digest/bad-files", test_bad_files);
  g_test_add_func ("/base/digest/crc32", test_crc32);
  return g_test_run ();
}
