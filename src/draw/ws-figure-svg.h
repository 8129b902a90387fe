/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The specimen figure as inline SVG, for the page that opens in a browser. */
#pragma once

#include "ws-figure.h"

/* Adds an <svg> of the figure's paths, each with data-part and a class "outline", "edge" or "detail" and, by how far the part is shown,
 * "shown", "weak" or "missing" ("faint" when nobody asks for it): the style sheet of the page draws them. @look: state_of, is_asked,
 * ring and base are used. @label: what a screen reader says of the whole, escaped here. No id is written. */
void ws_figure_add_svg (const WsFigure *figure, const WsFigureLook *look, const char *label, GString *svg);
