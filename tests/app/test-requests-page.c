/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shell-rig.h"

#include "ws-ask.h"
#include "ws-requests-page.h"

static Shell shell;

static void
ask_once (TestDesk *test)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = NULL;
  WsAskOptions options = WS_ASK_OPTIONS_INIT;

  shell_fill_finds (test);
  find = test_find (test, "25-001");
  options.to = "the group";
  options.question = "Which one is it?";
  options.without_base = "gone";
  g_assert_true (ws_ask (test->desk, find->id, &options, NULL, FALSE, NULL, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
}

static void
correct_cb (int *n, const char *find_id, const char *request_id)
{
  g_assert_nonnull (ws_session_get_item (shell.session, find_id));
  (*n)++;
}

static void
test_requests (void)
{
  GtkWidget *page;
  int corrections = 0;

  g_test_summary ("Made and sent are two facts: a request is not sent until somebody says so, and that can be taken back");
  shell_begin (&shell, ask_once);
  page = ws_requests_page_new (shell.session);
  g_signal_connect_swapped (page, "correct", G_CALLBACK (correct_cb), &corrections);
  shell_show (&shell, page, 700, 500);
  shell_assert_says (page, "25-001|To the group|Which one is it?|Made ");
  shell_assert_says (page, "not said to be sent|");
  shell_click (&shell, page, "It was sent");
  shell_assert_says (page, ", sent ");
  shell_click (&shell, page, "It was not sent");
  shell_assert_says (page, "not said to be sent|");
  shell_click (&shell, page, "Correct it…");
  g_assert_cmpint (corrections, ==, 1);
  shell_end (&shell);
}

static void
test_none (void)
{
  GtkWidget *page;

  shell_begin (&shell, NULL);
  page = ws_requests_page_new (shell.session);
  shell_show (&shell, page, 700, 500);
  shell_assert_says (page, "Nobody was asked yet|");
  shell_end (&shell);
}

int
main (int argc, char **argv)
{
  shell_init (&argc, &argv);
  g_test_add_func ("/app/requests-page/requests", test_requests);
  g_test_add_func ("/app/requests-page/none", test_none);
  return g_test_run ();
}
