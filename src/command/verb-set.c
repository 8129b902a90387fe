/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command.h"

#include "ws-intl.h"
#include "ws-record.h"

#include <string.h>

static int
run (int argc, char **argv)
{
  g_auto (WsCommonOptions) options = { 0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (WsDesk) desk = NULL;
  int exit = ws_command_parse (&ws_verb_set, NULL, FALSE, argc, argv, 2, -1, &options);

  if (exit >= 0)
    return exit;
  for (guint i = 1; options.rest[i] != NULL; i++)
    if (strchr (options.rest[i], '=') == NULL || options.rest[i][0] == '=')
      return ws_command_usage (&ws_verb_set, _("each setting is KEY=VALUE"));
  desk = ws_command_open (&options, &exit);
  if (desk == NULL)
    return exit;
  for (guint i = 1; options.rest[i] != NULL; i++)
    {
      g_autofree char *key = NULL, *value = NULL;
      gboolean done;

      ws_command_split (options.rest[i], &key, &value);
      /* "cannot:v_base=REASON" says why a view cannot be had. */
      done = g_str_has_prefix (key, "cannot:")
             ? ws_record_excuse (desk, options.rest[0], key + strlen ("cannot:"), value, &error)
             : ws_record_set (desk, options.rest[0], key, value, &error);
      if (!done)
        return ws_command_fail (error);
    }
  return WS_EXIT_DONE;
}

const WsVerb ws_verb_set = { "set", "FIND KEY=VALUE…", N_("Sets number, field-name, locality, remarks, only-mine, specimen-is, place, time, or cannot:VIEW (why a view cannot be had)."), run };
