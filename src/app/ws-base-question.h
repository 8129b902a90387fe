/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The question that goes with every mark of a stem base: "Did the lowest tip come out of the soil whole?" Nothing is
 * chosen beforehand; digits answer too.
 *
 * Signal: "answered" (const char *base_kind). */
#pragma once

#include "ws-session.h"

#include <gtk/gtk.h>

#define WS_TYPE_BASE_QUESTION (ws_base_question_get_type ())
G_DECLARE_FINAL_TYPE (WsBaseQuestion, ws_base_question, WS, BASE_QUESTION, GtkWidget)

GtkWidget *ws_base_question_new (WsSession *session) G_GNUC_WARN_UNUSED_RESULT;
/* The answer recorded, "" when not answered. Emits nothing. */
void ws_base_question_set_answer (WsBaseQuestion *self, const char *base_kind);
/* TRUE if the key was a digit that answers. */
gboolean ws_base_question_take_key (WsBaseQuestion *self, guint keyval);
