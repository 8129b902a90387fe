/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command-json.h"

#include <math.h>
#include <stdio.h>

void
ws_json_text (JsonBuilder *builder, const char *member, const char *text)
{
  json_builder_set_member_name (builder, member);
  if (text != NULL && text[0] != '\0')
    json_builder_add_string_value (builder, text);
  else
    json_builder_add_null_value (builder);
}

void
ws_json_number (JsonBuilder *builder, const char *member, double number)
{
  json_builder_set_member_name (builder, member);
  if (isfinite (number))
    json_builder_add_double_value (builder, number);
  else
    json_builder_add_null_value (builder);
}

void
ws_json_integer (JsonBuilder *builder, const char *member, gint64 number)
{
  json_builder_set_member_name (builder, member);
  json_builder_add_int_value (builder, number);
}

void
ws_json_texts (JsonBuilder *builder, const char *member, GPtrArray *texts)
{
  json_builder_set_member_name (builder, member);
  json_builder_begin_array (builder);
  for (guint i = 0; i < texts->len; i++)
    json_builder_add_string_value (builder, g_ptr_array_index (texts, i));
  json_builder_end_array (builder);
}

void
ws_json_print (JsonBuilder *builder)
{
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autoptr (JsonNode) root = json_builder_get_root (builder);
  g_autofree char *text = NULL;

  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, TRUE);
  text = json_generator_to_data (generator, NULL);
  puts (text);
  json_builder_reset (builder);
}
