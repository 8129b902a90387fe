/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-pocket-page.h"

#include <string.h>

#include "request-maker.h"

static char *
page_of (const char *language, gboolean empty, WsKnowledge *knowledge)
{
  g_autoptr (WsFind) made = maker_find (FALSE), find = ws_find_copy (made);
  g_autoptr (GPtrArray) finds = g_ptr_array_new (), forays = g_ptr_array_new ();
  g_autoptr (WsForay) foray = ws_foray_new ();
  g_autoptr (GPtrArray) list = NULL;
  g_autoptr (GBytes) page = NULL;
  gint64 now;

  ws_set_string (&foray->id, "f");
  ws_set_string (&foray->place, MAKER_SCRIPT);
  g_free (find->foray_id);
  find->foray_id = g_strdup ("f");
  find->specimen_is = empty ? WS_SPECIMEN_GONE : WS_SPECIMEN_KEPT;
  now = ws_moment_sort_key (&find->when) + 3600 * (gint64) G_USEC_PER_SEC;
  g_ptr_array_add (finds, find);
  g_ptr_array_add (forays, foray);
  list = ws_go_back_list (finds, forays, knowledge, language, now);
  g_assert_cmpuint (list->len, ==, empty ? 0 : 1);
  page = ws_pocket_page (list, now, knowledge, language);
  return g_strndup (g_bytes_get_data (page, NULL), g_bytes_get_size (page));
}

static void
test_page (void)
{
  static const char *const never[] = { "http:", "https:", "//www", "<link", "<script", "<iframe", "<object", "<form", "<img", "url(", "@import", MAKER_ONLY_MINE };
  g_autoptr (WsKnowledge) knowledge = maker_knowledge ();
  static const char *const languages[] = { "en", "de" };

  g_test_summary ("One file that fetches nothing and runs nothing; texts of people are escaped; cautions stand on it; only-mine does not");
  for (gsize l = 0; l < G_N_ELEMENTS (languages); l++)
    {
      g_autofree char *html = page_of (languages[l], FALSE, knowledge);

      g_assert_true (g_utf8_validate (html, -1, NULL));
      g_assert_nonnull (strstr (html, "default-src 'none'"));
      for (gsize i = 0; i < G_N_ELEMENTS (never); i++)
        g_assert_null (strstr (html, never[i]));
      g_assert_nonnull (strstr (html, "&lt;script&gt;"));
      g_assert_nonnull (strstr (html, ws_knowledge_text (knowledge, languages[l], "view", "v_base")));
      g_assert_nonnull (strstr (html, ws_knowledge_text (knowledge, languages[l], "go_back", "private")));
      g_assert_nonnull (strstr (html, ws_knowledge_text (knowledge, languages[l], "how", "v_base")));
    }
}

static void
test_empty (void)
{
  g_autoptr (WsKnowledge) knowledge = maker_knowledge ();
  g_autofree char *html = page_of ("en", TRUE, knowledge);

  g_test_summary ("With nothing to go back for the page says so, and still carries the cautions");
  g_assert_nonnull (strstr (html, ws_knowledge_text (knowledge, "en", "go_back", "none")));
  g_assert_null (strstr (html, "<section"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/request/pocket-page/page", test_page);
  g_test_add_func ("/request/pocket-page/empty", test_empty);
  return g_test_run ();
}
