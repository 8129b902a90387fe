/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-state-picture.h"

#include "ws-desk.h"
#include "ws-desktop-color.h"
#include "ws-state-drawing.h"

static void
draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer figure)
{
  GdkRGBA ink;
  double paper;

  ws_desktop_get_color (GTK_WIDGET (area), &ink);
  /* The paper only fills what lies in front: the opposite of the ink does. */
  paper = ink.red + ink.green + ink.blue > 1.5 ? 0.12 : 0.98;
  ws_state_drawing_draw (figure, cr, 0, 0, MIN (width, height), (double[3]) { ink.red, ink.green, ink.blue },
                         (double[3]) { paper, paper, paper });
}

GtkWidget *
ws_state_picture_new (const char *character, const char *state, int size)
{
  g_autofree char *file = ws_state_drawing_dup_file (character, state);
  g_autoptr (GBytes) bytes = ws_desk_builtin_data (file);
  g_autoptr (GError) error = NULL;
  WsFigure *figure = bytes != NULL ? ws_figure_parse (file, bytes, &error) : NULL;
  GtkWidget *area;

  if (figure == NULL)
    {
      if (error != NULL)
        g_warning ("%s", error->message);
      return NULL;
    }
  area = gtk_drawing_area_new ();
  gtk_widget_set_size_request (area, size, size);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw, figure, (GDestroyNotify) ws_figure_unref);
  return area;
}
