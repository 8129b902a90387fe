/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-test-library.h"

#include "ws-error.h"
#include "ws-picture.h"

#include <string.h>

/* Opens a library whose folder holds an edited knowledge table. */
static WsDesk *
open_with (const char *folder, const char *table, const char *content)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *knowledge = g_build_filename (folder, "knowledge", NULL), *path = g_build_filename (knowledge, table, NULL);
  WsDesk *desk;

  g_assert_cmpint (g_mkdir_with_parents (knowledge, 0755), ==, 0);
  g_assert_true (g_file_set_contents (path, content, -1, NULL));
  desk = ws_desk_open (folder, &error);
  g_assert_no_error (error);
  return desk;
}

static void
test_builtin (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsKnowledge) knowledge = ws_desk_builtin_knowledge (&error);
  GPtrArray *forms;

  g_test_summary ("The built-in knowledge is sound, speaks English and German, and has a figure for each growth form");
  g_assert_no_error (error);
  g_assert_true (g_strv_contains (ws_knowledge_get_languages (knowledge), "de"));
  g_assert_cmpuint (strlen (ws_knowledge_get_digest (knowledge)), ==, 128);
  forms = ws_knowledge_get_growth_forms (knowledge);
  g_assert_cmpuint (forms->len, ==, 16);
  for (guint i = 0; i < forms->len; i++)
    {
      g_autofree char *name = g_strdup_printf ("figures/%s.svg", ((WsGrowthForm *) forms->pdata[i])->id);
      g_autoptr (GBytes) bytes = ws_desk_builtin_data (name);

      g_test_message ("%s", name);
      g_assert_nonnull (bytes);
    }
}

static void
test_edited (void)
{
  TestDesk test = test_begin ();
  g_autofree char *folder = g_build_filename (test.folder, "other", NULL);
  g_autoptr (WsDesk) desk = open_with (folder, "thresholds.tsv",
                                       "#format\t1\nid\tvalue\nbase_min_px\t400\npart_min_px\t120\nblur_weak\t0.012\n"
                                       "blur_useless\t0.03\nexposure_weak\t0.15\nexposure_useless\t0.35\n");

  g_test_summary ("A user's edited table is used, named, and changes the digest");
  g_assert_nonnull (desk->knowledge_from);
  g_assert_null (desk->knowledge_trouble);
  g_assert_cmpint (ws_knowledge_get_thresholds (desk->knowledge)->base_min_px, ==, 400);
  g_assert_cmpstr (ws_knowledge_get_digest (desk->knowledge), !=, ws_knowledge_get_digest (test.desk->knowledge));
  test_end (&test);
}

static void
test_broken (void)
{
  TestDesk test = test_begin ();
  g_autofree char *folder = g_build_filename (test.folder, "other", NULL);
  g_autoptr (WsDesk) desk = open_with (folder, "views.tsv", "#format\t1\nid\tparts\tbase\nv_base\tstem_base\tperhaps\n");

  g_test_summary ("A broken edited table is named with its line, and the built-in copy is used");
  g_assert_null (desk->knowledge_from);
  g_assert_nonnull (desk->knowledge_trouble);
  g_assert_nonnull (strstr (desk->knowledge_trouble, "views.tsv"));
  g_assert_nonnull (strstr (desk->knowledge_trouble, "3"));
  g_assert_cmpstr (ws_knowledge_get_digest (desk->knowledge), ==, ws_knowledge_get_digest (test.desk->knowledge));
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  g_test_add_func ("/work/desk/builtin", test_builtin);
  g_test_add_func ("/work/desk/edited", test_edited);
  g_test_add_func ("/work/desk/broken", test_broken);
  return g_test_run ();
}
