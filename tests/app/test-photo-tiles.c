/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Levels and tiles without a display: the render nodes are drawn on a cairo surface and looked at. */
#include <math.h>
#include <string.h>

#include "ws-photo-tiles.h"

/* A picture in which red grows across, green down, in whole steps of at most one code value a px; or, with
 * @plain, of one colour. */
static WsPicture *
picture_new (int width, int height, gboolean plain)
{
  WsPicture *picture = g_new0 (WsPicture, 1);
  guchar *pixels = g_malloc ((gsize) 3 * width * height);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        guchar *p = pixels + ((gsize) y * width + x) * 3;

        p[0] = plain ? 200 : x * 255 / MAX (width - 1, 1);
        p[1] = plain ? 60 : y * 255 / MAX (height - 1, 1);
        p[2] = 90;
      }
  *picture = (WsPicture) { width, height, g_bytes_new_take (pixels, (gsize) 3 * width * height), width, height };
  return picture;
}

static WsPhotoViewport
viewport (double width, double height, int photo_width, int photo_height)
{
  WsPhotoViewport port;

  ws_photo_viewport_init (&port);
  ws_photo_viewport_set_view (&port, width, height, 1);
  ws_photo_viewport_set_photo (&port, photo_width, photo_height);
  return port;
}

static void
levels_halve (void)
{
  g_autoptr (WsPictureLevels) levels = ws_picture_levels_new (picture_new (3000, 2001, FALSE), 0);
  g_autoptr (GString) sizes = g_string_new (NULL);

  g_test_summary ("Each level is half the one before, down to one tile");
  for (guint i = 0; i < levels->pictures->len; i++)
    {
      const WsPicture *level = g_ptr_array_index (levels->pictures, i);

      g_string_append_printf (sizes, "%d ", level->width);
      g_assert_cmpint (abs (level->height * 3000 - level->width * 2001), <=, 3000);
    }
  g_assert_cmpstr (sizes->str, ==, "3000 1500 750 375 ");
  g_assert_true (ws_picture_levels_is_full (levels));
  g_assert_cmpint (ws_picture_levels_get_edge (levels), ==, 3000);
}

static void
picks_the_level_that_fits (void)
{
  static const struct { double zoom; guint level; } cases[] = {
    { 8, 0 }, { 1, 0 }, { 0.51, 0 }, { 0.5, 1 }, { 0.3, 1 }, { 0.25, 2 }, { 0.2, 2 }, { 0.125, 3 }, { 0.01, 3 },
  };
  g_autoptr (WsPictureLevels) levels = ws_picture_levels_new (picture_new (4096, 300, TRUE), 0);

  g_test_summary ("The smallest level with a px for every px of the screen");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpuint (ws_picture_levels_pick (levels, 4096, cases[i].zoom), ==, cases[i].level);
  /* Of a picture read at a quarter of the photo's size, the largest there is. */
  g_assert_cmpuint (ws_picture_levels_pick (levels, 4 * 4096, 1), ==, 0);
  g_assert_cmpuint (ws_picture_levels_pick (levels, 4 * 4096, 0.125), ==, 1);
}

static void
only_what_shows (void)
{
  g_autoptr (WsPictureLevels) levels = ws_picture_levels_new (picture_new (5000, 4000, TRUE), 0);
  WsPhotoViewport port = viewport (800, 600, 5000, 4000);

  g_test_summary ("Only tiles in the view are listed, they meet without a gap and cover all of the photo in the view");
  for (double zoom = port.zoom; zoom < 8; zoom *= 1.31)
    {
      g_autoptr (GArray) list = NULL;
      double area = 0, ox, oy, seen_w, seen_h;

      ws_photo_viewport_zoom_at (&port, 333, 222, zoom);
      list = ws_photo_tiles_list (levels, &port, FALSE);
      g_assert_cmpuint (list->len, >, 0);
      g_assert_cmpuint (list->len, <=, 20);
      for (guint i = 0; i < list->len; i++)
        {
          const WsPhotoTile *tile = &g_array_index (list, WsPhotoTile, i);
          double x0 = MAX (tile->clip.origin.x, 0), x1 = MIN (tile->clip.origin.x + tile->clip.size.width, 800);
          double y0 = MAX (tile->clip.origin.y, 0), y1 = MIN (tile->clip.origin.y + tile->clip.size.height, 600);

          g_assert_cmpfloat (x1, >=, x0);
          g_assert_cmpfloat (y1, >=, y0);
          g_assert_cmpfloat (tile->clip.origin.x, ==, roundf (tile->clip.origin.x));
          g_assert_cmpfloat (tile->clip.origin.y, ==, roundf (tile->clip.origin.y));
          area += (x1 - x0) * (y1 - y0);
        }
      ws_photo_viewport_get_origin (&port, &ox, &oy);
      seen_w = MIN (floor (ox + 5000 * port.zoom + 1e-6), 800) - MAX (ox, 0);
      seen_h = MIN (floor (oy + 4000 * port.zoom + 1e-6), 600) - MAX (oy, 0);
      g_assert_cmpfloat_with_epsilon (area, seen_w * seen_h, 0.01);
    }
}

static void
nothing_of_nothing (void)
{
  g_autoptr (WsPictureLevels) levels = ws_picture_levels_new (picture_new (600, 400, TRUE), 0);
  static const double sizes[][2] = { { 0, 0 }, { 0, 500 }, { 1, 1 }, { 3, 900 } };

  g_test_summary ("A view without room lists no tile of no size, which renderers cannot draw");
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      WsPhotoViewport port = viewport (sizes[i][0], sizes[i][1], 600, 400);
      g_autoptr (GArray) list = ws_photo_tiles_list (levels, &port, FALSE);

      for (guint j = 0; j < list->len; j++)
        {
          const WsPhotoTile *tile = &g_array_index (list, WsPhotoTile, j);

          g_assert_cmpfloat (tile->clip.size.width, >, 0);
          g_assert_cmpfloat (tile->clip.size.height, >, 0);
          g_assert_cmpfloat (tile->bounds.size.width, >, 0);
          g_assert_cmpfloat (tile->bounds.size.height, >, 0);
        }
    }
}

/* What @tiles draw in @port, on a surface of the view's size, black where nothing was drawn. */
static cairo_surface_t *
draw (WsPhotoTiles *tiles, const WsPhotoViewport *port)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, port->view_width, port->view_height);
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  cairo_t *cr = cairo_create (surface);
  GskRenderNode *node;

  ws_photo_tiles_snapshot (tiles, snapshot, port);
  node = gtk_snapshot_free_to_node (snapshot);
  g_assert_nonnull (node);
  gsk_render_node_draw (node, cr);
  gsk_render_node_unref (node);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static guint32
pixel (cairo_surface_t *surface, int x, int y)
{
  const guchar *data = cairo_image_surface_get_data (surface);

  return *(const guint32 *) (data + (gsize) y * cairo_image_surface_get_stride (surface) + 4 * x) & 0xffffff;
}

static void
no_seams (void)
{
  g_autoptr (WsPictureLevels) levels = ws_picture_levels_new (picture_new (2501, 1903, TRUE), 0);
  g_autoptr (WsPhotoTiles) tiles = ws_photo_tiles_new ();
  WsPhotoViewport port = viewport (640, 480, 2501, 1903);

  g_test_summary ("A photo of one colour is drawn in that colour everywhere: nothing shines through between tiles");
  ws_photo_tiles_set_levels (tiles, levels);
  for (double zoom = 0.3; zoom < 8; zoom *= 1.173)
    {
      cairo_surface_t *surface;

      ws_photo_viewport_zoom_at (&port, 320.3, 240.7, zoom);
      if (port.zoom * 2501 < 660 || port.zoom * 1903 < 500)
        continue;
      surface = draw (tiles, &port);
      for (int y = 0; y < 480; y++)
        for (int x = 0; x < 640; x++)
          g_assert_cmphex (pixel (surface, x, y), ==, 0xc83c5a);
      cairo_surface_destroy (surface);
    }
}

static void
pixels_are_exact (void)
{
  g_autoptr (WsPictureLevels) levels = ws_picture_levels_new (picture_new (1500, 1100, FALSE), 0);
  g_autoptr (WsPhotoTiles) tiles = ws_photo_tiles_new ();
  WsPhotoViewport port = viewport (640, 480, 1500, 1100);
  const WsPicture *picture = g_ptr_array_index (levels->pictures, 0);
  const guchar *pixels = g_bytes_get_data (picture->pixels, NULL);
  cairo_surface_t *surface;
  double ox, oy;

  g_test_summary ("At 1:1 every px of the screen is the photo's own px, across the edges of tiles too");
  ws_photo_tiles_set_levels (tiles, levels);
  ws_photo_viewport_zoom_at (&port, 320, 240, 1);
  ws_photo_viewport_get_origin (&port, &ox, &oy);
  surface = draw (tiles, &port);
  for (int y = 0; y < 480; y++)
    for (int x = 0; x < 640; x++)
      {
        const guchar *p = pixels + ((gsize) (y - (int) oy) * 1500 + x - (int) ox) * 3;

        g_assert_cmphex (pixel (surface, x, y), ==, (guint32) p[0] << 16 | p[1] << 8 | p[2]);
      }
  cairo_surface_destroy (surface);
}

static void
lies_where_it_belongs (void)
{
  g_autoptr (WsPictureLevels) levels = ws_picture_levels_new (picture_new (2304, 1536, FALSE), 0);
  g_autoptr (WsPhotoTiles) tiles = ws_photo_tiles_new ();
  WsPhotoViewport port = viewport (640, 480, 2304, 1536);

  g_test_summary ("At any zoom, from any level, hurried and at rest, the colours lie where the viewport says");
  ws_photo_tiles_set_levels (tiles, levels);
  for (int i = 0; i < 30; i++)
    {
      cairo_surface_t *surface;

      if (i % 2 == 0)
        ws_photo_viewport_zoom_at (&port, 320, 240, port.zoom * 1.3);
      surface = draw (tiles, &port);
      for (int y = 5; y < 480; y += 23)
        for (int x = 5; x < 640; x += 23)
          {
            WsPoint at = ws_photo_viewport_to_photo (&port, x + 0.5, y + 0.5);
            guint32 seen = pixel (surface, x, y);

            if (at.x < 0.01 || at.x > 0.99 || at.y < 0.01 || at.y > 0.99)
              continue;
            /* 255 steps over 2304 px: 2 steps are 18 px of the photo, at the least zoom 5 px of the screen. */
            g_assert_cmpfloat_with_epsilon (seen >> 16, at.x * 255, 2);
            g_assert_cmpfloat_with_epsilon (seen >> 8 & 0xff, at.y * 255, 2);
          }
      cairo_surface_destroy (surface);
    }
}

static void
hurries_then_rests (void)
{
  g_autoptr (WsPictureLevels) levels = ws_picture_levels_new (picture_new (4096, 300, TRUE), 0);
  WsPhotoViewport port = viewport (2000, 200, 4096, 300);
  g_autoptr (WsPhotoTiles) tiles = ws_photo_tiles_new ();
  g_autoptr (GArray) hurried = NULL, rested = NULL;
  GtkSnapshot *snapshot = gtk_snapshot_new ();

  g_test_summary ("While the zoom changes a coarser level serves, but not one below two thirds; at rest the right one");
  ws_photo_viewport_zoom_at (&port, 1000, 100, 0.7);
  hurried = ws_photo_tiles_list (levels, &port, TRUE);
  rested = ws_photo_tiles_list (levels, &port, FALSE);
  g_assert_cmpuint (g_array_index (hurried, WsPhotoTile, 0).level, ==, 1);
  g_assert_cmpuint (g_array_index (rested, WsPhotoTile, 0).level, ==, 0);

  ws_photo_tiles_set_levels (tiles, levels);
  g_assert_false (ws_photo_tiles_snapshot (tiles, snapshot, &port));
  g_assert_true (ws_photo_tiles_snapshot (tiles, snapshot, &port));
  ws_photo_viewport_pan (&port, -20, 0);
  g_assert_true (ws_photo_tiles_snapshot (tiles, snapshot, &port));
  ws_photo_viewport_zoom_at (&port, 0, 0, 0.8);
  g_assert_false (ws_photo_tiles_snapshot (tiles, snapshot, &port));
  gsk_render_node_unref (gtk_snapshot_free_to_node (snapshot));
}

static void
moving_is_the_same (void)
{
  g_autoptr (WsPictureLevels) levels = ws_picture_levels_new (picture_new (2304, 1536, FALSE), 0);
  g_autoptr (WsPhotoTiles) kept = ws_photo_tiles_new ();
  WsPhotoViewport port = viewport (640, 480, 2304, 1536);

  g_test_summary ("Drawn from tiles kept at the screen's size, a photo that is moved looks as if drawn afresh");
  ws_photo_tiles_set_levels (kept, levels);
  for (double zoom = port.zoom; zoom < 1.5; zoom *= 1.31)
    {
      ws_photo_viewport_zoom_at (&port, 320, 240, zoom);
      for (int i = 0; i < 6; i++)
        {
          g_autoptr (WsPhotoTiles) fresh = ws_photo_tiles_new ();
          cairo_surface_t *one, *two;

          ws_photo_tiles_set_levels (fresh, levels);
          one = draw (kept, &port);
          cairo_surface_destroy (draw (fresh, &port));
          two = draw (fresh, &port);
          if (i == 0)
            {
              cairo_surface_destroy (one);
              one = draw (kept, &port);
            }
          for (int y = 0; y < 480; y++)
            for (int x = 0; x < 640; x++)
              g_assert_cmphex (pixel (one, x, y), ==, pixel (two, x, y));
          cairo_surface_destroy (one);
          cairo_surface_destroy (two);
          ws_photo_viewport_pan (&port, 17.3, -31);
        }
      g_assert_true (zoom > 1 || ws_photo_tiles_get_n_scaled (kept) > 0);
    }
}

static void
cache_is_bounded (void)
{
  g_autoptr (WsPictureLevels) levels = ws_picture_levels_new (picture_new (12000, 12000, TRUE), 0);
  g_autoptr (WsPhotoTiles) tiles = ws_photo_tiles_new ();
  WsPhotoViewport port = viewport (900, 700, 12000, 12000);
  guint most = 0, most_scaled = 0;

  g_test_summary ("Wandering over 576 tiles keeps no more than the bound; a new photo forgets them all");
  ws_photo_tiles_set_levels (tiles, levels);
  ws_photo_viewport_zoom_at (&port, 450, 350, 1);
  ws_photo_viewport_pan (&port, 1e6, 1e6);
  for (int row = 0; row < 18; row++)
    {
      for (int column = 0; column < 15; column++)
        {
          GtkSnapshot *snapshot = gtk_snapshot_new ();

          ws_photo_tiles_snapshot (tiles, snapshot, &port);
          gsk_render_node_unref (gtk_snapshot_free_to_node (snapshot));
          most = MAX (most, ws_photo_tiles_get_n_kept (tiles));
          most_scaled = MAX (most_scaled, ws_photo_tiles_get_n_scaled (tiles));
          ws_photo_viewport_pan (&port, -800, 0);
        }
      ws_photo_viewport_pan (&port, 1e6, -650);
    }
  g_assert_cmpuint (most, ==, WS_PHOTO_TILES_KEPT);
  g_assert_cmpuint (most_scaled, ==, WS_PHOTO_TILES_KEPT_SCALED);
  ws_photo_tiles_set_levels (tiles, NULL);
  g_assert_cmpuint (ws_photo_tiles_get_n_kept (tiles), ==, 0);
  g_assert_cmpuint (ws_photo_tiles_get_n_scaled (tiles), ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  /* Makes the types of render nodes known; it does not matter whether there is a display. */
  gtk_init_check ();
  g_test_add_func ("/app/photo-tiles/levels-halve", levels_halve);
  g_test_add_func ("/app/photo-tiles/picks-the-level-that-fits", picks_the_level_that_fits);
  g_test_add_func ("/app/photo-tiles/only-what-shows", only_what_shows);
  g_test_add_func ("/app/photo-tiles/nothing-of-nothing", nothing_of_nothing);
  g_test_add_func ("/app/photo-tiles/no-seams", no_seams);
  g_test_add_func ("/app/photo-tiles/pixels-are-exact", pixels_are_exact);
  g_test_add_func ("/app/photo-tiles/lies-where-it-belongs", lies_where_it_belongs);
  g_test_add_func ("/app/photo-tiles/hurries-then-rests", hurries_then_rests);
  g_test_add_func ("/app/photo-tiles/moving-is-the-same", moving_is_the_same);
  g_test_add_func ("/app/photo-tiles/cache-is-bounded", cache_is_bounded);
  return g_test_run ();
}
