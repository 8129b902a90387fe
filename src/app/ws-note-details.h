/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What else is said of a note: when it was observed, of which specimen, by whom, on the specimen or off a photo, on which mark;
 * the questions that let it count; words.
 *
 * Signals: "changed" (): something was said. "another" (): a further observation of the same character is wanted (another
 * minute, specimen or person). */
#pragma once

#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_NOTE_DETAILS (ws_note_details_get_type ())
G_DECLARE_FINAL_TYPE (WsNoteDetails, ws_note_details, WS, NOTE_DETAILS, GtkWidget)

/* @character lives as long as the knowledge. */
GtkWidget *ws_note_details_new (WsSession *session, const WsCharacter *character) G_GNUC_WARN_UNUSED_RESULT;
/* Shows what is said of @note (nullable), of @find (nullable), whose marks are offered. */
void ws_note_details_show (WsNoteDetails *self, const WsFind *find, const WsNote *note);
/* Puts what is said into @note, which nobody else has seen yet. */
void ws_note_details_fill (WsNoteDetails *self, WsNote *note);
