/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the files of the plate. */
#pragma once

#include "ws-plate.h"

#include <pango/pangocairo.h>

#include "ws-figure-evidence.h"

typedef struct
{
  const WsEvidenceLine *line;   /* of the first view */
  GPtrArray *views;             /* const char*: ids */
  const WsMark *mark;           /* (nullable) */
  cairo_surface_t *crop;        /* (nullable) */
} PlatePart;

struct _WsPlate
{
  WsRequest *request;
  WsKnowledge *knowledge;
  WsFigure *figure;
  WsEvidence *evidence;
  WsFigureEvidence source;
  GPtrArray *notes;             /* char*: markup, the most telling first */
  GArray *parts;                /* PlatePart */
  PangoContext *context;
  WsPlateLayout layout;         /* its parts beside ours */
  double em;
  int caption_lines;            /* of a paragraph, at most */
};

/* --- ws-plate-words.c ------------------------------------------------------------------------- */

const char *ws_plate_word (const WsPlate *plate, const char *kind, const char *id);
/* One line of valid text of at most 240 letters, escaped for markup. (transfer full) */
char *ws_plate_escape (const char *text) G_GNUC_WARN_UNUSED_RESULT;
char *ws_plate_dup_name (const PlatePart *part, const WsPlate *plate) G_GNUC_WARN_UNUSED_RESULT;
/* Markup; sizes are percentages of the text's own. (transfer full) */
char *ws_plate_caption_markup (const WsPlate *plate, const PlatePart *part) G_GNUC_WARN_UNUSED_RESULT;
char *ws_plate_text_markup (const WsPlate *plate, WsPlateText text, guint n_notes) G_GNUC_WARN_UNUSED_RESULT;

/* --- ws-plate-notes.c --------------------------------------------------------------------------- */

/* Fills plate->notes: notes but for those that stand among the facts, sizes, spores. */
void ws_plate_collect_notes (WsPlate *plate);
/* "<b>Habitat</b> beech wood", NULL when nothing of it is noted. (transfer full) (nullable) */
char *ws_plate_dup_fact (const WsPlate *plate, const char *character) G_GNUC_WARN_UNUSED_RESULT;

/* --- ws-plate.c ---------------------------------------------------------------------------------- */

/* Millimetres that the crop is wide; NAN when no scale is known. */
double ws_plate_crop_mm (const WsPlate *plate, const PlatePart *part);

/* --- ws-plate-draw.c ------------------------------------------------------------------------------- */

/* A text ready to be measured or drawn. (transfer full) */
PangoLayout *ws_plate_set_text (const WsPlate *plate, const char *markup, double size, double width, PangoAlignment align,
                                int max_lines) G_GNUC_WARN_UNUSED_RESULT;
PangoLayout *ws_plate_set_block (const WsPlate *plate, WsPlateText text, double width, double scale,
                                 guint n_notes) G_GNUC_WARN_UNUSED_RESULT;
PangoLayout *ws_plate_set_caption (const WsPlate *plate, guint part, double width, double scale) G_GNUC_WARN_UNUSED_RESULT;
/* Height of a scale bar above a caption, 0 where no scale is known. */
double ws_plate_bar_height (const WsPlate *plate, const PlatePart *part, double em);
