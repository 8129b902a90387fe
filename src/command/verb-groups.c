/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command-json.h"
#include "ws-command.h"

#include "ws-intl.h"
#include "ws-still-open.h"

#include <stdio.h>
#include <string.h>

/* Puts CHARACTER=STATE[|STATE][?] on the find; FALSE after saying what is wrong with it. */
static gboolean
add_note (WsFind *find, const WsKnowledge *knowledge, const char *word)
{
  g_autofree char *key = NULL, *value = NULL, *message = NULL;
  const WsCharacter *character = NULL;
  WsNote *note;

  if (ws_command_split (word, &key, &value))
    character = ws_knowledge_find_character (knowledge, key);
  if (character == NULL || character->free_text)
    {
      message = g_strdup_printf (_("“%s” is not CHARACTER=STATE of a character that there is"), word);
      ws_command_usage (&ws_verb_groups, message);
      return FALSE;
    }
  note = ws_note_new ();
  g_ptr_array_add (find->notes, note);
  ws_set_string (&note->character, key);
  note->sure = !g_str_has_suffix (value, "?");
  if (!note->sure)
    value[strlen (value) - 1] = '\0';
  g_strfreev (note->states);
  note->states = g_strsplit (value, "|", -1);
  for (guint i = 0; note->states[i] != NULL; i++)
    if (!ws_character_has_state (character, note->states[i]))
      {
        message = g_strdup_printf (_("%s has no state “%s”"), key, note->states[i]);
        ws_command_usage (&ws_verb_groups, message);
        return FALSE;
      }
  return TRUE;
}

static gboolean
check_met (const WsKnowledge *knowledge, const char *const *met)
{
  for (guint i = 0; met != NULL && met[i] != NULL; i++)
    if (!g_str_equal (met[i], "all") && !g_str_equal (met[i], "sure") && ws_knowledge_find_means (knowledge, met[i]) == NULL)
      {
        g_autofree char *message = g_strdup_printf (_("There is no condition “%s”"), met[i]);

        ws_command_usage (&ws_verb_groups, message);
        return FALSE;
      }
  return TRUE;
}

/* Notes come without photos here: a growth form that is typed without "?" counts as sure. */
static char **
conditions_of (const char *text)
{
  g_autofree char *all = g_strconcat ("form_shown", text != NULL ? "," : "", text, NULL);

  return g_strsplit (all, ",", -1);
}

static char *
note_text (const WsNote *note)
{
  g_autofree char *states = g_strjoinv ("|", note->states);

  return g_strdup_printf ("%s=%s", note->character, states);
}

static void
add_excluded (JsonBuilder *builder, const WsStillOpen *still_open)
{
  json_builder_set_member_name (builder, "excluded");
  json_builder_begin_object (builder);
  for (guint i = 0; i < still_open->verdicts->len; i++)
    {
      const WsGroupVerdict *verdict = g_ptr_array_index (still_open->verdicts, i);
      g_autofree char *text = !verdict->open ? note_text (verdict->misfit) : NULL;

      if (text != NULL)
        ws_json_text (builder, verdict->group->id, text);
    }
  json_builder_end_object (builder);
}

static void
print_json (const WsKnowledge *knowledge, const WsStillOpen *still_open, const char *const *met)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (GArray) next_best = ws_still_open_dup_next (still_open, knowledge, met);

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "open");
  json_builder_begin_array (builder);
  for (guint i = 0; i < still_open->verdicts->len; i++)
    {
      const WsGroupVerdict *verdict = g_ptr_array_index (still_open->verdicts, i);

      if (verdict->open)
        json_builder_add_string_value (builder, verdict->group->id);
    }
  json_builder_end_array (builder);
  add_excluded (builder, still_open);
  json_builder_set_member_name (builder, "next");
  json_builder_begin_array (builder);
  for (guint i = 0; i < next_best->len; i++)
    {
      const WsNextEvidence *next = &g_array_index (next_best, WsNextEvidence, i);

      json_builder_begin_object (builder);
      ws_json_text (builder, next->view != NULL ? "view" : "character", next->view != NULL ? next->view : next->character);
      ws_json_integer (builder, "couldExclude", next->could_exclude);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  ws_json_print (builder);
}

static void
print_text (const WsKnowledge *knowledge, const char *language, const WsStillOpen *still_open)
{
  for (guint i = 0; i < still_open->verdicts->len; i++)
    {
      const WsGroupVerdict *verdict = g_ptr_array_index (still_open->verdicts, i);
      const char *label = ws_knowledge_text (knowledge, language, "group", verdict->group->id);
      g_autofree char *note = verdict->misfit != NULL ? note_text (verdict->misfit) : NULL;

      if (verdict->kept_open)
        printf (_("still open: %s (%s does not fit, the veil does: perhaps two species)\n"), label, note);
      else if (verdict->open)
        printf (_("still open: %s\n"), label);
      else
        printf (_("does not fit your notes, if they are right: %s (%s)\n"), label, note);
    }
  if (still_open->n_open == 0)
    printf ("%s\n", ws_knowledge_text (knowledge, language, "caution", "nothing_left"));
  if (still_open->perhaps_two)
    printf ("%s\n", ws_knowledge_text (knowledge, language, "still_open", "perhaps_two"));
  printf ("%s\n%s\n", ws_knowledge_text (knowledge, language, "caution", "list_is_selection"),
          ws_knowledge_text (knowledge, language, "caution", "not_covered"));
}

static int
run (int argc, char **argv)
{
  g_autofree char *met_text = NULL;
  GOptionEntry entries[] = {
    { "met", 0, 0, G_OPTION_ARG_STRING, &met_text, N_("Conditions to take as met, or “all”; by default none is"), "CONDITION,…" },
    { NULL } };
  g_auto (WsCommonOptions) options = { 0 };
  g_auto (GStrv) met = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WsKnowledge) knowledge = NULL;
  g_autoptr (WsFind) find = ws_find_new ();
  g_autoptr (WsStillOpen) still_open = NULL;
  int exit = ws_command_parse (&ws_verb_groups, entries, TRUE, argc, argv, 0, -1, &options);

  if (exit >= 0)
    return exit;
  knowledge = ws_desk_builtin_knowledge (&error);
  if (knowledge == NULL)
    return ws_command_fail (error);
  met = conditions_of (met_text);
  if (!check_met (knowledge, (const char *const *) met))
    return WS_EXIT_USAGE;
  for (guint i = 0; options.rest[i] != NULL; i++)
    if (!add_note (find, knowledge, options.rest[i]))
      return WS_EXIT_USAGE;
  still_open = ws_still_open_judge (find, knowledge, (const char *const *) met);
  if (options.json)
    print_json (knowledge, still_open, (const char *const *) met);
  else
    print_text (knowledge, ws_knowledge_pick_language (knowledge, g_get_language_names ()), still_open);
  return WS_EXIT_DONE;
}

const WsVerb ws_verb_groups = { "groups", "[CHARACTER=STATE…]", N_("Which dangerous groups these notes leave open; “?” is unsure, “A|B” several states."), run };
