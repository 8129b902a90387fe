/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Members of JSON objects, null where unknown. */
#pragma once

#include <json-glib/json-glib.h>

/* NULL and "" are null. */
void ws_json_text (JsonBuilder *builder, const char *member, const char *text);
/* NAN is null. */
void ws_json_number (JsonBuilder *builder, const char *member, double number);
void ws_json_integer (JsonBuilder *builder, const char *member, gint64 number);
void ws_json_texts (JsonBuilder *builder, const char *member, GPtrArray *texts);
/* Prints what was built to standard output and empties the builder. */
void ws_json_print (JsonBuilder *builder);
