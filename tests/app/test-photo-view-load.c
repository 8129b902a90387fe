/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is read when, and what is said meanwhile. The decoder waits while a test holds the gate. */
#include <string.h>

#include "photo-view-rig.h"

static gboolean
is_ready (Rig *rig, const char *photo, int edge)
{
  g_autoptr (WsPictureLevels) levels = ws_picture_loader_peek (rig->loader, photo, edge);

  return levels != NULL;
}

static void
says_what_is_not_there (void)
{
  Rig *rig = rig_new_empty (600, 400);

  g_test_summary ("No photo, and a damaged one: said in words; nothing can be marked");
  g_assert_cmpstr (ws_photo_view_get_status (rig->view), ==, "No photo here yet");
  ws_photo_view_set_armed (rig->view, "Cap");
  rig_do ("mousemove 100 100 mousedown 1 mousemove 200 200 mouseup 1 key Return Return");
  rig_assert_log (rig, "");

  ws_photo_view_set_photo (rig->view, "/photo/damaged", "damaged", NULL, 800, 600);
  rig_wait (400);
  g_assert_cmpstr (ws_photo_view_get_status (rig->view), ==,
                   "This photo cannot be read; the file may be damaged. “/photo/damaged” is not a picture.");
  rig_do ("mousemove 100 100 mousedown 1 mousemove 200 200 mouseup 1 key Return Return");
  rig_assert_log (rig, "");

  ws_photo_view_set_photo (rig->view, NULL, NULL, NULL, 0, 0);
  g_assert_cmpstr (ws_photo_view_get_status (rig->view), ==, "No photo here yet");
  rig_free (rig);
}

static void
preview_then_photo (void)
{
  Rig *rig = rig_new_empty (900, 700);
  int x0, y0, x1, y1, x2, y2, x3, y3;

  g_test_summary ("The preview is there at once, in the photo's place, says so, and gives way to the photo");
  g_mutex_lock (&rig->gate);
  ws_photo_view_set_photo (rig->view, "/photo/4000x3000", "p", "/thumbnail/400x300", 4000, 3000);
  rig_wait (150);
  g_assert_cmpstr (ws_photo_view_get_status (rig->view), ==, "");
  rig_find_red (&x0, &y0, &x1, &y1);
  rig_wait (300);
  g_assert_cmpstr (ws_photo_view_get_status (rig->view), ==, "Small preview; the photo itself is being read");
  g_mutex_unlock (&rig->gate);
  rig_wait_photo (rig);
  rig_find_red (&x2, &y2, &x3, &y3);
  g_assert_cmpint (abs (x2 - x0) + abs (y2 - y0) + abs (x3 - x1) + abs (y3 - y1), <=, 8);
  g_assert_true (is_ready (rig, "p", 900));
  g_assert_false (is_ready (rig, "p", 0));
  rig_free (rig);
}

static void
damaged_with_preview (void)
{
  Rig *rig = rig_new_empty (900, 700);

  g_test_summary ("Of a damaged photo the preview stays, with the words that it is one");
  ws_photo_view_set_photo (rig->view, "/photo/damaged", "d", "/thumbnail/400x300", 4000, 3000);
  rig_wait (500);
  g_assert_true (g_str_has_suffix (ws_photo_view_get_status (rig->view), "Only a small preview is shown."));
  ws_photo_view_set_photo (rig->view, "/photo/800x600", "e", "/thumbnail/gone", 800, 600);
  rig_wait_photo (rig);
  g_assert_cmpstr (ws_photo_view_get_status (rig->view), ==, "");
  rig_free (rig);
}

static void
size_not_known (void)
{
  Rig *rig = rig_new (900, 700, "/photo/1600x900", 0, 0);
  int x0, y0, x1, y1;

  g_test_summary ("A photo whose size nobody knew is laid out by what was read; a wrong size is put right");
  rig_find_red (&x0, &y0, &x1, &y1);
  g_assert_cmpfloat_with_epsilon ((x1 - x0) / (double) (y1 - y0), 16.0 / 9, 0.02);
  ws_photo_view_set_photo (rig->view, "/photo/900x1600", "turned", NULL, 1600, 900);
  rig_wait_photo (rig);
  rig_find_red (&x0, &y0, &x1, &y1);
  g_assert_cmpfloat_with_epsilon ((y1 - y0) / (double) (x1 - x0), 16.0 / 9, 0.02);
  rig_free (rig);
}

static void
full_size_only_when_needed (void)
{
  Rig *rig = rig_new (900, 700, "/photo/9000x6000", 9000, 6000);

  g_test_summary ("Fitted, a level that fits is read; at 1:1, the whole");
  rig_wait (300);
  g_assert_true (is_ready (rig, "/photo/9000x6000", 1024));
  g_assert_false (is_ready (rig, "/photo/9000x6000", 2048));
  ws_photo_view_set_zoom (rig->view, 1);
  for (int i = 0; i < 600 && !is_ready (rig, "/photo/9000x6000", 0); i++)
    rig_wait (50);
  g_assert_true (is_ready (rig, "/photo/9000x6000", 0));
  rig_free (rig);
}

static void
neighbours_are_ready (void)
{
  Rig *rig = rig_new (900, 700, "/photo/1600x900", 1600, 900);

  g_test_summary ("The next and the previous photo are there before they are asked for, at the size that fits");
  ws_photo_view_set_neighbours (rig->view, "/photo/1601x900", "next", "/photo/1602x900", "previous");
  for (int i = 0; i < 100 && !(is_ready (rig, "next", 1024) && is_ready (rig, "previous", 1024)); i++)
    rig_wait (20);
  g_assert_true (is_ready (rig, "next", 1024));
  g_assert_true (is_ready (rig, "previous", 1024));

  /* Shown without any wait: even with the decoder standing still. */
  g_mutex_lock (&rig->gate);
  ws_photo_view_set_photo (rig->view, "/photo/1601x900", "next", "/thumbnail/400x300", 1601, 900);
  rig_wait (500);
  g_assert_cmpstr (ws_photo_view_get_status (rig->view), ==, "");
  g_mutex_unlock (&rig->gate);
  rig_free (rig);
}

static void
turning_pages_fast (void)
{
  Rig *rig = rig_new_empty (900, 700);
  int x0, y0, x1, y1;

  g_test_summary ("Turned past while it is read, a photo never appears in the place of another");
  g_mutex_lock (&rig->gate);
  for (int i = 0; i < 20; i++)
    {
      g_autofree char *photo = g_strdup_printf ("/photo/%dx%d", 600 + i, 1600);

      ws_photo_view_set_photo (rig->view, photo, photo, NULL, 600 + i, 1600);
      rig_wait (5);
    }
  ws_photo_view_set_photo (rig->view, "/photo/1600x900", "last", NULL, 1600, 900);
  g_mutex_unlock (&rig->gate);
  rig_wait_photo (rig);
  rig_wait (300);
  rig_find_red (&x0, &y0, &x1, &y1);
  g_assert_cmpfloat_with_epsilon ((x1 - x0) / (double) (y1 - y0), 16.0 / 9, 0.02);
  rig_free (rig);
}

static void
gone_while_it_reads (void)
{
  Rig *rig = rig_new_empty (900, 700);
  WsPhotoView *view = rig->view;

  g_test_summary ("A view that is gone before the answer comes leaves nothing behind");
  g_object_add_weak_pointer (G_OBJECT (view), (gpointer *) &view);
  g_mutex_lock (&rig->gate);
  ws_photo_view_set_photo (rig->view, "/photo/1600x900", "p", NULL, 1600, 900);
  rig_wait (50);
  gtk_window_destroy (GTK_WINDOW (rig->window));
  rig->window = NULL;
  rig_wait (50);
  g_assert_null (view);
  g_mutex_unlock (&rig->gate);
  rig_free (rig);
}

static void
hundred_megapixels (void)
{
  Rig *rig = rig_new (1300, 950, "/photo/12000x8400", 12000, 8400);
  gint64 begin, longest = 0;

  g_test_summary ("A photo of 100 megapixels is zoomed and moved at once; nothing of it is decoded on this thread");
  ws_photo_view_set_zoom (rig->view, 1);
  /* It moves while the whole is still read. */
  for (int i = 0; i < 400 && !is_ready (rig, "/photo/12000x8400", 0); i++)
    {
      begin = g_get_monotonic_time ();
      rig_wait (1);
      longest = MAX (longest, g_get_monotonic_time () - begin);
      rig_wait (30);
    }
  g_test_message ("longest turn of the main loop while reading: %.1f ms", longest / 1000.0);
  g_assert_true (is_ready (rig, "/photo/12000x8400", 0));
  rig_wait (100);
  rig_do ("mousemove 900 600 mousedown 2 mousemove 700 500 mousemove 300 300 mousemove 100 100 mouseup 2");
  rig_do ("mousemove 900 600 click --repeat 6 5 click --repeat 12 4");
  g_assert_cmpfloat (ws_photo_view_get_zoom (rig->view), >, 1);
  rig_free (rig);
}

int
main (int argc, char **argv)
{
  rig_init (&argc, &argv);
  g_test_add_func ("/app/photo-view-load/says-what-is-not-there", says_what_is_not_there);
  g_test_add_func ("/app/photo-view-load/preview-then-photo", preview_then_photo);
  g_test_add_func ("/app/photo-view-load/damaged-with-preview", damaged_with_preview);
  g_test_add_func ("/app/photo-view-load/size-not-known", size_not_known);
  g_test_add_func ("/app/photo-view-load/full-size-only-when-needed", full_size_only_when_needed);
  g_test_add_func ("/app/photo-view-load/neighbours-are-ready", neighbours_are_ready);
  g_test_add_func ("/app/photo-view-load/turning-pages-fast", turning_pages_fast);
  g_test_add_func ("/app/photo-view-load/gone-while-it-reads", gone_while_it_reads);
  g_test_add_func ("/app/photo-view-load/hundred-megapixels", hundred_megapixels);
  return g_test_run ();
}
