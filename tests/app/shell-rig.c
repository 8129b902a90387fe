/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shell-rig.h"

#include "ws-app-resources.h"
#include "ws-picture.h"

#include <math.h>
#include <string.h>

void
shell_init (int *argc, char ***argv)
{
  g_test_init (argc, argv, NULL);
  g_assert_true (ws_picture_init ((*argv)[0], NULL));
  g_resources_register (ws_app_resources_get_resource ());
  adw_init ();
}

static void
said_cb (Shell *shell, const char *text, gboolean is_error)
{
  g_string_append_printf (shell->said, "%s%s|", is_error ? "!" : "", text);
}

void
shell_begin (Shell *shell, void (*fill) (TestDesk *test))
{
  shell->test = test_begin ();
  shell->window = NULL;
  shell->said = g_string_new (NULL);
  if (fill != NULL)
    fill (&shell->test);
  shell->session = ws_session_new (shell->test.desk);
  g_signal_connect_swapped (shell->session, "said", G_CALLBACK (said_cb), shell);
  while (!ws_session_is_loaded (shell->session))
    g_main_context_iteration (NULL, TRUE);
}

void
shell_end (Shell *shell)
{
  if (shell->window != NULL)
    gtk_window_destroy (GTK_WINDOW (shell->window));
  shell_settle (shell);
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_signal_handlers_disconnect_by_data (shell->session, shell);
  g_assert_finalize_object (shell->session);
  g_string_free (shell->said, TRUE);
  test_end (&shell->test);
}

void
shell_fill_finds (TestDesk *test)
{
  g_free (test_photo (test, "a1.jpg", 1, 320, "2025-10-04T14:00:00", NAN, NAN));
  g_free (test_photo (test, "b1.jpg", 2, 320, "2025-10-04T15:00:00", NAN, NAN));
  g_free (test_photo (test, "u1.jpg", 3, 320, NULL, NAN, NAN));
  test_import (test);
}

static gboolean
wake (gpointer data)
{
  gboolean *woken = data;

  *woken = TRUE;
  return G_SOURCE_REMOVE;
}

static void
run_for (guint milliseconds)
{
  gboolean woken = FALSE;

  g_timeout_add (milliseconds, wake, &woken);
  while (!woken)
    g_main_context_iteration (NULL, TRUE);
}

/* Longer than the session's pause before it loads again and than one frame. */
void
shell_settle (Shell *shell)
{
  for (int quiet = 0; quiet < 3; quiet++)
    {
      run_for (100);
      while (ws_task_count () > 0)
        {
          quiet = 0;
          g_main_context_iteration (NULL, TRUE);
        }
    }
}

void
shell_show (Shell *shell, GtkWidget *page, int width, int height)
{
  if (GTK_IS_WINDOW (page))
    shell->window = page;
  else
    {
      shell->window = gtk_window_new ();
      gtk_window_set_child (GTK_WINDOW (shell->window), page);
    }
  gtk_window_set_default_size (GTK_WINDOW (shell->window), width, height);
  gtk_window_present (GTK_WINDOW (shell->window));
  shell_settle (shell);
}

static char *
plain (const char *text, gboolean mnemonics)
{
  g_auto (GStrv) parts = mnemonics ? g_strsplit (text, "_", -1) : NULL;

  return mnemonics ? g_strjoinv ("", parts) : g_strdup (text);
}

static char *
dup_label (GtkWidget *widget)
{
  if (GTK_IS_LABEL (widget))
    return g_strdup (gtk_label_get_text (GTK_LABEL (widget)));
  if (GTK_IS_BUTTON (widget) && gtk_button_get_label (GTK_BUTTON (widget)) != NULL)
    return plain (gtk_button_get_label (GTK_BUTTON (widget)), gtk_button_get_use_underline (GTK_BUTTON (widget)));
  if (GTK_IS_CHECK_BUTTON (widget) && gtk_check_button_get_label (GTK_CHECK_BUTTON (widget)) != NULL)
    return plain (gtk_check_button_get_label (GTK_CHECK_BUTTON (widget)), TRUE);
  return NULL;
}

GtkWidget *
shell_find (GtkWidget *root, GType type, const char *text)
{
  g_autofree char *label = NULL;

  if (!gtk_widget_get_mapped (root))
    return NULL;
  label = dup_label (root);
  if (g_type_is_a (G_OBJECT_TYPE (root), type) && (text == NULL || g_strcmp0 (label, text) == 0))
    return root;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = shell_find (child, type, text);

      if (found != NULL)
        return found;
    }
  return NULL;
}

void
shell_click (Shell *shell, GtkWidget *root, const char *text)
{
  GtkWidget *button = shell_find (root, GTK_TYPE_BUTTON, text);

  if (button == NULL)
    {
      g_autofree char *texts = shell_texts (root);

      g_error ("no button “%s” among: %s", text, texts);
    }
  g_assert_true (gtk_widget_is_sensitive (button));
  g_signal_emit_by_name (button, "clicked");
  shell_settle (shell);
}

static void
collect (GtkWidget *widget, GString *texts)
{
  if (!gtk_widget_get_mapped (widget))
    return;
  if (GTK_IS_LABEL (widget) && *gtk_label_get_text (GTK_LABEL (widget)) != '\0')
    g_string_append_printf (texts, "%s|", gtk_label_get_text (GTK_LABEL (widget)));
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    collect (child, texts);
}

char *
shell_texts (GtkWidget *root)
{
  GString *texts = g_string_new (NULL);

  collect (root, texts);
  return g_string_free (texts, FALSE);
}

void
shell_assert_says (GtkWidget *root, const char *text)
{
  g_autofree char *texts = shell_texts (root);

  if (strstr (texts, text) == NULL)
    g_error ("“%s” is not there: %s", text, texts);
}

void
shell_assert_silent (GtkWidget *root, const char *text)
{
  g_autofree char *texts = shell_texts (root);

  if (strstr (texts, text) != NULL)
    g_error ("“%s” is still there: %s", text, texts);
}

void
shell_wait_for (Shell *shell, GtkWidget *root, const char *text)
{
  gint64 end = g_get_monotonic_time () + 20 * G_TIME_SPAN_SECOND;

  for (;;)
    {
      g_autofree char *texts = shell_texts (root);

      if (strstr (texts, text) != NULL)
        break;
      if (g_get_monotonic_time () > end)
        g_error ("“%s” did not come; there is: %s", text, texts);
      run_for (50);
    }
  shell_settle (shell);
}
