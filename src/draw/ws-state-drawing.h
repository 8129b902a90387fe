/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small drawings of states, where a shape is meant: data/states/CHARACTER-STATE.svg, in the subset of ws-figure.h. All have the
 * same square viewBox, so that they stand beside each other in the same scale. A state without a file has no drawing. */
#pragma once

#include "ws-figure.h"

/* "states/cap_shape-conical.svg", below data/. (transfer full) */
char *ws_state_drawing_dup_file (const char *character, const char *state) G_GNUC_WARN_UNUSED_RESULT;
/* Draws all of it in ink on paper into the square at (x, y), @size units of the context. */
void ws_state_drawing_draw (const WsFigure *figure, cairo_t *cr, double x, double y, double size, const double ink[3],
                            const double paper[3]);
