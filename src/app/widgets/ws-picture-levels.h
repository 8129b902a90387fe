/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A decoded picture as a stack of levels, each half the size of the one before, so that drawing it small touches few
 * pixels. Reference-counted, never changed, may be shared by threads. */
#pragma once

#include "ws-picture.h"

#define WS_PHOTO_TILE 512  /* px of a tile's edge, without the overlap; the smallest level is one tile */

typedef struct
{
  gatomicrefcount refs;
  GPtrArray *pictures;           /* WsPicture, largest first */
  int full_width, full_height;   /* px of the upright original */
  int good_for;                  /* the longer edge it was asked for, px, which the decoder may not quite reach */
  gsize bytes;                   /* of all pixels */
  gboolean raw_preview;          /* of a camera raw file this is the preview inside it: say so where it is shown */
} WsPictureLevels;

/* Makes the smaller levels, down to one tile, of what was decoded for an edge of @asked_edge px (0: full size).
 * Blocks. (@picture: transfer full) */
WsPictureLevels *ws_picture_levels_new (WsPicture *picture, int asked_edge) G_GNUC_WARN_UNUSED_RESULT;
WsPictureLevels *ws_picture_levels_ref (WsPictureLevels *levels);
void ws_picture_levels_unref (WsPictureLevels *levels);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPictureLevels, ws_picture_levels_unref)

/* Longer edge of the largest level, px. */
int ws_picture_levels_get_edge (const WsPictureLevels *levels);
/* TRUE if the largest level is the original's size. */
gboolean ws_picture_levels_is_full (const WsPictureLevels *levels);
/* TRUE if asking the decoder for an edge of @edge px (0: full size) would give no more. */
gboolean ws_picture_levels_serve (const WsPictureLevels *levels, int edge);
/* Index of the smallest level that has at least one px per device px when the photo, @photo_width px wide, is
 * drawn with @device_zoom device px per photo px; 0 where none has. */
guint ws_picture_levels_pick (const WsPictureLevels *levels, int photo_width, double device_zoom);
