/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-state-drawing.h"

char *
ws_state_drawing_dup_file (const char *character, const char *state)
{
  return g_strdup_printf ("states/%s-%s.svg", character, state);
}

void
ws_state_drawing_draw (const WsFigure *figure, cairo_t *cr, double x, double y, double size, const double ink[3],
                       const double paper[3])
{
  WsFigureLook look = { .base = "" };
  /* Below WS_FIGURE_SMALL a figure fills its place and leaves out what is fine; here all of the square is meant. */
  double full = WS_FIGURE_SMALL;

  for (guint i = 0; i < 3; i++)
    {
      look.ink[i] = ink[i];
      look.paper[i] = paper[i];
    }
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, size / full, size / full);
  ws_figure_draw (figure, cr, 0, 0, full, full, &look);
  cairo_restore (cr);
}
