/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the photo layer share about libvips. */
#pragma once

#include <vips/vips.h>

#include "ws-picture.h"

/* The error text of libvips in one line; the buffer is emptied. (transfer full) */
char *ws_vips_take_error (void) G_GNUC_WARN_UNUSED_RESULT;
/* Sets cancelled, or WS_ERROR_UNREADABLE with what libvips said; returns FALSE. */
gboolean ws_vips_fail (const char *name, GCancellable *cancellable, GError **error);
/* Puts *@next in the place of *@image unless the operation that made it @failed; *@next is NULL
 * again afterwards. */
gboolean ws_vips_step (VipsImage **image, VipsImage **next, int failed);
/* Shrinks so that the longer edge is at most @max_edge px; 0 or a smaller picture: as it is. */
gboolean ws_vips_shrink (VipsImage **image, int max_edge);
/* The pixels as an image; they are borrowed, not copied. NULL with an error in libvips. */
VipsImage *ws_picture_to_vips (const WsPicture *picture) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (VipsImage, g_object_unref)
