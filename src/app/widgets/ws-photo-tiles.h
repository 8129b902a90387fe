/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawing a photo from the level that fits the zoom, as tiles. Tiles are views of the level's pixels, made when they
 * are seen and kept in bounded caches: neither moving nor zooming touches pixels that are not on screen. At rest, or
 * while the photo is only moved, tiles are kept at the size of the screen, and drawing is copying. */
#pragma once

#include <gtk/gtk.h>

#include "ws-photo-viewport.h"
#include "ws-picture-levels.h"

/* Tiles in the cache, as they are in the level and as they are on the screen; those in view are kept whatever their
 * number. */
#define WS_PHOTO_TILES_KEPT 256
#define WS_PHOTO_TILES_KEPT_SCALED 96

typedef struct
{
  guint level;
  int column, row;
  int x, y, width, height;  /* px of the level: the tile and an overlap of up to 2 px */
  graphene_rect_t bounds;   /* where those px belong in the widget */
  graphene_rect_t clip;     /* what is drawn of them: edges on whole device px, so that tiles meet */
} WsPhotoTile;

/* The tiles of @levels that show in @port. @hurried: of a level that may be somewhat coarse. (transfer full): array
 * of WsPhotoTile */
GArray *ws_photo_tiles_list (const WsPictureLevels *levels, const WsPhotoViewport *port,
                             gboolean hurried) G_GNUC_WARN_UNUSED_RESULT;

typedef struct _WsPhotoTiles WsPhotoTiles;

WsPhotoTiles *ws_photo_tiles_new (void) G_GNUC_WARN_UNUSED_RESULT;
void ws_photo_tiles_free (WsPhotoTiles *tiles);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPhotoTiles, ws_photo_tiles_free)

/* What is drawn from now on; NULL: nothing. Takes its own reference. */
void ws_photo_tiles_set_levels (WsPhotoTiles *tiles, WsPictureLevels *levels);
/* (nullable) (transfer none) */
WsPictureLevels *ws_photo_tiles_get_levels (WsPhotoTiles *tiles);
/* Draws what shows in @port. Main thread. FALSE if it was hurried, since the zoom is another than last time: draw again
 * when it has come to rest. */
gboolean ws_photo_tiles_snapshot (WsPhotoTiles *tiles, GtkSnapshot *snapshot, const WsPhotoViewport *port);
/* Number of tiles in each cache. */
guint ws_photo_tiles_get_n_kept (WsPhotoTiles *tiles);
guint ws_photo_tiles_get_n_scaled (WsPhotoTiles *tiles);
