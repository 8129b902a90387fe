/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-plate-layout.h"

#include <math.h>
#include <string.h>

#define MAX_PARTS 16
#define MAX_NOTES 40

/* --- A page to lay out --------------------------------------------------------------------------- */

typedef struct
{
  const char *name;
  double width, height, em;
  gboolean may_grow;
} Sheet;

/* Points at 8.5 for print; pixels at 13 for screens, from a narrow window to 4K. */
static const Sheet sheets[] = {
  { "A4", 595.28, 841.89, 8.5, FALSE },      { "A4 on its side", 841.89, 595.28, 8.5, FALSE },
  { "Letter", 612, 792, 8.5, FALSE },        { "Letter on its side", 792, 612, 8.5, FALSE },
  { "360 px", 360, 640, 13, TRUE },          { "320 px", 320, 400, 15, TRUE },
  { "half a screen", 620, 760, 13, TRUE },   { "a leaf", 500, 650, 12.3, TRUE },   { "a low window", 900, 420, 13, TRUE },
  { "a screen", 1366, 700, 13, TRUE },       { "4K", 3840, 2000, 13, TRUE },
  { "4K, large text", 3840, 2000, 30, TRUE },
};

typedef struct
{
  WsPlateLayout layout;
  WsPlatePart parts[MAX_PARTS];
  guint caption_letters[MAX_PARTS];
  guint note_letters[MAX_NOTES];
  guint letters[WS_PLATE_N_TEXTS];
} Page;

/* Letters half an em wide, lines 1.35 em high. */
static double
text_height (guint letters, double width, double em)
{
  double per_line = MAX (1, floor (width / (0.5 * em)));

  return letters == 0 ? 0 : ceil (letters / per_line) * 1.35 * em;
}

static double
measure (WsPlateText text, double width, double scale, guint n_notes, gpointer data)
{
  static const double sizes[] = { 2.2, 1, 1, 1, 0.9, 0.86 };
  const Page *page = data;
  double em = page->layout.em * scale * sizes[text], height = 0;

  if (text != WS_PLATE_NOTES)
    return text_height (page->letters[text], width, em);
  for (guint i = 0; i < n_notes; i++)
    height += text_height (page->note_letters[i], width, em);
  return height + (n_notes < page->layout.n_notes ? 1.35 * em : 0);
}

static double
measure_caption (guint part, double width, double scale, gpointer data)
{
  const Page *page = data;

  return text_height (page->caption_letters[part], width, page->layout.em * scale);
}

static void
fill (Page *page, const Sheet *sheet, guint n_parts, GRand *rand)
{
  memset (page, 0, sizeof *page);
  page->layout = (WsPlateLayout) { .width = sheet->width, .height = sheet->height, .may_grow = sheet->may_grow,
                                   .margin = sheet->width > 500 ? 3 * sheet->em : sheet->em, .em = sheet->em,
                                   .figure_aspect = exp (g_rand_double_range (rand, log (0.5), log (1.6))),
                                   .n_notes = (guint) g_rand_int_range (rand, 0, MAX_NOTES + 1), .measure = measure,
                                   .measure_caption = measure_caption, .data = page, .parts = page->parts,
                                   .n_parts = n_parts };
  page->letters[WS_PLATE_TITLE] = (guint) g_rand_int_range (rand, 4, 40);
  page->letters[WS_PLATE_WARNING] = g_rand_boolean (rand) ? (guint) g_rand_int_range (rand, 60, 260) : 0;
  page->letters[WS_PLATE_FACTS] = (guint) g_rand_int_range (rand, 20, 260);
  page->letters[WS_PLATE_INK] = 50;
  page->letters[WS_PLATE_CAUTIONS] = (guint) g_rand_int_range (rand, 400, 700);
  for (guint i = 0; i < MAX_NOTES; i++)
    page->note_letters[i] = (guint) g_rand_int_range (rand, 10, 110);
  for (guint i = 0; i < n_parts; i++)
    {
      WsPlatePart *part = &page->parts[i];

      part->aspect = g_rand_int_range (rand, 0, 4) > 0 ? exp (g_rand_double_range (rand, log (0.2), log (5))) : 0;
      part->prominence = g_rand_double_range (rand, 0.5, 2);
      part->anchored = g_rand_int_range (rand, 0, 12) > 0;
      part->anchor_x = g_rand_double_range (rand, 0.01, 0.99);
      part->anchor_y = g_rand_double_range (rand, 0.01, 0.99);
      page->caption_letters[i] = (guint) g_rand_int_range (rand, 3, 70);
    }
}

/* --- What has to hold ------------------------------------------------------------------------------- */

#define SLACK 1e-6

static gboolean
overlap (const WsPlateBox *a, const WsPlateBox *b)
{
  return a->width > 0 && a->height > 0 && b->width > 0 && b->height > 0 && a->x + a->width > b->x + SLACK &&
         b->x + b->width > a->x + SLACK && a->y + a->height > b->y + SLACK && b->y + b->height > a->y + SLACK;
}

static gboolean
within (const WsPlateBox *inner, const WsPlateBox *outer)
{
  return inner->x >= outer->x - SLACK && inner->y >= outer->y - SLACK &&
         inner->x + inner->width <= outer->x + outer->width + SLACK &&
         inner->y + inner->height <= outer->y + outer->height + SLACK;
}

/* Where along @a, 0-1, it meets @b; NAN if it does not: solved as two equations, not as the layout does it. */
static double
meeting (const WsPlatePart *a, const WsPlatePart *b)
{
  double ax = a->tip_x - a->from_x, ay = a->tip_y - a->from_y, bx = b->tip_x - b->from_x, by = b->tip_y - b->from_y;
  double det = ax * by - ay * bx, dx = b->from_x - a->from_x, dy = b->from_y - a->from_y, s, t;

  if (fabs (det) < 1e-12)
    return NAN;
  s = (dx * by - dy * bx) / det;
  t = (dx * ay - dy * ax) / det;
  return s >= 0 && s <= 1 && t >= 0 && t <= 1 ? s : NAN;
}

/* TRUE if the leader runs through the inside of the box: points close together along it. */
static gboolean
runs_through (const WsPlatePart *part, const WsPlateBox *box)
{
  for (guint i = 0; i <= 400; i++)
    {
      double x = part->from_x + (part->tip_x - part->from_x) * i / 400, y = part->from_y + (part->tip_y - part->from_y) * i / 400;

      if (x > box->x + 0.01 && x < box->x + box->width - 0.01 && y > box->y + 0.01 && y < box->y + box->height - 0.01)
        return TRUE;
    }
  return FALSE;
}

static void
check_part (const Page *page, guint index)
{
  const WsPlateLayout *layout = &page->layout;
  const WsPlatePart *part = &layout->parts[index];
  double em = layout->em * layout->scale, measured = measure_caption (index, part->caption.width, layout->scale, (gpointer) page);

  g_assert_true (within (&part->picture, &part->box) && within (&part->caption, &part->box));
  g_assert_cmpfloat (part->picture.height, >, 0.05 * em);
  g_assert_cmpfloat_with_epsilon (part->caption.height, measured, SLACK);
  if (part->aspect > 0)
    {
      g_assert_cmpfloat_with_epsilon (part->picture.width / part->picture.height / part->aspect, 1, 1e-9);
      g_assert_false (overlap (&part->picture, &part->caption));
    }
  else
    g_assert_true (within (&part->caption, &part->picture));
  g_assert_cmpint (part->led, ==, part->anchored && !layout->stacked);
  if (!part->led)
    return;
  g_assert_true (within (&(WsPlateBox) { part->from_x, part->from_y, 0, 0 }, &layout->figure));
  g_assert_true (within (&(WsPlateBox) { part->tip_x, part->tip_y, 0, 0 }, &part->picture));
}

static void
check_leaders (const WsPlateLayout *layout)
{
  for (guint i = 0; i < layout->n_parts; i++)
    {
      const WsPlatePart *part = &layout->parts[i];

      for (guint j = 0; j < layout->n_parts; j++)
        {
          if (part->led && runs_through (part, &layout->parts[j].box))
            g_error ("the leader of part %u runs through %s box of part %u", i, i == j ? "its own" : "the", j);
          if (i < j && part->led && layout->parts[j].led && !isnan (meeting (part, &layout->parts[j])))
            g_error ("the leaders of parts %u and %u cross", i, j);
        }
      for (guint text = 0; text < WS_PLATE_N_TEXTS; text++)
        if (part->led && runs_through (part, &layout->texts[text]))
          g_error ("the leader of part %u runs through text %u", i, text);
    }
}

static void
check (const Page *page)
{
  const WsPlateLayout *layout = &page->layout;
  WsPlateBox inside = { layout->margin, layout->margin, layout->width - 2 * layout->margin,
                        layout->page_height - 2 * layout->margin };
  const WsPlateBox *boxes[MAX_PARTS + WS_PLATE_N_TEXTS + 1];
  guint n = 0;

  g_assert_true (layout->may_grow || layout->page_height == layout->height);
  for (guint text = 0; text < WS_PLATE_N_TEXTS; text++)
    {
      double height = measure (text, layout->texts[text].width, layout->scale, layout->n_notes_shown, (gpointer) page);

      g_assert_cmpfloat_with_epsilon (layout->texts[text].height, height, SLACK);
      boxes[n++] = &layout->texts[text];
    }
  boxes[n++] = &layout->figure;
  for (guint i = 0; i < layout->n_parts; i++)
    {
      check_part (page, i);
      boxes[n++] = &layout->parts[i].box;
    }
  for (guint i = 0; i < n; i++)
    {
      if (boxes[i]->height > 0 && !within (boxes[i], &inside))
        g_error ("box %u lies outside the page", i);
      for (guint j = 0; j < i; j++)
        if (overlap (boxes[i], boxes[j]))
          g_error ("boxes %u and %u overlap (texts 0-5, figure 6, parts)", j, i);
    }
  check_leaders (layout);
}

/* --- Tests ---------------------------------------------------------------------------------------------- */

static void
test_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (16);
  g_autofree Page *page = g_new0 (Page, 1);
  guint dropped = 0, stacked = 0, shrunk = 0;

  g_test_summary ("12 pages and screens, 1 to 16 parts of random shapes and places, 12 each (2,304 plates): nothing overlaps, no "
                  "leaders cross or run through a box or text, all is inside, crops keep their shape, texts have their room");
  for (guint s = 0; s < G_N_ELEMENTS (sheets); s++)
    for (guint n = 1; n <= MAX_PARTS; n++)
      for (guint k = 0; k < 12; k++)
        {
          fill (page, &sheets[s], n, rand);
          if (!ws_plate_layout_run (&page->layout))
            g_error ("%s with %u parts, %u: no layout", sheets[s].name, n, k);
          check (page);
          dropped += page->layout.n_notes_shown < page->layout.n_notes;
          shrunk += page->layout.scale < 1;
          stacked += page->layout.stacked;
          g_assert_true (page->layout.n_notes_shown == page->layout.n_notes || !sheets[s].may_grow);
        }
  g_test_message ("%u stacked, %u with smaller text, %u with notes left out", stacked, shrunk, dropped);
}

static void
test_same (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (17);
  g_autofree Page *page = g_new0 (Page, 1), *again = g_new0 (Page, 1);

  g_test_summary ("the same plate is laid out the same way again");
  fill (page, &sheets[0], 12, rand);
  *again = *page;
  again->layout.parts = again->parts;
  again->layout.data = again;
  g_assert_true (ws_plate_layout_run (&page->layout));
  g_assert_true (ws_plate_layout_run (&again->layout));
  g_assert_cmpmem (page->parts, sizeof page->parts, again->parts, sizeof again->parts);
}

/* Places that come together or in a line, as hand-made figures may have them. */
static void
test_awkward (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (18);
  g_autofree Page *page = g_new0 (Page, 1);

  g_test_summary ("parts at one point, in one column, without places, all empty, all very wide, none at all: a layout each");
  for (guint s = 0; s < G_N_ELEMENTS (sheets); s++)
    for (guint kind = 0; kind < 6; kind++)
      {
        fill (page, &sheets[s], kind == 5 ? 0 : 10, rand);
        for (guint i = 0; i < page->layout.n_parts; i++)
          {
            WsPlatePart *part = &page->parts[i];

            part->anchored = kind != 2;
            part->anchor_x = kind == 0 || kind == 1 ? 0.5 : part->anchor_x;
            part->anchor_y = kind == 0 ? 0.5 : kind == 1 ? 0.05 + 0.09 * i : part->anchor_y;
            part->aspect = kind == 3 ? 0 : kind == 4 ? 30 : part->aspect;
          }
        g_assert_true (ws_plate_layout_run (&page->layout));
        if (kind > 1)
          check (page);
      }
}

static void
test_too_small (void)
{
  static const Sheet stamp = { "a stamp", 300, 200, 8.5, FALSE };
  g_autoptr (GRand) rand = g_rand_new_with_seed (19);
  g_autofree Page *page = g_new0 (Page, 1);

  g_test_summary ("a page that is too small is refused, not squeezed");
  fill (page, &stamp, 12, rand);
  g_assert_false (ws_plate_layout_run (&page->layout));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/plate-layout/random", test_random);
  g_test_add_func ("/find/plate-layout/same", test_same);
  g_test_add_func ("/find/plate-layout/awkward", test_awkward);
  g_test_add_func ("/find/plate-layout/too-small", test_too_small);
  return g_test_run ();
}
