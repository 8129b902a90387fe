/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the photo layer share about libvips. */
#pragma once

#include <vips/vips.h>

#include "ws-container.h"
#include "ws-photo-facts.h"
#include "ws-picture.h"

/* The first line of libvips' error text, "" when it says nothing; the buffer is emptied. (transfer full) */
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

/* Opens the picture that @container found in @bytes, with shrink-on-load where the format has it, after everything that
 * can be refused from headers: pixels, layers, memory. Nothing is computed yet, and @bytes must outlive the image. */
VipsImage *ws_picture_open (GBytes *bytes, const WsContainer *container, const WsPhotoFacts *facts, int max_edge,
                            const char *name, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Alpha painted on white; sRGB of three bands and 8 bits, @colours being meant where the image has no profile. *@image is
 * replaced; FALSE with an error in libvips. */
gboolean ws_picture_flatten (VipsImage **image);
gboolean ws_picture_to_srgb (VipsImage **image, WsColours colours);
/* ws_picture_decode() with a limit of time of its own. */
WsPicture *ws_picture_decode_within (GBytes *bytes, const char *name, int max_edge, guint seconds,
                                     GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
void ws_picture_fail_late (const char *name, guint seconds, GError **error);
/* The facts of a file that is scanned already. */
WsPhotoFacts *ws_photo_facts_from_container (const WsContainer *container, const char *name,
                                             GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (VipsImage, g_object_unref)
