/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A decoded photo as a stack of levels, each half the size of the one before, and the drawing of the level that
 * fits the zoom as tiles. Tiles are views of the level's pixels, made when they are seen and kept in a bounded
 * cache: neither moving nor zooming touches the pixels that are not on screen. */
#pragma once

#include <gtk/gtk.h>

#include "ws-photo-viewport.h"
#include "ws-picture.h"

#define WS_PHOTO_TILE 512        /* px of a tile's edge, without the overlap */
#define WS_PHOTO_TILES_KEPT 256  /* tiles in the cache; those on screen are kept whatever their number */

/* --- Levels ------------------------------------------------------------------------ */

typedef struct
{
  gatomicrefcount refs;
  GPtrArray *pictures;           /* WsPicture, largest first */
  int full_width, full_height;   /* px of the upright original */
  int good_for;                  /* the longer edge it was asked for, px, which the decoder may not quite reach */
  gsize bytes;                   /* of all pixels */
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

/* --- Tiles ---------------------------------------------------------------------------- */

typedef struct
{
  guint level;
  int column, row;
  int x, y, width, height;  /* px of the level: the tile and an overlap of up to 2 px */
  graphene_rect_t bounds;   /* where those px belong in the widget */
  graphene_rect_t clip;     /* what is drawn of them: edges on whole device px, so that tiles meet */
} WsPhotoTile;

/* The tiles of @levels that show in @port. (transfer full): array of WsPhotoTile */
GArray *ws_photo_tiles_list (const WsPictureLevels *levels, const WsPhotoViewport *port) G_GNUC_WARN_UNUSED_RESULT;

typedef struct _WsPhotoTiles WsPhotoTiles;

WsPhotoTiles *ws_photo_tiles_new (void) G_GNUC_WARN_UNUSED_RESULT;
void ws_photo_tiles_free (WsPhotoTiles *tiles);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPhotoTiles, ws_photo_tiles_free)

/* What is drawn from now on; NULL: nothing. Takes its own reference. */
void ws_photo_tiles_set_levels (WsPhotoTiles *tiles, WsPictureLevels *levels);
/* (nullable) (transfer none) */
WsPictureLevels *ws_photo_tiles_get_levels (WsPhotoTiles *tiles);
/* Draws what shows in @port. Main thread. */
void ws_photo_tiles_snapshot (WsPhotoTiles *tiles, GtkSnapshot *snapshot, const WsPhotoViewport *port);
/* Number of tiles in the cache. */
guint ws_photo_tiles_get_n_kept (WsPhotoTiles *tiles);
