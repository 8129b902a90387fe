/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The blocks of text on the page of a request. */
#include "ws-page-writer.h"

#include <math.h>

/* --- The base ---------------------------------------------------------------------------------------- */

/* The warning of the evidence list sends the finder back; here it speaks to who is asked for a name. */
void
ws_page_add_base_warning (WsPage *page)
{
  const WsEvidenceLine *base = ws_evidence_get_base (page->evidence);
  const char *reason = page->request->without_base;

  if (base == NULL || base->state == WS_EVIDENCE_SHOWN)
    return;
  ws_page_raw (page, "<section class=\"warning\" id=\"no-base\" role=\"note\">\n");
  ws_page_element (page, "h2", NULL, ws_page_phrase (page, "base_not_shown"));
  ws_page_raw (page, "\n");
  ws_page_element (page, "p", NULL, ws_page_phrase (page, "base_matters"));
  ws_page_raw (page, "\n");
  if (base->detail != NULL)
    ws_page_element (page, "p", "detail", base->detail);
  ws_page_raw (page, "\n<p>");
  ws_page_text (page, ws_page_phrase (page, *reason != '\0' ? "base_reason" : "base_no_reason"));
  ws_page_raw (page, " ");
  if (*reason != '\0')
    ws_page_element (page, "q", NULL, reason);
  ws_page_raw (page, "</p>\n</section>\n");
}

/* --- Evidence ------------------------------------------------------------------------------------------ */

/* Missing before weak before shown; of these the required first; the base before all others. */
static int
compare_lines (gconstpointer a, gconstpointer b)
{
  const WsEvidenceLine *one = *(const WsEvidenceLine *const *) a, *two = *(const WsEvidenceLine *const *) b;

  if (one->state != two->state && (one->need == WS_NEED_ONLY_IF) == (two->need == WS_NEED_ONLY_IF))
    return one->state < two->state ? -1 : 1;
  if (one->need != two->need)
    return one->need < two->need ? -1 : 1;
  return (int) two->view->is_base - (int) one->view->is_base;
}

static void
add_line (WsPage *page, const WsEvidenceLine *line)
{
  g_string_append_printf (page->html, "<li class=\"%s\"><span class=\"sign\" aria-hidden=\"true\"></span><div>",
                          ws_evidence_state_id (line->state));
  ws_page_element (page, "b", NULL, ws_page_word (page, "view", line->view->id));
  ws_page_raw (page, " <span class=\"state\">");
  ws_page_text (page, ws_page_word (page, "evidence_state", ws_evidence_state_id (line->state)));
  ws_page_raw (page, "</span> <span class=\"need\">");
  ws_page_text (page, ws_page_word (page, "need", ws_need_id (line->need)));
  ws_page_raw (page, "</span>");
  for (guint i = 0; i < line->marks->len; i++)
    {
      ws_page_raw (page, " ");
      ws_page_mark_link (page, g_ptr_array_index (line->marks, i));
    }
  if (line->detail != NULL)
    ws_page_element (page, "p", NULL, line->detail);
  if (line->excuse != NULL && *line->excuse != '\0')
    {
      ws_page_raw (page, "<p>");
      ws_page_text (page, ws_page_phrase (page, "excuse"));
      ws_page_raw (page, " ");
      ws_page_element (page, "q", NULL, line->excuse);
      ws_page_raw (page, "</p>");
    }
  ws_page_raw (page, "</div></li>\n");
}

void
ws_page_add_evidence (WsPage *page)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();

  g_ptr_array_extend (lines, page->evidence->lines, NULL, NULL);
  ws_page_begin_section (page, "evidence", ws_page_phrase (page, "evidence"));
  ws_page_element (page, "p", "hint", ws_page_phrase (page, "evidence_hint"));
  if (page->evidence->growth_form[0] == '\0')
    ws_page_element (page, "p", "hint", ws_page_phrase (page, "no_form"));
  g_ptr_array_sort (lines, compare_lines);
  ws_page_raw (page, "\n<ul class=\"evidence\">\n");
  for (guint i = 0; i < lines->len; i++)
    add_line (page, g_ptr_array_index (lines, i));
  ws_page_raw (page, "</ul>\n");
  ws_page_element (page, "p", "hint", ws_page_phrase (page, "claims"));
  ws_page_raw (page, "\n</section>\n");
}

/* --- Notes ----------------------------------------------------------------------------------------------- */

static const char *
state_text (const WsPage *page, const WsNote *note, const char *state)
{
  const WsCharacter *character = ws_knowledge_find_character (page->knowledge, note->character);

  return character == NULL || character->free_text
         ? state : ws_knowledge_state_text (page->knowledge, page->language, note->character, state);
}

void
ws_page_states (WsPage *page, const WsNote *note)
{
  for (guint i = 0; note->states[i] != NULL; i++)
    {
      ws_page_raw (page, i > 0 ? ", " : "");
      ws_page_text (page, state_text (page, note, note->states[i]));
    }
}

static void
add_aside (WsPage *page, const char *phrase, const char *text)
{
  ws_page_raw (page, " <span class=\"aside\">");
  ws_page_text (page, ws_page_phrase (page, phrase));
  if (text != NULL)
    {
      ws_page_raw (page, " ");
      ws_page_text (page, text);
    }
  ws_page_raw (page, "</span>");
}

static void
add_note (WsPage *page, const WsNote *note)
{
  const WsMark *mark = note->mark_id != NULL ? ws_find_get_mark (page->request->find, note->mark_id) : NULL;

  ws_page_raw (page, "<div>");
  ws_page_element (page, "dt", NULL, ws_page_word (page, "character", note->character));
  ws_page_raw (page, "<dd>");
  ws_page_states (page, note);
  add_aside (page, note->sure && !note->off_photo ? "sure" : "unsure", NULL);
  if (note->off_photo)
    add_aside (page, "off_photo", NULL);
  if (*note->specimen != '\0')
    add_aside (page, "specimen", note->specimen);
  if (*note->observer != '\0')
    add_aside (page, "observer", note->observer);
  if (mark != NULL)
    {
      add_aside (page, "mark", NULL);
      ws_page_raw (page, " ");
      ws_page_mark_link (page, mark);
    }
  ws_page_raw (page, "</dd></div>\n");
}

void
ws_page_add_notes (WsPage *page)
{
  GPtrArray *notes = page->request->find->notes;

  ws_page_begin_section (page, "notes", ws_page_phrase (page, "notes"));
  if (notes->len == 0)
    ws_page_element (page, "p", NULL, ws_page_phrase (page, "no_notes"));
  ws_page_raw (page, "<dl>\n");
  for (guint i = 0; i < notes->len; i++)
    add_note (page, g_ptr_array_index (notes, i));
  ws_page_row (page, ws_page_phrase (page, "remarks"), page->request->find->remarks);
  ws_page_raw (page, "</dl>\n");
  ws_page_element (page, "p", "hint", ws_page_phrase (page, "unknown"));
  ws_page_raw (page, "\n</section>\n");
}

/* --- Place, question, guess --------------------------------------------------------------------------------- */

static void
add_position (WsPage *page, const WsPosition *place)
{
  static const char *const sources[] = { NULL, "source_photo", "source_track", "source_typed" };
  WsTellPlace tell = page->request->tell_place;
  WsPosition told = *place;
  g_autofree char *text = NULL;

  told.latitude = ws_tell_place_round (tell, told.latitude);
  told.longitude = ws_tell_place_round (tell, told.longitude);
  text = ws_position_to_text (&told, ws_tell_place_decimals (tell));
  ws_page_raw (page, "<div>");
  ws_page_element (page, "dt", NULL, ws_page_phrase (page, "place_told"));
  ws_page_raw (page, "<dd>");
  ws_page_text (page, text);
  ws_page_raw (page, " <span class=\"aside\">WGS 84, ");
  ws_page_text (page, ws_page_word (page, "tell_place", ws_tell_place_id (tell)));
  ws_page_raw (page, "</span><br>");
  ws_page_text (page, ws_page_phrase (page, isfinite (place->error_m) ? "uncertainty" : "uncertainty_unknown"));
  if (isfinite (place->error_m))
    {
      ws_page_raw (page, " <b>");
      ws_page_number (page, ceil (place->error_m), 0);
      ws_page_raw (page, "</b>");
    }
  ws_page_raw (page, "</dd></div>\n");
  if (sources[place->source] != NULL)
    ws_page_row (page, ws_page_phrase (page, "place_source"), ws_page_phrase (page, sources[place->source]));
  if (tell == WS_TELL_EXACT && isfinite (place->altitude))
    {
      char number[G_ASCII_DTOSTR_BUF_SIZE];

      ws_page_row (page, ws_page_phrase (page, "altitude"),
                   g_ascii_formatd (number, sizeof number, "%.0f", place->altitude));
    }
}

static void
add_region (WsPage *page)
{
  const char *region = page->request->region;

  ws_page_row (page, ws_page_phrase (page, "place_told"),
               *region != '\0' ? region : ws_page_phrase (page, "no_region"));
  ws_page_row (page, ws_page_phrase (page, "place_exactness"),
               ws_page_word (page, "tell_place", ws_tell_place_id (WS_TELL_REGION)));
}

void
ws_page_add_place (WsPage *page)
{
  const WsRequest *request = page->request;
  const WsFind *find = request->find;
  g_autofree char *when = request->keep_time ? ws_moment_iso (&find->when) : ws_moment_date (&find->when);

  ws_page_begin_section (page, "place", ws_page_phrase (page, "place"));
  ws_page_raw (page, "<dl>\n");
  ws_page_row (page, ws_page_phrase (page, "date"), when != NULL ? when : ws_page_phrase (page, "no_date"));
  if (request->tell_place == WS_TELL_WITHHELD)
    ws_page_row (page, ws_page_phrase (page, "place_told"), ws_page_phrase (page, "place_withheld"));
  else if (request->tell_place == WS_TELL_REGION)
    add_region (page);
  else if (!ws_position_is_known (&request->place))
    ws_page_row (page, ws_page_phrase (page, "place_told"), ws_page_phrase (page, "place_unknown"));
  else
    add_position (page, &request->place);
  if (ws_tell_place_has_locality (request->tell_place))
    ws_page_row (page, ws_page_phrase (page, "locality"), find->locality);
  ws_page_row (page, ws_page_phrase (page, "the_specimen"),
               ws_page_word (page, "specimen_is", ws_specimen_is_id (find->specimen_is)));
  ws_page_raw (page, "</dl>\n</section>\n");
}

/* Who named it, unverified, on what and how sure; what was taken back is left out. */
static void
add_name (WsPage *page, const WsName *name)
{
  static const char *const on[] = { NULL, "form_on_photos", "form_on_specimen", "form_on_both" };
  g_autofree char *certainty = g_strconcat ("form_", ws_certainty_id (name->certainty), NULL);

  if (name->withdraws != NULL || ws_find_is_name_withdrawn (page->request->find, name->id) || *name->verbatim == '\0')
    return;
  ws_page_raw (page, "<li>");
  ws_page_element (page, "b", NULL, name->verbatim);
  add_aside (page, certainty, NULL);
  if (*name->by != '\0')
    add_aside (page, "named_by", name->by);
  if (*name->date != '\0')
    {
      ws_page_raw (page, " ");
      ws_page_element (page, "span", "aside", name->date);
    }
  if (on[name->on] != NULL)
    add_aside (page, on[name->on], NULL);
  if (name->base_shown == 0)
    add_aside (page, "base_not_shown", NULL);
  if (*name->reasons != '\0')
    {
      ws_page_raw (page, "<br>");
      ws_page_element (page, "q", NULL, name->reasons);
    }
  ws_page_raw (page, "</li>\n");
}

static void
add_names (WsPage *page)
{
  GPtrArray *names = page->request->find->names;

  if (names->len == 0)
    return;
  ws_page_element (page, "h3", NULL, ws_page_phrase (page, "earlier_names"));
  ws_page_raw (page, "\n<ul>\n");
  for (guint i = 0; i < names->len; i++)
    add_name (page, g_ptr_array_index (names, i));
  ws_page_raw (page, "</ul>\n");
}

void
ws_page_add_guess (WsPage *page)
{
  const char *name = page->request->find->field_name;

  ws_page_raw (page, "<section id=\"guess\">\n");
  /* A warning of somebody is never folded away. */
  if (ws_find_get_warning (page->request->find) != NULL)
    ws_page_element (page, "p", "warned", ws_page_phrase (page, "warned"));
  ws_page_raw (page, "<details>\n<summary>");
  ws_page_text (page, ws_page_phrase (page, "guess"));
  ws_page_raw (page, "</summary>\n");
  ws_page_element (page, "p", "question", *name != '\0' ? name : ws_page_phrase (page, "no_guess"));
  ws_page_element (page, "p", "hint", ws_page_phrase (page, "guess_hint"));
  add_names (page);
  ws_page_raw (page, "\n</details>\n</section>\n");
}

/* --- Cautions -------------------------------------------------------------------------------------------------- */

void
ws_page_add_cautions (WsPage *page)
{
  static const char *const ids[] = { "photos_never", "doubt", "touch", "law" };

  ws_page_raw (page, "<section class=\"warning\" id=\"cautions\">\n");
  ws_page_element (page, "h2", NULL, ws_page_phrase (page, "cautions"));
  ws_page_raw (page, "\n<ul>\n");
  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    {
      ws_page_element (page, "li", NULL, ws_page_word (page, "caution", ids[i]));
      ws_page_raw (page, "\n");
    }
  ws_page_raw (page, "</ul>\n</section>\n");
}

static void
add_list (WsPage *page, const char *heading, const char *const *ids)
{
  ws_page_element (page, "h3", NULL, ws_page_phrase (page, heading));
  ws_page_raw (page, "\n<ul>\n");
  for (guint i = 0; ids[i] != NULL; i++)
    {
      ws_page_element (page, "li", NULL, ws_page_word (page, "eaten", ids[i]));
      ws_page_raw (page, "\n");
    }
  ws_page_raw (page, "</ul>\n");
}

void
ws_page_add_eaten (WsPage *page)
{
  static const char *const say[] = { "say_who", "say_when", "say_how_much", "say_illness", NULL };
  static const char *const keep[] = { "keep_1", "keep_2", "keep_3", NULL };
  static const char *const first[] = { "no_wait", "better", "animal" };

  ws_page_raw (page, "<section class=\"alarm\" id=\"eaten\">\n");
  ws_page_element (page, "h2", NULL, ws_page_word (page, "eaten", "title"));
  ws_page_raw (page, "\n");
  ws_page_element (page, "p", "call", ws_page_word (page, "eaten", "call"));
  for (guint i = 0; i < G_N_ELEMENTS (first); i++)
    {
      ws_page_raw (page, "\n");
      ws_page_element (page, "p", NULL, ws_page_word (page, "eaten", first[i]));
    }
  ws_page_raw (page, "\n");
  add_list (page, "eaten_say", say);
  add_list (page, "eaten_keep", keep);
  ws_page_raw (page, "</section>\n");
}
