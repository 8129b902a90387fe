/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shell-rig.h"

#include <string.h>

#include "ws-finds-page.h"
#include "ws-record.h"

static Shell shell;

static GtkWidget *
begin (void (*fill) (TestDesk *test), int width)
{
  GtkWidget *page;

  shell_begin (&shell, fill);
  page = ws_finds_page_new (shell.session);
  shell_show (&shell, page, width, 700);
  return page;
}

static void
test_empty (void)
{
  GtkWidget *page = begin (NULL, 700);
  static const char *const cautions[] = { "photos_never", "poison", "law" };

  g_test_summary ("SAFETY: an empty library says what to do, and the cautions stand there already");
  g_assert_nonnull (shell_find (page, GTK_TYPE_BUTTON, "Add photos…"));
  g_assert_nonnull (shell_find (page, GTK_TYPE_BUTTON, "Open a folder or card…"));
  for (gsize i = 0; i < G_N_ELEMENTS (cautions); i++)
    shell_assert_says (page, ws_session_text (shell.session, "caution", cautions[i]));
  shell_end (&shell);
}

static void
test_lines (void)
{
  GtkWidget *page = begin (shell_fill_finds, 700);

  g_test_summary ("SAFETY: forays as dated headings, finds as lines that say that the base is not shown; the cautions at the foot");
  shell_assert_says (page, "Saturday, 4 October 2025|");
  shell_assert_says (page, "25-001|no field name yet|14:00 · 1 photo|Stem base: missing · ");
  shell_assert_says (page, "25-002|");
  shell_assert_says (page, "1 photo not in a find yet|");
  shell_assert_says (page, ws_session_text (shell.session, "caution", "photos_never"));
  shell_end (&shell);
}

static void
excuse_base (TestDesk *test)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = NULL;

  shell_fill_finds (test);
  find = test_find (test, "25-001");
  ws_record_excuse (test->desk, find->id, "v_base", "it broke off", &error);
  g_assert_no_error (error);
}

static void
test_excuse (void)
{
  GtkWidget *page = begin (excuse_base, 700);

  g_test_summary ("SAFETY: why the base cannot be had is said beside the line, and the base stays missing");
  shell_assert_says (page, "Stem base: missing · ");
  shell_assert_says (page, "cannot be had: it broke off");
  shell_end (&shell);
}

static void
type_search (GtkWidget *page, const char *text)
{
  GtkWidget *entry = shell_find (page, GTK_TYPE_SEARCH_ENTRY, NULL);

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  g_signal_emit_by_name (entry, "search-changed");
  shell_settle (&shell);
}

static void
test_search (void)
{
  GtkWidget *page = begin (shell_fill_finds, 700);

  g_test_summary ("Searching leaves the lines that have the words; nothing found says so; emptied, all are back");
  ws_finds_page_search (WS_FINDS_PAGE (page));
  shell_settle (&shell);
  type_search (page, "25-002");
  shell_assert_says (page, "25-002|");
  shell_assert_silent (page, "25-001|");
  type_search (page, "nowhere");
  shell_assert_says (page, "No find has these words");
  type_search (page, "");
  shell_assert_says (page, "25-001|");
  shell_end (&shell);
}

/* --- Taking lines ------------------------------------------------------------------------------------- */

/* The list of finds; the shelf of loose photos is a list as well, but lies on its side. */
static GtkWidget *
find_list (GtkWidget *root)
{
  if (GTK_IS_LIST_VIEW (root) && gtk_orientable_get_orientation (GTK_ORIENTABLE (root)) == GTK_ORIENTATION_VERTICAL)
    return root;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *list = find_list (child);

      if (list != NULL)
        return list;
    }
  return NULL;
}

static void
take (GtkWidget *page, guint place)
{
  gtk_widget_activate_action (find_list (page), "list.select-item", "(ubb)", place, TRUE, FALSE);
  shell_settle (&shell);
}

static void
opened_cb (char **opened, const char *id)
{
  g_free (*opened);
  *opened = g_strdup (id);
}

static void
test_open (void)
{
  GtkWidget *page = begin (shell_fill_finds, 700);
  g_autofree char *opened = NULL;
  g_autoptr (WsFindItem) second = g_list_model_get_item (ws_session_get_finds (shell.session), 1);

  g_test_summary ("One taken line can be opened and asked about");
  g_signal_connect_swapped (page, "open-find", G_CALLBACK (opened_cb), &opened);
  g_signal_connect_swapped (page, "ask", G_CALLBACK (opened_cb), &opened);
  take (page, 2);
  shell_click (&shell, page, "Open");
  g_assert_cmpstr (opened, ==, ws_find_item_get_id (second));
  g_clear_pointer (&opened, g_free);
  shell_click (&shell, page, "Ask somebody…");
  g_assert_cmpstr (opened, ==, ws_find_item_get_id (second));
  g_clear_object (&second);
  shell_end (&shell);
}

static void
assert_finds (const char *wanted)
{
  g_autofree char *text = test_finds_text (&shell.test);

  g_assert_cmpstr (text, ==, wanted);
}

static void
test_merge (void)
{
  GtkWidget *page = begin (shell_fill_finds, 700);

  g_test_summary ("A taken line is merged with the one above it; undo parts them again");
  take (page, 2);
  shell_click (&shell, page, "Merge");
  assert_finds ("25-001: a1.jpg b1.jpg / unsorted: u1.jpg");
  ws_session_undo (shell.session);
  shell_settle (&shell);
  assert_finds ("25-001: a1.jpg | 25-002: b1.jpg / unsorted: u1.jpg");
  shell_end (&shell);
}

static void
test_remove (void)
{
  GtkWidget *page = begin (shell_fill_finds, 700);

  g_test_summary ("A removed find leaves its photos loose and says that undo brings it back");
  take (page, 1);
  shell_click (&shell, page, "Remove");
  assert_finds ("25-002: b1.jpg / unsorted: a1.jpg u1.jpg");
  g_assert_nonnull (strstr (shell.said->str, "Undo brings it back"));
  ws_session_undo (shell.session);
  shell_settle (&shell);
  assert_finds ("25-001: a1.jpg | 25-002: b1.jpg / unsorted: u1.jpg");
  shell_end (&shell);
}

static void
test_narrow (void)
{
  GtkWidget *page = begin (shell_fill_finds, 324);
  int minimum;

  g_test_summary ("The page and the bar of what can be done fit a window 360 px wide, beside the thumb index");
  take (page, 1);
  gtk_widget_measure (page, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  g_assert_cmpint (minimum, <=, 324);
  shell_end (&shell);
}

int
main (int argc, char **argv)
{
  shell_init (&argc, &argv);
  g_test_add_func ("/app/finds-page/empty", test_empty);
  g_test_add_func ("/app/finds-page/lines", test_lines);
  g_test_add_func ("/app/finds-page/excuse", test_excuse);
  g_test_add_func ("/app/finds-page/search", test_search);
  g_test_add_func ("/app/finds-page/open", test_open);
  g_test_add_func ("/app/finds-page/merge", test_merge);
  g_test_add_func ("/app/finds-page/remove", test_remove);
  g_test_add_func ("/app/finds-page/narrow", test_narrow);
  return g_test_run ();
}
