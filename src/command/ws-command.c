/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command.h"

#include "ws-error.h"
#include "ws-intl.h"

#include <stdio.h>
#include <string.h>

void
ws_common_options_clear (WsCommonOptions *options)
{
  g_free (options->library);
  g_strfreev (options->rest);
  *options = (WsCommonOptions) { 0 };
}

int
ws_command_usage (const WsVerb *verb, const char *message)
{
  fprintf (stderr, "wholestem-tool %s: %s\n", verb->name, message);
  fprintf (stderr, _("Usage: wholestem-tool %s [OPTION…] %s\nSee wholestem-tool %s --help\n"), verb->name, verb->words,
           verb->name);
  return WS_EXIT_USAGE;
}

/* "-0.1,…" and "-51.2,…" are words, not options: a leading minus with a digit or a point. */
static char **
protect_numbers (int argc, char **argv)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new ();
  gboolean protect = FALSE;

  for (int i = 0; i < argc; i++)
    {
      if (!protect && i > 0 && argv[i][0] == '-' && (g_ascii_isdigit (argv[i][1]) || argv[i][1] == '.'))
        {
          g_ptr_array_add (words, g_strdup ("--"));
          protect = TRUE;
        }
      g_ptr_array_add (words, g_strdup (argv[i]));
    }
  g_ptr_array_add (words, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&words), FALSE);
}

int
ws_command_parse (const WsVerb *verb, const GOptionEntry *entries, gboolean json, int argc, char **argv, int min, int max,
                  WsCommonOptions *options)
{
  GOptionEntry common[] = {
    { "library", 0, 0, G_OPTION_ARG_FILENAME, &options->library, N_("The library folder (default: in the user's data folder)"), "DIR" },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &options->rest, NULL, NULL },
    { NULL } };
  GOptionEntry facts[] = { { "json", 0, 0, G_OPTION_ARG_NONE, &options->json, N_("Print the facts as JSON"), NULL }, { NULL } };
  g_autoptr (GOptionContext) context = g_option_context_new (verb->words);
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) list = protect_numbers (argc, argv);
  int n;

  g_option_context_set_summary (context, _(verb->does));
  g_option_context_set_help_enabled (context, FALSE);
  if (entries != NULL)
    g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  if (json)
    g_option_context_add_main_entries (context, facts, GETTEXT_PACKAGE);
  g_option_context_add_main_entries (context, common, GETTEXT_PACKAGE);
  if (argc > 1 && (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0))
    {
      g_autofree char *name = g_strconcat ("wholestem-tool ", verb->name, NULL);
      g_autofree char *help = NULL;

      g_set_prgname (name);
      help = g_option_context_get_help (context, TRUE, NULL);
      fputs (help, stdout);
      return WS_EXIT_DONE;
    }
  if (!g_option_context_parse_strv (context, &list, &error))
    return ws_command_usage (verb, error->message);
  n = options->rest != NULL ? (int) g_strv_length (options->rest) : 0;
  if (n < min || (max >= 0 && n > max))
    return ws_command_usage (verb, n < min ? _("something is missing") : _("too many words"));
  if (options->rest == NULL)
    options->rest = g_new0 (char *, 1);
  return -1;
}

int
ws_command_fail (const GError *error)
{
  fprintf (stderr, "%s\n", error->message);
  if (error->domain != WS_ERROR)
    return WS_EXIT_INPUT;
  switch (error->code)
    {
    case WS_ERROR_REFUSED:
      return WS_EXIT_NO;
    case WS_ERROR_USAGE:
    case WS_ERROR_INVALID:
    case WS_ERROR_CONFLICT:
      return WS_EXIT_USAGE;
    default:
      return WS_EXIT_INPUT;
    }
}

WsDesk *
ws_command_open (const WsCommonOptions *options, int *exit)
{
  g_autoptr (GError) error = NULL;
  WsDesk *desk = ws_desk_open (options->library, &error);

  if (desk == NULL)
    *exit = ws_command_fail (error);
  else if (desk->knowledge_trouble != NULL)
    fprintf (stderr, _("The edited knowledge is not used, the built-in one is: %s\n"), desk->knowledge_trouble);
  else if (desk->knowledge_from != NULL)
    fprintf (stderr, _("Edited knowledge in use: %s\n"), desk->knowledge_from);
  return desk;
}

gboolean
ws_command_split (const char *word, char **key, char **value)
{
  const char *equals = strchr (word, '=');

  if (equals == NULL || equals == word)
    return FALSE;
  *key = g_strndup (word, (gsize) (equals - word));
  *value = g_strdup (equals + 1);
  return TRUE;
}
