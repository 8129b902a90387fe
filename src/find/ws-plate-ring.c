/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-plate-layout-private.h"

#include <math.h>
#include <string.h>

/* Shares of the width that a column may take. */
static const double column_shares[] = { 0.2, 0.25, 0.3 };
#define ROW_SHARE 0.26       /* of the height, the row below at most */
#define MAX_BELOW 4          /* boxes */
#define MIN_FIGURE 9.0       /* em high */
#define MIDDLE_GAP 1.2       /* em beside the figure */
#define MIN_COLUMN 8.0       /* em */
#define MIN_BELOW 9.0        /* em: a caption must be readable */
#define MIN_PICTURE 2.5      /* em high */
#define ROUNDS 6

typedef struct
{
  WsPlateLayout *layout;
  WsPlateBox zone;
  double em, gap;
  double column;              /* width of a column */
  double row;                 /* height of the row below, 0: none */
  guint n_left, n_right, n_below;
  gboolean steady;            /* ports do not depend on who gets them */
  double *captions;           /* heights in a column, by part */
  double *heights;            /* of the pictures of a column or row, in its order */
  guint *part_in;             /* by port: left from the top, right from the top, below from the left */
} Ring;

static double
frame_height (const Ring *ring, guint part)
{
  return ring->captions[part] + 2 * WS_PLATE_FRAME_PADDING * ring->em;
}

/* What stands below the picture of a part in a column. */
static double
below_picture (const Ring *ring, guint part)
{
  return ring->layout->parts[part].aspect > 0 ? ring->captions[part] + WS_PLATE_CAPTION_GAP * ring->em : 0;
}

/* --- Columns ---------------------------------------------------------------------------------- */

/* Height of a crop when all of prominence 1 may cover @area. */
static double
crop_height (const Ring *ring, const WsPlatePart *part, double area)
{
  return MIN (ring->column / part->aspect, sqrt (area * part->prominence / part->aspect));
}

/* Fills heights of the pictures of a column for an area and gives what is left over, below 0 when it does not fit. */
static double
fill_column (Ring *ring, const guint *parts, guint n, double height, double area)
{
  double left_over = height - (n > 0 ? (n - 1) * ring->gap : 0);

  for (guint i = 0; i < n; i++)
    {
      const WsPlatePart *part = &ring->layout->parts[parts[i]];

      ring->heights[i] = part->aspect > 0 ? crop_height (ring, part, area) : frame_height (ring, parts[i]);
      left_over -= ring->heights[i] + below_picture (ring, parts[i]);
    }
  return left_over;
}

/* The largest crops for which the column is not too tall. */
static double
size_column (Ring *ring, const guint *parts, guint n, double height)
{
  double least = 0, most = ring->column * ring->column * 4;

  if (fill_column (ring, parts, n, height, most) >= 0)
    return fill_column (ring, parts, n, height, most);
  for (guint round = 0; round < 20; round++)
    {
      double area = (least + most) / 2;

      if (fill_column (ring, parts, n, height, area) >= 0)
        least = area;
      else
        most = area;
    }
  return fill_column (ring, parts, n, height, least);
}

static gboolean
too_small (const Ring *ring, const guint *parts, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      const WsPlatePart *part = &ring->layout->parts[parts[i]];

      if (part->aspect > 0 && ring->heights[i] < MIN (MIN_PICTURE * ring->em, 0.99 * ring->column / part->aspect))
        return TRUE;
    }
  return FALSE;
}

static void
set_side_port (WsPlatePart *part, WsPlateSide side, double y)
{
  part->side = side;
  part->tip_x = side == WS_PLATE_LEFT ? part->picture.x + part->picture.width : part->picture.x;
  part->tip_y = y;
}

static gboolean
place_column (Ring *ring, guint first, guint n, WsPlateSide side)
{
  WsPlateLayout *layout = ring->layout;
  const guint *parts = ring->part_in + first;
  double spare = size_column (ring, parts, n, ring->zone.height), y = ring->zone.y, between;
  double x = side == WS_PLATE_LEFT ? ring->zone.x : ring->zone.x + ring->zone.width - ring->column;

  if (spare < 0 || too_small (ring, parts, n))
    return FALSE;
  /* From top to bottom of the figure; a few boxes stand closer together, about its middle. */
  between = n > 1 ? MIN (spare / (n - 1), 4 * ring->em) : 0;
  y += (spare - between * (n > 1 ? n - 1 : 0)) / 2;
  for (guint i = 0; i < n; i++)
    {
      WsPlatePart *part = &layout->parts[parts[i]];

      part->side = side;
      ws_plate_place_part (layout, parts[i], x, y, ring->column, ring->heights[i], ring->captions[parts[i]]);
      set_side_port (part, side, part->picture.y + part->picture.height / 2);
      y += part->box.height + ring->gap + between;
    }
  return TRUE;
}

/* Equal shares of the height; ports at one depth of them, however large the picture. */
static gboolean
place_steady_column (Ring *ring, guint first, guint n, WsPlateSide side)
{
  WsPlateLayout *layout = ring->layout;
  double share = n > 0 ? (ring->zone.height + ring->gap) / n : 0, depth = share;
  double x = side == WS_PLATE_LEFT ? ring->zone.x : ring->zone.x + ring->zone.width - ring->column;

  for (guint i = 0; i < layout->n_parts && n > 0; i++)
    {
      const WsPlatePart *part = &layout->parts[i];
      double room = share - ring->gap - below_picture (ring, i);

      ring->heights[i] = part->aspect > 0 ? MIN (room, ring->column / part->aspect) : frame_height (ring, i);
      if (ring->heights[i] > room || ring->heights[i] < 0.1 * ring->em)
        return FALSE;
      depth = MIN (depth, ring->heights[i]);
    }
  for (guint i = 0; i < n; i++)
    {
      guint index = ring->part_in[first + i];
      double y = ring->zone.y + i * share;

      layout->parts[index].side = side;
      ws_plate_place_part (layout, index, x, y, ring->column, ring->heights[index], ring->captions[index]);
      set_side_port (&layout->parts[index], side, y + depth / 2);
    }
  return TRUE;
}

/* --- The row below the figure ---------------------------------------------------------------------- */

/* Between the columns. */
static WsPlateBox
middle_of (const Ring *ring)
{
  double side = ring->column + MIDDLE_GAP * ring->em;

  return (WsPlateBox) { ring->zone.x + side, ring->zone.y, ring->zone.width - 2 * side, ring->zone.height };
}

static double
width_below (const Ring *ring, const WsPlatePart *part, double height)
{
  return MAX (height * part->aspect, MIN_BELOW * ring->em);
}

static double
sum_widths (const Ring *ring, const guint *parts, guint n, double height)
{
  double width = 0;

  for (guint i = 0; i < n; i++)
    width += width_below (ring, &ring->layout->parts[parts[i]], height);
  return width;
}

/* The largest height common to all pictures of the row. */
static double
size_row (const Ring *ring, const guint *parts, guint n, double width)
{
  double least = 0, most = ROW_SHARE * ring->zone.height;

  if (sum_widths (ring, parts, n, most) <= width)
    return most;
  for (guint round = 0; round < 20; round++)
    {
      double height = (least + most) / 2;

      if (sum_widths (ring, parts, n, height) <= width)
        least = height;
      else
        most = height;
    }
  return least;
}

/* Finds ring->row, then places the row at the foot of the zone. */
static gboolean
place_row (Ring *ring)
{
  WsPlateLayout *layout = ring->layout;
  WsPlateBox middle = middle_of (ring);
  guint n = ring->n_below;
  const guint *parts = ring->part_in + ring->n_left + ring->n_right;
  double room = middle.width - (n > 0 ? (n - 1) * ring->gap : 0), height = size_row (ring, parts, n, room);
  double spare = n > 0 ? (room - sum_widths (ring, parts, n, height)) / n : 0, x = middle.x + spare / 2;

  ring->row = 0;
  if (n == 0)
    return TRUE;
  if (spare < 0 || height < MIN_PICTURE * ring->em)
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      WsPlatePart *part = &layout->parts[parts[i]];
      double width = width_below (ring, part, height);

      part->side = WS_PLATE_BELOW;
      ws_plate_place_part (layout, parts[i], x, middle.y, width, height, ws_plate_caption_height (layout, parts[i], width));
      x += width + spare + ring->gap;
      ring->row = MAX (ring->row, part->box.height);
    }
  for (guint i = 0; i < n; i++)
    {
      WsPlatePart *part = &layout->parts[parts[i]];

      ws_plate_place_part (layout, parts[i], part->box.x, middle.y + middle.height - ring->row, part->box.width, height,
                           part->caption.height);
      part->tip_x = part->picture.x + part->picture.width / 2;
      part->tip_y = part->picture.y;
    }
  return TRUE;
}

/* --- The ring -------------------------------------------------------------------------------------- */

static void
place_figure (Ring *ring)
{
  WsPlateLayout *layout = ring->layout;
  WsPlateBox middle = middle_of (ring), *figure = &layout->figure;
  double height = middle.height - (ring->row > 0 ? ring->row + ring->gap : 0);

  figure->width = MIN (middle.width, height * layout->figure_aspect);
  figure->height = figure->width / layout->figure_aspect;
  figure->x = middle.x + (middle.width - figure->width) / 2;
  figure->y = middle.y + (height - figure->height) / 2;
  for (guint i = 0; i < layout->n_parts; i++)
    {
      WsPlatePart *part = &layout->parts[i];

      part->led = part->anchored;
      part->from_x = figure->x + part->anchor_x * figure->width;
      part->from_y = figure->y + part->anchor_y * figure->height;
    }
}

static gboolean
place_all (Ring *ring)
{
  gboolean (*place) (Ring *, guint, guint, WsPlateSide) = ring->steady ? place_steady_column : place_column;

  if (!place_row (ring) || ring->zone.height - ring->row < MIN_FIGURE * ring->em)
    return FALSE;
  place_figure (ring);
  return place (ring, 0, ring->n_left, WS_PLATE_LEFT) && place (ring, ring->n_left, ring->n_right, WS_PLATE_RIGHT);
}

/* The matching of least length with the ports as they are. TRUE if it changed anything. */
static gboolean
match (Ring *ring)
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

/* The parts are in any order at first. */
static gboolean
settle (Ring *ring)
{
  for (guint i = 0; i < ring->layout->n_parts; i++)
    ring->part_in[i] = i;
  for (guint round = 0; round < ROUNDS; round++)
    {
      gboolean changed;

      if (!place_all (ring))
        return FALSE;
      changed = match (ring);
      if (!changed && is_clear (ring->layout))
        return TRUE;
      if (!changed)
        return FALSE;
    }
  return place_all (ring) && is_clear (ring->layout);
}

/* How good it looks: large crops and figure, short leaders. */
static double
worth (const Ring *ring)
{
  const WsPlateLayout *layout = ring->layout;
  double crops = 0, ways = 0, span = hypot (ring->zone.width, ring->zone.height);
  guint n_crops = 0;

  for (guint i = 0; i < layout->n_parts; i++)
    {
      const WsPlatePart *part = &layout->parts[i];

      if (part->aspect > 0)
        {
          crops += log (part->picture.width * part->picture.height / (span * span) / part->prominence);
          n_crops++;
        }
      if (part->led)
        ways += hypot (part->tip_x - part->from_x, part->tip_y - part->from_y) / span;
    }
  return (n_crops > 0 ? crops / n_crops : 0) + 0.8 * log (layout->figure.width * layout->figure.height / (span * span))
         - (layout->n_parts > 0 ? 1.5 * ways / layout->n_parts : 0);
}

typedef struct { WsPlatePart *parts; WsPlateBox figure; double worth; gboolean found; } Best;

static void
keep_if_better (const Ring *ring, Best *best)
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

static void
try_column_width (Ring *ring, Best *best)
{
  WsPlateLayout *layout = ring->layout;

  for (guint i = 0; i < layout->n_parts; i++)
    ring->captions[i] = ws_plate_caption_height (layout, i, ring->column);
  for (guint below = 0; below <= MIN (MAX_BELOW, layout->n_parts); below++)
    {
      ring->n_below = below;
      /* Only without a row is it certain that no leader meets anything. */
      if (ring->steady && below > 0)
        return;
      for (guint odd = 0; odd < ((layout->n_parts - below) % 2 ? 2 : 1); odd++)
        {
          ring->n_left = (layout->n_parts - below) / 2 + odd;
          ring->n_right = layout->n_parts - below - ring->n_left;
          if (settle (ring))
            keep_if_better (ring, best);
        }
    }
}

double
ws_plate_ring_least_height (const WsPlateLayout *layout, double width)
{
  double em = layout->em * layout->scale, column = MAX (MIN_COLUMN * em, 0.2 * width), caption = 0;

  for (guint i = 0; i < layout->n_parts; i++)
    caption = MAX (caption, ws_plate_caption_height (layout, i, column));
  return MAX ((layout->n_parts + 1) / 2 * (caption + (4 + WS_PLATE_GAP) * em), 24 * em);
}

gboolean
ws_plate_ring_lay_out (WsPlateLayout *layout, const WsPlateBox *zone)
{
  guint n = layout->n_parts;
  g_autofree WsPlatePart *parts = g_new0 (WsPlatePart, n + 1);
  g_autofree double *numbers = g_new0 (double, 2 * (n + 1));
  g_autofree guint *order = g_new0 (guint, n + 1);
  Ring ring = { layout, *zone, .em = layout->em * layout->scale, .captions = numbers, .heights = numbers + n + 1,
                .part_in = order };
  Best best = { .parts = parts };

  ring.gap = WS_PLATE_GAP * ring.em;
  for (int steady = 0; steady < 2 && !best.found; steady++)
    for (guint i = 0; i < G_N_ELEMENTS (column_shares); i++)
      {
        ring.steady = steady;
        ring.column = MAX (column_shares[i] * zone->width, MIN_COLUMN * ring.em);
        if (middle_of (&ring).width >= 10 * ring.em)
          try_column_width (&ring, &best);
      }
  if (!best.found)
    return FALSE;
  layout->figure = best.figure;
  for (guint i = 0; i < n; i++)
    layout->parts[i] = parts[i];
  return TRUE;
}
