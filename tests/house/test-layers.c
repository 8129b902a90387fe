/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "house-support.h"

#include <locale.h>
#include <string.h>

/* Design §3: base → place → photo → find → draw → {library, request} → work → {command, app}. The compiler enforces most of
 * it by include paths; this says it in words, and holds what an include path of the system cannot. */
static const struct { const char *layer; const char *sees; } layers[] = {
  { "base", "base" },
  { "place", "base place" },
  { "photo", "base place photo" },
  { "find", "base place find" },    /* pure: judges numbers, never pixels */
  { "draw", "base place find draw" },
  { "library", "base place photo find draw library" },
  { "request", "base place photo find draw request" },
  { "work", "base place photo find draw library request work" },
  { "command", "base place photo find draw library request work command" },
  { "app", "base place photo find draw library request work app" },
};

/* Libraries that only some layers may see, by their headers and by their names in meson.build. */
static const struct { const char *header, *dep, *layers; } outside[] = {
  { "gtk/", "gtk_dep", "app" },             { "gdk/", NULL, "app" },            { "gsk/", NULL, "app" },
  { "graphene", NULL, "app" },              { "adwaita.h", "adw_dep", "app" },  { "vips/", "vips_dep", "photo" },
  { "libexif/", "exif_dep", "photo" },      { "sqlite3.h", "sqlite_dep", "library" },
  { "archive.h", "archive_dep", "request" }, { "archive_entry.h", NULL, "request" },
  { "cairo", "cairo_dep", "draw request app" }, { "pango/", NULL, "draw request app" },
  { "json-glib/", "json_dep", "request command" }, { "geodesic.h", "proj_dep", "place" }, { "proj.h", NULL, "place" },
  { "gcrypt.h", "gcrypt_dep", "base" },
};

static gboolean
is_among (const char *word, const char *words)
{
  g_auto (GStrv) list = g_strsplit (words, " ", -1);

  return g_strv_contains ((const char *const *) list, word);
}

static const char *
sees (const char *layer)
{
  for (gsize i = 0; i < G_N_ELEMENTS (layers); i++)
    if (g_str_equal (layers[i].layer, layer))
      return layers[i].sees;
  return NULL;
}

/* "find" of "src/find/ws-values.h". (transfer full) */
static char *
layer_of (const char *path)
{
  g_auto (GStrv) steps = g_strsplit (path, "/", 3);

  return g_strdup (steps[1]);
}

/* Bare name of each header of ours to its layer. */
static GHashTable *
map_headers (GPtrArray *paths)
{
  GHashTable *map = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);

  for (guint i = 0; i < paths->len; i++)
    g_hash_table_insert (map, g_path_get_basename (g_ptr_array_index (paths, i)), layer_of (g_ptr_array_index (paths, i)));
  return map;
}

static void
check_include (const char *path, int line, const char *layer, const char *header, GHashTable *ours, GPtrArray *faults)
{
  const char *other = g_hash_table_lookup (ours, header);

  if (other != NULL && !is_among (other, sees (layer)))
    house_fault (faults, path, line, "%s includes %s of %s", layer, header, other);
  for (gsize i = 0; i < G_N_ELEMENTS (outside); i++)
    if (g_str_has_prefix (header, outside[i].header) && !is_among (layer, outside[i].layers))
      house_fault (faults, path, line, "%s includes %s", layer, header);
}

static void
check_file (const char *root, const char *path, const char *layer, GHashTable *ours, GPtrArray *faults)
{
  g_autofree char *text = house_read (root, path);
  g_autofree char *plain = house_without_comments (text != NULL ? text : "");
  g_autoptr (GRegex) include = g_regex_new ("^[ \\t]*#[ \\t]*include[ \\t]*[<\"]([^>\"]+)[>\"]", G_REGEX_MULTILINE, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;

  for (g_regex_match (include, plain, 0, &match); g_match_info_matches (match); g_match_info_next (match, NULL))
    {
      g_autofree char *header = g_match_info_fetch (match, 1);
      int at;

      g_match_info_fetch_pos (match, 1, &at, NULL);
      check_include (path, house_line_of (plain, plain + at), layer, header, ours, faults);
    }
}

/* What the build file of a layer names as dependencies. */
static void
check_build_file (const char *root, const char *path, const char *layer, GPtrArray *faults)
{
  g_autofree char *text = house_read (root, path);
  g_autoptr (GRegex) word = g_regex_new ("^[^#\\n]*?\\b(\\w+)_dep\\b(?! *=)|\\G[^#\\n]*?\\b(\\w+)_dep\\b(?! *=)", G_REGEX_MULTILINE, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;

  for (g_regex_match (word, text, 0, &match); g_match_info_matches (match); g_match_info_next (match, NULL))
    {
      g_autofree char *first = g_match_info_fetch (match, 1), *again = g_match_info_fetch (match, 2);
      const char *name = first != NULL && *first != '\0' ? first : again;
      g_autofree char *full = g_strconcat (name, "_dep", NULL);
      int end;

      g_match_info_fetch_pos (match, 0, NULL, &end);
      if (sees (name) != NULL && !is_among (name, sees (layer)))
        house_fault (faults, path, house_line_of (text, text + end), "%s depends on %s", layer, name);
      for (gsize i = 0; i < G_N_ELEMENTS (outside); i++)
        if (g_strcmp0 (outside[i].dep, full) == 0 && !is_among (layer, outside[i].layers))
          house_fault (faults, path, house_line_of (text, text + end), "%s depends on %s", layer, name);
    }
}

static void
rule_layers (const char *root, GPtrArray *faults)
{
  static const char *const code[] = { ".c", ".h", ".inc", NULL }, *const headers[] = { ".h", NULL };
  static const char *const builds[] = { "meson.build", NULL };
  g_autoptr (GPtrArray) header_paths = house_list (root, "src", headers), paths = house_list (root, "src", code);
  g_autoptr (GPtrArray) build_paths = house_list (root, "src", builds);
  g_autoptr (GHashTable) ours = map_headers (header_paths);

  for (guint i = 0; i < paths->len; i++)
    {
      const char *path = g_ptr_array_index (paths, i);
      g_autofree char *layer = layer_of (path);

      if (sees (layer) == NULL)
        house_fault (faults, path, 1, "%s is no layer", layer);
      else
        check_file (root, path, layer, ours, faults);
    }
  for (guint i = 0; i < build_paths->len; i++)
    {
      g_autofree char *layer = layer_of (g_ptr_array_index (build_paths, i));

      if (sees (layer) != NULL)
        check_build_file (root, g_ptr_array_index (build_paths, i), layer, faults);
    }
}

static void
test_layers (void)
{
  g_test_summary ("each layer of src includes headers of itself and of layers before it only; GTK only in app, libvips and libexif only in photo");
  house_check (rule_layers);
}

static void
test_sees (void)
{
  static const char *const files[] = {
    "src/base/ws-id.h", "#include <glib.h>\n",
    "src/base/ws-id.c", "#include \"ws-id.h\"\n/* #include \"ws-values.h\" */\n// #include <gtk/gtk.h>\n#  include \"ws-values.h\"\n",
    "src/photo/ws-picture.h", "#include <vips/vips.h>\n",
    "src/find/ws-values.h", "#include \"ws-id.h\"\n",
    "src/find/ws-values.c", "#include \"ws-values.h\"\n#include \"ws-picture.h\"\n\n#include <libexif/exif-data.h>\n",
    "src/draw/ws-figure.c", "#include <cairo.h>\n#include <gtk/gtk.h>\n#include \"ws-picture.h\"\n",
    "src/library/ws-library.h", "#include <sqlite3.h>\n#include \"ws-bag.h\"\n",
    "src/request/ws-bag.h", "#include \"ws-library.h\"\n",
    "src/work/ws-desk.c", "#include \"ws-library.h\"\n#include \"ws-bag.h\"\n#include <adwaita.h>\n",
    "src/command/ws-verb.c", "#include \"ws-window.h\"\n",
    "src/app/widgets/ws-window.h", "#include <gtk/gtk.h>\n#include \"ws-library.h\"\n#include <sqlite3.h>\n",
    "src/other/ws-x.c", "\n",
    "src/find/meson.build", "# photo_dep in a remark\nfind_dep = declare_dependency(\n  dependencies: [place_dep, photo_dep, vips_dep])\n",
    NULL,
  };

  g_test_summary ("the rule finds a reach the wrong way, a library in the wrong layer and a folder that is no layer, and is not taken in by remarks");
  house_check_sees (rule_layers, files,
                    "src/app/widgets/ws-window.h:3: app includes sqlite3.h\n"
                    "src/base/ws-id.c:4: base includes ws-values.h of find\n"
                    "src/command/ws-verb.c:1: command includes ws-window.h of app\n"
                    "src/draw/ws-figure.c:2: draw includes gtk/gtk.h\n"
                    "src/draw/ws-figure.c:3: draw includes ws-picture.h of photo\n"
                    "src/find/ws-values.c:2: find includes ws-picture.h of photo\n"
                    "src/find/ws-values.c:4: find includes libexif/exif-data.h\n"
                    "src/library/ws-library.h:2: library includes ws-bag.h of request\n"
                    "src/other/ws-x.c:1: other is no layer\n"
                    "src/request/ws-bag.h:1: request includes ws-library.h of library\n"
                    "src/work/ws-desk.c:3: work includes adwaita.h\n"
                    "src/find/meson.build:3: find depends on photo\n"
                    "src/find/meson.build:3: find depends on vips");
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/house/layers/tree", test_layers);
  g_test_add_func ("/house/layers/sees", test_sees);
  return g_test_run ();
}
