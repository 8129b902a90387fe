/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window as a screen reader meets it: over the accessibility bus, read by a process of its own (access-walker, libatspi),
 * while the program runs here. Needs a display, a session bus and at-spi2-core. */
#include "window-rig.h"

#include "ws-find-row.h"
#include "ws-photo-view.h"
#include "ws-test-library.h"

#include <string.h>
#include <unistd.h>

typedef struct { char *text; gboolean done, failed; } Heard;

static void
heard_cb (GObject *process, GAsyncResult *result, gpointer data)
{
  Heard *heard = data;

  if (!g_subprocess_communicate_utf8_finish (G_SUBPROCESS (process), result, &heard->text, NULL, NULL))
    heard->failed = TRUE;
  heard->done = TRUE;
}

static gboolean
is_done (gpointer heard)
{
  return ((Heard *) heard)->done;
}

/* What the walker says; the main loop runs meanwhile, for the program answers it from there. @press (nullable). (transfer full) */
static char *
walk (const char *press)
{
  g_autofree char *pid = g_strdup_printf ("%d", (int) getpid ());
  g_autofree char *walker = g_build_filename (g_getenv ("WS_BUILD_ROOT"), "tests", "app", "access-walker", NULL);
  const char *argv[] = { walker, pid, press != NULL ? "press" : NULL, press, NULL };
  g_autoptr (GError) error = NULL;
  g_autoptr (GSubprocess) process = g_subprocess_newv (argv, G_SUBPROCESS_FLAGS_STDOUT_PIPE, &error);
  Heard heard = { NULL, FALSE, FALSE };

  g_assert_no_error (error);
  g_subprocess_communicate_utf8_async (process, NULL, NULL, heard_cb, &heard);
  window_rig_until (is_done, &heard, "the walker");
  g_assert_false (heard.failed);
  if (g_subprocess_get_exit_status (process) != 0)
    g_error ("access-walker %s: not found", press != NULL ? press : "");
  return heard.text;
}

static gboolean
must_be_named (const char *role)
{
  static const char *const controls[] = {
    "push button", "toggle button", "check box", "radio button", "combo box", "text", "entry", "password text", "spin button",
    "slider", "menu item", "page tab", "link", "image", "search box", "list item",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (controls); i++)
    if (g_str_equal (role, controls[i]))
      return TRUE;
  return FALSE;
}

/* Every control that is shown has a name; the page is put into the log as it is heard. */
static void
assert_named (const char *page, const char *heard)
{
  g_auto (GStrv) lines = g_strsplit (heard, "\n", -1);
  guint n_controls = 0, n_nameless = 0;

  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i], "\t", -1);

      if (g_strv_length (cells) != 4 || !must_be_named (cells[0]))
        continue;
      n_controls++;
      if (*g_strstrip (cells[1]) == '\0')
        {
          n_nameless++;
          g_test_message ("%s: a %s without a name, line %u, after: %s", page, cells[0], i, i > 0 ? lines[i - 1] : "");
          for (guint k = i > 6 ? i - 6 : 0; k < i + 4 && lines[k] != NULL; k++)
            g_test_message ("   %s", lines[k]);
        }
    }
  g_test_message ("%s: %u controls", page, n_controls);
  g_assert_cmpuint (n_controls, >, 3);
  g_assert_cmpuint (n_nameless, ==, 0);
}

static void
assert_page (const char *page)
{
  g_autofree char *heard = NULL;

  window_rig_settle ();
  heard = walk (NULL);
  assert_named (page, heard);
}

/* The line of the button whose name begins so, NULL when there is none. (transfer full) */
static char *
dup_line (const char *heard, const char *role, const char *name)
{
  g_auto (GStrv) lines = g_strsplit (heard, "\n", -1);
  g_autofree char *begin = g_strdup_printf ("%s\t%s", role, name);

  for (guint i = 0; lines[i] != NULL; i++)
    if (g_str_has_prefix (lines[i], begin))
      return g_strdup (lines[i]);
  return NULL;
}

/* The part of the drawing that is the base: a real button, with what it is and how it stands, that can be pressed from outside. */
static void
arm_base (void)
{
  g_autofree char *before = walk (NULL), *after = NULL, *line = dup_line (before, "push button", "Stem base: missing"), *name = NULL, *armed = NULL;

  if (line == NULL)
    g_error ("no button \"Stem base…\" among:\n%s", before);
  g_test_message ("%s", line);
  g_assert_nonnull (strstr (line, "missing"));
  g_assert_null (strstr (line, "pressed"));
  {
    g_auto (GStrv) cells = g_strsplit (line, "\t", -1);

    name = g_strdup (cells[1]);
  }
  g_free (walk (name));
  window_rig_settle ();
  after = walk (NULL);
  armed = dup_line (after, "push button", name);
  g_assert_nonnull (armed);
  g_test_message ("%s", armed);
  g_assert_true (strstr (armed, "pressed") != NULL || strstr (armed, "checked") != NULL);
}

static gboolean
have_finds (gpointer data)
{
  return g_list_model_get_n_items (ws_session_get_finds (window_rig_get_session ())) > 0;
}

static void
pages (WindowRig *rig)
{
  static const char *const leaves[] = { "Notes", "Place", "Names" };

  assert_page ("first questions");
  window_rig_click_text (rig, "Not now");
  window_rig_until (have_finds, NULL, "the find");
  assert_page ("finds");
  window_rig_click (rig, window_rig_await_type (WS_TYPE_FIND_ROW));
  assert_page ("find sheet");
  arm_base ();
  for (gsize i = 0; i < G_N_ELEMENTS (leaves); i++)
    {
      window_rig_click_text (rig, leaves[i]);
      assert_page (leaves[i]);
    }
  window_rig_click_text (rig, "win.ask");
  assert_page ("ask");
  window_rig_click_text (rig, "On to the last look");
  assert_page ("last look");
  window_rig_key (rig, "Escape");
  window_rig_settle ();
  window_rig_hover (GTK_WIDGET (window_rig_get_window ()));
  window_rig_click_text (rig, "Requests");
  assert_page ("requests");
  window_rig_click_text (rig, "win.eaten");
  assert_page ("eaten");
}

static void
test_pages (void)
{
  WindowRig *rig = window_rig_new ();

  g_test_summary ("Every control of every page has a name on the accessibility bus; the base is a button that can be pressed from there");
  test_fill_library (rig->folder, rig->library, 3);   /* before the program starts, which forbids waiting */
  window_rig_run (rig, 0, 0, pages);
  window_rig_free (rig);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/access-bus/pages", test_pages);
  return g_test_run ();
}
