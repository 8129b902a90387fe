/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The columns beside the figure and the rows above and below it. */
#include "ws-plate-ring-private.h"

#include <math.h>

#define MIDDLE_GAP 1.2       /* em beside the figure */
#define MIN_IN_ROW 9.0       /* em: a caption must be readable */
#define MIN_PICTURE 2.5      /* em high */

/* Between the rows: as high as the columns are. */
WsPlateBox
ws_plate_ring_get_band (const WsPlateRing *ring)
{
  double above = ring->above > 0 ? ring->above + ring->gap : 0, below = ring->below > 0 ? ring->below + ring->gap : 0;

  return (WsPlateBox) { ring->zone.x, ring->zone.y + above, ring->zone.width, ring->zone.height - above - below };
}

WsPlateBox
ws_plate_ring_get_middle (const WsPlateRing *ring)
{
  WsPlateBox band = ws_plate_ring_get_band (ring);
  double side = ring->column + MIDDLE_GAP * ring->em;

  return (WsPlateBox) { band.x + side, band.y, band.width - 2 * side, band.height };
}

static double
frame_height (const WsPlateRing *ring, guint part)
{
  return ring->captions[part] + 2 * ws_plate_frame_room (ring->layout, part);
}

/* What stands below the picture of a part in a column. */
static double
below_picture (const WsPlateRing *ring, guint part)
{
  return ring->layout->parts[part].aspect > 0 ? ring->captions[part] + WS_PLATE_CAPTION_GAP * ring->em : 0;
}

/* --- Columns ---------------------------------------------------------------------------------- */

/* Height of a crop when all of prominence 1 may cover @area, at most @most or, of what is less prominent, less; and never so
 * small that nothing is seen. */
static double
crop_height (const WsPlateRing *ring, const WsPlatePart *part, double area, double most)
{
  double height = MIN (most * MIN (1, sqrt (part->prominence)), sqrt (area * part->prominence / part->aspect));

  return MIN (most, MAX (height, MIN_PICTURE * ring->em));
}

/* Fills heights of the pictures of a column for an area and gives what is left over, below 0 when it does not fit. */
static double
fill_column (WsPlateRing *ring, const guint *parts, guint n, double height, double area)
{
  double left_over = height - (n > 0 ? (n - 1) * ring->gap : 0);

  for (guint i = 0; i < n; i++)
    {
      const WsPlatePart *part = &ring->layout->parts[parts[i]];

      ring->heights[i] = part->aspect > 0 ? crop_height (ring, part, area, ring->column / part->aspect)
                                            : frame_height (ring, parts[i]);
      left_over -= ring->heights[i] + below_picture (ring, parts[i]);
    }
  return left_over;
}

/* The largest crops for which the column is not too tall. */
static double
size_column (WsPlateRing *ring, const guint *parts, guint n, double height)
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

static void
set_side_port (WsPlatePart *part, WsPlateSide side, double y)
{
  part->side = side;
  part->tip_x = side == WS_PLATE_LEFT ? part->picture.x + part->picture.width : part->picture.x;
  part->tip_y = y;
}

gboolean
ws_plate_ring_place_column (WsPlateRing *ring, guint first, guint n, WsPlateSide side)
{
  WsPlateLayout *layout = ring->layout;
  const guint *parts = ring->part_in + first;
  WsPlateBox band = ws_plate_ring_get_band (ring);
  double spare = size_column (ring, parts, n, band.height), y = band.y, between;
  double x = side == WS_PLATE_LEFT ? ring->zone.x : ring->zone.x + ring->zone.width - ring->column;

  if (spare < 0)
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

gboolean
ws_plate_ring_place_steady_column (WsPlateRing *ring, guint first, guint n, WsPlateSide side)
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

/* --- Rows above and below the figure ---------------------------------------------------------------------- */

static double
height_in_row (const WsPlateRing *ring, const WsPlatePart *part, double area)
{
  return part->aspect > 0 ? crop_height (ring, part, area, MIN (ring->row_share * ring->zone.height,
                                                                0.5 * ring->zone.width / part->aspect)) : 0;
}

static double
width_in_row (const WsPlateRing *ring, const WsPlatePart *part, double area)
{
  return MAX (height_in_row (ring, part, area) * part->aspect, MIN_IN_ROW * ring->em);
}

static double
sum_widths (const WsPlateRing *ring, const guint *parts, guint n, double area)
{
  double width = 0;

  for (guint i = 0; i < n; i++)
    width += width_in_row (ring, &ring->layout->parts[parts[i]], area);
  return width;
}

/* The largest area for which the row is not too wide. */
static double
size_row (const WsPlateRing *ring, const guint *parts, guint n, double width)
{
  double least = 0, most = ring->zone.height * ring->zone.height;

  if (sum_widths (ring, parts, n, most) <= width)
    return most;
  for (guint round = 0; round < 24; round++)
    {
      double area = (least + most) / 2;

      if (sum_widths (ring, parts, n, area) <= width)
        least = area;
      else
        most = area;
    }
  return least;
}

/* Widths in whole em, so that a caption is measured once for each. */
static double
row_caption (WsPlateRing *ring, guint part, double width)
{
  guint ems = ws_plate_whole_ems (ring->layout, width);
  double *height = &ring->row_captions[part * WS_PLATE_ROW_WIDTHS + ems];

  if (isnan (*height))
    *height = ws_plate_caption_height (ring->layout, part, ems * ring->em);
  return *height;
}

/* A port in the middle of the picture, or as near to it as lies over the free rectangle. FALSE: the picture lies aside. */
static gboolean
set_row_port (const WsPlateRing *ring, WsPlatePart *part)
{
  WsPlateBox middle = ws_plate_ring_get_middle (ring);
  const WsPlateBox *picture = &part->picture;

  part->tip_x = CLAMP (picture->x + picture->width / 2, middle.x, middle.x + middle.width);
  part->tip_y = picture->y + (part->side == WS_PLATE_ABOVE ? picture->height : 0);
  return part->tip_x >= picture->x + 0.3 * ring->em && part->tip_x <= picture->x + picture->width - 0.3 * ring->em;
}

/* The row at its place, @between apart; pictures stand at its edge towards the figure, captions away from it. */
static gboolean
put_row (WsPlateRing *ring, const guint *parts, guint n, double between, double used, double height)
{
  double x = ring->zone.x + (ring->zone.width - used - (n - 1) * between) / 2;
  gboolean fine = TRUE;

  for (guint i = 0; i < n; i++)
    {
      WsPlatePart *part = &ring->layout->parts[parts[i]];
      double y = part->side == WS_PLATE_ABOVE ? ring->zone.y + height - part->box.height
                                              : ring->zone.y + ring->zone.height - height;

      ws_plate_place_part (ring->layout, parts[i], x, y, part->box.width, part->picture.height, part->caption.height);
      fine = set_row_port (ring, part) && fine;
      x += part->box.width + between;
    }
  return fine;
}

gboolean
ws_plate_ring_place_row (WsPlateRing *ring, guint first, guint n, WsPlateSide side, double *height)
{
  WsPlateLayout *layout = ring->layout;
  const guint *parts = ring->part_in + first;
  double room = ring->zone.width - (n > 0 ? (n - 1) * ring->gap : 0), area = size_row (ring, parts, n, room), used = 0;

  *height = 0;
  if (n == 0)
    return TRUE;
  for (guint i = 0; i < n; i++)
    {
      WsPlatePart *part = &layout->parts[parts[i]];
      double width = width_in_row (ring, part, area);

      part->side = side;
      ws_plate_place_part (layout, parts[i], 0, 0, width, height_in_row (ring, part, area), row_caption (ring, parts[i], width));
      used += width;
      *height = MAX (*height, part->box.height);
    }
  if (used > room + 1e-6)
    return FALSE;
  /* From margin to margin, if the outer pictures still reach over the rectangle; else closer together. */
  return (n > 1 && put_row (ring, parts, n, (ring->zone.width - used) / (n - 1), used, *height))
         || put_row (ring, parts, n, 2 * ring->gap * (used + 2 * (n - 1) * ring->gap <= ring->zone.width ? 1 : 0.5), used, *height);
}
