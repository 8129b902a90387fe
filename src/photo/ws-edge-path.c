/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From coarse to fine: the way is found on a level on which it is short, in a wide band, and then on each finer level in a
 * narrow corridor along it. So its time is bounded however far the points are apart, and fine texture does not lead it astray. */
#include "ws-edge-path.h"

#include <math.h>
#include <string.h>

#include "ws-edge-search.h"

#define MAX_LEVELS 8
/* No coarser level than this, px. */
#define SMALLEST_LEVEL 48
/* The way is looked for first where its ends are at most so many px apart. */
#define COARSE_REACH 220.0
/* Half the width of the band: a share of the distance, and at least so many px. */
#define BAND_SHARE 0.5
#define BAND_LEAST 12.0
/* Charge at the border of the band, falling to nothing at the straight line (64: a px without an edge). */
#define BAND_CHARGE 3.0
/* Half the width of the corridor, px of the finer level, and the charge at its border. */
#define CORRIDOR 4
#define CORRIDOR_CHARGE 2
/* Along what the outline has run along before: the charge, how near, and how far from its ends that does not hold, px. */
#define BEFORE_CHARGE 130
#define BEFORE_REACH 3
#define BEFORE_FREE 12.0
/* How far a corner may be from its edge, px, and what of an edge's strength that distance costs. */
#define SNAP_REACH 4
#define SNAP_CHARGE 0.3
/* A corner is near the outline, not quite on it: the outline is found again from so many px before it to so many after. */
#define JOINT 5
/* Points left out lie within so many px of the line. */
#define TOLERANCE 0.75

struct _WsEdgePath
{
  gatomicrefcount refs;
  WsRect region;                   /* fractions of the picture */
  guint n_levels;
  WsEdgeLevel *levels[MAX_LEVELS]; /* finest first */
};

/* --- Finding the edges -------------------------------------------------------------------------------------- */

/* The region cut out of the picture, halved until it is small enough. */
static WsPicture *
cut_out (const WsPicture *picture, int x, int y, int width, int height)
{
  const guchar *from = g_bytes_get_data (picture->pixels, NULL);
  gsize stride = 3 * (gsize) width;
  guchar *pixels = g_malloc (stride * height);
  WsPicture *cut = g_new0 (WsPicture, 1);

  for (int row = 0; row < height; row++)
    memcpy (pixels + row * stride, from + 3 * ((gsize) (y + row) * picture->width + x), stride);
  *cut = (WsPicture) { width, height, g_bytes_new_take (pixels, stride * height), width, height };
  while ((gsize) cut->width * cut->height > WS_EDGE_PATH_MAX_PIXELS)
    {
      WsPicture *half = ws_picture_halve (cut);

      ws_picture_free (cut);
      cut = half;
    }
  return cut;
}

/* FALSE when cancelled. */
static gboolean
add_levels (WsEdgePath *self, WsPicture *picture, const gboolean frame[4], GCancellable *cancellable)
{
  while (!g_cancellable_is_cancelled (cancellable))
    {
      WsPicture *half;

      self->levels[self->n_levels++] = ws_edge_level_new (g_bytes_get_data (picture->pixels, NULL), picture->width,
                                                          picture->height, frame);
      if (self->n_levels == MAX_LEVELS || MIN (picture->width, picture->height) < 2 * SMALLEST_LEVEL)
        {
          ws_picture_free (picture);
          return TRUE;
        }
      half = ws_picture_halve (picture);
      ws_picture_free (picture);
      picture = half;
    }
  ws_picture_free (picture);
  return FALSE;
}

WsEdgePath *
ws_edge_path_new (const WsPicture *picture, const WsRect *region, GCancellable *cancellable)
{
  g_autoptr (WsEdgePath) self = NULL;
  gboolean frame[4];
  int x, y, width, height;

  if (picture->width < 1 || picture->height < 1 || !ws_rect_is_valid (region) ||
      g_bytes_get_size (picture->pixels) < 3 * (gsize) picture->width * picture->height)
    return NULL;
  ws_rect_to_pixels (region, picture->width, picture->height, &x, &y, &width, &height);
  self = g_new0 (WsEdgePath, 1);
  g_atomic_ref_count_init (&self->refs);
  self->region = (WsRect) { (double) x / picture->width, (double) y / picture->height,
                            (double) width / picture->width, (double) height / picture->height };
  frame[0] = x == 0;
  frame[1] = y == 0;
  frame[2] = x + width == picture->width;
  frame[3] = y + height == picture->height;
  if (!add_levels (self, cut_out (picture, x, y, width, height), frame, cancellable))
    return NULL;
  return g_steal_pointer (&self);
}

WsEdgePath *
ws_edge_path_ref (WsEdgePath *self)
{
  g_atomic_ref_count_inc (&self->refs);
  return self;
}

void
ws_edge_path_unref (WsEdgePath *self)
{
  if (self == NULL || !g_atomic_ref_count_dec (&self->refs))
    return;
  for (guint i = 0; i < self->n_levels; i++)
    ws_edge_level_free (self->levels[i]);
  g_free (self);
}

WsRect
ws_edge_path_get_region (const WsEdgePath *self)
{
  return self->region;
}

double
ws_edge_path_get_width (const WsEdgePath *self)
{
  return self->levels[0]->width / self->region.width;
}

/* --- Places ---------------------------------------------------------------------------------------------------- */

static gboolean
is_inside (const WsEdgePath *self, const WsPoint *point)
{
  const WsRect *r = &self->region;

  return point->x >= r->x && point->y >= r->y && point->x <= r->x + r->width && point->y <= r->y + r->height;
}

static WsPixel
to_pixel (const WsEdgePath *self, const WsEdgeLevel *level, const WsPoint *point)
{
  double x = (point->x - self->region.x) / self->region.width * level->width;
  double y = (point->y - self->region.y) / self->region.height * level->height;

  /* No number becomes 0. */
  return (WsPixel) { (int) fmin (fmax (x, 0), level->width - 1), (int) fmin (fmax (y, 0), level->height - 1) };
}

/* The middle of the px. */
static WsPoint
to_point (const WsEdgePath *self, const WsEdgeLevel *level, WsPixel px)
{
  return (WsPoint) { self->region.x + (px.x + 0.5) / level->width * self->region.width,
                     self->region.y + (px.y + 0.5) / level->height * self->region.height };
}

WsPoint
ws_edge_path_snap (const WsEdgePath *self, const WsPoint *point)
{
  const WsEdgeLevel *level = self->levels[0];
  WsPixel at = to_pixel (self, level, point), best = at;
  double most = 0;

  if (!is_inside (self, point))
    return *point;
  for (int y = MAX (at.y - SNAP_REACH, 0); y <= MIN (at.y + SNAP_REACH, level->height - 1); y++)
    for (int x = MAX (at.x - SNAP_REACH, 0); x <= MIN (at.x + SNAP_REACH, level->width - 1); x++)
      {
        const WsEdge *edge = &level->edges[(gsize) y * level->width + x];
        double distance = hypot (x - at.x, y - at.y) / SNAP_REACH;
        double worth = edge->strength / 255.0 - SNAP_CHARGE * distance;

        if (edge->crest && distance <= 1 && worth > most)
          {
            most = worth;
            best = (WsPixel) { x, y };
          }
      }
  return most > 0 ? to_point (self, level, best) : *point;
}

/* --- One way ---------------------------------------------------------------------------------------------------------- */

/* Opens the band about the straight line. */
static WsEdgeSearch *
open_band (const WsEdgeLevel *level, WsPixel a, WsPixel b)
{
  double dx = b.x - a.x, dy = b.y - a.y, length = hypot (dx, dy);
  double half = MAX (BAND_LEAST, BAND_SHARE * length);
  int x0 = (int) (MIN (a.x, b.x) - half), x1 = (int) (MAX (a.x, b.x) + half);
  int y0 = (int) (MIN (a.y, b.y) - half), y1 = (int) (MAX (a.y, b.y) + half);
  WsEdgeSearch *search;

  x0 = MAX (x0, 0);
  y0 = MAX (y0, 0);
  x1 = MIN (x1, level->width - 1);
  y1 = MIN (y1, level->height - 1);
  search = ws_edge_search_new (level, x0, y0, x1 - x0 + 1, y1 - y0 + 1);
  for (int y = y0; y <= y1; y++)
    for (int x = x0; x <= x1; x++)
      {
        double along = length > 0 ? CLAMP (((x - a.x) * dx + (y - a.y) * dy) / (length * length), 0, 1) : 0;
        double off = hypot (x - a.x - along * dx, y - a.y - along * dy) / half;

        if (off <= 1)
          ws_edge_search_open (search, x, y, (int) (BAND_CHARGE * off * off));
      }
  return search;
}

static void
open_round (WsEdgeSearch *search, WsPixel px)
{
  for (int y = -CORRIDOR; y <= CORRIDOR; y++)
    for (int x = -CORRIDOR; x <= CORRIDOR; x++)
      ws_edge_search_open (search, px.x + x, px.y + y, CORRIDOR_CHARGE * (x * x + y * y) / (CORRIDOR * CORRIDOR));
}

/* Opens a corridor along the way that was found on the coarser level. */
static WsEdgeSearch *
open_corridor (const WsEdgeLevel *level, const WsEdgeLevel *coarse, const GArray *way, WsPixel a, WsPixel b)
{
  int x0 = MIN (a.x, b.x), x1 = MAX (a.x, b.x), y0 = MIN (a.y, b.y), y1 = MAX (a.y, b.y);
  WsEdgeSearch *search;

  for (guint i = 0; i < way->len; i++)
    {
      WsPixel *px = &g_array_index (way, WsPixel, i);

      px->x = (int) ((px->x + 0.5) * level->width / coarse->width);
      px->y = (int) ((px->y + 0.5) * level->height / coarse->height);
      x0 = MIN (x0, px->x);
      x1 = MAX (x1, px->x);
      y0 = MIN (y0, px->y);
      y1 = MAX (y1, px->y);
    }
  search = ws_edge_search_new (level, x0 - CORRIDOR, y0 - CORRIDOR, x1 - x0 + 1 + 2 * CORRIDOR, y1 - y0 + 1 + 2 * CORRIDOR);
  for (guint i = 0; i < way->len; i++)
    open_round (search, g_array_index (way, WsPixel, i));
  open_round (search, a);
  open_round (search, b);
  return search;
}

/* Makes what the outline has run along dear, but for the ends, where the ways meet. */
static void
keep_off (const WsEdgePath *self, WsEdgeSearch *search, const WsEdgeLevel *level, const GArray *before, WsPixel a, WsPixel b)
{
  for (guint i = 0; before != NULL && i < before->len; i++)
    {
      WsPixel px = to_pixel (self, level, &g_array_index (before, WsPoint, i));

      if (hypot (px.x - a.x, px.y - a.y) < BEFORE_FREE || hypot (px.x - b.x, px.y - b.y) < BEFORE_FREE)
        continue;
      for (int y = -BEFORE_REACH; y <= BEFORE_REACH; y++)
        for (int x = -BEFORE_REACH; x <= BEFORE_REACH; x++)
          ws_edge_search_charge (search, px.x + x, px.y + y, BEFORE_CHARGE);
    }
}

/* The px of the finest level from one point to the other, or none. */
static GArray *
find_way (const WsEdgePath *self, const WsPoint *from, const WsPoint *to, const GArray *before)
{
  g_autoptr (GArray) way = g_array_new (FALSE, FALSE, sizeof (WsPixel));
  guint at = 0;

  while (at + 1 < self->n_levels)
    {
      WsPixel a = to_pixel (self, self->levels[at], from), b = to_pixel (self, self->levels[at], to);

      if (hypot (a.x - b.x, a.y - b.y) <= COARSE_REACH)
        break;
      at++;
    }
  for (gboolean first = TRUE;; first = FALSE, at--)
    {
      const WsEdgeLevel *level = self->levels[at];
      WsPixel a = to_pixel (self, level, from), b = to_pixel (self, level, to);
      g_autoptr (WsEdgeSearch) search = first ? open_band (level, a, b)
                                              : open_corridor (level, self->levels[at + 1], way, a, b);

      if (first)
        keep_off (self, search, level, before, a, b);
      g_array_set_size (way, 0);
      if (!ws_edge_search_run (search, a, b, way))
        g_array_set_size (way, 0);
      if (at == 0 || way->len == 0)
        return g_steal_pointer (&way);
    }
}

void
ws_edge_path_follow (const WsEdgePath *self, const WsPoint *from, const WsPoint *to, const GArray *before, GArray *path)
{
  g_autoptr (GArray) way = NULL;

  g_array_append_val (path, *from);
  if (!isfinite (to->x) || !isfinite (to->y) || !is_inside (self, from) || !is_inside (self, to))
    return;
  way = find_way (self, from, to, before);
  for (guint i = 1; i + 1 < way->len; i++)
    {
      WsPoint point = to_point (self, self->levels[0], g_array_index (way, WsPixel, i));

      g_array_append_val (path, point);
    }
}

/* --- A closed outline -------------------------------------------------------------------------------------------------- */

/* How many points to leave away on either side of the joints at @from and @to. */
static guint
slack (guint from, guint to)
{
  return MIN (JOINT, (to - from) / 3);
}

/* The same line, found again across each joint: the corners were not quite on the edge. */
static GArray *
across_joints (const WsEdgePath *self, const GArray *line, const GArray *joints)
{
  GArray *again = g_array_new (FALSE, FALSE, sizeof (WsPoint));
  guint n = line->len;

  for (guint i = 0; i < joints->len; i++)
    {
      guint joint = g_array_index (joints, guint, i);
      guint next = i + 1 < joints->len ? g_array_index (joints, guint, i + 1) : n;
      guint last = i > 0 ? g_array_index (joints, guint, i - 1) : 0;
      guint before = i > 0 ? slack (last, joint) : slack (g_array_index (joints, guint, joints->len - 1), n);
      guint after = slack (joint, next);

      ws_edge_path_follow (self, &g_array_index (line, WsPoint, (joint + n - before) % n),
                           &g_array_index (line, WsPoint, (joint + after) % n), NULL, again);
      for (guint k = joint + after; k < next - after; k++)
        g_array_append_val (again, g_array_index (line, WsPoint, k % n));
    }
  return again;
}

WsShape *
ws_edge_path_outline (const WsEdgePath *self, const WsPoint *corners, guint n_corners)
{
  g_autoptr (GArray) line = g_array_new (FALSE, FALSE, sizeof (WsPoint));
  g_autoptr (GArray) joints = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GArray) again = NULL;
  double width = ws_edge_path_get_width (self);

  if (n_corners < 3 || n_corners > WS_EDGE_PATH_MAX_CORNERS)
    return NULL;
  for (guint i = 0; i < n_corners; i++)
    {
      WsPoint from = ws_edge_path_snap (self, &corners[i]), to = ws_edge_path_snap (self, &corners[(i + 1) % n_corners]);
      g_autoptr (GArray) before = g_array_copy (line);

      g_array_append_val (joints, line->len);
      ws_edge_path_follow (self, &from, &to, before, line);
    }
  again = across_joints (self, line, joints);
  return ws_edge_path_simplify ((const WsPoint *) again->data, again->len, width,
                                self->levels[0]->height / self->region.height);
}

/* --- Fewer points -------------------------------------------------------------------------------------------------------- */

typedef struct
{
  const WsPoint *points;
  guint n;
  double width, height;
  gboolean *keep;
} Thinning;

/* Distance in px of a point from the line between two others, the points counted round. */
static double
distance_from (const Thinning *t, guint at, guint from, guint to)
{
  const WsPoint *p = &t->points[at % t->n], *a = &t->points[from % t->n], *b = &t->points[to % t->n];
  double px = (p->x - a->x) * t->width, py = (p->y - a->y) * t->height;
  double dx = (b->x - a->x) * t->width, dy = (b->y - a->y) * t->height;
  double square = dx * dx + dy * dy;
  double along = square > 0 ? CLAMP ((px * dx + py * dy) / square, 0, 1) : 0;

  return hypot (px - along * dx, py - along * dy);
}

/* Keeps what lies farther than @tolerance off, between two that are kept. A list and not a recursion: a hostile line may be deep. */
static void
thin (Thinning *t, guint first, guint last, double tolerance)
{
  g_autoptr (GArray) spans = g_array_new (FALSE, FALSE, 2 * sizeof (guint));
  guint span[2] = { first, last };

  g_array_append_vals (spans, span, 1);
  while (spans->len > 0)
    {
      double most = tolerance;
      guint farthest = 0;

      memcpy (span, spans->data + (spans->len - 1) * sizeof span, sizeof span);
      g_array_set_size (spans, spans->len - 1);
      for (guint i = span[0] + 1; i < span[1]; i++)
        if (distance_from (t, i, span[0], span[1]) > most)
          {
            most = distance_from (t, i, span[0], span[1]);
            farthest = i;
          }
      if (farthest == 0)
        continue;
      t->keep[farthest % t->n] = TRUE;
      g_array_append_vals (spans, ((guint[2]) { span[0], farthest }), 1);
      g_array_append_vals (spans, ((guint[2]) { farthest, span[1] }), 1);
    }
}

/* The point farthest from the first: with it the two that are kept for certain. */
static guint
opposite (const Thinning *t)
{
  guint farthest = 0;
  double most = -1;

  for (guint i = 1; i < t->n; i++)
    if (distance_from (t, i, 0, 0) > most)
      {
        most = distance_from (t, i, 0, 0);
        farthest = i;
      }
  return farthest;
}

static GArray *
kept (const Thinning *t)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (WsPoint));

  for (guint i = 0; i < t->n; i++)
    if (t->keep[i])
      g_array_append_val (points, t->points[i]);
  return points;
}

WsShape *
ws_edge_path_simplify (const WsPoint *points, guint n_points, double width, double height)
{
  g_autofree gboolean *keep = g_new0 (gboolean, MAX (n_points, 1));
  Thinning thinning = { points, n_points, width, height, keep };
  guint middle;

  if (n_points < 3)
    return NULL;
  middle = opposite (&thinning);
  for (double tolerance = TOLERANCE;; tolerance *= 1.5)
    {
      g_autoptr (GArray) left = NULL;

      memset (keep, 0, n_points * sizeof *keep);
      keep[0] = keep[middle] = TRUE;
      thin (&thinning, 0, middle, tolerance);
      thin (&thinning, middle, n_points, tolerance);
      left = kept (&thinning);
      if (left->len <= WS_EDGE_PATH_MAX_POINTS)
        return ws_shape_new_outline ((const WsPoint *) left->data, left->len);
    }
}
