/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shell-rig.h"

#include "ws-photo-shelf.h"

static Shell shell;

static void
assert_finds (const char *wanted)
{
  g_autofree char *text = test_finds_text (&shell.test);

  g_assert_cmpstr (text, ==, wanted);
}

static GtkWidget *
begin (void)
{
  GtkWidget *shelf = g_object_new (WS_TYPE_PHOTO_SHELF, NULL);

  shell_begin (&shell, shell_fill_finds);
  ws_photo_shelf_set_session (WS_PHOTO_SHELF (shelf), shell.session);
  shell_show (&shell, shelf, 700, 300);
  g_assert_false (gtk_widget_is_sensitive (shell_find (shelf, GTK_TYPE_BUTTON, "These are all one find")));
  gtk_widget_activate_action (shell_find (shelf, GTK_TYPE_LIST_VIEW, NULL), "list.select-item", "(ubb)", 0, FALSE, FALSE);
  shell_settle (&shell);
  return shelf;
}

static void
test_one_find (void)
{
  GtkWidget *shelf = begin ();

  g_test_summary ("Taken photos without time become one find, and the empty shelf goes away; undo brings it back");
  shell_click (&shell, shelf, "These are all one find");
  assert_finds ("25-001: a1.jpg | 25-002: b1.jpg | 00-001: u1.jpg");
  g_assert_false (gtk_widget_get_visible (shelf));
  ws_session_undo (shell.session);
  shell_settle (&shell);
  g_assert_true (gtk_widget_get_visible (shelf));
  shell_end (&shell);
}

static void
test_set_aside (void)
{
  GtkWidget *shelf = begin ();
  g_autoptr (GPtrArray) aside = NULL;
  g_autoptr (GError) error = NULL;

  shell_click (&shell, shelf, "Set aside");
  aside = ws_library_load_set_aside (shell.test.desk->library, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (aside->len, ==, 1);
  g_assert_false (gtk_widget_get_visible (shelf));
  shell_end (&shell);
}

static void
test_add_to (void)
{
  GtkWidget *shelf = begin ();
  GListModel *windows = gtk_window_get_toplevels ();
  g_autoptr (GtkWidget) chooser = NULL;
  GtkWidget *list;
  g_autoptr (WsFind) find = NULL;

  g_test_summary ("Taken photos are added to the find that is chosen, as of a later visit when that is said");
  shell_click (&shell, shelf, "Add to a find…");
  g_assert_cmpuint (g_list_model_get_n_items (windows), ==, 2);
  chooser = g_list_model_get_item (windows, 1);
  if (chooser == shell.window)
    {
      g_object_unref (chooser);
      chooser = g_list_model_get_item (windows, 0);
    }
  gtk_check_button_set_active (GTK_CHECK_BUTTON (shell_find (chooser, GTK_TYPE_CHECK_BUTTON,
                                                             "A later visit: the same specimen")), TRUE);
  list = shell_find (chooser, GTK_TYPE_LIST_VIEW, NULL);
  g_signal_emit_by_name (list, "activate", 0);
  shell_settle (&shell);
  assert_finds ("25-001: a1.jpg u1.jpg | 25-002: b1.jpg");
  find = test_find (&shell.test, "25-001");
  g_assert_cmpstr (((WsFindPhoto *) g_ptr_array_index (find->photos, 1))->visit, ==, "same");
  g_clear_object (&chooser);
  shell_end (&shell);
}

int
main (int argc, char **argv)
{
  shell_init (&argc, &argv);
  g_test_add_func ("/app/photo-shelf/one-find", test_one_find);
  g_test_add_func ("/app/photo-shelf/set-aside", test_set_aside);
  g_test_add_func ("/app/photo-shelf/add-to", test_add_to);
  return g_test_run ();
}
