/* SPDX-License-Identifier: GPL-3.0-or-later */
/* wholestem-tool VERB: everything that the window does, without a display. */
#include "ws-command.h"

#include "ws-intl.h"
#include "ws-picture.h"

#include <stdio.h>
#include <string.h>

static const WsVerb *const verbs[] = {
  &ws_verb_photo, &ws_verb_name, &ws_verb_clarity, &ws_verb_groups, &ws_verb_import, &ws_verb_finds, &ws_verb_mark, &ws_verb_note, &ws_verb_set,
  &ws_verb_check, &ws_verb_ask, &ws_verb_verify };

static void
print_help (FILE *to)
{
  fputs (_("Usage: wholestem-tool VERB [OPTION…] …\n\n"), to);
  for (gsize i = 0; i < G_N_ELEMENTS (verbs); i++)
    fprintf (to, "  %-8s %s\n           %s\n", verbs[i]->name, verbs[i]->words, _(verbs[i]->does));
  fputs (_("\nEach verb has --help. Exit status: 0 done, 1 the answer is no, 2 wrong usage, 3 input missing or unreadable.\n"), to);
  fputs (_("Never eat a mushroom on the strength of photos or of this program.\n"), to);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  ws_intl_init ();
  if (argc < 2)
    {
      print_help (stderr);
      return WS_EXIT_USAGE;
    }
  if (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0)
    {
      print_help (stdout);
      return WS_EXIT_DONE;
    }
  if (strcmp (argv[1], "--version") == 0)
    {
      printf ("wholestem-tool %s\n", WS_VERSION);
      return WS_EXIT_DONE;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (verbs); i++)
    if (strcmp (argv[1], verbs[i]->name) == 0)
      {
        if (!verbs[i]->no_pixels && !ws_picture_init (argv[0], &error))
          return ws_command_fail (error);
        return verbs[i]->run (argc - 1, argv + 1);
      }
  fprintf (stderr, _("There is no verb “%s”. See wholestem-tool --help\n"), argv[1]);
  return WS_EXIT_USAGE;
}
