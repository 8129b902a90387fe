/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How work makes finds: numbers, forays, links. Internal to work. */
#pragma once

#include "ws-desk.h"
#include "ws-grouping.h"

/* Collecting numbers YY-NNN, continuing the highest of each year. */
typedef struct _WsNumbering WsNumbering;
WsNumbering *ws_numbering_new (GPtrArray *finds);
void ws_numbering_free (WsNumbering *numbering);
char *ws_numbering_next (WsNumbering *numbering, const WsMoment *when) G_GNUC_WARN_UNUSED_RESULT;

/* The id of the foray of that day: of @forays, or a new one that is put and added to @forays. */
char *ws_finds_foray_of_day (GPtrArray *forays, const WsMoment *when, WsAction *action) G_GNUC_WARN_UNUSED_RESULT;
/* A find with a new id, time and place by its photos. */
WsFind *ws_finds_new (WsDesk *desk, GPtrArray *photos, const char *number, const char *foray_id) G_GNUC_WARN_UNUSED_RESULT;
void ws_finds_put_photos (WsAction *action, const char *find_id, GPtrArray *photos, int first_position, const char *visit);
