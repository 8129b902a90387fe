/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Crops for a plate, cut out off the thread that draws, as they would leave: what is covered is painted over. */
#pragma once

#include "ws-desk.h"
#include "ws-plate-make.h"

typedef struct
{
  WsRequest *request;
  GPtrArray *marks;      /* WsMark; NULL where there is no crop */
  GArray *edges;         /* int: longer edge of each, px */
  char *key;             /* (nullable): goes on to the result */
  WsPlate *plate;        /* (nullable): goes on to the result; the worker does not touch it */
} WsCropsWish;

typedef struct
{
  GPtrArray *surfaces;   /* cairo_surface_t; NULL where there is no crop or its photo cannot be read */
  char *key;
  WsPlate *plate;
} WsCrops;

/* The crops that @plate (laid out) needs at @dpi px for 72 units: that of @part, or of all when it is -1. */
WsCropsWish *ws_crops_wish_new (const WsRequest *request, const WsPlate *plate, double dpi, int part) G_GNUC_WARN_UNUSED_RESULT;
void ws_crops_wish_free (WsCropsWish *wish);

/* For ws_task_run(): @data: a WsCropsWish. Result: a WsCrops. */
gpointer ws_crops_cut (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error);
void ws_crops_free (gpointer crops);
