/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-picture-cache.h"

typedef struct
{
  WsPictureLevels *levels;
  guint64 used;              /* the count when it was last used */
} Kept;

struct _WsPictureCache
{
  GHashTable *kept;          /* digest -> Kept */
  gsize bytes, max_bytes;
  guint64 count;
};

static void
kept_free (gpointer data)
{
  Kept *kept = data;

  ws_picture_levels_unref (kept->levels);
  g_free (kept);
}

WsPictureCache *
ws_picture_cache_new (gsize max_bytes)
{
  WsPictureCache *cache = g_new0 (WsPictureCache, 1);

  cache->max_bytes = max_bytes;
  cache->kept = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, kept_free);
  return cache;
}

void
ws_picture_cache_free (WsPictureCache *cache)
{
  if (cache == NULL)
    return;
  g_hash_table_unref (cache->kept);
  g_free (cache);
}

WsPictureLevels *
ws_picture_cache_find (WsPictureCache *cache, const char *digest, int max_edge)
{
  Kept *kept = g_hash_table_lookup (cache->kept, digest);

  if (kept == NULL || !ws_picture_levels_serve (kept->levels, max_edge))
    return NULL;
  kept->used = ++cache->count;
  return ws_picture_levels_ref (kept->levels);
}

static void
forget (WsPictureCache *cache, const char *digest)
{
  Kept *kept = g_hash_table_lookup (cache->kept, digest);

  if (kept == NULL)
    return;
  cache->bytes -= kept->levels->bytes;
  g_hash_table_remove (cache->kept, digest);
}

/* There are tens of pictures at most, so looking at each is no work. */
static const char *
find_oldest (WsPictureCache *cache)
{
  GHashTableIter iter;
  gpointer digest, kept, oldest = NULL;
  guint64 used = G_MAXUINT64;

  g_hash_table_iter_init (&iter, cache->kept);
  while (g_hash_table_iter_next (&iter, &digest, &kept))
    if (((Kept *) kept)->used < used)
      {
        used = ((Kept *) kept)->used;
        oldest = digest;
      }
  return oldest;
}

void
ws_picture_cache_keep (WsPictureCache *cache, const char *digest, WsPictureLevels *levels)
{
  Kept *kept = g_hash_table_lookup (cache->kept, digest);

  if (levels->bytes > cache->max_bytes ||
      (kept != NULL && ws_picture_levels_get_edge (kept->levels) >= ws_picture_levels_get_edge (levels)))
    return;
  forget (cache, digest);
  while (cache->bytes + levels->bytes > cache->max_bytes)
    forget (cache, find_oldest (cache));
  kept = g_new0 (Kept, 1);
  kept->levels = ws_picture_levels_ref (levels);
  kept->used = ++cache->count;
  g_hash_table_insert (cache->kept, g_strdup (digest), kept);
  cache->bytes += levels->bytes;
}

gsize
ws_picture_cache_get_bytes (const WsPictureCache *cache)
{
  return cache->bytes;
}
