/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A find as lists and sheets hold it: the object stays while the value in it changes. */
#pragma once

#include <gio/gio.h>

#include "ws-evidence.h"

#define WS_TYPE_FIND_ITEM (ws_find_item_get_type ())
G_DECLARE_FINAL_TYPE (WsFindItem, ws_find_item, WS, FIND_ITEM, GObject)

/* @evidence: transfer full. @foray (nullable). */
WsFindItem *ws_find_item_new (const WsFind *find, WsEvidence *evidence, const WsForay *foray) G_GNUC_WARN_UNUSED_RESULT;
/* Replaces the value; emits "changed". @evidence: transfer full. */
void ws_find_item_update (WsFindItem *self, const WsFind *find, WsEvidence *evidence, const WsForay *foray);

/* All borrowed, and only until the next "changed" (no arguments). */
const char *ws_find_item_get_id (WsFindItem *self);
const WsFind *ws_find_item_get_find (WsFindItem *self);
const WsEvidence *ws_find_item_get_evidence (WsFindItem *self);
const WsForay *ws_find_item_get_foray (WsFindItem *self);   /* (nullable) */

/* How far a part of the specimen figure is shown: by the line of the first view the part serves, or, where this
 * growth form does not ask for it, by whether there is any mark of it. For WsFigureLook.state_of: @data is a
 * WsPartStates on the stack. */
typedef struct { const WsEvidence *evidence; const WsKnowledge *knowledge; } WsPartStates;
WsEvidenceState ws_part_states_get (const char *part, gpointer data);
/* For WsFigureLook.is_asked: FALSE when the evidence list has no line that the part serves. */
gboolean ws_part_states_is_asked (const char *part, gpointer data);
