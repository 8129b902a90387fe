/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marks in the real window, by real events: the tools, an outline with its remark, its copy on the next photo, a covered region,
 * and undo and redo of each. */
#include "window-rig.h"

#include "ws-photo-view.h"
#include "ws-test-library.h"
#include "ws-text-field.h"

#include <math.h>
#include <string.h>

#include "ws-find-row.h"

static const WsFind *
only_find (void)
{
  GListModel *finds = ws_session_get_finds (window_rig_get_session ());
  g_autoptr (WsFindItem) item = g_list_model_get_item (finds, 0);

  return ws_find_item_get_find (item);
}

static const WsMark *
mark_at (guint i)
{
  g_assert_cmpuint (only_find ()->marks->len, >, i);
  return only_find ()->marks->pdata[i];
}

static const char *
photo_at (guint i)
{
  return ((const WsFindPhoto *) only_find ()->photos->pdata[i])->photo->id;
}

static WsPhotoView *
the_view (void)
{
  return WS_PHOTO_VIEW (window_rig_await_type (WS_TYPE_PHOTO_VIEW));
}

/* Drags on the photo, in its fractions; the same place twice is a click. */
static void
drag (WindowRig *rig, double x0, double y0, double x1, double y1)
{
  WsPhotoView *view = the_view ();
  WsPoint a = ws_photo_view_to_view (view, x0, y0), b = ws_photo_view_to_view (view, x1, y1);
  double w = gtk_widget_get_width (GTK_WIDGET (view)), h = gtk_widget_get_height (GTK_WIDGET (view));

  window_rig_drag (rig, GTK_WIDGET (view), a.x / w, a.y / h, b.x / w, b.y / h);
  window_rig_settle ();
}

static void
key (WindowRig *rig, const char *name)
{
  window_rig_hover (GTK_WIDGET (the_view ()));
  window_rig_key (rig, name);
  window_rig_settle ();
}

static char *
shape_of (const WsMark *mark)
{
  return ws_shape_to_text (mark->shape);
}

/* --- An outline -------------------------------------------------------------------------------------------- */

static void
draw_outline (WindowRig *rig)
{
  key (rig, "b");
  window_rig_click_text (rig, "Mark with an outline: click point after point, or draw (L)");
  g_assert_cmpint (ws_photo_view_get_tool (the_view ()), ==, WS_PHOTO_VIEW_OUTLINE);
  drag (rig, 0.2, 0.2, 0.2, 0.2);
  drag (rig, 0.6, 0.2, 0.6, 0.2);
  window_rig_shoot ("marks-drawing");
  drag (rig, 0.6, 0.7, 0.6, 0.7);
  key (rig, "Return");
  window_rig_shoot ("marks-drawn");
  g_assert_cmpint (mark_at (0)->shape->kind, ==, WS_SHAPE_OUTLINE);
  g_assert_cmpuint (mark_at (0)->shape->n_points, ==, 3);
  g_assert_cmpfloat_with_epsilon (mark_at (0)->shape->bounds.x, 0.2, 0.01);
  g_assert_cmpfloat_with_epsilon (mark_at (0)->shape->bounds.height, 0.5, 0.01);
  g_assert_true (mark_at (0)->measure.measured);
  key (rig, "1");
  g_assert_cmpstr (mark_at (0)->base_kind, ==, "cleaned");
}

static void
write_remark (WindowRig *rig)
{
  window_rig_click (rig, window_rig_await_type (WS_TYPE_TEXT_FIELD));
  window_rig_type (rig, "tip broken off");
  window_rig_key (rig, "Return");
  window_rig_settle ();
  g_assert_cmpstr (mark_at (0)->remark, ==, "tip broken off");
  g_assert_cmpstr (mark_at (0)->base_kind, ==, "cleaned");
  gtk_widget_grab_focus (GTK_WIDGET (the_view ()));
  key (rig, "ctrl+z");
  g_assert_cmpstr (mark_at (0)->remark, ==, "");
  key (rig, "ctrl+shift+z");
  g_assert_cmpstr (mark_at (0)->remark, ==, "tip broken off");
  window_rig_shoot ("marks-remark");
}

static void
move_a_point (WindowRig *rig)
{
  g_autofree char *before = shape_of (mark_at (0)), *moved = NULL, *undone = NULL, *redone = NULL, *fine = NULL;

  key (rig, "F2");
  key (rig, "Right");
  window_rig_shoot ("marks-points");
  moved = shape_of (mark_at (0));
  g_assert_cmpstr (moved, !=, before);
  g_assert_cmpuint (mark_at (0)->shape->n_points, ==, 3);
  key (rig, "ctrl+z");
  undone = shape_of (mark_at (0));
  g_assert_cmpstr (undone, ==, before);
  key (rig, "ctrl+y");
  redone = shape_of (mark_at (0));
  g_assert_cmpstr (redone, ==, moved);
  /* Fine steps; Alt+Left leads nowhere else while something is moved. */
  key (rig, "alt+Left");
  fine = shape_of (mark_at (0));
  g_assert_cmpstr (fine, !=, moved);
  g_assert_nonnull (window_rig_find_type (WS_TYPE_PHOTO_VIEW));
  key (rig, "Escape");
}

static void
copy_on (WindowRig *rig)
{
  g_autofree char *first = NULL, *second = NULL;

  key (rig, "ctrl+d");
  g_assert_cmpuint (only_find ()->marks->len, ==, 2);
  first = shape_of (mark_at (0));
  second = shape_of (mark_at (1));
  g_assert_cmpstr (first, ==, second);
  g_assert_cmpstr (mark_at (0)->photo_id, ==, photo_at (0));
  g_assert_cmpstr (mark_at (1)->photo_id, ==, photo_at (1));
  g_assert_cmpstr (mark_at (1)->part, ==, mark_at (0)->part);
  g_assert_cmpstr (mark_at (1)->remark, ==, "tip broken off");
  /* Nothing is taken for granted of another photo. */
  g_assert_cmpstr (mark_at (1)->base_kind, ==, "");
  g_assert_cmpstr (ws_photo_view_get_selected (the_view ()), ==, mark_at (1)->id);
  window_rig_shoot ("marks-copied");
  key (rig, "ctrl+z");
  g_assert_cmpuint (only_find ()->marks->len, ==, 1);
  key (rig, "ctrl+y");
  g_assert_cmpuint (only_find ()->marks->len, ==, 2);
}

/* --- Along the edge, and covers -------------------------------------------------------------------------------- */

static void
draw_along_edge (WindowRig *rig)
{
  guint n = only_find ()->marks->len;

  key (rig, "b");
  key (rig, "f");
  g_assert_cmpint (ws_photo_view_get_tool (the_view ()), ==, WS_PHOTO_VIEW_EDGE);
  window_rig_wait (800);
  drag (rig, 0.3, 0.3, 0.3, 0.3);
  drag (rig, 0.7, 0.3, 0.7, 0.3);
  drag (rig, 0.7, 0.7, 0.7, 0.7);
  window_rig_shoot ("marks-edge");
  drag (rig, 0.3, 0.7, 0.3, 0.7);
  key (rig, "Return");
  g_assert_cmpuint (only_find ()->marks->len, ==, n + 1);
  /* Stones of many colours lie there: it is no square. */
  g_assert_cmpuint (mark_at (n)->shape->n_points, >, 8);
}

static void
move_cover (WindowRig *rig)
{
  const WsCover *cover;
  g_autofree char *id = NULL;
  double x;

  key (rig, "Escape");
  /* The bar below folds away, and the photo grows. */
  window_rig_wait (600);
  window_rig_click_text (rig, "Cover a face, a hand or a sign in every copy that leaves");
  key (rig, "x");
  drag (rig, 0.05, 0.75, 0.15, 0.9);
  g_assert_cmpuint (only_find ()->covers->len, ==, 1);
  cover = only_find ()->covers->pdata[0];
  id = g_strdup (cover->id);
  x = cover->shape->bounds.x;
  key (rig, "Escape");
  key (rig, "Escape");
  drag (rig, 0.1, 0.8, 0.1, 0.8);
  g_assert_cmpstr (ws_photo_view_get_selected (the_view ()), ==, id);
  drag (rig, 0.1, 0.8, 0.2, 0.8);
  cover = only_find ()->covers->pdata[0];
  g_assert_cmpstr (cover->id, ==, id);
  g_assert_cmpfloat_with_epsilon (cover->shape->bounds.x, x + 0.1, 0.01);
  /* One action, one step back. */
  key (rig, "ctrl+z");
  cover = only_find ()->covers->pdata[0];
  g_assert_cmpstr (cover->id, ==, id);
  g_assert_cmpfloat_with_epsilon (cover->shape->bounds.x, x, 1e-9);
}

static void
script (WindowRig *rig)
{
  /* A click that meets the first questions while they still come is made again. */
  window_rig_find ("Not now");
  for (int tries = 0; tries < 10 && window_rig_look ("Not now") != NULL; tries++)
    {
      window_rig_wait (500);
      if (window_rig_look ("Not now") != NULL)
        window_rig_click_text (rig, "Not now");
      window_rig_settle ();
    }
  window_rig_click (rig, window_rig_await_type (WS_TYPE_FIND_ROW));
  window_rig_settle ();
  window_rig_shoot ("marks-open");
  draw_outline (rig);
  write_remark (rig);
  move_a_point (rig);
  copy_on (rig);
  draw_along_edge (rig);
  move_cover (rig);
}

/* --- Once in a process --------------------------------------------------------------------------------------------- */

static void
test_marks (void)
{
  TestDesk test;
  WindowRig *rig = g_new0 (WindowRig, 1);

  g_test_summary ("An outline is drawn, remarked on, changed by a point, copied to the next photo, undone and redone; a cover is moved");
  window_rig_start ();
  test = test_begin ();
  for (guint i = 0; i < 2; i++)
    {
      g_autofree char *name = g_strdup_printf ("IMG_%04u.jpg", i + 1), *taken = g_strdup_printf ("2025-10-04T14:%02u:00", i);

      g_free (test_photo (&test, name, i + 1, 1600, taken, NAN, NAN));
    }
  test_import (&test);
  g_clear_pointer (&test.desk, ws_desk_unref);
  rig->folder = test.folder;
  rig->library = g_build_filename (test.folder, "library", NULL);
  g_free (test.photos);
  window_rig_run (rig, 0, 0, script);
  window_rig_free (rig);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/window-marks/journey", test_marks);
  return g_test_run ();
}
