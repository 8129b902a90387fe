/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-leader.h"

#include <glib.h>

/* Twice the signed area of a triangle; its sign says on which side of a-b the point c lies. */
static double
side (double ax, double ay, double bx, double by, double cx, double cy)
{
  return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
}

/* TRUE if the two lines cross at a point inside both. */
static gboolean
cross (const WsLeader *a, const WsLeader *b)
{
  double p = side (a->anchor_x, a->anchor_y, a->tip_x, a->tip_y, b->anchor_x, b->anchor_y);
  double q = side (a->anchor_x, a->anchor_y, a->tip_x, a->tip_y, b->tip_x, b->tip_y);
  double r = side (b->anchor_x, b->anchor_y, b->tip_x, b->tip_y, a->anchor_x, a->anchor_y);
  double s = side (b->anchor_x, b->anchor_y, b->tip_x, b->tip_y, a->tip_x, a->tip_y);

  return p * q < -1e-9 && r * s < -1e-9;
}

static gboolean
overlap (const WsLeader *a, const WsLeader *b)
{
  return a->x < b->x + b->width - 1e-9 && b->x < a->x + a->width - 1e-9 && a->y < b->y + b->height - 1e-9 &&
         b->y < a->y + a->height - 1e-9;
}

static void
assert_sound (const WsLeader *leaders, guint n, double left, double right, double bottom, double gap)
{
  for (guint i = 0; i < n; i++)
    {
      const WsLeader *a = &leaders[i];

      g_assert_cmpfloat (a->y, >=, 0);
      g_assert_cmpfloat (a->y + a->height, <=, bottom + 1e-9);
      g_assert_cmpfloat (a->tip_y, >=, a->y);
      g_assert_cmpfloat (a->tip_y, <=, a->y + a->height);
      if (a->side == WS_LEADER_LEFT)
        g_assert_cmpfloat_with_epsilon (a->x + a->width, left, 1e-9);
      else
        g_assert_cmpfloat_with_epsilon (a->x, right, 1e-9);
      for (guint k = 0; k < i; k++)
        {
          const WsLeader *b = &leaders[k];

          g_assert_false (overlap (a, b));
          if (a->side == b->side)
            g_assert_true (a->y >= b->y + b->height + gap - 1e-9 || b->y >= a->y + a->height + gap - 1e-9);
          if (a->anchored && b->anchored)
            g_assert_false (cross (a, b));
        }
    }
}

static void
test_random (void)
{
  g_test_summary ("3,000 random figures of up to 24 labels: no label overlaps another, no leader crosses another");
  for (guint round = 0; round < 3000; round++)
    {
      WsLeader leaders[24] = { 0 };
      guint n = g_test_rand_int_range (0, 25);
      double left = g_test_rand_double_range (80, 200), right = left + g_test_rand_double_range (100, 600);
      double height = g_test_rand_double_range (50, 900), gap = g_test_rand_int_range (0, 12), needed;

      for (guint i = 0; i < n; i++)
        {
          leaders[i].anchored = g_test_rand_int_range (0, 12) > 0;
          leaders[i].anchor_x = g_test_rand_double_range (left + 1, right - 1);
          leaders[i].anchor_y = g_test_rand_double_range (-20, height * 1.2);
          if (i > 0 && g_test_rand_int_range (0, 8) == 0)   /* two views of one part */
            {
              leaders[i].anchor_x = leaders[i - 1].anchor_x;
              leaders[i].anchor_y = leaders[i - 1].anchor_y;
            }
          leaders[i].width = g_test_rand_double_range (20, 80);
          leaders[i].height = g_test_rand_double_range (12, 90);
          leaders[i].port = g_test_rand_double_range (0, 12);
        }
      needed = ws_leader_lay_out_sides (leaders, n, 0, height, left, right, gap);
      g_assert_cmpfloat (needed, >=, height);
      assert_sound (leaders, n, left, right, needed, gap);
    }
}

static void
test_grid (void)
{
  g_test_summary ("Anchors on one line and on a grid, where angles are equal, cross no more than others");
  for (guint shape = 0; shape < 3; shape++)
    {
      WsLeader leaders[16] = { 0 };
      double needed;

      for (guint i = 0; i < 16; i++)
        leaders[i] = (WsLeader) { .anchored = TRUE, .width = 60, .height = 20, .port = 10,
                                  .anchor_x = 120 + (shape == 0 ? 50 : shape == 1 ? i * 10 : i % 4 * 40),
                                  .anchor_y = shape == 0 ? i * 10 : shape == 1 ? 100 : i / 4 * 60 };
      needed = ws_leader_lay_out_sides (leaders, 16, 0, 300, 100, 300, 4);
      assert_sound (leaders, 16, 100, 300, needed, 4);
    }
}

static void
test_order (void)
{
  WsLeader leaders[6] = { 0 };

  g_test_summary ("Anchors one above the other keep their order, the columns are even, and a label without an anchor is last");
  for (guint i = 0; i < 6; i++)
    leaders[i] = (WsLeader) { .anchored = i != 1, .anchor_x = i < 3 ? 150 : 250, .anchor_y = 200 - 30 * i, .width = 60,
                              .height = 20, .port = 10 };
  ws_leader_lay_out_sides (leaders, 6, 0, 240, 100, 300, 4);
  g_assert_cmpint (leaders[0].side, ==, WS_LEADER_LEFT);
  g_assert_cmpint (leaders[2].side, ==, WS_LEADER_LEFT);
  g_assert_cmpfloat (leaders[2].y, <, leaders[0].y);
  g_assert_cmpint (leaders[4].side, ==, WS_LEADER_RIGHT);
  g_assert_cmpfloat (leaders[5].y, <, leaders[4].y);
  g_assert_cmpint (leaders[1].side, ==, WS_LEADER_RIGHT);
  g_assert_cmpfloat (leaders[1].y, >, leaders[4].y);
}

static void
test_below (void)
{
  WsLeader leaders[3] = { { .height = 20 }, { .height = 50 }, { .height = 10 } };

  g_test_summary ("Below the figure: one under the other, in the order given");
  g_assert_cmpfloat (ws_leader_lay_out_below (leaders, 3, 6, 100, 5), ==, 90);
  g_assert_cmpfloat (leaders[1].y, ==, 125);
  g_assert_cmpfloat (leaders[2].y, ==, 180);
  g_assert_cmpfloat (leaders[2].x, ==, 6);
  g_assert_cmpfloat (ws_leader_lay_out_below (leaders, 0, 6, 100, 5), ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/draw/leader/random", test_random);
  g_test_add_func ("/draw/leader/grid", test_grid);
  g_test_add_func ("/draw/leader/order", test_order);
  g_test_add_func ("/draw/leader/below", test_below);
  return g_test_run ();
}
