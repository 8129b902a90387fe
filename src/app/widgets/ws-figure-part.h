/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One part of the specimen figure as a button: it draws nothing, its shape is that of the drawing. Allocate it to
 * the bounds of the part. Tab reaches it after the labels; to a screen reader it is a button that is pressed while its
 * view is armed. */
#pragma once

#include <gtk/gtk.h>

#include "ws-figure.h"

#define WS_TYPE_FIGURE_PART (ws_figure_part_get_type ())
G_DECLARE_FINAL_TYPE (WsFigurePart, ws_figure_part, WS, FIGURE_PART, GtkButton)

GtkWidget *ws_figure_part_new (WsFigure *figure, const char *part) G_GNUC_WARN_UNUSED_RESULT;
/* Borrowed. */
const char *ws_figure_part_get_part (WsFigurePart *self);
/* What it is and how far it is shown: "Stem base: missing". */
void ws_figure_part_set_name (WsFigurePart *self, const char *name);
/* Told to a screen reader; what is seen of it the figure draws. */
void ws_figure_part_set_armed (WsFigurePart *self, gboolean armed);
