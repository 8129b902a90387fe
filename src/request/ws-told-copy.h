/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A copy of a find's photo, or of a region of it, as it may leave: what is covered is painted over. */
#pragma once

#include "ws-photo-copy.h"
#include "ws-values.h"

#include <cairo.h>

/* @photo_paths: photo id to path of the original. @options: covers is filled in here. WS_ERROR_NOT_FOUND for a photo without a
 * path; else as ws_photo_copy_make(). Blocks. */
WsPhotoCopy *ws_told_copy_make (const WsFind *find, const WsPhoto *photo, GHashTable *photo_paths, WsCopyOptions options,
                                GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* The same as a surface to draw; a PDF that it is drawn on takes its JPEG as it is. (transfer full) */
cairo_surface_t *ws_told_copy_load (const WsFind *find, const WsPhoto *photo, GHashTable *photo_paths, WsCopyOptions options,
                                    GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
