/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decoding in a child: the same as in this process, whatever the file; and a child gone bad does no harm. */
#include "ws-decode.h"

#include "photo-making.h"
#include "ws-error.h"

#include <errno.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

static void
assert_no_child (void)
{
  g_assert_cmpint (waitpid (-1, NULL, WNOHANG), ==, -1);
  g_assert_cmpint (errno, ==, ECHILD);
}

static guint
count_descriptors (void)
{
  g_autoptr (GDir) dir = g_dir_open ("/proc/self/fd", 0, NULL);
  guint n = 0;

  while (dir != NULL && g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

/* Both ways of decoding: equal pixels, or equal errors. Returns whether there was a picture. */
static gboolean
assert_equal_ways (GBytes *bytes, const char *name, int max_edge)
{
  g_autoptr (GError) error = NULL, error_apart = NULL;
  g_autoptr (WsPicture) here = ws_picture_decode (bytes, name, max_edge, NULL, &error);
  g_autoptr (WsPicture) apart = ws_picture_decode_stranger (bytes, name, max_edge, NULL, &error_apart);

  if (here == NULL)
    {
      g_assert_null (apart);
      g_assert_error (error_apart, WS_ERROR, error->code);
      g_assert_cmpstr (error_apart->message, ==, error->message);
      return FALSE;
    }
  g_assert_no_error (error_apart);
  g_assert_cmpint (here->width, ==, apart->width);
  g_assert_cmpint (here->height, ==, apart->height);
  g_assert_cmpint (here->full_width, ==, apart->full_width);
  g_assert_cmpint (here->full_height, ==, apart->full_height);
  g_assert_true (g_bytes_equal (here->pixels, apart->pixels));
  return TRUE;
}

static void
test_equal (void)
{
  static const char *const endings[] = { "jpg", "png", "webp", "tif", "heic", "avif" };
  static const int edges[] = { 0, 900, 100 };
  g_autofree char *noise = NULL, *joined = NULL, *photo = NULL, *three = NULL;

  let_libvips_warn ();
  g_test_summary ("Every kind of file, at full size and shrunk, turned and in another colour space: the same bytes "
                  "from the child as from this process");
  if (!have_tool ("vips") || !have_tool ("exiftool"))
    return;
  noise = made_path ("noise.png");
  joined = made_path ("joined.png");
  photo = made_path ("photo.tif");
  three = g_strdup_printf ("%s %s %s", noise, noise, noise);
  g_free (run_tool ("vips", "gaussnoise", noise, "1100", "700", "--mean", "128", "--sigma", "40", NULL));
  g_free (run_tool ("vips", "bandjoin", three, joined, NULL));
  g_free (run_tool ("vips", "icc_transform", joined, photo, "p3", "--input-profile", "srgb", NULL));
  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    {
      g_autofree char *name = g_strdup_printf ("equal.%s", endings[i]);
      g_autofree char *path = made_path (name);
      g_autoptr (GBytes) bytes = NULL;

      g_free (run_tool ("vips", "copy", photo, path, NULL));
      g_free (run_tool ("exiftool", "-q", "-m", "-overwrite_original", "-IFD0:Orientation#=6", path, NULL));
      bytes = read_bytes (path);
      for (guint k = 0; k < G_N_ELEMENTS (edges); k++)
        {
          gint64 start = g_get_monotonic_time ();

          g_assert_true (assert_equal_ways (bytes, name, edges[k]));
          g_test_message ("%s to %d: both %.0f ms", name, edges[k], (double) (g_get_monotonic_time () - start) / 1000);
        }
    }
  assert_no_child ();
}

static void
test_malformed (void)
{
  g_autofree char *folder = checks_folder ("malformed");
  g_autoptr (GDir) dir = NULL;
  const char *name;
  guint n = 0, decoded = 0, before;

  let_libvips_warn ();
  g_test_summary ("Damaged and fuzzed files: the child says what this process says (shared checks, malformed)");
  if (folder == NULL)
    return;
  dir = g_dir_open (folder, 0, NULL);
  before = count_descriptors ();
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autoptr (GBytes) bytes = read_bytes (path);

      g_test_message ("%s", name);
      decoded += assert_equal_ways (bytes, name, 512) ? 1 : 0;
      n++;
    }
  g_test_message ("%u of %u decoded", decoded, n);
  g_assert_cmpuint (decoded, >, 0);
  g_assert_cmpuint (decoded, <, n);
  g_assert_cmpuint (count_descriptors (), ==, before);
  assert_no_child ();
}

/* The false decoder under a name that says what it does. */
static void
set_decoder (const char *what)
{
  g_autofree char *path = made_path (what);
  g_autofree char *program = g_build_filename (g_getenv ("WS_BUILD_ROOT"), "tests", "photo", "false-decoder", NULL);

  (void) unlink (path);
  g_assert_cmpint (symlink (program, path), ==, 0);
  g_setenv ("WS_DECODER", path, TRUE);
}

static WsPicture *
decode_falsely (const char *what, guint seconds, GCancellable *cancellable, GError **error)
{
  g_autofree char *before = g_strdup (g_getenv ("WS_DECODER"));
  g_autoptr (GBytes) bytes = g_bytes_new_static ("anything", 8);
  WsPicture *picture;

  set_decoder (what);
  picture = ws_decode_in_child (bytes, "gift.jpg", 32, seconds, cancellable, error);
  g_setenv ("WS_DECODER", before, TRUE);
  return picture;
}

static void
test_lies (void)
{
  static const char *const lies[] = { "more", "less", "none", "negative", "huge", "wraps", "full", "full-huge",
                                      "over-edge", "state", "silent", "bad-code", "writer" };
  guint before = count_descriptors ();

  g_test_summary ("An answer that is not what it says, or that can still be written to, is refused; a true one is taken");
  {
    g_autoptr (GError) error = NULL;
    g_autoptr (WsPicture) picture = decode_falsely ("true", 20, NULL, &error);

    g_assert_no_error (error);
    g_assert_cmpuint (g_bytes_get_size (picture->pixels), ==, 300);
  }
  for (guint i = 0; i < G_N_ELEMENTS (lies); i++)
    {
      g_autoptr (GError) error = NULL;

      g_test_message ("%s", lies[i]);
      g_assert_null (decode_falsely (lies[i], 20, NULL, &error));
      g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
      g_assert_nonnull (strstr (error->message, "gift.jpg"));
    }
  g_assert_cmpuint (count_descriptors (), ==, before);
  assert_no_child ();
}

static void
test_ends (void)
{
  static const struct { const char *what; const char *said; int code; } ends[] = {
    { "killed", "signal 9", WS_ERROR_UNREADABLE },
    { "crash", "signal 11", WS_ERROR_UNREADABLE },
    { "status", "status 7", WS_ERROR_UNREADABLE },
    { "hang-apart", "signal 9", WS_ERROR_UNREADABLE },
    { "late", "limit of 20 seconds", WS_ERROR_TOO_LARGE },
  };

  g_test_summary ("A child that crashes, is killed or lets go of its pipe gives a clear error and nothing else");
  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    {
      g_autoptr (GError) error = NULL;
      gint64 start = g_get_monotonic_time ();

      g_assert_null (decode_falsely (ends[i].what, 20, NULL, &error));
      g_assert_error (error, WS_ERROR, ends[i].code);
      g_test_message ("%s: %s", ends[i].what, error->message);
      g_assert_nonnull (strstr (error->message, "gift.jpg"));
      g_assert_nonnull (strstr (error->message, ends[i].said));
      g_assert_cmpint (g_get_monotonic_time () - start, <, 15 * G_USEC_PER_SEC);
    }
  assert_no_child ();
}

static void
test_hang (void)
{
  g_autoptr (GError) error = NULL;
  gint64 start = g_get_monotonic_time ();

  g_test_summary ("A child that hangs is killed when its time is up, and the message says the limit");
  g_assert_null (decode_falsely ("hang", 1, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_TOO_LARGE);
  g_assert_nonnull (strstr (error->message, "limit of 1 seconds"));
  g_assert_cmpint (g_get_monotonic_time () - start, >, G_USEC_PER_SEC * 9 / 10);
  g_assert_cmpint (g_get_monotonic_time () - start, <, 10 * G_USEC_PER_SEC);
  assert_no_child ();
}

static gpointer
cancel_soon (gpointer cancellable)
{
  g_usleep (100000);
  g_cancellable_cancel (cancellable);
  return NULL;
}

static void
test_cancel (void)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  gint64 start = g_get_monotonic_time ();
  GThread *thread;

  g_test_summary ("A cancel kills the child at once; cancelled before, none is started");
  thread = g_thread_new ("cancel", cancel_soon, cancellable);
  g_assert_null (decode_falsely ("hang", 60, cancellable, &error));
  g_thread_join (thread);
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpint (g_get_monotonic_time () - start, <, 10 * G_USEC_PER_SEC);
  assert_no_child ();
  g_clear_error (&error);
  g_assert_null (decode_falsely ("status", 60, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static void
test_seen (void)
{
  g_autoptr (GError) descriptors = NULL, words = NULL, text = NULL, bytes = NULL;

  g_test_summary ("The child has its three descriptors and a bare environment; its messages are one valid line");
  g_setenv ("WS_SECRET_OF_THE_PARENT", "1", TRUE);
  g_assert_null (decode_falsely ("descriptors", 20, NULL, &descriptors));
  g_assert_cmpstr (descriptors->message, ==, "0 1 2 3 4 5 ");
  g_assert_null (decode_falsely ("environment", 20, NULL, &words));
  g_test_message ("environment: %s", words->message);
  g_assert_null (strstr (words->message, "SECRET"));
  g_assert_null (strstr (words->message, "HOME"));
  g_assert_null (decode_falsely ("bad-text", 20, NULL, &text));
  g_assert_null (strchr (text->message, '\n'));
  g_assert_cmpuint (strlen (text->message), <=, WS_DECODE_MAX_MESSAGE);
  g_assert_null (decode_falsely ("bad-bytes", 20, NULL, &bytes));
  g_assert_true (g_utf8_validate (bytes->message, -1, NULL));
}

static void
test_missing (void)
{
  g_autofree char *before = g_strdup (g_getenv ("WS_DECODER"));
  g_autofree char *nowhere = made_path ("not-there");
  g_autoptr (GBytes) bytes = g_bytes_new_static ("anything", 8);
  g_autoptr (GError) error = NULL;

  g_test_summary ("Without the decoder program the message says so, and nothing is decoded here instead");
  g_setenv ("WS_DECODER", nowhere, TRUE);
  g_assert_null (ws_picture_decode_stranger (bytes, "gift.jpg", 0, NULL, &error));
  g_setenv ("WS_DECODER", before, TRUE);
  g_assert_error (error, WS_ERROR, WS_ERROR_FAILED);
  g_assert_nonnull (strstr (error->message, "install Wholestem again"));
}

static gpointer
decode_often (gpointer bytes)
{
  for (int i = 0; i < 3; i++)
    g_assert_true (assert_equal_ways (bytes, "threads.jpg", 200));
  return NULL;
}

static void
test_threads (void)
{
  g_autofree char *path = NULL;
  g_autoptr (GBytes) bytes = NULL;
  GThread *threads[3];

  g_test_summary ("Several threads have a child each");
  if (!have_tool ("vips"))
    return;
  path = made_path ("threads.jpg");
  g_free (run_tool ("vips", "gaussnoise", path, "400", "300", "--mean", "128", NULL));
  bytes = read_bytes (path);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("decode", decode_often, bytes);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    g_thread_join (threads[i]);
  assert_no_child ();
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  g_test_init (&argc, &argv, NULL);
  ws_picture_init (argv[0], &error);
  g_assert_no_error (error);
  g_test_add_func ("/photo/decode/equal", test_equal);
  g_test_add_func ("/photo/decode/lies", test_lies);
  g_test_add_func ("/photo/decode/ends", test_ends);
  g_test_add_func ("/photo/decode/hang", test_hang);
  g_test_add_func ("/photo/decode/cancel", test_cancel);
  g_test_add_func ("/photo/decode/seen", test_seen);
  g_test_add_func ("/photo/decode/missing", test_missing);
  g_test_add_func ("/photo/decode/threads", test_threads);
  g_test_add_func ("/photo/decode/malformed", test_malformed);
  return g_test_run ();
}
