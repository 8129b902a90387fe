/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One group of photos as it would become a find: when, how many, small prints; and, where an older find lies near, the
 * question what the photos are to it. */
#pragma once

#include <gtk/gtk.h>

#include "ws-import-work.h"
#include "ws-session.h"

#define WS_TYPE_IMPORT_GROUP_ROW (ws_import_group_row_get_type ())
G_DECLARE_FINAL_TYPE (WsImportGroupRow, ws_import_group_row, WS, IMPORT_GROUP_ROW, GtkBox)

/* @number: from 1; 0 for photos that would stay loose. @old_find (nullable). */
GtkWidget *ws_import_group_row_new (WsSession *session, guint number, GPtrArray *photos,
                                    const WsFind *old_find) G_GNUC_WARN_UNUSED_RESULT;
WsImportFate ws_import_group_row_get_fate (WsImportGroupRow *self);
