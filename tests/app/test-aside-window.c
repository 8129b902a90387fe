/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shell-rig.h"

#include "ws-arrange.h"
#include "ws-aside-window.h"

static Shell shell;

static void
set_one_aside (TestDesk *test)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *id = NULL;

  shell_fill_finds (test);
  id = test_photo_id (test, "u1.jpg");
  ws_arrange_set_aside (test->desk, (const char *const []) { id, NULL }, TRUE, &error);
  g_assert_no_error (error);
}

static void
test_bring_back (void)
{
  GtkWidget *window;
  GtkWidget *button;

  g_test_summary ("A photo that was set aside is brought back to the loose ones, and then none is left here");
  shell_begin (&shell, set_one_aside);
  g_assert_cmpuint (ws_session_get_unsorted (shell.session)->len, ==, 0);
  window = ws_aside_window_new (shell.session);
  shell_show (&shell, window, 560, 480);
  button = shell_find (window, GTK_TYPE_BUTTON, "Bring them back");
  g_assert_false (gtk_widget_is_sensitive (button));
  gtk_widget_activate_action (shell_find (window, GTK_TYPE_GRID_VIEW, NULL), "list.select-item", "(ubb)", 0, FALSE, FALSE);
  shell_settle (&shell);
  shell_click (&shell, window, "Bring them back");
  g_assert_cmpuint (ws_session_get_unsorted (shell.session)->len, ==, 1);
  shell_assert_says (window, "No photo is set aside.|");
  shell_end (&shell);
}

int
main (int argc, char **argv)
{
  shell_init (&argc, &argv);
  g_test_add_func ("/app/aside-window/bring-back", test_bring_back);
  return g_test_run ();
}
