/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The specimen figure of a find, small, for lists: ink shows what was photographed, so that one look down the page
 * says whose base is missing. Says nothing to screen readers: the line beside it says it in words. */
#pragma once

#include <gtk/gtk.h>

#include "ws-session.h"

#define WS_TYPE_SMALL_FIGURE (ws_small_figure_get_type ())
G_DECLARE_FINAL_TYPE (WsSmallFigure, ws_small_figure, WS, SMALL_FIGURE, GtkWidget)

/* Draws the find as it is now; call again when it changed. */
void ws_small_figure_show (WsSmallFigure *self, WsSession *session, WsFindItem *item);
