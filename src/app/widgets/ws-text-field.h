/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A named field for words, of one line or several. What is typed counts when the person leaves the field, presses Enter
 * in one of one line, or when ws_text_field_flush() is called.
 *
 * Signal: "edited" (const char *text), only when it differs from what was set. */
#pragma once

#include <gtk/gtk.h>

#define WS_TYPE_TEXT_FIELD (ws_text_field_get_type ())
G_DECLARE_FINAL_TYPE (WsTextField, ws_text_field, WS, TEXT_FIELD, GtkWidget)

GtkWidget *ws_text_field_new (const char *name, gboolean several_lines) G_GNUC_WARN_UNUSED_RESULT;
/* Shows the stored text; what a person is just typing is left alone. */
void ws_text_field_set_text (WsTextField *self, const char *text);
/* A sentence below the field; NULL or "" for none. */
void ws_text_field_set_remark (WsTextField *self, const char *remark);
void ws_text_field_flush (WsTextField *self);
