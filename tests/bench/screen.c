/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the eye waits for, in a window of 1600 x 1000 px: the first look at a photo, the sharp one, and frames while it moves
 * and zooms; drawn by the processor. */
#include "bench.h"

#include "ws-photo-read.h"
#include "ws-photo-view-private.h"

#include <stdlib.h>

#define N_FRAMES 90

typedef struct
{
  GtkWidget *window;
  WsPhotoView *view;           /* of the round */
  char *photo, *thumbnail;
} Data;

static void
write_thumbnail (const char *photo, const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsPhotoReading) reading = ws_photo_read (photo, NULL, &error);
  gsize size;

  if (reading == NULL)
    g_error ("%s", error->message);
  if (!g_file_set_contents (path, g_bytes_get_data (reading->thumbnail, &size), (gssize) g_bytes_get_size (reading->thumbnail), &error))
    g_error ("%s", error->message);
}

/* A view that fills the window, with nothing in its cache. */
static void
new_view (Data *d)
{
  g_autoptr (WsPictureLoader) loader = ws_picture_loader_new (WS_PICTURE_LOADER_MAX_BYTES, NULL);

  d->view = WS_PHOTO_VIEW (ws_photo_view_new (loader));
  gtk_window_set_child (GTK_WINDOW (d->window), GTK_WIDGET (d->view));
  while (d->view->port.view_width < 100 || g_main_context_pending (NULL))
    g_main_context_iteration (NULL, FALSE);
}

static gboolean
is_sharp (WsPhotoView *view)
{
  return ws_photo_tiles_get_levels (view->tiles) != NULL && !view->load.only_thumbnail;
}

static void
first_look (Data *d)
{
  ws_photo_view_set_photo (d->view, d->photo, "photo", d->thumbnail, 6000, 4000);
  while (ws_photo_tiles_get_levels (d->view->tiles) == NULL)
    g_main_context_iteration (NULL, TRUE);
}

static void
sharp_look (Data *d)
{
  while (!is_sharp (d->view))
    g_main_context_iteration (NULL, TRUE);
}

static void
texture (Data *d)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GdkTexture) one = gdk_texture_new_from_filename (d->photo, &error);

  if (one == NULL)
    g_error ("%s", error->message);
}

static void
looks (Bench *bench, Data *d)
{
  double first = G_MAXDOUBLE, sharp = G_MAXDOUBLE, other = G_MAXDOUBLE;

  for (guint i = 0; i < MAX (bench->rounds, 7); i++)
    {
      double start, end;

      new_view (d);
      start = bench_now ();
      first_look (d);
      first = MIN (first, bench_now () - start);
      sharp_look (d);
      sharp = MIN (sharp, bench_now () - start);
      start = bench_now ();
      texture (d);
      end = bench_now ();
      other = MIN (other, end - start);
    }
  bench_tell_ratio ("first picture of a photo of the library", "gdk_texture_new_from_filename", first, other, 0.1);
  bench_tell_ratio ("the same, sharp and fitted to the window", "gdk_texture_new_from_filename", sharp, other, 1.2);
}

/* --- Frames ------------------------------------------------------------------------------------------------------ */

typedef struct
{
  double start;
  GArray *times;             /* double */
  void (*step) (gpointer data, guint i);
  gpointer data;
  GdkPaintable *pictures[2];
} Frames;

static void
before_paint_cb (GdkFrameClock *clock, Frames *frames)
{
  frames->start = bench_now ();
}

static void
after_paint_cb (GdkFrameClock *clock, Frames *frames)
{
  double time = bench_now () - frames->start;

  g_array_append_val (frames->times, time);
}

static gboolean
tick_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  Frames *frames = data;

  if (frames->times->len < N_FRAMES)
    frames->step (frames->data, frames->times->len);
  return G_SOURCE_CONTINUE;
}

static int
compare (gconstpointer a, gconstpointer b)
{
  double first = *(const double *) a, second = *(const double *) b;

  return first < second ? -1 : first > second;
}

/* The middle of the times that frames took to be laid out and painted. */
static double
median_frame (GtkWidget *widget, void (*step) (gpointer data, guint i), gpointer data)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (widget);
  Frames frames = { 0, g_array_new (FALSE, FALSE, sizeof (double)), step, data, { NULL } };
  gulong before = g_signal_connect (clock, "before-paint", G_CALLBACK (before_paint_cb), &frames);
  gulong after = g_signal_connect (clock, "after-paint", G_CALLBACK (after_paint_cb), &frames);
  guint tick = gtk_widget_add_tick_callback (widget, tick_cb, &frames, NULL);
  double median;

  while (frames.times->len < N_FRAMES)
    g_main_context_iteration (NULL, TRUE);
  gtk_widget_remove_tick_callback (widget, tick);
  g_signal_handler_disconnect (clock, before);
  g_signal_handler_disconnect (clock, after);
  g_array_sort (frames.times, compare);
  median = g_array_index (frames.times, double, frames.times->len / 2);
  g_array_unref (frames.times);
  return median;
}

/* As by a hand: back and forth, so that it never comes to an end. */
static void
pan_step (gpointer data, guint i)
{
  WsPhotoView *view = data;
  double way = i % 60 < 30 ? -9 : 9;

  ws_photo_viewport_pan (&view->port, way, way / 2);
  ws_photo_view_moved (view);
}

static void
zoom_step (gpointer data, guint i)
{
  WsPhotoView *view = data;

  ws_photo_view_zoom_by (view, view->port.view_width / 3, view->port.view_height / 3, i % 60 < 30 ? 1.05 : 1 / 1.05);
}

typedef struct { GtkWidget *picture; GdkTexture *textures[2]; } Turning;

/* Another texture each time, or nothing would be drawn. */
static void
turn_step (gpointer data, guint i)
{
  Turning *turning = data;

  gtk_picture_set_paintable (GTK_PICTURE (turning->picture), GDK_PAINTABLE (turning->textures[i % 2]));
}

static double
picture_frame (Bench *bench, Data *d)
{
  Turning turning = { gtk_picture_new (), { NULL } };
  double time;

  for (guint i = 0; i < 2; i++)
    {
      g_autofree char *path = g_strdup_printf ("%s/screen-%u.jpg", bench->folder, i);
      g_autoptr (GError) error = NULL;

      if (!g_file_test (path, G_FILE_TEST_EXISTS))
        bench_make_photo (path, 1600, 1000, i + 5, 92);
      turning.textures[i] = gdk_texture_new_from_filename (path, &error);
      if (turning.textures[i] == NULL)
        g_error ("%s", error->message);
    }
  gtk_window_set_child (GTK_WINDOW (d->window), turning.picture);
  time = median_frame (turning.picture, turn_step, &turning);
  g_object_unref (turning.textures[0]);
  g_object_unref (turning.textures[1]);
  return time;
}

static void
show_large (Data *d, const char *large, double zoom)
{
  new_view (d);
  ws_photo_view_set_photo (d->view, large, "large", NULL, 12600, 8000);
  sharp_look (d);
  if (zoom > 0)
    ws_photo_view_set_zoom (d->view, zoom);
  /* Until what that zoom needs is there and drawn. */
  while (d->view->load.later != 0 || d->view->load.asked_edge >= 0)
    g_main_context_iteration (NULL, TRUE);
  for (gint64 end = g_get_monotonic_time () + G_USEC_PER_SEC / 2; g_get_monotonic_time () < end;)
    g_main_context_iteration (NULL, FALSE);
}

static void
frames (Bench *bench, Data *d)
{
  static const struct { const char *work; double zoom; void (*step) (gpointer data, guint i); } cases[] = {
    { "pan of 100 megapixels, one px for each of the screen", 1, pan_step },
    { "pan of 100 megapixels, zoomed to 0.3", 0.3, pan_step },
    { "zoom of 100 megapixels, 0.3 to 1.3", 0.3, zoom_step },
  };
  g_autofree char *large = g_build_filename (bench->folder, "large.jpg", NULL);
  double best[G_N_ELEMENTS (cases)], other = G_MAXDOUBLE;

  bench_make_large (bench, large);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    best[i] = G_MAXDOUBLE;
  for (guint round = 0; round < bench->rounds; round++)
    {
      other = MIN (other, picture_frame (bench, d));
      for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
        {
          show_large (d, large, cases[i].zoom);
          best[i] = MIN (best[i], median_frame (GTK_WIDGET (d->view), cases[i].step, d->view));
        }
    }
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    bench_tell_ratio (cases[i].work, "GtkPicture of screen size", best[i], other, 1.5);
}

static void
run (Bench *bench)
{
  Data data = { NULL, NULL, bench_photo (bench, 0), g_build_filename (bench->folder, "thumbnail.jpg", NULL) };

  gtk_init ();
  write_thumbnail (data.photo, data.thumbnail);
  data.window = gtk_window_new ();
  gtk_window_set_decorated (GTK_WINDOW (data.window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (data.window), 1600, 1000);
  gtk_window_present (GTK_WINDOW (data.window));
  looks (bench, &data);
  frames (bench, &data);
  gtk_window_destroy (GTK_WINDOW (data.window));
  g_free (data.photo);
  g_free (data.thumbnail);
}

const BenchGroup bench_screen = { "screen", run };
