/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What fits what: characters and growth forms (applies.tsv), growth forms and fertile surfaces (surfaces.tsv), and how long
 * evidence lasts (go-back.tsv). */
#include "ws-knowledge-private.h"

#include "ws-intl.h"

#include <string.h>

static gboolean
read_applies (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "character", "growth_forms", "asked_with", NULL };
  g_autoptr (WsTable) table = ws_knowledge_open (tables, "applies.tsv", columns, error);

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      const char *id = ws_table_get (table, i, "character"), *with = ws_table_get (table, i, "asked_with");
      WsCharacter *character = (WsCharacter *) ws_knowledge_find_character (self, id);
      const WsCharacter *host = *with != '\0' ? ws_knowledge_find_character (self, with) : NULL;

      if (character == NULL || (*with != '\0' && (host == NULL || host == character)))
        return ws_table_fail (table, i, error, _("there is no character “%s”"), character == NULL ? id : with);
      character->forms = ws_knowledge_keep_list (self, ws_table_get (table, i, "growth_forms"));
      character->asked_with = host != NULL ? host->id : NULL;
      for (guint f = 0; character->forms[f] != NULL; f++)
        if (ws_knowledge_find_growth_form (self, character->forms[f]) == NULL)
          return ws_table_fail (table, i, error, _("there is no growth form “%s”"), character->forms[f]);
    }
  return table != NULL;
}

static gboolean
read_surfaces (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "growth_form", "surfaces", NULL };
  g_autoptr (WsTable) table = ws_knowledge_open (tables, "surfaces.tsv", columns, error);
  const WsCharacter *surface = ws_knowledge_find_character (self, "fertile_surface");

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      const char *id = ws_table_get (table, i, "growth_form");
      WsGrowthForm *form = (WsGrowthForm *) ws_knowledge_find_growth_form (self, id);

      if (form == NULL)
        return ws_table_fail (table, i, error, _("there is no growth form “%s”"), id);
      form->surfaces = ws_knowledge_keep_list (self, ws_table_get (table, i, "surfaces"));
      for (guint s = 0; form->surfaces[s] != NULL; s++)
        if (surface == NULL || !ws_character_has_state (surface, form->surfaces[s]))
          return ws_table_fail (table, i, error, _("the character %s has no state “%s”"), "fertile_surface", form->surfaces[s]);
    }
  return table != NULL;
}

/* --- How long evidence lasts ---------------------------------------------------------------------------------- */

static gboolean
read_hours (WsTable *table, guint row, const char *column, guint *hours, GError **error)
{
  const char *cell = ws_table_get (table, row, column);
  char *end = NULL;
  guint64 number = g_ascii_strtoull (cell, &end, 10);

  *hours = 0;
  if (g_str_equal (cell, "-"))
    return TRUE;
  if (!g_ascii_isdigit (*cell) || *end != '\0' || number < 1 || number > 24 * 3650)
    return ws_table_fail (table, row, error, _("“%s” is neither a number of hours nor “-”"), cell);
  *hours = (guint) number;
  return TRUE;
}

/* "ring=cobweb|woolly" */
static gboolean
read_note (WsKnowledge *self, WsTable *table, guint row, const char *cell, WsLasting *lasting, GError **error)
{
  const char *equals = strchr (cell, '=');
  g_autofree char *name = equals != NULL ? g_strndup (cell, (gsize) (equals - cell)) : NULL;
  const WsCharacter *character = name != NULL ? ws_knowledge_find_character (self, name) : NULL;

  if (character == NULL)
    return ws_table_fail (table, row, error, _("“%s” is not CHARACTER=STATE of a character that there is"), cell);
  lasting->id = character->id;
  lasting->states = ws_knowledge_keep_list (self, equals + 1);
  for (guint s = 0; lasting->states[s] != NULL; s++)
    if (!ws_character_has_state (character, lasting->states[s]))
      return ws_table_fail (table, row, error, _("the character %s has no state “%s”"), character->id, lasting->states[s]);
  return TRUE;
}

static gboolean
read_lasting (WsKnowledge *self, WsTable *table, guint row, GError **error)
{
  const char *kind = ws_table_get (table, row, "kind"), *id = ws_table_get (table, row, "id");
  WsLasting *lasting = g_new0 (WsLasting, 1);

  g_ptr_array_add (self->lastings, lasting);
  lasting->kind = ws_knowledge_keep (self, kind);
  lasting->id = ws_knowledge_keep (self, id);
  lasting->states = ws_knowledge_keep_list (self, "");
  if (!read_hours (table, row, "kept", &lasting->kept_h, error) || !read_hours (table, row, "spot", &lasting->spot_h, error))
    return FALSE;
  if (g_str_equal (kind, "note"))
    return read_note (self, table, row, id, lasting, error);
  if (g_str_equal (kind, "view") && ws_knowledge_find_view (self, id) == NULL)
    return ws_table_fail (table, row, error, _("there is no view “%s”"), id);
  if (g_str_equal (kind, "form") && ws_knowledge_find_growth_form (self, id) == NULL)
    return ws_table_fail (table, row, error, _("there is no growth form “%s”"), id);
  if (!g_str_equal (kind, "view") && !g_str_equal (kind, "form") && !g_str_equal (kind, "reason"))
    return ws_table_fail (table, row, error, _("“%s” is not one of view, form, reason, note"), kind);
  return TRUE;
}

gboolean
ws_knowledge_read_fitting (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "kind", "id", "kept", "spot", NULL };
  g_autoptr (WsTable) table = NULL;

  if (!read_applies (self, tables, error) || !read_surfaces (self, tables, error))
    return FALSE;
  table = ws_knowledge_open (tables, "go-back.tsv", columns, error);
  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    if (!read_lasting (self, table, i, error))
      return FALSE;
  return table != NULL;
}

/* --- Look-ups --------------------------------------------------------------------------------------------------- */

GPtrArray *
ws_knowledge_get_lastings (const WsKnowledge *self)
{
  return self->lastings;
}

const char *
ws_character_get_term (const WsCharacter *character, const char *state)
{
  for (guint i = 0; i < character->states->len; i++)
    if (g_str_equal (g_ptr_array_index (character->states, i), state))
      return g_ptr_array_index (character->terms, i);
  return "";
}

gboolean
ws_character_applies (const WsCharacter *character, const char *growth_form)
{
  return growth_form == NULL || growth_form[0] == '\0' || character->forms[0] == NULL ||
         g_strv_contains (character->forms, growth_form);
}
