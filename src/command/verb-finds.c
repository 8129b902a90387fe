/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command-json.h"
#include "ws-command.h"

#include "ws-evidence.h"
#include "ws-intl.h"

#include <stdio.h>

static void
add_find (JsonBuilder *builder, WsDesk *desk, const WsFind *find)
{
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, desk->knowledge, desk->language);
  g_autofree char *when = ws_moment_iso (&find->when);

  json_builder_begin_object (builder);
  ws_json_text (builder, "find", find->id);
  ws_json_text (builder, "number", find->number);
  ws_json_text (builder, "fieldName", find->field_name);
  ws_json_text (builder, "when", when);
  ws_json_number (builder, "latitude", find->where.latitude);
  ws_json_number (builder, "longitude", find->where.longitude);
  ws_json_text (builder, "growthForm", evidence->growth_form);
  ws_json_integer (builder, "requiredLacking", evidence->n_required_lacking);
  json_builder_set_member_name (builder, "photos");
  json_builder_begin_array (builder);
  for (guint i = 0; i < find->photos->len; i++)
    {
      const WsPhoto *photo = ((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo;
      g_autofree char *path = g_filename_display_name (photo->path);

      json_builder_begin_object (builder);
      ws_json_text (builder, "photo", photo->id);
      ws_json_text (builder, "file", path);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

static void
print_find (WsDesk *desk, const WsFind *find)
{
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, desk->knowledge, desk->language);
  g_autofree char *summary = ws_evidence_dup_summary (evidence, desk->knowledge, desk->language);
  g_autofree char *when = ws_moment_iso (&find->when);

  printf (ngettext ("%s  %s  %s  (%u photo)\n", "%s  %s  %s  (%u photos)\n", find->photos->len), find->number,
          when != NULL ? when : "-", find->field_name, find->photos->len);
  if (summary[0] != '\0')
    printf ("    %s\n", summary);
}

static int
run (int argc, char **argv)
{
  g_auto (WsCommonOptions) options = { 0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (WsDesk) desk = NULL;
  g_autoptr (GPtrArray) finds = NULL;
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autofree char *search = NULL;
  int exit = ws_command_parse (&ws_verb_finds, NULL, TRUE, argc, argv, 0, -1, &options);

  if (exit >= 0)
    return exit;
  desk = ws_command_open (&options, &exit);
  if (desk == NULL)
    return exit;
  search = options.rest[0] != NULL ? g_strjoinv (" ", options.rest) : NULL;
  finds = ws_library_load_finds (desk->library, search, &error);
  if (finds == NULL)
    return ws_command_fail (error);
  json_builder_begin_array (builder);
  for (guint i = 0; i < finds->len; i++)
    if (options.json)
      add_find (builder, desk, g_ptr_array_index (finds, i));
    else
      print_find (desk, g_ptr_array_index (finds, i));
  json_builder_end_array (builder);
  if (options.json)
    ws_json_print (builder);
  return WS_EXIT_DONE;
}

const WsVerb ws_verb_finds = { "finds", "[WORD…]", N_("Lists the finds, or those that match the words."), run };
