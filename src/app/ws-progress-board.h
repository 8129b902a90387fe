/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A board on which a worker writes how far it is and at which the page looks now and then. */
#pragma once

#include "ws-desk.h"

/* How far long work is; written by the worker, looked at by the page. */
typedef struct
{
  gatomicrefcount refs;
  GMutex lock;
  guint done, total;
  char *what;
} WsProgressBoard;

WsProgressBoard *ws_progress_board_new (void);
WsProgressBoard *ws_progress_board_ref (WsProgressBoard *progress);
void ws_progress_board_unref (WsProgressBoard *progress);
/* A WsProgress whose data is a WsProgressBoard. */
void ws_progress_board_tell (guint done, guint total, const char *what, gpointer data);
/* (transfer full) */
char *ws_progress_board_look (WsProgressBoard *progress, guint *done, guint *total) G_GNUC_WARN_UNUSED_RESULT;
