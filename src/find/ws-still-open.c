/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-still-open-private.h"

#include <string.h>

/* One specimen of the find as the rules see it. */
typedef struct
{
  const WsFind *find;
  const WsKnowledge *knowledge;
  const char *letter;          /* "" when the find knows no letters */
  const char *const *met;
} Specimen;

static gboolean
is_of (const Specimen *specimen, const char *letter)
{
  return g_str_equal (specimen->letter, letter);
}

/* --- Observations ------------------------------------------------------------------------------------------ */

/* All states that were noted of a character of the specimen, from several notes united; one unsure note among them blocks
 * exclusion. NULL when nothing is noted, or nothing that could exclude. */
static const WsNote *
observed (const Specimen *specimen, const char *character, GPtrArray *states)
{
  const WsNote *last = NULL;

  for (guint i = 0; i < specimen->find->notes->len; i++)
    {
      const WsNote *note = g_ptr_array_index (specimen->find->notes, i);

      if (!g_str_equal (note->character, character) || !is_of (specimen, note->specimen))
        continue;
      if (!note->sure || note->off_photo)
        return NULL;
      for (guint s = 0; note->states[s] != NULL; s++)
        g_ptr_array_add (states, note->states[s]);
      last = note;
    }
  return states->len > 0 ? last : NULL;
}

/* A mark of the specimen that shows the view; by the evidence list's own judgement. */
static gboolean
view_is_shown (const Specimen *specimen, const char *view)
{
  g_autoptr (WsFind) alone = ws_find_copy (specimen->find);
  g_autoptr (WsEvidence) evidence = NULL;
  const WsEvidenceLine *line;

  for (guint i = alone->marks->len; i > 0; i--)
    if (!is_of (specimen, ((const WsMark *) g_ptr_array_index (alone->marks, i - 1))->specimen))
      g_ptr_array_remove_index (alone->marks, i - 1);
  evidence = ws_evidence_judge (alone, specimen->knowledge, "en");
  line = ws_evidence_get_line (evidence, view);
  return line != NULL && line->state == WS_EVIDENCE_SHOWN;
}

static gboolean
is_met (const Specimen *specimen, const char *condition)
{
  const WsMeans *means = ws_knowledge_find_means (specimen->knowledge, condition);
  g_autoptr (GPtrArray) states = g_ptr_array_new ();

  if (specimen->met != NULL &&
      (g_strv_contains (specimen->met, "all") || g_strv_contains (specimen->met, condition)))
    return TRUE;
  if (means == NULL)
    return FALSE;
  if (means->view != NULL && !view_is_shown (specimen, means->view))
    return FALSE;
  if (means->character == NULL)
    return TRUE;
  if (observed (specimen, means->character, states) == NULL)
    return FALSE;
  for (guint i = 0; i < states->len; i++)
    if (!g_strv_contains (means->states, g_ptr_array_index (states, i)))
      return FALSE;
  return TRUE;
}

static gboolean
all_outside (GPtrArray *states, const char *const *possible)
{
  for (guint i = 0; i < states->len; i++)
    if (g_strv_contains (possible, g_ptr_array_index (states, i)))
      return FALSE;
  return TRUE;
}

/* A rule that speaks of eggs and balls only counts when the growth form is such a one for sure. */
static gboolean
applies (const Specimen *specimen, const WsGroupRule *rule)
{
  g_autoptr (GPtrArray) forms = g_ptr_array_new ();

  if (rule->only_forms[0] == NULL)
    return TRUE;
  if (observed (specimen, "growth_form", forms) == NULL)
    return FALSE;
  for (guint i = 0; i < forms->len; i++)
    if (!g_strv_contains (rule->only_forms, g_ptr_array_index (forms, i)))
      return FALSE;
  return TRUE;
}

static gboolean
conditions_met (const Specimen *specimen, const WsGroupRule *rule)
{
  for (guint i = 0; rule->conditions[i] != NULL; i++)
    if (!is_met (specimen, rule->conditions[i]))
      return FALSE;
  return TRUE;
}

/* The note that does not fit the group, NULL when this specimen leaves it open. */
static const WsNote *
misfit_of (const Specimen *specimen, const WsGroup *group)
{
  for (guint i = 0; i < group->rules->len; i++)
    {
      const WsGroupRule *rule = g_ptr_array_index (group->rules, i);
      g_autoptr (GPtrArray) states = g_ptr_array_new ();
      const WsNote *note;

      if (rule->strength != WS_RULE_HARD)
        continue;
      note = observed (specimen, rule->character, states);
      if (note != NULL && all_outside (states, rule->states) && applies (specimen, rule) &&
          conditions_met (specimen, rule))
        return note;
    }
  return NULL;
}

/* --- The find as a whole ------------------------------------------------------------------------------------- */

static void
add_letter (GPtrArray *letters, const char *letter)
{
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
    if (((const WsNote *) g_ptr_array_index (find->notes, i))->specimen[0] != '\0')
      add_letter (letters, ((const WsNote *) g_ptr_array_index (find->notes, i))->specimen);
  for (guint i = 0; i < find->marks->len; i++)
    if (((const WsMark *) g_ptr_array_index (find->marks, i))->specimen[0] != '\0')
      add_letter (letters, ((const WsMark *) g_ptr_array_index (find->marks, i))->specimen);
  for (guint i = 0; i < find->photos->len; i++)
    if (((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->specimen[0] != '\0')
      add_letter (letters, ((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->specimen);
  if (letters->len == 0)
    g_ptr_array_add (letters, (gpointer) "");
  return letters;
}

/* A bag, a collar or crumbs of veil anywhere in the record, sure or not, of any specimen: a basket of two species mixed into one
 * record must not talk itself clear. */
static gboolean
is_kept_open (const WsFind *find, const WsGroup *group)
{
  for (guint i = 0; i < group->rules->len; i++)
    {
      const WsGroupRule *rule = g_ptr_array_index (group->rules, i);

      for (guint s = 0; rule->strength == WS_RULE_KEEPS_OPEN && rule->states[s] != NULL; s++)
        if (ws_find_has_state (find, rule->character, rule->states[s]))
          return TRUE;
    }
  return FALSE;
}

/* Excluded only when every specimen excludes it. */
static WsGroupVerdict *
judge_group (const WsFind *find, const WsKnowledge *knowledge, const WsGroup *group, GPtrArray *letters,
             const char *const *met)
{
  WsGroupVerdict *verdict = g_new0 (WsGroupVerdict, 1);

  verdict->group = group;
  for (guint i = 0; i < letters->len && !verdict->open; i++)
    {
      Specimen specimen = { find, knowledge, g_ptr_array_index (letters, i), met };
      const WsNote *misfit = misfit_of (&specimen, group);

      verdict->open = misfit == NULL;
      verdict->misfit = misfit;
    }
  if (!verdict->open && is_kept_open (find, group))
    verdict->open = verdict->kept_open = TRUE;
  return verdict;
}

static int
by_severity (gconstpointer a, gconstpointer b, gpointer groups)
{
  const WsGroupVerdict *va = *(WsGroupVerdict *const *) a, *vb = *(WsGroupVerdict *const *) b;
  guint ia = 0, ib = 0;

  if (va->group->severity != vb->group->severity)
    return vb->group->severity - va->group->severity;
  g_ptr_array_find (groups, va->group, &ia);
  g_ptr_array_find (groups, vb->group, &ib);
  return (int) ia - (int) ib;
}

static gboolean
fits_nothing (GPtrArray *verdicts)
{
  for (guint i = 0; i < verdicts->len; i++)
    if (((const WsGroupVerdict *) g_ptr_array_index (verdicts, i))->kept_open)
      return TRUE;
  return FALSE;
}

void
ws_still_open_count_more (const WsStillOpen *self, const WsKnowledge *knowledge, const char *const *met, guint *groups,
                          guint *weight)
{
  g_autoptr (GPtrArray) letters = letters_of (self->find);

  *groups = *weight = 0;
  for (guint i = 0; i < self->verdicts->len; i++)
    {
      const WsGroupVerdict *now = g_ptr_array_index (self->verdicts, i);
      g_autofree WsGroupVerdict *then = now->open ? judge_group (self->find, knowledge, now->group, letters, met) : NULL;

      if (then == NULL || then->open)
        continue;
      *groups += 1;
      *weight += (guint) now->group->severity;
    }
}

WsStillOpen *
ws_still_open_judge (const WsFind *find, const WsKnowledge *knowledge, const char *const *met)
{
  WsStillOpen *self = g_new0 (WsStillOpen, 1);
  GPtrArray *groups = ws_knowledge_get_groups (knowledge);
  g_autoptr (GPtrArray) letters = letters_of (find);

  self->find = ws_find_ref (find);
  self->verdicts = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < groups->len; i++)
    {
      WsGroupVerdict *verdict = judge_group (find, knowledge, g_ptr_array_index (groups, i), letters, met);

      g_ptr_array_add (self->verdicts, verdict);
      self->n_open += verdict->open;
    }
  g_ptr_array_sort_with_data (self->verdicts, by_severity, groups);
  self->perhaps_two = fits_nothing (self->verdicts);
  return self;
}

void
ws_still_open_free (WsStillOpen *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->verdicts);
  ws_find_unref (self->find);
  g_free (self);
}
