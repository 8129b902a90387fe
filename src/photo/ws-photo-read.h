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
  guint64 likeness;        /* difference hash of the picture: copies of one photo, shrunk or
                              encoded again, differ in few bits */
} WsPhotoReading;

#define WS_THUMBNAIL_EDGE 512
#define WS_PHOTO_MAX_BYTES ((gsize) 1024 * 1024 * 1024)

/* Blocks. Errors as ws_picture_decode() and ws_photo_facts_read(), and for a file that cannot be
 * read WS_ERROR_NOT_FOUND, _TOO_LARGE, _UNREADABLE, _FAILED. */
WsPhotoReading *ws_photo_read (const char *path, GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
void ws_photo_reading_free (WsPhotoReading *reading);

/* Bits in which two likenesses differ, 0-64. Of copies at most WS_LIKENESS_SAME (measured in
 * tests/photo/test-photo-read.c). */
int ws_likeness_distance (guint64 a, guint64 b);
#define WS_LIKENESS_SAME 8

/* TRUE if the file name says it is a kind of picture that can be imported. */
gboolean ws_photo_name_is_picture (const char *name);
/* TRUE if the file name says it is a camera raw file: beside a picture of the same name it belongs to that, alone it is
 * imported by its preview. */
gboolean ws_photo_name_is_raw (const char *name);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPhotoReading, ws_photo_reading_free)
