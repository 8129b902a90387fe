/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A step edge of blur s, smoothed by Gaussians of variance t1 and t2, has gradients g1 and g2 with
 * (g1 / g2)^2 = (s^2 + t2) / (s^2 + t1), so that s follows from their ratio (Zhuo & Sim, Defocus
 * map estimation from a single image, Pattern Recognition 44, 2011). What is added here makes that
 * hold on textures and with noise:
 *
 *   - Scales. The ratio is taken over an octave at a series of scales. A fine one is spoilt by
 *     noise, a coarse one by neighbouring edges. The answer is the finest trusted scale at which
 *     s^2 is a fixed multiple of the scale, so that it works alike at every blur.
 *   - Trust. A scale is trusted if the change of gradient that is to be measured stands out from
 *     the noise of the quietest blocks.
 *   - Statistics. An edge counts by the square of its contrast, which blur does not change, and
 *     the answer is a little below the middle: what is soft of itself, a shadow or a rounded form,
 *     is always softer than the lens made it.
 *
 * The constants were set on photos and on pictures of random discs, blurred by known amounts, with
 * noise and JPEG; they are not of any paper. What is reached stands in test-sharpness.c. */
#include "ws-blur.h"

#include "ws-scales.h"

#include <math.h>
#include <string.h>

/* A tile and the margin of real pixels around it, so that the edge of the tile is no edge. */
#define TILE 512
#define MARGIN 48

#define LEVELS 4
#define SCALES (2 * LEVELS)

/* s^2 at the answer, as a multiple of the scale. */
#define FIT 8.0
/* Share of the weight below the answer. */
#define SHARE 0.48
/* An edge: its gradient over that of the noise, and its contrast in grey levels, squared and
 * divided by 2 pi, which makes about 9. */
#define EDGE_OVER_NOISE 4.0
#define LEAST_CONTRAST 12.0f
/* A scale: its edges, and their change, over the noise. */
#define EDGES_OVER_NOISE 8.0
#define CHANGE_OVER_NOISE 4.0
/* Fewer edges than this tell nothing. */
#define FEWEST 40
/* Smoother than this multiple of the scale is shading; its contrast is not believed. */
#define SHADING 12.0f

/* Weight over s^2 in pixels of the level, eight bins to a doubling; bin 0 holds what is below
 * LOWEST, a power of two. */
#define BINS 128
#define LOWEST (1.0f / 64)
#define HIGHEST 400.0f

typedef struct
{
  double weight[BINS];
  double total;
  double gradient, noise;    /* sums, weighted likewise */
  guint n;
} Scale;

typedef struct
{
  const WsRegion *region;
  int tile_x, tile_y;
  WsLevel level;
  Scale scales[SCALES];
} Measure;

/* What is needed of one row of a level at one scale. Written without branches, so that the
 * compiler can do several pixels at once. */
typedef struct
{
  float blur[WS_LEVEL_MAX];      /* s^2 */
  float contrast[WS_LEVEL_MAX];  /* of an edge here, squared and divided by 2 pi; 0 where there is none */
} Row;

/* 1 where the gradient is at least @least and largest across the edge. */
static void
find_ridges (const float *image, const float *squared, int width, float least, float *ridge)
{
  const float steep = 2.414f;   /* tan (67.5 degrees): eight directions */

  for (int x = 1; x < width - 1; x++)
    {
      float dx = image[x + 1] - image[x - 1], dy = image[x + width] - image[x - width];
      float ax = fabsf (dx), ay = fabsf (dy), here = squared[x];
      float left = squared[x - 1], right = squared[x + 1], up = squared[x - width], down = squared[x + width];
      float up_left = squared[x - width - 1], up_right = squared[x - width + 1];
      float down_left = squared[x + width - 1], down_right = squared[x + width + 1];
      float before = dx * dy > 0 ? up_left : up_right, after = dx * dy > 0 ? down_right : down_left;

      before = ay > steep * ax ? up : before;
      after = ay > steep * ax ? down : after;
      before = ax > steep * ay ? left : before;
      after = ax > steep * ay ? right : after;
      before = before > least ? before : least;
      ridge[x] = (here >= before ? 1.0f : 0.0f) * (here > after ? 1.0f : 0.0f);
    }
}

/* s^2 from two gradients squared, and the contrast. @v1 and @v2: the variances. */
static void
find_blur (const float *g1, const float *g2, int width, float v1, float v2, Row *row)
{
  for (int x = 1; x < width - 1; x++)
    {
      float fall = g1[x] - g2[x] * 1.0001f;
      float blur = (v2 * g2[x] - v1 * g1[x]) / (fall > 1e-12f ? fall : 1e-12f);
      float wide;

      blur = fall > 1e-12f && blur < HIGHEST ? blur : HIGHEST;
      wide = blur + v1;
      wide = wide > 0.3f ? wide : 0.3f;
      wide = wide < SHADING * v1 ? wide : SHADING * v1;
      row->blur[x] = blur;
      row->contrast[x] *= g1[x] * wide;
    }
}

/* Each pixel of the region belongs to one tile, whatever margins overlap. */
static gboolean
is_inside (const Measure *measure, const WsLevel *level, int x, int y)
{
  const WsRegion *region = measure->region;
  int px = level->x + (x << level->number) - region->x, py = level->y + (y << level->number) - region->y;

  return px >= 0 && py >= 0 && px < region->width && py < region->height && px / TILE == measure->tile_x &&
         py / TILE == measure->tile_y && region->mask[(gsize) py * (gsize) region->width + (gsize) px] != 0;
}

/* The exponent and the first three bits behind the point of a single-precision number. */
static guint
bin_of (float blur)
{
  const float lowest = LOWEST;
  guint32 bits, first;

  if (!(blur >= lowest))
    return 0;
  memcpy (&bits, &blur, sizeof bits);
  memcpy (&first, &lowest, sizeof first);
  return MIN ((bits >> 20) - (first >> 20) + 1, BINS - 1);
}

/* Where the bin begins. */
static double
bin_start (guint bin)
{
  return bin == 0 ? 0 : ldexp (LOWEST * (1 + ((bin - 1) % 8) / 8.0), (int) (bin - 1) / 8);
}

static void
count (Scale *scale, float blur, float weight, float gradient)
{
  scale->weight[bin_of (blur)] += weight;
  scale->total += weight;
  scale->gradient += weight * gradient;
  scale->n++;
}

/* The edges between the variances number @first and the next. */
static void
take_edges (Measure *measure, const WsLevel *level, int first, double noise)
{
  Scale *scale = &measure->scales[level->number * 2 + first];
  float t = first == 0 ? 0.5f : 1, v1 = t + WS_LEVEL_DIFFERENCE, v2 = 2 * t + WS_LEVEL_DIFFERENCE;
  double noise_gradient = ws_level_noise_gradient (noise, t), total_before = scale->total;
  float least = (float) MAX (pow (EDGE_OVER_NOISE * noise_gradient, 2), LEAST_CONTRAST / (SHADING * v1));
  Row row;

  for (int y = 2; y < level->height - 2; y++)
    {
      gsize start = (gsize) y * (gsize) level->width;
      const float *g1 = level->gradient[first] + start, *g2 = level->gradient[first + 1] + start;

      find_ridges (level->image[first] + start, g1, level->width, least, row.contrast);
      find_blur (g1, g2, level->width, v1, v2, &row);
      for (int x = 2; x < level->width - 2; x++)
        if (row.contrast[x] >= LEAST_CONTRAST && is_inside (measure, level, x, y))
          count (scale, row.blur[x], row.contrast[x], sqrtf (g1[x]));
    }
  scale->noise += (scale->total - total_before) * noise_gradient;
}

static void
measure_tile (Measure *measure, const WsPicture *picture)
{
  const WsRegion *region = measure->region;
  int left = region->x + measure->tile_x * TILE, top = region->y + measure->tile_y * TILE;
  int right = MIN (left + TILE, region->x + region->width), bottom = MIN (top + TILE, region->y + region->height);
  WsLevel *level = &measure->level;

  ws_level_init (level, picture, MAX (left - MARGIN, 0), MAX (top - MARGIN, 0),
                 MIN (right + MARGIN, picture->width), MIN (bottom + MARGIN, picture->height));
  for (int i = 0; i < LEVELS; i++)
    {
      double noise = ws_level_noise (level);

      take_edges (measure, level, 0, noise);
      take_edges (measure, level, 1, noise);
      if (MIN (level->width, level->height) < 16 || i == LEVELS - 1)
        break;
      ws_level_halve (level);
    }
}

/* s^2 in pixels of the picture below which SHARE of the weight lies; NAN if there are too few. */
static double
scale_blur (const Scale *scale, int level)
{
  double sum = 0, rest = SHARE * scale->total;
  guint bin = 0;

  if (scale->n < FEWEST)
    return NAN;
  while (bin < BINS - 1 && sum + scale->weight[bin] < rest)
    sum += scale->weight[bin++];
  if (bin == 0)
    return 0;
  return pow (4, level) * (bin_start (bin) + (bin_start (bin + 1) - bin_start (bin)) * (rest - sum) / scale->weight[bin]);
}

/* @variance of the scale, @blur of the next coarser one, which noise spoils less. */
static gboolean
is_trusted (const Scale *scale, double variance, double blur)
{
  double change = variance / (blur + variance);

  return scale->gradient >= EDGES_OVER_NOISE * scale->noise &&
         scale->gradient * change >= CHANGE_OVER_NOISE * scale->noise;
}

/* From the finest trusted scale up to where s^2 is no more than FIT times the scale; between it
 * and the one before, where both meet. */
static double
solve (const Measure *measure)
{
  double blur[SCALES + 1], before = NAN, misfit_before = NAN;

  blur[SCALES] = NAN;
  for (int k = 0; k < SCALES; k++)
    blur[k] = scale_blur (&measure->scales[k], k / 2);
  for (int k = 0; k < SCALES; k++)
    {
      double variance = ((k % 2 == 0 ? 0.5 : 1) + WS_LEVEL_DIFFERENCE) * pow (4, k / 2), misfit;

      if (!isfinite (blur[k]) ||
          (!isfinite (before) &&
           !is_trusted (&measure->scales[k], variance, isfinite (blur[k + 1]) ? blur[k + 1] : blur[k])))
        continue;
      misfit = log (variance * FIT) - log (blur[k] + WS_LEVEL_DIFFERENCE);
      if (misfit >= 0 && isfinite (before))
        return sqrt (before + (blur[k] - before) * -misfit_before / (misfit - misfit_before));
      before = blur[k];
      misfit_before = misfit;
      if (misfit >= 0)
        break;
    }
  return sqrt (before);
}

double
ws_blur_measure (const WsPicture *picture, const WsRegion *region)
{
  g_autofree Measure *measure = g_new0 (Measure, 1);

  measure->region = region;
  for (measure->tile_y = 0; measure->tile_y * TILE < region->height; measure->tile_y++)
    for (measure->tile_x = 0; measure->tile_x * TILE < region->width; measure->tile_x++)
      measure_tile (measure, picture);
  ws_level_clear (&measure->level);
  return solve (measure);
}
