/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-scales.h"

#include <math.h>
#include <string.h>

#define MAX_RADIUS 8

/* Rows, then columns, by a symmetric kernel: its middle tap and @radius more. The border repeats. */
static void
smooth_rows (const float *from, float *to, int width, int height, const float *kernel, int radius)
{
  float padded[WS_LEVEL_MAX + 2 * MAX_RADIUS];

  for (int y = 0; y < height; y++, from += width, to += width)
    {
      memcpy (padded + radius, from, sizeof (float) * (gsize) width);
      for (int i = 0; i < radius; i++)
        {
          padded[i] = from[0];
          padded[radius + width + i] = from[width - 1];
        }
      for (int x = 0; x < width; x++)
        to[x] = kernel[0] * padded[x + radius];
      for (int k = 1; k <= radius; k++)
        for (int x = 0; x < width; x++)
          to[x] += kernel[k] * (padded[x + radius - k] + padded[x + radius + k]);
    }
}

static void
smooth_columns (const float *from, float *to, int width, int height, const float *kernel, int radius)
{
  for (int y = 0; y < height; y++)
    {
      float *out = to + (gsize) y * (gsize) width;
      const float *middle = from + (gsize) y * (gsize) width;

      for (int x = 0; x < width; x++)
        out[x] = kernel[0] * middle[x];
      for (int k = 1; k <= radius; k++)
        {
          const float *above = from + (gsize) MAX (y - k, 0) * (gsize) width;
          const float *below = from + (gsize) MIN (y + k, height - 1) * (gsize) width;

          for (int x = 0; x < width; x++)
            out[x] += kernel[k] * (above[x] + below[x]);
        }
    }
}

/* From one image of the level to another, by a Gaussian of @variance; they may be the same. */
static void
smooth (WsLevel *level, const float *from, float *to, double variance)
{
  float kernel[MAX_RADIUS + 1];
  int radius = MIN ((int) ceil (3.2 * sqrt (variance)), MAX_RADIUS);
  double sum = 0;

  for (int i = 0; i <= radius; i++)
    sum += (i == 0 ? 1 : 2) * exp (-i * i / (2 * variance));
  for (int i = 0; i <= radius; i++)
    kernel[i] = (float) (exp (-i * i / (2 * variance)) / sum);
  smooth_rows (from, level->work, level->width, level->height, kernel, radius);
  smooth_columns (level->work, to, level->width, level->height, kernel, radius);
}

static void
take_gradient (const WsLevel *level, const float *image, float *squared)
{
  int width = level->width;

  memset (squared, 0, sizeof (float) * (gsize) width * (gsize) level->height);
  for (int y = 1; y < level->height - 1; y++)
    {
      const float *row = image + (gsize) y * (gsize) width;
      float *out = squared + (gsize) y * (gsize) width;

      for (int x = 1; x < width - 1; x++)
        {
          float dx = row[x + 1] - row[x - 1], dy = row[x + width] - row[x - width];

          out[x] = (dx * dx + dy * dy) / 4;
        }
    }
}

static void
allocate (WsLevel *level)
{
  gsize n = (gsize) level->width * (gsize) level->height;

  if (n <= level->room)
    return;
  ws_level_clear (level);
  for (int i = 0; i < 3; i++)
    {
      level->image[i] = g_new (float, n);
      level->gradient[i] = g_new (float, n);
    }
  level->work = g_new (float, n);
  level->room = n;
}

/* All else from the image of variance 0.5. */
static void
complete (WsLevel *level)
{
  smooth (level, level->image[0], level->image[1], 0.5);
  smooth (level, level->image[1], level->image[2], 1);
  for (int i = 0; i < 3; i++)
    take_gradient (level, level->image[i], level->gradient[i]);
}

/* Luma by the weights of ITU-R BT.601. */
static void
take_luma (const WsLevel *level, const WsPicture *picture, float *luma)
{
  const guint8 *pixels = g_bytes_get_data (picture->pixels, NULL);

  for (int y = 0; y < level->height; y++)
    {
      const guint8 *p = pixels + ((gsize) (level->y + y) * (gsize) picture->width + (gsize) level->x) * 3;

      for (int x = 0; x < level->width; x++, p += 3, luma++)
        *luma = 0.299f * p[0] + 0.587f * p[1] + 0.114f * p[2];
    }
}

void
ws_level_init (WsLevel *level, const WsPicture *picture, int x0, int y0, int x1, int y1)
{
  level->number = 0;
  level->width = x1 - x0;
  level->height = y1 - y0;
  level->x = x0;
  level->y = y0;
  g_return_if_fail (level->width > 0 && level->width <= WS_LEVEL_MAX && level->height > 0);
  allocate (level);
  take_luma (level, picture, level->image[0]);
  smooth (level, level->image[0], level->image[0], 0.5);
  complete (level);
}

void
ws_level_halve (WsLevel *level)
{
  int width = (level->width + 1) / 2, height = (level->height + 1) / 2;
  float *half = level->work;

  /* Every second pixel of variance 2 is variance 0.5 in pixels of the next level. */
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      half[y * width + x] = level->image[2][y * 2 * level->width + x * 2];
  level->work = level->image[0];
  level->image[0] = half;
  level->number++;
  level->width = width;
  level->height = height;
  complete (level);
}

void
ws_level_clear (WsLevel *level)
{
  for (int i = 0; i < 3; i++)
    {
      g_clear_pointer (&level->image[i], g_free);
      g_clear_pointer (&level->gradient[i], g_free);
    }
  g_clear_pointer (&level->work, g_free);
  level->room = 0;
}

static int
compare_floats (gconstpointer a, gconstpointer b)
{
  float x = *(const float *) a, y = *(const float *) b;

  return x < y ? -1 : x > y ? 1 : 0;
}

#define BLOCK 12

/* Mean square of what lies between the variances 0.5 and 1. */
static float
block_power (const WsLevel *level, int left, int top)
{
  float sum = 0;

  for (int y = top; y < top + BLOCK; y++)
    for (int x = left; x < left + BLOCK; x++)
      {
        float d = level->image[0][y * level->width + x] - level->image[1][y * level->width + x];

        sum += d * d;
      }
  return sum / (BLOCK * BLOCK);
}

double
ws_level_noise (const WsLevel *level)
{
  g_autoptr (GArray) blocks = g_array_new (FALSE, FALSE, sizeof (float));
  /* Rounding: 1 / sqrt (12), halved with each level like all white noise. */
  double least = 0.289 / (1 << level->number);

  for (int y = 0; y + BLOCK <= level->height; y += BLOCK)
    for (int x = 0; x + BLOCK <= level->width; x += BLOCK)
      {
        float power = block_power (level, x, y);

        g_array_append_val (blocks, power);
      }
  if (blocks->len == 0)
    return least;
  g_array_sort (blocks, compare_floats);
  /* White noise of deviation 1 leaves 1 / (4 pi 0.5) + 1 / (4 pi) - 2 / (2 pi 1.5) = 0.0266 between
   * two Gaussians of the variances 0.5 and 1. */
  return MAX (sqrt (g_array_index (blocks, float, blocks->len / 10) / 0.0266), least);
}

double
ws_level_noise_gradient (double noise, double variance)
{
  return noise / (sqrt (8 * G_PI) * (variance + WS_LEVEL_DIFFERENCE));
}
