/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-progress-board.h"

WsProgressBoard *
ws_progress_board_new (void)
{
  WsProgressBoard *progress = g_new0 (WsProgressBoard, 1);

  g_atomic_ref_count_init (&progress->refs);
  g_mutex_init (&progress->lock);
  return progress;
}

WsProgressBoard *
ws_progress_board_ref (WsProgressBoard *progress)
{
  g_atomic_ref_count_inc (&progress->refs);
  return progress;
}

void
ws_progress_board_unref (WsProgressBoard *progress)
{
  if (!g_atomic_ref_count_dec (&progress->refs))
    return;
  g_mutex_clear (&progress->lock);
  g_free (progress->what);
  g_free (progress);
}

char *
ws_progress_board_look (WsProgressBoard *progress, guint *done, guint *total)
{
  char *what;

  g_mutex_lock (&progress->lock);
  *done = progress->done;
  *total = progress->total;
  what = g_strdup (progress->what != NULL ? progress->what : "");
  g_mutex_unlock (&progress->lock);
  return what;
}

void
ws_progress_board_tell (guint done, guint total, const char *what, gpointer data)
{
  WsProgressBoard *progress = data;

  g_mutex_lock (&progress->lock);
  progress->done = done;
  progress->total = total;
  g_free (progress->what);
  progress->what = g_strdup (what);
  g_mutex_unlock (&progress->lock);
}
