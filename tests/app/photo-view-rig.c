/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo-view-rig.h"

#include <gdk/x11/gdkx.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "ws-blocking.h"
#include "ws-error.h"

static GThread *main_thread;
static Rig *the_rig;   /* whose gate the decoder minds */

void
rig_init (int *argc, char ***argv)
{
  g_test_init (argc, argv, NULL);
  gtk_init ();
  main_thread = g_thread_self ();
  ws_blocking_forbid_here ();
}

/* Fills one row: @y decides whether red is in it. */
static void
fill_row (guchar *row, int width, gboolean red)
{
  for (int x = 0; x < width; x++)
    {
      gboolean inside = red && x >= width / 4 && x < width * 3 / 4;

      row[3 * x] = inside ? 220 : 150;
      row[3 * x + 1] = row[3 * x + 2] = inside ? 20 : 150;
    }
}

static WsPicture *
paint (int width, int height, int full_width, int full_height)
{
  WsPicture *picture = g_new0 (WsPicture, 1);
  gsize stride = (gsize) 3 * width;
  guchar *pixels = g_malloc (stride * height);
  g_autofree guchar *red = g_malloc (stride), *grey = g_malloc (stride);

  fill_row (red, width, TRUE);
  fill_row (grey, width, FALSE);
  for (int y = 0; y < height; y++)
    memcpy (pixels + y * stride, y >= height / 4 && y < height * 3 / 4 ? red : grey, stride);
  *picture = (WsPicture) { width, height, g_bytes_new_take (pixels, stride * height), full_width, full_height };
  return picture;
}

static WsPicture *
decode (const char *path, int max_edge, GCancellable *cancellable, GError **error)
{
  int width = 0, height = 0, divide = 1;

  g_assert_true (g_thread_self () != main_thread);
  ws_blocking ("decoding in a test");
  if (!g_str_has_prefix (path, "/thumbnail/"))
    {
      g_mutex_lock (&the_rig->gate);
      g_mutex_unlock (&the_rig->gate);
    }
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  if (sscanf (strrchr (path, '/') + 1, "%dx%d", &width, &height) != 2)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, "\xe2\x80\x9c%s\xe2\x80\x9d is not a picture.", path);
      return NULL;
    }
  while (max_edge > 0 && MAX (width, height) / divide > max_edge)
    divide *= 2;
  return paint (width / divide, height / divide, width, height);
}

/* --- What the view says ------------------------------------------------------------------ */

static void
log_shape (Rig *rig, const char *what, const WsShape *shape)
{
  static const char *const kinds[] = { "box", "oval", "outline" };
  const WsRect *b = &shape->bounds;

  g_assert_true (ws_rect_is_valid (b));
  g_string_append_printf (rig->log, "%s %s %.4f %.4f %.4f %.4f; ", what, kinds[shape->kind], b->x, b->y,
                          b->width, b->height);
}

static void
mark_drawn (WsPhotoView *view, const WsShape *shape, Rig *rig)
{
  log_shape (rig, "drawn", shape);
}

static void
cover_drawn (WsPhotoView *view, const WsShape *shape, Rig *rig)
{
  log_shape (rig, "cover", shape);
}

static void
mark_changed (WsPhotoView *view, const char *id, const WsShape *shape, Rig *rig)
{
  g_string_append_printf (rig->log, "%s ", id);
  log_shape (rig, "changed", shape);
}

static void
mark_delete (WsPhotoView *view, const char *id, Rig *rig)
{
  g_string_append_printf (rig->log, "delete %s; ", id);
}

static void
mark_selected (WsPhotoView *view, const char *id, Rig *rig)
{
  g_string_append_printf (rig->log, "selected %s; ", id != NULL ? id : "none");
}

static void
disarm_requested (WsPhotoView *view, Rig *rig)
{
  g_string_append (rig->log, "disarm; ");
}

/* --- The window ------------------------------------------------------------------------------ */

static gboolean
stop (gpointer data)
{
  *(gboolean *) data = TRUE;
  return G_SOURCE_REMOVE;
}

void
rig_wait (int ms)
{
  gboolean done = FALSE;

  g_timeout_add (ms, stop, &done);
  while (!done)
    g_main_context_iteration (NULL, TRUE);
}

void
rig_wait_photo (Rig *rig)
{
  gint64 end = g_get_monotonic_time () + 60 * G_TIME_SPAN_SECOND;

  /* There is no signal for it: the screen tells. */
  rig_wait (150);
  while (ws_photo_view_get_status (rig->view)[0] != '\0')
    {
      g_assert_cmpint (g_get_monotonic_time (), <, end);
      rig_wait (50);
    }
}

void
rig_wait_sharp (Rig *rig)
{
  gint64 end = g_get_monotonic_time () + 60 * G_TIME_SPAN_SECOND;
  int needed = MIN (rig->photo_edge, rig->photo_edge * ws_photo_view_get_zoom (rig->view));

  while (TRUE)
    {
      g_autoptr (WsPictureLevels) levels = ws_picture_loader_peek (rig->loader, rig->photo, needed);

      rig_wait (150);
      if (levels != NULL)
        return;
      g_assert_cmpint (g_get_monotonic_time (), <, end);
    }
}

static void
focus (Rig *rig)
{
  GdkSurface *surface = gtk_native_get_surface (GTK_NATIVE (rig->window));

  rig_do ("windowmove --sync %lu 0 0 windowfocus --sync %lu mousemove 5 5", GDK_SURFACE_XID (surface),
          GDK_SURFACE_XID (surface));
}

Rig *
rig_new_empty (int width, int height)
{
  Rig *rig = g_new0 (Rig, 1);

  the_rig = rig;
  g_mutex_init (&rig->gate);
  rig->loader = ws_picture_loader_new (WS_PICTURE_LOADER_MAX_BYTES, decode);
  rig->log = g_string_new (NULL);
  rig->marks = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_photo_view_mark_free);
  rig->window = gtk_window_new ();
  rig->view = WS_PHOTO_VIEW (ws_photo_view_new (rig->loader));
  g_signal_connect (rig->view, "mark-drawn", G_CALLBACK (mark_drawn), rig);
  g_signal_connect (rig->view, "cover-drawn", G_CALLBACK (cover_drawn), rig);
  g_signal_connect (rig->view, "mark-changed", G_CALLBACK (mark_changed), rig);
  g_signal_connect (rig->view, "mark-delete", G_CALLBACK (mark_delete), rig);
  g_signal_connect (rig->view, "mark-selected", G_CALLBACK (mark_selected), rig);
  g_signal_connect (rig->view, "disarm-requested", G_CALLBACK (disarm_requested), rig);
  gtk_window_set_decorated (GTK_WINDOW (rig->window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (rig->window), width, height);
  gtk_window_set_child (GTK_WINDOW (rig->window), GTK_WIDGET (rig->view));
  gtk_window_present (GTK_WINDOW (rig->window));
  rig_wait (100);
  focus (rig);
  gtk_widget_grab_focus (GTK_WIDGET (rig->view));
  return rig;
}

Rig *
rig_new (int width, int height, const char *photo, int photo_width, int photo_height)
{
  Rig *rig = rig_new_empty (width, height);

  rig->photo = g_strdup (photo);
  rig->photo_edge = MAX (photo_width, photo_height);
  ws_photo_view_set_photo (rig->view, photo, photo, NULL, photo_width, photo_height);
  rig_wait_photo (rig);
  return rig;
}

void
rig_free (Rig *rig)
{
  if (rig->window != NULL)
    gtk_window_destroy (GTK_WINDOW (rig->window));
  g_object_add_weak_pointer (G_OBJECT (rig->loader), (gpointer *) &rig->loader);
  g_object_unref (rig->loader);
  while (rig->loader != NULL)
    g_main_context_iteration (NULL, TRUE);
  g_mutex_clear (&rig->gate);
  g_ptr_array_unref (rig->marks);
  g_string_free (rig->log, TRUE);
  g_free (rig->photo);
  g_free (rig);
  rig_wait (50);
}

static void
process_ended (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;

  g_subprocess_wait_check_finish (G_SUBPROCESS (source), result, &error);
  g_assert_no_error (error);
  *(gboolean *) data = TRUE;
}

static void
run (const char *command_line)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GSubprocess) process = NULL;
  g_auto (GStrv) argv = NULL;
  gboolean done = FALSE;

  g_shell_parse_argv (command_line, NULL, &argv, &error);
  g_assert_no_error (error);
  process = g_subprocess_newv ((const char *const *) argv, G_SUBPROCESS_FLAGS_STDOUT_SILENCE, &error);
  g_assert_no_error (error);
  g_subprocess_wait_check_async (process, NULL, process_ended, &done);
  while (!done)
    g_main_context_iteration (NULL, TRUE);
}

void
rig_do (const char *words, ...)
{
  g_autofree char *text = NULL, *command = NULL;
  va_list args;

  va_start (args, words);
  text = g_strdup_vprintf (words, args);
  va_end (args);
  command = g_strconcat ("xdotool ", text, NULL);
  run (command);
  gdk_display_sync (gdk_display_get_default ());
  rig_wait (120);
}

void
rig_add_mark (Rig *rig, const char *id, const char *text, const char *letter, const char *caption,
              WsPhotoViewMarkState state)
{
  g_autoptr (WsShape) shape = ws_shape_parse (text);
  GPtrArray *marks = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_photo_view_mark_free);

  g_assert_nonnull (shape);
  /* An array that was handed in is not changed: the next one holds copies. */
  for (guint i = 0; i < rig->marks->len; i++)
    {
      const WsPhotoViewMark *mark = g_ptr_array_index (rig->marks, i);

      g_ptr_array_add (marks, ws_photo_view_mark_new (mark->id, mark->shape, mark->letter, mark->caption,
                                                      mark->state, mark->armed));
    }
  g_ptr_array_add (marks, ws_photo_view_mark_new (id, shape, letter, caption, state, FALSE));
  g_ptr_array_unref (rig->marks);
  rig->marks = marks;
  ws_photo_view_set_marks (rig->view, rig->marks);
  rig_wait (60);
}

guchar *
rig_shoot (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("photo-view-XXXXXX", &error);
  g_autofree char *file = g_build_filename (folder, "screen.rgb", NULL);
  g_autofree char *command = g_strdup_printf ("import -window root -depth 8 rgb:%s", file);
  char *pixels = NULL;
  gsize length;

  g_assert_no_error (error);
  rig_wait (100);
  run (command);
  g_file_get_contents (file, &pixels, &length, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (length, ==, 3 * RIG_SCREEN_WIDTH * RIG_SCREEN_HEIGHT);
  g_unlink (file);
  g_rmdir (folder);
  return (guchar *) pixels;
}

void
rig_find_red (int *x0, int *y0, int *x1, int *y1)
{
  g_autofree guchar *screen = rig_shoot ();

  *x0 = RIG_SCREEN_WIDTH;
  *y0 = RIG_SCREEN_HEIGHT;
  *x1 = *y1 = 0;
  for (int y = 0; y < RIG_SCREEN_HEIGHT; y++)
    for (int x = 0; x < RIG_SCREEN_WIDTH; x++)
      {
        const guchar *p = screen + 3 * ((gsize) y * RIG_SCREEN_WIDTH + x);

        /* More red than grey: at a zoom that is no whole number the edge is a blend. */
        if (p[0] < 185 || p[1] > 85)
          continue;
        *x0 = MIN (*x0, x);
        *y0 = MIN (*y0, y);
        *x1 = MAX (*x1, x + 1);
        *y1 = MAX (*y1, y + 1);
      }
  g_assert_cmpint (*x1, >, *x0);
}
