/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw-rig.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "ws-error.h"

#define W 330
#define H 405

static WsEvidenceState
all_in (const char *part, gpointer data)
{
  return GPOINTER_TO_INT (data);
}

typedef struct { const char *part; WsEvidenceState state; } One;

static WsEvidenceState
one_in (const char *part, gpointer data)
{
  const One *one = data;

  return g_str_equal (part, one->part) ? one->state : WS_EVIDENCE_SHOWN;
}

static guint64
sum (const guint8 *darkness, int n)
{
  guint64 total = 0;

  for (int i = 0; i < n; i++)
    total += darkness[i];
  return total;
}

static guint64
ink_of (const WsFigure *figure, int w, int h, WsFigureLook look)
{
  g_autofree guint8 *darkness = rig_draw (figure, w, h, &look);

  return sum (darkness, w * h);
}

static void
test_states (void)
{
  g_test_summary ("For every figure and without colour: shown is darker than weak, weak than missing, missing is not nothing");
  for (guint i = 0; rig_forms[i] != NULL; i++)
    {
      g_autoptr (WsFigure) figure = rig_load_figure (rig_forms[i]);
      guint64 ink[3];

      for (int state = WS_EVIDENCE_MISSING; state <= WS_EVIDENCE_SHOWN; state++)
        ink[state] = ink_of (figure, W, H, (WsFigureLook) { .state_of = all_in, .data = GINT_TO_POINTER (state), .base = "" });
      g_test_message ("%s: missing %" G_GUINT64_FORMAT ", weak %" G_GUINT64_FORMAT ", shown %" G_GUINT64_FORMAT, rig_forms[i],
                      ink[0], ink[1], ink[2]);
      g_assert_cmpuint (ink[WS_EVIDENCE_MISSING], >, 20000);
      g_assert_cmpuint (ink[WS_EVIDENCE_WEAK], >, ink[WS_EVIDENCE_MISSING] * 3 / 2);
      g_assert_cmpuint (ink[WS_EVIDENCE_SHOWN], >, ink[WS_EVIDENCE_WEAK]);
    }
}

/* Share of the darkness inside a part's shape, 0-255. */
static double
darkness_in (const WsFigure *figure, const char *part, const guint8 *darkness, int w, int h)
{
  WsFigurePlace place = ws_figure_place (figure, 0, 0, w, h);
  double total = 0;
  int n = 0;

  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++)
      if (ws_figure_hits (figure, part, (x + 0.5 - place.dx) / place.scale, (y + 0.5 - place.dy) / place.scale))
        {
          total += darkness[y * w + x];
          n++;
        }
  g_assert_cmpint (n, >, 0);
  return total / n;
}

static void
test_missing_base_small (void)
{
  g_test_summary ("In the small version a base that is missing is lighter than one that is shown, in every form that has one");
  for (guint i = 0; rig_forms[i] != NULL; i++)
    {
      g_autoptr (WsFigure) figure = rig_load_figure (rig_forms[i]);
      double dark[2];
      double x, y;

      if (!ws_figure_get_anchor (figure, "stem_base", &x, &y))
        continue;
      for (int k = 0; k < 2; k++)
        {
          One one = { "stem_base", k == 0 ? WS_EVIDENCE_MISSING : WS_EVIDENCE_SHOWN };
          WsFigureLook look = { .state_of = one_in, .data = &one, .base = "" };
          g_autofree guint8 *darkness = rig_draw (figure, 44, 44, &look);

          dark[k] = darkness_in (figure, "stem_base", darkness, 44, 44);
        }
      g_test_message ("%s: missing %.0f, shown %.0f", rig_forms[i], dark[0], dark[1]);
      g_assert_cmpfloat (dark[1], >, dark[0] * 1.3);
    }
}

static void
test_dark (void)
{
  g_test_summary ("Ink and paper swapped give the same drawing, turned about");
  for (int state = WS_EVIDENCE_MISSING; state <= WS_EVIDENCE_SHOWN; state++)
    {
      g_autoptr (WsFigure) figure = rig_load_figure ("gilled_stem");
      WsFigureLook look = { .state_of = all_in, .data = GINT_TO_POINTER (state), .base = "", .ink = { 1, 1, 1 } };
      cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, W, H);
      cairo_t *cr = cairo_create (surface);
      WsFigureLook day = look;
      g_autofree guint8 *light = rig_draw (figure, W, H, &day);
      double worst = 0;

      cairo_set_source_rgb (cr, 0, 0, 0);
      cairo_paint (cr);
      ws_figure_draw (figure, cr, 0, 0, W, H, &look);
      cairo_surface_flush (surface);
      for (int y = 0; y < H; y++)
        for (int x = 0; x < W; x++)
          {
            guint32 pixel;

            memcpy (&pixel, cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface) + 4 * x, 4);
            worst = MAX (worst, fabs ((double) (pixel >> 8 & 0xff) - light[y * W + x]));
          }
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
      g_assert_cmpfloat (worst, <=, 4);   /* rounding of blended edges */
    }
}

static void
test_variants (void)
{
  /* States of the character stem_base (trade.md) that look alike share a drawing. */
  static const char *const states[] = { "", "volva_sac", "volva_collar", "volva_crumbly", "bulb", "rooting" };
  static const struct { const char *a, *b; } same[] = {
    { "", "equal" }, { "", "no such state" }, { "volva_crumbly", "volva_traces" }, { "bulb", "rimmed_bulb" },
  };
  g_autoptr (WsFigure) figure = rig_load_figure ("gilled_stem");
  One ring = { "ring", WS_EVIDENCE_MISSING };
  guint64 ink[G_N_ELEMENTS (states)];

  g_test_summary ("The base recorded picks its drawing, and a recorded ring is drawn");
  for (guint i = 0; i < G_N_ELEMENTS (states); i++)
    {
      ink[i] = ink_of (figure, W, H, (WsFigureLook) { .base = states[i] });
      for (guint k = 0; k < i; k++)
        g_assert_cmpuint (ink[i], !=, ink[k]);
    }
  for (guint i = 0; i < G_N_ELEMENTS (same); i++)
    g_assert_cmpuint (ink_of (figure, W, H, (WsFigureLook) { .base = same[i].a }), ==,
                      ink_of (figure, W, H, (WsFigureLook) { .base = same[i].b }));
  g_assert_cmpuint (ink_of (figure, W, H, (WsFigureLook) { .state_of = one_in, .data = &ring, .base = "", .ring = FALSE }), !=,
                    ink_of (figure, W, H, (WsFigureLook) { .state_of = one_in, .data = &ring, .base = "", .ring = TRUE }));
}

static void
test_armed (void)
{
  g_autoptr (WsFigure) figure = rig_load_figure ("gilled_stem");

  g_test_summary ("The armed part has a heavier line, whatever its state");
  for (int state = WS_EVIDENCE_MISSING; state <= WS_EVIDENCE_SHOWN; state++)
    {
      WsFigureLook look = { .state_of = all_in, .data = GINT_TO_POINTER (state), .base = "" }, armed = look;

      armed.armed = "cap_margin";
      g_assert_cmpuint (ink_of (figure, W, H, armed), >, ink_of (figure, W, H, look));
    }
}

static void
test_anchors (void)
{
  g_test_summary ("Every anchor lies in its part, inside the picture, and no later part covers it");
  for (guint i = 0; rig_forms[i] != NULL; i++)
    {
      g_autoptr (WsFigure) figure = rig_load_figure (rig_forms[i]);
      const char *const *parts = ws_figure_get_parts (figure);
      double width, height;

      ws_figure_get_size (figure, &width, &height);
      for (guint k = 0; parts[k] != NULL; k++)
        {
          double x, y, bx, by, bw, bh;

          g_assert_true (ws_figure_get_anchor (figure, parts[k], &x, &y));
          g_assert_true (ws_figure_get_bounds (figure, parts[k], &bx, &by, &bw, &bh));
          g_test_message ("%s %s %.0f %.0f", rig_forms[i], parts[k], x, y);
          g_assert_true (ws_figure_hits (figure, parts[k], x, y));
          g_assert_true (x > 0 && y > 0 && x < width && y < height);
          g_assert_true (x >= bx && y >= by && x <= bx + bw && y <= by + bh);
        }
      g_assert_false (ws_figure_get_anchor (figure, "wing", &(double) { 0 }, &(double) { 0 }));
    }
}

static void
test_base_below_ground (void)
{
  /* The soil line of the drawings that stand in soil. */
  const double ground = 178;
  static const char *const in_soil[] = { "gilled_stem", "veined_stem", "pored_stem", "toothed", "club_coral", "cup",
                                         "puffball", "earthstar", "truffle", "stinkhorn", "morel_like", "egg", "unknown" };

  g_test_summary ("The base is drawn below the ground, as something dug out");
  for (guint i = 0; i < G_N_ELEMENTS (in_soil); i++)
    {
      g_autoptr (WsFigure) figure = rig_load_figure (in_soil[i]);
      double x, y, w, h;

      g_assert_true (ws_figure_get_anchor (figure, "stem_base", &x, &y));
      g_test_message ("%s: %.0f", in_soil[i], y);
      g_assert_cmpfloat (y, >, ground);
      g_assert_false (ws_figure_hits (figure, "substrate", x, y));
      g_assert_true (ws_figure_get_bounds (figure, "substrate", &x, &y, &w, &h));
      g_assert_cmpfloat (y + h, >, ground + 40);
    }
}

static void
test_small (void)
{
  g_test_summary ("The small version leaves the asides out and fills its place with the specimen");
  for (guint i = 0; rig_forms[i] != NULL; i++)
    {
      g_autoptr (WsFigure) figure = rig_load_figure (rig_forms[i]);
      WsFigureLook look = { .base = "" };
      g_autofree guint8 *darkness = rig_draw (figure, 44, 44, &look);
      WsFigurePlace small = ws_figure_place (figure, 0, 0, 44, 44), large = ws_figure_place (figure, 0, 0, W, H);
      int first = 44, last = -1, left = 44, right = -1;

      for (int n = 0; n < 44 * 44; n++)
        if (darkness[n] > 40)
          {
            first = MIN (first, n / 44);
            last = MAX (last, n / 44);
            left = MIN (left, n % 44);
            right = MAX (right, n % 44);
          }
      g_test_message ("%s: %d x %d, scale %.3f", rig_forms[i], right - left + 1, last - first + 1, small.scale);
      g_assert_cmpint (MAX (last - first, right - left) + 1, >=, 38);
      g_assert_cmpfloat (small.scale / 44, >, large.scale / H);
    }
}

/* Alpha of the figure's outline of one part alone, drawn by another program. NULL if it is not there. */
static guint8 *
draw_elsewhere (const char *d, int w, int h)
{
  g_autofree char *folder = g_dir_make_tmp ("ws-figure-XXXXXX", NULL);
  g_autofree char *svg = g_build_filename (folder, "a.svg", NULL), *pgm = g_build_filename (folder, "a.pgm", NULL);
  g_autofree char *text = g_strdup_printf ("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\" width=\"%d\" height=\"%d\">"
                                           "<path d=\"%s\"/></svg>", w, h, w, h, d);
  const char *argv[] = { "vips", "extract_band", svg, pgm, "3", NULL };
  g_autoptr (GError) error = NULL;
  g_autofree char *answer = NULL;
  guint8 *alpha = NULL;
  gsize size;
  int status;

  g_assert_true (g_file_set_contents (svg, text, -1, NULL));
  if (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL,
                    NULL, NULL, NULL, NULL, &status, &error) && status == 0 && g_file_get_contents (pgm, &answer, &size, NULL) &&
      size > (gsize) (w * h))
    alpha = g_memdup2 (answer + size - (gsize) (w * h), (gsize) (w * h));
  g_remove (svg);
  g_remove (pgm);
  g_rmdir (folder);
  return alpha;
}

static void
test_hits_as_drawn_elsewhere (void)
{
  /* Outside truth: librsvg, by the vips program of libvips-tools. */
  static const struct { const char *form, *part; } cases[] = {
    { "puffball", "body" }, { "toothed", "teeth" }, { "cup", "cap_margin" }, { "truffle", "fertile_surface" }, { "bracket", "cap" },
  };

  g_test_summary ("What a click hits is what librsvg paints");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsFigure) figure = rig_load_figure (cases[i].form);
      g_autofree char *text = rig_read_figure_text (cases[i].form);
      g_autofree char *start = g_strdup_printf ("data-part=\"%s\" class=\"outline", cases[i].part);
      char *d = strstr (strstr (text, start), " d=\"") + strlen (" d=\"");
      g_autofree guint8 *alpha = NULL;
      int n_wrong = 0, n_inside = 0;

      *strchr (d, '"') = '\0';
      alpha = draw_elsewhere (d, 220, 270);
      if (alpha == NULL)
        {
          g_test_skip ("the program vips with SVG is not here");
          return;
        }
      for (int y = 0; y < 270; y += 2)
        for (int x = 0; x < 220; x += 2)
          if (alpha[y * 220 + x] == 0 || alpha[y * 220 + x] == 255)   /* not on the edge */
            {
              n_inside += alpha[y * 220 + x] == 255;
              n_wrong += ws_figure_hits (figure, cases[i].part, x + 0.5, y + 0.5) != (alpha[y * 220 + x] == 255);
            }
      g_test_message ("%s %s: %d inside, %d wrong", cases[i].form, cases[i].part, n_inside, n_wrong);
      g_assert_cmpint (n_inside, >, 20);
      g_assert_cmpint (n_wrong, ==, 0);
    }
}

static void
test_nothing_to_draw_on (void)
{
  g_autoptr (WsFigure) figure = rig_load_figure ("egg");
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 4, 4);
  cairo_t *cr = cairo_create (surface);
  WsFigureLook look = { .base = NULL };

  g_test_summary ("A place without width, height or sense draws nothing and breaks nothing");
  ws_figure_draw (figure, cr, 0, 0, 0, 0, &look);
  ws_figure_draw (figure, cr, 0, 0, -5, 20, &look);
  ws_figure_draw (figure, cr, 0, 0, 1, 1, &look);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/draw/figure/states", test_states);
  g_test_add_func ("/draw/figure/missing-base-small", test_missing_base_small);
  g_test_add_func ("/draw/figure/dark", test_dark);
  g_test_add_func ("/draw/figure/variants", test_variants);
  g_test_add_func ("/draw/figure/armed", test_armed);
  g_test_add_func ("/draw/figure/anchors", test_anchors);
  g_test_add_func ("/draw/figure/base-below-ground", test_base_below_ground);
  g_test_add_func ("/draw/figure/small", test_small);
  g_test_add_func ("/draw/figure/hits-as-drawn-elsewhere", test_hits_as_drawn_elsewhere);
  g_test_add_func ("/draw/figure/nothing-to-draw-on", test_nothing_to_draw_on);
  return g_test_run ();
}
