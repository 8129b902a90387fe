/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quick entry: a few letters of a state's plain or technical name, and Enter. What was found stands below with its drawing.
 *
 * Signal: "chosen" (const char *character, const char *state, gboolean sure). */
#pragma once

#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_QUICK_NOTE (ws_quick_note_get_type ())
G_DECLARE_FINAL_TYPE (WsQuickNote, ws_quick_note, WS, QUICK_NOTE, GtkWidget)

GtkWidget *ws_quick_note_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
/* Characters that apply to it come first; "" unknown. */
void ws_quick_note_set_form (WsQuickNote *self, const char *growth_form);
