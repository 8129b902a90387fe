/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Members of a JSON object under work. A NULL key stands for an element of an array. */
#pragma once

#include <json-glib/json-glib.h>

/* Made valid UTF-8 without control characters, some of which json-glib writes as they are; NULL is "". */
void ws_json_add_text (JsonBuilder *json, const char *key, const char *text);
/* NULL and "" become null. */
void ws_json_add_optional (JsonBuilder *json, const char *key, const char *text);
/* NAN becomes null. Decimal points whatever the locale. */
void ws_json_add_number (JsonBuilder *json, const char *key, double number);
void ws_json_add_integer (JsonBuilder *json, const char *key, gint64 number);
void ws_json_add_yes (JsonBuilder *json, const char *key, gboolean yes);
void ws_json_add_null (JsonBuilder *json, const char *key);
/* An id with its text: {"id": …, "text": …}; null when @id is NULL or "". */
void ws_json_add_word (JsonBuilder *json, const char *key, const char *id, const char *text);
void ws_json_begin_object (JsonBuilder *json, const char *key);
void ws_json_begin_array (JsonBuilder *json, const char *key);
/* The text without control characters but line end and tab, as valid UTF-8. (transfer full) */
char *ws_json_clean (const char *text) G_GNUC_WARN_UNUSED_RESULT;
