/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Why a group is still open, and what could help tell, in words. */
#include "ws-still-open-private.h"

static WsOpenReason
reason_of (const Specimen *specimen, const WsGroupRule *rule)
{
  const Observation *observation = ws_specimen_observed (specimen, rule->character);
  WsOpenReason reason = { WS_OPEN_NOT_NOTED, rule->character, NULL };

  if (observation == NULL || observation->states->len == 0)
    return reason;
  if (!observation->counts)
    reason.why = WS_OPEN_UNSURE;
  else if (!ws_observation_is_outside (observation, rule->states))
    reason.why = WS_OPEN_FITS;
  else
    {
      reason.why = WS_OPEN_UNBACKED;
      /* A rule that speaks of some growth forms only wants one of these noted for sure. */
      reason.condition = ws_specimen_rule_applies (specimen, rule) ? ws_specimen_lacks (specimen, observation, rule) : NULL;
    }
  return reason;
}

/* The specimen that leaves the group open: the first that no rule speaks against. */
static gboolean
leaves_open (const Specimen *specimen, const WsGroup *group)
{
  for (guint i = 0; i < group->rules->len; i++)
    {
      const WsGroupRule *rule = g_ptr_array_index (group->rules, i);

      if (rule->strength == WS_RULE_HARD)
        {
          WsOpenReason reason = reason_of (specimen, rule);

          if (reason.why == WS_OPEN_UNBACKED && reason.condition == NULL && ws_specimen_rule_applies (specimen, rule))
            return FALSE;
        }
    }
  return TRUE;
}

GArray *
ws_still_open_dup_reasons (const WsStillOpen *self, const WsKnowledge *knowledge, const WsGroupVerdict *verdict,
                           const char **letter)
{
  GArray *reasons = g_array_new (FALSE, FALSE, sizeof (WsOpenReason));
  g_autoptr (GPtrArray) specimens = ws_specimens_new (self->find, knowledge, NULL);

  if (letter != NULL)
    *letter = "";
  for (guint i = 0; i < specimens->len && verdict->open && !verdict->kept_open; i++)
    {
      const Specimen *specimen = g_ptr_array_index (specimens, i);

      if (!leaves_open (specimen, verdict->group))
        continue;
      if (letter != NULL)
        *letter = specimen->letter;
      for (guint r = 0; r < verdict->group->rules->len; r++)
        {
          const WsGroupRule *rule = g_ptr_array_index (verdict->group->rules, r);
          WsOpenReason reason;

          if (rule->strength != WS_RULE_HARD)
            continue;
          reason = reason_of (specimen, rule);
          g_array_append_val (reasons, reason);
        }
      break;
    }
  return reasons;
}

/* --- Words ------------------------------------------------------------------------------------------------------ */

static char *
fill (const char *text, const char *with)
{
  /* The %s is filled by hand: a text of a table is never a format. */
  g_auto (GStrv) halves = g_strsplit (text, "%s", 2);

  return g_strjoinv (with, halves);
}

static void
append_kind (GString *text, const WsKnowledge *knowledge, const char *language, GArray *reasons, WsOpenWhy why, const char *id)
{
  g_autoptr (GString) names = g_string_new (NULL);
  g_autofree char *sentence = NULL;

  for (guint i = 0; i < reasons->len; i++)
    {
      const WsOpenReason *reason = &g_array_index (reasons, WsOpenReason, i);

      if (reason->why != why)
        continue;
      g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "",
                              ws_knowledge_text (knowledge, language, "character", reason->character));
      if (reason->condition != NULL)
        g_string_append_printf (names, " (%s)", ws_knowledge_text (knowledge, language, "condition", reason->condition));
    }
  if (names->len == 0)
    return;
  sentence = fill (ws_knowledge_text (knowledge, language, "still_open", id), names->str);
  g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", sentence);
}

char *
ws_still_open_dup_reasons_text (const WsStillOpen *self, const WsKnowledge *knowledge, const char *language,
                                const WsGroupVerdict *verdict)
{
  static const struct { WsOpenWhy why; const char *id; } kinds[] = {
    { WS_OPEN_FITS, "why_fits" }, { WS_OPEN_UNBACKED, "why_unbacked" }, { WS_OPEN_UNSURE, "why_unsure" },
    { WS_OPEN_NOT_NOTED, "why_not_noted" } };
  const char *letter = "";
  g_autoptr (GArray) reasons = ws_still_open_dup_reasons (self, knowledge, verdict, &letter);
  GString *text = g_string_new (NULL);

  if (verdict->kept_open)
    g_string_append (text, ws_knowledge_text (knowledge, language, "still_open", "why_veil"));
  if (letter[0] != '\0')
    {
      g_autofree char *specimen = fill (ws_knowledge_text (knowledge, language, "still_open", "why_specimen"), letter);

      g_string_append (text, specimen);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    append_kind (text, knowledge, language, reasons, kinds[i].why, kinds[i].id);
  return g_string_free (text, FALSE);
}

char *
ws_next_evidence_dup_text (const WsNextEvidence *next, const WsKnowledge *knowledge, const char *language)
{
  g_autofree char *number = g_strdup_printf ("%u", next->could_exclude);
  const char *what = next->view != NULL ? ws_knowledge_text (knowledge, language, "view", next->view)
                                        : ws_knowledge_text (knowledge, language, "character", next->character);
  g_autofree char *rest = fill (ws_knowledge_text (knowledge, language, "still_open",
                                                   next->could_exclude == 1 ? "next_one" : "next"), number);

  return g_strdup_printf ("%s: %s", what, rest);
}

/* Of a character: how the view is got that lets a note of it count, else what the character's definition says. */
const char *
ws_next_evidence_get_how (const WsNextEvidence *next, const WsKnowledge *knowledge, const char *language)
{
  GPtrArray *groups = ws_knowledge_get_groups (knowledge);

  if (next->view != NULL)
    return ws_knowledge_text (knowledge, language, "how", next->view);
  for (guint g = 0; g < groups->len; g++)
    {
      const WsGroup *group = g_ptr_array_index (groups, g);

      for (guint r = 0; r < group->rules->len; r++)
        {
          const WsGroupRule *rule = g_ptr_array_index (group->rules, r);

          for (guint c = 0; rule->character == next->character && rule->strength == WS_RULE_HARD && rule->conditions[c] != NULL; c++)
            {
              const WsMeans *means = ws_knowledge_find_means (knowledge, rule->conditions[c]);

              if (means->views[0] != NULL)
                return ws_knowledge_text (knowledge, language, "how", means->views[0]);
            }
        }
    }
  return ws_knowledge_has_text (knowledge, "character_def", next->character)
         ? ws_knowledge_text (knowledge, language, "character_def", next->character) : "";
}
