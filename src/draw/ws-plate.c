/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-plate-private.h"

#include <math.h>
#include <string.h>

#include "ws-clarity.h"

/* No page holds more; how many there are is said. */
#define MAX_NOTES 40

/* Judgement, set by eye: what most tells dangerous kinds apart is shown largest, what proves order smallest. */
static const struct { const char *view; double prominence; } prominences[] = {
  { "v_base", 1.9 }, { "v_under", 1.3 }, { "v_section", 1.2 }, { "v_ring", 1.1 }, { "v_habitat", 0.8 }, { "v_substrate", 0.8 },
  { "v_ages", 0.9 }, { "v_scale", 0.4 }, { "v_slip", 0.4 },
};

WsPlateSheet
ws_plate_sheet_of_paper (WsPaper paper, gboolean sideways)
{
  double width = paper == WS_PAPER_A4 ? 210 / 25.4 * 72 : 612, height = paper == WS_PAPER_A4 ? 297 / 25.4 * 72 : 792;

  return (WsPlateSheet) { .width = sideways ? height : width, .height = sideways ? width : height, .margin = 34, .em = 8.6 };
}

/* --- Parts --------------------------------------------------------------------------------------- */

static gboolean
can_be_cut_out (const WsPlate *plate, const WsMark *mark)
{
  const WsPhoto *photo = ws_find_get_photo (plate->request->find, mark->photo_id);

  return photo != NULL && !photo->set_aside && photo->width > 0 && photo->height > 0;
}

/* Of its line's marks, which are sorted by state, clarity and size, the one wanted, else the first. */
static const WsMark *
choose_mark (const WsPlate *plate, const WsEvidenceLine *line, GHashTable *choices)
{
  const char *wanted = choices != NULL ? g_hash_table_lookup (choices, line->view->id) : NULL;
  const WsMark *first = NULL;

  for (guint i = 0; i < line->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (line->marks, i);

      if (!can_be_cut_out (plate, mark))
        continue;
      if (g_strcmp0 (mark->id, wanted) == 0)
        return mark;
      if (first == NULL)
        first = mark;
    }
  return first;
}

static void
part_clear (gpointer data)
{
  PlatePart *part = data;

  g_clear_pointer (&part->crop, cairo_surface_destroy);
  g_ptr_array_unref (part->views);
}

/* What is asked for only if there is one, and of which nothing is marked, is not missing. */
static void
add_line_part (WsPlate *plate, const WsEvidenceLine *line, GHashTable *choices)
{
  PlatePart part = { .line = line, .mark = choose_mark (plate, line, choices) };

  if (part.mark == NULL && line->need == WS_NEED_ONLY_IF)
    return;
  for (guint i = 0; part.mark != NULL && i < plate->parts->len; i++)
    {
      const PlatePart *other = &g_array_index (plate->parts, PlatePart, i);

      if (other->mark == part.mark && !other->line->view->is_base)
        {
          g_ptr_array_add (other->views, (gpointer) line->view->id);
          return;
        }
    }
  part.views = g_ptr_array_new ();
  g_ptr_array_add (part.views, (gpointer) line->view->id);
  g_array_append_val (plate->parts, part);
}

double
ws_plate_crop_mm (const WsPlate *plate, const PlatePart *part)
{
  const WsPhoto *photo = part->mark != NULL ? ws_find_get_photo (plate->request->find, part->mark->photo_id) : NULL;
  double mm_per_pixel = photo != NULL ? part->mark->measure.mm_per_pixel : NAN;

  return mm_per_pixel > 0 ? mm_per_pixel * photo->width * part->mark->shape->bounds.width : NAN;
}

static double
prominence_of (const PlatePart *part)
{
  for (guint i = 0; i < G_N_ELEMENTS (prominences); i++)
    if (g_str_equal (prominences[i].view, part->line->view->id))
      return prominences[i].prominence;
  return 1;
}

static void
fill_layout_part (WsPlate *plate, guint index)
{
  const PlatePart *part = &g_array_index (plate->parts, PlatePart, index);
  WsPlatePart *box = &plate->layout.parts[index];
  const char *drawn = ws_figure_evidence_get_part (plate->figure, plate->knowledge, part->line->view->id,
                                                   plate->evidence->growth_form);
  double width, height;

  box->prominence = prominence_of (part);
  if (part->mark != NULL)
    {
      const WsPhoto *photo = ws_find_get_photo (plate->request->find, part->mark->photo_id);
      int x, y, w, h;

      ws_rect_to_pixels (&part->mark->shape->bounds, photo->width, photo->height, &x, &y, &w, &h);
      box->aspect = CLAMP ((double) w / h, 1 / 20.0, 20.0);
    }
  ws_figure_get_size (plate->figure, &width, &height);
  box->anchored = drawn != NULL && ws_figure_get_anchor (plate->figure, drawn, &box->anchor_x, &box->anchor_y);
  box->anchor_x /= width;
  box->anchor_y /= height;
}

/* --- The plate ------------------------------------------------------------------------------------- */

/* Glyphs are measured alike whatever they are drawn on; a point is a unit. */
static PangoContext *
new_context (const char *language)
{
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  cairo_font_options_t *options = cairo_font_options_create ();

  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  pango_cairo_context_set_font_options (context, options);
  pango_cairo_context_set_resolution (context, 72);
  pango_context_set_round_glyph_positions (context, FALSE);
  pango_context_set_language (context, pango_language_from_string (language));
  cairo_font_options_destroy (options);
  return context;
}

WsPlate *
ws_plate_new (const WsRequest *request, const WsKnowledge *knowledge, WsFigure *figure, GHashTable *choices)
{
  WsPlate *plate = g_new0 (WsPlate, 1);

  plate->request = ws_request_ref ((WsRequest *) request);
  plate->knowledge = ws_knowledge_ref ((WsKnowledge *) knowledge);
  plate->figure = ws_figure_ref (figure);
  plate->evidence = ws_evidence_judge (request->find, knowledge, request->language);
  plate->source = (WsFigureEvidence) { plate->evidence, knowledge };
  plate->notes = g_ptr_array_new_with_free_func (g_free);
  plate->context = new_context (request->language);
  plate->parts = g_array_new (FALSE, TRUE, sizeof (PlatePart));
  g_array_set_clear_func (plate->parts, part_clear);
  ws_plate_collect_notes (plate);
  for (guint i = 0; i < plate->evidence->lines->len; i++)
    add_line_part (plate, g_ptr_array_index (plate->evidence->lines, i), choices);
  plate->layout.n_parts = plate->parts->len;
  plate->layout.parts = g_new0 (WsPlatePart, plate->parts->len + 1);
  for (guint i = 0; i < plate->parts->len; i++)
    fill_layout_part (plate, i);
  return plate;
}

void
ws_plate_free (WsPlate *plate)
{
  if (plate == NULL)
    return;
  g_free (plate->layout.parts);
  g_array_unref (plate->parts);
  g_ptr_array_unref (plate->notes);
  g_object_unref (plate->context);
  ws_evidence_free (plate->evidence);
  ws_figure_unref (plate->figure);
  ws_knowledge_unref (plate->knowledge);
  ws_request_unref (plate->request);
  g_free (plate);
}

/* --- Parts, from outside ------------------------------------------------------------------------------ */

static const PlatePart *
get_part (const WsPlate *plate, guint part)
{
  return &g_array_index (plate->parts, PlatePart, part);
}

guint
ws_plate_get_n_parts (const WsPlate *plate)
{
  return plate->parts->len;
}

const char *
ws_plate_get_view (const WsPlate *plate, guint part)
{
  return get_part (plate, part)->line->view->id;
}

char *
ws_plate_dup_label (const WsPlate *plate, guint part)
{
  g_autofree char *name = ws_plate_dup_name (get_part (plate, part), plate);

  return g_strdup_printf ("%s, %s", name, ws_plate_word (plate, "evidence_state",
                                                         ws_evidence_state_id (get_part (plate, part)->line->state)));
}

const WsMark *
ws_plate_get_mark (const WsPlate *plate, guint part)
{
  return get_part (plate, part)->mark;
}

guint
ws_plate_get_n_marks (const WsPlate *plate, guint part)
{
  const GPtrArray *marks = get_part (plate, part)->line->marks;
  guint n = 0;

  for (guint i = 0; i < marks->len; i++)
    n += can_be_cut_out (plate, g_ptr_array_index (marks, i));
  return n;
}

const WsMark *
ws_plate_get_other_mark (const WsPlate *plate, guint part, int step)
{
  const PlatePart *shown = get_part (plate, part);
  const GPtrArray *marks = shown->line->marks;
  guint at = 0, n = marks->len;

  while (at < n && g_ptr_array_index (marks, at) != shown->mark)
    at++;
  for (guint i = 1; i < n; i++)
    {
      const WsMark *other = g_ptr_array_index (marks, (at + (step > 0 ? i : n - i)) % n);

      if (can_be_cut_out (plate, other))
        return other;
    }
  return NULL;
}

void
ws_plate_set_crop (WsPlate *plate, guint part, cairo_surface_t *crop)
{
  PlatePart *shown = &g_array_index (plate->parts, PlatePart, part);

  g_clear_pointer (&shown->crop, cairo_surface_destroy);
  if (crop != NULL)
    shown->crop = cairo_surface_reference (crop);
}

/* --- The layout ---------------------------------------------------------------------------------------- */

static double
height_of (PangoLayout *layout)
{
  int height;

  pango_layout_get_size (layout, NULL, &height);
  return (double) height / PANGO_SCALE;
}

static double
measure_text (WsPlateText text, double width, double scale, guint n_notes, gpointer data)
{
  g_autoptr (PangoLayout) layout = ws_plate_set_block (data, text, width, scale, n_notes);

  return *pango_layout_get_text (layout) != '\0' ? height_of (layout) : 0;
}

static double
measure_caption (guint part, double width, double scale, gpointer data)
{
  const WsPlate *plate = data;
  g_autoptr (PangoLayout) layout = ws_plate_set_caption (plate, part, width, scale);

  return height_of (layout) + ws_plate_bar_height (plate, get_part (plate, part), plate->em * scale);
}

gboolean
ws_plate_lay_out (WsPlate *plate, const WsPlateSheet *sheet)
{
  WsPlateLayout *layout = &plate->layout;
  double width, height;

  ws_figure_get_size (plate->figure, &width, &height);
  plate->em = sheet->em;
  layout->width = sheet->width;
  layout->height = sheet->height;
  layout->may_grow = sheet->may_grow;
  layout->margin = sheet->margin;
  layout->em = sheet->em;
  layout->figure_aspect = width / height;
  layout->n_notes = MIN (plate->notes->len, MAX_NOTES);
  layout->measure = measure_text;
  layout->measure_caption = measure_caption;
  layout->data = plate;
  /* Long reasons and remarks must not keep a plate from being made: then a little of each is shown. */
  plate->caption_lines = 6;
  if (ws_plate_layout_run (layout))
    return TRUE;
  plate->caption_lines = 2;
  return ws_plate_layout_run (layout);
}

double
ws_plate_get_height (const WsPlate *plate)
{
  return plate->layout.page_height;
}

WsPlateBox
ws_plate_get_box (const WsPlate *plate, guint part)
{
  return plate->layout.parts[part].box;
}

int
ws_plate_get_crop_edge (const WsPlate *plate, guint part, double dpi)
{
  const WsPlateBox *picture = &plate->layout.parts[part].picture;

  return (int) ceil (MAX (picture->width, picture->height) * dpi / 72);
}

int
ws_plate_get_part_at (const WsPlate *plate, double x, double y)
{
  for (guint i = 0; i < plate->parts->len; i++)
    {
      const WsPlateBox *box = &plate->layout.parts[i].box;

      if (x >= box->x && x < box->x + box->width && y >= box->y && y < box->y + box->height)
        return (int) i;
    }
  return -1;
}
