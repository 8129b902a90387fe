/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines as a pen draws them: a stroke of one width looks like a machine's, so a line here swells and
 * thins along its way and runs out at its ends. The same path gives the same line each time. */
#pragma once

#include <cairo.h>
#include <glib.h>

/* Inks the current path of @cr in its current source, and clears the path. @width is the middle width in user
 * units. Closed subpaths are heavier on the side away from a light at the upper left; open ones run
 * out at both ends by @taper (0 not at all, 1 to nearly nothing). @seed chooses how the hand trembles. */
void ws_ink_stroke (cairo_t *cr, double width, double taper, guint seed);

/* Fills the current path of @cr with slanted lines of @width, about @spacing apart, in the current
 * source, and clears the path. */
void ws_ink_hatch (cairo_t *cr, double spacing, double width);

/* Strokes the current path of @cr with even dashes of @length, and clears the path. */
void ws_ink_dash (cairo_t *cr, double width, double length, double gap);
