/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One character of the Notes leaf: its states to choose from, or a free text, and whether the person is sure. Nothing noted is
 * "not noted", which is no observation.
 *
 * Signal: "noted" (const char *states, gboolean sure): "a|b"; "" takes the note away. */
#pragma once

#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_NOTE_ROW (ws_note_row_get_type ())
G_DECLARE_FINAL_TYPE (WsNoteRow, ws_note_row, WS, NOTE_ROW, GtkWidget)

/* @character lives as long as the knowledge. */
GtkWidget *ws_note_row_new (WsSession *session, const WsCharacter *character) G_GNUC_WARN_UNUSED_RESULT;
const WsCharacter *ws_note_row_get_character (WsNoteRow *self);
/* Shows what is noted; @note NULL: nothing. */
void ws_note_row_set_note (WsNoteRow *self, const WsNote *note);
