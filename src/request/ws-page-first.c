/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is seen first: what is new, the plate or the three telling parts, what was noted of the rest, and the answers that cover most
 * requests. On a phone all of it fits one screen. */
#include "ws-page-writer.h"

#include "ws-json-build.h"

#include <math.h>
#include <string.h>

/* --- What is new since the answer --------------------------------------------------------------------------- */

static gint64
last_answer (const WsFind *find)
{
  gint64 last = 0;

  for (guint i = 0; i < find->answers->len; i++)
    last = MAX (last, ((const WsAnswer *) g_ptr_array_index (find->answers, i))->received_us);
  return last;
}

static gboolean
is_noted_since (const WsFind *find, const char *character, gint64 since)
{
  for (guint i = 0; i < find->notes->len; i++)
    {
      const WsNote *note = g_ptr_array_index (find->notes, i);

      if (g_str_equal (note->character, character) && note->created_us > since)
        return TRUE;
    }
  return FALSE;
}

/* A wish is ticked off by what the marks and notes show now, never by the sender's hand. */
static void
add_wish (WsPage *page, const WsWish *wish, gint64 since)
{
  const WsEvidenceLine *line = *wish->view != '\0' ? ws_evidence_get_line (page->evidence, wish->view) : NULL;
  const char *state = NULL;

  if (line != NULL)
    state = ws_page_word (page, "evidence_state", ws_evidence_state_id (line->state));
  else if (*wish->character != '\0')
    state = ws_page_phrase (page, is_noted_since (page->request->find, wish->character, since) ? "wish_noted" : "wish_open");
  ws_page_raw (page, "<li class=\"");
  ws_page_raw (page, line != NULL ? ws_evidence_state_id (line->state) : "wish");
  ws_page_raw (page, "\"><span class=\"sign\" aria-hidden=\"true\"></span><div>");
  if (*wish->view != '\0')
    ws_page_element (page, "b", NULL, ws_page_word (page, "view", wish->view));
  else if (*wish->character != '\0')
    ws_page_element (page, "b", NULL, ws_page_word (page, "character", wish->character));
  else if (*wish->part != '\0')
    ws_page_element (page, "b", NULL, ws_page_word (page, "part", wish->part));
  if (*wish->text != '\0')
    {
      ws_page_raw (page, " ");
      ws_page_element (page, "q", NULL, wish->text);
    }
  if (state != NULL)
    {
      ws_page_raw (page, " ");
      ws_page_element (page, "span", "state", state);
    }
  ws_page_raw (page, "</div></li>\n");
}

static void
add_new_marks (WsPage *page, gint64 since)
{
  GPtrArray *marks = page->request->find->marks;
  guint n = 0;

  for (guint i = 0; i < marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (marks, i);

      if (mark->created_us <= since)
        continue;
      ws_page_raw (page, n++ == 0 ? "<p>" : ", ");
      if (n == 1)
        {
          ws_page_text (page, ws_page_phrase (page, "new_parts"));
          ws_page_raw (page, " ");
        }
      ws_page_mark_link (page, mark);
      ws_page_raw (page, " ");
      ws_page_text (page, ws_page_word (page, "part", mark->part));
    }
  ws_page_raw (page, n > 0 ? "</p>\n" : "");
}

static void
add_new_notes (WsPage *page, gint64 since)
{
  GPtrArray *notes = page->request->find->notes;
  guint n = 0;

  for (guint i = 0; i < notes->len; i++)
    {
      const WsNote *note = g_ptr_array_index (notes, i);

      if (note->created_us <= since)
        continue;
      ws_page_raw (page, n++ == 0 ? "<p>" : "; ");
      if (n == 1)
        {
          ws_page_text (page, ws_page_phrase (page, "new_notes"));
          ws_page_raw (page, " ");
        }
      ws_page_text (page, ws_page_word (page, "character", note->character));
      ws_page_raw (page, ": ");
      ws_page_states (page, note);
    }
  ws_page_raw (page, n > 0 ? "</p>\n" : "");
}

void
ws_page_add_new (WsPage *page)
{
  const WsFind *find = page->request->find;
  gint64 since = last_answer (find);

  if (page->request->replaces == NULL)
    return;
  ws_page_begin_section (page, "new", ws_page_phrase (page, "new"));
  if (since == 0)
    ws_page_element (page, "p", NULL, ws_page_phrase (page, "replaces"));
  else
    {
      add_new_marks (page, since);
      add_new_notes (page, since);
    }
  ws_page_raw (page, "<ul class=\"evidence\">\n");
  for (guint i = 0; i < find->answers->len; i++)
    {
      const WsAnswer *answer = g_ptr_array_index (find->answers, i);

      for (guint j = 0; !ws_find_is_answer_replaced (find, answer->id) && j < answer->wishes->len; j++)
        add_wish (page, g_ptr_array_index (answer->wishes, j), answer->received_us);
    }
  ws_page_raw (page, "</ul>\n</section>\n");
}

/* --- Facts ---------------------------------------------------------------------------------------------------- */

/* The notes of a few characters as one line; what is not noted is said to be so. */
static void
add_notes_row (WsPage *page, const char *term, const char *const *characters)
{
  GPtrArray *notes = page->request->find->notes;
  guint n = 0;

  ws_page_raw (page, "<div>");
  ws_page_element (page, "dt", NULL, ws_page_phrase (page, term));
  ws_page_raw (page, "<dd>");
  for (guint k = 0; characters[k] != NULL; k++)
    for (guint i = 0; i < notes->len; i++)
      {
        const WsNote *note = g_ptr_array_index (notes, i);

        if (!g_str_equal (note->character, characters[k]))
          continue;
        ws_page_raw (page, n++ > 0 ? "; " : "");
        ws_page_states (page, note);
        if (!note->sure || note->off_photo)
          {
            ws_page_raw (page, " ");
            ws_page_element (page, "span", "aside", ws_page_phrase (page, "unsure"));
          }
      }
  if (n == 0)
    ws_page_element (page, "span", "need", ws_page_phrase (page, "not_noted"));
  ws_page_raw (page, "</dd></div>\n");
}

/* What was measured by hand last, of each quantity. */
static void
add_sizes (WsPage *page)
{
  static const char *const sizes[] = { "size", NULL };
  GPtrArray *measurements = page->request->find->measurements;

  if (measurements->len == 0)
    {
      add_notes_row (page, "first_size", sizes);
      return;
    }
  ws_page_raw (page, "<div>");
  ws_page_element (page, "dt", NULL, ws_page_phrase (page, "first_size"));
  ws_page_raw (page, "<dd>");
  for (guint i = 0; i < measurements->len; i++)
    {
      const WsMeasurement *measurement = g_ptr_array_index (measurements, i);

      ws_page_raw (page, i > 0 ? "; " : "");
      ws_page_text (page, ws_page_word (page, "quantity", measurement->quantity));
      ws_page_raw (page, " ");
      ws_page_number (page, measurement->value, 0);
      if (isfinite (measurement->error))
        {
          ws_page_raw (page, " ± ");
          ws_page_number (page, ceil (measurement->error), 0);
        }
    }
  ws_page_raw (page, "</dd></div>\n");
}

/* The country is the sender's words or what the place told can say; nothing is looked up. */
static void
add_where_and_when (WsPage *page)
{
  const WsRequest *request = page->request;
  g_autofree char *date = ws_moment_date (&request->find->when);
  g_autoptr (GString) text = g_string_new (date != NULL ? date : ws_page_phrase (page, "no_date"));

  if (request->tell_place == WS_TELL_REGION && *request->region != '\0')
    g_string_append_printf (text, " · %s", request->region);
  else if (ws_tell_place_has_locality (request->tell_place) && *request->find->locality != '\0')
    g_string_append_printf (text, " · %s", request->find->locality);
  if (!isnan (ws_tell_place_step (request->tell_place)) && ws_position_is_known (&request->place))
    {
      WsPosition told = ws_position_none ();
      g_autofree char *pair = NULL;

      told.latitude = ws_tell_place_round (request->tell_place, request->place.latitude);
      told.longitude = ws_tell_place_round (request->tell_place, request->place.longitude);
      pair = ws_position_to_text (&told, ws_tell_place_decimals (request->tell_place));
      g_string_append_printf (text, " · %s", pair);
    }
  ws_page_row (page, ws_page_phrase (page, "first_where"), text->str);
}

static void
add_facts (WsPage *page)
{
  static const char *const stain[] = { "odour", "bruising", "colour_change", "latex", NULL };
  static const char *const trees[] = { "trees", NULL };
  const WsRequest *request = page->request;

  ws_page_raw (page, "<dl class=\"facts\">\n");
  add_sizes (page);
  add_notes_row (page, "first_stain", stain);
  add_notes_row (page, "first_trees", trees);
  add_where_and_when (page);
  ws_page_row (page, ws_page_phrase (page, "the_specimen"),
               ws_page_word (page, "specimen_is", ws_specimen_is_id (request->find->specimen_is)));
  ws_page_row (page, ws_page_phrase (page, "question"),
               *request->question != '\0' ? request->question : ws_page_phrase (page, "no_question"));
  ws_page_row (page, ws_page_phrase (page, "asked_elsewhere"), request->asked_elsewhere);
  ws_page_raw (page, "</dl>\n");
}

/* --- Quick answers ---------------------------------------------------------------------------------------------- */

/* The address of the sender where the name holds one; else who answers fills it in. */
static const char *
address_of (const WsRequest *request)
{
  const char *at = strchr (request->from, '@');

  return at != NULL && at != request->from && strpbrk (request->from, " \t\n<>\"'?&#%/\\") == NULL ? request->from : "";
}

/* A link that writes a mail with the answer and the code of the request; with the script a button of the form. */
static void
add_quick (WsPage *page, const char *id)
{
  const WsRequest *request = page->request;
  g_autofree char *code = ws_request_dup_code (request), *name = g_strconcat ("quick_", id, NULL);
  g_autofree char *number = ws_json_clean (request->find->number);
  g_autofree char *subject = g_strdup_printf ("%s %s (%s)", ws_page_phrase (page, "number"), number, code);
  g_autofree char *body = g_strdup_printf ("%s\r\n\r\n\r\n%s %s\r\n", ws_page_phrase (page, name), ws_page_phrase (page, "code"), code);
  g_autofree char *subject_in_link = g_uri_escape_string (subject, NULL, FALSE), *body_in_link = g_uri_escape_string (body, NULL, FALSE);

  g_string_append_printf (page->html, "<a class=\"quick\" data-quick=\"%s\" href=\"mailto:", id);
  ws_page_text (page, address_of (request));
  g_string_append_printf (page->html, "?subject=%s&amp;body=%s\">", subject_in_link, body_in_link);
  ws_page_text (page, ws_page_phrase (page, name));
  ws_page_raw (page, "</a>\n");
}

static void
add_quick_answers (WsPage *page)
{
  ws_page_raw (page, "<nav class=\"quick-answers\" aria-label=\"");
  ws_page_text (page, ws_page_phrase (page, "quick"));
  ws_page_raw (page, "\">\n");
  if (page->request->emergency)
    add_quick (page, "phone");
  add_quick (page, "cannot");
  add_quick (page, "deadly");
  add_quick (page, "think");
  ws_page_raw (page, "</nav>\n");
}

/* --- The first screen ------------------------------------------------------------------------------------------- */

void
ws_page_add_first (WsPage *page)
{
  const WsPageExtras *extras = page->extras;

  if (extras->plate != NULL)
    {
      g_string_append_printf (page->html, "<figure class=\"plate\"><img width=\"%d\" height=\"%d\" alt=\"", extras->plate_width,
                              extras->plate_height);
      ws_page_text (page, ws_page_phrase (page, "plate"));
      ws_page_raw (page, "\" src=\"");
      ws_page_picture (page, extras->plate);
      ws_page_raw (page, "\"></figure>\n");
    }
  ws_page_add_first_closeups (page);
  ws_page_raw (page, "<section id=\"first\">\n");
  add_facts (page);
  add_quick_answers (page);
  ws_page_raw (page, "</section>\n");
}
