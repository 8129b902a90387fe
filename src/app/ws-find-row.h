/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One find as a line of the field book: the number in the margin, the small figure, the field name, where and when,
 * and in words what is missing. A click on the line emits "open"; a click on the number "take" (both without
 * arguments), to take the line together with others. */
#pragma once

#include <gtk/gtk.h>

#include "ws-session.h"

#define WS_TYPE_FIND_ROW (ws_find_row_get_type ())
G_DECLARE_FINAL_TYPE (WsFindRow, ws_find_row, WS, FIND_ROW, GtkWidget)

GtkWidget *ws_find_row_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
/* NULL: none. */
void ws_find_row_set_item (WsFindRow *self, WsFindItem *item);
WsFindItem *ws_find_row_get_item (WsFindRow *self);
/* All that the line says, for screen readers. (transfer full) */
char *ws_find_row_dup_description (WsFindRow *self) G_GNUC_WARN_UNUSED_RESULT;
