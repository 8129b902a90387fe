/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plate on the screen: as wide as it is given, as tall as it needs. Every part is a button with its name and
 * state: pointer, Tab and screen reader reach it; Left and Right on a crop ask for another one.
 *
 * Signals:
 *   "part-activated" (guint part)
 *   "other-asked" (guint part, int step)   step 1 or -1 */
#pragma once

#include <gtk/gtk.h>

#include "ws-plate.h"

#define WS_TYPE_PLATE_VIEW (ws_plate_view_get_type ())
G_DECLARE_FINAL_TYPE (WsPlateView, ws_plate_view, WS, PLATE_VIEW, GtkWidget)

GtkWidget *ws_plate_view_new (void) G_GNUC_WARN_UNUSED_RESULT;
/* Takes the plate; NULL shows nothing. The keyboard stays on the part of the same view, if it was on one. */
void ws_plate_view_take_plate (WsPlateView *self, WsPlate *plate);
/* Borrowed; NULL when none. Its layout is that of the screen. */
WsPlate *ws_plate_view_get_plate (WsPlateView *self);
/* A crop has come. */
void ws_plate_view_set_crop (WsPlateView *self, guint part, cairo_surface_t *crop);
/* Told beside the name of a part: what pressing it does, if there are several crops, and if there is none. */
void ws_plate_view_set_hints (WsPlateView *self, const char *swap, const char *mark);
