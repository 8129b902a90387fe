/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the files of the Plate leaf. */
#pragma once

#include "ws-plate-leaf.h"
#include "ws-plate-make.h"
#include "ws-plate-view.h"

struct _WsPlateLeaf
{
  GtkWidget parent_instance;

  /* template */
  GtkWidget *box;
  GtkScrolledWindow *scroller;
  GtkBox *bar;

  GtkWidget *view;            /* WsPlateView */
  GtkToggleButton *sideways;

  WsSession *session;
  WsFindItem *item;
  gulong item_changed;
  WsRequest *request;         /* (nullable): as the shown plate tells it */
  GHashTable *choices;        /* view -> mark whose crop is wanted; NULL: not loaded yet */
  GHashTable *crops;          /* key of a crop -> cairo_surface_t */
  GHashTable *asked;          /* keys that are being cut out, or could not be */
  GCancellable *cancellable;
  char *stamp;                /* what the shown plate was made of */
  guint fill_idle;
};

/* How the place is told: as last time. */
WsTellPlace ws_plate_leaf_get_tell (WsPlateLeaf *self);
/* ws-plate-leaf-files.c: the buttons below */
void ws_plate_leaf_fill_bar (WsPlateLeaf *self);
