/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Never over the limit, whatever the photos; and what is taken away first. */
#include "bag-maker.h"
#include "request-maker.h"

#include "ws-error.h"
#include "ws-file.h"
#include "ws-package-size.h"
#include "ws-package.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>
#include <vips/vips.h>

static WsKnowledge *knowledge;
static char *folder;

/* Noise of any roughness, so that photos of one size take very different numbers of bytes. */
static char *
make_photo (GRand *random, guint n, int width, int height)
{
  g_autofree char *name = g_strdup_printf ("photo-%u.jpg", n);
  char *path = g_build_filename (folder, name, NULL);
  VipsImage *noise = NULL, *smooth = NULL, *bytes = NULL, *bands = NULL, *photo = NULL;

  g_assert_cmpint (vips_gaussnoise (&noise, width, height, "mean", 128.0, "sigma", g_rand_double_range (random, 2, 60), NULL), ==, 0);
  g_assert_cmpint (vips_gaussblur (noise, &smooth, g_rand_double_range (random, 0.3, 3), NULL), ==, 0);
  g_assert_cmpint (vips_cast_uchar (smooth, &bytes, NULL), ==, 0);
  g_assert_cmpint (vips_bandjoin ((VipsImage *[]) { bytes, bytes, bytes }, &bands, 3, NULL), ==, 0);
  g_assert_cmpint (vips_copy (bands, &photo, "interpretation", VIPS_INTERPRETATION_sRGB, NULL), ==, 0);
  g_assert_cmpint (vips_jpegsave (photo, path, "Q", g_rand_int_range (random, 60, 98), NULL), ==, 0);
  g_object_unref (noise);
  g_object_unref (smooth);
  g_object_unref (bytes);
  g_object_unref (bands);
  g_object_unref (photo);
  return path;
}

/* A request of @n photos, every second one with a mark. @paths: filled. */
static WsRequest *
make_request (GRand *random, guint n, int longest, GHashTable *paths)
{
  WsRequest *request = maker_request (FALSE, WS_TELL_HUNDREDTH, "en");
  WsFind *find = ws_find_copy (request->find);

  g_ptr_array_set_size (find->photos, 0);
  g_ptr_array_set_size (find->marks, 0);
  g_ptr_array_set_size (find->covers, 0);
  for (guint i = 0; i < n; i++)
    {
      WsFindPhoto *link = ws_find_photo_new ();
      WsPhoto *photo = ws_photo_new ();
      g_autofree char *id = g_strdup_printf ("11111111-1111-4111-8111-%012u", i);
      int width = g_rand_int_range (random, longest / 4, longest), height = g_rand_int_range (random, longest / 4, longest);

      ws_photo_unref (link->photo);
      link->photo = photo;
      ws_set_string (&photo->id, id);
      ws_set_string (&photo->media_type, "image/jpeg");
      photo->width = width;
      photo->height = height;
      photo->orientation = 1;
      g_ptr_array_add (find->photos, link);
      g_hash_table_insert (paths, photo->id, make_photo (random, i, width, height));
      if (i % 2 == 0)
        {
          WsMark *mark = ws_mark_new ();
          g_autofree char *mark_id = g_strdup_printf ("44444444-4444-4444-8444-%012u", i);

          ws_set_string (&mark->id, mark_id);
          ws_set_string (&mark->photo_id, id);
          ws_set_string (&mark->part, "stem_base");
          g_strfreev (mark->views);
          mark->views = g_strsplit ("v_base", " ", -1);
          ws_shape_free (mark->shape);
          mark->shape = ws_shape_new_box (&(WsRect) { 0.25, 0.25, 0.3, 0.4 });
          g_ptr_array_add (find->marks, mark);
        }
    }
  ws_find_unref (request->find);
  request->find = find;
  return request;
}

/* Sizes of the copies as the package tells them. */
static void
assert_marked_last (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = ws_bag_read_file (path, "data/request.json", 10 << 20, &error);
  g_autofree char *text = NULL;
  g_autoptr (JsonNode) root = NULL;
  JsonArray *photos;
  double worst_marked = 1, best_plain = 1;

  g_assert_no_error (error);
  text = g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  root = json_from_string (text, NULL);
  photos = json_object_get_array_member (json_object_get_object_member (json_node_get_object (root), "find"), "photos");
  for (guint i = 0; i < json_array_get_length (photos); i++)
    {
      JsonObject *photo = json_array_get_object_element (photos, i);
      double width = (double) json_object_get_int_member (photo, "width"), height = (double) json_object_get_int_member (photo, "height");
      double edge = MAX (width, height);

      if (i % 2 == 0 && json_object_get_int_member (photo, "originalWidth") > (gint64) width)
        worst_marked = worst_marked < 2 ? edge : MIN (worst_marked, edge);
      if (i % 2 == 1)
        best_plain = MAX (best_plain, edge);
    }
  /* A marked photo that was made smaller still is larger than any without marks that was, or these were small. */
  if (worst_marked > 1)
    g_assert_cmpfloat (best_plain, <=, worst_marked);
}

static void
test_random (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (20);
  guint fitted = 0, reduced = 0;

  g_test_summary ("Random photos and limits: the file is never larger; photos without marks are made smaller before marked ones");
  for (int round = 0; round < 10; round++)
    {
      g_autoptr (GHashTable) paths = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
      g_autoptr (WsRequest) request = make_request (random, (guint) g_rand_int_range (random, 1, 6), round % 2 ? 900 : 2400, paths);
      guint64 limit = (guint64) exp (g_rand_double_range (random, log (60e3), log (4e6)));
      g_autofree char *path = g_build_filename (folder, "limited.zip", NULL);
      g_autoptr (GError) error = NULL;
      GStatBuf info;

      g_unlink (path);
      g_test_message ("%u photos, %" G_GUINT64_FORMAT " bytes", request->find->photos->len, limit);
      if (!ws_package_write (request, paths, knowledge, path, NULL, NULL, limit, NULL, NULL, NULL, NULL, &error))
        {
          g_assert_error (error, WS_ERROR, WS_ERROR_TOO_LARGE);
          g_assert_cmpint (g_stat (path, &info), !=, 0);
          continue;
        }
      g_assert_cmpint (g_stat (path, &info), ==, 0);
      g_assert_cmpuint ((guint64) info.st_size, <=, limit);
      fitted++;
      reduced += (guint64) info.st_size > limit / 3;
      assert_marked_last (path);
    }
  /* Neither everything refused nor everything made tiny. */
  g_assert_cmpuint (fitted, >=, 5);
  g_assert_cmpuint (reduced, >=, 3);
}

static void
test_said (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (3);
  g_autoptr (GHashTable) paths = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
  g_autoptr (WsRequest) request = make_request (random, 4, 2400, paths);
  static const guint64 limits[] = { 400000, 100000000, 0 };

  g_test_summary ("The page says what was reduced, and nothing where nothing was");
  for (gsize i = 0; i < G_N_ELEMENTS (limits); i++)
    {
      g_autofree char *path = g_build_filename (folder, "said.zip", NULL), *text = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) page = NULL;

      ws_package_write (request, paths, knowledge, path, NULL, NULL, limits[i], NULL, NULL, NULL, NULL, &error);
      g_assert_no_error (error);
      page = ws_bag_read_file (path, "data/request.html", 100 << 20, &error);
      g_assert_no_error (error);
      text = g_strndup (g_bytes_get_data (page, NULL), g_bytes_get_size (page));
      g_assert_cmpint (strstr (text, ws_knowledge_text (knowledge, "en", "page", "reduced")) != NULL, ==, i == 0);
      g_assert_cmpint (strstr (text, ws_knowledge_text (knowledge, "en", "page", "reduced_photo")) != NULL, ==, i == 0);
    }
}

static void
test_words (void)
{
  static const struct { const char *text; gboolean fine; guint64 limit; } cases[] = {
    { "none", TRUE, 0 }, { "20", TRUE, 20000000 }, { "8.5", TRUE, 8500000 }, { "0", FALSE, 0 }, { "-1", FALSE, 0 },
    { "", FALSE, 0 }, { "20 MB", FALSE, 0 }, { "nan", FALSE, 0 }, { "inf", FALSE, 0 }, { "Mail", FALSE, 0 },
  };
  guint64 limit;

  g_test_summary ("Limits as words; a file of the mail limit, in base64 with lines of 76 letters (RFC 2045, 6.8), is below 20 MB");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_cmpint (ws_size_parse (cases[i].text, &limit), ==, cases[i].fine);
      if (cases[i].fine)
        g_assert_cmpuint (limit, ==, cases[i].limit);
    }
  g_assert_true (ws_size_parse ("mail", &limit));
  g_assert_cmpuint ((limit + 2) / 3 * 4 + (limit / 57 + 1) * 2, <, 20000000);
  g_assert_cmpuint (limit, >, 14000000);
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  if (VIPS_INIT (argv[0]))
    return 1;
  knowledge = maker_knowledge ();
  folder = g_dir_make_tmp ("ws-test-size-XXXXXX", NULL);
  g_test_add_func ("/request/package-size/words", test_words);
  g_test_add_func ("/request/package-size/random", test_random);
  g_test_add_func ("/request/package-size/said", test_said);
  status = g_test_run ();
  ws_file_remove_tree (folder, NULL);
  g_free (folder);
  ws_knowledge_unref (knowledge);
  return status;
}
