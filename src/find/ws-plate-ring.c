/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Who stands where round the figure. */
#include "ws-plate-ring-private.h"

#include <math.h>
#include <string.h>

/* Shares of the width that a column may take. */
static const double column_shares[] = { 0.2, 0.25, 0.3 };
/* Shares of the height that a picture in a row may take, each tried when the one before leaves the columns too little. */
static const double row_shares[] = { 0.21, 0.13, 0.08 };
#define MAX_ABOVE 4          /* boxes in a row */
#define MAX_BELOW 5
#define MIN_COLUMN 8.0       /* em */
#define MIN_FIGURE 9.0       /* em high */
#define LEAST_CROP 6.0       /* em high, of a page that may grow */
#define LEAST_ZONE 24.0      /* em */
#define ROUNDS 8

static void
place_figure (WsPlateRing *ring)
{
  WsPlateLayout *layout = ring->layout;
  WsPlateBox middle = ws_plate_ring_get_middle (ring), *figure = &layout->figure;

  figure->width = MIN (middle.width, middle.height * layout->figure_aspect);
  figure->height = figure->width / layout->figure_aspect;
  figure->x = middle.x + (middle.width - figure->width) / 2;
  figure->y = middle.y + (middle.height - figure->height) / 2;
  for (guint i = 0; i < layout->n_parts; i++)
    {
      WsPlatePart *part = &layout->parts[i];

      part->led = part->anchored;
      part->from_x = figure->x + part->anchor_x * figure->width;
      part->from_y = figure->y + part->anchor_y * figure->height;
    }
}

static gboolean
place_all (WsPlateRing *ring)
{
  gboolean (*place) (WsPlateRing *, guint, guint, WsPlateSide)
    = ring->steady ? ws_plate_ring_place_steady_column : ws_plate_ring_place_column;
  guint n_sides = ring->n_left + ring->n_right;

  if (!ws_plate_ring_place_row (ring, n_sides, ring->n_above, WS_PLATE_ABOVE, &ring->above)
      || !ws_plate_ring_place_row (ring, n_sides + ring->n_above, ring->n_below, WS_PLATE_BELOW, &ring->below)
      || ring->zone.height - ring->above - ring->below < MIN_FIGURE * ring->em)
    return FALSE;
  place_figure (ring);
  return place (ring, 0, ring->n_left, WS_PLATE_LEFT) && place (ring, ring->n_left, ring->n_right, WS_PLATE_RIGHT);
}

/* The matching of least length with the ports as they are. TRUE if it changed anything. */
static gboolean
match (WsPlateRing *ring)
{
  WsPlateLayout *layout = ring->layout;
  guint n = layout->n_parts;
  g_autofree double *cost = g_new (double, (gsize) n * n + 1);
  g_autofree guint *port_of = g_new (guint, n + 1), *before = g_memdup2 (ring->part_in, (n + 1) * sizeof (guint));

  for (guint i = 0; i < n; i++)
    for (guint port = 0; port < n; port++)
      {
        const WsPlatePart *part = &layout->parts[i], *there = &layout->parts[before[port]];

        /* What has no leader takes what is left over, below if it can. */
        cost[i * n + port] = part->led ? hypot (part->from_x - there->tip_x, part->from_y - there->tip_y)
                             : there->side == WS_PLATE_BELOW ? 0 : 1e-3 * ring->em;
      }
  ws_plate_match (cost, n, port_of);
  for (guint i = 0; i < n; i++)
    ring->part_in[port_of[i]] = i;
  return memcmp (before, ring->part_in, n * sizeof (guint)) != 0;
}

static gboolean
is_clear (const WsPlateLayout *layout)
{
  for (guint i = 0; i < layout->n_parts; i++)
    for (guint j = 0; j < layout->n_parts; j++)
      if (layout->parts[i].led && i != j
          && (ws_plate_way_enters (&layout->parts[i], &layout->parts[j].box)
              || (layout->parts[j].led && ws_plate_ways_meet (&layout->parts[i], &layout->parts[j]))))
        return FALSE;
  return TRUE;
}

/* How good it looks: large crops and figure, short leaders. */
static double
worth (const WsPlateRing *ring)
{
  const WsPlateLayout *layout = ring->layout;
  double crops = 0, weight = 0, ways = 0, span = hypot (ring->zone.width, ring->zone.height);

  for (guint i = 0; i < layout->n_parts; i++)
    {
      const WsPlatePart *part = &layout->parts[i];

      if (part->aspect > 0)
        {
          double share = part->picture.width * part->picture.height / (span * span);

          /* Twice as prominent, four times as much is lost when it is small. */
          crops += part->prominence * part->prominence * log (share);
          weight += part->prominence * part->prominence;
        }
      if (part->led)
        ways += hypot (part->tip_x - part->from_x, part->tip_y - part->from_y) / span;
    }
  return (weight > 0 ? crops / weight : 0) + 0.5 * log (layout->figure.width * layout->figure.height / (span * span))
         - (layout->n_parts > 0 ? 1.5 * ways / layout->n_parts : 0);
}

typedef struct { WsPlatePart *parts; WsPlateBox figure; double worth; gboolean found; } Best;

static void
keep_if_better (const WsPlateRing *ring, Best *best)
{
  double value = worth (ring);

  if (best->found && value <= best->worth)
    return;
  best->found = TRUE;
  best->worth = value;
  best->figure = ring->layout->figure;
  for (guint i = 0; i < ring->layout->n_parts; i++)
    best->parts[i] = ring->layout->parts[i];
}

/* Starts with the parts in any order. Of the plates that come by, the best on which nothing meets is kept; the last one, at
 * which the matching stays as it is, is always among these, unless places of the figure fall together. FALSE: there is too
 * little room. */
static gboolean
settle (WsPlateRing *ring, Best *best)
{
  for (guint i = 0; i < ring->layout->n_parts; i++)
    ring->part_in[i] = i;
  for (guint round = 0; round < ROUNDS; round++)
    {
      if (!place_all (ring))
        return FALSE;
      if (is_clear (ring->layout))
        keep_if_better (ring, best);
      if (!match (ring))
        break;
    }
  return TRUE;
}

static void
try_rows (WsPlateRing *ring, guint above, guint below, Best *best)
{
  guint n = ring->layout->n_parts - above - below;

  ring->n_above = above;
  ring->n_below = below;
  for (guint odd = 0; odd < (n % 2 ? 2 : 1); odd++)
    {
      ring->n_left = n / 2 + odd;
      ring->n_right = n - ring->n_left;
      for (guint i = 0; i < G_N_ELEMENTS (row_shares); i++)
        {
          ring->row_share = row_shares[i];
          if (settle (ring, best) || above + below == 0)
            break;
        }
    }
}

static void
try_column_width (WsPlateRing *ring, Best *best)
{
  WsPlateLayout *layout = ring->layout;

  for (guint i = 0; i < layout->n_parts; i++)
    ring->captions[i] = ws_plate_caption_height (layout, i, ring->column);
  for (guint i = 0; i < layout->n_parts * WS_PLATE_ROW_WIDTHS; i++)
    ring->row_captions[i] = NAN;
  for (guint rows = 0; rows < (MAX_ABOVE + 1) * (MAX_BELOW + 1); rows++)
    {
      guint above = rows / (MAX_BELOW + 1), below = rows % (MAX_BELOW + 1);

      /* Steady ports are for columns; there is always room for these when there is for rows. */
      if (above + below <= layout->n_parts && (rows == 0 || !ring->steady))
        try_rows (ring, above, below, best);
    }
}

double
ws_plate_ring_least_height (const WsPlateLayout *layout, double width)
{
  double em = layout->em * layout->scale, column = MAX (MIN_COLUMN * em, 0.2 * width), sum = 0, tallest = 0;

  /* Half of everything in each column, and no luck in how it is shared. */
  for (guint i = 0; i < layout->n_parts; i++)
    {
      double height = ws_plate_caption_height (layout, i, column) + WS_PLATE_GAP * em
                      + (layout->parts[i].aspect > 0 ? LEAST_CROP * em : 2 * ws_plate_frame_room (layout, i));

      sum += height;
      tallest = MAX (tallest, height);
    }
  return MAX (sum / 2 + tallest, LEAST_ZONE * em);
}

gboolean
ws_plate_ring_lay_out (WsPlateLayout *layout, const WsPlateBox *zone)
{
  guint n = layout->n_parts;
  g_autofree WsPlatePart *parts = g_new0 (WsPlatePart, n + 1);
  g_autofree double *numbers = g_new0 (double, 2 * (n + 1));
  g_autofree guint *order = g_new0 (guint, n + 1);
  g_autofree double *row_captions = g_new (double, n * WS_PLATE_ROW_WIDTHS + 1);
  WsPlateRing ring = { layout, *zone, .em = layout->em * layout->scale, .captions = numbers, .heights = numbers + n + 1,
                       .row_captions = row_captions, .part_in = order };
  Best best = { .parts = parts };

  ring.gap = WS_PLATE_GAP * ring.em;
  for (int steady = 0; steady < 2 && !best.found; steady++)
    for (guint i = 0; i < G_N_ELEMENTS (column_shares); i++)
      {
        ring.steady = steady;
        ring.column = MAX (column_shares[i] * zone->width, MIN_COLUMN * ring.em);
        if (ws_plate_ring_get_middle (&ring).width >= 10 * ring.em)
          try_column_width (&ring, &best);
      }
  if (!best.found)
    return FALSE;
  layout->figure = best.figure;
  for (guint i = 0; i < n; i++)
    layout->parts[i] = parts[i];
  return TRUE;
}
