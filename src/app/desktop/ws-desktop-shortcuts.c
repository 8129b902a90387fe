/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-desktop.h"
#include "ws-intl.h"

/* The shortcuts window of this toolkit is filled by interface text only. */
static char *
describe (const WsDesktopShortcut *shortcuts)
{
  GString *text = g_string_new ("<interface><object class=\"GtkShortcutsWindow\" id=\"window\">"
                                "<property name=\"modal\">1</property><child>"
                                "<object class=\"GtkShortcutsSection\">"
                                "<property name=\"max-height\">12</property>");
  const char *group = NULL;

  for (guint i = 0; shortcuts[i].title != NULL; i++)
    {
      g_autofree char *line = NULL;

      if (g_strcmp0 (group, shortcuts[i].group) != 0)
        {
          g_autofree char *head = g_markup_printf_escaped ("<child><object class=\"GtkShortcutsGroup\">"
                                                           "<property name=\"title\">%s</property>",
                                                           _(shortcuts[i].group));

          g_string_append (text, group != NULL ? "</object></child>" : "");
          g_string_append (text, head);
          group = shortcuts[i].group;
        }
      line = g_markup_printf_escaped ("<child><object class=\"GtkShortcutsShortcut\">"
                                      "<property name=\"title\">%s</property>"
                                      "<property name=\"accelerator\">%s</property></object></child>",
                                      _(shortcuts[i].title), shortcuts[i].keys);
      g_string_append (text, line);
    }
  g_string_append (text, group != NULL ? "</object></child>" : "");
  g_string_append (text, "</object></child></object></interface>");
  return g_string_free (text, FALSE);
}

void
ws_desktop_show_shortcuts (GtkWindow *parent, const WsDesktopShortcut *shortcuts)
{
  g_autofree char *text = describe (shortcuts);
  g_autoptr (GtkBuilder) builder = gtk_builder_new_from_string (text, -1);
  GtkWindow *window = GTK_WINDOW (gtk_builder_get_object (builder, "window"));

  gtk_window_set_transient_for (window, parent);
  gtk_window_present (window);
}
