/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-spread.h"

static void
test_columns (void)
{
  static const struct { int n, width, height; double proportion; int columns; } cases[] = {
    { 1, 800, 300, 1.5, 1 }, { 2, 800, 300, 1.5, 2 },   /* a low place: beside each other */
    { 2, 300, 800, 1.5, 1 }, { 2, 320, 315, 1.33, 1 },  /* 213 px wide above each other, 160 beside */
    { 2, 320, 315, 0.75, 2 },                           /* upright photos: 160 px wide beside, 118 above each other */
    { 3, 300, 800, 1.5, 2 }, { 4, 300, 800, 1.5, 2 },
  };

  g_test_summary ("Two lie as they are larger; three and four in two columns");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpint (ws_spread_count_columns (cases[i].n, cases[i].width, cases[i].height, cases[i].proportion), ==,
                     cases[i].columns);
}

/* "0,0 147x97; 153,0 147x97; …" of what is laid in @width x @height px. */
static char *
places (int n, int hidden, int width, int height)
{
  g_autoptr (GtkWidget) spread = g_object_ref_sink (ws_spread_new ());
  GString *text = g_string_new (NULL);
  int minimum, natural;

  for (int i = 0; i < n; i++)
    {
      GtkWidget *child = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

      gtk_widget_set_size_request (child, 100, 60);
      gtk_widget_set_visible (child, i != hidden);
      ws_spread_append (WS_SPREAD (spread), child);
    }
  gtk_widget_measure (spread, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, &natural, NULL, NULL);
  gtk_widget_measure (spread, GTK_ORIENTATION_VERTICAL, -1, &minimum, &natural, NULL, NULL);
  gtk_widget_size_allocate (spread, &(GtkAllocation) { 0, 0, width, height }, -1);
  for (GtkWidget *child = gtk_widget_get_first_child (spread); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      graphene_rect_t r;

      if (gtk_widget_get_visible (child) && gtk_widget_compute_bounds (child, spread, &r))
        g_string_append_printf (text, "%g,%g %gx%g; ", r.origin.x, r.origin.y, r.size.width, r.size.height);
    }
  return g_string_free (text, FALSE);
}

static void
test_places (void)
{
  static const struct { int n, hidden, width, height; const char *places; } cases[] = {
    { 1, -1, 306, 200, "0,0 306x200; " },
    { 2, -1, 306, 200, "0,0 150x200; 156,0 150x200; " },
    { 2, -1, 150, 206, "0,0 150x100; 0,106 150x100; " },
    { 4, -1, 306, 206, "0,0 150x100; 156,0 150x100; 0,106 150x100; 156,106 150x100; " },
    { 4, 1, 306, 206, "0,0 150x100; 156,0 150x100; 0,106 150x100; " },
    { 3, 1, 306, 200, "0,0 150x200; 156,0 150x200; " },
  };

  g_test_summary ("Places are of one size with a gap between; what is hidden takes none");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = places (cases[i].n, cases[i].hidden, cases[i].width, cases[i].height);

      g_assert_cmpstr (text, ==, cases[i].places);
    }
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/spread/columns", test_columns);
  g_test_add_func ("/app/spread/places", test_places);
  return g_test_run ();
}
