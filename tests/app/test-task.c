/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-task.h"

#include <gio/gio.h>

static GMutex lock;
static GCond changed;
static gboolean gate_open;
static GString *log_text;
static GThread *main_thread;
static int freed;   /* atomic */

static void
note (const char *text)
{
  g_mutex_lock (&lock);
  g_string_append_printf (log_text, "%s ", text);
  g_mutex_unlock (&lock);
}

static void
begin (void)
{
  log_text = g_string_new (NULL);
  gate_open = FALSE;
  freed = 0;
}

static void
end (const char *wanted)
{
  while (ws_task_count () > 0)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpstr (log_text->str, ==, wanted);
  g_string_free (log_text, TRUE);
}

static void
open_gate (void)
{
  g_mutex_lock (&lock);
  gate_open = TRUE;
  g_cond_broadcast (&changed);
  g_mutex_unlock (&lock);
}

static gpointer
wait_at_gate (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  g_assert_true (g_thread_self () != main_thread);
  g_mutex_lock (&lock);
  while (!gate_open)
    g_cond_wait (&changed, &lock);
  g_mutex_unlock (&lock);
  note (data);
  return g_strdup (data);
}

static gpointer
run_at_once (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  note (data);
  return g_strdup (data);
}

static void
done_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  g_autofree char *text = g_strdup_printf ("done:%s%s", error != NULL ? error->message : (char *) result,
                                           (char *) done_data);

  g_assert_true (g_thread_self () == main_thread);
  note (text);
}

static void
count_free (gpointer data)
{
  g_atomic_int_inc (&freed);
  g_free (data);
}

static void
test_order (void)
{
  g_test_summary ("Edits run one after the other in the order of the calls, however long the first takes");
  begin ();
  ws_task_write (NULL, wait_at_gate, (char *) "a", NULL, NULL, done_cb, (char *) "", g_free);
  ws_task_write (NULL, run_at_once, (char *) "b", NULL, NULL, done_cb, (char *) "", g_free);
  ws_task_write (NULL, run_at_once, (char *) "c", NULL, NULL, done_cb, (char *) "", g_free);
  g_usleep (20 * 1000);
  g_assert_cmpstr (log_text->str, ==, "");
  open_gate ();
  while (ws_task_count () > 0)
    g_main_context_iteration (NULL, TRUE);
  /* Deliveries may come between; without them the order is plain. */
  g_autoptr (GRegex) done = g_regex_new ("done:. ", 0, 0, NULL);
  g_autofree char *runs = g_regex_replace_literal (done, log_text->str, -1, 0, "", 0, NULL);
  g_assert_cmpstr (runs, ==, "a b c ");
  g_string_free (log_text, TRUE);
}

static void
test_reads_do_not_wait (void)
{
  g_test_summary ("A read does not wait for an edit that takes long");
  begin ();
  ws_task_write (NULL, wait_at_gate, (char *) "write", NULL, NULL, NULL, NULL, g_free);
  ws_task_run (NULL, run_at_once, (char *) "read", NULL, NULL, NULL, done_cb, (char *) "", g_free);
  while (ws_task_count () > 1)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpstr (log_text->str, ==, "read done:read ");
  open_gate ();
  end ("read done:read write ");
}

static void
test_owner_gone (void)
{
  GObject *owner = g_object_new (G_TYPE_OBJECT, NULL);

  g_test_summary ("Nothing is delivered to an owner that was disposed meanwhile; data and result are freed all the same");
  begin ();
  ws_task_run (NULL, wait_at_gate, g_strdup ("late"), count_free, NULL, owner, done_cb, (char *) "", count_free);
  g_object_unref (owner);
  open_gate ();
  end ("late ");
  g_assert_cmpint (freed, ==, 2);
}

static void
test_cancelled_before (void)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();

  g_test_summary ("Cancelled before it starts: it does not run, and the error says so");
  begin ();
  g_cancellable_cancel (cancellable);
  ws_task_run (NULL, run_at_once, (char *) "x", NULL, cancellable, NULL, done_cb, (char *) "", g_free);
  end ("done:Operation was cancelled ");
}

static void
test_cancelled_late (void)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();

  g_test_summary ("Cancelled after it did its work: what was done is delivered, not an error");
  begin ();
  ws_task_run (NULL, wait_at_gate, (char *) "x", NULL, cancellable, NULL, done_cb, (char *) "!", g_free);
  g_usleep (10 * 1000);
  g_cancellable_cancel (cancellable);
  open_gate ();
  end ("x done:x! ");
}

static void
steal_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  char **stolen = done_data;

  *stolen = ws_task_steal ();
  g_assert_true (*stolen == result);
}

static void
test_steal (void)
{
  g_autofree char *stolen = NULL;

  g_test_summary ("A result that was taken over is not freed by the task");
  begin ();
  ws_task_run (NULL, run_at_once, (char *) "x", NULL, NULL, NULL, steal_cb, &stolen, count_free);
  end ("x ");
  g_assert_cmpstr (stolen, ==, "x");
  g_assert_cmpint (freed, ==, 0);
}

static void
test_finish_all (void)
{
  g_test_summary ("At the end every edit that was begun is carried out, and nothing is delivered");
  begin ();
  open_gate ();
  for (int i = 0; i < 20; i++)
    ws_task_write (NULL, run_at_once, (char *) "w", NULL, NULL, done_cb, (char *) "", count_free);
  ws_task_finish_all ();
  g_assert_cmpuint (ws_task_count (), ==, 0);
  g_assert_cmpint (freed, ==, 20);
  end ("w w w w w w w w w w w w w w w w w w w w ");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  main_thread = g_thread_self ();
  g_test_add_func ("/app/task/order", test_order);
  g_test_add_func ("/app/task/reads-do-not-wait", test_reads_do_not_wait);
  g_test_add_func ("/app/task/owner-gone", test_owner_gone);
  g_test_add_func ("/app/task/cancelled-before", test_cancelled_before);
  g_test_add_func ("/app/task/cancelled-late", test_cancelled_late);
  g_test_add_func ("/app/task/steal", test_steal);
  g_test_add_func ("/app/task/finish-all", test_finish_all);
  return g_test_run ();
}
