/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shell-rig.h"

#include "ws-eaten-window.h"

static Shell shell;

static void
test_empty_library (void)
{
  static const char *const ids[] = { "call", "no_wait", "better", "say_who", "say_when", "say_how_much", "say_illness",
                                     "keep_1", "keep_2", "keep_3", "animal" };
  GtkWidget *window;

  g_test_summary ("SAFETY: with an empty library and no number stored it says to call the emergency number, what to say, "
                  "that feeling better is no all-clear, what to keep");
  shell_begin (&shell, NULL);
  window = ws_eaten_window_new (shell.session, NULL);
  shell_show (&shell, window, 640, 760);
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    shell_assert_says (window, ws_session_text (shell.session, "eaten", ids[i]));
  shell_assert_says (window, "your emergency number|");
  g_assert_null (shell_find (window, GTK_TYPE_BUTTON, "Call this number"));
  shell_end (&shell);
}

static void
test_number (void)
{
  GtkWidget *window;

  g_test_summary ("SAFETY: the stored number is there to be called, and a number stored meanwhile appears");
  shell_begin (&shell, NULL);
  window = ws_eaten_window_new (shell.session, NULL);
  shell_show (&shell, window, 640, 760);
  ws_session_set_setting (shell.session, WS_SETTING_POISON_NUMBER, "555 0100");
  shell_settle (&shell);
  shell_assert_says (window, "555 0100|");
  shell_assert_silent (window, "your emergency number|");
  g_assert_nonnull (shell_find (window, GTK_TYPE_BUTTON, "Call this number"));
  shell_end (&shell);
}

static void
test_offered_find (void)
{
  g_autoptr (WsFindItem) item = NULL;
  GtkWidget *window;

  g_test_summary ("The open find is offered at once, with its photos; an emergency request asks for nothing but a number");
  shell_begin (&shell, shell_fill_finds);
  item = g_list_model_get_item (ws_session_get_finds (shell.session), 0);
  window = ws_eaten_window_new (shell.session, ws_find_item_get_id (item));
  shell_show (&shell, window, 640, 760);
  shell_assert_says (window, "25-001|");
  g_assert_true (gtk_widget_is_sensitive (shell_find (window, GTK_TYPE_BUTTON, "Make an emergency request…")));
  g_clear_object (&item);
  shell_end (&shell);
}

static void
test_narrow (void)
{
  g_autoptr (WsFindItem) item = NULL;
  GtkWidget *window;
  int minimum;

  g_test_summary ("It fits a screen 360 px wide");
  shell_begin (&shell, shell_fill_finds);
  item = g_list_model_get_item (ws_session_get_finds (shell.session), 0);
  window = ws_eaten_window_new (shell.session, ws_find_item_get_id (item));
  shell_show (&shell, window, 640, 760);
  gtk_widget_measure (window, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  g_assert_cmpint (minimum, <=, 360);
  g_clear_object (&item);
  shell_end (&shell);
}

int
main (int argc, char **argv)
{
  shell_init (&argc, &argv);
  g_test_add_func ("/app/eaten-window/empty-library", test_empty_library);
  g_test_add_func ("/app/eaten-window/number", test_number);
  g_test_add_func ("/app/eaten-window/find", test_offered_find);
  g_test_add_func ("/app/eaten-window/narrow", test_narrow);
  return g_test_run ();
}
