/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where everything stands on a plate: the specimen figure in the middle, a crop or an empty frame for every part round it,
 * leaders from the figure to them, the texts. Pure: numbers in, numbers out, the same each time; lengths in the unit of
 * the page, text is measured by the caller.
 *
 * Boxes stand in a column on either side of the figure and in rows above and below it; between them a rectangle is left
 * free, with the figure inside. Every leader runs inside that rectangle, from a point of the figure to a port on its edge, so
 * it meets no box but its own. Who gets which port is the matching of least total length: if two of its leaders crossed,
 * exchanging their ports would make it shorter (triangle inequality), so none do. Boxes are then sized for their pictures,
 * which moves the ports; the matching is made again until it stays. Of several such plates that with the largest pictures
 * and the shortest leaders is taken; if none comes to rest, ports stay where they do not depend on who gets them. A narrow
 * page has no room for that: there everything stands below the figure and letters take the place of leaders. */
#pragma once

#include <glib.h>

typedef struct { double x, y, width, height; } WsPlateBox;

typedef enum
{
  WS_PLATE_TITLE,
  WS_PLATE_WARNING,     /* what is wrong with the base; measures 0 when there is nothing */
  WS_PLATE_FACTS,       /* date, place, habitat */
  WS_PLATE_NOTES,
  WS_PLATE_INK,         /* "ink shows what was photographed …", below the figure */
  WS_PLATE_CAUTIONS,
  WS_PLATE_N_TEXTS,
} WsPlateText;

typedef enum { WS_PLATE_LEFT, WS_PLATE_RIGHT, WS_PLATE_ABOVE, WS_PLATE_BELOW } WsPlateSide;

typedef struct
{
  /* Given. */
  double aspect;          /* width by height of the crop; 0: nothing was photographed, an empty frame */
  double prominence;      /* how large it may be against others, by area; usually 1 */
  gboolean anchored;      /* FALSE: the figure has no such part; no leader */
  double anchor_x, anchor_y;  /* fractions of the figure's rectangle */
  /* Found. */
  WsPlateSide side;
  WsPlateBox box;         /* picture and caption */
  WsPlateBox picture;     /* of the crop's aspect; of an empty frame: the frame, the caption inside */
  WsPlateBox caption;
  gboolean led;           /* a leader is drawn */
  double from_x, from_y;  /* on the figure; also of what is not led but anchored */
  double tip_x, tip_y;    /* on the picture's edge */
} WsPlatePart;

typedef struct
{
  /* Given. */
  double width, height;   /* of the page; */
  gboolean may_grow;      /* a screen scrolls: the page may be taller */
  double margin;
  double em;              /* size of the text at scale 1 */
  double figure_aspect;   /* width by height */
  guint n_notes;          /* paragraphs of WS_PLATE_NOTES, the most telling first */
  /* Height of a text set in @width at @scale times its usual size; of the notes the first @n_notes and, if these are
   * not all, a line that says so. 0 when there is nothing to say. */
  double (*measure) (WsPlateText text, double width, double scale, guint n_notes, gpointer data);
  double (*measure_caption) (guint part, double width, double scale, gpointer data);
  gpointer data;
  WsPlatePart *parts;
  guint n_parts;
  /* Found. */
  double page_height;
  double scale;           /* of all texts, 0.8 to 1 */
  guint n_notes_shown;
  gboolean stacked;       /* a narrow page: no leaders */
  gboolean sideways;      /* the texts stand in a column beside the plate */
  WsPlateBox figure;
  WsPlateBox texts[WS_PLATE_N_TEXTS];
} WsPlateLayout;

/* FALSE when the page is too small for what has to stand on it and must not grow. */
gboolean ws_plate_layout_run (WsPlateLayout *layout);
