/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One character of the Notes leaf: its states to choose from, by drawing where a shape is meant, or a free text; whether the
 * person is sure; and what else is said of the observation. Nothing noted is "not noted", which is no observation.
 * Earlier observations of the same character (other minutes, specimens, noses) stand below.
 *
 * Signals: "noted" (WsNote *note): as ws_record_whole_note() takes it; without states and text it is to go away.
 * "take-back" (const char *note_id). */
#pragma once

#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_NOTE_ROW (ws_note_row_get_type ())
G_DECLARE_FINAL_TYPE (WsNoteRow, ws_note_row, WS, NOTE_ROW, GtkWidget)

/* @character lives as long as the knowledge. */
GtkWidget *ws_note_row_new (WsSession *session, const WsCharacter *character) G_GNUC_WARN_UNUSED_RESULT;
const WsCharacter *ws_note_row_get_character (WsNoteRow *self);
/* Shows what is noted of the character; @find NULL: nothing. */
void ws_note_row_set_find (WsNoteRow *self, const WsFind *find);
/* A remark below the row; "" none. */
void ws_note_row_set_remark (WsNoteRow *self, const char *remark);
