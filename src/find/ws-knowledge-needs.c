/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which views a growth form needs: needs.tsv (one column a form) and under-part.tsv. */
#include "ws-knowledge-private.h"

#include "ws-error.h"
#include "ws-intl.h"

#include <string.h>

/* "c:ring!=none_seen": the character, whether the list is negated, and the list. */
static const WsCondition *
parse_condition (WsKnowledge *self, WsTable *table, guint row, const char *cell, GError **error)
{
  const char *text = cell + strlen ("c:"), *equals = strchr (text, '=');
  const WsCharacter *character;
  WsCondition *condition;
  g_autofree char *name = NULL;
  gboolean negated;

  /* "Not any state" and an empty list would be met by whatever is noted. */
  if (equals == NULL || equals == text || equals[1] == '\0' || (equals[-1] == '!' && equals[1] == '*'))
    {
      ws_table_fail (table, row, error, _("“%s” is not a condition (c:character=state)"), cell);
      return NULL;
    }
  negated = equals[-1] == '!';
  name = g_strndup (text, (gsize) (equals - text) - (negated ? 1 : 0));
  character = ws_knowledge_find_character (self, name);
  if (character == NULL)
    {
      ws_table_fail (table, row, error, _("there is no character “%s”"), name);
      return NULL;
    }
  condition = g_new0 (WsCondition, 1);
  g_ptr_array_add (self->conditions, condition);
  condition->character = character->id;
  condition->negated = negated;
  condition->states = ws_knowledge_keep_list (self, g_str_equal (equals + 1, "*") ? "" : equals + 1);
  for (guint i = 0; condition->states[i] != NULL; i++)
    if (!ws_character_has_state (character, condition->states[i]))
      {
        ws_table_fail (table, row, error, _("the character %s has no state “%s”"), name, condition->states[i]);
        return NULL;
      }
  return condition;
}

static gboolean
parse_cell (WsKnowledge *self, WsTable *table, guint row, const char *cell, WsRequirement *requirement,
            GError **error)
{
  requirement->condition = NULL;
  if (g_str_equal (cell, "R"))
    requirement->need = WS_NEED_REQUIRED;
  else if (g_str_equal (cell, "r"))
    requirement->need = WS_NEED_RECOMMENDED;
  else if (g_str_equal (cell, "n"))
    requirement->need = WS_NEED_NONE;
  else if (g_str_has_prefix (cell, "c:"))
    {
      requirement->need = WS_NEED_ONLY_IF;
      requirement->condition = parse_condition (self, table, row, cell, error);
      return requirement->condition != NULL;
    }
  else
    return ws_table_fail (table, row, error, _("“%s” is not one of R, r, n, c:…"), cell);
  return TRUE;
}

static int
compare_order (gconstpointer a, gconstpointer b, gpointer views)
{
  guint ia = 0, ib = 0;

  g_ptr_array_find (views, ((const WsRequirement *) a)->view, &ia);
  g_ptr_array_find (views, ((const WsRequirement *) b)->view, &ib);
  return (int) ia - (int) ib;
}

static gboolean
read_form (WsKnowledge *self, WsTable *table, const WsGrowthForm *form, GError **error)
{
  GArray *needs = g_array_new (FALSE, FALSE, sizeof (WsRequirement));

  g_hash_table_insert (self->needs, (gpointer) form->id, needs);
  for (guint i = 0; i < ws_table_get_n_rows (table); i++)
    {
      WsRequirement requirement = { ws_knowledge_find_view (self, ws_table_get (table, i, "view")), 0, NULL };

      if (requirement.view == NULL)
        return ws_table_fail (table, i, error, _("there is no view “%s”"), ws_table_get (table, i, "view"));
      if (!parse_cell (self, table, i, ws_table_get (table, i, form->id), &requirement, error))
        return FALSE;
      g_array_append_val (needs, requirement);
    }
  g_array_sort_with_data (needs, compare_order, self->views);
  /* A view twice and another not at all is as many rows: without this the base could drop off every list. */
  for (guint i = 0; i < MAX (needs->len, self->views->len); i++)
    if (needs->len != self->views->len ||
        g_array_index (needs, WsRequirement, i).view != g_ptr_array_index (self->views, i))
      {
        g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("needs.tsv has %u rows, views.tsv %u: each view needs one row"),
                     needs->len, self->views->len);
        return FALSE;
      }
  return TRUE;
}

static gboolean
read_under_parts (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "growth_form", "view", "part", NULL };
  g_autoptr (WsTable) table = ws_knowledge_open (tables, "under-part.tsv", columns, error);

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      const WsGrowthForm *form = ws_knowledge_find_growth_form (self, ws_table_get (table, i, "growth_form"));
      const WsView *view = ws_knowledge_find_view (self, ws_table_get (table, i, "view"));
      const WsPart *part = ws_knowledge_find_part (self, ws_table_get (table, i, "part"));

      if (form == NULL || view == NULL || part == NULL)
        return ws_table_fail (table, i, error, _("an id in this row is not known"));
      g_hash_table_insert (self->under_parts, g_strconcat (form->id, "\t", view->id, NULL), (gpointer) part->id);
    }
  return table != NULL;
}

gboolean
ws_knowledge_read_needs (WsKnowledge *self, GHashTable *tables, GError **error)
{
  g_autoptr (WsTable) table = NULL;
  g_autoptr (GPtrArray) columns = g_ptr_array_new ();

  g_ptr_array_add (columns, (gpointer) "view");
  for (guint i = 0; i < self->growth_forms->len; i++)
    g_ptr_array_add (columns, (gpointer) ((WsGrowthForm *) g_ptr_array_index (self->growth_forms, i))->id);
  g_ptr_array_add (columns, NULL);
  table = ws_knowledge_open (tables, "needs.tsv", (const char *const *) columns->pdata, error);
  if (table == NULL)
    return FALSE;
  for (guint i = 0; i < self->growth_forms->len; i++)
    if (!read_form (self, table, g_ptr_array_index (self->growth_forms, i), error))
      return FALSE;
  return read_under_parts (self, tables, error);
}

/* Nobody has said yet what it is: whatever any form with a stem requires. */
static GArray *
requirements_of_unknown (const WsKnowledge *self)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (WsRequirement));

  for (guint v = 0; v < self->views->len; v++)
    for (guint f = 0; f < self->growth_forms->len; f++)
      {
        const WsGrowthForm *form = g_ptr_array_index (self->growth_forms, f);
        GArray *needs = g_hash_table_lookup (self->needs, form->id);
        WsRequirement requirement = g_array_index (needs, WsRequirement, v);

        if (form->has_stem && requirement.need == WS_NEED_REQUIRED)
          {
            g_array_append_val (all, requirement);
            break;
          }
      }
  return all;
}

GArray *
ws_knowledge_dup_requirements (const WsKnowledge *self, const char *growth_form)
{
  GArray *needs = growth_form != NULL ? g_hash_table_lookup (self->needs, growth_form) : NULL;
  GArray *copy;

  if (needs == NULL)
    return requirements_of_unknown (self);
  copy = g_array_new (FALSE, FALSE, sizeof (WsRequirement));
  for (guint i = 0; i < needs->len; i++)
    if (g_array_index (needs, WsRequirement, i).need != WS_NEED_NONE)
      g_array_append_val (copy, g_array_index (needs, WsRequirement, i));
  return copy;
}

const char *
ws_knowledge_part_of_view (const WsKnowledge *self, const char *view_id, const char *growth_form)
{
  g_autofree char *key = g_strconcat (growth_form != NULL ? growth_form : "", "\t", view_id, NULL);
  const char *part = g_hash_table_lookup (self->under_parts, key);
  const WsView *view = ws_knowledge_find_view (self, view_id);

  return part != NULL ? part : view != NULL ? view->part : "whole";
}
