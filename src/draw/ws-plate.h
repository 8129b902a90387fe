/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plate: one page with the specimen figure, the best crop of every part round it, what is missing as empty frames, notes
 * and cautions. Laid out by ws-plate-layout.h and drawn by one function for screen, PDF and package. Its words come from the
 * knowledge in the language of the request. A plate is used on one thread at a time. */
#pragma once

#include <cairo.h>

#include "ws-figure.h"
#include "ws-knowledge.h"
#include "ws-plate-layout.h"
#include "ws-request.h"

typedef struct _WsPlate WsPlate;

/* What is drawn on; lengths in units of the cairo context. */
typedef struct
{
  double width, height;
  gboolean may_grow;        /* taller when it needs to be: a screen that scrolls */
  double margin, em;        /* em: size of the text */
} WsPlateSheet;

typedef enum { WS_PAPER_A4, WS_PAPER_LETTER } WsPaper;
#define WS_PLATE_PRINT_DPI 300

/* A sheet of paper in points. */
WsPlateSheet ws_plate_sheet_of_paper (WsPaper paper, gboolean sideways);

typedef struct { double ink[3], paper[3]; /* 0-1 */ } WsPlateInk;
/* Black on a page that is left white. */
#define WS_PLATE_INK_PRINT { { 0, 0, 0 }, { 1, 1, 1 } }

/* The plate of @request->find, whose place, texts and photos are as they are told (ws_request_dup_sendable_find()).
 * @choices (nullable): view id to the id of the mark whose crop is wanted instead of the best one; what is not there
 * (any more) is left aside. References what it needs. */
WsPlate *ws_plate_new (const WsRequest *request, const WsKnowledge *knowledge, WsFigure *figure,
                       GHashTable *choices) G_GNUC_WARN_UNUSED_RESULT;
void ws_plate_free (WsPlate *plate);

/* The parts, in the order of the evidence list. Views of one and the same crop are one part. */
guint ws_plate_get_n_parts (const WsPlate *plate);
/* The view, the first of them; borrowed. */
const char *ws_plate_get_view (const WsPlate *plate, guint part);
/* What it is called and its state in words, for a screen reader: "Stem base, missing". (transfer full) */
char *ws_plate_dup_label (const WsPlate *plate, guint part) G_GNUC_WARN_UNUSED_RESULT;
/* The mark of the crop; NULL: an empty frame. Borrowed. */
const WsMark *ws_plate_get_mark (const WsPlate *plate, guint part);
/* Marks that serve the part, and that which comes @step (1 or -1) after the shown one; NULL if there is no other. */
guint ws_plate_get_n_marks (const WsPlate *plate, guint part);
const WsMark *ws_plate_get_other_mark (const WsPlate *plate, guint part, int step);

/* The picture of a part's mark: its bounds, nothing more. NULL takes it away. Referenced; not written to afterwards. */
void ws_plate_set_crop (WsPlate *plate, guint part, cairo_surface_t *crop);

/* Lays out for a sheet; FALSE when it does not fit. To be called before what follows, and again for another sheet. */
gboolean ws_plate_lay_out (WsPlate *plate, const WsPlateSheet *sheet);
double ws_plate_get_height (const WsPlate *plate);
WsPlateBox ws_plate_get_box (const WsPlate *plate, guint part);
/* Longer edge in px that a crop needs at @dpi px for 72 units. */
int ws_plate_get_crop_edge (const WsPlate *plate, guint part, double dpi);
/* The part whose box holds the point, -1: none. */
int ws_plate_get_part_at (const WsPlate *plate, double x, double y);

void ws_plate_draw (const WsPlate *plate, cairo_t *cr, const WsPlateInk *ink);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPlate, ws_plate_free)
