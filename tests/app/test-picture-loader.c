/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The loader with a decoder that stands still until it is told to go on, so that every order can be tried. */
#include "ws-blocking.h"
#include "ws-error.h"
#include "ws-picture-loader.h"

static GMutex lock;
static GCond changed;
static GString *started;        /* names of the files in the order they were begun, a space each */
static GString *stopped;        /* those whose decoding saw that it is cancelled */
static int allowed;             /* decodings that may end */
static GThread *main_thread;

/* "NAME" of 100 x 50 px; "bad" cannot be read. */
static WsPicture *
decode (const char *path, int max_edge, GCancellable *cancellable, GError **error)
{
  int full = 1000, edge = max_edge == 0 ? full : MIN (max_edge, full);
  WsPicture *picture;

  g_assert_true (g_thread_self () != main_thread);
  ws_blocking ("decoding in a test");
  g_mutex_lock (&lock);
  g_string_append_printf (started, "%s ", path);
  g_cond_broadcast (&changed);
  while (allowed == 0 && !g_cancellable_is_cancelled (cancellable))
    g_cond_wait_until (&changed, &lock, g_get_monotonic_time () + 5 * G_TIME_SPAN_MILLISECOND);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    {
      g_string_append_printf (stopped, "%s ", path);
      g_mutex_unlock (&lock);
      return NULL;
    }
  allowed--;
  g_mutex_unlock (&lock);
  if (g_str_equal (path, "bad"))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, "bad: no picture");
      return NULL;
    }
  picture = g_new0 (WsPicture, 1);
  *picture = (WsPicture) { edge, edge / 2, NULL, full, full / 2 };
  picture->pixels = g_bytes_new_take (g_malloc0 ((gsize) 3 * edge * (edge / 2)), (gsize) 3 * edge * (edge / 2));
  return picture;
}

static void
allow (int n)
{
  g_mutex_lock (&lock);
  allowed += n;
  g_cond_broadcast (&changed);
  g_mutex_unlock (&lock);
}

static char *
dup_log (GString *log)
{
  char *copy;

  g_mutex_lock (&lock);
  copy = g_strdup (log->str);
  g_mutex_unlock (&lock);
  return copy;
}

#define assert_log(log, expected) G_STMT_START { \
    g_autofree char *text_ = dup_log (log); \
    g_assert_cmpstr (text_, ==, expected); \
  } G_STMT_END

static void
reset (void)
{
  g_string_truncate (started, 0);
  g_string_truncate (stopped, 0);
  allowed = 0;
}

/* Waits until @n files were begun. */
static void
wait_started (int n)
{
  g_mutex_lock (&lock);
  while (TRUE)
    {
      int seen = 0;

      for (gsize i = 0; i < started->len; i++)
        seen += started->str[i] == ' ';
      if (seen >= n)
        break;
      g_cond_wait (&changed, &lock);
    }
  g_mutex_unlock (&lock);
}

/* What callbacks said: "NAME=EDGE" or "NAME=cancelled" or "NAME=unreadable". */
static GString *answers;
static int n_answers;

static void
answered (GObject *source, GAsyncResult *result, gpointer name)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsPictureLevels) levels = ws_picture_loader_load_finish (WS_PICTURE_LOADER (source), result, &error);

  g_assert_true (g_thread_self () == main_thread);
  n_answers++;
  if (levels != NULL)
    g_string_append_printf (answers, "%s=%d ", (char *) name, ws_picture_levels_get_edge (levels));
  else if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    g_string_append_printf (answers, "%s=cancelled ", (char *) name);
  else if (g_error_matches (error, WS_ERROR, WS_ERROR_UNREADABLE))
    g_string_append_printf (answers, "%s=unreadable ", (char *) name);
  else
    g_assert_no_error (error);
}

static void
wait_answers (int n)
{
  while (n_answers < n)
    g_main_context_iteration (NULL, TRUE);
}

static void
ask (WsPictureLoader *loader, const char *name, int edge, WsPictureUrgency urgency, GCancellable *cancellable)
{
  ws_picture_loader_load_async (loader, name, name, edge, urgency, cancellable, answered, (gpointer) name);
}

static WsPictureLoader *
begin (gsize max_bytes)
{
  reset ();
  g_string_truncate (answers, 0);
  n_answers = 0;
  return ws_picture_loader_new (max_bytes, decode);
}

/* Lets all jobs end; then the loader must go. */
static void
end (WsPictureLoader *loader)
{
  allow (1000);
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_object_add_weak_pointer (G_OBJECT (loader), (gpointer *) &loader);
  g_object_unref (loader);
  while (loader != NULL)
    g_main_context_iteration (NULL, TRUE);
}

static void
newest_first (void)
{
  WsPictureLoader *loader = begin (G_MAXSIZE);

  g_test_summary ("Two at once; of those that wait, the newest comes first");
  ask (loader, "a", 100, WS_PICTURE_SHOWN, NULL);
  wait_started (1);
  ask (loader, "b", 100, WS_PICTURE_SHOWN, NULL);
  wait_started (2);
  ask (loader, "c", 100, WS_PICTURE_SHOWN, NULL);
  ask (loader, "d", 100, WS_PICTURE_SHOWN, NULL);
  ask (loader, "e", 100, WS_PICTURE_SHOWN, NULL);
  for (int n = 3; n <= 5; n++)
    {
      allow (1);
      wait_started (n);
    }
  assert_log (started, "a b e d c ");
  allow (2);
  wait_answers (5);
  end (loader);
}

static void
shown_before_expected (void)
{
  WsPictureLoader *loader = begin (G_MAXSIZE);

  g_test_summary ("What is only expected takes one thread at most and waits for what is shown");
  ask (loader, "next", 100, WS_PICTURE_EXPECTED, NULL);
  wait_started (1);
  ask (loader, "previous", 100, WS_PICTURE_EXPECTED, NULL);
  ask (loader, "later", 100, WS_PICTURE_EXPECTED, NULL);
  ask (loader, "shown", 100, WS_PICTURE_SHOWN, NULL);
  wait_started (2);
  assert_log (started, "next shown ");

  /* Somebody turned to it: now it is urgent, and the thread that is free takes it. */
  ask (loader, "previous", 100, WS_PICTURE_SHOWN, NULL);
  allow (1);
  wait_started (3);
  assert_log (started, "next shown previous ");
  allow (3);
  wait_answers (5);
  assert_log (started, "next shown previous later ");
  end (loader);
}

static void
shares_the_work (void)
{
  WsPictureLoader *loader = begin (G_MAXSIZE);

  g_test_summary ("The same asked twice is decoded once, and one that gives up does not spoil it for the other");
  {
    g_autoptr (GCancellable) first = g_cancellable_new ();

    ask (loader, "a", 100, WS_PICTURE_EXPECTED, first);
    wait_started (1);
    ask (loader, "a", 100, WS_PICTURE_SHOWN, NULL);
    g_cancellable_cancel (first);
    wait_answers (1);
    g_assert_cmpstr (answers->str, ==, "a=cancelled ");
    allow (1);
    wait_answers (2);
    g_assert_cmpstr (answers->str, ==, "a=cancelled a=100 ");
  }
  assert_log (started, "a ");
  assert_log (stopped, "");
  end (loader);
}

static void
cancels (void)
{
  WsPictureLoader *loader = begin (G_MAXSIZE);
  g_autoptr (GCancellable) running = g_cancellable_new (), queued = g_cancellable_new (), late = g_cancellable_new ();

  g_test_summary ("Cancelled: a waiting one is never begun, a running one is stopped, both answer at once");
  ask (loader, "a", 100, WS_PICTURE_SHOWN, running);
  wait_started (1);
  ask (loader, "b", 100, WS_PICTURE_SHOWN, NULL);
  wait_started (2);
  ask (loader, "c", 100, WS_PICTURE_SHOWN, queued);
  g_cancellable_cancel (queued);
  wait_answers (1);
  g_assert_cmpstr (answers->str, ==, "c=cancelled ");
  g_cancellable_cancel (running);
  wait_answers (2);
  g_assert_cmpstr (answers->str, ==, "c=cancelled a=cancelled ");
  g_cancellable_cancel (late);
  ask (loader, "d", 100, WS_PICTURE_SHOWN, late);
  wait_answers (3);
  allow (1);
  wait_answers (4);
  g_assert_cmpstr (answers->str, ==, "c=cancelled a=cancelled d=cancelled b=100 ");
  assert_log (started, "a b ");

  /* Asked again after it was given up, it is read again. */
  ask (loader, "a", 100, WS_PICTURE_SHOWN, NULL);
  allow (1);
  wait_answers (5);
  g_assert_true (g_str_has_suffix (answers->str, "a=100 "));
  assert_log (stopped, "a ");
  end (loader);
}

static gboolean
is_kept (WsPictureLoader *loader, const char *name, int edge)
{
  g_autoptr (WsPictureLevels) levels = ws_picture_loader_peek (loader, name, edge);

  return levels != NULL;
}

static void
keeps_within_the_bound (void)
{
  const gsize one = 3 * 200 * 100;    /* 200 x 100 px are below a tile: no smaller level */
  WsPictureLoader *loader = begin (3 * one);

  g_test_summary ("The last used pictures are kept, never more than the bound");
  allow (100);
  for (int i = 0; i < 4; i++)
    {
      static const char *const names[] = { "a", "b", "c", "d" };

      if (i == 3)
        g_assert_true (is_kept (loader, "a", 200));   /* used again: now "b" is the oldest */
      ask (loader, names[i], 200, WS_PICTURE_SHOWN, NULL);
      wait_answers (i + 1);
      g_assert_cmpuint (ws_picture_loader_get_kept_bytes (loader), ==, MIN (i + 1, 3) * one);
    }
  g_assert_true (is_kept (loader, "a", 200));
  g_assert_false (is_kept (loader, "b", 200));
  g_assert_true (is_kept (loader, "c", 200));
  g_assert_true (is_kept (loader, "d", 200));

  ask (loader, "whole", 0, WS_PICTURE_SHOWN, NULL);
  wait_answers (5);
  g_assert_true (g_str_has_suffix (answers->str, "whole=1000 "));
  g_assert_false (is_kept (loader, "whole", 0));
  g_assert_cmpuint (ws_picture_loader_get_kept_bytes (loader), ==, 3 * one);
  end (loader);
}

static void
gives_the_larger_one (void)
{
  WsPictureLoader *loader = begin (G_MAXSIZE);

  g_test_summary ("A larger picture serves a smaller request; the smaller one is not kept beside it");
  allow (100);
  ask (loader, "a", 200, WS_PICTURE_SHOWN, NULL);
  wait_answers (1);
  g_assert_true (is_kept (loader, "a", 100));
  g_assert_true (is_kept (loader, "a", 200));
  g_assert_false (is_kept (loader, "a", 201));
  g_assert_false (is_kept (loader, "a", 0));
  ask (loader, "a", 0, WS_PICTURE_SHOWN, NULL);
  wait_answers (2);
  g_assert_true (is_kept (loader, "a", 0));
  g_assert_true (is_kept (loader, "a", 5000));
  /* 1000 x 500 and its half, 500 x 250. */
  g_assert_cmpuint (ws_picture_loader_get_kept_bytes (loader), ==, 3 * (1000 * 500 + 500 * 250));
  ask (loader, "a", 150, WS_PICTURE_SHOWN, NULL);
  wait_answers (3);
  g_assert_cmpstr (answers->str, ==, "a=200 a=1000 a=1000 ");
  assert_log (started, "a a ");
  end (loader);
}

static void
tells_errors (void)
{
  WsPictureLoader *loader = begin (G_MAXSIZE);

  g_test_summary ("A file that cannot be read gives the decoder's error, to all who asked, and is not kept");
  ask (loader, "bad", 0, WS_PICTURE_SHOWN, NULL);
  ask (loader, "bad", 0, WS_PICTURE_SHOWN, NULL);
  allow (1);
  wait_answers (2);
  g_assert_cmpstr (answers->str, ==, "bad=unreadable bad=unreadable ");
  g_assert_cmpuint (ws_picture_loader_get_kept_bytes (loader), ==, 0);
  end (loader);
}

static void
outlives_its_owner (void)
{
  WsPictureLoader *loader = begin (G_MAXSIZE);

  g_test_summary ("Released while it works, the loader answers and then goes");
  ask (loader, "a", 100, WS_PICTURE_SHOWN, NULL);
  ask (loader, "b", 100, WS_PICTURE_SHOWN, NULL);
  ask (loader, "c", 100, WS_PICTURE_SHOWN, NULL);
  wait_started (2);
  end (loader);
  wait_answers (3);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  main_thread = g_thread_self ();
  ws_blocking_forbid_here ();
  started = g_string_new (NULL);
  stopped = g_string_new (NULL);
  answers = g_string_new (NULL);
  g_test_add_func ("/app/picture-loader/newest-first", newest_first);
  g_test_add_func ("/app/picture-loader/shown-before-expected", shown_before_expected);
  g_test_add_func ("/app/picture-loader/shares-the-work", shares_the_work);
  g_test_add_func ("/app/picture-loader/cancels", cancels);
  g_test_add_func ("/app/picture-loader/keeps-within-the-bound", keeps_within_the_bound);
  g_test_add_func ("/app/picture-loader/gives-the-larger-one", gives_the_larger_one);
  g_test_add_func ("/app/picture-loader/tells-errors", tells_errors);
  g_test_add_func ("/app/picture-loader/outlives-its-owner", outlives_its_owner);
  return g_test_run ();
}
