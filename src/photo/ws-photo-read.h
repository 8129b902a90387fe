/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One pass over a photo for the import: digest, facts and thumbnail from one reading. */
#pragma once

#include "ws-photo-facts.h"
#include "ws-picture.h"

typedef struct
{
  char *digest;            /* SHA-512 */
  gint64 size;
  gint64 modified_us;
  WsPhotoFacts *facts;
  GBytes *thumbnail;       /* JPEG, longer edge 512 px */
  guint64 likeness;        /* 64-bit difference hash of the picture, to find shrunk copies */
} WsPhotoReading;

#define WS_THUMBNAIL_EDGE 512
#define WS_PHOTO_MAX_BYTES ((gsize) 1024 * 1024 * 1024)

/* Blocks. Errors as ws_picture_decode() and ws_photo_facts_read(). */
WsPhotoReading *ws_photo_read (const char *path, GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
void ws_photo_reading_free (WsPhotoReading *reading);

/* TRUE if the file name says it is a kind of picture that can be imported. */
gboolean ws_photo_name_is_picture (const char *name);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPhotoReading, ws_photo_reading_free)
