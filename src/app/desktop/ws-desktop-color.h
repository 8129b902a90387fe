/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The colours in which a widget draws, as the style in force says: GtkStyleContext goes away in later toolkits. */
#pragma once

#include <gtk/gtk.h>

/* The colour of text and lines of @widget. */
void ws_desktop_get_color (GtkWidget *widget, GdkRGBA *color);
/* A colour that the style names, "window_bg_color". FALSE when it does not; @color is then left alone. */
gboolean ws_desktop_lookup_color (GtkWidget *widget, const char *name, GdkRGBA *color);
