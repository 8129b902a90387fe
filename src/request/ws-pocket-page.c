/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-pocket-page.h"

#include "ws-page-writer.h"

static void
add_head (WsPage *page)
{
  ws_page_raw (page, "<!DOCTYPE html>\n<html lang=\"");
  ws_page_text (page, page->language);
  ws_page_raw (page, "\">\n<head>\n<meta charset=\"utf-8\">\n"
                     "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; "
                     "base-uri 'none'; form-action 'none'\">\n"
                     "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
                     "<meta name=\"referrer\" content=\"no-referrer\">\n"
                     "<meta name=\"color-scheme\" content=\"light dark\">\n<title>");
  ws_page_text (page, ws_page_word (page, "go_back", "title"));
  ws_page_raw (page, "</title>\n<style>\n");
  ws_page_raw (page, ws_page_style);
  ws_page_raw (page, "</style>\n</head>\n<body>\n<header>\n");
  ws_page_element (page, "h1", NULL, ws_page_word (page, "go_back", "title"));
  ws_page_element (page, "p", NULL, ws_page_word (page, "go_back", "intro"));
  ws_page_raw (page, "</header>\n");
}

static void
add_line (WsPage *page, const WsGoBackLine *line, gint64 now_us)
{
  g_autofree char *when = ws_go_back_dup_when (line, now_us, page->knowledge, page->language);
  const char *view = line->line->view->id;

  g_string_append_printf (page->html, "<li class=\"%s\"><span class=\"sign\"></span><div>\n<p>",
                          ws_evidence_state_id (line->line->state));
  ws_page_element (page, "b", NULL, ws_page_word (page, "view", view));
  ws_page_raw (page, ", ");
  ws_page_element (page, "span", "state", ws_page_word (page, "evidence_state", ws_evidence_state_id (line->line->state)));
  ws_page_raw (page, ": ");
  ws_page_text (page, when);
  ws_page_raw (page, ", ");
  ws_page_text (page, ws_page_word (page, "go_back", line->where == WS_GO_BACK_KEPT ? "kept" : "spot"));
  ws_page_raw (page, "</p>\n");
  ws_page_element (page, "p", "hint", ws_page_word (page, "how", view));
  ws_page_raw (page, "</div></li>\n");
}

static void
add_find (WsPage *page, const WsGoBackFind *entry, gint64 now_us)
{
  const WsFind *find = entry->evidence->find;
  g_autofree char *position = ws_position_is_known (&find->where) ? ws_position_to_text (&find->where, 5) : NULL;
  g_autofree char *when = ws_moment_iso (&find->when);

  ws_page_raw (page, "<section>\n");
  ws_page_element (page, "h2", NULL, find->number);
  ws_page_raw (page, "<p>");
  ws_page_text (page, find->field_name);
  ws_page_raw (page, "</p>\n<dl>\n");
  ws_page_row (page, ws_page_word (page, "go_back", "found"), when);
  ws_page_row (page, ws_page_word (page, "go_back", "foray"), entry->foray != NULL ? entry->foray->place : NULL);
  ws_page_row (page, ws_page_word (page, "go_back", "spot_words"), find->locality);
  ws_page_row (page, ws_page_word (page, "go_back", "position"), position);
  ws_page_raw (page, "</dl>\n<ul class=\"evidence\">\n");
  for (guint i = 0; i < entry->lines->len; i++)
    add_line (page, &g_array_index (entry->lines, WsGoBackLine, i), now_us);
  ws_page_raw (page, "</ul>\n</section>\n");
}

GBytes *
ws_pocket_page (GPtrArray *list, gint64 now_us, const WsKnowledge *knowledge, const char *language)
{
  WsPage page = { g_string_new (NULL), NULL, knowledge, language, NULL, NULL, NULL };
  static const char *const cautions[] = { "law", "photos_never", "poison" };
  gboolean touch = FALSE;
  gsize size;

  add_head (&page);
  for (guint i = 0; i < list->len; i++)
    touch = touch || ws_go_back_get_touch_warning (((WsGoBackFind *) g_ptr_array_index (list, i))->evidence, knowledge, language)[0] != '\0';
  if (touch)
    {
      ws_page_raw (&page, "<section class=\"warning\">\n");
      ws_page_element (&page, "p", NULL, ws_page_word (&page, "caution", "touch"));
      ws_page_raw (&page, "</section>\n");
    }
  ws_page_raw (&page, "<main>\n");
  ws_page_element (&page, "p", "hint", ws_page_word (&page, "go_back", list->len > 0 ? "keep" : "none"));
  for (guint i = 0; i < list->len; i++)
    add_find (&page, g_ptr_array_index (list, i), now_us);
  ws_page_raw (&page, "</main>\n<footer>\n");
  ws_page_element (&page, "p", NULL, ws_page_word (&page, "go_back", "private"));
  for (gsize i = 0; i < G_N_ELEMENTS (cautions); i++)
    ws_page_element (&page, "p", NULL, ws_page_word (&page, "caution", cautions[i]));
  ws_page_raw (&page, "</footer>\n</body>\n</html>\n");
  size = page.html->len;
  return g_bytes_new_take (g_string_free (page.html, FALSE), size);
}
