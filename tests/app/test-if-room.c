/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-if-room.h"

static void
test_room (void)
{
  g_autoptr (GtkWidget) room = g_object_ref_sink (g_object_new (WS_TYPE_IF_ROOM, NULL));
  GtkWidget *child = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  int minimum, natural;

  g_test_summary ("The child is there with room for all of it, and not there without; the place itself needs no width");
  gtk_widget_set_size_request (child, 80, 20);
  gtk_widget_set_parent (child, room);
  gtk_widget_measure (room, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, &natural, NULL, NULL);
  g_assert_cmpint (minimum, ==, 0);
  g_assert_cmpint (natural, ==, 80);
  gtk_widget_measure (room, GTK_ORIENTATION_VERTICAL, -1, &minimum, &natural, NULL, NULL);
  g_assert_cmpint (minimum, ==, 20);
  gtk_widget_allocate (room, 79, 20, -1, NULL);
  g_assert_false (gtk_widget_get_child_visible (child));
  gtk_widget_allocate (room, 80, 20, -1, NULL);
  g_assert_true (gtk_widget_get_child_visible (child));
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/if-room/room", test_room);
  return g_test_run ();
}
