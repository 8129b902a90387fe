/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Paths along edges on pictures whose edges are known because they were painted, and on what nobody should hand in. */
#include "ws-edge-path.h"

#include <math.h>
#include <string.h>

#define WIDTH 320
#define HEIGHT 240

static WsPicture *
picture_new (int width, int height, guchar grey)
{
  WsPicture *picture = g_new0 (WsPicture, 1);
  gsize size = 3 * (gsize) width * height;
  guchar *pixels = g_malloc (MAX (size, 1));

  memset (pixels, grey, size);
  *picture = (WsPicture) { width, height, g_bytes_new_take (pixels, size), width, height };
  return picture;
}

static guchar *
pixel (WsPicture *picture, int x, int y)
{
  return (guchar *) g_bytes_get_data (picture->pixels, NULL) + 3 * ((gsize) y * picture->width + x);
}

/* An ellipse of another colour, with every pixel made a little rough. */
static WsPicture *
ellipse (const guchar inside[3], const guchar outside[3], int rough)
{
  WsPicture *picture = picture_new (WIDTH, HEIGHT, 0);
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);

  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      {
        double dx = (x + 0.5 - 160) / 100, dy = (y + 0.5 - 120) / 60;

        for (int i = 0; i < 3; i++)
          pixel (picture, x, y)[i] = (dx * dx + dy * dy <= 1 ? inside : outside)[i] + g_rand_int_range (rand, -rough, rough + 1);
      }
  return picture;
}

/* On the ellipse, by angle in degrees, and px farther out. */
static WsPoint
on_ellipse (double angle, double out)
{
  double a = angle * G_PI / 180;

  return (WsPoint) { (160 + (100 + out) * cos (a)) / WIDTH, (120 + (60 + out) * sin (a)) / HEIGHT };
}

/* How far a point is from the ellipse, px: by its distance from the nearest of many points of it. */
static double
off_ellipse (const WsPoint *p)
{
  double least = INFINITY;

  for (int i = 0; i < 3600; i++)
    {
      WsPoint q = on_ellipse (i / 10.0, 0);

      least = MIN (least, hypot ((p->x - q.x) * WIDTH, (p->y - q.y) * HEIGHT));
    }
  return least;
}

static WsEdgePath *
edges_of (const WsPicture *picture)
{
  return ws_edge_path_new (picture, &(WsRect) { 0, 0, 1, 1 }, NULL);
}

static void
follows (void)
{
  /* Two colours of the same lightness (0.30 R + 0.59 G + 0.11 B) are an edge as well. */
  static const guchar light[3] = { 200, 190, 180 }, dark[3] = { 90, 80, 70 }, red[3] = { 150, 80, 60 }, green[3] = { 60, 125, 64 };
  static const struct { const guchar *inside, *outside; int rough; } cases[] = {
    { light, dark, 0 }, { dark, light, 12 }, { red, green, 0 }, { red, green, 8 },
  };

  g_test_summary ("From two clicks beside an ellipse the path runs along it, not straight, whatever the colours");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsPicture) picture = ellipse (cases[i].inside, cases[i].outside, cases[i].rough);
      g_autoptr (WsEdgePath) edges = edges_of (picture);
      g_autoptr (GArray) path = g_array_new (FALSE, FALSE, sizeof (WsPoint));
      WsPoint from = on_ellipse (200, 3), to = on_ellipse (290, -3);

      g_assert_cmpfloat (ws_edge_path_get_width (edges), ==, WIDTH);
      from = ws_edge_path_snap (edges, &from);
      to = ws_edge_path_snap (edges, &to);
      g_assert_cmpfloat (off_ellipse (&from), <=, 1.5);
      ws_edge_path_follow (edges, &from, &to, NULL, path);
      g_assert_cmpuint (path->len, >, 60);
      g_assert_cmpfloat (g_array_index (path, WsPoint, 0).x, ==, from.x);
      for (guint k = 0; k < path->len; k++)
        g_assert_cmpfloat (off_ellipse (&g_array_index (path, WsPoint, k)), <=, 2);
    }
}

static void
outlines (void)
{
  static const guchar light[3] = { 200, 190, 180 }, dark[3] = { 90, 80, 70 };
  g_autoptr (WsPicture) picture = ellipse (light, dark, 6);
  g_autoptr (WsEdgePath) edges = edges_of (picture);
  WsPoint corners[5];
  g_autoptr (WsShape) shape = NULL;

  g_test_summary ("Five corners give the whole outline, within 2 px of the truth, in few points");
  for (int i = 0; i < 5; i++)
    corners[i] = on_ellipse (20 + 72 * i, i % 2 ? 3 : -3);
  shape = ws_edge_path_outline (edges, corners, 5);
  g_assert_nonnull (shape);
  g_assert_cmpint (shape->kind, ==, WS_SHAPE_OUTLINE);
  g_assert_cmpuint (shape->n_points, >=, 12);
  g_assert_cmpuint (shape->n_points, <=, 120);
  for (guint i = 0; i < shape->n_points; i++)
    g_assert_cmpfloat (off_ellipse (&shape->points[i]), <=, 2);
  g_assert_cmpfloat_with_epsilon (shape->bounds.width, 200.0 / WIDTH, 4.0 / WIDTH);
  g_assert_cmpfloat_with_epsilon (shape->bounds.height, 120.0 / HEIGHT, 4.0 / HEIGHT);
  g_assert_null (ws_edge_path_outline (edges, corners, 2));
}

static void
goes_to_the_frame (void)
{
  g_autoptr (WsPicture) picture = picture_new (WIDTH, HEIGHT, 60);
  g_autoptr (WsEdgePath) edges = NULL, inner = NULL;
  g_autoptr (GArray) path = g_array_new (FALSE, FALSE, sizeof (WsPoint));
  WsPoint from = { 0.5, 0.02 }, to = { 0.02, 0.5 };
  guint n_beside = 0;

  g_test_summary ("The picture's own frame is an edge, for parts that are cut off; the border of what was looked at is none");
  edges = edges_of (picture);
  from = ws_edge_path_snap (edges, &from);
  to = ws_edge_path_snap (edges, &to);
  ws_edge_path_follow (edges, &from, &to, NULL, path);
  for (guint i = 0; i < path->len; i++)
    {
      const WsPoint *p = &g_array_index (path, WsPoint, i);

      n_beside += p->x * WIDTH > 6 && p->y * HEIGHT > 6;
    }
  g_assert_cmpuint (n_beside, ==, 0);

  inner = ws_edge_path_new (picture, &(WsRect) { 0.25, 0.25, 0.5, 0.5 }, NULL);
  from = (WsPoint) { 0.5, 0.26 };
  to = ws_edge_path_snap (inner, &from);
  g_assert_cmpfloat (to.x, ==, from.x);
  g_assert_cmpfloat (to.y, ==, from.y);
}

static void
keeps_off (void)
{
  g_autoptr (WsPicture) picture = picture_new (WIDTH, HEIGHT, 60);
  g_autoptr (WsEdgePath) edges = NULL;
  g_autoptr (GArray) first = g_array_new (FALSE, FALSE, sizeof (WsPoint)), second = g_array_new (FALSE, FALSE, sizeof (WsPoint));
  WsPoint a = { 40.5 / WIDTH, 100.5 / HEIGHT }, b = { 280.5 / WIDTH, 100.5 / HEIGHT };
  double most = 0;

  g_test_summary ("A thin bar has two sides: the way back takes the other one");
  for (int y = 100; y < 112; y++)
    for (int x = 40; x < 281; x++)
      memset (pixel (picture, x, y), 220, 3);
  edges = edges_of (picture);
  ws_edge_path_follow (edges, &a, &b, NULL, first);
  ws_edge_path_follow (edges, &b, &a, first, second);
  for (guint i = 0; i < first->len; i++)
    g_assert_cmpfloat (fabs (g_array_index (first, WsPoint, i).y * HEIGHT - 100), <=, 2);
  for (guint i = 0; i < second->len; i++)
    most = MAX (most, g_array_index (second, WsPoint, i).y * HEIGHT);
  g_assert_cmpfloat_with_epsilon (most, 112, 2);
}

static void
simplifies (void)
{
  WsPoint square[400], round[20000];
  g_autoptr (WsShape) shape = NULL, many = NULL;

  g_test_summary ("What lies on a line goes, corners stay; a wild line keeps to the bound; nothing comes of nothing");
  for (int i = 0; i < 400; i++)
    {
      double at = i % 100 / 100.0;

      square[i] = i < 100 ? (WsPoint) { 0.2 + at * 0.5, 0.2 } : i < 200 ? (WsPoint) { 0.7, 0.2 + at * 0.5 }
                : i < 300 ? (WsPoint) { 0.7 - at * 0.5, 0.7 } : (WsPoint) { 0.2, 0.7 - at * 0.5 };
    }
  shape = ws_edge_path_simplify (square, 400, 1000, 1000);
  g_assert_cmpuint (shape->n_points, ==, 4);
  for (int i = 0; i < 20000; i++)
    round[i] = (WsPoint) { 0.5 + (i % 2 ? 0.4 : 0.2) * cos (i * G_PI / 10000), 0.5 + (i % 2 ? 0.4 : 0.2) * sin (i * G_PI / 10000) };
  many = ws_edge_path_simplify (round, 20000, 4000, 4000);
  g_assert_cmpuint (many->n_points, <=, WS_EDGE_PATH_MAX_POINTS);
  g_assert_null (ws_edge_path_simplify (square, 2, 1000, 1000));
  g_assert_null (ws_edge_path_simplify (square, 100, 1000, 1000));
}

static void
stands_anything (void)
{
  static const struct { int width, height; } sizes[] = { { 1, 1 }, { 2, 1 }, { 1, 300 }, { 300, 2 }, { 47, 47 }, { 97, 400 } };
  WsPoint odd[] = { { -1, 0.5 }, { 0.5, 7 }, { NAN, 0.5 }, { 0.5, INFINITY }, { 0, 0 }, { 1, 1 }, { 0.5, 0.5 }, { 0.5, 0.5 } };
  g_autoptr (WsPicture) flat = picture_new (200, 150, 128), empty = picture_new (0, 0, 0);
  g_autoptr (GCancellable) cancelled = g_cancellable_new ();
  g_autofree WsPoint *crowd = g_new0 (WsPoint, WS_EDGE_PATH_MAX_CORNERS + 1);

  g_test_summary ("One px, a line of px, nothing at all, no edges, points outside and no numbers");
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      g_autoptr (WsPicture) small = picture_new (sizes[i].width, sizes[i].height, 99);
      g_autoptr (WsEdgePath) edges = edges_of (small);
      g_autoptr (GArray) path = g_array_new (FALSE, FALSE, sizeof (WsPoint));
      g_autoptr (WsShape) shape = NULL;

      g_assert_nonnull (edges);
      for (guint k = 0; k < G_N_ELEMENTS (odd); k++)
        for (guint j = 0; j < G_N_ELEMENTS (odd); j++)
          {
            WsPoint from = ws_edge_path_snap (edges, &odd[k]);

            g_array_set_size (path, 0);
            ws_edge_path_follow (edges, &from, &odd[j], path, path);
            g_assert_cmpuint (path->len, >=, 1);
          }
      shape = ws_edge_path_outline (edges, odd, G_N_ELEMENTS (odd));
    }
  g_assert_null (edges_of (empty));
  g_assert_null (ws_edge_path_new (flat, &(WsRect) { 0.5, 0.5, 0, 0 }, NULL));
  g_assert_null (ws_edge_path_new (flat, &(WsRect) { NAN, 0, 1, 1 }, NULL));
  g_cancellable_cancel (cancelled);
  g_assert_null (ws_edge_path_new (flat, &(WsRect) { 0, 0, 1, 1 }, cancelled));
  {
    g_autoptr (WsEdgePath) edges = edges_of (flat);
    WsPoint corners[] = { { 0.2, 0.2 }, { 0.8, 0.25 }, { 0.5, 0.8 } };
    g_autoptr (WsShape) shape = ws_edge_path_outline (edges, corners, 3);

    /* Without any edge the way is straight, but for the px. */
    g_assert_nonnull (shape);
    g_assert_cmpfloat_with_epsilon (shape->bounds.x, 0.2, 2.0 / 200);
    g_assert_cmpfloat_with_epsilon (shape->bounds.width, 0.6, 4.0 / 200);
    g_assert_null (ws_edge_path_outline (edges, crowd, WS_EDGE_PATH_MAX_CORNERS + 1));
    g_assert_null (ws_edge_path_outline (edges, crowd, WS_EDGE_PATH_MAX_CORNERS));
  }
}

static void
is_bounded (void)
{
  g_autoptr (WsPicture) huge = picture_new (4000, 3000, 30);
  g_autoptr (WsEdgePath) edges = NULL;
  g_autoptr (GArray) path = g_array_new (FALSE, FALSE, sizeof (WsPoint));
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);

  g_test_summary ("Twelve million px of noise are looked at in half the size, and the way across them is found");
  for (int y = 0; y < 3000; y++)
    for (int x = 0; x < 4000; x += 7)
      pixel (huge, x, y)[y % 3] = (guchar) g_rand_int (rand);
  edges = edges_of (huge);
  g_assert_cmpfloat (ws_edge_path_get_width (edges), ==, 2000);
  ws_edge_path_follow (edges, &(WsPoint) { 0.01, 0.01 }, &(WsPoint) { 0.99, 0.99 }, NULL, path);
  g_assert_cmpuint (path->len, >, 1900);
  g_assert_cmpuint (path->len, <, 20000);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/edge-path/follows", follows);
  g_test_add_func ("/photo/edge-path/outlines", outlines);
  g_test_add_func ("/photo/edge-path/goes-to-the-frame", goes_to_the_frame);
  g_test_add_func ("/photo/edge-path/keeps-off", keeps_off);
  g_test_add_func ("/photo/edge-path/simplifies", simplifies);
  g_test_add_func ("/photo/edge-path/stands-anything", stands_anything);
  g_test_add_func ("/photo/edge-path/is-bounded", is_bounded);
  return g_test_run ();
}
