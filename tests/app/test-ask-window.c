/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shell-rig.h"

#include <math.h>
#include "ws-ask-window.h"
#include "ws-record.h"

static Shell shell;

static GtkWidget *
begin (void (*fill) (TestDesk *test))
{
  g_autoptr (WsFindItem) item = NULL;
  GtkWidget *ask;

  shell_begin (&shell, fill);
  item = g_list_model_get_item (ws_session_get_finds (shell.session), 0);
  ask = ws_ask_window_new (shell.session, ws_find_item_get_id (item), NULL);
  shell_show (&shell, ask, 680, 760);
  return ask;
}

static void
test_without_base (void)
{
  GtkWidget *ask = begin (shell_fill_finds);
  GtkWidget *on = shell_find (ask, GTK_TYPE_BUTTON, "On to the last look");

  g_test_summary ("SAFETY: the missing base stands on top, nothing goes on without the reason, and the last button says what it does");
  shell_assert_says (ask, ws_session_text (shell.session, "caution", "base_missing"));
  shell_assert_says (ask, "Underside");
  g_assert_false (gtk_widget_is_sensitive (on));
  shell_click (&shell, ask, "The specimen is gone");
  g_assert_true (gtk_widget_is_sensitive (on));
  shell_click (&shell, ask, "On to the last look");
  shell_assert_says (ask, "Photo 1 of 1, nothing covered");
  g_assert_nonnull (shell_find (ask, GTK_TYPE_BUTTON, "Send without the base…"));
  g_assert_null (shell_find (ask, GTK_TYPE_BUTTON, "Make the package…"));
  shell_end (&shell);
}

static void
show_base (TestDesk *test)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = NULL;
  g_autoptr (WsShape) shape = ws_shape_new_box (&(WsRect) { 0.1, 0.1, 0.7, 0.7 });
  g_autoptr (WsFind) marked = NULL;
  g_autofree char *photo = NULL, *mark = NULL;
  /* As measured on a sharp photo: this is about the window, not about sharpness. */
  const WsMeasure measure = { TRUE, 1400, 1050, 1.0, 0, 0, NAN, 1 };

  g_free (test_photo (test, "a1.jpg", 1, 2000, "2025-10-04T14:00:00", NAN, NAN));
  test_import (test);
  find = test_find (test, "25-001");
  photo = test_photo_id (test, "a1.jpg");
  mark = ws_record_mark (test->desk, find->id, photo, "stem_base", NULL, shape, "cleaned", &error);
  g_assert_no_error (error);
  marked = test_find (test, "25-001");
  ws_library_store_measure (test->desk->library, ws_find_get_mark (marked, mark), &measure, &error);
  g_assert_no_error (error);
}

static void
test_with_base (void)
{
  GtkWidget *ask = begin (show_base);
  g_autoptr (WsFindItem) item = g_list_model_get_item (ws_session_get_finds (shell.session), 0);

  g_test_summary ("With the base shown no reason is asked for, and the button makes the package");
  g_assert_cmpint (ws_find_item_get_evidence (item)->base_shown, ==, 1);
  g_assert_null (shell_find (ask, GTK_TYPE_BUTTON, "The specimen is gone"));
  shell_click (&shell, ask, "On to the last look");
  g_assert_nonnull (shell_find (ask, GTK_TYPE_BUTTON, "Make the package…"));
  g_clear_object (&item);
  shell_end (&shell);
}

static void
test_cautions (void)
{
  GtkWidget *ask = begin (shell_fill_finds);
  static const char *const cautions[] = { "photos_never", "poison", "law" };

  g_test_summary ("SAFETY: the cautions stand under the letter");
  for (gsize i = 0; i < G_N_ELEMENTS (cautions); i++)
    shell_assert_says (ask, ws_session_text (shell.session, "caution", cautions[i]));
  shell_end (&shell);
}

/* The drop-down that offers @text. */
static GtkWidget *
find_choice (GtkWidget *below, const char *text)
{
  for (GtkWidget *child = gtk_widget_get_first_child (below); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_choice (child, text);

      if (found != NULL)
        return found;
      for (guint i = 0; GTK_IS_DROP_DOWN (child) && i < g_list_model_get_n_items (gtk_drop_down_get_model (GTK_DROP_DOWN (child))); i++)
        if (g_str_equal (gtk_string_list_get_string (GTK_STRING_LIST (gtk_drop_down_get_model (GTK_DROP_DOWN (child))), i), text))
          return child;
    }
  return NULL;
}

static void
test_place (void)
{
  static const char *const ids[] = { "exact", "0.001", "0.01", "0.1", "region", "withheld" };
  GtkWidget *ask = begin (shell_fill_finds), *places = NULL;

  g_test_summary ("Six ways to tell the place are offered, rounded to 0.01 degree first; country and region are asked for where they are all that is told");
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    {
      places = find_choice (ask, ws_session_text (shell.session, "tell_place", ids[i]));
      g_assert_nonnull (places);
    }
  g_assert_cmpuint (g_list_model_get_n_items (gtk_drop_down_get_model (GTK_DROP_DOWN (places))), ==, G_N_ELEMENTS (ids));
  g_assert_true (places == find_choice (ask, ws_session_text (shell.session, "tell_place", "0.01")));
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (places)), ==, 0);
  g_assert_null (shell_find (ask, GTK_TYPE_LABEL, "Country and region, as you want them told"));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (places), 3);
  shell_assert_says (ask, "Country and region, as you want them told");
  shell_end (&shell);
}

static void
test_narrow (void)
{
  GtkWidget *ask = begin (shell_fill_finds);
  int minimum;

  g_test_summary ("The letter, and the last look, fit a screen 360 px wide");
  gtk_widget_measure (ask, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  g_assert_cmpint (minimum, <=, 360);
  shell_end (&shell);
}

int
main (int argc, char **argv)
{
  shell_init (&argc, &argv);
  g_test_add_func ("/app/ask-window/without-base", test_without_base);
  g_test_add_func ("/app/ask-window/with-base", test_with_base);
  g_test_add_func ("/app/ask-window/cautions", test_cautions);
  g_test_add_func ("/app/ask-window/place", test_place);
  g_test_add_func ("/app/ask-window/narrow", test_narrow);
  return g_test_run ();
}
