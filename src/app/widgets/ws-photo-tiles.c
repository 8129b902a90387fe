/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-photo-tiles.h"

#include <math.h>

#include "ws-blocking.h"

/* Neighbouring px on each side of a tile, so that scaling at its edge sees what it would see in one piece. */
#define OVERLAP 2

/* --- Levels ------------------------------------------------------------------------ */

WsPictureLevels *
ws_picture_levels_new (WsPicture *picture, int asked_edge)
{
  WsPictureLevels *levels = g_new0 (WsPictureLevels, 1);

  ws_blocking ("halving a picture");
  g_atomic_ref_count_init (&levels->refs);
  levels->pictures = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_picture_free);
  levels->full_width = picture->full_width;
  levels->full_height = picture->full_height;
  levels->good_for = asked_edge == 0 ? G_MAXINT : MAX (asked_edge, MAX (picture->width, picture->height));
  while (TRUE)
    {
      g_ptr_array_add (levels->pictures, picture);
      levels->bytes += g_bytes_get_size (picture->pixels);
      if (MAX (picture->width, picture->height) <= WS_PHOTO_TILE)
        return levels;
      picture = ws_picture_halve (picture);
    }
}

WsPictureLevels *
ws_picture_levels_ref (WsPictureLevels *levels)
{
  g_atomic_ref_count_inc (&levels->refs);
  return levels;
}

void
ws_picture_levels_unref (WsPictureLevels *levels)
{
  if (levels == NULL || !g_atomic_ref_count_dec (&levels->refs))
    return;
  g_ptr_array_unref (levels->pictures);
  g_free (levels);
}

static const WsPicture *
level_at (const WsPictureLevels *levels, guint i)
{
  return g_ptr_array_index (levels->pictures, i);
}

int
ws_picture_levels_get_edge (const WsPictureLevels *levels)
{
  return MAX (level_at (levels, 0)->width, level_at (levels, 0)->height);
}

gboolean
ws_picture_levels_is_full (const WsPictureLevels *levels)
{
  return level_at (levels, 0)->width >= levels->full_width;
}

gboolean
ws_picture_levels_serve (const WsPictureLevels *levels, int edge)
{
  return ws_picture_levels_is_full (levels) || levels->good_for >= (edge == 0 ? G_MAXINT : edge);
}

guint
ws_picture_levels_pick (const WsPictureLevels *levels, int photo_width, double device_zoom)
{
  /* Halving odd sizes rounds, so a level may be short of a px. */
  double needed = photo_width * device_zoom - 1;

  for (guint i = levels->pictures->len; i-- > 1;)
    if (level_at (levels, i)->width >= needed)
      return i;
  return 0;
}

/* --- Tiles ---------------------------------------------------------------------------- */

/* One axis: the photo starts at @start and has @size widget px, of which the level has @n px. */
typedef struct { double start, size, view; int n, scale; } Axis;

static double
place (const Axis *axis, double px)
{
  return axis->start + px * axis->size / axis->n;
}

static double
snapped (const Axis *axis, double px)
{
  return round (place (axis, px) * axis->scale) / axis->scale;
}

/* The first tile of the axis that shows and the one after the last. */
static void
visible_range (const Axis *axis, int *first, int *end)
{
  double px_per_unit = axis->n / axis->size;
  int n_tiles = (axis->n + WS_PHOTO_TILE - 1) / WS_PHOTO_TILE;
  double from = CLAMP ((0 - axis->start) * px_per_unit, 0, axis->n);
  double to = CLAMP ((axis->view - axis->start) * px_per_unit, 0, axis->n);

  *first = CLAMP ((int) floor (from / WS_PHOTO_TILE), 0, n_tiles);
  *end = CLAMP ((int) ceil (to / WS_PHOTO_TILE), 0, n_tiles);
}

/* One axis of tile number @i: px with overlap, where they belong, and the snapped part that is drawn. */
static void
lay_axis (const Axis *axis, int i, int *px, int *n_px, double bounds[2], double clip[2])
{
  int from = i * WS_PHOTO_TILE, to = MIN (from + WS_PHOTO_TILE, axis->n);

  clip[0] = snapped (axis, from);
  clip[1] = snapped (axis, to) - clip[0];
  from = MAX (from - OVERLAP, 0);
  to = MIN (to + OVERLAP, axis->n);
  *px = from;
  *n_px = to - from;
  bounds[0] = place (axis, from);
  bounds[1] = place (axis, to) - bounds[0];
}

static void
add_tile (GArray *list, guint level, int column, int row, const Axis *across, const Axis *down)
{
  WsPhotoTile tile = { .level = level, .column = column, .row = row };
  double bx[2], by[2], cx[2], cy[2];

  lay_axis (across, column, &tile.x, &tile.width, bx, cx);
  lay_axis (down, row, &tile.y, &tile.height, by, cy);
  graphene_rect_init (&tile.bounds, bx[0], by[0], bx[1], by[1]);
  graphene_rect_init (&tile.clip, cx[0], cy[0], cx[1], cy[1]);
  /* A sliver that rounds to nothing would give the renderer a matrix it cannot invert. */
  if (cx[1] > 0 && cy[1] > 0)
    g_array_append_val (list, tile);
}

GArray *
ws_photo_tiles_list (const WsPictureLevels *levels, const WsPhotoViewport *port)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (WsPhotoTile));
  Axis across = { .view = port->view_width, .scale = port->scale };
  Axis down = { .view = port->view_height, .scale = port->scale };
  int first_column, end_column, first_row, end_row;
  guint level;

  across.size = port->photo_width * port->zoom;
  down.size = port->photo_height * port->zoom;
  if (!(across.size > 0 && down.size > 0) || port->view_width <= 0 || port->view_height <= 0)
    return list;
  ws_photo_viewport_get_origin (port, &across.start, &down.start);
  level = ws_picture_levels_pick (levels, port->photo_width, port->zoom * port->scale);
  across.n = level_at (levels, level)->width;
  down.n = level_at (levels, level)->height;
  visible_range (&across, &first_column, &end_column);
  visible_range (&down, &first_row, &end_row);
  for (int row = first_row; row < end_row; row++)
    for (int column = first_column; column < end_column; column++)
      add_tile (list, level, column, row, &across, &down);
  return list;
}

typedef struct
{
  gint64 key;
  GdkTexture *texture;
  guint64 seen;             /* the drawing in which it was last used */
} Kept;

struct _WsPhotoTiles
{
  WsPictureLevels *levels;  /* (nullable) */
  GHashTable *kept;         /* &Kept.key -> Kept */
  guint64 drawing;
};

static void
kept_free (gpointer data)
{
  Kept *kept = data;

  g_object_unref (kept->texture);
  g_free (kept);
}

WsPhotoTiles *
ws_photo_tiles_new (void)
{
  WsPhotoTiles *tiles = g_new0 (WsPhotoTiles, 1);

  tiles->kept = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, kept_free);
  return tiles;
}

void
ws_photo_tiles_free (WsPhotoTiles *tiles)
{
  if (tiles == NULL)
    return;
  g_hash_table_unref (tiles->kept);
  ws_picture_levels_unref (tiles->levels);
  g_free (tiles);
}

void
ws_photo_tiles_set_levels (WsPhotoTiles *tiles, WsPictureLevels *levels)
{
  if (levels == tiles->levels)
    return;
  g_hash_table_remove_all (tiles->kept);
  ws_picture_levels_unref (tiles->levels);
  tiles->levels = levels != NULL ? ws_picture_levels_ref (levels) : NULL;
}

WsPictureLevels *
ws_photo_tiles_get_levels (WsPhotoTiles *tiles)
{
  return tiles->levels;
}

/* The tile's px are not copied: the texture looks at the level's rows. */
static GdkTexture *
texture_of (const WsPicture *picture, const WsPhotoTile *tile)
{
  gsize stride = (gsize) 3 * picture->width;
  gsize offset = tile->y * stride + (gsize) 3 * tile->x;
  gsize length = (tile->height - 1) * stride + (gsize) 3 * tile->width;
  g_autoptr (GBytes) bytes = g_bytes_new_from_bytes (picture->pixels, offset, length);

  return gdk_memory_texture_new (tile->width, tile->height, GDK_MEMORY_R8G8B8, bytes, stride);
}

static GdkTexture *
find_texture (WsPhotoTiles *tiles, const WsPhotoTile *tile)
{
  gint64 key = ((gint64) tile->level << 48) | ((gint64) tile->row << 24) | tile->column;
  Kept *kept = g_hash_table_lookup (tiles->kept, &key);

  if (kept == NULL)
    {
      kept = g_new0 (Kept, 1);
      kept->key = key;
      kept->texture = texture_of (level_at (tiles->levels, tile->level), tile);
      g_hash_table_replace (tiles->kept, &kept->key, kept);
    }
  kept->seen = tiles->drawing;
  return kept->texture;
}

static int
compare_seen (gconstpointer a, gconstpointer b)
{
  const Kept *first = a, *second = b;

  return first->seen < second->seen ? -1 : first->seen > second->seen;
}

/* Forgets the tiles not seen for longest. */
static void
trim (WsPhotoTiles *tiles)
{
  g_autoptr (GList) all = NULL;

  if (g_hash_table_size (tiles->kept) <= WS_PHOTO_TILES_KEPT)
    return;
  all = g_list_sort (g_hash_table_get_values (tiles->kept), compare_seen);
  for (GList *link = all; link != NULL && g_hash_table_size (tiles->kept) > WS_PHOTO_TILES_KEPT; link = link->next)
    {
      Kept *kept = link->data;

      if (kept->seen == tiles->drawing)
        return;
      g_hash_table_remove (tiles->kept, &kept->key);
    }
}

void
ws_photo_tiles_snapshot (WsPhotoTiles *tiles, GtkSnapshot *snapshot, const WsPhotoViewport *port)
{
  g_autoptr (GArray) list = NULL;

  if (tiles->levels == NULL)
    return;
  tiles->drawing++;
  list = ws_photo_tiles_list (tiles->levels, port);
  for (guint i = 0; i < list->len; i++)
    {
      const WsPhotoTile *tile = &g_array_index (list, WsPhotoTile, i);

      gtk_snapshot_push_clip (snapshot, &tile->clip);
      gtk_snapshot_append_texture (snapshot, find_texture (tiles, tile), &tile->bounds);
      gtk_snapshot_pop (snapshot);
    }
  trim (tiles);
}

guint
ws_photo_tiles_get_n_kept (WsPhotoTiles *tiles)
{
  return g_hash_table_size (tiles->kept);
}
