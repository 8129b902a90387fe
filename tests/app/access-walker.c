/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Not a test: reads a running program over the accessibility bus as a screen reader does, with libatspi, from a process
 * of its own.
 *
 *   access-walker PID              every accessible below the program: one line each, "role<TAB>name<TAB>description<TAB>states"
 *   access-walker PID press NAME   does the first action of the button called NAME
 *
 * Exit status 0; 1 when the program, or the button, is not on the bus. */
#include <atspi/atspi.h>
#include <stdlib.h>

G_DEFINE_AUTOPTR_CLEANUP_FUNC (AtspiAccessible, g_object_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (AtspiAction, g_object_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (AtspiStateSet, g_object_unref)

#define PATIENCE_S 20
#define MAX_DEPTH 60

/* What a user can hear of a control that is on the page now. */
static const struct { AtspiStateType state; const char *word; } told[] = {
  { ATSPI_STATE_VISIBLE, "visible" }, { ATSPI_STATE_SENSITIVE, "sensitive" }, { ATSPI_STATE_PRESSED, "pressed" },
  { ATSPI_STATE_CHECKED, "checked" }, { ATSPI_STATE_SELECTED, "selected" }, { ATSPI_STATE_EXPANDED, "expanded" },
};

static AtspiAccessible *
find_program (guint pid)
{
  AtspiAccessible *desktop = atspi_get_desktop (0);

  for (int tries = 0; tries < PATIENCE_S * 10; tries++)
    {
      for (int i = 0; i < atspi_accessible_get_child_count (desktop, NULL); i++)
        {
          AtspiAccessible *program = atspi_accessible_get_child_at_index (desktop, i, NULL);

          if (program != NULL && atspi_accessible_get_process_id (program, NULL) == pid)
            return program;
          g_clear_object (&program);
        }
      g_usleep (100000);
      atspi_accessible_clear_cache (desktop);
    }
  return NULL;
}

static char *
plain (char *text)
{
  for (char *p = text; p != NULL && *p != '\0'; p++)
    if (*p == '\n' || *p == '\t')
      *p = ' ';
  return text != NULL ? text : g_strdup ("");
}

static void
print (AtspiAccessible *item)
{
  g_autofree char *role = plain (atspi_accessible_get_role_name (item, NULL));
  g_autofree char *name = plain (atspi_accessible_get_name (item, NULL));
  g_autofree char *description = plain (atspi_accessible_get_description (item, NULL));
  g_autoptr (AtspiStateSet) states = atspi_accessible_get_state_set (item);

  g_print ("%s\t%s\t%s\t", role, name, description);
  for (gsize i = 0; i < G_N_ELEMENTS (told); i++)
    if (states != NULL && atspi_state_set_contains (states, told[i].state))
      g_print ("%s ", told[i].word);
  g_print ("\n");
}

static gboolean
is_shown (AtspiAccessible *item)
{
  g_autoptr (AtspiStateSet) states = atspi_accessible_get_state_set (item);

  return states != NULL && atspi_state_set_contains (states, ATSPI_STATE_VISIBLE);
}

/* @wanted NULL: prints all; else presses the button of that name and returns TRUE. */
static gboolean
walk (AtspiAccessible *item, const char *wanted, int depth)
{
  int n = atspi_accessible_get_child_count (item, NULL);

  if (depth > MAX_DEPTH || (depth > 1 && !is_shown (item)))
    return FALSE;
  if (wanted == NULL)
    print (item);
  else
    {
      g_autofree char *name = plain (atspi_accessible_get_name (item, NULL));
      g_autoptr (AtspiAction) action = atspi_accessible_get_action_iface (item);

      if (g_str_equal (name, wanted) && action != NULL && atspi_action_get_n_actions (action, NULL) > 0)
        return atspi_action_do_action (action, 0, NULL);
    }
  for (int i = 0; i < n; i++)
    {
      g_autoptr (AtspiAccessible) child = atspi_accessible_get_child_at_index (item, i, NULL);

      if (child != NULL && walk (child, wanted, depth + 1))
        return TRUE;
    }
  return FALSE;
}

int
main (int argc, char **argv)
{
  AtspiAccessible *program;
  gboolean done = TRUE;

  if (argc != 2 && !(argc == 4 && g_str_equal (argv[2], "press")))
    {
      g_printerr ("access-walker PID [press NAME]\n");
      return 2;
    }
  atspi_init ();
  program = find_program ((guint) atoi (argv[1]));
  if (program == NULL)
    {
      g_printerr ("process %s is not on the accessibility bus\n", argv[1]);
      return 1;
    }
  if (argc == 4)
    done = walk (program, argv[3], 0);
  else
    walk (program, NULL, 0);
  g_object_unref (program);
  return done ? 0 : 1;
}
