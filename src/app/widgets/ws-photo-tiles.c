/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-photo-tiles.h"

#include <math.h>

/* Neighbouring px on each side of a tile, so that scaling at its edge sees what it would see in one piece. */
#define OVERLAP 2
/* Tiles scaled in one drawing, so that no drawing takes much longer than another. */
#define SCALED_AT_ONCE 8
/* While the zoom changes, a level is good enough with this share of the screen's px: shrinking by more than a third
 * is slow, since the renderer then looks at every px of the level, and nobody sees the difference before it stands
 * still. */
#define HURRIED 0.66

/* --- Where tiles lie ----------------------------------------------------------------------- */

/* One axis: the photo starts at @start and has @size widget px, of which the level has @n px. */
typedef struct { double start, size, view; int n, scale; } Axis;

static double
place (const Axis *axis, double px)
{
  return axis->start + px * axis->size / axis->n;
}

/* On a whole device px; the photo's end on the last one that it covers, for half a px would show what is behind. */
static double
snapped (const Axis *axis, double px)
{
  double at = place (axis, px) * axis->scale;

  return (px >= axis->n ? floor (at + 1e-6) : round (at)) / axis->scale;
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
ws_photo_tiles_list (const WsPictureLevels *levels, const WsPhotoViewport *port, gboolean hurried)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (WsPhotoTile));
  Axis across = { .view = port->view_width, .scale = port->scale };
  Axis down = { .view = port->view_height, .scale = port->scale };
  int first_column, end_column, first_row, end_row;
  const WsPicture *picture;
  guint level;

  across.size = port->photo_width * port->zoom;
  down.size = port->photo_height * port->zoom;
  if (!(across.size > 0 && down.size > 0) || port->view_width <= 0 || port->view_height <= 0)
    return list;
  ws_photo_viewport_get_origin (port, &across.start, &down.start);
  level = ws_picture_levels_pick (levels, port->photo_width, port->zoom * port->scale * (hurried ? HURRIED : 1));
  picture = g_ptr_array_index (levels->pictures, level);
  across.n = picture->width;
  down.n = picture->height;
  visible_range (&across, &first_column, &end_column);
  visible_range (&down, &first_row, &end_row);
  for (int row = first_row; row < end_row; row++)
    for (int column = first_column; column < end_column; column++)
      add_tile (list, level, column, row, &across, &down);
  return list;
}

/* --- Textures ------------------------------------------------------------------------------ */

typedef struct
{
  gint64 key;
  GdkTexture *texture;
  guint64 seen;             /* the drawing in which it was last used */
} Kept;

struct _WsPhotoTiles
{
  WsPictureLevels *levels;  /* (nullable) */
  GHashTable *kept;         /* &Kept.key -> Kept: px of the level */
  GHashTable *scaled;       /* the same: px of the screen, all of one zoom */
  double scaled_zoom;       /* device px per photo px of what is scaled… */
  int scaled_width;         /* …and the photo's width */
  guint64 drawing;
};

static void
kept_free (gpointer data)
{
  Kept *kept = data;

  g_object_unref (kept->texture);
  g_free (kept);
}

static GHashTable *
cache_new (void)
{
  return g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, kept_free);
}

static gint64
key_of (const WsPhotoTile *tile)
{
  return ((gint64) tile->level << 48) | ((gint64) tile->row << 24) | tile->column;
}

static GdkTexture *
cache_find (GHashTable *cache, const WsPhotoTile *tile, guint64 drawing)
{
  gint64 key = key_of (tile);
  Kept *kept = g_hash_table_lookup (cache, &key);

  if (kept == NULL)
    return NULL;
  kept->seen = drawing;
  return kept->texture;
}

/* (@texture: transfer full) */
static GdkTexture *
cache_add (GHashTable *cache, const WsPhotoTile *tile, GdkTexture *texture, guint64 drawing)
{
  Kept *kept = g_new0 (Kept, 1);

  kept->key = key_of (tile);
  kept->texture = texture;
  kept->seen = drawing;
  g_hash_table_replace (cache, &kept->key, kept);
  return texture;
}

static int
compare_seen (gconstpointer a, gconstpointer b)
{
  const Kept *first = a, *second = b;

  return first->seen < second->seen ? -1 : first->seen > second->seen;
}

/* Forgets the tiles not seen for longest. */
static void
cache_trim (GHashTable *cache, guint most, guint64 drawing)
{
  g_autoptr (GList) all = NULL;

  if (g_hash_table_size (cache) <= most)
    return;
  all = g_list_sort (g_hash_table_get_values (cache), compare_seen);
  for (GList *link = all; link != NULL && g_hash_table_size (cache) > most; link = link->next)
    {
      Kept *kept = link->data;

      if (kept->seen == drawing)
        return;
      g_hash_table_remove (cache, &kept->key);
    }
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
  GdkTexture *texture = cache_find (tiles->kept, tile, tiles->drawing);

  if (texture != NULL)
    return texture;
  texture = texture_of (g_ptr_array_index (tiles->levels->pictures, tile->level), tile);
  return cache_add (tiles->kept, tile, texture, tiles->drawing);
}

/* The px of a surface without their unused bytes. */
static GBytes *
pack (cairo_surface_t *surface, int width, int height)
{
  const guchar *row = cairo_image_surface_get_data (surface);
  gsize length = (gsize) 3 * width * height;
  guchar *packed = g_malloc (length), *to = packed;

  for (int y = 0; y < height; y++, row += cairo_image_surface_get_stride (surface))
    for (int x = 0; x < width; x++, to += 3)
      {
        guint32 px = ((const guint32 *) row)[x];

        to[0] = px >> 16;
        to[1] = px >> 8;
        to[2] = px;
      }
  return g_bytes_new_take (packed, length);
}

/* What the renderer would draw in the tile's clip, as px of the screen. R8G8B8 again: it is known to have no alpha,
 * and copied fastest. */
static GdkTexture *
scale (GdkTexture *texture, const WsPhotoTile *tile, int device_scale)
{
  int width = lround (tile->clip.size.width * device_scale);
  int height = lround (tile->clip.size.height * device_scale);
  cairo_surface_t *from = cairo_image_surface_create (CAIRO_FORMAT_RGB24, tile->width, tile->height);
  cairo_surface_t *to = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (to);
  g_autoptr (GBytes) bytes = NULL;

  gdk_texture_download (texture, cairo_image_surface_get_data (from), cairo_image_surface_get_stride (from));
  cairo_surface_mark_dirty (from);
  cairo_scale (cr, device_scale, device_scale);
  cairo_translate (cr, tile->bounds.origin.x - tile->clip.origin.x, tile->bounds.origin.y - tile->clip.origin.y);
  cairo_scale (cr, tile->bounds.size.width / tile->width, tile->bounds.size.height / tile->height);
  cairo_set_source_surface (cr, from, 0, 0);
  cairo_pattern_set_extend (cairo_get_source (cr), CAIRO_EXTEND_PAD);
  cairo_paint (cr);
  cairo_destroy (cr);
  cairo_surface_flush (to);
  bytes = pack (to, width, height);
  cairo_surface_destroy (from);
  cairo_surface_destroy (to);
  return gdk_memory_texture_new (width, height, GDK_MEMORY_R8G8B8, bytes, (gsize) 3 * width);
}

/* TRUE if the tile's own px are at least those of the screen; enlarged ones would need more room than they save. */
static gboolean
shrinks (const WsPhotoTile *tile, int device_scale)
{
  return tile->bounds.size.width * device_scale <= tile->width * 1.001;
}

/* --- Drawing --------------------------------------------------------------------------------- */

WsPhotoTiles *
ws_photo_tiles_new (void)
{
  WsPhotoTiles *tiles = g_new0 (WsPhotoTiles, 1);

  tiles->kept = cache_new ();
  tiles->scaled = cache_new ();
  return tiles;
}

void
ws_photo_tiles_free (WsPhotoTiles *tiles)
{
  if (tiles == NULL)
    return;
  g_hash_table_unref (tiles->kept);
  g_hash_table_unref (tiles->scaled);
  ws_picture_levels_unref (tiles->levels);
  g_free (tiles);
}

void
ws_photo_tiles_set_levels (WsPhotoTiles *tiles, WsPictureLevels *levels)
{
  if (levels == tiles->levels)
    return;
  g_hash_table_remove_all (tiles->kept);
  g_hash_table_remove_all (tiles->scaled);
  ws_picture_levels_unref (tiles->levels);
  tiles->levels = levels != NULL ? ws_picture_levels_ref (levels) : NULL;
}

WsPictureLevels *
ws_photo_tiles_get_levels (WsPhotoTiles *tiles)
{
  return tiles->levels;
}

/* TRUE if the zoom is that of the last drawing. */
static gboolean
zoom_rests (WsPhotoTiles *tiles, const WsPhotoViewport *port)
{
  double zoom = port->zoom * port->scale;

  if (zoom == tiles->scaled_zoom && port->photo_width == tiles->scaled_width)
    return TRUE;
  g_hash_table_remove_all (tiles->scaled);
  tiles->scaled_zoom = zoom;
  tiles->scaled_width = port->photo_width;
  return FALSE;
}

/* The tile at the screen's size, if it is there or may be made now. */
static GdkTexture *
find_scaled (WsPhotoTiles *tiles, const WsPhotoTile *tile, int device_scale, int *may_make)
{
  GdkTexture *texture = cache_find (tiles->scaled, tile, tiles->drawing);

  if (texture != NULL || *may_make <= 0 || !shrinks (tile, device_scale))
    return texture;
  (*may_make)--;
  texture = scale (find_texture (tiles, tile), tile, device_scale);
  return cache_add (tiles->scaled, tile, texture, tiles->drawing);
}

gboolean
ws_photo_tiles_snapshot (WsPhotoTiles *tiles, GtkSnapshot *snapshot, const WsPhotoViewport *port)
{
  g_autoptr (GArray) list = NULL;
  gboolean hurried;
  int may_make;

  if (tiles->levels == NULL)
    return TRUE;
  tiles->drawing++;
  hurried = !zoom_rests (tiles, port);
  may_make = hurried ? 0 : SCALED_AT_ONCE;
  list = ws_photo_tiles_list (tiles->levels, port, hurried);
  for (guint i = 0; i < list->len; i++)
    {
      const WsPhotoTile *tile = &g_array_index (list, WsPhotoTile, i);
      GdkTexture *scaled = find_scaled (tiles, tile, port->scale, &may_make);

      if (scaled != NULL)
        {
          gtk_snapshot_append_texture (snapshot, scaled, &tile->clip);
          continue;
        }
      gtk_snapshot_push_clip (snapshot, &tile->clip);
      gtk_snapshot_append_texture (snapshot, find_texture (tiles, tile), &tile->bounds);
      gtk_snapshot_pop (snapshot);
    }
  cache_trim (tiles->kept, WS_PHOTO_TILES_KEPT, tiles->drawing);
  cache_trim (tiles->scaled, WS_PHOTO_TILES_KEPT_SCALED, tiles->drawing);
  return !hurried;
}

guint
ws_photo_tiles_get_n_kept (WsPhotoTiles *tiles)
{
  return g_hash_table_size (tiles->kept);
}

guint
ws_photo_tiles_get_n_scaled (WsPhotoTiles *tiles)
{
  return g_hash_table_size (tiles->scaled);
}
