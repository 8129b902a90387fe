/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-state-drawing.h"

#include <string.h>

#include "draw-rig.h"

#define SIZE 44

static WsFigure *
load (const char *character, const char *state)
{
  g_autofree char *name = ws_state_drawing_dup_file (character, state);
  g_autofree char *path = g_build_filename (g_getenv ("WS_SOURCE_ROOT"), "data", name, NULL);
  g_autoptr (GMappedFile) file = g_mapped_file_new (path, FALSE, NULL);
  g_autoptr (GBytes) bytes = file != NULL ? g_mapped_file_get_bytes (file) : NULL;
  g_autoptr (GError) error = NULL;
  WsFigure *figure = bytes != NULL ? ws_figure_parse (name, bytes, &error) : NULL;

  g_assert_no_error (error);
  return figure;
}

/* Share of the pixels that are darker than half. */
static double
ink_of (cairo_surface_t *surface)
{
  const guint8 *data;
  int dark = 0;

  cairo_surface_flush (surface);
  data = cairo_image_surface_get_data (surface);
  for (int y = 0; y < SIZE; y++)
    for (int x = 0; x < SIZE; x++)
      dark += data[y * cairo_image_surface_get_stride (surface) + x * 4 + 1] < 160;
  return (double) dark / (SIZE * SIZE);
}

static cairo_surface_t *
draw (const WsFigure *figure)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, SIZE, SIZE);
  cairo_t *cr = cairo_create (surface);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  ws_state_drawing_draw (figure, cr, 0, 0, SIZE, (double[3]) { 0, 0, 0 }, (double[3]) { 1, 1, 1 });
  cairo_destroy (cr);
  return surface;
}

/* Every file is a drawing of a state that there is, on the common square. */
static void
test_files (void)
{
  g_autoptr (WsKnowledge) knowledge = rig_load_knowledge ();
  g_autofree char *folder = g_build_filename (g_getenv ("WS_SOURCE_ROOT"), "data", "states", NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  guint n = 0;

  g_test_summary ("Each drawing is of a state that there is, lies on the square of 40, and shows something at 44 px");
  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      const char *dash = strchr (name, '-');
      g_autofree char *character = g_strndup (name, (gsize) (dash - name));
      g_autofree char *state = g_strndup (dash + 1, strlen (dash + 1) - strlen (".svg"));
      g_autoptr (WsFigure) figure = load (character, state);
      const WsCharacter *known = ws_knowledge_find_character (knowledge, character);
      cairo_surface_t *surface;
      double width, height;

      g_test_message ("%s", name);
      g_assert_nonnull (known);
      g_assert_true (ws_character_has_state (known, state));
      ws_figure_get_size (figure, &width, &height);
      g_assert_cmpfloat (width, ==, 40);
      g_assert_cmpfloat (height, ==, 40);
      surface = draw (figure);
      g_assert_cmpfloat (ink_of (surface), >, 0.02);
      g_assert_cmpfloat (ink_of (surface), <, 0.7);
      cairo_surface_destroy (surface);
      n++;
    }
  g_assert_cmpuint (n, >=, 20);
}

/* A character that is drawn is drawn for every state that means a shape, and no two drawings are alike. */
static void
test_sets (void)
{
  static const struct { const char *character, *without; } sets[] = {
    { "cap_shape", "" }, { "gill_attachment", "no_stem" }, { "gill_spacing", "" }, { "stem_base", "" }, { "ring", "none_seen" },
    { "stem_shape", "" }, { "cap_margin", "" }, { "pore_shape", "" }, { "section_outline", "" } };
  g_autoptr (WsKnowledge) knowledge = rig_load_knowledge ();

  g_test_summary ("A set of shapes has no hole, and no two states look the same");
  for (gsize i = 0; i < G_N_ELEMENTS (sets); i++)
    {
      const WsCharacter *character = ws_knowledge_find_character (knowledge, sets[i].character);
      g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

      for (guint s = 0; s < character->states->len; s++)
        {
          const char *state = g_ptr_array_index (character->states, s);
          g_autoptr (WsFigure) figure = NULL;
          cairo_surface_t *surface;

          if (g_str_equal (state, sets[i].without))
            continue;
          figure = load (character->id, state);
          g_test_message ("%s-%s", character->id, state);
          g_assert_nonnull (figure);
          surface = draw (figure);
          cairo_surface_flush (surface);
          g_assert_true (g_hash_table_add (seen, g_compute_checksum_for_data (G_CHECKSUM_SHA256, cairo_image_surface_get_data (surface),
                                                                              (gsize) (SIZE * cairo_image_surface_get_stride (surface)))));
          cairo_surface_destroy (surface);
        }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/draw/state-drawing/files", test_files);
  g_test_add_func ("/draw/state-drawing/sets", test_sets);
  return g_test_run ();
}
