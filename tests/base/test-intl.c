/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-intl.h"

#include <glib/gstdio.h>
#include <locale.h>

static void
run_translated (void)
{
  ws_intl_init ();
  g_print ("<%s|%s>\n", _("a word for a test"), _("another word"));
}

/* Makes a message file with the outside tool msgfmt: DIR/de/LC_MESSAGES/DOMAIN.mo. */
static gboolean
make_catalogue (const char *dir)
{
  g_autofree char *folder = g_build_filename (dir, "de", "LC_MESSAGES", NULL);
  g_autofree char *po = g_build_filename (dir, "de.po", NULL), *mo = g_build_filename (folder, GETTEXT_PACKAGE ".mo", NULL);
  const char *argv[] = { "msgfmt", "-o", mo, po, NULL };
  int status = 1;

  g_assert_cmpint (g_mkdir_with_parents (folder, 0700), ==, 0);
  g_assert_true (g_file_set_contents (po, "msgid \"\"\nmsgstr \"Content-Type: text/plain; charset=ISO-8859-1\\n\"\n"
                                          "msgid \"a word for a test\"\nmsgstr \"ein W\xf6rtchen\"\n", -1, NULL));
  return g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, &status, NULL) && status == 0;
}

static void
test_translated (void)
{
  g_autofree char *dir = g_dir_make_tmp ("ws-intl-XXXXXX", NULL);
  const char *rm[] = { "rm", "-rf", "--", dir, NULL };
  g_autofree char *tool = g_find_program_in_path ("msgfmt"), *before = g_strdup (setlocale (LC_ALL, NULL));
  gboolean german = setlocale (LC_ALL, "de_DE.UTF-8") != NULL;

  g_test_summary ("messages of our domain are translated, as UTF-8, from where the environment says they lie");
  setlocale (LC_ALL, before);
  if (tool == NULL || !german)
    g_test_skip (german ? "the program msgfmt is not here" : "locale de_DE.UTF-8 is not installed");
  else
    {
      g_assert_true (make_catalogue (dir));
      g_setenv ("WS_LOCALEDIR_OVERRIDE", dir, TRUE);
      g_setenv ("LC_ALL", "de_DE.UTF-8", TRUE);
      g_unsetenv ("LANGUAGE");
      g_test_trap_subprocess ("/base/intl/translated/subprocess", 0, 0);
      g_test_trap_assert_passed ();
      g_test_trap_assert_stdout ("*<ein W\xc3\xb6rtchen|another word>*");
    }
  g_spawn_sync (NULL, (char **) rm, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, NULL);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/base/intl/translated", test_translated);
  g_test_add_func ("/base/intl/translated/subprocess", run_translated);
  return g_test_run ();
}
