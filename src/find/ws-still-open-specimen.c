/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One specimen of a find as the rules of the dangerous groups see it: what was observed, and which conditions are met. */
#include "ws-still-open-private.h"

static void
observation_free (Observation *observation)
{
  g_ptr_array_unref (observation->states);
  g_ptr_array_unref (observation->notes);
  g_free (observation);
}

static void
specimen_free (Specimen *specimen)
{
  g_ptr_array_unref (specimen->observations);
  g_free (specimen);
}

/* --- Observations ------------------------------------------------------------------------------------------ */

/* One unsure note among several of a character blocks exclusion by it. */
static void
observe (Specimen *specimen, const WsNote *note)
{
  const WsCharacter *character = ws_knowledge_find_character (specimen->knowledge, note->character);
  Observation *observation;

  if (character == NULL || character->free_text)
    return;
  observation = (Observation *) ws_specimen_observed (specimen, character->id);
  if (observation == NULL)
    {
      observation = g_new0 (Observation, 1);
      observation->character = character->id;
      observation->counts = TRUE;
      observation->states = g_ptr_array_new ();
      observation->notes = g_ptr_array_new ();
      g_ptr_array_add (specimen->observations, observation);
    }
  observation->counts = observation->counts && note->sure && !note->off_photo;
  for (guint i = 0; note->states[i] != NULL; i++)
    g_ptr_array_add (observation->states, note->states[i]);
  g_ptr_array_add (observation->notes, (gpointer) note);
}

const Observation *
ws_specimen_observed (const Specimen *specimen, const char *character)
{
  for (guint i = 0; i < specimen->observations->len; i++)
    {
      const Observation *observation = g_ptr_array_index (specimen->observations, i);

      if (observation->character == character)
        return observation;
    }
  return NULL;
}

/* What may exclude: NULL when nothing is noted, or nothing for sure. */
static const Observation *
observed_for_sure (const Specimen *specimen, const char *character)
{
  const Observation *observation = ws_specimen_observed (specimen, character);

  return observation != NULL && observation->counts && observation->states->len > 0 ? observation : NULL;
}

gboolean
ws_observation_is_outside (const Observation *observation, const char *const *possible)
{
  for (guint i = 0; i < observation->states->len; i++)
    if (g_strv_contains (possible, g_ptr_array_index (observation->states, i)))
      return FALSE;
  return TRUE;
}

static gboolean
all_inside (const Observation *observation, const char *const *possible)
{
  for (guint i = 0; i < observation->states->len; i++)
    if (!g_strv_contains (possible, g_ptr_array_index (observation->states, i)))
      return FALSE;
  return TRUE;
}

/* --- Conditions --------------------------------------------------------------------------------------------- */

/* The evidence list's own judgement of the marks of this specimen. */
static gboolean
one_is_shown (const Specimen *specimen, const char *const *views)
{
  for (guint i = 0; views[i] != NULL; i++)
    if (ws_evidence_judge_view (specimen->find, specimen->knowledge, views[i], specimen->letter) == WS_EVIDENCE_SHOWN)
      return TRUE;
  return FALSE;
}

/* Answered "yes" with every note of the observation: with one of two is not enough. */
static gboolean
is_answered (const Observation *observation, const char *condition)
{
  for (guint i = 0; i < observation->notes->len; i++)
    if (!g_strv_contains ((const char *const *) ((const WsNote *) g_ptr_array_index (observation->notes, i))->answers, condition))
      return FALSE;
  return TRUE;
}

static gboolean
meets (const Specimen *specimen, const Observation *observation, const char *condition)
{
  const WsMeans *means;
  const Observation *answer;

  if (specimen->met != NULL &&
      (g_strv_contains (specimen->met, "all") || g_strv_contains (specimen->met, condition)))
    return TRUE;
  means = ws_knowledge_find_means (specimen->knowledge, condition);
  if (means == NULL || (means->views[0] != NULL && !one_is_shown (specimen, means->views)))
    return FALSE;
  if (means->character == NULL || is_answered (observation, condition))
    return TRUE;
  answer = observed_for_sure (specimen, means->character);
  return answer != NULL && all_inside (answer, means->states);
}

const char *
ws_specimen_lacks (const Specimen *specimen, const Observation *observation, const WsGroupRule *rule)
{
  for (guint i = 0; rule->conditions[i] != NULL; i++)
    if (!meets (specimen, observation, rule->conditions[i]))
      return rule->conditions[i];
  return NULL;
}

gboolean
ws_specimen_rule_applies (const Specimen *specimen, const WsGroupRule *rule)
{
  const WsCharacter *form;
  const Observation *observation;

  if (rule->only_forms[0] == NULL)
    return TRUE;
  form = ws_knowledge_find_character (specimen->knowledge, "growth_form");
  observation = form != NULL ? observed_for_sure (specimen, form->id) : NULL;
  return observation != NULL && all_inside (observation, rule->only_forms);
}

/* --- The specimens of a find ----------------------------------------------------------------------------------- */

static void
add_letter (GPtrArray *letters, const char *letter)
{
  if (letter[0] == '\0')
    return;
  for (guint i = 0; i < letters->len; i++)
    if (g_str_equal (g_ptr_array_index (letters, i), letter))
      return;
  g_ptr_array_add (letters, (gpointer) letter);
}

/* The letters that notes, marks and photos use. Where there are none the find is one specimen, as far as anybody has
 * said; where there are, what has no letter excludes nothing. */
static GPtrArray *
letters_of (const WsFind *find)
{
  GPtrArray *letters = g_ptr_array_new ();

  for (guint i = 0; i < find->notes->len; i++)
    add_letter (letters, ((const WsNote *) g_ptr_array_index (find->notes, i))->specimen);
  for (guint i = 0; i < find->marks->len; i++)
    add_letter (letters, ((const WsMark *) g_ptr_array_index (find->marks, i))->specimen);
  for (guint i = 0; i < find->photos->len; i++)
    add_letter (letters, ((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->specimen);
  if (letters->len == 0)
    g_ptr_array_add (letters, (gpointer) "");
  return letters;
}

GPtrArray *
ws_specimens_new (const WsFind *find, const WsKnowledge *knowledge, const char *const *met)
{
  GPtrArray *specimens = g_ptr_array_new_with_free_func ((GDestroyNotify) specimen_free);
  g_autoptr (GPtrArray) letters = letters_of (find);

  for (guint i = 0; i < letters->len; i++)
    {
      Specimen *specimen = g_new0 (Specimen, 1);

      specimen->find = find;
      specimen->knowledge = knowledge;
      specimen->letter = g_ptr_array_index (letters, i);
      specimen->met = met;
      specimen->observations = g_ptr_array_new_with_free_func ((GDestroyNotify) observation_free);
      for (guint n = 0; n < find->notes->len; n++)
        {
          const WsNote *note = g_ptr_array_index (find->notes, n);

          if (g_str_equal (specimen->letter, note->specimen))
            observe (specimen, note);
        }
      g_ptr_array_add (specimens, specimen);
    }
  return specimens;
}
