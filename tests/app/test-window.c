/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The real window, from an empty library to a verified package, and other journeys. Each runs in a process of its own. */
#include "window-rig.h"

#include "ws-find-row.h"
#include "ws-file.h"
#include "ws-photo-view.h"
#include "ws-test-library.h"

#include <libintl.h>
#include <locale.h>
#include <math.h>
#include <string.h>

/* Puts photos of one find into FOLDER/photos, a minute apart; before the program starts, which forbids waiting. */
static void
make_photos (WindowRig *rig, guint n)
{
  TestDesk fake = { rig->folder, g_build_filename (rig->folder, "photos", NULL), NULL };

  g_assert_cmpint (g_mkdir_with_parents (fake.photos, 0755), ==, 0);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *name = g_strdup_printf ("IMG_%04u.jpg", i + 1), *taken = g_strdup_printf ("2025-10-04T14:%02u:00", i);

      g_free (test_photo (&fake, name, i + 1, 1600, taken, NAN, NAN));
    }
  g_free (fake.photos);
}

static const WsFind *
only_find (void)
{
  GListModel *finds = ws_session_get_finds (window_rig_get_session ());
  g_autoptr (WsFindItem) item = NULL;

  g_assert_cmpuint (g_list_model_get_n_items (finds), ==, 1);
  item = g_list_model_get_item (finds, 0);
  return ws_find_item_get_find (item);
}

static gboolean
have_find (gpointer data)
{
  return g_list_model_get_n_items (ws_session_get_finds (window_rig_get_session ())) > 0;
}

/* First start: nothing is written down yet. */
static void
put_away_first_questions (WindowRig *rig)
{
  window_rig_click_text (rig, "Not now");
  window_rig_settle ();
}

/* Opens the folder, accepts the finds that are proposed. */
static void
bring_photos (WindowRig *rig, const char *folder)
{
  window_rig_look_away (TRUE);
  window_rig_click_text (rig, "Open a folder or card…");
  window_rig_hover (window_rig_await_type (GTK_TYPE_FILE_CHOOSER_DIALOG));
  window_rig_wait (600);
  window_rig_type (rig, folder);
  window_rig_wait (600);
  window_rig_key (rig, "Return");
  /* The first Return may only take the name that the dialogue proposes. */
  if (!window_rig_await_gone (GTK_TYPE_FILE_CHOOSER_DIALOG, 3000))
    window_rig_key (rig, "Return");
  window_rig_await_gone (GTK_TYPE_FILE_CHOOSER_DIALOG, 10000);
  window_rig_look_away (FALSE);
  window_rig_settle ();
  window_rig_shoot ("import");
  window_rig_hover (GTK_WIDGET (window_rig_get_window ()));
  window_rig_key (rig, "Return");
  window_rig_until (have_find, NULL, "the find");
  window_rig_settle ();
}

static void
open_only_find (WindowRig *rig)
{
  window_rig_click (rig, window_rig_await_type (WS_TYPE_FIND_ROW));
  window_rig_settle ();
}

/* --- From the empty library to a verified package ---------------------------------------------------------------- */

static gboolean
have_package (gpointer path)
{
  return g_file_test (path, G_FILE_TEST_EXISTS);
}

static void
drag_base (WindowRig *rig)
{
  WsPhotoView *view = WS_PHOTO_VIEW (window_rig_await_type (WS_TYPE_PHOTO_VIEW));
  WsPoint a = ws_photo_view_to_view (view, 0.3, 0.3), b = ws_photo_view_to_view (view, 0.8, 0.8);
  double w = gtk_widget_get_width (GTK_WIDGET (view)), h = gtk_widget_get_height (GTK_WIDGET (view));

  window_rig_drag (rig, GTK_WIDGET (view), a.x / w, a.y / h, b.x / w, b.y / h);
  window_rig_settle ();
}

static void
journey (WindowRig *rig)
{
  g_autofree char *photos = g_build_filename (rig->folder, "photos", NULL);
  g_autofree char *package = g_build_filename (rig->folder, "request.zip", NULL);
  const WsMark *mark;

  put_away_first_questions (rig);
  window_rig_shoot ("empty");
  rig->actions = 0;
  bring_photos (rig, photos);
  window_rig_shoot ("finds");
  open_only_find (rig);
  window_rig_click_text (rig, "Stem base");
  drag_base (rig);
  g_assert_cmpuint (only_find ()->marks->len, ==, 1);
  mark = only_find ()->marks->pdata[0];
  g_assert_cmpstr (mark->part, ==, "stem_base");
  g_assert_cmpstr (mark->base_kind, ==, "");
  g_assert_cmpfloat (fabs (mark->shape->bounds.x - 0.3), <, 0.01);
  g_assert_cmpfloat (fabs (mark->shape->bounds.width - 0.5), <, 0.01);
  window_rig_key (rig, "1");
  window_rig_settle ();
  window_rig_shoot ("sheet");
  g_assert_cmpstr (((WsMark *) only_find ()->marks->pdata[0])->base_kind, ==, "cleaned");
  window_rig_click_text (rig, "win.ask");
  window_rig_settle ();
  window_rig_shoot ("ask");
  window_rig_click_text (rig, "On to the last look");
  window_rig_settle ();
  window_rig_shoot ("last-look");
  window_rig_look_away (TRUE);
  window_rig_click_text (rig, "Make the package…");
  window_rig_hover (window_rig_await_type (GTK_TYPE_FILE_CHOOSER_DIALOG));
  window_rig_wait (600);
  window_rig_key (rig, "ctrl+a");
  window_rig_type (rig, package);
  window_rig_key (rig, "Return");
  window_rig_until (have_package, package, "the package");
  window_rig_look_away (FALSE);
  window_rig_find ("The request lies here");
  window_rig_shoot ("made");
  g_test_message ("%u actions", rig->actions);
  g_assert_cmpuint (rig->actions, <=, 15);
}

static void
test_journey (void)
{
  WindowRig *rig = window_rig_new ();
  g_autofree char *package = g_build_filename (rig->folder, "request.zip", NULL);
  g_autoptr (GError) error = NULL;

  make_photos (rig, 3);
  window_rig_run (rig, 0, 0, journey);
  {
    g_autofree char *out = NULL;
    g_autofree char *tool = g_build_filename (g_getenv ("WS_BUILD_ROOT"), "src", "command", "wholestem-tool", NULL);
    const char *argv[] = { tool, "verify", package, NULL };
    int status;

    g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &out, NULL, &status, &error);
    g_assert_no_error (error);
    g_test_message ("%s", out);
    g_assert_cmpint (status, ==, 0);
  }
  window_rig_free (rig);
}

/* --- Ten photos labelled by keys ----------------------------------------------------------------------------------- */

static void
ten_photos (WindowRig *rig)
{
  static const char *const keys[] = { "i", "h", "w", "t", "u", "a", "s", "c", "k" };
  g_autofree char *photos = g_build_filename (rig->folder, "photos", NULL);
  guint n_whole = 0;

  put_away_first_questions (rig);
  bring_photos (rig, photos);
  open_only_find (rig);
  window_rig_hover (window_rig_await_type (WS_TYPE_PHOTO_VIEW));
  rig->actions = 0;
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      window_rig_key (rig, keys[i]);
      window_rig_settle ();
    }
  window_rig_key (rig, "b");
  drag_base (rig);
  window_rig_key (rig, "1");
  window_rig_settle ();
  g_test_message ("%u actions", rig->actions);
  g_assert_cmpuint (rig->actions, <=, 15);
  g_assert_cmpuint (only_find ()->marks->len, ==, 10);
  for (guint i = 0; i < 10; i++)
    {
      const WsMark *mark = only_find ()->marks->pdata[i];

      n_whole += mark->whole_photo;
      for (guint k = 0; k < i; k++)
        g_assert_cmpstr (mark->photo_id, !=, ((WsMark *) only_find ()->marks->pdata[k])->photo_id);
    }
  g_assert_cmpuint (n_whole, ==, 9);
  window_rig_shoot ("ten-photos");
}

static void
test_ten_photos (void)
{
  WindowRig *rig = window_rig_new ();

  make_photos (rig, 10);
  window_rig_run (rig, 0, 0, ten_photos);
  window_rig_free (rig);
}

/* --- Undo, also across a restart -------------------------------------------------------------------------------------- */

static void
undo (WindowRig *rig)
{
  g_autofree char *photos = g_build_filename (rig->folder, "photos", NULL);

  put_away_first_questions (rig);
  bring_photos (rig, photos);
  open_only_find (rig);
  window_rig_hover (window_rig_await_type (WS_TYPE_PHOTO_VIEW));
  window_rig_key (rig, "b");
  drag_base (rig);
  g_assert_cmpuint (only_find ()->marks->len, ==, 1);
  window_rig_key (rig, "ctrl+z");
  window_rig_settle ();
  g_assert_cmpuint (only_find ()->marks->len, ==, 0);
  window_rig_key (rig, "ctrl+shift+z");
  window_rig_settle ();
  g_assert_cmpuint (only_find ()->marks->len, ==, 1);
}

static void
undo_later (WindowRig *rig)
{
  g_assert_cmpuint (only_find ()->marks->len, ==, 1);
  window_rig_hover (GTK_WIDGET (window_rig_get_window ()));
  window_rig_key (rig, "ctrl+z");
  window_rig_settle ();
  g_assert_cmpuint (only_find ()->marks->len, ==, 0);
}

static void
run_in (const char *folder, guint n_photos, WindowScript script)
{
  WindowRig rig = { (char *) folder, g_build_filename (folder, "library", NULL), 0 };

  window_rig_start ();
  if (n_photos > 0)
    make_photos (&rig, n_photos);
  window_rig_run (&rig, 0, 0, script);
  g_free (rig.library);
}

static void
test_undo_first (void)
{
  run_in (g_getenv ("WS_TEST_FOLDER"), 2, undo);
}

static void
test_undo_second (void)
{
  run_in (g_getenv ("WS_TEST_FOLDER"), 0, undo_later);
}

/* --- Eaten, with an empty library; and a narrow window ------------------------------------------------------------------- */

static void
eaten (WindowRig *rig)
{
  put_away_first_questions (rig);
  rig->actions = 0;
  window_rig_click (rig, window_rig_find ("win.eaten"));
  window_rig_wait (400);
  window_rig_find ("your emergency number");
  g_assert_cmpuint (rig->actions, ==, 1);
  window_rig_shoot ("eaten");
}

static void
test_eaten (void)
{
  WindowRig *rig = window_rig_new ();

  window_rig_run (rig, 0, 0, eaten);
  window_rig_free (rig);
}

/* Names what keeps the window from being narrow. */
static void
tell_wide (GtkWidget *widget, int depth)
{
  int minimum;

  gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  if (minimum > 250)
    g_printerr ("%*s%s %d\n", depth, "", G_OBJECT_TYPE_NAME (widget), minimum);
  for (GtkWidget *w = gtk_widget_get_first_child (widget); w != NULL && minimum > 250; w = gtk_widget_get_next_sibling (w))
    tell_wide (w, depth + 1);
}

static void
assert_narrow (const char *what)
{
  GtkWidget *window = GTK_WIDGET (window_rig_get_window ());

  g_test_message ("%s", what);
  if (gtk_widget_get_width (window) > 360)
    tell_wide (window, 0);
  g_assert_cmpint (gtk_widget_get_width (window), <=, 360);
}

static void
narrow (WindowRig *rig)
{
  g_autofree char *photos = g_build_filename (rig->folder, "photos", NULL);

  put_away_first_questions (rig);
  bring_photos (rig, photos);
  gtk_window_set_default_size (GTK_WINDOW (window_rig_get_window ()), 360, 700);
  window_rig_wait (600);
  window_rig_shoot ("narrow-finds");
  assert_narrow ("finds");
  open_only_find (rig);
  window_rig_shoot ("narrow-figure");
  assert_narrow ("figure");
  window_rig_click_text (rig, "Notes");
  window_rig_settle ();
  window_rig_shoot ("narrow-notes");
  assert_narrow ("notes");
  window_rig_click_text (rig, "Still open");
  window_rig_settle ();
  window_rig_shoot ("narrow-still-open");
  assert_narrow ("still open");
  window_rig_click_text (rig, "Figure");
  window_rig_settle ();
  /* A click that meets the leaves while they still fold is lost; a person clicks again. */
  for (int tries = 0; tries < 5 && window_rig_find_type (WS_TYPE_PHOTO_VIEW) == NULL; tries++)
    {
      window_rig_wait (1500);
      window_rig_click_text (rig, "Photo");
      for (int ms = 0; ms < 6000 && window_rig_find_type (WS_TYPE_PHOTO_VIEW) == NULL; ms += 100)
        window_rig_wait (100);
    }
  g_assert_nonnull (window_rig_find_type (WS_TYPE_PHOTO_VIEW));
  window_rig_shoot ("narrow-photo");
  assert_narrow ("photo");
}

static void
test_narrow (void)
{
  WindowRig *rig = window_rig_new ();

  make_photos (rig, 2);
  window_rig_run (rig, 360, 700, narrow);
  window_rig_free (rig);
}

/* German is longer. The words are those of the catalogue, which the program has opened. */
static void
narrow_german (WindowRig *rig)
{
  static const char *const leaves[] = { "Notes", "Still open", "Place", "Names", "Figure" };

  window_rig_key (rig, "Escape");
  window_rig_settle ();
  gtk_window_set_default_size (GTK_WINDOW (window_rig_get_window ()), 360, 700);
  window_rig_wait (600);
  assert_narrow ("finds");
  open_only_find (rig);
  window_rig_shoot ("narrow-german-figure");
  assert_narrow ("figure");
  g_assert_cmpstr (g_dgettext ("wholestem", "Notes"), ==, "Notizen");
  for (gsize i = 0; i < G_N_ELEMENTS (leaves); i++)
    {
      window_rig_click_text (rig, g_dgettext ("wholestem", leaves[i]));
      window_rig_settle ();
      window_rig_shoot (leaves[i]);
      assert_narrow (leaves[i]);
    }
}

static void
test_narrow_german (void)
{
  WindowRig *rig = window_rig_new ();
  g_autofree char *catalogues = g_build_filename (g_getenv ("WS_BUILD_ROOT"), "po", NULL);

  g_setenv ("LC_ALL", "de_DE.UTF-8", TRUE);
  if (setlocale (LC_ALL, "") == NULL)
    g_test_skip ("there is no German locale here");
  else
    {
      bindtextdomain ("wholestem", catalogues);
      textdomain ("wholestem");
      test_fill_library (rig->folder, rig->library, 2);
      window_rig_run (rig, 360, 700, narrow_german);
    }
  window_rig_free (rig);
}

/* --- One process for each -------------------------------------------------------------------------------------------------- */

static const struct { const char *path, *summary; GTestFunc script; } journeys[] = {
  { "/app/window/journey", "From an empty library to a saved, verified request in at most 15 actions", test_journey },
  { "/app/window/ten-photos", "Ten photos get their views and the base its mark in at most 15 actions", test_ten_photos },
  { "/app/window/eaten", "Eaten, or perhaps eaten, is one step away and works with an empty library", test_eaten },
  { "/app/window/narrow-german", "All leaves fit a window 360 px wide in German", test_narrow_german },
  { "/app/window/narrow", "All fits a window 360 px wide, one leaf at a time", test_narrow },
};

static void
run_subprocess (const char *path)
{
  g_autofree char *inner = g_strconcat (path, "/subprocess", NULL);

  g_test_trap_subprocess (inner, 0, G_TEST_SUBPROCESS_INHERIT_STDERR);
  g_test_trap_assert_passed ();
}

static void
test_in_subprocess (gconstpointer data)
{
  const char *path = data;

  for (gsize i = 0; i < G_N_ELEMENTS (journeys); i++)
    if (g_str_equal (journeys[i].path, path))
      g_test_message ("%s", journeys[i].summary);
  run_subprocess (path);
}

static void
test_undo (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("wholestem-XXXXXX", &error);

  g_test_summary ("Undo and redo by keys, and undo again after a restart");
  g_assert_no_error (error);
  g_setenv ("WS_TEST_FOLDER", folder, TRUE);
  run_subprocess ("/app/window/undo-first");
  run_subprocess ("/app/window/undo-second");
  ws_file_remove_tree (folder, NULL);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  /* GLib runs what is called "subprocess" only when it is asked to. */
  for (gsize i = 0; i < G_N_ELEMENTS (journeys); i++)
    {
      g_autofree char *inner = g_strconcat (journeys[i].path, "/subprocess", NULL);

      g_test_add_func (inner, journeys[i].script);
      g_test_add_data_func (journeys[i].path, journeys[i].path, test_in_subprocess);
    }
  g_test_add_func ("/app/window/undo-first/subprocess", test_undo_first);
  g_test_add_func ("/app/window/undo-second/subprocess", test_undo_second);
  g_test_add_func ("/app/window/undo", test_undo);
  return g_test_run ();
}
