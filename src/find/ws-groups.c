/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-groups.h"

#include "ws-intl.h"
#include "ws-knowledge-private.h"

#include <string.h>

static gboolean
check_states (WsTable *table, guint row, const WsCharacter *character, const char *const *states, GError **error)
{
  for (guint i = 0; states[i] != NULL; i++)
    if (!ws_character_has_state (character, states[i]))
      return ws_table_fail (table, row, error, _("the character %s has no state “%s”"), character->id, states[i]);
  return states[0] != NULL || ws_table_fail (table, row, error, _("a rule needs at least one state"));
}

static gboolean
read_conditions (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "id", "view", "note", NULL };
  g_autoptr (WsTable) table = ws_knowledge_open (tables, "conditions.tsv", columns, error);

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      WsMeans *means = g_new0 (WsMeans, 1);
      const char *view = ws_table_get (table, i, "view"), *note = ws_table_get (table, i, "note");
      const char *equals = strchr (note, '=');

      g_ptr_array_add (self->means, means);
      means->id = ws_knowledge_keep (self, ws_table_get (table, i, "id"));
      means->states = ws_knowledge_keep_list (self, equals != NULL ? equals + 1 : "");
      means->views = ws_knowledge_keep_list (self, view);
      for (guint v = 0; means->views[v] != NULL; v++)
        if (ws_knowledge_find_view (self, means->views[v]) == NULL)
          return ws_table_fail (table, i, error, _("there is no view “%s”"), means->views[v]);
      if (equals != NULL)
        {
          g_autofree char *name = g_strndup (note, (gsize) (equals - note));
          const WsCharacter *character = ws_knowledge_find_character (self, name);

          if (character == NULL)
            return ws_table_fail (table, i, error, _("there is no character “%s”"), name);
          if (!check_states (table, i, character, means->states, error))
            return FALSE;
          means->character = character->id;
        }
      if (means->views[0] == NULL && means->character == NULL)
        return ws_table_fail (table, i, error, _("a condition is met by a view or by a note"));
    }
  return table != NULL;
}

/* "only_if:growth_form=egg/puffball;through_centre", "section_photo", "sure" */
static gboolean
parse_conditions (WsKnowledge *self, WsTable *table, guint row, WsGroupRule *rule, GError **error)
{
  const char *cell = ws_table_get (table, row, "condition");
  g_autofree char *plain = g_str_has_prefix (cell, "only_if:") ? g_strdup (cell + strlen ("only_if:")) : g_strdup (cell);
  g_auto (GStrv) words = g_strsplit (plain, ";", -1);
  g_autoptr (GString) list = g_string_new (NULL);

  rule->only_forms = ws_knowledge_keep_list (self, "");
  for (guint i = 0; words[i] != NULL; i++)
    if (g_str_has_prefix (words[i], "growth_form="))
      {
        g_auto (GStrv) forms = g_strsplit (words[i] + strlen ("growth_form="), "/", -1);
        g_autofree char *joined = g_strjoinv ("|", forms);

        rule->only_forms = ws_knowledge_keep_list (self, joined);
        for (guint f = 0; forms[f] != NULL; f++)
          if (ws_knowledge_find_growth_form (self, forms[f]) == NULL)
            return ws_table_fail (table, row, error, _("there is no growth form “%s”"), forms[f]);
      }
    else if (words[i][0] != '\0' && !g_str_equal (words[i], "sure"))
      {
        if (ws_knowledge_find_means (self, words[i]) == NULL)
          return ws_table_fail (table, row, error, _("there is no condition “%s”"), words[i]);
        g_string_append_printf (list, "%s%s", list->len > 0 ? "|" : "", words[i]);
      }
  rule->conditions = ws_knowledge_keep_list (self, list->str);
  return TRUE;
}

static gboolean
read_rule (WsKnowledge *self, WsTable *table, guint row, WsGroup *group, GError **error)
{
  const char *strength = ws_table_get (table, row, "strength");
  const WsCharacter *character = ws_knowledge_find_character (self, ws_table_get (table, row, "character"));
  WsGroupRule *rule;

  if (character == NULL || character->free_text)
    return ws_table_fail (table, row, error, _("there is no character “%s” with states"),
                          ws_table_get (table, row, "character"));
  rule = g_new0 (WsGroupRule, 1);
  g_ptr_array_add (group->rules, rule);
  rule->character = character->id;
  rule->states = ws_knowledge_keep_list (self, ws_table_get (table, row, "states"));
  if (g_str_equal (strength, "hard"))
    rule->strength = WS_RULE_HARD;
  else if (g_str_equal (strength, "soft"))
    rule->strength = WS_RULE_SOFT;
  else if (g_str_equal (strength, "keeps_open"))
    rule->strength = WS_RULE_KEEPS_OPEN;
  else
    return ws_table_fail (table, row, error, _("“%s” is not one of hard, soft, keeps_open, meta"), strength);
  return check_states (table, row, character, rule->states, error) && parse_conditions (self, table, row, rule, error);
}

static WsGroup *
group_named (WsKnowledge *self, const char *id)
{
  WsGroup *group = (WsGroup *) ws_knowledge_find_group (self, id);

  if (group != NULL)
    return group;
  group = g_new0 (WsGroup, 1);
  group->id = ws_knowledge_keep (self, id);
  group->severity = 1;
  group->rules = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (self->groups, group);
  return group;
}

gboolean
ws_knowledge_read_groups (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "group", "character", "states", "strength", "condition", "note", NULL };
  g_autoptr (WsTable) table = NULL;

  if (!read_conditions (self, tables, error))
    return FALSE;
  table = ws_knowledge_open (tables, "dangerous-groups.tsv", columns, error);
  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      WsGroup *group = group_named (self, ws_table_get (table, i, "group"));
      const char *character = ws_table_get (table, i, "character"), *states = ws_table_get (table, i, "states");

      if (g_str_equal (character, "@severity"))
        group->severity = g_str_has_prefix (states, "deadly") ? 3 : g_str_has_prefix (states, "serious") ? 2 : 1;
      else if (character[0] != '@' && !read_rule (self, table, i, group, error))
        return FALSE;
    }
  return table != NULL;
}

void
ws_group_free (WsGroup *group)
{
  g_ptr_array_unref (group->rules);
  g_free (group);
}

GPtrArray *
ws_knowledge_get_groups (const WsKnowledge *self)
{
  return self->groups;
}

GPtrArray *
ws_knowledge_get_means (const WsKnowledge *self)
{
  return self->means;
}

const WsGroup *
ws_knowledge_find_group (const WsKnowledge *self, const char *id)
{
  for (guint i = 0; i < self->groups->len; i++)
    if (g_str_equal (((const WsGroup *) g_ptr_array_index (self->groups, i))->id, id))
      return g_ptr_array_index (self->groups, i);
  return NULL;
}

const WsMeans *
ws_knowledge_find_means (const WsKnowledge *self, const char *condition)
{
  for (guint i = 0; i < self->means->len; i++)
    if (g_str_equal (((const WsMeans *) g_ptr_array_index (self->means, i))->id, condition))
      return g_ptr_array_index (self->means, i);
  return NULL;
}

GPtrArray *
ws_knowledge_dup_questions (const WsKnowledge *self, const char *character)
{
  GPtrArray *questions = g_ptr_array_new ();

  for (guint g = 0; g < self->groups->len; g++)
    {
      const WsGroup *group = g_ptr_array_index (self->groups, g);

      for (guint r = 0; r < group->rules->len; r++)
        {
          const WsGroupRule *rule = g_ptr_array_index (group->rules, r);

          for (guint c = 0; rule->strength == WS_RULE_HARD && g_str_equal (rule->character, character) && rule->conditions[c] != NULL; c++)
            {
              const WsMeans *means = ws_knowledge_find_means (self, rule->conditions[c]);

              if (means->character != NULL && !g_ptr_array_find (questions, means->id, NULL))
                g_ptr_array_add (questions, (gpointer) means->id);
            }
        }
    }
  return questions;
}
