/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plate of a request as a file: crops cut out of the originals at the size they are printed at. */
#pragma once

#include "ws-plate.h"

#include <gio/gio.h>

typedef enum { WS_PLATE_PDF, WS_PLATE_PNG } WsPlateFormat;

typedef struct
{
  WsFigure *figure;             /* of the find's growth form */
  GHashTable *choices;          /* (nullable): as ws_plate_new() */
  WsPaper paper;
  gboolean sideways;
} WsPlateWish;

/* Makes the file in memory. @photo_paths: photo id to path of the original. Nothing but what is drawn stands in it: of its
 * own facts it tells a title, the program and the day on which the request was made. Errors as ws_photo_copy_make(),
 * WS_ERROR_NOT_FOUND for a photo without path, WS_ERROR_FAILED when it does not fit the paper. Blocks. */
GBytes *ws_plate_file_make (const WsRequest *request, GHashTable *photo_paths, const WsKnowledge *knowledge, const WsPlateWish *wish,
                            WsPlateFormat format, GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* The crop of a mark, its longer edge at most @edge px, as it may leave; a PDF takes its JPEG as it is. Errors as above.
 * (transfer full) */
cairo_surface_t *ws_plate_crop_load (const WsRequest *request, const WsMark *mark, GHashTable *photo_paths, int edge,
                                     GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
