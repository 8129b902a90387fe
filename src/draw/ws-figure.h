/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The specimen figure: a drawn fruit body of a growth form, whose parts fill in as they are shown.
 * Shapes are data (data/figures/FORM.svg, a small validated subset of SVG paths), so that an
 * illustrator can improve a figure without C. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#include "ws-evidence.h"

typedef struct _WsFigure WsFigure;

/* Parses one figure file. Subset: one <svg viewBox="0 0 W H">, <path> with d of absolute M L C Q Z (and
 * their relative forms) only, attributes id, class, data-part, data-variant; anything else is an error that
 * names @file. */
WsFigure *ws_figure_parse (const char *file, GBytes *bytes, GError **error) G_GNUC_WARN_UNUSED_RESULT;
WsFigure *ws_figure_ref (WsFigure *figure);
void ws_figure_unref (WsFigure *figure);

void ws_figure_get_size (const WsFigure *figure, double *width, double *height);
/* Ids of the parts drawn, in drawing order; NULL-terminated, borrowed. */
const char *const *ws_figure_get_parts (const WsFigure *figure);
/* The point of the part where a leader line ends, in figure units. FALSE if no such part. */
gboolean ws_figure_get_anchor (const WsFigure *figure, const char *part, double *x, double *y);
/* TRUE if (x, y), figure units, is inside the part's shape. */
gboolean ws_figure_hits (const WsFigure *figure, const char *part, double x, double y);

/* What is recorded of the find and changes the drawing. */
typedef struct
{
  WsEvidenceState (*state_of) (const char *part, gpointer data);  /* ink, hatching, dashes */
  gpointer data;
  const char *armed;      /* (nullable): part drawn heavier */
  gboolean ring;          /* draw variants "ring" */
  const char *base;       /* state of the character stem_base, "" unknown: picks the variant */
  double ink[3];          /* colour of lines, 0-1 */
  double paper[3];
} WsFigureLook;

/* Draws into the rectangle x, y, w, h, keeping the proportions. */
void ws_figure_draw (const WsFigure *figure, cairo_t *cr, double x, double y, double w, double h,
                     const WsFigureLook *look);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsFigure, ws_figure_unref)
