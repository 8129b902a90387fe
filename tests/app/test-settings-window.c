/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shell-rig.h"

#include "ws-settings-window.h"

static Shell shell;

static void
test_write (void)
{
  GtkWidget *window;
  GtkWidget *number;

  g_test_summary ("The first start asks for the number and writes it down, without the blanks around it");
  shell_begin (&shell, NULL);
  window = ws_settings_window_new (shell.session, TRUE);
  shell_show (&shell, window, 460, 300);
  shell_assert_says (window, "Telephone number of your poison service|");
  number = shell_find (window, GTK_TYPE_ENTRY, NULL);
  gtk_editable_set_text (GTK_EDITABLE (number), " 555 0100 ");
  shell.window = NULL;   /* it closes itself */
  shell_click (&shell, window, "Write them down");
  g_assert_cmpstr (ws_session_get_setting (shell.session, WS_SETTING_POISON_NUMBER), ==, "555 0100");
  g_assert_cmpstr (ws_session_get_setting (shell.session, WS_SETTING_FIRST_ASKED), ==, "yes");
  shell_end (&shell);
}

static void
test_skip (void)
{
  GtkWidget *window;

  g_test_summary ("Not now is an answer: nothing is written down, and it is not asked again");
  shell_begin (&shell, NULL);
  window = ws_settings_window_new (shell.session, TRUE);
  shell_show (&shell, window, 460, 300);
  shell.window = NULL;
  shell_click (&shell, window, "Not now");
  g_assert_cmpstr (ws_session_get_setting (shell.session, WS_SETTING_POISON_NUMBER), ==, "");
  g_assert_cmpstr (ws_session_get_setting (shell.session, WS_SETTING_FIRST_ASKED), ==, "yes");
  shell_end (&shell);
}

int
main (int argc, char **argv)
{
  shell_init (&argc, &argv);
  g_test_add_func ("/app/settings-window/write", test_write);
  g_test_add_func ("/app/settings-window/skip", test_skip);
  return g_test_run ();
}
