/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos beside each other on the photo leaf, in the real window, by keys and pointer. Each journey runs in a process of its
 * own. */
#include "window-rig.h"

#include "ws-find-row.h"
#include "ws-photo-leaf.h"
#include "ws-photo-view.h"
#include "ws-test-library.h"

#include <math.h>
#include <string.h>

#define N_PHOTOS 5
#define PHOTO_WIDTH 1600

/* One find of N_PHOTOS photos; before the program starts, which forbids waiting. */
static void
fill_library (WindowRig *rig)
{
  g_autoptr (GError) error = NULL;
  TestDesk test = { rig->folder, g_build_filename (rig->folder, "photos", NULL), NULL };

  g_assert_cmpint (g_mkdir_with_parents (test.photos, 0755), ==, 0);
  for (guint i = 0; i < N_PHOTOS; i++)
    {
      g_autofree char *name = g_strdup_printf ("IMG_%04u.jpg", i + 1), *taken = g_strdup_printf ("2025-10-04T14:%02u:00", i);

      g_free (test_photo (&test, name, i + 1, PHOTO_WIDTH, taken, NAN, NAN));
    }
  test.desk = ws_desk_open (rig->library, &error);
  g_assert_no_error (error);
  test_import (&test);
  ws_desk_unref (test.desk);
  g_free (test.photos);
}

/* --- What lies there ------------------------------------------------------------------------------------------ */

typedef struct { WsPhotoView *views[8]; char *slips[8]; guint n; } Seen;

static void
see (GtkWidget *widget, Seen *seen)
{
  if (!gtk_widget_get_mapped (widget))
    return;
  if (WS_IS_PHOTO_VIEW (widget))
    {
      GtkWidget *slip = gtk_widget_get_next_sibling (widget);

      g_assert_cmpuint (seen->n, <, G_N_ELEMENTS (seen->views));
      seen->slips[seen->n] = g_strdup (gtk_widget_get_mapped (slip) ? gtk_label_get_text (GTK_LABEL (slip)) : "");
      seen->views[seen->n++] = WS_PHOTO_VIEW (widget);
      return;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    see (child, seen);
}

static void
seen_clear (Seen *seen)
{
  for (guint i = 0; i < seen->n; i++)
    g_free (seen->slips[i]);
  seen->n = 0;
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Seen, seen_clear)

static Seen
look (void)
{
  Seen seen = { 0 };

  see (GTK_WIDGET (window_rig_await_type (WS_TYPE_PHOTO_LEAF)), &seen);
  return seen;
}

/* The slips in their order: "☞ In hand · 1 of 5 · IMG_0001.jpg | 2 of 5 · IMG_0002.jpg" */
#define assert_slips(expected) G_STMT_START { \
    g_auto (Seen) seen_ = look (); \
    g_autoptr (GString) text_ = g_string_new (NULL); \
    for (guint i_ = 0; i_ < seen_.n; i_++) \
      g_string_append_printf (text_, "%s%s", i_ > 0 ? " | " : "", seen_.slips[i_]); \
    g_assert_cmpstr (text_->str, ==, expected); \
  } G_STMT_END

static void
press (WindowRig *rig, const char *key)
{
  window_rig_key (rig, key);
  window_rig_settle ();
}

static void
open_find (WindowRig *rig)
{
  window_rig_put_away_questions (rig);
  window_rig_click (rig, window_rig_await_type (WS_TYPE_FIND_ROW));
  window_rig_settle ();
}

static const WsFind *
only_find (void)
{
  g_autoptr (WsFindItem) item = g_list_model_get_item (ws_session_get_finds (window_rig_get_session ()), 0);

  return ws_find_item_get_find (item);
}

static const char *
photo_id_at (guint i)
{
  return ((const WsFindPhoto *) g_ptr_array_index (only_find ()->photos, i))->photo->id;
}

static const char *
name_of_marked (guint i)
{
  const WsMark *mark = g_ptr_array_index (only_find ()->marks, i);

  return strrchr (ws_find_get_photo (only_find (), mark->photo_id)->path, '/') + 1;
}

/* --- Journeys ------------------------------------------------------------------------------------------------------ */

static void
lay_and_take (WindowRig *rig)
{
  open_find (rig);
  window_rig_hover (window_rig_await_type (WS_TYPE_PHOTO_VIEW));
  assert_slips ("");
  press (rig, "ctrl+2");
  assert_slips ("☞ In hand · 1 of 5 · IMG_0001.jpg | 2 of 5 · IMG_0002.jpg");
  window_rig_shoot ("beside-two");
  press (rig, "F6");
  assert_slips ("1 of 5 · IMG_0001.jpg | ☞ In hand · 2 of 5 · IMG_0002.jpg");
  /* The next ones come into the hand, and the other stays to be compared with. */
  press (rig, "Page_Down");
  assert_slips ("1 of 5 · IMG_0001.jpg | ☞ In hand · 3 of 5 · IMG_0003.jpg");
  press (rig, "Page_Down");
  press (rig, "Page_Down");
  assert_slips ("1 of 5 · IMG_0001.jpg | ☞ In hand · 5 of 5 · IMG_0005.jpg");
  press (rig, "ctrl+4");
  assert_slips ("1 of 5 · IMG_0001.jpg | ☞ In hand · 5 of 5 · IMG_0005.jpg | 4 of 5 · IMG_0004.jpg | 3 of 5 · IMG_0003.jpg");
  window_rig_shoot ("beside-four");
  press (rig, "Page_Up");
  assert_slips ("1 of 5 · IMG_0001.jpg | 5 of 5 · IMG_0005.jpg | ☞ In hand · 4 of 5 · IMG_0004.jpg | 3 of 5 · IMG_0003.jpg");
  press (rig, "ctrl+2");
  assert_slips ("1 of 5 · IMG_0001.jpg | ☞ In hand · 4 of 5 · IMG_0004.jpg");
  press (rig, "ctrl+1");
  assert_slips ("");
  window_rig_find ("IMG_0004.jpg · 14:03 · 4 of 5");
}

/* A drag on a print marks that one, whichever was in hand before. */
static void
mark_each (WindowRig *rig)
{
  open_find (rig);
  window_rig_hover (window_rig_await_type (WS_TYPE_PHOTO_VIEW));
  press (rig, "ctrl+2");
  for (int i = 1; i >= 0; i--)
    {
      g_auto (Seen) seen = look ();
      GtkWidget *view = GTK_WIDGET (seen.views[i]);
      WsPoint a = ws_photo_view_to_view (seen.views[i], 0.3, 0.3), b = ws_photo_view_to_view (seen.views[i], 0.7, 0.7);
      double w = gtk_widget_get_width (view), h = gtk_widget_get_height (view);

      press (rig, "b");
      window_rig_drag (rig, view, a.x / w, a.y / h, b.x / w, b.y / h);
      window_rig_settle ();
      press (rig, "1");
    }
  g_assert_cmpuint (only_find ()->marks->len, ==, 2);
  g_assert_cmpstr (name_of_marked (0), ==, "IMG_0002.jpg");
  g_assert_cmpstr (name_of_marked (1), ==, "IMG_0001.jpg");
  g_assert_cmpstr (((WsMark *) only_find ()->marks->pdata[0])->base_kind, ==, "cleaned");
  assert_slips ("☞ In hand · 1 of 5 · IMG_0001.jpg | 2 of 5 · IMG_0002.jpg");
  window_rig_shoot ("beside-marked");
  /* And by keys alone: the other in hand, armed, begun and set. */
  press (rig, "F6");
  press (rig, "b");
  press (rig, "Return");
  press (rig, "Return");
  g_assert_cmpuint (only_find ()->marks->len, ==, 3);
  g_assert_cmpstr (name_of_marked (2), ==, "IMG_0002.jpg");
}

static void
assert_together (WsPhotoView *a, WsPhotoView *b, double dx, double dy)
{
  WsPhotoViewApart apart = ws_photo_view_get_apart (b, a);

  g_assert_cmpfloat_with_epsilon (apart.zoom, 1, 0.01);
  g_assert_cmpfloat_with_epsilon (apart.x, dx, 0.005);
  g_assert_cmpfloat_with_epsilon (apart.y, dy, 0.005);
}

static void
zoom_together (WindowRig *rig)
{
  g_auto (Seen) seen = { 0 };
  WsPhotoViewApart apart;
  double fitted[2];

  open_find (rig);
  window_rig_hover (window_rig_await_type (WS_TYPE_PHOTO_VIEW));
  press (rig, "ctrl+2");
  seen = look ();
  window_rig_click (rig, GTK_WIDGET (seen.views[0]));
  for (int i = 0; i < 2; i++)
    fitted[i] = ws_photo_view_get_zoom (seen.views[i]);
  for (int i = 0; i < 6; i++)
    press (rig, "plus");
  press (rig, "shift+Right");
  press (rig, "shift+Down");
  g_assert_cmpfloat (ws_photo_view_get_zoom (seen.views[1]), >, 3 * fitted[1]);
  assert_together (seen.views[0], seen.views[1], 0, 0);
  /* Alone: one is laid so that another part of it is seen… */
  press (rig, "ctrl+j");
  press (rig, "F6");
  press (rig, "shift+Left");
  press (rig, "shift+Left");
  apart = ws_photo_view_get_apart (seen.views[1], seen.views[0]);
  g_assert_cmpfloat (apart.x, <, -0.05);
  /* …and together again they keep to that. */
  press (rig, "ctrl+j");
  press (rig, "plus");
  press (rig, "minus");
  press (rig, "shift+Up");
  assert_together (seen.views[0], seen.views[1], apart.x, apart.y);
  /* The photo that comes next shows the part that the one before it showed. */
  press (rig, "Page_Down");
  assert_together (seen.views[0], seen.views[1], apart.x, apart.y);
  window_rig_shoot ("beside-zoomed");
  press (rig, "0");
  for (int i = 0; i < 2; i++)
    g_assert_cmpfloat_with_epsilon (ws_photo_view_get_zoom (seen.views[i]), fitted[i], 1e-6);
}

/* The thumbnail, which the roll below shows too, is a picture of its own: the photo must not be taken for it. */
static void
sharpen (WindowRig *rig)
{
  WsPictureLoader *pictures;
  g_autoptr (WsPictureLevels) next = NULL;
  WsPhotoView *view;

  open_find (rig);
  view = WS_PHOTO_VIEW (window_rig_await_type (WS_TYPE_PHOTO_VIEW));
  window_rig_hover (GTK_WIDGET (view));
  window_rig_wait (1500);
  pictures = ws_session_get_pictures (window_rig_get_session ());
  /* Ready before it is asked for. */
  next = ws_picture_loader_peek (pictures, ws_find_get_photo (only_find (), photo_id_at (1))->digest, 1024);
  g_assert_nonnull (next);
  g_assert_cmpint (next->full_width, ==, PHOTO_WIDTH);
  g_assert_cmpint (ws_picture_levels_get_edge (next), >=, 1024);
  window_rig_click (rig, GTK_WIDGET (view));
  press (rig, "1");
  window_rig_wait (500);
  g_assert_cmpfloat (ws_photo_view_get_zoom (view), ==, 1);
  g_assert_cmpfloat_with_epsilon (ws_photo_view_to_view (view, 1, 0).x - ws_photo_view_to_view (view, 0, 0).x, PHOTO_WIDTH, 1e-6);
  g_assert_cmpstr (ws_photo_view_get_status (view), ==, "");
  {
    g_autoptr (WsPictureLevels) shown = ws_picture_loader_peek (pictures, ws_find_get_photo (only_find (), photo_id_at (0))->digest, 0);

    g_assert_nonnull (shown);
    g_assert_cmpint (ws_picture_levels_get_edge (shown), ==, PHOTO_WIDTH);
  }
}

/* A photo that goes makes room; the last one has none beside it. */
static void
take_out (WindowRig *rig)
{
  open_find (rig);
  window_rig_hover (window_rig_await_type (WS_TYPE_PHOTO_VIEW));
  press (rig, "ctrl+4");
  for (guint left = N_PHOTOS; left > 1; left--)
    {
      g_auto (Seen) seen = look ();

      g_assert_cmpuint (seen.n, ==, MIN (left, 4));
      gtk_widget_activate_action (window_rig_await_type (WS_TYPE_PHOTO_LEAF), "photo.take-out", NULL);
      window_rig_settle ();
    }
  assert_slips ("");
  g_assert_cmpuint (only_find ()->photos->len, ==, 1);
  window_rig_find ("A find of one photo has none to lay beside it");
  press (rig, "ctrl+z");
  press (rig, "ctrl+z");
  {
    g_auto (Seen) seen = look ();

    g_assert_cmpuint (seen.n, ==, 3);
  }
}

static void
narrow (WindowRig *rig)
{
  g_auto (Seen) two = { 0 }, four = { 0 };
  int x_two[2], y_two[2];

  gtk_window_set_default_size (GTK_WINDOW (window_rig_get_window ()), 360, 720);
  window_rig_wait (600);
  open_find (rig);
  /* A click that meets the leaves while they still fold is lost; a person clicks again. */
  for (int tries = 0; tries < 5 && window_rig_find_type (WS_TYPE_PHOTO_VIEW) == NULL; tries++)
    {
      window_rig_wait (1500);
      window_rig_click_text (rig, "Photo");
      for (int ms = 0; ms < 6000 && window_rig_find_type (WS_TYPE_PHOTO_VIEW) == NULL; ms += 100)
        window_rig_wait (100);
    }
  press (rig, "ctrl+2");
  window_rig_shoot ("beside-narrow-two");
  two = look ();
  g_assert_cmpuint (two.n, ==, 2);
  for (int i = 0; i < 2; i++)
    {
      graphene_rect_t bounds;

      g_assert_true (gtk_widget_compute_bounds (GTK_WIDGET (two.views[i]), GTK_WIDGET (window_rig_get_window ()), &bounds));
      x_two[i] = (int) bounds.origin.x;
      y_two[i] = (int) bounds.origin.y;
    }
  /* One above the other. */
  g_assert_cmpint (x_two[0], ==, x_two[1]);
  g_assert_cmpint (y_two[0], <, y_two[1]);
  press (rig, "ctrl+4");
  window_rig_shoot ("beside-narrow-four");
  four = look ();
  g_assert_cmpuint (four.n, ==, 4);
  g_assert_cmpint (gtk_widget_get_width (GTK_WIDGET (window_rig_get_window ())), <=, 360);
}

/* --- One process for each ------------------------------------------------------------------------------------------------ */

static const struct { const char *path, *summary; int width, height; WindowScript script; } journeys[] = {
  { "/app/beside/lay-and-take", "Two, four and one photo by keys; the next one comes into the hand and the others stay", 0, 0, lay_and_take },
  { "/app/beside/mark-each", "A drag, or keys, mark the print they are made on, and it comes into the hand", 0, 0, mark_each },
  { "/app/beside/together", "They move and zoom together, apart as they were laid", 0, 0, zoom_together },
  { "/app/beside/sharpen", "The photo sharpens to its own px, whatever else shows its thumbnail, and the next one is there already", 0, 0, sharpen },
  { "/app/beside/take-out", "Photos that leave the find leave the page, and undo lays them again", 0, 0, take_out },
  { "/app/beside/narrow", "In a window 360 px wide two lie above each other, four in two lines", 360, 720, narrow },
};

static void
run_journey (gconstpointer data)
{
  gsize i = GPOINTER_TO_SIZE (data);
  WindowRig *rig = window_rig_new ();

  fill_library (rig);
  window_rig_run (rig, journeys[i].width, journeys[i].height, journeys[i].script);
  window_rig_free (rig);
}

static void
test_in_subprocess (gconstpointer data)
{
  gsize i = GPOINTER_TO_SIZE (data);
  g_autofree char *inner = g_strconcat (journeys[i].path, "/subprocess", NULL);

  g_test_summary (journeys[i].summary);
  g_test_trap_subprocess (inner, 0, G_TEST_SUBPROCESS_INHERIT_STDERR);
  g_test_trap_assert_passed ();
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (journeys); i++)
    {
      g_autofree char *inner = g_strconcat (journeys[i].path, "/subprocess", NULL);

      g_test_add_data_func (inner, GSIZE_TO_POINTER (i), run_journey);
      g_test_add_data_func (journeys[i].path, GSIZE_TO_POINTER (i), test_in_subprocess);
    }
  return g_test_run ();
}
