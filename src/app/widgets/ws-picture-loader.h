/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decodes photos for the screen on two threads of its own, never on the caller's: what is shown before what is
 * only expected to be shown, the newest request first. Keeps the last pictures within a bound. Used from the
 * main thread only; callbacks come on it. */
#pragma once

#include <gio/gio.h>

#include "ws-picture-levels.h"

#define WS_TYPE_PICTURE_LOADER (ws_picture_loader_get_type ())
G_DECLARE_FINAL_TYPE (WsPictureLoader, ws_picture_loader, WS, PICTURE_LOADER, GObject)

/* Pixels kept by default, bytes. */
#define WS_PICTURE_LOADER_MAX_BYTES ((gsize) 600 * 1000 * 1000)

typedef enum
{
  WS_PICTURE_EXPECTED,  /* may soon be shown; at most one thread works on these */
  WS_PICTURE_SHOWN,     /* somebody looks at the place where it belongs */
} WsPictureUrgency;

/* How a file becomes pixels; as ws_picture_decode_file(). Called on the loader's threads. */
typedef WsPicture *(*WsPictureDecode) (const char *path, int max_edge, GCancellable *cancellable, GError **error);

/* @max_bytes: of the pixels kept. @decode: NULL for ws_picture_decode_file(). (transfer full) */
WsPictureLoader *ws_picture_loader_new (gsize max_bytes, WsPictureDecode decode) G_GNUC_WARN_UNUSED_RESULT;

/* The picture from the cache, if it is there at @max_edge px (0: full size) or larger. @digest names the content:
 * the photo's SHA-512, or any other text that no other content has. (transfer full) (nullable) */
WsPictureLevels *ws_picture_loader_peek (WsPictureLoader *self, const char *digest, int max_edge)
  G_GNUC_WARN_UNUSED_RESULT;
/* The name of the content of a photo's thumbnail, which is a picture of its own: under the photo's digest it would be
 * taken for the photo at its full size. (transfer full) */
char *ws_picture_loader_dup_thumbnail_digest (const char *digest) G_GNUC_WARN_UNUSED_RESULT;
/* Gives the picture with its longer edge at most @max_edge px (0: full size), or a larger one that is there
 * already. Requests for the same share the work; work that nobody waits for any more is stopped. After
 * cancelling, the callback comes at once with G_IO_ERROR_CANCELLED. @callback may be NULL, for a picture that
 * is only to be in the cache. */
void ws_picture_loader_load_async (WsPictureLoader *self, const char *path, const char *digest, int max_edge,
                                   WsPictureUrgency urgency, GCancellable *cancellable,
                                   GAsyncReadyCallback callback, gpointer user_data);
/* (transfer full). Errors: of the decoder, or cancelled. */
WsPictureLevels *ws_picture_loader_load_finish (WsPictureLoader *self, GAsyncResult *result, GError **error)
  G_GNUC_WARN_UNUSED_RESULT;

/* Bytes of pixels in the cache. */
gsize ws_picture_loader_get_kept_bytes (WsPictureLoader *self);
