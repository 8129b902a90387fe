/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Up to four prints laid on the page in places of one size: two beside each other or one above the other, whichever
 * lets them be larger; three or four in two lines. */
#pragma once

#include <gtk/gtk.h>

#define WS_SPREAD_MOST 4

#define WS_TYPE_SPREAD (ws_spread_get_type ())
G_DECLARE_FINAL_TYPE (WsSpread, ws_spread, WS, SPREAD, GtkWidget)

GtkWidget *ws_spread_new (void) G_GNUC_WARN_UNUSED_RESULT;
/* Lays @child after the others; hidden children take no place. */
void ws_spread_append (WsSpread *self, GtkWidget *child);

/* Width by height of the pictures on the prints, which decides how two lie; 1 at first. */
void ws_spread_set_proportion (WsSpread *self, double proportion);

/* How many columns @n prints of pictures of that proportion take in @width x @height px: 1 or 2. */
int ws_spread_count_columns (int n, int width, int height, double proportion);
