/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-edge-levels.h"

#include <math.h>
#include <string.h>

#include "ws-blocking.h"

/* A colour as lightness, red against green, and yellow against blue, with these weights: a brown cap on brown leaves
 * differs in lightness little, a green one on green moss in hue little. */
#define RED_GREEN 0.6
#define YELLOW_BLUE 0.5
/* An edge counts by how it stands out: half as much as could be at this gradient (of 255 a px)... */
#define PLAIN_GRADIENT 1.5
/* ...plus this share of the mean gradient of the neighbourhood. */
#define ROUGH_SHARE 0.7
/* Half the neighbourhood, in blocks of so many px. */
#define BLOCK 8
#define BLOCKS_AROUND 2
/* Strength of the picture's own frame, to which a part that is cut off runs. */
#define FRAME_STRENGTH 0.9

enum { N_PLANES = 3 };

/* --- Planes ----------------------------------------------------------------------------------------------- */

/* Lightness, red-green and yellow-blue, 16 to a step of a channel. */
static void
split (const guchar *pixels, gsize n, gint16 *planes[N_PLANES])
{
  for (gsize i = 0; i < n; i++)
    {
      int r = pixels[3 * i], g = pixels[3 * i + 1], b = pixels[3 * i + 2];

      planes[0][i] = (gint16) ((77 * r + 151 * g + 28 * b) >> 4);
      planes[1][i] = (gint16) ((r - g) * (int) (RED_GREEN * 16));
      planes[2][i] = (gint16) ((r + g - 2 * b) * (int) (YELLOW_BLUE * 8));
    }
}

/* Weights 1 2 1 across and down; the last px counts twice at the border. */
static void
smooth (gint16 *plane, gint16 *rows, int width, int height)
{
  for (int y = 0; y < height; y++)
    {
      const gint16 *above = plane + (gsize) MAX (y - 1, 0) * width, *here = plane + (gsize) y * width;
      const gint16 *below = plane + (gsize) MIN (y + 1, height - 1) * width;
      gint16 *out = rows + (gsize) y * width;

      for (int x = 0; x < width; x++)
        out[x] = (gint16) ((above[x] + 2 * here[x] + below[x]) >> 2);
    }
  for (int y = 0; y < height; y++)
    {
      const gint16 *in = rows + (gsize) y * width;
      gint16 *out = plane + (gsize) y * width;

      out[0] = (gint16) ((3 * in[0] + in[MIN (1, width - 1)]) >> 2);
      for (int x = 1; x < width - 1; x++)
        out[x] = (gint16) ((in[x - 1] + 2 * in[x] + in[x + 1]) >> 2);
      if (width > 1)
        out[width - 1] = (gint16) ((in[width - 2] + 3 * in[width - 1]) >> 2);
    }
}

/* --- Gradients -------------------------------------------------------------------------------------------------- */

/* The strongest change of all planes together and its direction: the greater eigenvalue of the sum of the planes' gradient
 * products (Di Zenzo, A note on the gradient of a multi-image, 1986). */
static float
gradient (gint16 *const planes[N_PLANES], gsize left, gsize right, gsize above, gsize below, WsEdge *edge)
{
  float xx = 0, yy = 0, xy = 0, d, s, cosine;

  for (int i = 0; i < N_PLANES; i++)
    {
      float gx = (planes[i][right] - planes[i][left]) / 32.0f, gy = (planes[i][below] - planes[i][above]) / 32.0f;

      xx += gx * gx;
      yy += gy * gy;
      xy += gx * gy;
    }
  d = xx - yy;
  s = sqrtf (d * d + 4 * xy * xy);
  /* Of twice the angle; where nothing changes any direction is as good. */
  cosine = s > 0 ? d / s : 1;
  edge->x = (gint8) (127 * sqrtf (MAX (0, (1 + cosine) / 2)));
  edge->y = (gint8) (127 * sqrtf (MAX (0, (1 - cosine) / 2)) * (xy < 0 ? -1 : 1));
  return sqrtf ((xx + yy + s) / 2);
}

static float *
find_gradients (WsEdgeLevel *level, const guchar *pixels)
{
  int width = level->width, height = level->height;
  gsize n = (gsize) width * height;
  g_autofree gint16 *buffer = g_new (gint16, n * (N_PLANES + 1));
  gint16 *planes[N_PLANES] = { buffer, buffer + n, buffer + 2 * n };
  float *sizes = g_new (float, n);

  split (pixels, n, planes);
  for (int i = 0; i < N_PLANES; i++)
    smooth (planes[i], buffer + N_PLANES * n, width, height);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        gsize row = (gsize) y * width, i = row + x;

        sizes[i] = gradient (planes, row + MAX (x - 1, 0), row + MIN (x + 1, width - 1),
                             (gsize) MAX (y - 1, 0) * width + x, (gsize) MIN (y + 1, height - 1) * width + x,
                             &level->edges[i]);
      }
  return sizes;
}

/* --- How they stand out -------------------------------------------------------------------------------------------- */

/* Means of the gradient in blocks. */
static float *
block_means (const float *sizes, int width, int height, int across, int down)
{
  float *means = g_new0 (float, (gsize) across * down);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      means[(y / BLOCK) * across + x / BLOCK] += sizes[(gsize) y * width + x];
  for (int by = 0; by < down; by++)
    for (int bx = 0; bx < across; bx++)
      means[by * across + bx] /= MIN (BLOCK, width - bx * BLOCK) * MIN (BLOCK, height - by * BLOCK);
  return means;
}

/* The mean of the blocks about each block. */
static float *
roughness (const float *sizes, int width, int height, int across, int down)
{
  g_autofree float *means = block_means (sizes, width, height, across, down);
  float *rough = g_new (float, (gsize) across * down);

  for (int by = 0; by < down; by++)
    for (int bx = 0; bx < across; bx++)
      {
        float sum = 0;
        int n = 0;

        for (int y = MAX (by - BLOCKS_AROUND, 0); y <= MIN (by + BLOCKS_AROUND, down - 1); y++)
          for (int x = MAX (bx - BLOCKS_AROUND, 0); x <= MIN (bx + BLOCKS_AROUND, across - 1); x++, n++)
            sum += means[y * across + x];
        rough[by * across + bx] = sum / n;
      }
  return rough;
}

static gboolean
is_crest (const float *sizes, int width, int height, int x, int y, const WsEdge *edge)
{
  int dx = edge->x > 48 ? 1 : 0, dy = edge->y > 48 ? 1 : edge->y < -48 ? -1 : 0;
  float here = sizes[(gsize) y * width + x];
  int x1 = CLAMP (x + dx, 0, width - 1), y1 = CLAMP (y + dy, 0, height - 1);
  int x2 = CLAMP (x - dx, 0, width - 1), y2 = CLAMP (y - dy, 0, height - 1);

  return sizes[(gsize) y1 * width + x1] <= here && sizes[(gsize) y2 * width + x2] <= here;
}

static void
judge (WsEdgeLevel *level, const float *sizes)
{
  int width = level->width, height = level->height;
  int across = (width + BLOCK - 1) / BLOCK, down = (height + BLOCK - 1) / BLOCK;
  g_autofree float *rough = roughness (sizes, width, height, across, down);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        gsize i = (gsize) y * width + x;
        float plain = PLAIN_GRADIENT + ROUGH_SHARE * rough[(y / BLOCK) * across + x / BLOCK];
        float square = sizes[i] * sizes[i];

        level->edges[i].strength = (guint8) (255 * square / (square + plain * plain));
        level->edges[i].crest = is_crest (sizes, width, height, x, y, &level->edges[i]);
      }
}

static void
add_frame (WsEdgeLevel *level, const gboolean frame[4])
{
  const WsEdge upright = { 255 * FRAME_STRENGTH, 127, 0, 1 }, level_edge = { 255 * FRAME_STRENGTH, 0, 127, 1 };
  int width = level->width, height = level->height;

  for (int y = 0; y < height; y++)
    {
      if (frame[0])
        level->edges[(gsize) y * width] = upright;
      if (frame[2])
        level->edges[(gsize) y * width + width - 1] = upright;
    }
  for (int x = 0; x < width; x++)
    {
      if (frame[1])
        level->edges[x] = level_edge;
      if (frame[3])
        level->edges[(gsize) (height - 1) * width + x] = level_edge;
    }
}

WsEdgeLevel *
ws_edge_level_new (const guchar *pixels, int width, int height, const gboolean frame[4])
{
  WsEdgeLevel *level = g_new0 (WsEdgeLevel, 1);
  g_autofree float *sizes = NULL;

  ws_blocking ("finding edges");
  level->width = width;
  level->height = height;
  level->edges = g_new (WsEdge, (gsize) width * height);
  sizes = find_gradients (level, pixels);
  judge (level, sizes);
  add_frame (level, frame);
  return level;
}

void
ws_edge_level_free (WsEdgeLevel *level)
{
  g_free (level->edges);
  g_free (level);
}
