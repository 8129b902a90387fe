/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The leaves Notes and Still open, and the page To go back for, over a real library. */
#include "shell-rig.h"

#include "ws-go-back-page.h"
#include "ws-notes-leaf.h"
#include "ws-open-leaf.h"
#include "ws-record.h"

static Shell shell;

static void
fill (TestDesk *test)
{
  shell_fill_finds (test);
  g_assert_true (ws_record_note (test->desk, "25-001", "ring", "hanging|zone", FALSE, FALSE, NULL, NULL));
  g_assert_true (ws_record_note (test->desk, "25-001", "fertile_surface", "pores", TRUE, FALSE, NULL, NULL));
}

static WsFindItem *
first_find (void)
{
  GListModel *finds = ws_session_get_finds (shell.session);

  for (guint i = 0; i < g_list_model_get_n_items (finds); i++)
    {
      g_autoptr (WsFindItem) item = g_list_model_get_item (finds, i);

      if (g_str_equal (ws_find_item_get_find (item)->number, "25-001"))
        return item;
    }
  g_assert_not_reached ();
}

static const WsNote *
note_of (const char *character)
{
  const WsFind *find = ws_find_item_get_find (first_find ());

  for (guint i = 0; i < find->notes->len; i++)
    if (g_str_equal (((WsNote *) g_ptr_array_index (find->notes, i))->character, character))
      return g_ptr_array_index (find->notes, i);
  return NULL;
}

/* The check button "sure" of the row that shows @text. */
static GtkWidget *
sure_of (GtkWidget *leaf, const char *text)
{
  GtkWidget *label = shell_find (leaf, GTK_TYPE_LABEL, text);

  g_assert_nonnull (label);
  for (GtkWidget *w = gtk_widget_get_parent (label); w != NULL; w = gtk_widget_get_parent (w))
    if (g_str_equal (gtk_widget_get_css_name (w), "note-row"))
      return shell_find (w, GTK_TYPE_CHECK_BUTTON, "sure");
  g_assert_not_reached ();
}

static void
test_sure (void)
{
  GtkWidget *leaf;

  g_test_summary ("Ticking sure keeps the states, although nobody opened the choices; unticking too");
  shell_begin (&shell, fill);
  leaf = ws_notes_leaf_new (shell.session);
  ws_notes_leaf_set_item (WS_NOTES_LEAF (leaf), first_find ());
  shell_show (&shell, leaf, 600, 800);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (sure_of (leaf, "Ring")), TRUE);
  shell_settle (&shell);
  g_assert_nonnull (note_of ("ring"));
  g_assert_true (note_of ("ring")->sure);
  g_assert_cmpstr (note_of ("ring")->states[0], ==, "hanging");
  g_assert_cmpstr (note_of ("ring")->states[1], ==, "zone");
  gtk_check_button_set_active (GTK_CHECK_BUTTON (sure_of (leaf, "Ring")), FALSE);
  shell_settle (&shell);
  g_assert_false (note_of ("ring")->sure);
  g_assert_cmpuint (g_strv_length (note_of ("ring")->states), ==, 2);
  /* What is not noted stays not noted. */
  gtk_check_button_set_active (GTK_CHECK_BUTTON (sure_of (leaf, "Stem base")), TRUE);
  shell_settle (&shell);
  g_assert_null (note_of ("stem_base"));
  shell_end (&shell);
}

static void
test_open (void)
{
  GtkWidget *leaf;

  g_test_summary ("What does not fit names note and time and is taken back in one step, which undo brings again; the limits of the list are said");
  shell_begin (&shell, fill);
  leaf = ws_open_leaf_new (shell.session);
  ws_open_leaf_set_item (WS_OPEN_LEAF (leaf), first_find ());
  shell_show (&shell, leaf, 600, 900);
  shell_assert_says (leaf, "Does not fit your notes, if they are right");
  shell_assert_says (leaf, "Fertile surface: pores, sponge, recorded ");
  shell_assert_says (leaf, "no mycologist has reviewed it for your region");
  shell_assert_says (leaf, "Not on the list, among others");
  shell_assert_says (leaf, "could help tell");
  shell_assert_says (leaf, "Brown roll-rim");
  shell_click (&shell, leaf, "Take back");
  shell_settle (&shell);
  g_assert_null (note_of ("fertile_surface"));
  shell_assert_silent (leaf, "Does not fit your notes");
  ws_session_undo (shell.session);
  shell_settle (&shell);
  g_assert_nonnull (note_of ("fertile_surface"));
  shell_assert_says (leaf, "Does not fit your notes");
  shell_end (&shell);
}

static void
test_go_back (void)
{
  WsMoment when = WS_MOMENT_INIT;
  GtkWidget *page;

  g_test_summary ("The list names each fresh find with what is missing; a year later it is empty, and says that older finds lack what they lack");
  shell_begin (&shell, fill);
  page = ws_go_back_page_new (shell.session);
  shell_show (&shell, page, 700, 900);
  g_assert_true (ws_moment_set_local (&when, "2025-10-04T23:00:00"));
  ws_go_back_page_set_now (WS_GO_BACK_PAGE (page), when.local_us);
  shell_settle (&shell);
  shell_assert_says (page, "25-001");
  shell_assert_says (page, "25-002");
  shell_assert_says (page, "Stem base");
  shell_assert_says (page, "do not touch them");
  g_assert_true (ws_moment_set_local (&when, "2026-10-04T23:00:00"));
  ws_go_back_page_set_now (WS_GO_BACK_PAGE (page), when.local_us);
  shell_settle (&shell);
  shell_assert_silent (page, "25-001");
  shell_assert_says (page, "Older finds are not listed, whatever they lack");
  shell_end (&shell);
}

int
main (int argc, char **argv)
{
  shell_init (&argc, &argv);
  g_test_add_func ("/app/note-leaves/sure", test_sure);
  g_test_add_func ("/app/note-leaves/open", test_open);
  g_test_add_func ("/app/note-leaves/go-back", test_go_back);
  return g_test_run ();
}
