/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two readers of the same find agree: what the window's session judges and what the tool prints. */
#include "ws-session.h"

#include <json-glib/json-glib.h>
#include <string.h>

#include "ws-go-back-work.h"
#include "ws-record.h"
#include "ws-still-open.h"
#include "ws-test-library.h"

static WsSession *
open_session (TestDesk *test)
{
  WsSession *session = ws_session_new (test->desk);

  for (guint i = 0; i < 5000 && (!ws_session_is_loaded (session) || ws_task_count () > 0); i++)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (2000);
  g_assert_true (ws_session_is_loaded (session));
  return session;
}

/* The tool's words on the find. */
static JsonNode *
ask_tool (TestDesk *test)
{
  g_autofree char *tool = g_build_filename (g_getenv ("WS_BUILD_ROOT"), "src", "command", "wholestem-tool", NULL);
  const char *argv[] = { tool, "check", "--json", "--library", ws_library_get_folder (test->desk->library), "25-001", NULL };
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  int status;

  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &text, NULL, &status, &error));
  g_assert_no_error (error);
  return json_from_string (text, &error);
}

static char *
tool_open (JsonNode *said)
{
  JsonArray *array = json_object_get_array_member (json_node_get_object (said), "stillOpen");
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < json_array_get_length (array); i++)
    g_string_append_printf (text, "%s ", json_object_get_string_member (json_array_get_object_element (array, i), "group"));
  return g_string_free (text, FALSE);
}

static char *
tool_go_back (JsonNode *said)
{
  JsonArray *array = json_object_get_array_member (json_node_get_object (said), "goBack");
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < json_array_get_length (array); i++)
    g_string_append_printf (text, "%s ", json_array_get_string_element (array, i));
  return g_string_free (text, FALSE);
}

static char *
window_open (WsSession *session)
{
  g_autoptr (WsFindItem) item = g_list_model_get_item (ws_session_get_finds (session), 0);
  g_autoptr (WsStillOpen) still_open = ws_still_open_judge (ws_find_item_get_find (item), ws_session_get_knowledge (session), NULL);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < still_open->verdicts->len; i++)
    {
      const WsGroupVerdict *verdict = g_ptr_array_index (still_open->verdicts, i);

      if (verdict->open)
        g_string_append_printf (text, "%s ", verdict->group->id);
    }
  return g_string_free (text, FALSE);
}

static char *
window_go_back (WsSession *session)
{
  g_autoptr (WsFindItem) item = g_list_model_get_item (ws_session_get_finds (session), 0);
  g_autoptr (GArray) lines = ws_go_back_judge (ws_find_item_get_evidence (item), ws_session_get_knowledge (session), WS_GO_BACK_ANY_TIME);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < lines->len; i++)
    g_string_append_printf (text, "%s ", g_array_index (lines, WsGoBackLine, i).line->view->id);
  return g_string_free (text, FALSE);
}

static void
test_agree (void)
{
  /* Each adds to the one before. */
  static const struct { const char *character, *states; gboolean sure; const char *specimen; } notes[] = {
    { "growth_form", "gilled_stem", TRUE, NULL }, { "fertile_surface", "gills", TRUE, NULL }, { "ring", "hanging", TRUE, NULL },
    { "spore_print", "pink", FALSE, NULL }, { "stem_base", "volva_sac", FALSE, NULL }, { "fertile_surface", "pores", TRUE, "b" } };
  TestDesk test = test_begin ();
  g_autoptr (GError) error = NULL;

  g_test_summary ("Window and tool name the same open groups and the same list to go back for, in the same order, after every note");
  g_free (test_photo (&test, "a.jpg", 1, 600, "2025-10-04T14:03:22", 51.1, 9.1));
  test_import (&test);
  for (gsize i = 0; i < G_N_ELEMENTS (notes); i++)
    {
      g_autoptr (WsSession) session = NULL;
      g_autoptr (JsonNode) said = NULL;
      g_autofree char *tool = NULL, *window = NULL, *tool_back = NULL, *window_back = NULL;

      g_assert_true (ws_record_note (test.desk, "25-001", notes[i].character, notes[i].states, notes[i].sure, FALSE, notes[i].specimen, &error));
      g_assert_no_error (error);
      session = open_session (&test);
      said = ask_tool (&test);
      g_assert_nonnull (said);
      tool = tool_open (said);
      window = window_open (session);
      tool_back = tool_go_back (said);
      window_back = window_go_back (session);
      g_assert_cmpstr (tool, ==, window);
      g_assert_cmpstr (tool_back, ==, window_back);
      g_assert_nonnull (strstr (tool, "amanita_deadly_volva"));
    }
  test_end (&test);
}

static void
test_paper (void)
{
  TestDesk test = test_begin ();
  WsMoment when = WS_MOMENT_INIT;
  g_autofree char *path = g_build_filename (test.folder, "pocket.html", NULL), *html = NULL, *said = NULL;
  g_autoptr (GError) error = NULL;
  WsGoBackWish *wish;
  WsTextSheet *sheet;

  g_test_summary ("The list is saved as a page, whole or not at all, and laid out for paper");
  g_free (test_photo (&test, "a.jpg", 1, 600, "2025-10-04T14:03:22", 51.1, 9.1));
  test_import (&test);
  g_assert_true (ws_moment_set_local (&when, "2025-10-04T18:00:00"));
  wish = ws_go_back_wish_new (when.local_us, path);
  said = ws_go_back_save_page (test.desk, wish, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (said, ==, path);
  g_assert_true (g_file_get_contents (path, &html, NULL, NULL));
  g_assert_nonnull (strstr (html, "25-001"));
  g_assert_nonnull (strstr (html, "default-src 'none'"));
  sheet = ws_go_back_make_sheet (test.desk, wish, NULL, &error);
  g_assert_no_error (error);
  {
    cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR, NULL);
    cairo_t *cr = cairo_create (surface);

    g_assert_cmpint (ws_text_sheet_paginate (cr, 595, 842, sheet), ==, 1);
    /* Hardly any room: more pages, not lost words. */
    g_assert_cmpint (ws_text_sheet_paginate (cr, 200, 120, sheet), >, 2);
    ws_text_sheet_draw (cr, 0, 200, 120, sheet);
    cairo_destroy (cr);
    cairo_surface_destroy (surface);
  }
  ws_text_sheet_free (sheet);
  g_clear_pointer (&wish, ws_go_back_wish_free);
  wish = ws_go_back_wish_new (when.local_us, "/no/such/folder/pocket.html");
  g_assert_null (ws_go_back_save_page (test.desk, wish, NULL, &error));
  g_assert_nonnull (error);
  ws_go_back_wish_free (wish);
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/two-readers/agree", test_agree);
  g_test_add_func ("/app/two-readers/paper", test_paper);
  return g_test_run ();
}
