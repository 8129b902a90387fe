/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command-json.h"
#include "ws-command.h"

#include "ws-go-back.h"
#include "ws-intl.h"
#include "ws-still-open.h"

#include <stdio.h>

static void
add_line (JsonBuilder *builder, const WsEvidenceLine *line)
{
  json_builder_begin_object (builder);
  ws_json_text (builder, "view", line->view->id);
  ws_json_text (builder, "need", ws_need_id (line->need));
  ws_json_text (builder, "state", ws_evidence_state_id (line->state));
  ws_json_text (builder, "reason", line->detail);
  ws_json_text (builder, "cannotBeHad", line->excuse);
  json_builder_set_member_name (builder, "marks");
  json_builder_begin_array (builder);
  for (guint i = 0; i < line->marks->len; i++)
    json_builder_add_string_value (builder, ((const WsMark *) g_ptr_array_index (line->marks, i))->id);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

/* What could still be photographed, whatever the hour: the person who asks knows whether the specimen still lasts. */
static void
add_go_back (JsonBuilder *builder, const WsKnowledge *knowledge, const WsEvidence *evidence)
{
  g_autoptr (GArray) lines = ws_go_back_judge (evidence, knowledge, WS_GO_BACK_ANY_TIME);

  json_builder_set_member_name (builder, "goBack");
  json_builder_begin_array (builder);
  for (guint i = 0; i < lines->len; i++)
    json_builder_add_string_value (builder, g_array_index (lines, WsGoBackLine, i).line->view->id);
  json_builder_end_array (builder);
}

static void
add_still_open (JsonBuilder *builder, WsDesk *desk, const WsFind *find)
{
  g_autoptr (WsStillOpen) still_open = ws_still_open_judge (find, desk->knowledge, NULL);
  static const char *const severities[] = { "other", "other", "serious", "deadly" };

  json_builder_set_member_name (builder, "stillOpen");
  json_builder_begin_array (builder);
  for (guint i = 0; i < still_open->verdicts->len; i++)
    {
      const WsGroupVerdict *verdict = g_ptr_array_index (still_open->verdicts, i);

      if (!verdict->open)
        continue;
      json_builder_begin_object (builder);
      ws_json_text (builder, "group", verdict->group->id);
      ws_json_text (builder, "label", ws_knowledge_text (desk->knowledge, desk->language, "group", verdict->group->id));
      ws_json_text (builder, "severity", severities[verdict->group->severity]);
      ws_json_text (builder, "settledBy", ws_knowledge_text (desk->knowledge, desk->language, "group_helps", verdict->group->id));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
print_json (WsDesk *desk, const WsEvidence *evidence)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  ws_json_text (builder, "find", evidence->find->id);
  ws_json_text (builder, "growthForm", evidence->growth_form);
  json_builder_set_member_name (builder, "evidence");
  json_builder_begin_array (builder);
  for (guint i = 0; i < evidence->lines->len; i++)
    add_line (builder, g_ptr_array_index (evidence->lines, i));
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "baseShown");
  if (evidence->base_shown < 0)
    json_builder_add_null_value (builder);
  else
    json_builder_add_boolean_value (builder, evidence->base_shown == 1);
  add_still_open (builder, desk, evidence->find);
  add_go_back (builder, desk->knowledge, evidence);
  json_builder_end_object (builder);
  ws_json_print (builder);
}

static void
print_still_open (WsDesk *desk, const WsFind *find)
{
  g_autoptr (WsStillOpen) still_open = ws_still_open_judge (find, desk->knowledge, NULL);
  g_autoptr (GString) labels = g_string_new (NULL);

  for (guint i = 0; i < still_open->verdicts->len; i++)
    {
      const WsGroupVerdict *verdict = g_ptr_array_index (still_open->verdicts, i);

      if (verdict->open)
        g_string_append_printf (labels, "%s%s", labels->len > 0 ? "; " : "",
                                ws_knowledge_text (desk->knowledge, desk->language, "group", verdict->group->id));
    }
  if (labels->len > 0)
    printf (_("  still open: %s\n"), labels->str);
  else
    printf ("  %s\n", ws_knowledge_text (desk->knowledge, desk->language, "caution", "nothing_left"));
  if (still_open->perhaps_two)
    printf ("  %s\n", ws_knowledge_text (desk->knowledge, desk->language, "still_open", "perhaps_two"));
  printf ("  %s\n", ws_knowledge_text (desk->knowledge, desk->language, "caution", "list_is_selection"));
}

static void
print_text (WsDesk *desk, const WsEvidence *evidence)
{
  const WsKnowledge *k = desk->knowledge;
  g_autofree char *warning = ws_evidence_dup_base_warning (evidence, k, desk->language);
  const char *form = evidence->growth_form[0] != '\0'
                     ? ws_knowledge_text (k, desk->language, "growth_form", evidence->growth_form) : _("growth form not noted");

  printf ("%s  %s\n", evidence->find->number, form);
  if (warning != NULL)
    printf ("  !! %s\n", warning);
  for (guint i = 0; i < evidence->lines->len; i++)
    {
      const WsEvidenceLine *line = g_ptr_array_index (evidence->lines, i);

      printf ("  %s: %s (%s)", ws_knowledge_text (k, desk->language, "view", line->view->id),
              ws_knowledge_text (k, desk->language, "evidence_state", ws_evidence_state_id (line->state)),
              ws_knowledge_text (k, desk->language, "need", ws_need_id (line->need)));
      if (line->detail != NULL)
        printf (" - %s", line->detail);
      if (line->excuse != NULL)
        printf (_(" - cannot be had: %s"), line->excuse);
      putchar ('\n');
    }
  print_still_open (desk, evidence->find);
}

static int
run (int argc, char **argv)
{
  g_auto (WsCommonOptions) options = { 0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (WsDesk) desk = NULL;
  g_autoptr (WsFind) find = NULL;
  g_autoptr (WsEvidence) evidence = NULL;
  int exit = ws_command_parse (&ws_verb_check, NULL, TRUE, argc, argv, 1, 1, &options);

  if (exit >= 0)
    return exit;
  desk = ws_command_open (&options, &exit);
  if (desk == NULL)
    return exit;
  find = ws_library_load_find (desk->library, options.rest[0], &error);
  if (find == NULL)
    return ws_command_fail (error);
  evidence = ws_evidence_judge (find, desk->knowledge, desk->language);
  if (options.json)
    print_json (desk, evidence);
  else
    print_text (desk, evidence);
  return evidence->n_required_lacking > 0 ? WS_EXIT_NO : WS_EXIT_DONE;
}

const WsVerb ws_verb_check = { "check", "FIND", N_("What an expert would still lack; exit status 1 if anything required is missing."), run };
