/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shortest path by Dijkstra with a bucket for each cost (Dial 1969): a step costs a small whole number. */
#include "ws-edge-search.h"

#include <math.h>

/* A px without an edge costs 64, and this share of it everywhere: the shorter of two ways along an edge is taken. */
#define LEAST_SHARE 0.03
/* Cost falls with strength by this power: above 1 a weak edge is much better than none. */
#define POWER 2.0
/* What an edge is worth to a path that crosses it, and to one that runs beside its crest. */
#define CROSSING_SHARE 0.0
#define BESIDE_SHARE 0.4
#define FULL_COST 64
#define N_BUCKETS 1024   /* more than a step costs */

typedef struct
{
  guint32 cost;      /* from the start, if from is set */
  guint8 from;       /* step that led here, 1-8; 0: not reached */
  guint8 done, open, charge;
} Node;

/* A node in a bucket; one that was reached again on a cheaper way lies in two. */
typedef struct { int node, next; } Entry;

struct _WsEdgeSearch
{
  const WsEdgeLevel *level;
  int x, y, width, height;
  Node *nodes;               /* zeroed by the system when touched: most of a window never is */
  guint16 costs[256];        /* by strength */
};

static const int step_x[8] = { 1, 1, 0, -1, -1, -1, 0, 1 }, step_y[8] = { 0, 1, 1, 1, 0, -1, -1, -1 };

WsEdgeSearch *
ws_edge_search_new (const WsEdgeLevel *level, int x, int y, int width, int height)
{
  WsEdgeSearch *self = g_new0 (WsEdgeSearch, 1);
  int right = CLAMP (x + width, 1, level->width), bottom = CLAMP (y + height, 1, level->height);

  self->level = level;
  self->x = CLAMP (x, 0, right - 1);
  self->y = CLAMP (y, 0, bottom - 1);
  self->width = right - self->x;
  self->height = bottom - self->y;
  self->nodes = g_new0 (Node, (gsize) self->width * self->height);
  for (int i = 0; i < 256; i++)
    self->costs[i] = (guint16) (FULL_COST * (LEAST_SHARE + pow (1 - i / 255.0, POWER)));
  return self;
}

void
ws_edge_search_free (WsEdgeSearch *self)
{
  g_free (self->nodes);
  g_free (self);
}

static Node *
node_at (WsEdgeSearch *self, int x, int y)
{
  x -= self->x;
  y -= self->y;
  if (x < 0 || y < 0 || x >= self->width || y >= self->height)
    return NULL;
  return &self->nodes[(gsize) y * self->width + x];
}

void
ws_edge_search_open (WsEdgeSearch *self, int x, int y, int charge)
{
  Node *node = node_at (self, x, y);

  if (node == NULL)
    return;
  node->charge = node->open ? MIN (node->charge, charge) : charge;
  node->open = 1;
}

void
ws_edge_search_charge (WsEdgeSearch *self, int x, int y, int charge)
{
  Node *node = node_at (self, x, y);

  if (node != NULL)
    node->charge = MAX (node->charge, charge);
}

/* What a step in @direction onto the px costs: little along a strong edge. */
static int
step_cost (const WsEdgeSearch *self, const WsEdge *edge, int direction, int charge)
{
  gboolean slanted = direction & 1;
  int across = edge->x * step_y[direction] - edge->y * step_x[direction];
  double along = across / (slanted ? 127 * G_SQRT2 : 127.0);
  double strength = edge->strength * (CROSSING_SHARE + (1 - CROSSING_SHARE) * along * along);
  int cost;

  if (!edge->crest)
    strength *= BESIDE_SHARE;
  cost = self->costs[(int) MIN (strength, 255)] + charge;
  return 1 + (slanted ? cost * 181 / 128 : cost);
}

static void
put (GArray *entries, int buckets[N_BUCKETS], guint32 cost, int node)
{
  Entry entry = { node, buckets[cost % N_BUCKETS] };

  buckets[cost % N_BUCKETS] = (int) entries->len;
  g_array_append_val (entries, entry);
}

/* Reaches the neighbours of a node that is done; the number of entries put. */
static int
spread (WsEdgeSearch *self, int from, GArray *entries, int buckets[N_BUCKETS])
{
  int x = from % self->width, y = from / self->width, n = 0;

  for (int d = 0; d < 8; d++)
    {
      int to_x = x + step_x[d], to_y = y + step_y[d], to = to_y * self->width + to_x;
      const WsEdge *edge;
      Node *node;
      guint32 cost;

      if (to_x < 0 || to_y < 0 || to_x >= self->width || to_y >= self->height)
        continue;
      node = &self->nodes[to];
      if (!node->open || node->done)
        continue;
      edge = &self->level->edges[(gsize) (to_y + self->y) * self->level->width + to_x + self->x];
      cost = self->nodes[from].cost + step_cost (self, edge, d, node->charge);
      if (node->from != 0 && node->cost <= cost)
        continue;
      node->cost = cost;
      node->from = d + 1;
      put (entries, buckets, cost, to);
      n++;
    }
  return n;
}

static void
take_back_way (const WsEdgeSearch *self, int from, int to, GArray *path)
{
  guint first = path->len;

  while (TRUE)
    {
      WsPixel px = { to % self->width + self->x, to / self->width + self->y };
      int d = self->nodes[to].from - 1;

      g_array_append_val (path, px);
      if (to == from)
        break;
      to -= step_y[d] * self->width + step_x[d];
    }
  for (guint i = first, j = path->len - 1; i < j; i++, j--)
    {
      WsPixel swap = g_array_index (path, WsPixel, i);

      g_array_index (path, WsPixel, i) = g_array_index (path, WsPixel, j);
      g_array_index (path, WsPixel, j) = swap;
    }
}

gboolean
ws_edge_search_run (WsEdgeSearch *self, WsPixel from, WsPixel to, GArray *path)
{
  g_autoptr (GArray) entries = g_array_new (FALSE, FALSE, sizeof (Entry));
  Node *start = node_at (self, from.x, from.y), *end = node_at (self, to.x, to.y);
  int buckets[N_BUCKETS], waiting = 1;

  if (start == NULL || end == NULL || !start->open || !end->open)
    return FALSE;
  for (int i = 0; i < N_BUCKETS; i++)
    buckets[i] = -1;
  start->from = 1;
  put (entries, buckets, 0, (int) (start - self->nodes));
  for (guint32 cost = 0; waiting > 0 && !end->done;)
    {
      int top = buckets[cost % N_BUCKETS];
      Entry entry;

      if (top < 0)
        {
          cost++;
          continue;
        }
      entry = g_array_index (entries, Entry, top);
      buckets[cost % N_BUCKETS] = entry.next;
      waiting--;
      if (self->nodes[entry.node].done || self->nodes[entry.node].cost != cost)
        continue;
      self->nodes[entry.node].done = 1;
      waiting += spread (self, entry.node, entries, buckets);
    }
  if (end->done)
    take_back_way (self, (int) (start - self->nodes), (int) (end - self->nodes), path);
  return end->done;
}
