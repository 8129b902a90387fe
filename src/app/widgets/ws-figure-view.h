/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The specimen figure large, with its leader labels: the evidence list of a find as a drawing. In a wide place
 * labels stand left and right of the figure and lines lead to their parts; in a narrow one they stand below, what is
 * required and missing first, and numbers take the place of the lines.
 *
 * Every label and every part is a real button. Tab goes through the labels as they are read, arrows to the next one
 * in that direction, Enter and Space choose.
 *
 * Signals:
 *   "view-activated" (const char *view)  a label was chosen
 *   "part-activated" (const char *part)  a part of the drawing was chosen
 *
 * Colours: ink is the text colour of the widget, paper the named colour "ws_paper_color", else "window_bg_color". */
#pragma once

#include <gtk/gtk.h>

#include "ws-figure.h"

#define WS_TYPE_FIGURE_VIEW (ws_figure_view_get_type ())
G_DECLARE_FINAL_TYPE (WsFigureView, ws_figure_view, WS, FIGURE_VIEW, GtkWidget)

GtkWidget *ws_figure_view_new (void) G_GNUC_WARN_UNUSED_RESULT;
/* @figure (nullable): NULL leaves the labels alone. */
void ws_figure_view_set_figure (WsFigureView *self, WsFigure *figure);
/* Shows what is recorded now; judges the find of @evidence itself, so that nothing of @evidence is kept. NULL
 * clears. Labels keep their focus and their pictures while the find stays the same. */
void ws_figure_view_set_evidence (WsFigureView *self, const WsEvidence *evidence, const WsKnowledge *knowledge,
                                  const char *language);
/* TRUE: labels carry the technical terms beside the plain words. */
void ws_figure_view_set_technical (WsFigureView *self, gboolean technical);
/* The view that is being marked, NULL for none. */
void ws_figure_view_set_armed (WsFigureView *self, const char *view);
/* Small pictures for the label of @view, the best first; at most three are shown. */
void ws_figure_view_set_crops (WsFigureView *self, const char *view, GdkPaintable *const *crops, guint n_crops);
