/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A sentence at the foot of the page. What went wrong stays until it is put away; the rest goes by itself. */
#pragma once

#include <gtk/gtk.h>

#define WS_TYPE_MARGIN_NOTE (ws_margin_note_get_type ())
G_DECLARE_FINAL_TYPE (WsMarginNote, ws_margin_note, WS, MARGIN_NOTE, GtkWidget)

GtkWidget *ws_margin_note_new (void) G_GNUC_WARN_UNUSED_RESULT;
void ws_margin_note_say (WsMarginNote *self, const char *text, gboolean stays);
void ws_margin_note_put_away (WsMarginNote *self);
/* "" when there is none. */
const char *ws_margin_note_get_text (WsMarginNote *self);
