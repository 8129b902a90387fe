/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-list.h"

static GString *changes;

static void
changed_cb (GListModel *list, guint position, guint removed, guint added)
{
  g_string_append_printf (changes, "%u-%u+%u ", position, removed, added);
}

/* One object for each letter, so that a text names a list. */
static GObject *letters[26];

static GPtrArray *
make (const char *text)
{
  GPtrArray *items = g_ptr_array_new ();

  for (; *text != '\0'; text++)
    {
      if (letters[*text - 'a'] == NULL)
        letters[*text - 'a'] = g_object_new (G_TYPE_OBJECT, NULL);
      g_ptr_array_add (items, letters[*text - 'a']);
    }
  return items;
}

static void
assert_list (GListStore *list, const char *text)
{
  g_autoptr (GPtrArray) items = make (text);

  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (list)), ==, items->len);
  for (guint i = 0; i < items->len; i++)
    {
      g_autoptr (GObject) item = g_list_model_get_item (G_LIST_MODEL (list), i);

      g_assert_true (item == g_ptr_array_index (items, i));
    }
}

static void
test_changes (void)
{
  static const struct { const char *from, *to, *changes; } cases[] = {
    { "", "", "" },         { "", "abc", "0-0+3 " },   { "abc", "abc", "" },      { "abc", "", "0-3+0 " },
    { "abc", "abxc", "2-0+1 " }, { "abc", "ac", "1-1+0 " }, { "abc", "xbc", "0-1+1 " }, { "abc", "abx", "2-1+1 " },
    { "aaa", "aa", "2-1+0 " }, { "abcd", "acbd", "1-2+2 " },
  };

  g_test_summary ("Only the stretch that differs is replaced, in one change");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GListStore) list = g_list_store_new (G_TYPE_OBJECT);
      g_autoptr (GPtrArray) from = make (cases[i].from);
      g_autoptr (GPtrArray) wanted = make (cases[i].to);

      ws_list_set_items (list, from);
      changes = g_string_new (NULL);
      g_signal_connect (list, "items-changed", G_CALLBACK (changed_cb), NULL);
      ws_list_set_items (list, wanted);
      assert_list (list, cases[i].to);
      g_assert_cmpstr (changes->str, ==, cases[i].changes);
      g_string_free (changes, TRUE);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/list/changes", test_changes);
  return g_test_run ();
}
