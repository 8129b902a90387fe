/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text tables: UTF-8, one row a line, cells separated by tabs. The first line
 * is "#format<TAB>1"; then a header line with the column names; lines that
 * begin with # are remarks, empty lines are skipped. No quoting: a cell cannot
 * hold a tab or a line end. */
#pragma once

#include <glib.h>

typedef struct _WsTable WsTable;

/* Parses @bytes, which came from @file (named in errors with the line). Every
 * name of @columns (NULL-terminated) must be in the header. Errors:
 * WS_ERROR_UNREADABLE, WS_ERROR_NEWER_FORMAT. */
WsTable *ws_table_parse (const char *file, GBytes *bytes, const char *const *columns,
                         GError **error) G_GNUC_WARN_UNUSED_RESULT;
void ws_table_free (WsTable *table);

guint ws_table_get_n_rows (const WsTable *table);
/* The line of the file that @row (from 0) stands on, from 1. */
guint ws_table_get_line (const WsTable *table, guint row);
/* The cell as text, "" when empty or when the column is not there. Borrowed. */
const char *ws_table_get (const WsTable *table, guint row, const char *column);
/* Sets an error that names file and line, and returns FALSE. */
gboolean ws_table_fail (const WsTable *table, guint row, GError **error,
                        const char *format, ...) G_GNUC_PRINTF (4, 5);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsTable, ws_table_free)
