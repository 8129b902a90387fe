/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <adwaita.h>

#include "ws-two-pane.h"

static GtkWidget *window, *start, *content;
static int folds;

static void
fold_cb (void)
{
  folds++;
}

static void
settle (void)
{
  gint64 end = g_get_monotonic_time () + 600 * G_TIME_SPAN_MILLISECOND;

  while (g_get_monotonic_time () < end)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (2000);
}

static WsTwoPane *
begin (int width)
{
  GtkWidget *pane = ws_two_pane_new ();

  folds = 0;
  start = gtk_label_new ("start");
  content = gtk_label_new ("content");
  gtk_widget_set_size_request (start, 300, 100);
  gtk_widget_set_size_request (content, 300, 100);
  ws_two_pane_set_start (WS_TWO_PANE (pane), start);
  ws_two_pane_set_content (WS_TWO_PANE (pane), content);
  g_signal_connect (pane, "notify::folded", G_CALLBACK (fold_cb), NULL);
  window = gtk_window_new ();
  gtk_window_set_child (GTK_WINDOW (window), pane);
  gtk_window_set_default_size (GTK_WINDOW (window), width, 200);
  gtk_window_present (GTK_WINDOW (window));
  settle ();
  return WS_TWO_PANE (pane);
}

static double
left_of (GtkWidget *leaf)
{
  graphene_point_t point;

  g_assert_true (gtk_widget_compute_point (leaf, window, &GRAPHENE_POINT_INIT (0, 0), &point));
  return point.x;
}

static void
test_wide (void)
{
  WsTwoPane *pane = begin (800);

  g_test_summary ("With room both leaves are seen, the first on the left; mirrored, on the right");
  g_assert_false (ws_two_pane_get_folded (pane));
  g_assert_true (gtk_widget_get_mapped (start) && gtk_widget_get_mapped (content));
  g_assert_cmpfloat (left_of (start), <, left_of (content));
  ws_two_pane_set_mirrored (pane, TRUE);
  settle ();
  g_assert_cmpfloat (left_of (start), >, left_of (content));
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_narrow (void)
{
  WsTwoPane *pane = begin (360);

  g_test_summary ("Without room one leaf is seen, the one that was asked for; folding is told");
  g_assert_true (ws_two_pane_get_folded (pane));
  g_assert_cmpint (folds, >=, 1);
  g_assert_true (gtk_widget_get_mapped (start));
  g_assert_false (gtk_widget_get_mapped (content));
  ws_two_pane_show_content (pane);
  settle ();
  g_assert_true (ws_two_pane_get_content_shown (pane));
  g_assert_true (gtk_widget_get_mapped (content));
  g_assert_false (gtk_widget_get_mapped (start));
  ws_two_pane_show_start (pane);
  settle ();
  g_assert_false (ws_two_pane_get_content_shown (pane));
  g_assert_true (gtk_widget_get_mapped (start));
  gtk_window_destroy (GTK_WINDOW (window));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  adw_init ();
  g_test_add_func ("/app/two-pane/wide", test_wide);
  g_test_add_func ("/app/two-pane/narrow", test_narrow);
  return g_test_run ();
}
