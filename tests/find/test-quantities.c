/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "find-support.h"
#include "ws-error.h"
#include "ws-quantities.h"

#include <string.h>

static void
test_table (void)
{
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();
  GPtrArray *all = ws_knowledge_get_quantities (knowledge);

  g_test_summary ("every quantity has a part, a unit and a text in every language; there is none for taste");
  g_assert_cmpuint (all->len, >, 10);
  for (guint i = 0; i < all->len; i++)
    {
      const WsQuantity *quantity = g_ptr_array_index (all, i);

      g_test_message ("%s", quantity->id);
      g_assert_nonnull (ws_knowledge_find_part (knowledge, quantity->part));
      g_assert_cmpint (quantity->is_length, ==, g_str_equal (quantity->unit, "mm"));
      g_assert_true (ws_knowledge_has_text (knowledge, "quantity", quantity->id));
      g_assert_cmpstr (ws_knowledge_text (knowledge, "de", "quantity", quantity->id), !=,
                       ws_knowledge_text (knowledge, "en", "quantity", quantity->id));
    }
  g_assert_null (ws_knowledge_find_quantity (knowledge, "taste"));
  g_assert_null (ws_knowledge_find_quantity (knowledge, NULL));
}

static void
test_broken (void)
{
  static const struct { const char *what, *with; } cases[] = {
    { "cap_height\tmm\tcap", "cap_width\tmm\tcap" }, { "cap_height\tmm\tcap", "\tmm\tcap" },
    { "cap_height\tmm\tcap", "cap_height\tinches\tcap" }, { "cap_height\tmm\tcap", "cap_height\tmm\that" } };

  g_test_summary ("a row that is empty, stands twice, or names a unit or part that there is not is refused with its line");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GHashTable) tables = support_load_tables ();
      g_autoptr (GError) error = NULL;
      g_autoptr (WsKnowledge) knowledge = NULL;

      support_replace (tables, "quantities.tsv", cases[i].what, cases[i].with);
      knowledge = ws_knowledge_parse (tables, &error);
      g_assert_null (knowledge);
      g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
      g_assert_nonnull (strstr (error->message, "quantities.tsv"));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/quantities/table", test_table);
  g_test_add_func ("/find/quantities/broken", test_broken);
  return g_test_run ();
}
