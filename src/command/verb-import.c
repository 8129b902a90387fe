/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command-json.h"
#include "ws-command.h"

#include "ws-import.h"
#include "ws-intl.h"

#include <stdio.h>
#include <unistd.h>

static void
show_progress (guint done, guint total, const char *what, gpointer data)
{
  fprintf (stderr, "\r%u / %u", done, total);
  if (done == total)
    fputc ('\n', stderr);
}

static void
print_json (const WsImportResult *result, const WsGrouping *grouping, char **finds)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  ws_json_integer (builder, "added", result->added->len);
  ws_json_integer (builder, "known", result->known->len);
  ws_json_integer (builder, "unsorted", grouping->unsorted->len);
  json_builder_set_member_name (builder, "passedOver");
  json_builder_begin_array (builder);
  for (guint i = 0; i < result->passed_over->len; i++)
    {
      const WsPassedOver *entry = g_ptr_array_index (result->passed_over, i);
      g_autofree char *file = g_filename_display_name (entry->path);

      json_builder_begin_object (builder);
      ws_json_text (builder, "file", file);
      ws_json_text (builder, "why", entry->why);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "finds");
  json_builder_begin_array (builder);
  for (guint i = 0; finds[i] != NULL; i++)
    json_builder_add_string_value (builder, finds[i]);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  ws_json_print (builder);
}

static void
print_text (const WsImportResult *result, const WsGrouping *grouping, char **finds)
{
  printf (ngettext ("%u photo added", "%u photos added", result->added->len), result->added->len);
  printf (_(", %u known already, %u passed over; %u finds made, %u photos unsorted\n"), result->known->len,
          result->passed_over->len, g_strv_length (finds), grouping->unsorted->len);
  for (guint i = 0; i < result->passed_over->len; i++)
    {
      const WsPassedOver *entry = g_ptr_array_index (result->passed_over, i);

      fprintf (stderr, "  %s: %s\n", entry->path, entry->why);
    }
}

static int
run (int argc, char **argv)
{
  double gap = WS_GROUPING_GAP / 60, distance = WS_GROUPING_DISTANCE;
  g_autofree char *copy_into = NULL;
  GOptionEntry entries[] = {
    { "gap", 0, 0, G_OPTION_ARG_DOUBLE, &gap, N_("A new find begins after this many minutes (default 10)"), "MINUTES" },
    { "distance", 0, 0, G_OPTION_ARG_DOUBLE, &distance, N_("… or beyond this many metres (default 30)"), "METRES" },
    { "copy-into", 0, 0, G_OPTION_ARG_FILENAME, &copy_into, N_("Copy the photos into this folder first"), "DIR" },
    { NULL } };
  g_auto (WsCommonOptions) options = { 0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (WsDesk) desk = NULL;
  g_autoptr (WsImportResult) result = NULL;
  g_autoptr (WsGrouping) grouping = NULL;
  g_auto (GStrv) finds = NULL;
  int exit = ws_command_parse (&ws_verb_import, entries, TRUE, argc, argv, 1, -1, &options);

  if (exit >= 0)
    return exit;
  if (!(gap > 0) || !(distance > 0))
    return ws_command_usage (&ws_verb_import, _("--gap and --distance must be above 0"));
  desk = ws_command_open (&options, &exit);
  if (desk == NULL)
    return exit;
  result = ws_import_photos (desk, (const char *const *) options.rest, &(WsImportOptions) { copy_into, TRUE },
                             isatty (STDERR_FILENO) ? show_progress : NULL, NULL, NULL, &error);
  if (result == NULL)
    return ws_command_fail (error);
  grouping = ws_grouping_split (result->added, &(WsGroupingRule) { gap * 60, distance });
  finds = ws_import_make_finds (desk, grouping, &error);
  if (finds == NULL)
    return ws_command_fail (error);
  if (options.json)
    print_json (result, grouping, finds);
  else
    print_text (result, grouping, finds);
  return result->added->len + result->known->len > 0 ? WS_EXIT_DONE : WS_EXIT_INPUT;
}

const WsVerb ws_verb_import = { "import", "PATH…", N_("Photos into finds, by gaps in time and distance."), run };
