/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Blur as an equivalent Gaussian, from edges.
 *
 * A step edge of blur s, smoothed by Gaussians of variance t1 and t2, has the gradients g1 and g2
 * with (g1 / g2)^2 = (s^2 + t2) / (s^2 + t1); so s follows from their ratio (Zhuo & Sim, Defocus
 * map estimation from a single image, Pattern Recognition 44, 2011). Ours differs in what makes
 * that usable on textures with noise:
 *
 *   - Scales. The ratio is taken over an octave at a series of scales. A fine one is spoilt by
 *     noise, a coarse one by neighbouring edges; the right one is a fraction of s^2 itself, so the
 *     answer is where scale and result fit together.
 *   - Noise. At each scale the noise is taken from the quietest blocks, and an edge counts only if
 *     the change of its gradient that is to be measured stands out from it.
 *   - Statistics. Edges count by the square of their contrast, which blur does not change, and the
 *     lower third is the answer: what is soft of itself (a shadow, a rounded form) is always
 *     softer than the lens makes it.
 *
 * The constants were set on photos of other subjects and on pictures of random discs ("dead
 * leaves"), blurred by known amounts; tests/photo/test-sharpness.c says what is reached. */
#include "ws-sharpness.h"

#include "ws-blocking.h"
#include "ws-shape-rows.h"

#include <math.h>
#include <string.h>

/* A tile and the margin of real pixels around it, so that its edge is no edge. */
#define TILE 512
#define MARGIN 48
#define LEVELS 4
#define SCALES (2 * LEVELS)

/* A central difference smooths like a box two pixels wide: variance 1/3. */
#define DIFFERENCE (1.0 / 3)

/* Histogram of s^2 over the pixels of a level: bin 0 holds 0 and below. */
#define BINS 160
#define LOWEST 0.02
#define HIGHEST 400.0

typedef struct
{
  double weight[BINS];
  double total;
  double gradient, noise;    /* sums, weighted likewise */
  guint n;
} Histogram;

typedef struct
{
  const WsPicture *picture;
  const guint8 *mask;        /* a byte for each pixel of the bounds */
  int x, y, width, height;   /* of the bounds in the picture */
  Histogram scales[SCALES];
} Measure;

/* One tile at one level; arrays of width * height. */
typedef struct
{
  int level, width, height;
  int x, y;                  /* of its first pixel in the picture, full-size pixels */
  float *image[3];           /* smoothed to the variances 0.5, 1 and 2 */
  float *gradient[3];        /* their gradients, squared */
  float *work;
} Level;

static double tune_c = 6, tune_p = 0.35, tune_q = 4, tune_noise = 0.1, tune_s = 4, tune_w = 12;

/* Smooths rows and columns by a symmetric kernel of 2 * @radius + 1 taps; the border repeats. */
static void
smooth (const float *from, float *to, float *work, int width, int height, const float *kernel, int radius)
{
  float padded[TILE + 2 * MARGIN + 16];

  for (int y = 0; y < height; y++)
    {
      const float *row = from + (gsize) y * width;

      memcpy (padded + radius, row, sizeof (float) * (gsize) width);
      for (int i = 0; i < radius; i++)
        {
          padded[i] = row[0];
          padded[radius + width + i] = row[width - 1];
        }
      for (int x = 0; x < width; x++)
        work[(gsize) y * width + x] = kernel[0] * padded[x + radius];
      for (int k = 1; k <= radius; k++)
        for (int x = 0; x < width; x++)
          work[(gsize) y * width + x] += kernel[k] * (padded[x + radius - k] + padded[x + radius + k]);
    }
  for (int y = 0; y < height; y++)
    {
      float *out = to + (gsize) y * width;
      const float *middle = work + (gsize) y * width;

      for (int x = 0; x < width; x++)
        out[x] = kernel[0] * middle[x];
      for (int k = 1; k <= radius; k++)
        {
          const float *above = work + (gsize) MAX (y - k, 0) * width;
          const float *below = work + (gsize) MIN (y + k, height - 1) * width;

          for (int x = 0; x < width; x++)
            out[x] += kernel[k] * (above[x] + below[x]);
        }
    }
}

static int
make_kernel (float *kernel, double variance)
{
  int radius = (int) ceil (3.2 * sqrt (variance));
  double sum = 0;

  for (int i = 0; i <= radius; i++)
    sum += (i == 0 ? 1 : 2) * exp (-i * i / (2 * variance));
  for (int i = 0; i <= radius; i++)
    kernel[i] = (float) (exp (-i * i / (2 * variance)) / sum);
  return radius;
}

static void
take_gradient (const float *image, float *squared, int width, int height)
{
  memset (squared, 0, sizeof (float) * (gsize) width * (gsize) height);
  for (int y = 1; y < height - 1; y++)
    {
      const float *row = image + (gsize) y * width;
      float *out = squared + (gsize) y * width;

      for (int x = 1; x < width - 1; x++)
        {
          float dx = row[x + 1] - row[x - 1], dy = row[x + width] - row[x - width];

          out[x] = (dx * dx + dy * dy) / 4;
        }
    }
}

/* TRUE if the gradient is largest here across the edge. */
static gboolean
is_ridge (const float *image, const float *squared, int at, int width)
{
  float dx = image[at + 1] - image[at - 1], dy = image[at + width] - image[at - width];
  float ax = fabsf (dx), ay = fabsf (dy), here = squared[at];
  int step = ax > 2.414f * ay ? 1 : ay > 2.414f * ax ? width : (dx > 0) == (dy > 0) ? width + 1 : width - 1;

  return here >= squared[at - step] && here > squared[at + step];
}

/* s^2 in pixels of the level from two gradients squared. */
static double
blur_from (double g1, double g2, double t1, double t2)
{
  double ratio = g1 / MAX (g2, 1e-12);

  t1 += DIFFERENCE;
  t2 += DIFFERENCE;
  return ratio > 1.0001 ? MIN ((t2 - ratio * t1) / (ratio - 1), HIGHEST) : HIGHEST;
}

static int
compare_floats (gconstpointer a, gconstpointer b)
{
  float x = *(const float *) a, y = *(const float *) b;

  return x < y ? -1 : x > y ? 1 : 0;
}

/* Deviation of the white noise that would leave as much between the variances 0.5 and 1 as the
 * quietest tenth of blocks has. */
static double
find_noise (const Level *level)
{
  g_autoptr (GArray) blocks = g_array_new (FALSE, FALSE, sizeof (float));
  const int size = 12;
  double floor_noise = 0.3 / (1 << level->level), noise;

  for (int by = 0; by + size <= level->height; by += size)
    for (int bx = 0; bx + size <= level->width; bx += size)
      {
        float sum = 0;

        for (int y = by; y < by + size; y++)
          for (int x = bx; x < bx + size; x++)
            {
              float d = level->image[0][y * level->width + x] - level->image[1][y * level->width + x];

              sum += d * d;
            }
        sum /= (float) (size * size);
        g_array_append_val (blocks, sum);
      }
  if (blocks->len == 0)
    return floor_noise;
  g_array_sort (blocks, compare_floats);
  noise = sqrt (g_array_index (blocks, float, (guint) (blocks->len * tune_noise))) / 0.163;
  return MAX (noise, floor_noise);
}

static void
count (Histogram *histogram, double blur, double weight, double gradient, double noise)
{
  double place = blur > LOWEST ? 1 + log (blur / LOWEST) / log (HIGHEST / LOWEST) * (BINS - 1) : 0;

  histogram->weight[CLAMP ((int) place, 0, BINS - 1)] += weight;
  histogram->total += weight;
  histogram->gradient += weight * gradient;
  histogram->noise += weight * noise;
  histogram->n++;
}

static gboolean
is_inside (const Measure *measure, const Level *level, int x, int y, int tile_x, int tile_y)
{
  int px = level->x + (x << level->level) - measure->x, py = level->y + (y << level->level) - measure->y;

  return px >= 0 && py >= 0 && px < measure->width && py < measure->height &&
         px / TILE == tile_x && py / TILE == tile_y && measure->mask[(gsize) py * measure->width + px] != 0;
}

/* The edges of one scale: @first is 0 or 1, the smaller variance of the pair. */
static void
take_edges (Measure *measure, const Level *level, int first, double noise, int tile_x, int tile_y)
{
  Histogram *histogram = &measure->scales[level->level * 2 + first];
  const float *image = level->image[first], *g1 = level->gradient[first], *g2 = level->gradient[first + 1];
  double t1 = first == 0 ? 0.5 : 1, t2 = t1 * 2;
  double step = tune_q * noise / (sqrt (8 * G_PI) * (t1 + DIFFERENCE));
  double least = step * step;

  for (int y = 2; y < level->height - 2; y++)
    for (int x = 2; x < level->width - 2; x++)
      {
        int at = y * level->width + x;
        double blur;

        if (g1[at] < least || !is_ridge (image, g1, at, level->width) ||
            !is_inside (measure, level, x, y, tile_x, tile_y))
          continue;
        blur = blur_from (g1[at], g2[at], t1, t2);
        count (histogram, blur, g1[at] * CLAMP (blur + t1 + DIFFERENCE, 0.3, tune_w * (t1 + DIFFERENCE)), sqrtf (g1[at]), step / tune_q);
      }
}

static void
level_init (Level *level, int number, int x, int y, int width, int height)
{
  gsize n = (gsize) width * (gsize) height;

  *level = (Level) { .level = number, .width = width, .height = height, .x = x, .y = y };
  for (int i = 0; i < 3; i++)
    {
      level->image[i] = g_new (float, n);
      level->gradient[i] = g_new (float, n);
    }
  level->work = g_new (float, n);
}

static void
level_clear (Level *level)
{
  for (int i = 0; i < 3; i++)
    {
      g_free (level->image[i]);
      g_free (level->gradient[i]);
    }
  g_free (level->work);
}

/* From image[0] on: the other variances, gradients, edges. */
static void
measure_level (Measure *measure, Level *level, int tile_x, int tile_y)
{
  float kernel[16];
  double noise;
  int radius = make_kernel (kernel, 0.5);

  smooth (level->image[0], level->image[1], level->work, level->width, level->height, kernel, radius);
  radius = make_kernel (kernel, 1);
  smooth (level->image[1], level->image[2], level->work, level->width, level->height, kernel, radius);
  for (int i = 0; i < 3; i++)
    take_gradient (level->image[i], level->gradient[i], level->width, level->height);
  noise = find_noise (level);
  take_edges (measure, level, 0, noise, tile_x, tile_y);
  take_edges (measure, level, 1, noise, tile_x, tile_y);
}

/* Every second pixel of the variance 2 has variance 0.5 in pixels of the next level. */
static void
halve_level (const Level *level, Level *next)
{
  level_init (next, level->level + 1, level->x, level->y, (level->width + 1) / 2, (level->height + 1) / 2);
  for (int y = 0; y < next->height; y++)
    for (int x = 0; x < next->width; x++)
      next->image[0][y * next->width + x] = level->image[2][y * 2 * level->width + x * 2];
}

/* ITU-R BT.601 luma of a rectangle of the picture. */
static void
take_luma (const WsPicture *picture, const Level *level, float *luma)
{
  const guint8 *pixels = g_bytes_get_data (picture->pixels, NULL);

  for (int y = 0; y < level->height; y++)
    {
      const guint8 *p = pixels + ((gsize) (level->y + y) * (gsize) picture->width + (gsize) level->x) * 3;

      for (int x = 0; x < level->width; x++, p += 3)
        luma[y * level->width + x] = 0.299f * p[0] + 0.587f * p[1] + 0.114f * p[2];
    }
}

static void
measure_tile (Measure *measure, int tile_x, int tile_y)
{
  const WsPicture *picture = measure->picture;
  int x0 = MAX (measure->x + tile_x * TILE - MARGIN, 0), y0 = MAX (measure->y + tile_y * TILE - MARGIN, 0);
  int x1 = MIN (MIN (measure->x + (tile_x + 1) * TILE, measure->x + measure->width) + MARGIN, picture->width);
  int y1 = MIN (MIN (measure->y + (tile_y + 1) * TILE, measure->y + measure->height) + MARGIN, picture->height);
  Level level, next;
  float kernel[16];
  int radius = make_kernel (kernel, 0.5);

  level_init (&level, 0, x0, y0, x1 - x0, y1 - y0);
  take_luma (picture, &level, level.image[1]);
  smooth (level.image[1], level.image[0], level.work, level.width, level.height, kernel, radius);
  for (int i = 0; i < LEVELS && MIN (level.width, level.height) >= 8; i++)
    {
      measure_level (measure, &level, tile_x, tile_y);
      halve_level (&level, &next);
      level_clear (&level);
      level = next;
    }
  level_clear (&level);
}

/* s^2 in full-size pixels below which the share @tune_p of the weight lies. */
static double
quantile (const Histogram *histogram, int level)
{
  double sum = 0, rest = tune_p * histogram->total;
  int bin = 0;

  while (bin < BINS - 1 && sum + histogram->weight[bin] < rest)
    sum += histogram->weight[bin++];
  if (bin == 0)
    return 0;
  return pow (4, level) * LOWEST *
         pow (HIGHEST / LOWEST, (bin - 1 + (rest - sum) / MAX (histogram->weight[bin], 1e-12)) / (BINS - 1));
}

/* Fewer edges than this tell nothing. */
#define FEWEST 40

/* The smaller variance of a scale, in full-size pixels. */
static double
scale_variance (int scale)
{
  return (scale % 2 == 0 ? 0.5 : 1 + 0) * pow (4, scale / 2);
}

/* TRUE if the edges of the scale stand out from its noise so far that their change can be
 * measured, given how blurred they seem at the next coarser scale. */
static gboolean
is_trusted (const Histogram *scale, double variance, double coarser)
{
  return scale->n >= FEWEST &&
         scale->gradient * variance / (coarser + variance) >= tune_s * scale->noise;
}

/* The finest trusted scale at which the answer is at most tune_c times the scale itself; between
 * it and the one before, where both meet. */
static double
solve (const Measure *measure)
{
  double blur[SCALES + 1], before = NAN, misfit_before = NAN;

  blur[SCALES] = NAN;
  for (int k = SCALES - 1; k >= 0; k--)
    blur[k] = measure->scales[k].n >= FEWEST ? quantile (&measure->scales[k], k / 2) : NAN;
  for (int k = 0; k < SCALES; k++)
    {
      double variance = scale_variance (k) + DIFFERENCE * pow (4, k / 2), misfit;
      double coarser = isfinite (blur[k + 1]) ? blur[k + 1] : blur[k];

      if (!isfinite (blur[k]) ||
          (!isfinite (before) && !is_trusted (&measure->scales[k], variance, coarser)))
        continue;
      misfit = log (variance * tune_c) - log (blur[k] + DIFFERENCE);
      if (misfit >= 0 && isfinite (before))
        return sqrt (before + (blur[k] - before) * -misfit_before / (misfit - misfit_before));
      before = blur[k];
      misfit_before = misfit;
      if (misfit >= 0)
        break;
    }
  return sqrt (before);
}

/* A byte for each pixel of the bounds: 1 where its middle lies in the shape. */
static guint8 *
make_mask (const Measure *measure, const WsShape *shape)
{
  guint8 *mask = g_malloc0 ((gsize) measure->width * (gsize) measure->height);
  g_autoptr (GArray) crossings = g_array_new (FALSE, FALSE, sizeof (double));

  for (int y = 0; y < measure->height; y++)
    {
      ws_shape_cut (shape, (measure->y + y + 0.5) / measure->picture->height, crossings);
      for (guint i = 0; i + 1 < crossings->len; i += 2)
        {
          double from = g_array_index (crossings, double, i) * measure->picture->width - measure->x;
          double to = g_array_index (crossings, double, i + 1) * measure->picture->width - measure->x;
          int first = (int) CLAMP (ceil (from - 0.5), 0, measure->width);
          int end = (int) CLAMP (floor (to - 0.5) + 1, first, measure->width);

          memset (mask + (gsize) y * measure->width + first, 1, (gsize) (end - first));
        }
    }
  return mask;
}

static void
measure_exposure (const Measure *measure, WsSharpness *result)
{
  const guint8 *pixels = g_bytes_get_data (measure->picture->pixels, NULL);
  gint64 n = 0, burnt = 0, blocked = 0;

  for (int y = 0; y < measure->height; y++)
    {
      const guint8 *p = pixels + ((gsize) (measure->y + y) * (gsize) measure->picture->width + (gsize) measure->x) * 3;
      const guint8 *mask = measure->mask + (gsize) y * measure->width;

      for (int x = 0; x < measure->width; x++, p += 3)
        {
          int most = MAX (MAX (p[0], p[1]), p[2]);

          n += mask[x];
          burnt += mask[x] & (most >= 254 ? 1 : 0);
          blocked += mask[x] & (most <= 2 ? 1 : 0);
        }
    }
  result->burnt_out = n > 0 ? (double) burnt / (double) n : 0;
  result->blocked_up = n > 0 ? (double) blocked / (double) n : 0;
}

WsSharpness
ws_sharpness_measure (const WsPicture *picture, const WsShape *shape)
{
  g_autofree Measure *measure = g_new0 (Measure, 1);
  g_autofree guint8 *mask = NULL;
  WsSharpness result = { 0 };

  measure->picture = picture;
  ws_rect_to_pixels (&shape->bounds, picture->width, picture->height, &measure->x, &measure->y, &measure->width,
                     &measure->height);
  measure->mask = mask = make_mask (measure, shape);
  result.width_px = measure->width;
  result.height_px = measure->height;
  measure_exposure (measure, &result);
  for (int y = 0; y * TILE < measure->height; y++)
    for (int x = 0; x * TILE < measure->width; x++)
      measure_tile (measure, x, y);
  result.blur_sigma = solve (measure);
  return result;
}

gboolean
ws_sharpness_measure_file (const char *path, const WsShape *shape, WsSharpness *result, GCancellable *cancellable,
                           GError **error)
{
  g_autoptr (WsPicture) picture = NULL;

  ws_blocking ("measuring a photo");
  picture = ws_picture_decode_file (path, 0, cancellable, error);
  if (picture == NULL)
    return FALSE;
  *result = ws_sharpness_measure (picture, shape);
  return TRUE;
}
