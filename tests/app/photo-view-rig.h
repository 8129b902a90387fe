/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A window with a photo view in it, driven by xdotool as by a hand, for the tests of the photo view. The photo is
 * made up by a decoder: "/photo/WIDTHxHEIGHT" is grey, with a red rectangle from a quarter to three quarters of
 * each side. Needs an X display whose only client we are. */
#pragma once

#include "ws-photo-view.h"

#define RIG_SCREEN_WIDTH 1400
#define RIG_SCREEN_HEIGHT 1000

typedef struct
{
  WsPictureLoader *loader;
  GtkWidget *window;
  WsPhotoView *view;
  GString *log;        /* signals: "drawn box 0.25 0.25 0.5 0.5; " */
  GPtrArray *marks;    /* WsPhotoViewMark, as the page knows them */
  char *photo;         /* of rig_new(): its path, which is its digest too */
  int photo_edge;      /* its longer edge, px */
  GMutex gate;         /* held by a test: the decoder waits */
} Rig;

/* Readies GTK and g_test; call first in main(). */
void rig_init (int *argc, char ***argv);
/* A window of @width x @height px at the screen's corner, with the view filling it. The photo is there and fits. */
Rig *rig_new (int width, int height, const char *photo, int photo_width, int photo_height);
/* The same with no photo. */
Rig *rig_new_empty (int width, int height);
void rig_free (Rig *rig);
/* Runs the main loop for @ms. */
void rig_wait (int ms);
/* Runs the main loop until the photo itself, not its preview, is drawn. */
void rig_wait_photo (Rig *rig);
/* Runs the main loop until the photo of rig_new() is drawn as sharp as its zoom asks for. */
void rig_wait_sharp (Rig *rig);
/* xdotool with these words; then the main loop runs until all has arrived. */
void rig_do (const char *words, ...) G_GNUC_PRINTF (1, 2);
/* Adds a mark and hands all to the view. */
void rig_add_mark (Rig *rig, const char *id, const char *shape, const char *letter, const char *caption,
                   WsPhotoViewMarkState state);
/* The screen as it is: R8G8B8, RIG_SCREEN_WIDTH x RIG_SCREEN_HEIGHT. (transfer full) */
guchar *rig_shoot (void);
/* The red rectangle on the screen: the first column and row in it, and the first beyond it. */
void rig_find_red (int *x0, int *y0, int *x1, int *y1);
/* Compares and empties the log. */
#define rig_assert_log(rig, expected) G_STMT_START { \
    g_assert_cmpstr ((rig)->log->str, ==, (expected)); \
    g_string_truncate ((rig)->log, 0); \
  } G_STMT_END
