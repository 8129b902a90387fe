/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The whole program in the test's own process, driven by xdotool as by a hand: real pointer and key events on real
 * widgets, which are found by what they say or do. Needs an X display whose only client we are, without a window manager. */
#pragma once

#include "ws-window.h"

typedef struct
{
  char *folder;        /* of the test; removed at the end */
  char *library;       /* FOLDER/library */
  guint actions;       /* clicks, drags, keys and typed texts so far */
} WindowRig;

typedef void (*WindowScript) (WindowRig *rig);

/* Starts the program on an empty (or the given) library in a window of @width x @height (0: as it comes), runs @script inside
 * its main loop, and ends it. Once a process. */
void window_rig_run (WindowRig *rig, int width, int height, WindowScript script);
/* Readies what the program readies first; window_rig_new() does it too. */
void window_rig_start (void);
WindowRig *window_rig_new (void);
void window_rig_free (WindowRig *rig);

/* Runs the main loop. */
void window_rig_wait (int ms);
/* Runs the main loop until @check is true; fails after a minute. */
void window_rig_until (gboolean (*check) (gpointer data), gpointer data, const char *what);
/* Until nothing is being loaded, stored or decoded. */
void window_rig_settle (void);

WsWindow *window_rig_get_window (void);
WsSession *window_rig_get_session (void);
/* A visible widget of any window: whose label, tooltip or accessible text is @text (mnemonic underlines left out), or whose action is
 * @text. Waits until it is there. Borrowed. */
GtkWidget *window_rig_find (const char *text);
/* The same, NULL when there is none now. */
GtkWidget *window_rig_look (const char *text);
/* The first visible widget of the type, NULL when there is none. */
GtkWidget *window_rig_find_type (GType type);

/* Waits until one is there. */
GtkWidget *window_rig_await_type (GType type);
/* Waits up to @ms for the last one of the type to go; FALSE if it stays. */
gboolean window_rig_await_gone (GType type, int ms);

/* The file dialogue of GTK 4.8 loses the names that its entry completes, now and then: while it is open LeakSanitizer looks away.
 * Nothing without sanitizers. */
void window_rig_look_away (gboolean away);

/* The questions of the first start, which come when nothing is written down yet, are put away. */
void window_rig_put_away_questions (WindowRig *rig);

/* User actions: each counts as one. */
void window_rig_click (WindowRig *rig, GtkWidget *widget);
void window_rig_click_text (WindowRig *rig, const char *text);
/* From and to in fractions of the widget. */
void window_rig_drag (WindowRig *rig, GtkWidget *widget, double x0, double y0, double x1, double y1);
/* Pixels of the window. */
void window_rig_drag_px (WindowRig *rig, double x0, double y0, double x1, double y1);
/* "ctrl+z", "Return" */
void window_rig_key (WindowRig *rig, const char *key);
void window_rig_type (WindowRig *rig, const char *text);
/* Puts the pointer over a widget without counting: without a window manager the keys go where it is. */
void window_rig_hover (GtkWidget *widget);
/* The screen as a PNG, for a person to look at: WS_SHOTS in the environment names the folder; else nothing. */
void window_rig_shoot (const char *name);
