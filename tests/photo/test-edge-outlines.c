/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Assisted outlines against the demo's masks, which say of each pixel what it shows.
 *
 * A part is looked at as the program shows it when it is zoomed to: in a view of 900 x 700 px with some of what surrounds it, never
 * beyond 1:1, on the level of the photo that has at least a pixel for each of the view's. From six points at equal arc length on the
 * true outline, each off by up to 3 px of that level, an outline is made along the edges, and one straight from point to point.
 *
 * Left out, by what the demo says and before anything is outlined: parts of which anything lies in front of more than a twentieth; that
 * are smaller than 48 px on the level; that are torn to pieces or mostly a rim (an opening by a disc of a twentieth of the root of the
 * area leaves less than nine tenths); of a specimen cut through, of which nothing but skin is seen beside the flesh; photos out of
 * focus or burnt out; and outlines of which more than an eighth shows no difference in colour between what is inside and outside: what
 * nobody can see. How many these are is said. */
#include "ws-edge-path.h"
#include "ws-picture.h"
#include "ws-shape-rows.h"

#include <math.h>
#include <string.h>
#include <time.h>

#define VIEW_WIDTH 900
#define VIEW_HEIGHT 700
#define N_CORNERS 6
#define OFF 3.0
#define LEAST_SIZE 48
#define HIDDEN_SHARE 0.125
#define ROUNDS 2      /* with other points */

#if defined(__SANITIZE_ADDRESS__)
#define SLOWER 6
#else
#define SLOWER 1
#endif

/* --- Tables ------------------------------------------------------------------------------------------------- */

static char *
demo_path (const char *folder, const char *name)
{
  return g_build_filename (g_getenv ("WS_SOURCE_ROOT"), "data", "demo", folder, name, NULL);
}

/* Rows of cells; the first names the columns. */
static GPtrArray *
read_table (const char *name)
{
  g_autofree char *path = demo_path ("", name), *text = NULL;
  g_auto (GStrv) lines = NULL;
  GPtrArray *rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; lines[i] != NULL && lines[i][0] != '\0'; i++)
    g_ptr_array_add (rows, g_strsplit (lines[i], "\t", -1));
  return rows;
}

static const char *
cell (GPtrArray *rows, guint row, const char *column)
{
  char **names = rows->pdata[0], **cells = rows->pdata[row];

  for (guint i = 0; names[i] != NULL; i++)
    if (g_str_equal (names[i], column))
      return cells[i];
  g_assert_not_reached ();
}

static double
number (GPtrArray *rows, guint row, const char *column)
{
  return g_ascii_strtod (cell (rows, row, column), NULL);
}

static gboolean
is_sharp_and_exposed (GPtrArray *photos, const char *file)
{
  for (guint i = 1; i < photos->len; i++)
    if (g_str_equal (cell (photos, i, "file"), file))
      return fabs (number (photos, i, "focus_mm") / number (photos, i, "distance_mm") - 1) < 0.2 &&
             fabs (number (photos, i, "exposure_ev")) < 1;
  return FALSE;
}

static gboolean
is_cut_through (GPtrArray *truth, guint row)
{
  for (guint i = 1; i < truth->len; i++)
    if (g_str_equal (cell (truth, i, "part"), "flesh") && g_str_equal (cell (truth, i, "file"), cell (truth, row, "file")) &&
        g_str_equal (cell (truth, i, "specimen"), cell (truth, row, "specimen")))
      return TRUE;
  return FALSE;
}

/* --- Pixels of a part ------------------------------------------------------------------------------------------ */

typedef struct { int width, height; guint8 *in; } Area;

static Area
area_new (int width, int height)
{
  return (Area) { width, height, g_new0 (guint8, (gsize) width * height) };
}

static gboolean
is_in (const Area *area, int x, int y)
{
  return x >= 0 && y >= 0 && x < area->width && y < area->height && area->in[(gsize) y * area->width + x];
}

static gsize
count (const Area *area)
{
  gsize n = 0;

  for (gsize i = 0; i < (gsize) area->width * area->height; i++)
    n += area->in[i];
  return n;
}

/* The four-connected pixels that are @value as the one at @start; they become @mark. */
static gsize
flood (guint8 *pixels, int width, int height, gsize start, guint8 mark)
{
  g_autoptr (GArray) stack = g_array_new (FALSE, FALSE, sizeof (gsize));
  guint8 value = pixels[start];
  gsize n = 0;

  pixels[start] = mark;
  g_array_append_val (stack, start);
  while (stack->len > 0)
    {
      gsize at = g_array_index (stack, gsize, stack->len - 1);
      int x = (int) (at % width), y = (int) (at / width);
      const int dx[4] = { 1, -1, 0, 0 }, dy[4] = { 0, 0, 1, -1 };

      g_array_set_size (stack, stack->len - 1);
      n++;
      for (int i = 0; i < 4; i++)
        {
          int to_x = x + dx[i], to_y = y + dy[i];
          gsize to = (gsize) to_y * width + to_x;

          if (to_x < 0 || to_y < 0 || to_x >= width || to_y >= height || pixels[to] != value)
            continue;
          pixels[to] = mark;
          g_array_append_val (stack, to);
        }
    }
  return n;
}

/* The largest piece with its holes filled. */
static Area
largest_piece (const Area *area)
{
  int width = area->width + 2, height = area->height + 2;
  g_autofree guint8 *framed = g_new0 (guint8, (gsize) width * height);
  Area piece = area_new (area->width, area->height);
  gsize most = 0, best = 0;

  for (int y = 0; y < area->height; y++)
    memcpy (framed + (gsize) (y + 1) * width + 1, area->in + (gsize) y * area->width, area->width);
  for (gsize i = 0; i < (gsize) width * height; i++)
    if (framed[i] == 1)
      {
        gsize n = flood (framed, width, height, i, 2);

        if (n > most)
          {
            most = n;
            best = i;
          }
      }
  if (most == 0)
    return piece;
  flood (framed, width, height, best, 3);
  for (gsize i = 0; i < (gsize) width * height; i++)
    framed[i] = framed[i] == 3;
  flood (framed, width, height, 0, 4);   /* all that is outside */
  for (int y = 0; y < area->height; y++)
    for (int x = 0; x < area->width; x++)
      piece.in[(gsize) y * area->width + x] = framed[(gsize) (y + 1) * width + x + 1] != 4;
  return piece;
}

/* Pixels of the area with nothing outside it within @radius (chamfer distance 5-7); with @grow those with something in it. */
static Area
shrunk_or_grown (const Area *area, double radius, gboolean grow)
{
  int width = area->width, height = area->height;
  g_autofree int *far = g_new (int, (gsize) width * height);
  Area result = area_new (width, height);

  for (gsize i = 0; i < (gsize) width * height; i++)
    far[i] = area->in[i] == grow ? 0 : 1 << 28;
  for (int pass = 0; pass < 2; pass++)
    for (gsize k = 0; k < (gsize) width * height; k++)
      {
        gsize i = pass == 0 ? k : (gsize) width * height - 1 - k;
        int x = (int) (i % width), y = (int) (i / width), s = pass == 0 ? -1 : 1;
        const int nx[4] = { x + s, x, x + s, x - s }, ny[4] = { y, y + s, y + s, y + s }, cost[4] = { 5, 5, 7, 7 };

        for (int j = 0; j < 4; j++)
          if (nx[j] >= 0 && ny[j] >= 0 && nx[j] < width && ny[j] < height)
            far[i] = MIN (far[i], far[(gsize) ny[j] * width + nx[j]] + cost[j]);
      }
  for (gsize i = 0; i < (gsize) width * height; i++)
    result.in[i] = grow ? far[i] <= 5 * radius : far[i] > 5 * radius;
  return result;
}

/* Without threads and thin rims. */
static Area
opened (const Area *area)
{
  double radius = sqrt (count (area)) * 0.05;
  Area shrunk = shrunk_or_grown (area, radius, FALSE), grown = shrunk_or_grown (&shrunk, radius, TRUE), piece;

  for (gsize i = 0; i < (gsize) area->width * area->height; i++)
    grown.in[i] = grown.in[i] && area->in[i];
  piece = largest_piece (&grown);
  g_free (shrunk.in);
  g_free (grown.in);
  return piece;
}

/* The corners of pixels round the area, a px apart. */
static GArray *
trace (const Area *area)
{
  const int dx[4] = { 1, 0, -1, 0 }, dy[4] = { 0, 1, 0, -1 };
  /* The px to the right of a step in each direction, from the corner it begins at. */
  const int rx[4] = { 0, -1, -1, 0 }, ry[4] = { 0, 0, -1, -1 };
  GArray *line = g_array_new (FALSE, FALSE, sizeof (WsPoint));
  int x0 = 0, y0 = 0, x, y, d = 0;

  while (!is_in (area, x0, y0))
    {
      x0 = (x0 + 1) % area->width;
      y0 += x0 == 0;
    }
  x = x0;
  y = y0;
  do
    {
      WsPoint point = { x, y };

      g_array_append_val (line, point);
      x += dx[d];
      y += dy[d];
      /* Right if there it is outside to the left of the step, else straight on, else left. */
      for (int turn = 1; turn >= -2; turn--)
        {
          int to = (d + turn + 4) % 4;
          int left = (to + 3) % 4;

          if (is_in (area, x + rx[to], y + ry[to]) && !is_in (area, x + rx[left], y + ry[left]))
            {
              d = to;
              break;
            }
        }
    }
  while ((x != x0 || y != y0 || d != 0) && line->len < 1000000);
  return line;
}

/* --- A view ------------------------------------------------------------------------------------------------------- */

typedef struct
{
  char *name;
  gboolean ring;
  WsPicture *level;      /* the part of the level that is looked at */
  Area area;
  GArray *outline;       /* WsPoint, px */
} View;

static void
view_free (View *view)
{
  g_free (view->name);
  ws_picture_free (view->level);
  g_free (view->area.in);
  if (view->outline != NULL)
    g_array_unref (view->outline);
  g_free (view);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (View, view_free)

typedef struct
{
  char *file;
  WsPicture *levels[3];   /* full, half, quarter */
  WsPicture *mask;
  guchar palette[768];
} Photo;

static void
photo_clear (Photo *photo)
{
  for (guint i = 0; i < G_N_ELEMENTS (photo->levels); i++)
    g_clear_pointer (&photo->levels[i], ws_picture_free);
  g_clear_pointer (&photo->mask, ws_picture_free);
  g_clear_pointer (&photo->file, g_free);
}

/* A value of the mask is told by its colour: libvips hands out no palette. */
static void
read_palette (const char *path, guchar palette[768])
{
  g_autofree char *bytes = NULL;
  gsize length;
  const char *chunk;

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  g_assert_cmpuint (length, >, 1000);
  /* After the signature the length and name of IHDR, its 13 bytes and a sum; then the length and name of the next. */
  chunk = bytes + 8 + 4 + 4 + 13 + 4 + 4;
  g_assert_cmpmem (chunk, 4, "PLTE", 4);
  memcpy (palette, chunk + 4, 768);
}

static void
photo_read (Photo *photo, const char *file)
{
  g_autofree char *path = demo_path ("photos", file), *stem = g_strdup (file), *name = NULL, *mask = NULL;
  g_autoptr (GError) error = NULL;

  if (g_strcmp0 (photo->file, file) == 0)
    return;
  photo_clear (photo);
  photo->file = g_strdup (file);
  *strrchr (stem, '.') = '\0';
  name = g_strconcat (stem, ".png", NULL);
  mask = demo_path ("masks", name);
  photo->levels[0] = ws_picture_decode_file (path, 0, NULL, &error);
  g_assert_no_error (error);
  photo->mask = ws_picture_decode_file (mask, 0, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (photo->mask->width, ==, photo->levels[0]->width);
  for (int i = 1; i < 3; i++)
    photo->levels[i] = ws_picture_halve (photo->levels[i - 1]);
  read_palette (mask, photo->palette);
}

/* Of the level, what the view shows of it about the middle of @box, and half as much around. */
static WsPicture *
cut_level (const WsPicture *level, const WsRect *box, double zoom, int *x, int *y)
{
  double share = level->width / zoom;
  int width = MIN ((int) (1.5 * VIEW_WIDTH * share), level->width), height = MIN ((int) (1.5 * VIEW_HEIGHT * share), level->height);
  WsPicture *cut = g_new0 (WsPicture, 1);
  guchar *pixels = g_malloc (3 * (gsize) width * height);

  *x = CLAMP ((int) ((box->x + box->width / 2) * level->width) - width / 2, 0, level->width - width);
  *y = CLAMP ((int) ((box->y + box->height / 2) * level->height) - height / 2, 0, level->height - height);
  for (int row = 0; row < height; row++)
    memcpy (pixels + 3 * (gsize) row * width,
            (const guchar *) g_bytes_get_data (level->pixels, NULL) + 3 * ((gsize) (*y + row) * level->width + *x),
            3 * (gsize) width);
  *cut = (WsPicture) { width, height, g_bytes_new_take (pixels, 3 * (gsize) width * height), width, height };
  return cut;
}

static Area
part_area (const Photo *photo, int value, const WsPicture *level, const WsPicture *cut, int x0, int y0)
{
  const guchar *mask = g_bytes_get_data (photo->mask->pixels, NULL);
  double scale = (double) photo->mask->width / level->width;
  Area area = area_new (cut->width, cut->height);

  for (int y = 0; y < cut->height; y++)
    for (int x = 0; x < cut->width; x++)
      {
        int from_x = MIN ((int) ((x + x0 + 0.5) * scale), photo->mask->width - 1);
        int from_y = MIN ((int) ((y + y0 + 0.5) * scale), photo->mask->height - 1);

        area.in[(gsize) y * area.width + x] =
          memcmp (mask + 3 * ((gsize) from_y * photo->mask->width + from_x), photo->palette + 3 * value, 3) == 0;
      }
  return area;
}

/* NULL if it is too small, in pieces, or a rim. */
static View *
view_new (GPtrArray *truth, guint row, Photo *photo)
{
  WsRect box = { number (truth, row, "x"), number (truth, row, "y"), number (truth, row, "w"), number (truth, row, "h") };
  const WsPicture *full = photo->levels[0], *level = full;
  double width = box.width * full->width, height = box.height * full->height;
  double fit = MIN ((double) VIEW_WIDTH / full->width, (double) VIEW_HEIGHT / full->height);
  double zoom = CLAMP (MIN (VIEW_WIDTH / (1.4 * width), VIEW_HEIGHT / (1.4 * height)), MIN (fit, 1), 1);
  g_autoptr (View) view = g_new0 (View, 1);
  Area whole, piece;
  gsize n;
  int x, y;

  for (int i = 1; i < 3 && photo->levels[i]->width >= zoom * full->width; i++)
    level = photo->levels[i];
  if (box.width * level->width < LEAST_SIZE || box.height * level->height < LEAST_SIZE)
    return NULL;
  view->name = g_strdup_printf ("%s %s %s", photo->file, cell (truth, row, "specimen"), cell (truth, row, "part"));
  view->ring = g_str_equal (cell (truth, row, "part"), "ring");
  view->level = cut_level (level, &box, zoom * full->width, &x, &y);
  whole = part_area (photo, atoi (cell (truth, row, "mask_value")), level, view->level, x, y);
  piece = largest_piece (&whole);
  n = count (&whole);
  g_free (whole.in);
  view->area = opened (&piece);
  /* Of a stem in two pieces, above and below the ring, the larger one is outlined. */
  if (count (&piece) < 0.6 * n || count (&view->area) < 0.9 * count (&piece) || count (&view->area) < LEAST_SIZE * LEAST_SIZE)
    n = 0;
  g_free (piece.in);
  if (n == 0)
    return NULL;
  view->outline = trace (&view->area);
  return g_steal_pointer (&view);
}

/* Mean colour of a few px beside the outline at @at, 2 to 7 px off along (@nx, @ny). FALSE beside the picture. */
static gboolean
colour_beside (const WsPicture *level, WsPoint at, double nx, double ny, double colour[3])
{
  const guchar *pixels = g_bytes_get_data (level->pixels, NULL);

  colour[0] = colour[1] = colour[2] = 0;
  for (int off = 2; off <= 7; off++)
    for (int along = -3; along <= 3; along++)
      {
        int x = (int) floor (at.x + nx * off - ny * along), y = (int) floor (at.y + ny * off + nx * along);

        if (x < 0 || y < 0 || x >= level->width || y >= level->height)
          return FALSE;
        for (int i = 0; i < 3; i++)
          colour[i] += pixels[3 * ((gsize) y * level->width + x) + i] / 42.0;
      }
  return TRUE;
}

/* Share of the outline across which no channel differs by 12 of 255. */
static double
hidden_share (const View *view)
{
  guint n = view->outline->len, seen = 0, hidden = 0;

  for (guint i = 0; i < n; i += 4)
    {
      const WsPoint *points = (const WsPoint *) view->outline->data;
      WsPoint a = points[(i + n - 8) % n], b = points[(i + 8) % n];
      double length = hypot (b.x - a.x, b.y - a.y), in[3], out[3], most = 0;
      double nx = length > 0 ? -(b.y - a.y) / length : 0, ny = length > 0 ? (b.x - a.x) / length : 0;

      if (length < 1 || !colour_beside (view->level, points[i], nx, ny, in) ||
          !colour_beside (view->level, points[i], -nx, -ny, out))
        continue;
      for (int k = 0; k < 3; k++)
        most = MAX (most, fabs (in[k] - out[k]));
      seen++;
      hidden += most < 12;
    }
  return seen > 0 ? (double) hidden / seen : 1;
}

/* --- Outlines --------------------------------------------------------------------------------------------------------- */

static void
choose_corners (const View *view, guint32 seed, WsPoint corners[N_CORNERS])
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  double first = g_rand_double (rand);

  for (int i = 0; i < N_CORNERS; i++)
    {
      guint at = (guint) ((i + first) / N_CORNERS * view->outline->len);
      WsPoint p = g_array_index (view->outline, WsPoint, at % view->outline->len);
      double angle = g_rand_double_range (rand, 0, 2 * G_PI), off = OFF * sqrt (g_rand_double (rand));

      corners[i] = (WsPoint) { CLAMP ((p.x + off * cos (angle)) / view->area.width, 0, 1),
                               CLAMP ((p.y + off * sin (angle)) / view->area.height, 0, 1) };
    }
}

/* Intersection over union with the true area, by the middles of pixels. */
static double
overlap (const View *view, const WsShape *shape)
{
  g_autoptr (GArray) cuts = g_array_new (FALSE, FALSE, sizeof (double));
  gsize both = 0, mine = 0, theirs = count (&view->area);

  for (int y = 0; y < view->area.height; y++)
    {
      ws_shape_cut (shape, (y + 0.5) / view->area.height, cuts);
      for (guint i = 0; i + 1 < cuts->len; i += 2)
        for (int x = MAX ((int) ceil (g_array_index (cuts, double, i) * view->area.width - 0.5), 0);
             x < view->area.width && x + 0.5 < g_array_index (cuts, double, i + 1) * view->area.width; x++)
          {
            mine++;
            both += is_in (&view->area, x, y);
          }
    }
  return (double) both / (mine + theirs - both);
}

/* Mean distance of the outline, taken a px apart, from the true one. */
static double
boundary_distance (const View *view, const WsShape *shape)
{
  double sum = 0;
  guint n = 0;

  for (guint i = 0; i < shape->n_points; i++)
    {
      WsPoint a = shape->points[i], b = shape->points[(i + 1) % shape->n_points];
      double dx = (b.x - a.x) * view->area.width, dy = (b.y - a.y) * view->area.height;
      int steps = MAX ((int) hypot (dx, dy), 1);

      for (int k = 0; k < steps; k++, n++)
        {
          double x = a.x * view->area.width + dx * k / steps, y = a.y * view->area.height + dy * k / steps, least = INFINITY;

          for (guint j = 0; j < view->outline->len; j++)
            {
              const WsPoint *p = &g_array_index (view->outline, WsPoint, j);

              least = MIN (least, (p->x - x) * (p->x - x) + (p->y - y) * (p->y - y));
            }
          sum += sqrt (least);
        }
    }
  return sum / n;
}

/* Milliseconds of the processor for one way, the shortest of three: the machine has other things to do. */
static double
time_of_way (const WsEdgePath *edges, const WsPoint *from, const WsPoint *to)
{
  double least = INFINITY;

  for (int i = 0; i < 3; i++)
    {
      g_autoptr (GArray) path = g_array_new (FALSE, FALSE, sizeof (WsPoint));
      struct timespec begin, end;

      clock_gettime (CLOCK_THREAD_CPUTIME_ID, &begin);
      ws_edge_path_follow (edges, from, to, NULL, path);
      clock_gettime (CLOCK_THREAD_CPUTIME_ID, &end);
      least = MIN (least, (end.tv_sec - begin.tv_sec) * 1e3 + (end.tv_nsec - begin.tv_nsec) / 1e6);
    }
  return least;
}

typedef struct
{
  GArray *overlaps, *ratios, *rings;   /* double */
  double straight_error, error;        /* sums */
  double longest_ms;
  GHashTable *photos;
  guint n_cap, n_stem, n_base, n_hidden, n_other;
} Tally;

static void
outline_view (const View *view, guint row, Tally *tally)
{
  g_autoptr (WsEdgePath) edges = ws_edge_path_new (view->level, &(WsRect) { 0, 0, 1, 1 }, NULL);

  for (guint round = 0; round < ROUNDS; round++)
    {
      WsPoint corners[N_CORNERS];
      g_autoptr (WsShape) straight = NULL, along = NULL;
      double error, straight_error, ratio, distance;

      choose_corners (view, row * 1000 + round, corners);
      straight = ws_shape_new_outline (corners, N_CORNERS);
      along = ws_edge_path_outline (edges, corners, N_CORNERS);
      g_assert_nonnull (straight);
      g_assert_nonnull (along);
      tally->longest_ms = MAX (tally->longest_ms, time_of_way (edges, &corners[0], &corners[1]));
      if (view->ring)
        {
          distance = boundary_distance (view, along);
          g_array_append_val (tally->rings, distance);
          g_test_message ("%s: %.2f px", view->name, distance);
          continue;
        }
      straight_error = 1 - overlap (view, straight);
      error = overlap (view, along);
      g_array_append_val (tally->overlaps, error);
      error = 1 - error;
      ratio = error / straight_error;
      g_array_append_val (tally->ratios, ratio);
      tally->straight_error += straight_error;
      tally->error += error;
      g_test_message ("%s: %.3f, straight %.3f, share of its error %.2f", view->name, 1 - error, 1 - straight_error, ratio);
    }
}

static void
take_row (GPtrArray *truth, guint row, Photo *photo, Tally *tally)
{
  const char *part = cell (truth, row, "part");
  g_autoptr (View) view = NULL;

  photo_read (photo, cell (truth, row, "file"));
  view = view_new (truth, row, photo);
  if (view == NULL)
    {
      tally->n_other++;
      return;
    }
  if (hidden_share (view) > HIDDEN_SHARE)
    {
      tally->n_hidden++;
      return;
    }
  if (!view->ring)
    g_hash_table_add (tally->photos, g_strdup (photo->file));
  tally->n_cap += g_str_equal (part, "cap");
  tally->n_stem += g_str_equal (part, "stem");
  tally->n_base += g_str_equal (part, "stem_base");
  outline_view (view, row, tally);
}

static int
compare (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

static double
quantile (GArray *numbers, double share)
{
  g_array_sort (numbers, compare);
  return g_array_index (numbers, double, (guint) (share * (numbers->len - 1)));
}

static guint
n_above (GArray *numbers, double bound)
{
  guint n = 0;

  for (guint i = 0; i < numbers->len; i++)
    n += g_array_index (numbers, double, i) > bound;
  return n;
}

static double
mean (GArray *numbers)
{
  double sum = 0;

  for (guint i = 0; i < numbers->len; i++)
    sum += g_array_index (numbers, double, i);
  return sum / numbers->len;
}

static void
say (Tally *t)
{
  g_test_message ("%u caps, %u stems, %u bases in %u photos, %u outlines; left out: %u whose outline cannot be seen, %u small, torn or rims",
                  t->n_cap, t->n_stem, t->n_base, g_hash_table_size (t->photos), t->overlaps->len, t->n_hidden, t->n_other);
  g_test_message ("overlap: least %.3f, tenth %.3f, median %.3f", quantile (t->overlaps, 0), quantile (t->overlaps, 0.1),
                  quantile (t->overlaps, 0.5));
  g_test_message ("share of the straight outline's error: together %.2f, median %.2f, above a half in %u of %u",
                  t->error / t->straight_error, quantile (t->ratios, 0.5), n_above (t->ratios, 0.5), t->ratios->len);
  g_test_message ("%u outlines of rings: mean %.2f px, median %.2f px, most %.2f px, above 3 px %u; the longest way took %.1f ms",
                  t->rings->len, mean (t->rings), quantile (t->rings, 0.5), quantile (t->rings, 1), n_above (t->rings, 3), t->longest_ms);
}

static void
against_the_masks (void)
{
  g_autoptr (GPtrArray) truth = read_table ("truth.tsv"), photos = read_table ("photos.tsv");
  Photo photo = { 0 };
  Tally tally = { g_array_new (FALSE, FALSE, sizeof (double)), g_array_new (FALSE, FALSE, sizeof (double)),
                  g_array_new (FALSE, FALSE, sizeof (double)), 0, 0, 0,
                  g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL), 0, 0, 0, 0, 0 };
  const char *const parts[] = { "cap", "stem", "stem_base", "ring", NULL };

  g_test_summary ("From six points, three px off, along the edges of the demo's caps, stems, bases and rings");
  for (guint i = 1; i < truth->len; i++)
    if (g_strv_contains (parts, cell (truth, i, "part")) && number (truth, i, "visible_share") >= 0.95 &&
        is_sharp_and_exposed (photos, cell (truth, i, "file")) && !is_cut_through (truth, i))
      take_row (truth, i, &photo, &tally);
  photo_clear (&photo);
  say (&tally);
  g_assert_cmpuint (tally.n_cap + tally.n_stem + tally.n_base, >=, 30);
  g_assert_cmpuint (MIN (tally.n_cap, MIN (tally.n_stem, tally.n_base)), >=, 5);
  g_assert_cmpfloat (quantile (tally.overlaps, 0.5), >=, 0.9);
  g_assert_cmpfloat (quantile (tally.overlaps, 0), >=, 0.8);
  /* All together, and all but a tenth of them one by one: six points on a slender stem leave little to better. */
  g_assert_cmpfloat (tally.error, <=, 0.5 * tally.straight_error);
  g_assert_cmpuint (n_above (tally.ratios, 0.5), <=, tally.ratios->len / 10);
  g_assert_cmpfloat (mean (tally.rings), <=, 3);
  g_assert_cmpfloat (quantile (tally.rings, 0.75), <=, 3);
  g_assert_cmpfloat (tally.longest_ms, <=, 16 * SLOWER);
  g_array_unref (tally.overlaps);
  g_array_unref (tally.ratios);
  g_array_unref (tally.rings);
  g_hash_table_unref (tally.photos);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  g_test_init (&argc, &argv, NULL);
  ws_picture_init (argv[0], &error);
  g_assert_no_error (error);
  g_test_add_func ("/photo/edge-outlines/against-the-masks", against_the_masks);
  return g_test_run ();
}
