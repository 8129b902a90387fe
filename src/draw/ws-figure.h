/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The specimen figure: a drawn fruit body of a growth form, whose parts fill in as they are shown.
 * Shapes are data (data/figures/FORM.svg, a small validated subset of SVG paths), so that an
 * illustrator can improve a figure without C. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#include "ws-evidence.h"

typedef struct _WsFigure WsFigure;

/* What one file may ask for; a segment is a line or a curve. */
#define WS_FIGURE_MAX_BYTES (256 * 1024)
#define WS_FIGURE_MAX_SEGMENTS 2000
/* A drawing lower than this (in units of the cairo context) is the small version: the asides and fine
 * details are left out and the specimen fills the place. */
#define WS_FIGURE_SMALL 120.0

/* Parses one figure file. The subset:
 *
 *   <svg viewBox="0 0 W H">  once; W and H 10 to 1000. xmlns, fill="none" and stroke="black" may stand
 *                            beside it, so that any viewer shows the lines
 *   <path/>                  any number, painted in their order, nothing inside
 *     d             absolute or relative M L C Q Z; points at most 50 outside the viewBox
 *     data-part     id of the part it belongs to (parts.tsv)
 *     class         "outline": closed shapes, filled, edged and hit; "edge": lines drawn like the edge of an
 *                   outline, in every state; "detail": lines inside, drawn when the part is shown.
 *                   Followed by any of: "aside" (a vignette beside the specimen: not in the small
 *                   version), "small" (a detail that is kept in the small version), "open" (an outline
 *                   that is filled and hit but not edged: the edges are drawn apart), "ground" (runs on
 *                   to the sides: the small version cuts it off where the specimen ends)
 *     data-variant  only drawn when recorded: "ring"; of the base "plain", "bag", "collar", "scaly", "bulb",
 *                   "rooting"
 *     id            free
 *
 * Anything else is an error that names @file: WS_ERROR_UNREADABLE, WS_ERROR_TOO_LARGE. */
WsFigure *ws_figure_parse (const char *file, GBytes *bytes, GError **error) G_GNUC_WARN_UNUSED_RESULT;
WsFigure *ws_figure_ref (WsFigure *figure);
void ws_figure_unref (WsFigure *figure);

void ws_figure_get_size (const WsFigure *figure, double *width, double *height);
/* Ids of the parts drawn, in drawing order; NULL-terminated, borrowed. */
const char *const *ws_figure_get_parts (const WsFigure *figure);
/* The point of the part where a leader line ends, in figure units: the middle of the widest place that no
 * later part covers. FALSE if no such part. */
gboolean ws_figure_get_anchor (const WsFigure *figure, const char *part, double *x, double *y);
/* The smallest rectangle, figure units, around the part. FALSE if no such part. */
gboolean ws_figure_get_bounds (const WsFigure *figure, const char *part,
                               double *x, double *y, double *width, double *height);
/* TRUE if (x, y), figure units, is inside the part's shape (of any variant). */
gboolean ws_figure_hits (const WsFigure *figure, const char *part, double x, double y);

/* What is recorded of the find and changes the drawing. */
typedef struct
{
  /* Ink, hatching, dashes; NULL draws all parts in ink. */
  WsEvidenceState (*state_of) (const char *part, gpointer data);
  gpointer data;
  /* FALSE for a part that nobody asks for: a faint line. NULL: all are asked for. */
  gboolean (*is_asked) (const char *part, gpointer data);
  const char *armed;      /* (nullable): part drawn heavier */
  gboolean ring;          /* draw variants "ring"; otherwise a faint place for it */
  const char *base;       /* state of the character stem_base, "" unknown: picks the variant */
  double ink[3];          /* colour of lines, 0-1 */
  double paper[3];
} WsFigureLook;

/* Where ws_figure_draw() puts the figure: (X, Y) of the figure is drawn at (X * scale + dx, Y * scale + dy). */
typedef struct { double scale, dx, dy; } WsFigurePlace;
WsFigurePlace ws_figure_place (const WsFigure *figure, double x, double y, double w, double h);

/* Draws into the rectangle x, y, w, h, keeping the proportions. Shown: line of ink and a light wash, details;
 * weak: hatched, lighter line; missing: an empty dashed outline. */
void ws_figure_draw (const WsFigure *figure, cairo_t *cr, double x, double y, double w, double h,
                     const WsFigureLook *look);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsFigure, ws_figure_unref)
