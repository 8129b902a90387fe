/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-page-writer.h"

#include "ws-json-build.h"

#include <math.h>
#include <string.h>

void
ws_package_crop_free (WsPackageCrop *crop)
{
  if (crop == NULL)
    return;
  g_bytes_unref (crop->jpeg);
  g_free (crop);
}

/* --- Writing ------------------------------------------------------------------------------------- */

void
ws_page_raw (WsPage *page, const char *markup)
{
  g_string_append (page->html, markup);
}

void
ws_page_text (WsPage *page, const char *text)
{
  g_autofree char *plain = ws_json_clean (text);
  g_autofree char *escaped = g_markup_escape_text (plain, -1);

  g_string_append (page->html, escaped);
}

const char *
ws_page_word (const WsPage *page, const char *kind, const char *id)
{
  return ws_knowledge_text (page->knowledge, page->language, kind, id);
}

const char *
ws_page_phrase (const WsPage *page, const char *id)
{
  return ws_page_word (page, "page", id);
}

void
ws_page_element (WsPage *page, const char *tag, const char *css_class, const char *text)
{
  g_string_append_printf (page->html, css_class != NULL ? "<%s class=\"%s\">" : "<%s>", tag, css_class);
  ws_page_text (page, text);
  g_string_append_printf (page->html, "</%s>", tag);
}

void
ws_page_begin_section (WsPage *page, const char *id, const char *heading)
{
  g_string_append_printf (page->html, "<section id=\"%s\">\n", id);
  ws_page_element (page, "h2", NULL, heading);
  ws_page_raw (page, "\n");
}

void
ws_page_row (WsPage *page, const char *term, const char *text)
{
  if (text == NULL || *text == '\0')
    return;
  ws_page_raw (page, "<div>");
  ws_page_element (page, "dt", NULL, term);
  ws_page_element (page, "dd", NULL, text);
  ws_page_raw (page, "</div>\n");
}

void
ws_page_number (WsPage *page, double number, int decimals)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append (page->html, g_ascii_formatd (text, sizeof text, decimals > 0 ? "%.2f" : "%.0f",
                                                isfinite (number) ? number : 0));
}

void
ws_page_picture (WsPage *page, GBytes *jpeg)
{
  gsize size;
  gconstpointer data = g_bytes_get_data (jpeg, &size);
  g_autofree char *text = g_base64_encode (data, size);

  g_string_append (page->html, "data:image/jpeg;base64,");
  g_string_append (page->html, text);
}

void
ws_page_mark_link (WsPage *page, const WsMark *mark)
{
  g_autofree char *letter = ws_find_dup_mark_letter (page->request->find, mark);

  ws_page_raw (page, "<a class=\"letter\" href=\"#mark-");
  ws_page_text (page, letter);
  ws_page_raw (page, "\">");
  ws_page_text (page, letter);
  ws_page_raw (page, "</a>");
}

/* --- The frame ------------------------------------------------------------------------------------ */

/* Nothing is fetched from anywhere, and of scripts only the one of the form runs, whatever got into the texts. */
static void
add_head (WsPage *page)
{
  g_autofree char *script = page->extras->json_digest != NULL ? ws_page_dup_script_source () : NULL;

  ws_page_raw (page, "<!DOCTYPE html>\n<html lang=\"");
  ws_page_text (page, page->language);
  ws_page_raw (page, "\">\n<head>\n<meta charset=\"utf-8\">\n"
                     "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; "
                     "style-src 'unsafe-inline'; ");
  if (script != NULL)
    g_string_append_printf (page->html, "script-src %s; ", script);
  ws_page_raw (page, "base-uri 'none'; form-action 'none'\">\n"
                     "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
                     "<meta name=\"referrer\" content=\"no-referrer\">\n"
                     "<meta name=\"color-scheme\" content=\"light dark\">\n<title>");
  ws_page_text (page, page->request->find->number);
  ws_page_raw (page, ": ");
  ws_page_text (page, ws_page_phrase (page, "title"));
  ws_page_raw (page, "</title>\n<style>\n");
  ws_page_raw (page, ws_page_style);
  ws_page_raw (page, "</style>\n</head>\n<body>\n");
}

static gboolean
is_dialable (const char *number)
{
  return *number != '\0' && strspn (number, "0123456789+ ()/-") == strlen (number);
}

/* An emergency leads with the number to call back; then what holds for everybody. */
static void
add_emergency (WsPage *page)
{
  const char *number = page->request->call_back;

  ws_page_raw (page, "<section class=\"alarm\" id=\"emergency\">\n");
  ws_page_element (page, "h1", NULL, ws_page_phrase (page, "emergency"));
  ws_page_raw (page, "<p class=\"number\">");
  ws_page_text (page, ws_page_phrase (page, *number != '\0' ? "call_back" : "no_call_back"));
  ws_page_raw (page, " ");
  if (is_dialable (number))
    {
      ws_page_raw (page, "<a href=\"tel:");
      for (const char *at = number; *at != '\0'; at++)
        if (g_ascii_isdigit (*at) || (*at == '+' && at == number))
          g_string_append_c (page->html, *at);
      ws_page_raw (page, "\">");
      ws_page_element (page, "strong", NULL, number);
      ws_page_raw (page, "</a>");
    }
  else
    ws_page_element (page, "strong", NULL, number);
  ws_page_raw (page, "</p>\n</section>\n");
  ws_page_add_eaten (page);
}

static void
add_masthead (WsPage *page)
{
  const WsRequest *request = page->request;
  g_autofree char *date = ws_moment_date (&request->find->when);

  ws_page_raw (page, "<header>\n<p class=\"number\">");
  ws_page_text (page, ws_page_phrase (page, "number"));
  ws_page_raw (page, " ");
  ws_page_element (page, "strong", NULL, request->find->number);
  ws_page_raw (page, "</p>\n");
  ws_page_element (page, request->emergency ? "h2" : "h1", NULL, ws_page_phrase (page, "title"));
  ws_page_raw (page, "\n<p class=\"byline\">");
  if (*request->from != '\0')
    {
      ws_page_text (page, ws_page_phrase (page, "from"));
      ws_page_raw (page, " ");
      ws_page_element (page, "b", NULL, request->from);
    }
  if (*request->to != '\0')
    {
      ws_page_raw (page, " ");
      ws_page_text (page, ws_page_phrase (page, "to"));
      ws_page_raw (page, " ");
      ws_page_element (page, "b", NULL, request->to);
    }
  if (date != NULL)
    {
      ws_page_raw (page, " · ");
      ws_page_text (page, date);
    }
  ws_page_raw (page, "</p>\n<p class=\"eaten-link\"><a href=\"#eaten\">");
  ws_page_text (page, ws_page_phrase (page, "eaten_link"));
  ws_page_raw (page, "</a></p>\n</header>\n");
}

static void
add_colophon (WsPage *page)
{
  g_autoptr (GDateTime) made = g_date_time_new_from_unix_utc (page->request->made_us / G_USEC_PER_SEC);
  g_autofree char *day = made != NULL ? g_date_time_format (made, "%Y-%m-%d") : NULL;

  ws_page_raw (page, "<footer>\n<p>");
  ws_page_text (page, ws_page_phrase (page, "colophon"));
  ws_page_raw (page, "</p>\n<dl>");
  ws_page_row (page, ws_page_phrase (page, "made"), day);
  ws_page_row (page, ws_page_phrase (page, "request_id"), page->request->id);
  ws_page_row (page, ws_page_phrase (page, "knowledge_digest"), page->request->knowledge_digest);
  ws_page_raw (page, "</dl>\n</footer>\n");
  ws_page_add_script (page);
  ws_page_raw (page, "</body>\n</html>\n");
}

GBytes *
ws_request_page (const WsRequest *request, GPtrArray *photos, GPtrArray *crops, const WsKnowledge *knowledge,
                 const WsPageExtras *extras)
{
  static const WsPageExtras nothing;
  g_autoptr (GHashTable) done = g_hash_table_new (NULL, NULL);
  WsPage page = { g_string_new (NULL), request, knowledge, request->language, photos, crops, NULL,
                  extras != NULL ? extras : &nothing, done };
  gsize size;

  page.evidence = ws_evidence_judge (request->find, knowledge, request->language);
  add_head (&page);
  if (request->emergency)
    add_emergency (&page);
  ws_page_add_base_warning (&page);
  add_masthead (&page);
  ws_page_raw (&page, "<main>\n");
  ws_page_add_new (&page);
  ws_page_add_first (&page);
  ws_page_add_evidence (&page);
  ws_page_add_other_closeups (&page);
  ws_page_add_notes (&page);
  ws_page_add_photos (&page);
  ws_page_add_place (&page);
  ws_page_add_still_open (&page);
  ws_page_add_form (&page);
  ws_page_add_guess (&page);
  ws_page_add_cautions (&page);
  if (!request->emergency)
    ws_page_add_eaten (&page);
  ws_page_raw (&page, "</main>\n");
  add_colophon (&page);
  ws_evidence_free (page.evidence);
  size = page.html->len;
  return g_bytes_new_take (g_string_free (page.html, FALSE), size);
}
