/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The widget from its page's side: properties, marks, what a screen reader is told. */
#include <string.h>

#include "photo-view-rig.h"

static void
count (GObject *object, GParamSpec *pspec, int *n)
{
  (*n)++;
}

static void
properties (void)
{
  Rig *rig = rig_new (600, 400, "/photo/800x600", 800, 600);
  g_autofree char *armed = NULL;
  int n = 0, kind;

  g_test_summary ("Properties are set, read and notified once");
  g_signal_connect (rig->view, "notify::armed", G_CALLBACK (count), &n);
  ws_photo_view_set_armed (rig->view, "Cap");
  ws_photo_view_set_armed (rig->view, "Cap");
  g_object_set (rig->view, "armed", "Cap", "cover", TRUE, "tool", WS_PHOTO_VIEW_OVAL, NULL);
  g_object_get (rig->view, "armed", &armed, "tool", &kind, NULL);
  g_assert_cmpint (n, ==, 1);
  g_assert_cmpstr (armed, ==, "Cap");
  g_assert_cmpint (kind, ==, WS_PHOTO_VIEW_OVAL);
  g_assert_true (ws_photo_view_get_cover (rig->view));
  ws_photo_view_set_armed (rig->view, NULL);
  g_assert_cmpint (n, ==, 2);
  g_assert_null (ws_photo_view_get_armed (rig->view));
  rig_free (rig);
}

static GtkWidget *
nth_button (Rig *rig, int n)
{
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (rig->view)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_BUTTON (child) && n-- == 0)
      return child;
  return NULL;
}

static void
accessible_marks (void)
{
  Rig *rig = rig_new (600, 400, "/photo/800x600", 800, 600);
  char *problem;

  g_test_summary ("Each mark is a button with the words of its label, in the order of the letters");
  rig_add_mark (rig, "a", "box 0.1 0.1 0.2 0.2", "A", "Stem base, dug out whole and cleaned",
                WS_PHOTO_VIEW_MARK_INK);
  rig_add_mark (rig, "b", "box 0.5 0.5 0.2 0.2", "", "Covered in every copy", WS_PHOTO_VIEW_MARK_COVER);
  g_assert_nonnull (nth_button (rig, 1));
  g_assert_null (nth_button (rig, 2));
  problem = gtk_test_accessible_check_property (GTK_ACCESSIBLE (nth_button (rig, 0)), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                                "A: Stem base, dug out whole and cleaned", -1);
  g_assert_cmpstr (problem, ==, NULL);
  problem = gtk_test_accessible_check_property (GTK_ACCESSIBLE (nth_button (rig, 1)), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                                "Covered in every copy", -1);
  g_assert_cmpstr (problem, ==, NULL);

  g_signal_emit_by_name (nth_button (rig, 1), "clicked");
  rig_assert_log (rig, "selected b; ");
  g_assert_cmpstr (ws_photo_view_get_selected (rig->view), ==, "b");
  g_assert_true (gtk_widget_has_focus (nth_button (rig, 1)));
  rig_free (rig);
}

static void
accessible_words (void)
{
  Rig *rig = rig_new_empty (600, 400);
  char *problem;

  g_test_summary ("What is said of the photo is its description too");
  problem = gtk_test_accessible_check_property (GTK_ACCESSIBLE (rig->view), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                                "No photo here yet", -1);
  g_assert_cmpstr (problem, ==, NULL);
  rig_free (rig);
}

static void
selection_follows_marks (void)
{
  Rig *rig = rig_new (600, 400, "/photo/800x600", 800, 600);

  g_test_summary ("A selection stays with its mark, goes with it, and the page's own selecting is not reported back");
  rig_add_mark (rig, "a", "box 0.1 0.1 0.2 0.2", "A", "Cap", WS_PHOTO_VIEW_MARK_INK);
  rig_add_mark (rig, "b", "box 0.5 0.5 0.2 0.2", "B", "Ring", WS_PHOTO_VIEW_MARK_INK);
  ws_photo_view_select (rig->view, "b");
  ws_photo_view_set_marks (rig->view, rig->marks);
  g_assert_cmpstr (ws_photo_view_get_selected (rig->view), ==, "b");
  ws_photo_view_select (rig->view, "no such mark");
  g_assert_null (ws_photo_view_get_selected (rig->view));
  ws_photo_view_select (rig->view, "a");
  ws_photo_view_set_photo (rig->view, "/photo/600x600", "other", NULL, 600, 600);
  g_assert_null (ws_photo_view_get_selected (rig->view));
  g_assert_null (nth_button (rig, 0));
  rig_assert_log (rig, "");
  rig_free (rig);
}

/* Share of px of the rectangle that are neither the photo's grey nor its red: something is drawn there. */
static double
drawn_share (const guchar *screen, int x0, int y0, int x1, int y1)
{
  int n = 0;

  for (int y = y0; y < y1; y++)
    for (int x = x0; x < x1; x++)
      {
        const guchar *p = screen + 3 * ((gsize) y * RIG_SCREEN_WIDTH + x);

        n += !(p[0] == 150 && p[1] == 150) && !(p[0] == 220 && p[1] == 20);
      }
  return n / (double) ((x1 - x0) * (y1 - y0));
}

static void
marks_are_drawn (void)
{
  Rig *rig = rig_new (900, 700, "/photo/800x600", 800, 600);
  g_autofree guchar *screen = NULL;
  WsPoint at;
  int x, y;

  g_test_summary ("A mark is a line and leaves its inside alone; a covered region hides all of its inside");
  ws_photo_view_set_zoom (rig->view, 1);
  rig_add_mark (rig, "a", "box 0.3 0.3 0.2 0.2", "", "Cap", WS_PHOTO_VIEW_MARK_INK);
  rig_add_mark (rig, "b", "box 0.55 0.3 0.15 0.2", "", "Cap", WS_PHOTO_VIEW_MARK_WEAK);
  rig_add_mark (rig, "c", "box 0.3 0.55 0.2 0.15", "", "Covered", WS_PHOTO_VIEW_MARK_COVER);
  screen = rig_shoot ();

  at = ws_photo_view_to_view (rig->view, 0.3, 0.3);
  x = at.x;
  y = at.y;
  g_assert_cmpfloat (drawn_share (screen, x - 1, y + 10, x + 1, y + 110), ==, 1);
  g_assert_cmpfloat (drawn_share (screen, x + 4, y + 4, x + 156, y + 116), ==, 0);
  at = ws_photo_view_to_view (rig->view, 0.55, 0.3);
  x = at.x;
  y = at.y;
  g_assert_cmpfloat (drawn_share (screen, x - 1, y + 10, x + 1, y + 110), ==, 1);
  g_assert_cmpfloat (drawn_share (screen, x + 4, y + 4, x + 116, y + 116), ==, 0);
  at = ws_photo_view_to_view (rig->view, 0.3, 0.55);
  x = at.x;
  y = at.y;
  g_assert_cmpfloat (drawn_share (screen, x, y, x + 160, y + 90), ==, 1);
  rig_free (rig);
}

static void
follows_another (void)
{
  Rig *rig = rig_new (900, 700, "/photo/4000x3000", 4000, 3000);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *second = ws_photo_view_new (rig->loader);
  WsRect one, two;

  g_test_summary ("Two photos side by side show the same part of each, at the same size, whatever their px");
  g_object_ref (rig->view);
  gtk_window_set_child (GTK_WINDOW (rig->window), box);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (rig->view));
  gtk_box_append (GTK_BOX (box), second);
  gtk_box_set_homogeneous (GTK_BOX (box), TRUE);
  gtk_widget_set_hexpand (GTK_WIDGET (rig->view), TRUE);
  g_object_unref (rig->view);
  ws_photo_view_set_photo (WS_PHOTO_VIEW (second), "/photo/2000x1500", "second", NULL, 2000, 1500);
  rig_wait (500);
  ws_photo_view_show_region (rig->view, &(WsRect) { 0.6, 0.3, 0.1, 0.1 });
  ws_photo_view_follow (WS_PHOTO_VIEW (second), rig->view);
  g_assert_true (ws_photo_view_get_visible (rig->view, &one));
  g_assert_true (ws_photo_view_get_visible (WS_PHOTO_VIEW (second), &two));
  g_assert_cmpfloat_with_epsilon (one.x, two.x, 1e-3);
  g_assert_cmpfloat_with_epsilon (one.y, two.y, 1e-3);
  g_assert_cmpfloat_with_epsilon (one.width, two.width, 1e-3);
  g_assert_cmpfloat_with_epsilon (ws_photo_view_get_zoom (WS_PHOTO_VIEW (second)),
                                  2 * ws_photo_view_get_zoom (rig->view), 1e-9);
  ws_photo_view_fit (rig->view);
  ws_photo_view_follow (WS_PHOTO_VIEW (second), rig->view);
  g_assert_true (ws_photo_view_get_visible (WS_PHOTO_VIEW (second), &two));
  g_assert_cmpfloat (two.width, ==, 1);
  rig_free (rig);
}

static void
narrow (void)
{
  Rig *rig = rig_new (360, 500, "/photo/800x600", 800, 600);

  g_test_summary ("A window 360 px wide holds the view and its words");
  ws_photo_view_set_armed (rig->view, "Stem base with the lowest tip, dug out of the soil");
  rig_wait (100);
  g_assert_cmpint (gtk_widget_get_width (rig->window), ==, 360);
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (rig->view)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      graphene_rect_t bounds;

      if (!gtk_widget_get_visible (child) || !gtk_widget_compute_bounds (child, GTK_WIDGET (rig->view), &bounds))
        continue;
      g_assert_cmpfloat (bounds.origin.x, >=, 0);
      g_assert_cmpfloat (bounds.origin.x + bounds.size.width, <=, 360);
    }
  rig_free (rig);
}

int
main (int argc, char **argv)
{
  rig_init (&argc, &argv);
  g_test_add_func ("/app/photo-view/properties", properties);
  g_test_add_func ("/app/photo-view/accessible-marks", accessible_marks);
  g_test_add_func ("/app/photo-view/accessible-words", accessible_words);
  g_test_add_func ("/app/photo-view/selection-follows-marks", selection_follows_marks);
  g_test_add_func ("/app/photo-view/marks-are-drawn", marks_are_drawn);
  g_test_add_func ("/app/photo-view/follows-another", follows_another);
  g_test_add_func ("/app/photo-view/narrow", narrow);
  return g_test_run ();
}
