/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-desktop-color.h"

void
ws_desktop_get_color (GtkWidget *widget, GdkRGBA *color)
{
  gtk_style_context_get_color (gtk_widget_get_style_context (widget), color);
}

gboolean
ws_desktop_lookup_color (GtkWidget *widget, const char *name, GdkRGBA *color)
{
  return gtk_style_context_lookup_color (gtk_widget_get_style_context (widget), name, color);
}
