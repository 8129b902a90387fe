/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which dangerous groups the notes leave open, for the eye of who is asked. */
#include "ws-page-writer.h"

#include "ws-still-open.h"

void
ws_page_add_still_open (WsPage *page)
{
  g_autoptr (WsStillOpen) still_open = ws_still_open_judge (page->request->find, page->knowledge, NULL);

  ws_page_raw (page, "<section id=\"still-open\">\n<details>\n<summary>");
  ws_page_text (page, ws_page_phrase (page, "still_open"));
  ws_page_raw (page, "</summary>\n");
  ws_page_element (page, "p", "hint", ws_page_phrase (page, "still_open_hint"));
  ws_page_raw (page, "\n<ul>\n");
  for (guint i = 0; i < still_open->verdicts->len; i++)
    {
      const WsGroupVerdict *verdict = g_ptr_array_index (still_open->verdicts, i);
      g_autofree char *why = NULL;

      if (!verdict->open)
        continue;
      why = ws_still_open_dup_reasons_text (still_open, page->knowledge, page->language, verdict);
      ws_page_raw (page, "<li>");
      ws_page_element (page, "b", NULL, ws_page_word (page, "group", verdict->group->id));
      ws_page_raw (page, " ");
      ws_page_element (page, "span", "need", why);
      ws_page_raw (page, "</li>\n");
    }
  ws_page_raw (page, "</ul>\n</details>\n</section>\n");
}
