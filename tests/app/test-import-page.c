/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shell-rig.h"

#include <math.h>

#include "ws-file.h"
#include "ws-import-page.h"

static Shell shell;
static int finished;

static void
finished_cb (void)
{
  finished++;
}

static GtkWidget *
begin (void (*fill) (TestDesk *test))
{
  GtkWidget *page;

  finished = 0;
  shell_begin (&shell, fill);
  page = ws_import_page_new (shell.session);
  g_signal_connect (page, "finished", G_CALLBACK (finished_cb), NULL);
  shell_show (&shell, page, 700, 700);
  return page;
}

static void
assert_finds (const char *wanted)
{
  g_autofree char *text = test_finds_text (&shell.test);

  g_assert_cmpstr (text, ==, wanted);
}

static void
make_photos (TestDesk *test)
{
  g_autofree char *notes = g_build_filename (test->photos, "broken.jpg", NULL);

  g_free (test_photo (test, "a1.jpg", 1, 320, "2025-10-04T14:00:00", NAN, NAN));
  g_free (test_photo (test, "a2.jpg", 2, 320, "2025-10-04T14:05:00", NAN, NAN));
  g_free (test_photo (test, "b1.jpg", 3, 320, "2025-10-04T15:00:00", NAN, NAN));
  g_free (test_photo (test, "u1.jpg", 4, 320, NULL, NAN, NAN));
  g_assert_true (ws_file_write (notes, "no picture", 10, NULL));
}

static void
test_read_and_make (void)
{
  GtkWidget *page = begin (make_photos);
  GtkWidget *gap, *make;

  g_test_summary ("Photos are read, what was passed over is said, thresholds change the preview at once, Enter makes the finds");
  ws_import_page_read (WS_IMPORT_PAGE (page), (const char *const []) { shell.test.photos, NULL });
  g_assert_true (ws_import_page_is_reading (WS_IMPORT_PAGE (page)));
  shell_wait_for (&shell, page, "2 finds, 1 photo unsorted|");
  shell_wait_for (&shell, page, "1 file was passed over|");
  gap = shell_find (page, GTK_TYPE_SPIN_BUTTON, NULL);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (gap), 2);
  shell_wait_for (&shell, page, "3 finds, 1 photo unsorted|");
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (gap), 10);
  shell_wait_for (&shell, page, "2 finds, 1 photo unsorted|");
  make = shell_find (page, GTK_TYPE_BUTTON, "Make 2 finds");
  g_assert_nonnull (make);
  g_assert_cmpint (finished, ==, 0);
  shell_click (&shell, page, "Make 2 finds");
  g_assert_cmpint (finished, ==, 1);
  assert_finds ("25-001: a1.jpg a2.jpg | 25-002: b1.jpg / unsorted: u1.jpg");
  shell_end (&shell);
}

static void
test_again (void)
{
  GtkWidget *page = begin (shell_fill_finds);
  g_autofree char *path = g_build_filename (shell.test.photos, "a1.jpg", NULL);

  g_test_summary ("A photo that is in a find already makes no second one");
  ws_import_page_read (WS_IMPORT_PAGE (page), (const char *const []) { path, NULL });
  shell_wait_for (&shell, page, "This photo is in a find already.|");
  shell_click (&shell, page, "Back to the finds");
  g_assert_cmpint (finished, ==, 1);
  assert_finds ("25-001: a1.jpg | 25-002: b1.jpg / unsorted: u1.jpg");
  shell_end (&shell);
}

static void
test_nothing (void)
{
  GtkWidget *page = begin (NULL);

  g_test_summary ("A folder without photos says so");
  ws_import_page_read (WS_IMPORT_PAGE (page), (const char *const []) { shell.test.photos, NULL });
  shell_wait_for (&shell, page, "There are no photos here that could be read.|");
  shell_end (&shell);
}

static void
test_focus (void)
{
  GtkWidget *page = begin (make_photos);
  GtkWidget *focus;

  g_test_summary ("When the preview comes, the button that makes the finds has the focus");
  ws_import_page_read (WS_IMPORT_PAGE (page), (const char *const []) { shell.test.photos, NULL });
  shell_wait_for (&shell, page, "2 finds, 1 photo unsorted|");
  focus = gtk_window_get_focus (GTK_WINDOW (shell.window));
  g_assert_true (focus == shell_find (page, GTK_TYPE_BUTTON, "Make 2 finds"));
  shell_end (&shell);
}

static void
test_narrow (void)
{
  GtkWidget *page = begin (make_photos);
  int minimum;

  g_test_summary ("The preview fits a window 360 px wide, beside the thumb index");
  ws_import_page_read (WS_IMPORT_PAGE (page), (const char *const []) { shell.test.photos, NULL });
  shell_wait_for (&shell, page, "2 finds, 1 photo unsorted|");
  gtk_widget_measure (page, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  g_assert_cmpint (minimum, <=, 324);
  shell_end (&shell);
}

int
main (int argc, char **argv)
{
  shell_init (&argc, &argv);
  g_test_add_func ("/app/import-page/read-and-make", test_read_and_make);
  g_test_add_func ("/app/import-page/again", test_again);
  g_test_add_func ("/app/import-page/nothing", test_nothing);
  g_test_add_func ("/app/import-page/focus", test_focus);
  g_test_add_func ("/app/import-page/narrow", test_narrow);
  return g_test_run ();
}
