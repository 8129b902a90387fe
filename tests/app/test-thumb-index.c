/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-thumb-index.h"

static int notified;

static void
notify_cb (void)
{
  notified++;
}

static GtkWidget *
make (void)
{
  GtkWidget *index = g_object_ref_sink (ws_thumb_index_new ());

  notified = 0;
  ws_thumb_index_add_place (WS_THUMB_INDEX (index), "finds", "Finds");
  ws_thumb_index_add_place (WS_THUMB_INDEX (index), "requests", "Requests");
  ws_thumb_index_add_action (WS_THUMB_INDEX (index), "Eaten, or perhaps eaten", "win.eaten");
  g_signal_connect (index, "notify::current", G_CALLBACK (notify_cb), NULL);
  return index;
}

/* The buttons from the top. */
static GtkWidget *
get_tab (GtkWidget *index, int at)
{
  GtkWidget *places = gtk_widget_get_first_child (index);
  GtkWidget *tab = gtk_widget_get_first_child (at < 2 ? places : gtk_widget_get_next_sibling (places));

  return at == 1 ? gtk_widget_get_next_sibling (tab) : tab;
}

static void
test_current (void)
{
  g_autoptr (GtkWidget) widget = make ();
  WsThumbIndex *index = WS_THUMB_INDEX (widget);

  g_test_summary ("The first place is open; opening the open one or an unknown one changes nothing");
  g_assert_cmpstr (ws_thumb_index_get_current (index), ==, "finds");
  ws_thumb_index_set_current (index, "finds");
  ws_thumb_index_set_current (index, "nowhere");
  ws_thumb_index_set_current (index, NULL);
  g_assert_cmpint (notified, ==, 0);
  ws_thumb_index_set_current (index, "requests");
  g_assert_cmpint (notified, ==, 1);
  g_assert_cmpstr (ws_thumb_index_get_current (index), ==, "requests");
  g_assert_true (gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (get_tab (widget, 1))));
  g_assert_false (gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (get_tab (widget, 0))));
}

static void
test_tabs (void)
{
  g_autoptr (GtkWidget) widget = make ();

  g_test_summary ("Pressing a tab opens its place; the tab of what is urgent is a button with an action");
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (get_tab (widget, 1)), TRUE);
  g_assert_cmpstr (ws_thumb_index_get_current (WS_THUMB_INDEX (widget)), ==, "requests");
  g_assert_cmpint (notified, ==, 1);
  g_assert_cmpstr (gtk_actionable_get_action_name (GTK_ACTIONABLE (get_tab (widget, 2))), ==, "win.eaten");
}

static void
test_accessible (void)
{
  g_autoptr (GtkWidget) widget = make ();

  g_test_summary ("Each tab has a name and says whether it is open, for screen readers");
  gtk_test_accessible_assert_role (GTK_ACCESSIBLE (get_tab (widget, 0)), GTK_ACCESSIBLE_ROLE_TAB);
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (get_tab (widget, 0)), GTK_ACCESSIBLE_PROPERTY_LABEL, "Finds");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (get_tab (widget, 2)), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Eaten, or perhaps eaten");
  gtk_test_accessible_assert_state (GTK_ACCESSIBLE (get_tab (widget, 0)), GTK_ACCESSIBLE_STATE_SELECTED, TRUE);
  gtk_test_accessible_assert_state (GTK_ACCESSIBLE (get_tab (widget, 1)), GTK_ACCESSIBLE_STATE_SELECTED, FALSE);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/thumb-index/current", test_current);
  g_test_add_func ("/app/thumb-index/tabs", test_tabs);
  g_test_add_func ("/app/thumb-index/accessible", test_accessible);
  return g_test_run ();
}
