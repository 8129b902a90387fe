/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A leader label of the specimen figure: one line of the evidence list, a button. It says what to show, how far
 * it is shown, how much it is asked for, and carries small pictures. */
#pragma once

#include <gtk/gtk.h>

#include "ws-evidence.h"

#define WS_TYPE_FIGURE_LABEL (ws_figure_label_get_type ())
G_DECLARE_FINAL_TYPE (WsFigureLabel, ws_figure_label, WS, FIGURE_LABEL, GtkButton)

/* More would bury the words. */
#define WS_FIGURE_LABEL_MAX_CROPS 3

GtkWidget *ws_figure_label_new (const char *view) G_GNUC_WARN_UNUSED_RESULT;
/* Id of the view. Borrowed. */
const char *ws_figure_label_get_view (WsFigureLabel *self);
/* Says what @line says, in a language of the knowledge; @technical: with technical terms beside the plain words. */
void ws_figure_label_set_line (WsFigureLabel *self, const WsEvidenceLine *line, const WsKnowledge *knowledge,
                               const char *language, gboolean technical);
/* The best first; those beyond the limit are not shown. */
void ws_figure_label_set_crops (WsFigureLabel *self, GdkPaintable *const *crops, guint n_crops);
void ws_figure_label_set_armed (WsFigureLabel *self, gboolean armed);
/* @toward_right: the figure is to the right of the label, which is then set against its right edge. @key: number by
 * which it is found on the figure where no line leads to it, 0 for none. */
void ws_figure_label_set_place (WsFigureLabel *self, gboolean toward_right, guint key);
/* How far below its top a leader line should arrive, px. */
double ws_figure_label_get_port (WsFigureLabel *self);
