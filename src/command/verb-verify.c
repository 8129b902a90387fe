/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command-json.h"
#include "ws-command.h"

#include "ws-intl.h"
#include "ws-package.h"

#include <stdio.h>

static const char *
request_word (WsRequestVerdict verdict)
{
  static const char *const words[] = { "none", "valid", "invalid" };

  return words[verdict];
}

static void
print_json (const char *path, const WsPackageVerdict *verdict)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autofree char *shown = g_filename_display_name (path);

  json_builder_begin_object (builder);
  ws_json_text (builder, "path", shown);
  ws_json_text (builder, "bag", verdict->bag->valid ? "valid" : "invalid");
  ws_json_text (builder, "request", request_word (verdict->request));
  ws_json_texts (builder, "errors", verdict->bag->errors);
  ws_json_texts (builder, "warnings", verdict->bag->warnings);
  json_builder_end_object (builder);
  ws_json_print (builder);
}

static void
print_text (const char *path, const WsPackageVerdict *verdict)
{
  printf (_("%s\n  bag: %s, request: %s\n"), path, verdict->bag->valid ? _("valid") : _("not valid"),
          verdict->request == WS_REQUEST_NONE ? _("none") : verdict->request == WS_REQUEST_VALID ? _("valid") : _("not valid"));
  for (guint i = 0; i < verdict->bag->errors->len; i++)
    printf (_("  error: %s\n"), (char *) g_ptr_array_index (verdict->bag->errors, i));
  for (guint i = 0; i < verdict->bag->warnings->len; i++)
    printf (_("  warning: %s\n"), (char *) g_ptr_array_index (verdict->bag->warnings, i));
}

static int
run (int argc, char **argv)
{
  g_auto (WsCommonOptions) options = { 0 };
  g_autoptr (GError) error = NULL;
  WsPackageVerdict *verdict;
  gboolean fine;
  int exit = ws_command_parse (&ws_verb_verify, NULL, TRUE, argc, argv, 1, 1, &options);

  if (exit >= 0)
    return exit;
  verdict = ws_package_verify (options.rest[0], NULL, &error);
  if (verdict == NULL)
    return ws_command_fail (error);
  if (options.json)
    print_json (options.rest[0], verdict);
  else
    print_text (options.rest[0], verdict);
  fine = verdict->bag->valid && verdict->request != WS_REQUEST_INVALID;
  ws_package_verdict_free (verdict);
  return fine ? WS_EXIT_DONE : WS_EXIT_NO;
}

const WsVerb ws_verb_verify = { "verify", "PATH", N_("Checks a bag (folder or zip); if it is a request, as a request too."), run };
