/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plain printed sheet: paragraphs below each other, photos two by two, over as many pages as it takes. */
#pragma once

#include <cairo.h>
#include <glib.h>

typedef struct _WsTextSheet WsTextSheet;

WsTextSheet *ws_text_sheet_new (void) G_GNUC_WARN_UNUSED_RESULT;
void ws_text_sheet_free (WsTextSheet *sheet);
/* @size in points. Nothing for "". */
void ws_text_sheet_add_text (WsTextSheet *sheet, const char *text, double size, gboolean bold);
/* Takes an image surface (transfer full). */
void ws_text_sheet_add_picture (WsTextSheet *sheet, cairo_surface_t *picture);

/* For WsDesktopPages: @data is the sheet. */
int ws_text_sheet_paginate (cairo_t *cr, double width, double height, gpointer data);
void ws_text_sheet_draw (cairo_t *cr, int page, double width, double height, gpointer data);
