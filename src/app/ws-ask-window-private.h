/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's insides, shared by ws-ask-window.c and ws-ask-window-make.c only. */
#pragma once

#include "ws-ask-window.h"
#include "ws-ask-work.h"
#include "ws-last-look.h"

struct _WsAskWindow
{
  AdwWindow parent_instance;

  GtkStack *pages;               /* "letter", "look", "making", "done" */
  GtkLabel *base_warning, *lacking, *cautions;
  GtkWidget *reason_box;
  GtkEditable *reason, *to, *from, *region;
  GtkTextView *question;
  GtkDropDown *tell_place, *specimen_is, *language, *limit;
  GtkWidget *region_label;
  GtkCheckButton *keep_time, *keep_camera, *page;
  GtkWidget *on, *make;
  WsLastLook *look;
  GtkLabel *making_what, *made_title, *made_what;
  GtkProgressBar *bar;
  GtkWidget *sent, *close;

  WsSession *session;
  WsFindItem *item;
  char *replaces;
  GCancellable *cancellable;     /* while the package is made */
  WsProgressBoard *board;
  guint look_source;
  char *package, *request_id;    /* once it is made */
};

/* What the drop-downs for place and specimen offer, in their order. */
#define WS_ASK_N_TELL_PLACES 6
#define WS_ASK_N_SPECIMEN_IDS 4
extern const WsTellPlace ws_ask_tell_places[WS_ASK_N_TELL_PLACES];
extern const char *const ws_ask_specimen_ids[WS_ASK_N_SPECIMEN_IDS];

gboolean ws_ask_window_base_is_missing (WsAskWindow *self);

/* What the buttons of the later leaves do. */
void ws_ask_window_make (WsAskWindow *self);
void ws_ask_window_stop (WsAskWindow *self);
void ws_ask_window_folder (WsAskWindow *self);
void ws_ask_window_sent (WsAskWindow *self);
