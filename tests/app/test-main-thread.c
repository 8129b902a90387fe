/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nothing reads the person's files, decodes or hashes on the thread that draws: watched from below, at the functions that
 * everybody must call for it, while the real window goes through all its pages. */
#include "thread-guard.h"
#include "window-rig.h"

#include "ws-digest.h"
#include "ws-file.h"
#include "ws-find-row.h"
#include "ws-photo-view.h"
#include "ws-picture.h"
#include "ws-test-library.h"

#include <math.h>

#define N_PHOTOS 4

static char *
make_photos (const char *root, const char *name, guint first, guint n, const char *day)
{
  TestDesk test = { (char *) root, g_build_filename (root, name, NULL), NULL };

  g_assert_cmpint (g_mkdir_with_parents (test.photos, 0755), ==, 0);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *file = g_strdup_printf ("IMG_%04u.jpg", first + i);
      g_autofree char *taken = g_strdup_printf ("%sT14:%02u:00", day, i);

      g_free (test_photo (&test, file, first + i, 1600, taken, NAN, NAN));
    }
  return test.photos;
}

static void
fill_library (WindowRig *rig)
{
  g_autoptr (GError) error = NULL;
  TestDesk test = { rig->folder, make_photos (rig->folder, "photos", 1, N_PHOTOS, "2025-10-04"), NULL };

  test.desk = ws_desk_open (rig->library, &error);
  g_assert_no_error (error);
  test_import (&test);
  ws_desk_unref (test.desk);
  g_free (test.photos);
}

/* --- The pages --------------------------------------------------------------------------------------------------- */

static void
press (WindowRig *rig, const char *key)
{
  window_rig_key (rig, key);
  window_rig_settle ();
}

static void
click (WindowRig *rig, const char *text)
{
  window_rig_click_text (rig, text);
  window_rig_settle ();
}

static void
take_in_more (WindowRig *rig)
{
  g_autofree char *more = g_build_filename (rig->folder, "more", NULL);
  const char *paths[] = { more, NULL };
  GListModel *finds = ws_session_get_finds (window_rig_get_session ());

  ws_window_import (window_rig_get_window (), paths);
  window_rig_settle ();
  window_rig_hover (GTK_WIDGET (window_rig_get_window ()));
  press (rig, "Return");
  for (int ms = 0; ms < 20000 && g_list_model_get_n_items (finds) < 2; ms += 100)
    window_rig_wait (100);
  g_assert_cmpuint (g_list_model_get_n_items (finds), ==, 2);
  window_rig_settle ();
}

static void
look_and_mark (WindowRig *rig)
{
  WsPhotoView *view;
  WsPoint a, b;
  double w, h;

  window_rig_click (rig, window_rig_await_type (WS_TYPE_FIND_ROW));
  window_rig_settle ();
  view = WS_PHOTO_VIEW (window_rig_await_type (WS_TYPE_PHOTO_VIEW));
  window_rig_click (rig, GTK_WIDGET (view));
  press (rig, "Page_Down");
  press (rig, "ctrl+2");
  press (rig, "1");
  press (rig, "0");
  press (rig, "ctrl+1");
  press (rig, "b");
  view = WS_PHOTO_VIEW (window_rig_await_type (WS_TYPE_PHOTO_VIEW));
  a = ws_photo_view_to_view (view, 0.3, 0.3);
  b = ws_photo_view_to_view (view, 0.8, 0.8);
  w = gtk_widget_get_width (GTK_WIDGET (view));
  h = gtk_widget_get_height (GTK_WIDGET (view));
  window_rig_drag (rig, GTK_WIDGET (view), a.x / w, a.y / h, b.x / w, b.y / h);
  window_rig_settle ();
  press (rig, "1");
  press (rig, "t");
  window_rig_wait (1000);
  press (rig, "ctrl+z");
  press (rig, "ctrl+shift+z");
}

/* Whatever leaves the sheet has. */
static void
turn_leaves (WindowRig *rig)
{
  static const char *const leaves[] = { "Notes", "Still open", "Place", "Names", "Figure", "Plate" };

  for (gsize i = 0; i < G_N_ELEMENTS (leaves); i++)
    if (window_rig_look (leaves[i]) != NULL)
      click (rig, leaves[i]);
  window_rig_wait (1000);
}

static void
save_as (WindowRig *rig, const char *path)
{
  window_rig_hover (window_rig_await_type (GTK_TYPE_FILE_CHOOSER_DIALOG));
  window_rig_wait (600);
  window_rig_key (rig, "ctrl+a");
  window_rig_type (rig, path);
  /* The dialogue loses memory when it is closed while it still completes the name. */
  window_rig_wait (1000);
  window_rig_key (rig, "Return");
  for (int ms = 0; ms < 30000 && !g_file_test (path, G_FILE_TEST_EXISTS); ms += 100)
    window_rig_wait (100);
  g_assert_true (g_file_test (path, G_FILE_TEST_EXISTS));
  window_rig_settle ();
}

static void
ask (WindowRig *rig, const char *package)
{
  click (rig, "win.ask");
  click (rig, "On to the last look");
  window_rig_wait (1000);
  window_rig_click_text (rig, "Make the package…");
  save_as (rig, package);
  press (rig, "Escape");
}

static void
eaten (WindowRig *rig, const char *sheet)
{
  window_rig_hover (GTK_WIDGET (window_rig_get_window ()));
  click (rig, "win.eaten");
  window_rig_wait (800);
  if (window_rig_look ("Save this page…") != NULL)
    {
      window_rig_click_text (rig, "Save this page…");
      save_as (rig, sheet);
    }
}

static char *done;
static char *elsewhere;   /* what is written goes there, so that the file chooser lists nothing that is watched */

static void
all_pages (WindowRig *rig)
{
  g_autofree char *package = g_build_filename (elsewhere, "request.zip", NULL);
  g_autofree char *sheet = g_build_filename (elsewhere, "sheet.pdf", NULL);

  window_rig_put_away_questions (rig);
  take_in_more (rig);
  look_and_mark (rig);
  turn_leaves (rig);
  ask (rig, package);
  eaten (rig, sheet);
  window_rig_settle ();
  done = thread_guard_end ();
}

/* The thread that draws must not wait for the disk, not even here. */
static gpointer
remove_thread (gpointer folder)
{
  ws_file_remove_tree (folder, NULL);
  return NULL;
}

static void
test_pages (void)
{
  g_autoptr (GError) error = NULL;
  WindowRig *rig = window_rig_new ();

  g_test_summary ("Import, finds, photos beside each other, marks and their crops, every leaf, the last look, a package and the "
                  "page for the doctor: no file of the person is opened, nothing decoded or hashed on the thread that draws");
  elsewhere = g_dir_make_tmp ("wholestem-XXXXXX", &error);
  g_assert_no_error (error);
  fill_library (rig);
  g_free (make_photos (rig->folder, "more", 20, 2, "2025-10-11"));
  thread_guard_watch (rig->folder);
  window_rig_run (rig, 0, 0, all_pages);
  g_assert_cmpstr (done, ==, "");
  g_test_message ("%u times by other threads", thread_guard_count_elsewhere ());
  /* Each photo is opened, decoded and hashed when it is taken in, and again when it is shown and sent. */
  g_assert_cmpuint (thread_guard_count_elsewhere (), >, 6 * N_PHOTOS);
  g_free (done);
  g_thread_join (g_thread_new ("remove", remove_thread, elsewhere));
  g_free (elsewhere);
  window_rig_free (rig);
}

/* --- The guard itself --------------------------------------------------------------------------------------------- */

static gpointer
read_all (gpointer path)
{
  g_autoptr (WsPicture) picture = ws_picture_decode_file (path, 300, NULL, NULL);
  g_autofree char *digest = ws_digest_file (path, NULL, NULL);

  g_assert_nonnull (picture);
  g_assert_nonnull (digest);
  return NULL;
}

static void
read_plainly (const char *path)
{
  g_autofree char *bytes = NULL;

  g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
}

static void
read_by_gio (const char *path)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GFileInputStream) stream = g_file_read (file, NULL, NULL);

  g_assert_nonnull (stream);
}

static void
read_by_gtk (const char *path)
{
  g_autoptr (GdkTexture) texture = gdk_texture_new_from_filename (path, NULL);

  g_assert_nonnull (texture);
}

static void
read_by_photo (const char *path)
{
  read_all ((gpointer) path);
}

static void
list_folder (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);

  g_assert_nonnull (dir);
}

static void
hash_bytes (const char *path)
{
  g_autoptr (GBytes) bytes = g_bytes_new_static ("abc", 3);

  g_free (ws_digest_bytes (bytes));
}

static void
test_guard (void)
{
  static const struct { void (*slip) (const char *path); const char *told; } cases[] = {
    { read_plainly, "open PATH; " }, { read_by_gio, "open PATH; " }, { read_by_gtk, "decode; open PATH; " },
    { read_by_photo, "decode; hash; open PATH; " }, { list_folder, "list FOLDER; " }, { hash_bytes, "hash; " },
  };
  g_autoptr (GError) error = NULL;
  g_autofree char *root = g_dir_make_tmp ("wholestem-XXXXXX", &error);
  g_autofree char *photos = NULL, *path = NULL, *nothing = NULL;

  g_test_summary ("The guard sees each way of reading, and only on the thread it watches");
  window_rig_start ();
  photos = make_photos (root, "photos", 1, 1, "2025-10-04");
  path = g_build_filename (photos, "IMG_0001.jpg", NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *told = NULL;
      g_autoptr (GString) expected = g_string_new (cases[i].told);

      g_string_replace (expected, "PATH", path, 0);
      g_string_replace (expected, "FOLDER", photos, 0);
      thread_guard_watch (root);
      cases[i].slip (path);
      told = thread_guard_end ();
      g_assert_cmpstr (told, ==, expected->str);
    }
  thread_guard_watch (root);
  g_thread_join (g_thread_new ("worker", read_all, path));
  thread_guard_pause (TRUE);
  read_plainly (path);
  nothing = thread_guard_end ();
  g_assert_cmpstr (nothing, ==, "");
  ws_file_remove_tree (root, NULL);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/main-thread/guard", test_guard);
  g_test_add_func ("/app/main-thread/pages", test_pages);
  return g_test_run ();
}
