/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos come in: first how far the reading is, then which finds the photos would make under two thresholds that can be
 * changed, then they are made.
 *
 * Signal "finished" (): the page has nothing more to show. */
#pragma once

#include <gtk/gtk.h>

#include "ws-session.h"

#define WS_TYPE_IMPORT_PAGE (ws_import_page_get_type ())
G_DECLARE_FINAL_TYPE (WsImportPage, ws_import_page, WS, IMPORT_PAGE, GtkWidget)

GtkWidget *ws_import_page_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
/* Reads files and folders, then shows what they make. Paths given while it reads are read afterwards. */
void ws_import_page_read (WsImportPage *self, const char *const *paths);
/* Shows what the loose photos of the library make. */
void ws_import_page_sort_loose (WsImportPage *self);
/* TRUE while photos are read. */
gboolean ws_import_page_is_reading (WsImportPage *self);
/* Stops reading; what was read stays. */
void ws_import_page_stop (WsImportPage *self);
