/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-plate-layout-private.h"

#include <math.h>

#define STACKED_BELOW 38.0      /* em: narrower pages have no room for leaders */
#define SIDEWAYS_FROM 1.15      /* width by height */
#define SIDEWAYS_MIN 78.0       /* em: a column of text beside the plate */
#define TEXT_SHARE 0.34         /* of the height of an upright page, for what stands below the plate */

static const double scales[] = { 1, 0.93, 0.86, 0.8 };

/* --- Boxes --------------------------------------------------------------------------------------- */

double
ws_plate_caption_height (const WsPlateLayout *layout, guint index, double width)
{
  double padding = layout->parts[index].aspect > 0 ? 0 : 2 * WS_PLATE_FRAME_PADDING * layout->em * layout->scale;

  return layout->measure_caption (index, width - padding, layout->scale, layout->data);
}

double
ws_plate_frame_room (const WsPlateLayout *layout, guint index)
{
  double prominence = CLAMP (layout->parts[index].prominence, 1, 2);

  return WS_PLATE_FRAME_PADDING * prominence * prominence * layout->em * layout->scale;
}

guint
ws_plate_whole_ems (const WsPlateLayout *layout, double width)
{
  return MIN ((guint) (width / (layout->em * layout->scale) + 1e-9), WS_PLATE_ROW_WIDTHS - 1);
}

void
ws_plate_place_part (WsPlateLayout *layout, guint index, double x, double y, double width, double picture_height,
                     double caption_height)
{
  WsPlatePart *part = &layout->parts[index];
  double em = layout->em * layout->scale, padding = WS_PLATE_FRAME_PADDING * em, above, free_width;
  /* In a row a caption is set in whole em. */
  double inner = part->side >= WS_PLATE_ABOVE && !layout->stacked ? ws_plate_whole_ems (layout, width) * em : width;

  if (!(part->aspect > 0))
    {
      part->picture = (WsPlateBox) { x, y, width, MAX (picture_height, caption_height + 2 * ws_plate_frame_room (layout, index)) };
      part->caption = (WsPlateBox) { x + (width - inner) / 2 + padding, y + (part->picture.height - caption_height) / 2,
                                     inner - 2 * padding, caption_height };
      part->box = part->picture;
      return;
    }
  above = part->side == WS_PLATE_ABOVE ? caption_height + WS_PLATE_CAPTION_GAP * em : 0;
  part->picture = (WsPlateBox) { x, y + above, picture_height * part->aspect, picture_height };
  free_width = MAX (width - part->picture.width, 0);
  part->picture.x += part->side == WS_PLATE_LEFT ? free_width : part->side == WS_PLATE_RIGHT ? 0 : free_width / 2;
  part->caption = (WsPlateBox) { x + (width - inner) / 2, above > 0 ? y : y + picture_height + WS_PLATE_CAPTION_GAP * em, inner,
                                 caption_height };
  part->box = (WsPlateBox) { x, y, width, picture_height + WS_PLATE_CAPTION_GAP * em + caption_height };
}

/* --- Texts ----------------------------------------------------------------------------------------- */

static double
text_height (const WsPlateLayout *layout, WsPlateText text, double width)
{
  return layout->measure (text, width, layout->scale, layout->n_notes_shown, layout->data);
}

/* Puts a text at (x, y) and gives the y below it and a gap, or @y if there is nothing to say. */
static double
put_text (WsPlateLayout *layout, WsPlateText text, double x, double y, double width)
{
  double height = text_height (layout, text, width);

  layout->texts[text] = (WsPlateBox) { x, y, width, height };
  return height > 0 ? y + height + WS_PLATE_GAP * layout->em * layout->scale : y;
}

static void
move_down (WsPlateLayout *layout, const WsPlateText *texts, guint n, double by)
{
  for (guint i = 0; i < n; i++)
    layout->texts[texts[i]].y += by;
}

/* --- An upright page: title above, notes and cautions below --------------------------------------------- */

static gboolean
place_texts_upright (WsPlateLayout *layout, WsPlateBox *zone)
{
  static const WsPlateText below[] = { WS_PLATE_INK, WS_PLATE_FACTS, WS_PLATE_NOTES, WS_PLATE_CAUTIONS };
  double em = layout->em * layout->scale, gap = WS_PLATE_GAP * em, x = layout->margin;
  double width = layout->width - 2 * layout->margin, facts, top, bottom, least, room;

  top = put_text (layout, WS_PLATE_TITLE, x, layout->margin, width);
  top = put_text (layout, WS_PLATE_WARNING, x, top, width);
  /* What stands below is measured from 0 and then moved to the foot of the page. */
  facts = text_height (layout, WS_PLATE_NOTES, width) > 0 ? 0.4 * width - gap : width;
  bottom = put_text (layout, WS_PLATE_INK, x, 0, width);
  bottom = MAX (put_text (layout, WS_PLATE_FACTS, x, bottom, facts),
                put_text (layout, WS_PLATE_NOTES, x + facts + 2 * gap, bottom, MAX (width - facts - 2 * gap, em)));
  bottom = put_text (layout, WS_PLATE_CAUTIONS, x, bottom, width) - gap;
  least = ws_plate_ring_least_height (layout, width);
  room = layout->height - layout->margin - bottom - gap - top;
  layout->page_height = layout->height;
  if (layout->may_grow && room < least)
    {
      layout->page_height += least - room;
      room = least;
    }
  if (room <= 0 || (!layout->may_grow && bottom > TEXT_SHARE * layout->height))
    return FALSE;
  move_down (layout, below, G_N_ELEMENTS (below), layout->page_height - layout->margin - bottom);
  *zone = (WsPlateBox) { x, top, width, room };
  return TRUE;
}

/* --- A page on its side: the texts in a column beside the plate ------------------------------------------ */

static gboolean
place_texts_sideways (WsPlateLayout *layout, WsPlateBox *zone)
{
  static const WsPlateText last[] = { WS_PLATE_CAUTIONS };
  double em = layout->em * layout->scale, gap = WS_PLATE_GAP * em, x = layout->margin;
  double width = layout->width - 2 * layout->margin, column = CLAMP (0.23 * width, 19 * em, 34 * em), y, ink, least;

  y = put_text (layout, WS_PLATE_TITLE, x, layout->margin, column);
  y = put_text (layout, WS_PLATE_WARNING, x, y, column);
  y = put_text (layout, WS_PLATE_FACTS, x, y, column);
  y = put_text (layout, WS_PLATE_NOTES, x, y, column);
  y = put_text (layout, WS_PLATE_CAUTIONS, x, y, column) - gap;
  *zone = (WsPlateBox) { x + column + 2 * gap, layout->margin, width - column - 2 * gap, 0 };
  ink = put_text (layout, WS_PLATE_INK, zone->x, 0, zone->width);
  least = ws_plate_ring_least_height (layout, zone->width) + ink + 2 * layout->margin;
  layout->page_height = layout->may_grow ? MAX (layout->height, MAX (y + layout->margin, least)) : layout->height;
  if (y > layout->page_height - layout->margin + 1e-6)
    return FALSE;
  move_down (layout, last, 1, layout->page_height - layout->margin - y);
  zone->height = layout->page_height - 2 * layout->margin - ink;
  layout->texts[WS_PLATE_INK].y = layout->page_height - layout->margin - layout->texts[WS_PLATE_INK].height;
  return zone->height > 0;
}

/* --- A narrow page: everything below each other ----------------------------------------------------------- */

static double
stack_parts (WsPlateLayout *layout, double x, double y, double width)
{
  double em = layout->em * layout->scale, gap = WS_PLATE_GAP * em;
  guint n_columns = width >= 24 * em ? 2 : 1;
  double column = (width - (n_columns - 1) * 1.5 * gap) / n_columns, ends[2] = { y, y };

  for (guint i = 0; i < layout->n_parts; i++)
    {
      WsPlatePart *part = &layout->parts[i];
      guint which = n_columns == 2 && ends[1] < ends[0] ? 1 : 0;

      part->side = WS_PLATE_BELOW;
      ws_plate_place_part (layout, i, x + which * (column + 1.5 * gap), ends[which], column,
                           part->aspect > 0 ? MIN (column / part->aspect, 1.2 * column) : 0,
                           ws_plate_caption_height (layout, i, column));
      part->led = FALSE;
      part->tip_x = part->picture.x + part->picture.width / 2;
      part->tip_y = part->picture.y;
      ends[which] += part->box.height + 1.5 * gap;
    }
  return MAX (ends[0], n_columns == 2 ? ends[1] : 0);
}

static gboolean
lay_out_stacked (WsPlateLayout *layout)
{
  double em = layout->em * layout->scale, x = layout->margin, width = layout->width - 2 * layout->margin, y;
  WsPlateBox *figure = &layout->figure;

  y = put_text (layout, WS_PLATE_TITLE, x, layout->margin, width);
  y = put_text (layout, WS_PLATE_WARNING, x, y, width);
  figure->width = MIN (width, 26 * em);
  figure->height = figure->width / layout->figure_aspect;
  figure->x = x + (width - figure->width) / 2;
  figure->y = y;
  for (guint i = 0; i < layout->n_parts; i++)
    {
      layout->parts[i].from_x = figure->x + layout->parts[i].anchor_x * figure->width;
      layout->parts[i].from_y = figure->y + layout->parts[i].anchor_y * figure->height;
    }
  y = put_text (layout, WS_PLATE_INK, x, y + figure->height + 0.5 * em, width);
  y = stack_parts (layout, x, y, width);
  y = put_text (layout, WS_PLATE_FACTS, x, y, width);
  y = put_text (layout, WS_PLATE_NOTES, x, y, width);
  y = put_text (layout, WS_PLATE_CAUTIONS, x, y, width) - WS_PLATE_GAP * em;
  layout->page_height = MAX (layout->height, y + layout->margin);
  return layout->may_grow || layout->page_height <= layout->height + 1e-6;
}

/* --- The page ------------------------------------------------------------------------------------------------ */

static gboolean
place_texts (WsPlateLayout *layout, WsPlateBox *zone)
{
  return layout->sideways ? place_texts_sideways (layout, zone) : place_texts_upright (layout, zone);
}

static gboolean
lay_out_once (WsPlateLayout *layout)
{
  double ems = layout->width / (layout->em * layout->scale);
  WsPlateBox zone;

  layout->stacked = ems < STACKED_BELOW;
  layout->sideways = !layout->stacked && ems >= SIDEWAYS_MIN && layout->width >= SIDEWAYS_FROM * layout->height;
  if (layout->stacked)
    return lay_out_stacked (layout);
  return place_texts (layout, &zone) && ws_plate_ring_lay_out (layout, &zone);
}

/* As many notes as the texts have room for; then fewer, if that leaves too little for the plate. */
static gboolean
leave_out_notes (WsPlateLayout *layout)
{
  guint least = 0, most = layout->n_notes;
  WsPlateBox zone;

  while (least < most)
    {
      layout->n_notes_shown = (least + most + 1) / 2;
      if (place_texts (layout, &zone))
        least = layout->n_notes_shown;
      else
        most = layout->n_notes_shown - 1;
    }
  for (layout->n_notes_shown = least;; layout->n_notes_shown /= 2)
    {
      if (lay_out_once (layout))
        return TRUE;
      if (layout->n_notes_shown == 0)
        return FALSE;
    }
}

/* Texts shrink a little before a note is left out; nothing else is ever left out. */
gboolean
ws_plate_layout_run (WsPlateLayout *layout)
{
  layout->n_notes_shown = layout->n_notes;
  for (guint i = 0; i < G_N_ELEMENTS (scales); i++)
    {
      layout->scale = scales[i];
      if (lay_out_once (layout))
        return TRUE;
      if (layout->may_grow)
        {
          /* There is height enough for captions as tall as they like when all stand below each other. */
          layout->stacked = TRUE;
          layout->sideways = FALSE;
          return lay_out_stacked (layout);
        }
    }
  return !layout->stacked && leave_out_notes (layout);
}
