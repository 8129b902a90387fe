/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-quantities.h"

#include "ws-intl.h"
#include "ws-knowledge-private.h"

gboolean
ws_knowledge_read_quantities (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "id", "unit", "part", NULL };
  static const char *const units[] = { "mm", "per_mm", "count", NULL };
  g_autoptr (WsTable) table = ws_knowledge_open (tables, "quantities.tsv", columns, error);

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      const char *id = ws_table_get (table, i, "id"), *unit = ws_table_get (table, i, "unit");
      const WsPart *part = ws_knowledge_find_part (self, ws_table_get (table, i, "part"));
      WsQuantity *quantity;

      if (*id == '\0' || ws_knowledge_find_quantity (self, id) != NULL)
        return ws_table_fail (table, i, error, _("the id “%s” is empty or stands twice"), id);
      if (!g_strv_contains (units, unit))
        return ws_table_fail (table, i, error, _("“%s” is not one of mm, per_mm, count"), unit);
      if (part == NULL)
        return ws_table_fail (table, i, error, _("there is no part “%s”"), ws_table_get (table, i, "part"));
      quantity = g_new0 (WsQuantity, 1);
      g_ptr_array_add (self->quantities, quantity);
      quantity->id = ws_knowledge_keep (self, id);
      quantity->unit = ws_knowledge_keep (self, unit);
      quantity->is_length = g_str_equal (unit, "mm");
      quantity->part = part->id;
    }
  return table != NULL;
}

GPtrArray *
ws_knowledge_get_quantities (const WsKnowledge *self)
{
  return self->quantities;
}

const WsQuantity *
ws_knowledge_find_quantity (const WsKnowledge *self, const char *id)
{
  for (guint i = 0; i < self->quantities->len; i++)
    if (g_strcmp0 (((const WsQuantity *) g_ptr_array_index (self->quantities, i))->id, id) == 0)
      return g_ptr_array_index (self->quantities, i);
  return NULL;
}
