/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command.h"

#include "ws-intl.h"
#include "ws-record.h"

#include <string.h>

static int
run (int argc, char **argv)
{
  gboolean off_photo = FALSE;
  g_autofree char *specimen = NULL;
  GOptionEntry entries[] = {
    { "off-photo", 0, 0, G_OPTION_ARG_NONE, &off_photo, N_("Read off a photo: then never sure"), NULL },
    { "specimen", 0, 0, G_OPTION_ARG_STRING, &specimen, N_("Of this specimen: a, b, …"), "LETTER" },
    { NULL } };
  g_auto (WsCommonOptions) options = { 0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (WsDesk) desk = NULL;
  int exit = ws_command_parse (&ws_verb_note, entries, FALSE, argc, argv, 2, -1, &options);

  if (exit >= 0)
    return exit;
  for (guint i = 1; options.rest[i] != NULL; i++)
    if (strchr (options.rest[i], '=') == NULL || options.rest[i][0] == '=')
      return ws_command_usage (&ws_verb_note, _("each note is CHARACTER=STATE, with ? behind it when unsure"));
  desk = ws_command_open (&options, &exit);
  if (desk == NULL)
    return exit;
  for (guint i = 1; options.rest[i] != NULL; i++)
    {
      g_autofree char *key = NULL, *value = NULL;
      gboolean sure;

      ws_command_split (options.rest[i], &key, &value);
      sure = !g_str_has_suffix (value, "?");
      if (!sure)
        value[strlen (value) - 1] = '\0';
      if (!ws_record_note (desk, options.rest[0], key, value, sure, off_photo, specimen, &error))
        return ws_command_fail (error);
    }
  return WS_EXIT_DONE;
}

const WsVerb ws_verb_note = { "note", "FIND CHARACTER=STATE[?]…", N_("Notes characters of a find; “?” is unsure, “A|B” several states, nothing behind “=” takes the note away."), run };
