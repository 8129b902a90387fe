/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-finds-lines.h"

#include "ws-desk.h"

static WsKnowledge *knowledge;
static GString *changes;

static WsFindItem *
make_item (const char *id, const WsForay *foray)
{
  g_autoptr (WsFind) find = ws_find_new ();

  ws_set_string (&find->id, id);
  ws_set_string (&find->number, id);
  g_free (find->foray_id);
  find->foray_id = foray != NULL ? g_strdup (foray->id) : NULL;
  return ws_find_item_new (find, ws_evidence_judge (find, knowledge, "en"), foray);
}

static WsForay *
make_foray (const char *id, const char *place)
{
  WsForay *foray = ws_foray_new ();

  ws_set_string (&foray->id, id);
  ws_set_string (&foray->place, place);
  return foray;
}

static void
add (GListStore *store, const char *id, const WsForay *foray)
{
  g_autoptr (WsFindItem) item = make_item (id, foray);

  g_list_store_append (store, item);
}

/* "[f1] a b [] c" */
static void
assert_lines (WsFindsLines *lines, const char *wanted)
{
  GListModel *list = ws_finds_lines_get_list (lines);
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < g_list_model_get_n_items (list); i++)
    {
      g_autoptr (WsFindsLine) line = g_list_model_get_item (list, i);
      WsFindItem *item = ws_finds_line_get_item (line);
      const WsForay *foray = ws_finds_line_get_foray (line);

      g_string_append (text, i > 0 ? " " : "");
      if (item != NULL)
        g_string_append (text, ws_find_item_get_id (item));
      else
        g_string_append_printf (text, "[%s]", foray != NULL ? foray->place : "");
    }
  g_assert_cmpstr (text->str, ==, wanted);
}

static void
changed_cb (GListModel *list, guint position, guint removed, guint added)
{
  g_string_append_printf (changes, "%u-%u+%u ", position, removed, added);
}

static void
assert_changes (const char *wanted)
{
  g_assert_cmpstr (changes->str, ==, wanted);
  g_string_truncate (changes, 0);
}

static void
test_lines (void)
{
  g_autoptr (GListStore) store = g_list_store_new (WS_TYPE_FIND_ITEM);
  g_autoptr (WsForay) first = make_foray ("f1", "fen");
  g_autoptr (WsForay) second = make_foray ("f2", "wood");
  g_autoptr (WsFindsLines) lines = NULL;
  g_autoptr (GHashTable) only = g_hash_table_new (g_str_hash, g_str_equal);

  g_test_summary ("Each foray is one heading above its finds; lines that stay are not touched when others come and go");
  changes = g_string_new (NULL);
  add (store, "a", first);
  add (store, "b", first);
  add (store, "c", NULL);
  lines = ws_finds_lines_new (G_LIST_MODEL (store));
  g_signal_connect (ws_finds_lines_get_list (lines), "items-changed", G_CALLBACK (changed_cb), NULL);
  assert_lines (lines, "[fen] a b [] c");
  g_assert_cmpint (ws_finds_lines_get_place (lines, "b"), ==, 2);
  g_assert_cmpint (ws_finds_lines_get_place (lines, "z"), ==, -1);

  g_list_store_remove (store, 1);
  assert_lines (lines, "[fen] a [] c");
  assert_changes ("2-1+0 ");
  {
    g_autoptr (WsFindItem) item = make_item ("d", second);

    g_list_store_insert (store, 0, item);
  }
  assert_lines (lines, "[wood] d [fen] a [] c");
  assert_changes ("0-0+2 ");

  g_hash_table_add (only, (char *) "c");
  ws_finds_lines_set_only (lines, only);
  assert_lines (lines, "[] c");
  ws_finds_lines_set_only (lines, NULL);
  assert_lines (lines, "[wood] d [fen] a [] c");
  g_string_free (changes, TRUE);
}

static void
count (int *n)
{
  (*n)++;
}

static void
test_heading_changes (void)
{
  g_autoptr (GListStore) store = g_list_store_new (WS_TYPE_FIND_ITEM);
  g_autoptr (WsForay) before = make_foray ("f1", "fen");
  g_autoptr (WsForay) after = make_foray ("f1", "heath");
  g_autoptr (WsFindsLines) lines = NULL;
  g_autoptr (WsFindsLine) heading = NULL;
  g_autoptr (WsFindItem) item = NULL;
  g_autoptr (WsFind) find = NULL;
  int n = 0;

  g_test_summary ("A heading whose foray reads differently says so and stays the same line");
  add (store, "a", before);
  lines = ws_finds_lines_new (G_LIST_MODEL (store));
  heading = g_list_model_get_item (ws_finds_lines_get_list (lines), 0);
  g_signal_connect_swapped (heading, "changed", G_CALLBACK (count), &n);
  ws_finds_lines_refresh (lines);
  g_assert_cmpint (n, ==, 0);
  item = g_list_model_get_item (G_LIST_MODEL (store), 0);
  find = ws_find_ref (ws_find_item_get_find (item));
  ws_find_item_update (item, find, ws_evidence_judge (find, knowledge, "en"), after);
  ws_finds_lines_refresh (lines);
  g_assert_cmpint (n, ==, 1);
  assert_lines (lines, "[heath] a");
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  knowledge = ws_desk_builtin_knowledge (NULL);
  g_assert_nonnull (knowledge);
  g_test_add_func ("/app/finds-lines/lines", test_lines);
  g_test_add_func ("/app/finds-lines/heading-changes", test_heading_changes);
  status = g_test_run ();
  ws_knowledge_unref (knowledge);
  return status;
}
