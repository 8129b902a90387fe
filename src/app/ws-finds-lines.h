/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lines of the finds page: each foray a heading, each of its finds a line below it. */
#pragma once

#include "ws-find-item.h"

#define WS_TYPE_FINDS_LINE (ws_finds_line_get_type ())
G_DECLARE_FINAL_TYPE (WsFindsLine, ws_finds_line, WS, FINDS_LINE, GObject)

/* The find of a line, NULL of a heading. Borrowed. */
WsFindItem *ws_finds_line_get_item (WsFindsLine *self);
/* The foray; NULL above finds that belong to none. Borrowed until "changed". */
const WsForay *ws_finds_line_get_foray (WsFindsLine *self);
/* Signal "changed" (no arguments): the heading reads differently now. Of finds, the item's own signal says so. */

#define WS_TYPE_FINDS_LINES (ws_finds_lines_get_type ())
G_DECLARE_FINAL_TYPE (WsFindsLines, ws_finds_lines, WS, FINDS_LINES, GObject)

/* @finds: WsFindItem in order. Lines that stay keep their objects. */
WsFindsLines *ws_finds_lines_new (GListModel *finds) G_GNUC_WARN_UNUSED_RESULT;
/* WsFindsLine. Borrowed. */
GListModel *ws_finds_lines_get_list (WsFindsLines *self);
/* Only these finds (ids; a set), NULL: all. Takes its own reference. */
void ws_finds_lines_set_only (WsFindsLines *self, GHashTable *ids);
/* Reads the finds again. The list itself follows items that come and go. */
void ws_finds_lines_refresh (WsFindsLines *self);
/* The place of a find in the list, -1 if it is not there. */
int ws_finds_lines_get_place (WsFindsLines *self, const char *find_id);
