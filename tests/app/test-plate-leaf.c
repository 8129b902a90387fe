/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plate in the real window, by real events: seen, swapped with keys and pointer, an empty frame that leads to marking. */
#include "window-rig.h"

#include "ws-find-row.h"
#include "ws-photo-view.h"
#include "ws-plate-make.h"
#include "ws-plate-view.h"
#include "ws-record.h"
#include "ws-test-library.h"

#include <string.h>

#define CAP "Cap or body from above, shown. Press for another picture of it"

static char *chosen;

static WsPlate *
the_plate (void)
{
  return ws_plate_view_get_plate (WS_PLATE_VIEW (window_rig_await_type (WS_TYPE_PLATE_VIEW)));
}

static const WsMark *
shown_cap (void)
{
  WsPlate *plate = the_plate ();

  for (guint i = 0; i < ws_plate_get_n_parts (plate); i++)
    if (g_str_equal (ws_plate_get_view (plate, i), "v_top"))
      return ws_plate_get_mark (plate, i);
  return NULL;
}

static gboolean
has_plate (gpointer data)
{
  GtkWidget *view = window_rig_find_type (WS_TYPE_PLATE_VIEW);

  return view != NULL && ws_plate_view_get_plate (WS_PLATE_VIEW (view)) != NULL;
}

static void
swap (WindowRig *rig)
{
  g_autofree char *first = g_strdup (shown_cap ()->id), *second = NULL;
  GtkWidget *cap = window_rig_find (CAP);

  /* Pressed: the other crop; and it stays chosen. */
  window_rig_click (rig, cap);
  window_rig_settle ();
  second = g_strdup (shown_cap ()->id);
  g_assert_cmpstr (second, !=, first);
  /* By the keyboard back, and forward; the focus stays on the part. */
  cap = window_rig_find (CAP);
  gtk_widget_grab_focus (cap);
  window_rig_hover (cap);
  window_rig_key (rig, "Left");
  window_rig_settle ();
  g_assert_cmpstr (shown_cap ()->id, ==, first);
  g_assert_true (gtk_widget_has_focus (window_rig_find (CAP)));
  window_rig_key (rig, "Right");
  window_rig_settle ();
  g_assert_cmpstr (shown_cap ()->id, ==, second);
  chosen = g_steal_pointer (&second);
}

static void
script (WindowRig *rig)
{
  GtkWidget *photo;

  window_rig_settle ();
  window_rig_click (rig, window_rig_await_type (WS_TYPE_FIND_ROW));
  window_rig_settle ();
  window_rig_click_text (rig, "Plate");
  window_rig_until (has_plate, NULL, "a plate");
  window_rig_settle ();
  window_rig_wait (300);
  window_rig_shoot ("plate-leaf");
  g_assert_nonnull (window_rig_look ("Stem base, missing. Press to mark it"));
  swap (rig);
  window_rig_click (rig, window_rig_find ("Stem base, missing. Press to mark it"));
  window_rig_settle ();
  /* The photo is there again, and the base is armed. */
  photo = window_rig_await_type (WS_TYPE_PHOTO_VIEW);
  g_assert_true (gtk_widget_get_mapped (photo));
  g_assert_null (window_rig_find_type (WS_TYPE_PLATE_VIEW));
}

/* Two crops of the cap, no base. */
static void
fill_library (WsDesk *desk, const char *photo)
{
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < 2; i++)
    {
      WsRect box = { 0.1 + 0.3 * i, 0.1, 0.5, 0.5 };
      g_autoptr (WsShape) shape = ws_shape_new_box (&box);
      g_autofree char *id = ws_record_mark (desk, "25-001", photo, "cap", NULL, shape, "", &error);

      g_assert_no_error (error);
    }
  g_assert_true (ws_record_note (desk, "25-001", "growth_form", "gilled_stem", TRUE, FALSE, "", &error));
  g_assert_true (ws_library_set_setting (desk->library, WS_SETTING_FIRST_ASKED, "yes", &error));
  g_assert_no_error (error);
}

/* What the package takes it from; not on the thread that draws. */
static gpointer
check_stored (gpointer library)
{
  g_autoptr (WsDesk) desk = ws_desk_open (library, NULL);
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, "25-001", NULL);
  g_autoptr (GHashTable) choices = ws_plate_load_choices (desk, find->id);

  g_assert_cmpstr (g_hash_table_lookup (choices, "v_top"), ==, chosen);
  return NULL;
}

static void
test_leaf (void)
{
  WindowRig *rig = g_new0 (WindowRig, 1);
  g_autofree char *photo = NULL;
  TestDesk test;

  g_test_summary ("the plate is seen, its crops are swapped by pointer and keys and stay so, an empty frame arms the marking of the part");
  window_rig_start ();
  test = test_begin ();
  g_free (test_photo (&test, "a1.jpg", 1, 1600, "2025-10-04T14:00:00", 51.2345678, -30.5));
  test_import (&test);
  photo = test_photo_id (&test, "a1.jpg");
  fill_library (test.desk, photo);
  g_clear_pointer (&test.desk, ws_desk_unref);
  rig->folder = test.folder;
  rig->library = g_build_filename (test.folder, "library", NULL);
  g_free (test.photos);
  window_rig_run (rig, 0, 0, script);
  g_thread_join (g_thread_new ("choice", check_stored, rig->library));
  g_free (chosen);
  window_rig_free (rig);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/plate-leaf/leaf", test_leaf);
  return g_test_run ();
}
