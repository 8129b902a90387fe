/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "house-support.h"

#include <locale.h>
#include <string.h>

/* Names that GTK and libadwaita deprecate in versions after ours (4.8 and 1.2), by the release that does so: GTK 4.10 and
 * 4.18, libadwaita 1.3, 1.4 and 1.6. They live behind one seam, so that a later move is one file's change. */
static const char *const seam_names[] = {
  "GtkFileChooserNative", "GtkFileChooserDialog", "GtkNativeDialog", "GtkStyleContext", "GtkShortcutsWindow",
  "GtkShortcutsSection", "GtkShortcutsGroup", "GtkShortcutsShortcut", "AdwLeaflet", "AdwLeafletPage", "AdwFlap", "AdwSqueezer",
  "AdwViewSwitcherTitle", "AdwMessageDialog", "AdwAboutWindow", "AdwPreferencesWindow", NULL,
};
static const char *const seam_functions[] = { "adw_action_row_set_icon_name", NULL };

/* A good replacement exists already: nowhere, the seam included. */
static const char *const never_names[] = {
  "GtkTreeView", "GtkComboBox", "GtkComboBoxText", "GtkCellRenderer", "GtkDialog", "GtkMessageDialog", "GtkInfoBar", NULL,
};
static const char *const never_functions[] = {
  "gtk_show_uri", "gtk_show_uri_full", "gtk_widget_get_allocated_width", "gtk_widget_get_allocated_height",
  "gtk_widget_translate_coordinates", NULL,
};

/* "GtkTreeView" as it stands in code: the type, its functions and its macros. What a style sheet is added to a display by
 * bears the name of GtkStyleContext and stays (from memory of GTK 4.10). (transfer full) */
static char *
pattern_of (const char *type)
{
  GString *lower = g_string_new (NULL);
  char *upper, *pattern;

  for (const char *p = type; *p != '\0'; p++)
    {
      if (p > type && g_ascii_isupper (*p))
        g_string_append_c (lower, '_');
      g_string_append_c (lower, g_ascii_tolower (*p));
    }
  upper = g_ascii_strup (lower->str, -1);
  /* GTK_TYPE_TREE_VIEW has its TYPE between the first word and the rest. */
  pattern = g_strdup_printf ("\\b%s(Class)?\\b|\\b%s_(?!(add|remove)_provider_for_display)[a-z]|\\b%s\\b|\\b%.3s_(TYPE|IS)_%s\\b", type, lower->str, upper, upper, upper + 4);
  g_free (upper);
  g_string_free (lower, TRUE);
  return pattern;
}

static void
look_for (const char *pattern, const char *name, const char *why, const char *path, const char *text, GPtrArray *faults)
{
  g_autoptr (GRegex) regex = g_regex_new (pattern, 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  int at;

  g_assert_nonnull (regex);
  if (!g_regex_match (regex, text, 0, &match))
    return;
  g_match_info_fetch_pos (match, 0, &at, NULL);
  house_fault (faults, path, house_line_of (text, text + at), "%s %s", name, why);
}

static void
look_for_all (const char *const *types, const char *const *functions, const char *why, const char *path, const char *text, GPtrArray *faults)
{
  for (guint i = 0; types[i] != NULL; i++)
    {
      g_autofree char *pattern = pattern_of (types[i]);

      look_for (pattern, types[i], why, path, text, faults);
    }
  for (guint i = 0; functions[i] != NULL; i++)
    {
      g_autofree char *pattern = g_strconcat ("\\b", functions[i], "\\b", NULL);

      look_for (pattern, functions[i], why, path, text, faults);
    }
}

static void
rule_seam (const char *root, GPtrArray *faults)
{
  static const char *const endings[] = { ".c", ".h", ".ui", NULL };
  static const char *const folders[] = { "src", "ui" };

  for (gsize f = 0; f < G_N_ELEMENTS (folders); f++)
    {
      g_autoptr (GPtrArray) paths = house_list (root, folders[f], endings);

      for (guint i = 0; i < paths->len; i++)
        {
          const char *path = g_ptr_array_index (paths, i);
          g_autofree char *text = house_read (root, path), *plain = house_without_comments (text != NULL ? text : "");

          if (!g_str_has_prefix (path, "src/app/desktop/"))
            look_for_all (seam_names, seam_functions, "outside src/app/desktop", path, plain, faults);
          look_for_all (never_names, never_functions, "is not used at all", path, plain, faults);
        }
    }
}

static void
test_seam (void)
{
  g_test_summary ("what later toolkits deprecate is named in src/app/desktop only; what has a good replacement nowhere");
  house_check (rule_seam);
}

static void
test_sees (void)
{
  static const char *const files[] = {
    "src/app/desktop/ws-choose.c", "GtkFileChooserNative *a;\nadw_leaflet_new ();\ngtk_message_dialog_new ();\n",
    "src/app/ws-page.c", "/* AdwLeaflet */\nGtkFileChooserNative *a;\n",
    "src/app/ws-row.c", "\nx = adw_leaflet_new ();\n",
    "src/app/ws-style.h", "\n\ny = GTK_STYLE_CONTEXT (z);\n",
    "src/app/ws-style.c", "gtk_style_context_get_color (c, &r);\n",
    "src/app/ws-type.c", "g = ADW_TYPE_FLAP;\n",
    "src/app/ws-fine.c", "GtkFileChooserNativeNot *a; GtkDialogue *b; my_gtk_dialog; AdwActionRow *c; GtkTreeViews x;\n"
    "gtk_style_context_add_provider_for_display (d, p, 1);\n",
    "src/app/ws-uri.c", "gtk_show_uri (NULL, uri, 0);\nadw_action_row_set_icon_name (row, i);\ngtk_tree_view_new ();\n",
    "ui/ws-page.ui", "<object class=\"GtkBox\">\n  <object class=\"AdwLeaflet\">\n",
    NULL,
  };

  g_test_summary ("the rule finds types, functions, casts and templates, and is not taken in by remarks or longer names");
  house_check_sees (rule_seam, files,
                    "src/app/desktop/ws-choose.c:3: GtkMessageDialog is not used at all\n"
                    "src/app/ws-page.c:2: GtkFileChooserNative outside src/app/desktop\n"
                    "src/app/ws-row.c:2: AdwLeaflet outside src/app/desktop\n"
                    "src/app/ws-style.c:1: GtkStyleContext outside src/app/desktop\n"
                    "src/app/ws-style.h:3: GtkStyleContext outside src/app/desktop\n"
                    "src/app/ws-type.c:1: AdwFlap outside src/app/desktop\n"
                    "src/app/ws-uri.c:2: adw_action_row_set_icon_name outside src/app/desktop\n"
                    "src/app/ws-uri.c:3: GtkTreeView is not used at all\n"
                    "src/app/ws-uri.c:1: gtk_show_uri is not used at all\n"
                    "ui/ws-page.ui:2: AdwLeaflet outside src/app/desktop");
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/house/seam/tree", test_seam);
  g_test_add_func ("/house/seam/sees", test_sees);
  return g_test_run ();
}
