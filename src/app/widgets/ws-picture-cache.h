/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The last used pictures, by digest, within a bound of bytes. Of each picture the largest size seen is kept, which
 * serves smaller requests too. Not locked: one thread uses it. */
#pragma once

#include "ws-picture-levels.h"

typedef struct _WsPictureCache WsPictureCache;

WsPictureCache *ws_picture_cache_new (gsize max_bytes) G_GNUC_WARN_UNUSED_RESULT;
void ws_picture_cache_free (WsPictureCache *cache);

/* The picture at @max_edge px (0: full size) or larger, now the last used one. (transfer full) (nullable) */
WsPictureLevels *ws_picture_cache_find (WsPictureCache *cache, const char *digest, int max_edge)
  G_GNUC_WARN_UNUSED_RESULT;
/* Keeps @levels in the place of a smaller one and of those not used for longest. A picture that is beyond the bound
 * by itself is not kept. Takes its own reference. */
void ws_picture_cache_keep (WsPictureCache *cache, const char *digest, WsPictureLevels *levels);
gsize ws_picture_cache_get_bytes (const WsPictureCache *cache);
