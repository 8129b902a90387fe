/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Chooses the growth form by its drawing and plain name. Choosing records it as unsure.
 *
 * Signal: "chosen" (const char *growth_form). */
#pragma once

#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_FORM_PICKER (ws_form_picker_get_type ())
G_DECLARE_FINAL_TYPE (WsFormPicker, ws_form_picker, WS, FORM_PICKER, GtkWidget)

GtkWidget *ws_form_picker_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
/* What is noted, "" when nothing is. */
void ws_form_picker_set_form (WsFormPicker *self, const char *growth_form, gboolean sure);
void ws_form_picker_open (WsFormPicker *self);
