/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-still-open-private.h"

/* --- One group, one specimen ------------------------------------------------------------------------------ */

static void
add_notes (GPtrArray *misfits, const Observation *observation)
{
  for (guint i = 0; i < observation->notes->len; i++)
    if (!g_ptr_array_find (misfits, g_ptr_array_index (observation->notes, i), NULL))
      g_ptr_array_add (misfits, g_ptr_array_index (observation->notes, i));
}

/* Adds the notes that do not fit the group; FALSE when this specimen leaves it open. */
static gboolean
does_not_fit (const Specimen *specimen, const WsGroup *group, GPtrArray *misfits)
{
  gboolean any = FALSE;

  for (guint i = 0; i < group->rules->len; i++)
    {
      const WsGroupRule *rule = g_ptr_array_index (group->rules, i);
      const Observation *observation = rule->strength == WS_RULE_HARD ? ws_specimen_observed (specimen, rule->character) : NULL;

      if (observation == NULL || !observation->counts || observation->states->len == 0 ||
          !ws_observation_is_outside (observation, rule->states) || !ws_specimen_rule_applies (specimen, rule) ||
          ws_specimen_lacks (specimen, observation, rule) != NULL)
        continue;
      add_notes (misfits, observation);
      any = TRUE;
    }
  return any;
}

/* --- The find as a whole ------------------------------------------------------------------------------------- */

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

static void
verdict_free (WsGroupVerdict *verdict)
{
  g_ptr_array_unref (verdict->misfits);
  g_free (verdict);
}

/* Excluded only when every specimen excludes it. */
static WsGroupVerdict *
judge_group (const WsFind *find, const WsGroup *group, GPtrArray *specimens)
{
  WsGroupVerdict *verdict = g_new0 (WsGroupVerdict, 1);

  verdict->group = group;
  verdict->misfits = g_ptr_array_new ();
  for (guint i = 0; i < specimens->len && !verdict->open; i++)
    verdict->open = !does_not_fit (g_ptr_array_index (specimens, i), group, verdict->misfits);
  if (verdict->open)
    g_ptr_array_set_size (verdict->misfits, 0);
  else if (is_kept_open (find, group))
    verdict->open = verdict->kept_open = TRUE;
  verdict->misfit = verdict->misfits->len > 0 ? g_ptr_array_index (verdict->misfits, 0) : NULL;
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

/* --- Perhaps two species -------------------------------------------------------------------------------------- */

static gboolean
is_sure (const WsNote *note, const char *character)
{
  return note->sure && !note->off_photo && g_str_equal (note->character, character) && note->states[0] != NULL;
}

static gboolean
has_any (const WsNote *note, const char *const *states)
{
  for (guint i = 0; note->states[i] != NULL; i++)
    if (g_strv_contains (states, note->states[i]))
      return TRUE;
  return FALSE;
}

/* An egg becomes something else; other growth forms do not turn into each other. */
static gboolean
forms_clash (const WsNote *a, const WsNote *b)
{
  return !has_any (a, (const char *const *) b->states) && !has_any (a, (const char *[]) { "egg", NULL }) &&
         !has_any (b, (const char *[]) { "egg", NULL });
}

static gboolean
surface_clashes (const WsKnowledge *knowledge, const WsNote *form, const WsNote *surface)
{
  for (guint i = 0; form->states[i] != NULL; i++)
    {
      const WsGrowthForm *one = ws_knowledge_find_growth_form (knowledge, form->states[i]);

      if (one == NULL || one->surfaces[0] == NULL || has_any (surface, one->surfaces))
        return FALSE;
    }
  return TRUE;
}

/* Sure notes that no single fungus fits, of whatever specimens. */
static gboolean
notes_clash (const WsFind *find, const WsKnowledge *knowledge)
{
  for (guint i = 0; i < find->notes->len; i++)
    {
      const WsNote *form = g_ptr_array_index (find->notes, i);

      for (guint j = 0; j < find->notes->len && is_sure (form, "growth_form"); j++)
        {
          const WsNote *other = g_ptr_array_index (find->notes, j);

          if ((is_sure (other, "growth_form") && forms_clash (form, other)) ||
              (is_sure (other, "fertile_surface") && surface_clashes (knowledge, form, other)))
            return TRUE;
        }
    }
  return FALSE;
}

static gboolean
any_kept_open (GPtrArray *verdicts)
{
  for (guint i = 0; i < verdicts->len; i++)
    if (((const WsGroupVerdict *) g_ptr_array_index (verdicts, i))->kept_open)
      return TRUE;
  return FALSE;
}

/* --- Judging --------------------------------------------------------------------------------------------------- */

void
ws_still_open_count_more (const WsStillOpen *self, const WsKnowledge *knowledge, const char *const *met, guint *groups,
                          guint *weight)
{
  g_autoptr (GPtrArray) specimens = ws_specimens_new (self->find, knowledge, met);

  *groups = *weight = 0;
  for (guint i = 0; i < self->verdicts->len; i++)
    {
      const WsGroupVerdict *now = g_ptr_array_index (self->verdicts, i);
      WsGroupVerdict *then = now->open ? judge_group (self->find, now->group, specimens) : NULL;

      if (then != NULL && !then->open)
        {
          *groups += 1;
          *weight += (guint) now->group->severity;
        }
      g_clear_pointer (&then, verdict_free);
    }
}

WsStillOpen *
ws_still_open_judge (const WsFind *find, const WsKnowledge *knowledge, const char *const *met)
{
  WsStillOpen *self = g_new0 (WsStillOpen, 1);
  GPtrArray *groups = ws_knowledge_get_groups (knowledge);
  g_autoptr (GPtrArray) specimens = ws_specimens_new (find, knowledge, met);

  self->find = ws_find_ref (find);
  self->verdicts = g_ptr_array_new_with_free_func ((GDestroyNotify) verdict_free);
  for (guint i = 0; i < groups->len; i++)
    {
      WsGroupVerdict *verdict = judge_group (find, g_ptr_array_index (groups, i), specimens);

      g_ptr_array_add (self->verdicts, verdict);
      self->n_open += verdict->open;
    }
  g_ptr_array_sort_with_data (self->verdicts, by_severity, groups);
  self->perhaps_two = any_kept_open (self->verdicts) || notes_clash (find, knowledge);
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
