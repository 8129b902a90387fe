/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decoding in a process of its own, for files from strangers. The child is wholestem-decoder; it gets the file's bytes and
 * a place for its answer as two memory files, locks itself in (ws-confine.h) and calls the same ws_picture_decode(). What
 * it answers is believed no further than it is checked. Private to the photo layer. */
#pragma once

#include <gio/gio.h>

#include "ws-picture.h"

/* Descriptors of the child. */
#define WS_DECODE_INPUT_FD 3   /* the file's bytes, sealed */
#define WS_DECODE_ANSWER_FD 4  /* a WsDecodeAnswer, and the pixels at WS_DECODE_PIXELS_AT */
#define WS_DECODE_LIFE_FD 5    /* never written to: closing it says that the child has ended */

#define WS_DECODE_MAGIC "WSDECODE1"
#define WS_DECODE_PIXELS_AT 4096
#define WS_DECODE_MAX_MESSAGE 2000

typedef enum
{
  WS_DECODE_NOTHING,
  WS_DECODE_PICTURE,
  WS_DECODE_ERROR,
} WsDecodeState;

typedef struct
{
  char magic[16];
  guint32 state;                     /* WsDecodeState */
  gint32 width, height, full_width, full_height;
  gint32 raw_preview;
  gint32 code;                       /* WsError, of an error */
  char message[WS_DECODE_MAX_MESSAGE]; /* UTF-8, of an error */
} WsDecodeAnswer;

G_STATIC_ASSERT (sizeof (WsDecodeAnswer) <= WS_DECODE_PIXELS_AT);

/* ws_picture_decode_stranger() with a limit of time of its own. */
WsPicture *ws_decode_in_child (GBytes *bytes, const char *name, int max_edge, guint seconds,
                               GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* The largest answer to a picture with this longest edge, in bytes. */
gsize ws_decode_answer_limit (int max_edge);
