/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plate as a pen and a printer would make it. */
#include "ws-plate-private.h"

#include <math.h>

#include "ws-ink.h"
#include "ws-range.h"

/* A figure is drawn at least this high and scaled down, so that it keeps its asides and fine lines on a small page. */
#define FIGURE_DRAWN 320.0
#define BAR_SHARE 0.45        /* of the crop's width, a scale bar at most */

static const struct { double size; int max_lines; } manner[WS_PLATE_N_TEXTS] = {
  [WS_PLATE_TITLE] = { 2.1, 4 },   [WS_PLATE_WARNING] = { 1.08, 8 }, [WS_PLATE_FACTS] = { 1, 3 },
  [WS_PLATE_NOTES] = { 1, 4 },     [WS_PLATE_INK] = { 0.92, 2 },     [WS_PLATE_CAUTIONS] = { 0.86, 40 },
};

/* --- Text ------------------------------------------------------------------------------------------ */

PangoLayout *
ws_plate_set_text (const WsPlate *plate, const char *markup, double size, double width, PangoAlignment align, int max_lines)
{
  PangoLayout *layout = pango_layout_new (plate->context);
  PangoFontDescription *font = pango_font_description_from_string ("serif");

  pango_font_description_set_absolute_size (font, size * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_width (layout, (int) (MAX (width, 1) * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_alignment (layout, align);
  /* Of each paragraph; whoever wrote a novel finds its beginning here and the rest in the request. */
  pango_layout_set_height (layout, -max_lines);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_line_spacing (layout, 1.06f);
  pango_layout_set_markup (layout, markup, -1);
  return layout;
}

PangoLayout *
ws_plate_set_block (const WsPlate *plate, WsPlateText text, double width, double scale, guint n_notes)
{
  g_autofree char *markup = ws_plate_text_markup (plate, text, n_notes);

  return ws_plate_set_text (plate, markup, manner[text].size * plate->em * scale, width,
                            text == WS_PLATE_INK ? PANGO_ALIGN_CENTER : PANGO_ALIGN_LEFT, manner[text].max_lines);
}

PangoLayout *
ws_plate_set_caption (const WsPlate *plate, guint part, double width, double scale)
{
  const PlatePart *shown = &g_array_index (plate->parts, PlatePart, part);
  WsPlateSide side = plate->layout.parts[part].side;
  g_autofree char *markup = ws_plate_caption_markup (plate, shown);
  gboolean centred = side >= WS_PLATE_ABOVE || shown->mark == NULL;

  return ws_plate_set_text (plate, markup, plate->em * scale, width,
                            centred ? PANGO_ALIGN_CENTER : side == WS_PLATE_LEFT ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT,
                            plate->caption_lines);
}

/* --- Pen --------------------------------------------------------------------------------------------- */

typedef struct
{
  const WsPlate *plate;
  cairo_t *cr;
  const WsPlateInk *ink;
  double em;
} Pen;

/* Ink thinned with paper: no colour but these two. */
static void
dip (const Pen *pen, double strength)
{
  const double *i = pen->ink->ink, *p = pen->ink->paper;

  cairo_set_source_rgb (pen->cr, p[0] + (i[0] - p[0]) * strength, p[1] + (i[1] - p[1]) * strength,
                        p[2] + (i[2] - p[2]) * strength);
}

static void
write_text (const Pen *pen, PangoLayout *layout, double x, double y)
{
  dip (pen, 1);
  cairo_move_to (pen->cr, x, y);
  pango_cairo_show_layout (pen->cr, layout);
  cairo_new_path (pen->cr);
}

static void
rule (const Pen *pen, double x0, double x1, double y, double width)
{
  dip (pen, 1);
  cairo_move_to (pen->cr, x0, y);
  cairo_line_to (pen->cr, x1, y);
  cairo_set_line_width (pen->cr, width);
  cairo_stroke (pen->cr);
}

/* --- Blocks -------------------------------------------------------------------------------------------- */

static void
draw_texts (const Pen *pen)
{
  const WsPlateLayout *layout = &pen->plate->layout;

  for (guint text = 0; text < WS_PLATE_N_TEXTS; text++)
    {
      const WsPlateBox *box = &layout->texts[text];
      g_autoptr (PangoLayout) set = NULL;

      if (!(box->height > 0))
        continue;
      set = ws_plate_set_block (pen->plate, text, box->width, layout->scale, layout->n_notes_shown);
      write_text (pen, set, box->x, box->y);
    }
}

/* A page from a book: a border of two lines, and rules that part the texts from the figures. A pen that swells is for what
 * is drawn; these are a printer's. */
static void
draw_rules (const Pen *pen)
{
  const WsPlateLayout *layout = &pen->plate->layout;
  const WsPlateBox *title = &layout->texts[WS_PLATE_TITLE], *cautions = &layout->texts[WS_PLATE_CAUTIONS];
  double in = 0.55 * layout->margin, gap = 0.3 * pen->em, y = title->y + title->height + 0.15 * pen->em;

  if (!layout->stacked)
    {
      dip (pen, 1);
      cairo_rectangle (pen->cr, in, in, layout->width - 2 * in, layout->page_height - 2 * in);
      cairo_set_line_width (pen->cr, 0.14 * pen->em);
      cairo_stroke (pen->cr);
      cairo_rectangle (pen->cr, in + gap, in + gap, layout->width - 2 * (in + gap), layout->page_height - 2 * (in + gap));
      cairo_set_line_width (pen->cr, 0.05 * pen->em);
      cairo_stroke (pen->cr);
    }
  rule (pen, title->x, title->x + title->width, y, 0.1 * pen->em);
  rule (pen, cautions->x, cautions->x + cautions->width, cautions->y - 0.4 * pen->em, 0.06 * pen->em);
}

static void
draw_figure (const Pen *pen)
{
  const WsPlateBox *box = &pen->plate->layout.figure;
  WsFigureEvidence source = pen->plate->source;
  WsFigureLook look = { .armed = NULL };
  double scale = MIN (1, box->height / FIGURE_DRAWN);

  if (!(box->height > 0))
    return;
  for (guint i = 0; i < 3; i++)
    {
      look.ink[i] = pen->ink->ink[i];
      look.paper[i] = pen->ink->paper[i];
    }
  ws_figure_evidence_look (&source, &look);
  cairo_save (pen->cr);
  cairo_translate (pen->cr, box->x, box->y);
  cairo_scale (pen->cr, scale, scale);
  ws_figure_draw (pen->plate->figure, pen->cr, 0, 0, box->width / scale, box->height / scale, &look);
  cairo_restore (pen->cr);
}

/* A thin line on a broader one of paper, so that it is seen over the drawing. */
static void
draw_leader (const Pen *pen, const WsPlatePart *part)
{
  cairo_t *cr = pen->cr;

  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_move_to (cr, part->from_x, part->from_y);
  cairo_line_to (cr, part->tip_x, part->tip_y);
  dip (pen, 0);
  cairo_set_line_width (cr, 0.34 * pen->em);
  cairo_stroke_preserve (cr);
  dip (pen, 0.9);
  cairo_set_line_width (cr, 0.065 * pen->em);
  cairo_stroke (cr);
  cairo_arc (cr, part->from_x, part->from_y, 0.2 * pen->em, 0, 2 * G_PI);
  dip (pen, 1);
  cairo_fill (cr);
}

/* On a narrow page a letter takes the place of the leader. */
static void
draw_anchor_letter (const Pen *pen, guint index)
{
  const WsPlatePart *part = &pen->plate->layout.parts[index];
  const WsMark *mark = ws_plate_get_mark (pen->plate, index);
  g_autofree char *letter = mark != NULL ? ws_find_dup_mark_letter (pen->plate->request->find, mark) : NULL, *markup = NULL;
  g_autoptr (PangoLayout) set = NULL;
  int width, height;

  if (letter == NULL)
    return;
  markup = g_markup_printf_escaped ("<b>%s</b>", letter);
  set = ws_plate_set_text (pen->plate, markup, 0.95 * pen->em, 4 * pen->em, PANGO_ALIGN_LEFT, 1);
  pango_layout_get_pixel_size (set, &width, &height);
  dip (pen, 0);
  cairo_arc (pen->cr, part->from_x, part->from_y, 0.8 * pen->em, 0, 2 * G_PI);
  cairo_fill_preserve (pen->cr);
  dip (pen, 1);
  cairo_set_line_width (pen->cr, 0.06 * pen->em);
  cairo_stroke (pen->cr);
  write_text (pen, set, part->from_x - width / 2.0, part->from_y - height / 2.0);
}

/* --- Parts ------------------------------------------------------------------------------------------------ */

static void
paint_crop (const Pen *pen, const PlatePart *part, const WsPlateBox *picture)
{
  cairo_t *cr = pen->cr;
  double width = part->crop != NULL ? cairo_image_surface_get_width (part->crop) : 0;
  double height = part->crop != NULL ? cairo_image_surface_get_height (part->crop) : 0;

  cairo_rectangle (cr, picture->x, picture->y, picture->width, picture->height);
  if (!(width > 0 && height > 0))
    {
      dip (pen, 0.25);
      ws_ink_hatch (cr, 0.7 * pen->em, 0.05 * pen->em);
      return;
    }
  cairo_save (cr);
  cairo_clip (cr);
  cairo_translate (cr, picture->x, picture->y);
  cairo_scale (cr, picture->width / width, picture->height / height);
  cairo_set_source_surface (cr, part->crop, 0, 0);
  /* A padded picture would be packed anew; as it is a PDF takes its JPEG. */
  if (cairo_surface_get_type (cairo_get_target (cr)) != CAIRO_SURFACE_TYPE_PDF)
    cairo_pattern_set_extend (cairo_get_source (cr), CAIRO_EXTEND_PAD);
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_GOOD);
  cairo_paint (cr);
  cairo_restore (cr);
}

/* The longest of 1, 2, 5, 10 … mm that is not too long for the crop. */
static double
bar_length (double crop_mm)
{
  double most = crop_mm * BAR_SHARE, power = pow (10, floor (log10 (most)));

  return most >= 5 * power ? 5 * power : most >= 2 * power ? 2 * power : power;
}

double
ws_plate_bar_height (const WsPlate *plate, const PlatePart *part, double em)
{
  double mm = ws_plate_crop_mm (plate, part);

  return mm > 0.05 && mm < 1e5 ? 1.25 * em : 0;
}

/* Under the inner corner of the crop, as long as so many millimetres are in it. */
static void
draw_bar (const Pen *pen, guint index)
{
  const WsPlatePart *part = &pen->plate->layout.parts[index];
  const PlatePart *shown = &g_array_index (pen->plate->parts, PlatePart, index);
  double mm = ws_plate_crop_mm (pen->plate, shown), length, way, x, y;
  g_autofree char *number = NULL, *text = NULL;
  g_autoptr (PangoLayout) set = NULL;
  int width, height;

  if (!(ws_plate_bar_height (pen->plate, shown, pen->em) > 0))
    return;
  /* Next to the picture. */
  y = part->side == WS_PLATE_ABOVE ? part->caption.y + part->caption.height - 0.62 * pen->em : part->caption.y + 0.62 * pen->em;
  length = bar_length (mm);
  way = length / mm * part->picture.width;
  number = ws_decimal_to_text (length, length < 0.1 ? 2 : length < 1 ? 1 : 0, '.');
  text = g_strconcat (number, " mm", NULL);
  set = ws_plate_set_text (pen->plate, text, 0.82 * pen->em, 9 * pen->em, PANGO_ALIGN_LEFT, 1);
  pango_layout_get_size (set, &width, &height);
  x = part->side == WS_PLATE_LEFT ? part->picture.x + part->picture.width - way : part->picture.x;
  dip (pen, 1);
  cairo_set_line_width (pen->cr, 0.16 * pen->em);
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_BUTT);
  cairo_move_to (pen->cr, x, y);
  cairo_line_to (pen->cr, x + way, y);
  cairo_stroke (pen->cr);
  write_text (pen, set, part->side == WS_PLATE_LEFT ? x - 0.4 * pen->em - (double) width / PANGO_SCALE : x + way + 0.4 * pen->em,
              y - 0.5 * height / PANGO_SCALE);
}

static void
draw_part (const Pen *pen, guint index)
{
  const WsPlatePart *part = &pen->plate->layout.parts[index];
  const PlatePart *shown = &g_array_index (pen->plate->parts, PlatePart, index);
  const WsPlateBox *picture = &part->picture;
  g_autoptr (PangoLayout) caption = ws_plate_set_caption (pen->plate, index, part->caption.width, pen->plate->layout.scale);
  gboolean base = shown->line->view->is_base;

  if (shown->mark != NULL)
    {
      paint_crop (pen, shown, picture);
      dip (pen, 1);
      cairo_rectangle (pen->cr, picture->x, picture->y, picture->width, picture->height);
      ws_ink_stroke (pen->cr, (base ? 0.16 : 0.1) * pen->em, 0, index * 17 + 3);
      draw_bar (pen, index);
    }
  else
    {
      dip (pen, base ? 1 : 0.75);
      cairo_rectangle (pen->cr, picture->x, picture->y, picture->width, picture->height);
      ws_ink_dash (pen->cr, (base ? 0.18 : 0.09) * pen->em, 0.6 * pen->em, 0.45 * pen->em);
    }
  write_text (pen, caption, part->caption.x,
              part->caption.y + (part->side != WS_PLATE_ABOVE ? ws_plate_bar_height (pen->plate, shown, pen->em) : 0));
}

void
ws_plate_draw (const WsPlate *plate, cairo_t *cr, const WsPlateInk *ink)
{
  const WsPlateLayout *layout = &plate->layout;
  Pen pen = { plate, cr, ink, plate->em * layout->scale };

  cairo_save (cr);
  cairo_new_path (cr);
  draw_rules (&pen);
  draw_figure (&pen);
  for (guint i = 0; i < layout->n_parts; i++)
    if (layout->parts[i].led)
      draw_leader (&pen, &layout->parts[i]);
    else if (layout->stacked && layout->parts[i].anchored)
      draw_anchor_letter (&pen, i);
  for (guint i = 0; i < layout->n_parts; i++)
    draw_part (&pen, i);
  draw_texts (&pen);
  cairo_restore (cr);
}
