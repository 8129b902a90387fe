/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One table of a Darwin Core archive: rows of text under terms of Darwin Core and Audiovisual Core. */
#pragma once

#include <glib.h>

typedef struct _WsDwcTable WsDwcTable;

/* @file: "occurrence.csv". @row_type: IRI of what a row is. @terms: "dwc:eventDate", …, NULL-terminated and static; the
 * id that joins the tables stands before them. */
WsDwcTable *ws_dwc_table_new (const char *file, const char *row_type, const char *const *terms) G_GNUC_WARN_UNUSED_RESULT;
void ws_dwc_table_free (WsDwcTable *table);

/* A row of the occurrence @id. */
void ws_dwc_table_begin (WsDwcTable *table, const char *id);
/* Fills the cell of a term; NULL leaves it empty. Text of people: what a spreadsheet would take for a formula gets an
 * apostrophe before it, line ends become blanks. */
void ws_dwc_table_put (WsDwcTable *table, const char *term, const char *text);
/* A number, with a decimal point whatever the locale; empty when not finite. */
void ws_dwc_table_put_number (WsDwcTable *table, const char *term, double number, int decimals);
void ws_dwc_table_end (WsDwcTable *table);

const char *ws_dwc_table_get_file (const WsDwcTable *table);
/* The file so far: RFC 4180 with line feeds, a header first. (transfer full) */
GBytes *ws_dwc_table_dup_csv (const WsDwcTable *table) G_GNUC_WARN_UNUSED_RESULT;
/* Adds <core> or <extension> of meta.xml. */
void ws_dwc_table_add_meta (const WsDwcTable *table, GString *xml, gboolean core);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsDwcTable, ws_dwc_table_free)
