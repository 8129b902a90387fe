/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw-rig.h"

#include <string.h>

const char *const rig_forms[] = {
  "gilled_stem", "gilled_stemless", "veined_stem", "pored_stem", "toothed", "bracket", "crust", "club_coral", "cup",
  "puffball", "earthstar", "truffle", "jelly", "stinkhorn", "morel_like", "egg", NULL,
};

static GBytes *
read_file (const char *folder, const char *name)
{
  g_autofree char *path = g_build_filename (g_getenv ("WS_SOURCE_ROOT"), "data", folder, name, NULL);
  g_autoptr (GError) error = NULL;
  char *text;
  gsize size;

  g_file_get_contents (path, &text, &size, &error);
  g_assert_no_error (error);
  return g_bytes_new_take (text, size);
}

char *
rig_read_figure_text (const char *form)
{
  g_autofree char *name = g_strconcat (form, ".svg", NULL);
  g_autoptr (GBytes) bytes = read_file ("figures", name);
  gsize size;
  const char *text = g_bytes_get_data (bytes, &size);

  return g_strndup (text, size);
}

WsFigure *
rig_load_figure (const char *form)
{
  g_autofree char *name = g_strconcat (form, ".svg", NULL);
  g_autoptr (GBytes) bytes = read_file ("figures", name);
  g_autoptr (GError) error = NULL;
  WsFigure *figure = ws_figure_parse (name, bytes, &error);

  g_assert_no_error (error);
  return figure;
}

/* All tables of a folder of data/knowledge: "" or a language. */
static void
add_tables (GHashTable *tables, const char *language)
{
  g_autofree char *folder = g_build_filename (g_getenv ("WS_SOURCE_ROOT"), "data", "knowledge", language, NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ".tsv"))
      {
        char *key = *language != '\0' ? g_strconcat (language, "/", name, NULL) : g_strdup (name);

        g_hash_table_insert (tables, key, read_file ("knowledge", key));
      }
}

WsKnowledge *
rig_load_knowledge (void)
{
  g_autoptr (GHashTable) tables = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_bytes_unref);
  g_autoptr (GError) error = NULL;
  WsKnowledge *knowledge;

  add_tables (tables, "");
  add_tables (tables, "en");
  add_tables (tables, "de");
  knowledge = ws_knowledge_parse (tables, &error);
  g_assert_no_error (error);
  return knowledge;
}

WsFind *
rig_new_find (const char *growth_form)
{
  WsFind *find = ws_find_new ();

  if (*growth_form != '\0')
    rig_add_note (find, "growth_form", growth_form);
  return find;
}

void
rig_add_note (WsFind *find, const char *character, const char *state)
{
  WsNote *note = ws_note_new ();

  ws_set_string (&note->character, character);
  g_strfreev (note->states);
  note->states = g_strsplit (state, "|", -1);
  note->sure = TRUE;
  g_ptr_array_add (find->notes, note);
}

void
rig_add_mark (WsFind *find, const char *part, const char *view)
{
  const WsRect box = { 0.1, 0.1, 0.5, 0.5 };
  WsMark *mark = ws_mark_new ();

  ws_set_string (&mark->part, part);
  g_strfreev (mark->views);
  mark->views = g_strsplit (view, "|", -1);
  ws_shape_free (mark->shape);
  mark->shape = ws_shape_new_box (&box);
  mark->measure = (WsMeasure) { TRUE, 1200, 1200, 0.8, 0, 0, 0.05, 1 };
  g_ptr_array_add (find->marks, mark);
}

guint8 *
rig_draw (const WsFigure *figure, int w, int h, WsFigureLook *look)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, w, h);
  cairo_t *cr = cairo_create (surface);
  guint8 *darkness = g_new (guint8, w * h);

  for (int i = 0; i < 3; i++)
    {
      look->ink[i] = 0;
      look->paper[i] = 1;
    }
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  ws_figure_draw (figure, cr, 0, 0, w, h, look);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_surface_flush (surface);
  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++)
      {
        guint32 pixel;

        memcpy (&pixel, cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface) + 4 * x,
                sizeof pixel);
        darkness[y * w + x] = 255 - (pixel >> 8 & 0xff);
      }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return darkness;
}
