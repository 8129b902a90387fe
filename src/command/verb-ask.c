/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command.h"

#include "ws-ask.h"
#include "ws-intl.h"

#include <stdio.h>

static int
run (int argc, char **argv)
{
  g_autofree char *output = NULL, *place = NULL, *region = NULL, *limit = NULL, *base = NULL, *to = NULL, *from = NULL, *question = NULL, *language = NULL,
                  *call_back = NULL, *replaces = NULL, *elsewhere = NULL, *package = NULL;
  gboolean no_time = FALSE, camera = FALSE, emergency = FALSE, page = FALSE;
  GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, N_("The package to write (.zip)"), "FILE" },
    { "place", 0, 0, G_OPTION_ARG_STRING, &place, N_("How the place is told: exact, 0.001, 0.01 (rounded, the default), 0.1, region or withheld"), "HOW" },
    { "region", 0, 0, G_OPTION_ARG_STRING, &region, N_("Country and region in your words, for --place region"), "TEXT" },
    { "without-base", 0, 0, G_OPTION_ARG_STRING, &base, N_("Why the base is not shown; the reason travels with the request"), "REASON" },
    { "to", 0, 0, G_OPTION_ARG_STRING, &to, N_("Whom you ask"), "WHO" },
    { "from", 0, 0, G_OPTION_ARG_STRING, &from, N_("Who asks"), "WHO" },
    { "question", 0, 0, G_OPTION_ARG_STRING, &question, N_("What you ask"), "TEXT" },
    { "asked-elsewhere", 0, 0, G_OPTION_ARG_STRING, &elsewhere, N_("Who else was asked"), "TEXT" },
    { "language", 0, 0, G_OPTION_ARG_STRING, &language, N_("Language of the package: en or de"), "LANG" },
    { "replaces", 0, 0, G_OPTION_ARG_STRING, &replaces, N_("The id of the request that this one replaces"), "ID" },
    { "limit", 0, 0, G_OPTION_ARG_STRING, &limit, N_("The largest file: mail (fits a mail of 20 MB, the default), a number of megabytes, or none"), "SIZE" },
    { "page", 0, 0, G_OPTION_ARG_NONE, &page, N_("Also save the page beside the package"), NULL },
    { "no-time", 0, 0, G_OPTION_ARG_NONE, &no_time, N_("Tell the date only, not the time of day"), NULL },
    { "camera", 0, 0, G_OPTION_ARG_NONE, &camera, N_("Tell the camera's make and model"), NULL },
    { "emergency", 0, 0, G_OPTION_ARG_NONE, &emergency, N_("Eaten, or perhaps eaten"), NULL },
    { "call-back", 0, 0, G_OPTION_ARG_STRING, &call_back, N_("The number to call back in an emergency"), "NUMBER" },
    { NULL } };
  WsAskOptions ask = WS_ASK_OPTIONS_INIT;
  g_auto (WsCommonOptions) options = { 0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (WsDesk) desk = NULL;
  int exit = ws_command_parse (&ws_verb_ask, entries, FALSE, argc, argv, 1, 1, &options);

  if (exit >= 0)
    return exit;
  if (output == NULL)
    return ws_command_usage (&ws_verb_ask, _("say where the package goes: -o FILE"));
  if (place != NULL && !ws_tell_place_parse (place, &ask.tell_place))
    return ws_command_usage (&ws_verb_ask, _("--place is one of exact, 0.001, 0.01, 0.1, region, withheld"));
  if (limit != NULL && !ws_size_parse (limit, &ask.max_bytes))
    return ws_command_usage (&ws_verb_ask, _("--limit is mail, none, or a number of megabytes such as 8.5"));
  desk = ws_command_open (&options, &exit);
  if (desk == NULL)
    return exit;
  if (language != NULL && !g_strv_contains (ws_knowledge_get_languages (desk->knowledge), language))
    return ws_command_usage (&ws_verb_ask, _("--language is one of those that the knowledge has texts for: en, de"));
  ask.region = region;
  ask.without_base = base;
  ask.to = to;
  ask.from = from;
  ask.question = question;
  ask.asked_elsewhere = elsewhere;
  ask.language = language;
  ask.replaces = replaces;
  ask.keep_time = !no_time;
  ask.keep_camera = camera;
  ask.emergency = emergency;
  ask.call_back = call_back;
  if (!ws_ask (desk, options.rest[0], &ask, output, page, NULL, NULL, NULL, &package, &error))
    return ws_command_fail (error);
  puts (package);
  return WS_EXIT_DONE;
}

const WsVerb ws_verb_ask = { "ask", "FIND -o FILE", N_("Makes the request package; exit status 1 when the base is missing and no reason is given."), run };
