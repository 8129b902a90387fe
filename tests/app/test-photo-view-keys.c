/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything by keyboard, with real key events. */
#include <string.h>

#include "photo-view-rig.h"

/* The photo at 1:1 in a view somewhat larger: a step of 8 px is 0.01 across and 0.0133 down. */
static Rig *
rig_at_one (void)
{
  Rig *rig = rig_new (900, 700, "/photo/800x600", 800, 600);

  rig_do ("key 1");
  g_assert_cmpfloat (ws_photo_view_get_zoom (rig->view), ==, 1);
  return rig;
}

static void
makes_a_mark (void)
{
  Rig *rig = rig_at_one ();

  g_test_summary ("Enter begins a third of what is seen, arrows move it, Ctrl sizes, Alt is fine, Enter sets");
  rig_do ("key Return");
  rig_assert_log (rig, "");
  ws_photo_view_set_armed (rig->view, "Stem base");
  rig_do ("key Return Return");
  rig_assert_log (rig, "drawn box 0.3333 0.3333 0.3333 0.3333; ");
  rig_do ("key Return Right Right Right Up Return");
  rig_assert_log (rig, "drawn box 0.3633 0.3200 0.3333 0.3333; ");
  rig_do ("key Return ctrl+Right ctrl+Right ctrl+Up Return");
  rig_assert_log (rig, "drawn box 0.3333 0.3333 0.3533 0.3200; ");
  rig_do ("key Return alt+Left alt+Down ctrl+alt+Left Return");
  rig_assert_log (rig, "drawn box 0.3321 0.3350 0.3321 0.3333; ");
  rig_do ("key o Return Return");
  rig_assert_log (rig, "drawn oval 0.3333 0.3333 0.3333 0.3333; ");
  rig_free (rig);
}

static void
escape_gives_up (void)
{
  Rig *rig = rig_at_one ();

  g_test_summary ("Escape gives up the mark begun; then it disarms; then it selects nothing");
  rig_add_mark (rig, "m", "box 0.25 0.25 0.25 0.25", "A", "Cap", WS_PHOTO_VIEW_MARK_INK);
  rig_do ("key Tab");
  rig_assert_log (rig, "selected m; ");
  ws_photo_view_set_armed (rig->view, "Stem base");
  rig_do ("key Return Right Escape");
  rig_assert_log (rig, "");
  rig_do ("key Escape");
  rig_assert_log (rig, "disarm; ");
  ws_photo_view_set_armed (rig->view, NULL);
  rig_do ("key Escape");
  rig_assert_log (rig, "selected none; ");
  rig_free (rig);
}

static void
marks_stay_inside (void)
{
  Rig *rig = rig_at_one ();

  g_test_summary ("A mark is moved and sized up to the photo's edge and not beyond");
  ws_photo_view_set_armed (rig->view, "Cap");
  rig_do ("key Return");
  rig_do ("key --delay 1 --repeat 60 Left");
  rig_do ("key --delay 1 --repeat 60 Up");
  rig_do ("key --delay 1 --repeat 100 ctrl+Right");
  rig_do ("key Return");
  rig_assert_log (rig, "drawn box 0.0000 0.0000 1.0000 0.3333; ");
  rig_do ("key Return");
  rig_do ("key --delay 1 --repeat 60 ctrl+Left");
  rig_do ("key Return");
  rig_assert_log (rig, "drawn box 0.3333 0.3333 0.0050 0.3333; ");
  rig_free (rig);
}

static void
changes_a_mark (void)
{
  Rig *rig = rig_at_one ();

  g_test_summary ("Each key action says once what it changed, however long the key repeats");
  rig_add_mark (rig, "m", "oval 0.25 0.25 0.25 0.25", "A", "Cap", WS_PHOTO_VIEW_MARK_INK);
  ws_photo_view_select (rig->view, "m");
  rig_do ("key Right");
  rig_assert_log (rig, "m changed oval 0.2600 0.2500 0.2500 0.2500; ");
  rig_do ("key ctrl+Down");
  rig_assert_log (rig, "m changed oval 0.2600 0.2500 0.2500 0.2633; ");
  ws_photo_view_set_marks (rig->view, rig->marks);
  rig_do ("keydown Right sleep 1.2 keyup Right");
  {
    double x, y;

    g_assert_true (strchr (rig->log->str, ';') == strrchr (rig->log->str, ';'));
    g_assert_cmpint (sscanf (rig->log->str, "m changed oval %lf %lf", &x, &y), ==, 2);
    /* The server repeats after half a second or so: more than one step. */
    g_assert_cmpfloat (x, >, 0.28);
    g_assert_cmpfloat_with_epsilon (y, 0.25, 1e-4);
  }
  g_string_truncate (rig->log, 0);

  /* What was changed is said before the focus goes elsewhere. */
  ws_photo_view_set_marks (rig->view, rig->marks);
  rig_do ("keydown Down sleep 0.1");
  rig_assert_log (rig, "");
  ws_photo_view_select (rig->view, NULL);
  rig_assert_log (rig, "m changed oval 0.2500 0.2633 0.2500 0.2500; ");
  rig_do ("keyup Down");
  rig_assert_log (rig, "");

  /* …and before another photo takes its place. */
  ws_photo_view_set_marks (rig->view, rig->marks);
  ws_photo_view_select (rig->view, "m");
  rig_do ("keydown Down sleep 0.1");
  ws_photo_view_set_photo (rig->view, "/photo/600x600", "other", NULL, 600, 600);
  rig_assert_log (rig, "m changed oval 0.2500 0.2633 0.2500 0.2500; ");
  rig_do ("keyup Down");
  rig_assert_log (rig, "");
  rig_free (rig);
}

static void
steps_through_marks (void)
{
  Rig *rig = rig_at_one ();

  g_test_summary ("Tab goes through the marks in their order and then on; Delete removes the selected one");
  rig_add_mark (rig, "a", "box 0.6 0.6 0.25 0.25", "A", "Cap", WS_PHOTO_VIEW_MARK_INK);
  rig_add_mark (rig, "b", "box 0.1 0.1 0.25 0.25", "B", "Ring", WS_PHOTO_VIEW_MARK_WEAK);
  rig_add_mark (rig, "c", "box 0.3 0.3 0.25 0.25", "", "Covered", WS_PHOTO_VIEW_MARK_COVER);
  rig_do ("key Tab");
  rig_do ("key Tab");
  rig_do ("key Tab");
  rig_assert_log (rig, "selected a; selected b; selected c; ");
  rig_do ("key Tab");
  rig_assert_log (rig, "");
  rig_do ("key shift+Tab");
  rig_assert_log (rig, "selected b; ");
  rig_do ("key Delete");
  rig_assert_log (rig, "delete b; ");
  g_assert_cmpstr (ws_photo_view_get_selected (rig->view), ==, "b");
  ws_photo_view_set_marks (rig->view, NULL);
  g_assert_null (ws_photo_view_get_selected (rig->view));
  rig_do ("key Delete");
  rig_assert_log (rig, "");
  rig_free (rig);
}

static void
zooms_and_moves (void)
{
  Rig *rig = rig_new (900, 700, "/photo/4000x3000", 4000, 3000);
  double fit = ws_photo_view_get_zoom (rig->view);
  WsPoint before, after;

  g_test_summary ("+ and - by a quarter, 1 to 1:1, 0 to fit, never beyond 8; Shift+arrows move by an eighth");
  rig_do ("key plus");
  g_assert_cmpfloat_with_epsilon (ws_photo_view_get_zoom (rig->view), fit * 1.25, 1e-9);
  rig_do ("key minus");
  g_assert_cmpfloat_with_epsilon (ws_photo_view_get_zoom (rig->view), fit, 1e-9);
  rig_do ("key 1");
  g_assert_cmpfloat (ws_photo_view_get_zoom (rig->view), ==, 1);
  before = ws_photo_view_to_view (rig->view, 0.5, 0.5);
  rig_do ("key shift+Right shift+Down shift+Down");
  after = ws_photo_view_to_view (rig->view, 0.5, 0.5);
  g_assert_cmpfloat_with_epsilon (before.x - after.x, 900 / 8.0, 1);
  g_assert_cmpfloat_with_epsilon (before.y - after.y, 2 * 700 / 8.0, 1);
  rig_do ("key --delay 1 --repeat 30 KP_Add");
  g_assert_cmpfloat (ws_photo_view_get_zoom (rig->view), ==, 8);
  rig_do ("key 0");
  g_assert_cmpfloat_with_epsilon (ws_photo_view_get_zoom (rig->view), fit, 1e-9);
  rig_free (rig);
}

static gboolean
page_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, GString *seen)
{
  g_string_append_printf (seen, "%s ", gdk_keyval_name (key));
  return GDK_EVENT_STOP;
}

static void
leaves_other_keys (void)
{
  Rig *rig = rig_at_one ();
  GtkEventController *keys = gtk_event_controller_key_new ();
  g_autoptr (GString) seen = g_string_new (NULL);

  g_test_summary ("Keys that mean nothing here go on to the page: letters, plain arrows, Escape");
  g_signal_connect (keys, "key-pressed", G_CALLBACK (page_key), seen);
  gtk_widget_add_controller (rig->window, keys);
  rig_do ("key b Left Right Escape o Delete Return ctrl+z Page_Down");
  g_assert_cmpstr (seen->str, ==, "b Left Right Escape o Delete Return Control_L z Page_Down ");
  rig_free (rig);
}

int
main (int argc, char **argv)
{
  rig_init (&argc, &argv);
  g_test_add_func ("/app/photo-view-keys/makes-a-mark", makes_a_mark);
  g_test_add_func ("/app/photo-view-keys/escape-gives-up", escape_gives_up);
  g_test_add_func ("/app/photo-view-keys/marks-stay-inside", marks_stay_inside);
  g_test_add_func ("/app/photo-view-keys/changes-a-mark", changes_a_mark);
  g_test_add_func ("/app/photo-view-keys/steps-through-marks", steps_through_marks);
  g_test_add_func ("/app/photo-view-keys/zooms-and-moves", zooms_and_moves);
  g_test_add_func ("/app/photo-view-keys/leaves-other-keys", leaves_other_keys);
  return g_test_run ();
}
