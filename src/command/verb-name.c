/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command-json.h"
#include "ws-command.h"

#include "ws-intl.h"
#include "ws-name-parse.h"

#include <stdio.h>

static void
print_json (const WsNameParts *parts)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  ws_json_text (builder, "verbatim", parts->verbatim);
  ws_json_text (builder, "genus", parts->genus);
  ws_json_text (builder, "rank", parts->rank);
  ws_json_text (builder, "epithet", parts->epithet);
  ws_json_text (builder, "infraspecificEpithet", parts->infraspecific);
  ws_json_text (builder, "author", parts->author);
  ws_json_text (builder, "qualifier", parts->qualifier);
  ws_json_text (builder, "scientificName", parts->scientific_name);
  ws_json_text (builder, "identificationQualifier", parts->identification_qualifier);
  ws_json_text (builder, "taxonRank", parts->taxon_rank);
  json_builder_end_object (builder);
  ws_json_print (builder);
}

static int
run_name (int argc, char **argv)
{
  g_auto (WsCommonOptions) options = { 0 };
  g_autoptr (WsNameParts) parts = NULL;
  int exit = ws_command_parse (&ws_verb_name, NULL, TRUE, argc, argv, 1, 1, &options);

  if (exit >= 0)
    return exit;
  parts = ws_name_parse (options.rest[0]);
  if (options.json)
    print_json (parts);
  else
    {
      printf (_("Certain:   %s (%s)\n"), parts->scientific_name, parts->taxon_rank);
      printf (_("In doubt:  %s\n"), parts->identification_qualifier[0] != '\0' ? parts->identification_qualifier
                                                                               : _("nothing that the name tells"));
    }
  return WS_EXIT_DONE;
}

const WsVerb ws_verb_name = {
  "name", "\"TEXT\"", N_("A name with its qualifiers taken apart."), run_name };
