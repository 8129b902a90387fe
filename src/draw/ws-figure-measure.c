/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the parts of a figure are: bounds, and the point where a leader line ends. */
#include "ws-figure-private.h"

#include <math.h>
#include <string.h>

/* Cells of the grid on which anchors are looked for; more than one figure unit is never needed. */
#define MAX_CELLS 400
/* Room round the small version for the line itself and a little ground. */
#define AROUND 8.0

static void
add_bounds (FigurePart *part, gboolean first, double x0, double y0, double x1, double y1)
{
  part->x0 = first ? x0 : MIN (part->x0, x0);
  part->y0 = first ? y0 : MIN (part->y0, y0);
  part->x1 = first ? x1 : MAX (part->x1, x1);
  part->y1 = first ? y1 : MAX (part->y1, y1);
}

static void
measure_bounds (WsFigure *figure, cairo_t *cr)
{
  g_autofree gboolean *seen = g_new0 (gboolean, figure->parts->len);
  gboolean any = FALSE;
  FigurePart all = { 0 };

  for (guint i = 0; i < figure->paths->len; i++)
    {
      const FigurePath *path = g_ptr_array_index (figure->paths, i);
      FigurePart *part = &g_array_index (figure->parts, FigurePart, path->part);
      double x0, y0, x1, y1;

      if (!(path->flags & FIGURE_OUTLINE))
        continue;
      cairo_new_path (cr);
      ws_figure_path_append (path, cr);
      cairo_path_extents (cr, &x0, &y0, &x1, &y1);
      add_bounds (part, !seen[path->part], x0, y0, x1, y1);
      part->aside = (!seen[path->part] || part->aside) && path->flags & FIGURE_ASIDE;
      seen[path->part] = TRUE;
      if (path->flags & (FIGURE_ASIDE | FIGURE_GROUND) || !ws_figure_path_is_drawn (path, "plain"))
        continue;
      add_bounds (&all, !any, x0, y0, x1, y1);
      any = TRUE;
    }
  figure->main[0] = any ? all.x0 - AROUND : 0;
  figure->main[1] = any ? all.y0 - AROUND : 0;
  figure->main[2] = any ? all.x1 + AROUND : figure->width;
  figure->main[3] = any ? all.y1 + AROUND : figure->height;
}

/* Paints each part in its own number, later ones over earlier ones. */
static void
paint_numbers (const WsFigure *figure, cairo_surface_t *surface, double scale)
{
  cairo_t *cr = cairo_create (surface);

  cairo_set_antialias (cr, CAIRO_ANTIALIAS_NONE);
  cairo_scale (cr, scale, scale);
  for (guint i = 0; i < figure->paths->len; i++)
    {
      const FigurePath *path = g_ptr_array_index (figure->paths, i);

      if (!(path->flags & FIGURE_OUTLINE) || !ws_figure_path_is_drawn (path, "plain"))
        continue;
      ws_figure_path_append (path, cr);
      cairo_set_source_rgb (cr, 0, 0, (path->part + 1) / 255.0);
      cairo_fill (cr);
    }
  cairo_destroy (cr);
}

typedef struct { int width, height; guint8 *number; float *depth; } Grid;

static float
depth_beside (const Grid *grid, int x, int y, int dx, int dy)
{
  int i = x + dx, k = y + dy;

  if (i < 0 || k < 0 || i >= grid->width || k >= grid->height ||
      grid->number[k * grid->width + i] != grid->number[y * grid->width + x])
    return 0;
  return grid->depth[k * grid->width + i];
}

/* How deep each cell lies in its part: two passes of a chamfer distance (1 straight, 1.4 slanting). */
static void
measure_depth (Grid *grid)
{
  for (int pass = 0; pass < 2; pass++)
    for (int n = 0; n < grid->width * grid->height; n++)
      {
        int at = pass == 0 ? n : grid->width * grid->height - 1 - n, s = pass == 0 ? -1 : 1;
        int x = at % grid->width, y = at / grid->width;
        float d = MIN (MIN (depth_beside (grid, x, y, s, 0), depth_beside (grid, x, y, 0, s)) + 1,
                       MIN (depth_beside (grid, x, y, s, s), depth_beside (grid, x, y, -s, s)) + 1.4f);

        grid->depth[at] = pass == 0 ? d : MIN (grid->depth[at], d);
      }
}

static void
choose_anchors (WsFigure *figure, const Grid *grid, double scale)
{
  g_autofree float *best = g_new0 (float, figure->parts->len);

  for (guint i = 0; i < figure->parts->len; i++)
    {
      FigurePart *part = &g_array_index (figure->parts, FigurePart, i);

      part->x = (part->x0 + part->x1) / 2;   /* of a part that others cover wholly */
      part->y = (part->y0 + part->y1) / 2;
    }
  for (int at = 0; at < grid->width * grid->height; at++)
    {
      int index = grid->number[at] - 1;

      if (index < 0 || index >= (int) figure->parts->len || grid->depth[at] <= best[index])
        continue;
      best[index] = grid->depth[at];
      g_array_index (figure->parts, FigurePart, index).x = (at % grid->width + 0.5) / scale;
      g_array_index (figure->parts, FigurePart, index).y = (at / grid->width + 0.5) / scale;
    }
}

void
ws_figure_measure (WsFigure *figure)
{
  double scale = MIN (1.0, MAX_CELLS / MAX (figure->width, figure->height));
  Grid grid = { (int) ceil (figure->width * scale), (int) ceil (figure->height * scale), NULL, NULL };
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, grid.width, grid.height);
  cairo_t *cr = cairo_create (surface);
  const guint8 *pixels;

  measure_bounds (figure, cr);
  cairo_destroy (cr);
  paint_numbers (figure, surface, scale);
  cairo_surface_flush (surface);
  pixels = cairo_image_surface_get_data (surface);
  grid.number = g_new0 (guint8, grid.width * grid.height);
  grid.depth = g_new0 (float, grid.width * grid.height);
  for (int y = 0; y < grid.height; y++)
    for (int x = 0; x < grid.width; x++)
      {
        guint32 pixel;

        memcpy (&pixel, pixels + y * cairo_image_surface_get_stride (surface) + x * 4, sizeof pixel);
        grid.number[y * grid.width + x] = pixel & 0xff;
      }
  measure_depth (&grid);
  choose_anchors (figure, &grid, scale);
  g_free (grid.number);
  g_free (grid.depth);
  cairo_surface_destroy (surface);
}
