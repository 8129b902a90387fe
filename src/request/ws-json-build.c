/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-json-build.h"

#include <math.h>

static void
set_key (JsonBuilder *json, const char *key)
{
  if (key != NULL)
    json_builder_set_member_name (json, key);
}

char *
ws_json_clean (const char *text)
{
  char *valid = g_utf8_make_valid (text != NULL ? text : "", -1);

  for (char *at = valid; *at != '\0'; at++)
    if (((guchar) *at < 0x20 && *at != '\n' && *at != '\t') || *at == 0x7f)
      *at = ' ';
  return valid;
}

void
ws_json_add_text (JsonBuilder *json, const char *key, const char *text)
{
  g_autofree char *plain = ws_json_clean (text);

  set_key (json, key);
  json_builder_add_string_value (json, plain);
}

void
ws_json_add_null (JsonBuilder *json, const char *key)
{
  set_key (json, key);
  json_builder_add_null_value (json);
}

void
ws_json_add_optional (JsonBuilder *json, const char *key, const char *text)
{
  if (text != NULL && *text != '\0')
    ws_json_add_text (json, key, text);
  else
    ws_json_add_null (json, key);
}

void
ws_json_add_number (JsonBuilder *json, const char *key, double number)
{
  set_key (json, key);
  if (isfinite (number))
    json_builder_add_double_value (json, number);
  else
    json_builder_add_null_value (json);
}

void
ws_json_add_integer (JsonBuilder *json, const char *key, gint64 number)
{
  set_key (json, key);
  json_builder_add_int_value (json, number);
}

void
ws_json_add_yes (JsonBuilder *json, const char *key, gboolean yes)
{
  set_key (json, key);
  json_builder_add_boolean_value (json, yes);
}

void
ws_json_begin_object (JsonBuilder *json, const char *key)
{
  set_key (json, key);
  json_builder_begin_object (json);
}

void
ws_json_begin_array (JsonBuilder *json, const char *key)
{
  set_key (json, key);
  json_builder_begin_array (json);
}

void
ws_json_add_word (JsonBuilder *json, const char *key, const char *id, const char *text)
{
  if (id == NULL || *id == '\0')
    {
      ws_json_add_null (json, key);
      return;
    }
  ws_json_begin_object (json, key);
  ws_json_add_text (json, "id", id);
  ws_json_add_text (json, "text", text);
  json_builder_end_object (json);
}
