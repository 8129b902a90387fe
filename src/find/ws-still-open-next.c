/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Next best evidence: on how many open groups each character not recorded yet could bear, over its possible states;
 * and which view would let a recorded note count. */
#include "ws-still-open-private.h"

static gboolean
is_recorded (const WsFind *find, const char *character)
{
  for (guint i = 0; i < find->notes->len; i++)
    if (g_str_equal (((const WsNote *) g_ptr_array_index (find->notes, i))->character, character))
      return TRUE;
  return FALSE;
}

/* Some state of the character lies outside what the group can have. */
static gboolean
could_tell (const WsGroup *group, const WsCharacter *character)
{
  for (guint i = 0; i < group->rules->len; i++)
    {
      const WsGroupRule *rule = g_ptr_array_index (group->rules, i);

      if (rule->strength != WS_RULE_HARD || !g_str_equal (rule->character, character->id))
        continue;
      for (guint s = 0; s < character->states->len; s++)
        if (!g_strv_contains (rule->states, g_ptr_array_index (character->states, s)))
          return TRUE;
    }
  return FALSE;
}

/* Of two conditions that one view meets, the one that bears on more counts. */
static void
add_once (GArray *next, const WsNextEvidence *entry)
{
  for (guint i = 0; i < next->len; i++)
    {
      WsNextEvidence *there = &g_array_index (next, WsNextEvidence, i);

      if (g_strcmp0 (there->view, entry->view) != 0 || there->character != NULL)
        continue;
      if (entry->weight > there->weight)
        *there = *entry;
      return;
    }
  g_array_append_vals (next, entry, 1);
}

static void
add_characters (const WsStillOpen *self, const WsKnowledge *knowledge, GArray *next)
{
  GPtrArray *characters = ws_knowledge_get_characters (knowledge);

  for (guint c = 0; c < characters->len; c++)
    {
      const WsCharacter *character = g_ptr_array_index (characters, c);
      WsNextEvidence entry = { character->id, NULL, 0, 0 };

      if (is_recorded (self->find, character->id))
        continue;
      for (guint i = 0; i < self->verdicts->len; i++)
        {
          const WsGroupVerdict *verdict = g_ptr_array_index (self->verdicts, i);

          if (verdict->open && could_tell (verdict->group, character))
            {
              entry.could_exclude++;
              entry.weight += (guint) verdict->group->severity;
            }
        }
      if (entry.could_exclude > 0)
        g_array_append_val (next, entry);
    }
}

/* A view counts where taking the conditions it would meet as met excludes more than now. */
static void
add_views (const WsStillOpen *self, const WsKnowledge *knowledge, const char *const *met, GArray *next)
{
  GPtrArray *means = ws_knowledge_get_means (knowledge);

  for (guint m = 0; m < means->len; m++)
    {
      const WsMeans *one = g_ptr_array_index (means, m);
      g_autoptr (GPtrArray) more = g_ptr_array_new ();
      WsNextEvidence entry = { NULL, one->views[0], 0, 0 };

      if (one->views[0] == NULL)
        continue;
      for (guint i = 0; met != NULL && met[i] != NULL; i++)
        g_ptr_array_add (more, (gpointer) met[i]);
      g_ptr_array_add (more, (gpointer) one->id);
      g_ptr_array_add (more, NULL);
      ws_still_open_count_more (self, knowledge, (const char *const *) more->pdata, &entry.could_exclude, &entry.weight);
      if (entry.could_exclude > 0)
        add_once (next, &entry);
    }
}

static gboolean
applies (const WsNextEvidence *next, const WsKnowledge *knowledge, const char *form)
{
  return next->character == NULL || ws_character_applies (ws_knowledge_find_character (knowledge, next->character), form);
}

typedef struct { const WsKnowledge *knowledge; const char *form; } Order;

static int
by_weight (gconstpointer a, gconstpointer b, gpointer data)
{
  const WsNextEvidence *na = a, *nb = b;
  const Order *order = data;
  gboolean aa = applies (na, order->knowledge, order->form), ab = applies (nb, order->knowledge, order->form);

  if (aa != ab)
    return aa ? -1 : 1;
  if (na->weight != nb->weight)
    return na->weight > nb->weight ? -1 : 1;
  return g_strcmp0 (na->character != NULL ? na->character : na->view, nb->character != NULL ? nb->character : nb->view);
}

GArray *
ws_still_open_dup_next (const WsStillOpen *self, const WsKnowledge *knowledge, const char *const *met)
{
  GArray *next = g_array_new (FALSE, FALSE, sizeof (WsNextEvidence));
  Order order = { knowledge, ws_find_get_growth_form (self->find) };

  add_characters (self, knowledge, next);
  add_views (self, knowledge, met, next);
  g_array_sort_with_data (next, by_weight, &order);
  return next;
}
