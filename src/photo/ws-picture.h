/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pixels: the one place where pictures are decoded, by libvips with named loaders only.
 * Upright, sRGB, 8 bits, three bands, rows without gaps. Everything blocks and may run on any
 * worker thread. */
#pragma once

#include <gio/gio.h>

#include "ws-shape.h"

typedef struct
{
  int width, height;       /* px */
  GBytes *pixels;          /* R8G8B8, stride 3 * width */
  int full_width, full_height; /* of the upright original; of a camera raw file, of its preview */
  gboolean raw_preview;    /* the picture is the preview inside a camera raw file: say so where it is shown */
} WsPicture;

/* Starts libvips, blocks every loader and then allows JPEG, PNG, WebP, TIFF and HEIF/AVIF. Of camera raw files the JPEG
 * preview is decoded.
 * Call once from main(), before threads. VIPS_CONCURRENCY is set to 1 unless set. */
gboolean ws_picture_init (const char *program, GError **error);

/* What a file may ask for. All but the time is known from headers and refused before decoding; each message names the
 * limit. */
#define WS_PICTURE_MAX_PIXELS (200 * 1000 * 1000)   /* of a picture before decoding */
#define WS_PICTURE_MAX_MEMORY G_GUINT64_CONSTANT (2000000000) /* bytes held at once */
#define WS_PICTURE_MAX_SCANS 100                    /* of a JPEG; cameras write one, or about ten */
#define WS_PICTURE_MAX_SECONDS 60

/* Decodes @bytes so that the longer edge is at most @max_edge px (0: full size), using
 * shrink-on-load where the format has it. Errors: WS_ERROR_UNREADABLE, _TOO_LARGE, cancelled. */
WsPicture *ws_picture_decode (GBytes *bytes, const char *name, int max_edge,
                              GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* The same from a path. */
WsPicture *ws_picture_decode_file (const char *path, int max_edge,
                                   GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* The same for a file from a stranger (a package received): decoded in a process of its own that can open no file, start
 * no program and reach no network, with limits of memory and processor time, and that is killed at a cancel and when
 * WS_PICTURE_MAX_SECONDS are over. A file that brings that process down is WS_ERROR_UNREADABLE, and nothing else happens.
 * @name is for messages. The pixels equal those of ws_picture_decode(). */
WsPicture *ws_picture_decode_stranger (GBytes *bytes, const char *name, int max_edge,
                                       GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* The half-size picture (box filter), for mip levels: (width + 1) / 2 by (height + 1) / 2. */
WsPicture *ws_picture_halve (const WsPicture *picture) G_GNUC_WARN_UNUSED_RESULT;
void ws_picture_free (WsPicture *picture);

/* A JPEG of the picture, no metadata. */
GBytes *ws_picture_to_jpeg (const WsPicture *picture, int quality, GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPicture, ws_picture_free)
