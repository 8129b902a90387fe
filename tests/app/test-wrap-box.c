/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-wrap-box.h"

static GtkWidget *
make (const int *widths, int n)
{
  GtkWidget *box = ws_wrap_box_new ();

  for (int i = 0; i < n; i++)
    {
      GtkWidget *child = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

      gtk_widget_set_size_request (child, widths[i], 20);
      ws_wrap_box_append (WS_WRAP_BOX (box), child);
    }
  return g_object_ref_sink (box);
}

static void
test_measure (void)
{
  static const int widths[] = { 100, 50, 70 };
  static const struct { int width, height; } cases[] = {
    { 500, 20 },   /* one line: 100 + 6 + 50 + 6 + 70 = 232 */
    { 232, 20 }, { 231, 46 }, { 156, 46 }, { 155, 46 }, { 125, 72 }, { 100, 72 },
  };
  g_autoptr (GtkWidget) box = make (widths, G_N_ELEMENTS (widths));
  int minimum, natural;

  g_test_summary ("As wide as the widest child at least, all in one line at best; lines are filled in order");
  gtk_widget_measure (box, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, &natural, NULL, NULL);
  g_assert_cmpint (minimum, ==, 100);
  g_assert_cmpint (natural, ==, 232);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      gtk_widget_measure (box, GTK_ORIENTATION_VERTICAL, cases[i].width, &minimum, NULL, NULL, NULL);
      g_assert_cmpint (minimum, ==, cases[i].height);
    }
}

static void
test_hidden (void)
{
  static const int widths[] = { 100, 50 };
  g_autoptr (GtkWidget) box = make (widths, G_N_ELEMENTS (widths));
  int minimum, natural;

  gtk_widget_set_visible (gtk_widget_get_first_child (box), FALSE);
  gtk_widget_measure (box, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, &natural, NULL, NULL);
  g_assert_cmpint (natural, ==, 50);
  ws_wrap_box_remove_all (WS_WRAP_BOX (box));
  gtk_widget_measure (box, GTK_ORIENTATION_VERTICAL, 10, &minimum, NULL, NULL, NULL);
  g_assert_cmpint (minimum, ==, 0);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/wrap-box/measure", test_measure);
  g_test_add_func ("/app/wrap-box/hidden", test_hidden);
  return g_test_run ();
}
