/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The form for the answer, and what its script (data/page/answer.js) has to know. Without a script the form stays hidden and the quick
 * answers are links that write a mail. */
#include "ws-page-writer.h"

#include "ws-figure-evidence.h"
#include "ws-figure-svg.h"
#include "ws-json-build.h"
#include "ws-page-resources.h"

#include <string.h>

/* --- The form ------------------------------------------------------------------------------------------------- */

static void
add_choice (WsPage *page, const char *id, const char *phrase)
{
  g_string_append_printf (page->html, "<option value=\"%s\">", id);
  ws_page_text (page, ws_page_phrase (page, phrase));
  ws_page_raw (page, "</option>");
}

/* <label>words <TAG …></label> */
static void
begin_label (WsPage *page, const char *phrase)
{
  ws_page_raw (page, "<label>");
  ws_page_element (page, "span", NULL, ws_page_phrase (page, phrase));
  ws_page_raw (page, " ");
}

static void
add_tick (WsPage *page, const char *id, const char *phrase)
{
  g_string_append_printf (page->html, "<label class=\"tick\"><input type=\"checkbox\" id=\"%s\"> ", id);
  ws_page_element (page, "span", NULL, ws_page_phrase (page, phrase));
  ws_page_raw (page, "</label>\n");
}

static void
add_button (WsPage *page, const char *id, const char *phrase)
{
  g_string_append_printf (page->html, "<button type=\"button\" id=\"%s\">", id);
  ws_page_text (page, ws_page_phrase (page, phrase));
  ws_page_raw (page, "</button>\n");
}

/* Where something was seen: on a photo, or on a marked part. */
static void
add_seen_on (WsPage *page)
{
  const WsFind *find = page->request->find;

  begin_label (page, "form_seen_on");
  ws_page_raw (page, "<select class=\"seen\">");
  add_choice (page, "", "form_nowhere");
  for (guint i = 0; i < page->photos->len; i++)
    {
      const WsPackagePhoto *sent = g_ptr_array_index (page->photos, i);

      ws_page_raw (page, "<option value=\"photo ");
      ws_page_text (page, sent->photo->id);
      ws_page_raw (page, "\">");
      ws_page_text (page, ws_page_phrase (page, "photo"));
      g_string_append_printf (page->html, " %u</option>", i + 1);
    }
  for (guint i = 0; i < find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (find->marks, i);
      g_autofree char *letter = ws_find_dup_mark_letter (find, mark);

      ws_page_raw (page, "<option value=\"mark ");
      ws_page_text (page, mark->id);
      ws_page_raw (page, "\">");
      ws_page_text (page, letter);
      ws_page_raw (page, ": ");
      ws_page_text (page, ws_page_word (page, "part", mark->part));
      ws_page_raw (page, "</option>");
    }
  ws_page_raw (page, "</select></label>\n");
}

/* One opinion, one reason: copied by the script as often as they are needed. */
static void
add_templates (WsPage *page)
{
  ws_page_raw (page, "<template id=\"opinion\"><fieldset class=\"opinion\"><legend>");
  ws_page_text (page, ws_page_phrase (page, "form_opinion"));
  ws_page_raw (page, "</legend>\n");
  begin_label (page, "form_name");
  ws_page_raw (page, "<input class=\"name\" type=\"text\" autocomplete=\"off\" autocapitalize=\"sentences\" spellcheck=\"false\"></label>\n");
  begin_label (page, "form_qualifier");
  ws_page_raw (page, "<select class=\"qualifier\">");
  add_choice (page, "", "form_plain");
  ws_page_raw (page, "<option>cf.</option><option>aff.</option><option>?</option><option>sp.</option><option>agg.</option></select></label>\n");
  begin_label (page, "form_certainty");
  ws_page_raw (page, "<select class=\"certainty\">");
  add_choice (page, "open", "form_open");
  add_choice (page, "probable", "form_probable");
  add_choice (page, "sure", "form_sure");
  ws_page_raw (page, "</select></label>\n");
  begin_label (page, "form_on");
  ws_page_raw (page, "<select class=\"on\">");
  add_choice (page, "photos", "form_on_photos");
  add_choice (page, "specimen", "form_on_specimen");
  add_choice (page, "both", "form_on_both");
  ws_page_raw (page, "</select></label>\n<div class=\"reasons\"></div>\n<button type=\"button\" class=\"more\">");
  ws_page_text (page, ws_page_phrase (page, "form_more_reasons"));
  ws_page_raw (page, "</button>\n<button type=\"button\" class=\"remove\">");
  ws_page_text (page, ws_page_phrase (page, "form_remove"));
  ws_page_raw (page, "</button>\n</fieldset></template>\n<template id=\"reason\"><div class=\"reason\">");
  begin_label (page, "form_reason");
  ws_page_raw (page, "<input class=\"why\" type=\"text\"></label>\n");
  add_seen_on (page);
  ws_page_raw (page, "</div></template>\n");
}

/* The evidence list as ticks, what is missing first; a click on the figure ticks them too. */
static void
add_wishes (WsPage *page)
{
  static const WsEvidenceState order[] = { WS_EVIDENCE_MISSING, WS_EVIDENCE_WEAK, WS_EVIDENCE_SHOWN };

  ws_page_raw (page, "<div class=\"wishes\">\n");
  if (page->extras->figure != NULL)
    {
      WsFigureEvidence source = { page->evidence, page->knowledge };
      WsFigureLook look = { 0 };

      ws_figure_evidence_look (&source, &look);
      ws_page_raw (page, "<div class=\"figure\">");
      ws_page_element (page, "p", "hint", ws_page_phrase (page, "form_click"));
      ws_figure_add_svg (page->extras->figure, &look, ws_page_phrase (page, "form_figure"), page->html);
      ws_page_raw (page, "</div>\n");
    }
  ws_page_raw (page, "<fieldset id=\"views\"><legend>");
  ws_page_text (page, ws_page_phrase (page, "form_views"));
  ws_page_raw (page, "</legend>\n");
  for (gsize k = 0; k < G_N_ELEMENTS (order); k++)
    for (guint i = 0; i < page->evidence->lines->len; i++)
      {
        const WsEvidenceLine *line = g_ptr_array_index (page->evidence->lines, i);

        if (line->state != order[k])
          continue;
        g_string_append_printf (page->html, "<label class=\"tick\"><input type=\"checkbox\" class=\"wish\" data-view=\"%s\"> ", line->view->id);
        ws_page_element (page, "span", NULL, ws_page_word (page, "view", line->view->id));
        ws_page_raw (page, " ");
        ws_page_element (page, "span", "state", ws_page_word (page, "evidence_state", ws_evidence_state_id (line->state)));
        ws_page_raw (page, "</label>\n");
      }
  ws_page_raw (page, "</fieldset>\n");
}

static gboolean
is_noted (const WsFind *find, const char *character)
{
  for (guint i = 0; i < find->notes->len; i++)
    if (g_str_equal (((const WsNote *) g_ptr_array_index (find->notes, i))->character, character))
      return TRUE;
  return FALSE;
}

static void
add_wished_notes (WsPage *page)
{
  GPtrArray *characters = ws_knowledge_get_characters (page->knowledge);

  ws_page_raw (page, "<details id=\"notes-wished\"><summary>");
  ws_page_text (page, ws_page_phrase (page, "form_characters"));
  ws_page_raw (page, "</summary>\n<fieldset><legend class=\"unseen\">");
  ws_page_text (page, ws_page_phrase (page, "form_characters"));
  ws_page_raw (page, "</legend>\n");
  for (guint i = 0; i < characters->len; i++)
    {
      const WsCharacter *character = g_ptr_array_index (characters, i);

      if (is_noted (page->request->find, character->id))
        continue;
      g_string_append_printf (page->html, "<label class=\"tick\"><input type=\"checkbox\" class=\"wish\" data-character=\"%s\"> ", character->id);
      ws_page_element (page, "span", NULL, ws_page_word (page, "character", character->id));
      ws_page_raw (page, "</label>\n");
    }
  ws_page_raw (page, "</fieldset></details>\n</div>\n");
}

void
ws_page_add_form (WsPage *page)
{
  if (page->extras->json_digest == NULL)
    return;
  ws_page_raw (page, "<section id=\"answer\" hidden>\n");
  ws_page_element (page, "h2", NULL, ws_page_phrase (page, "form"));
  ws_page_element (page, "p", "hint", ws_page_phrase (page, "form_hint"));
  ws_page_raw (page, "\n");
  add_templates (page);
  if (page->request->emergency)
    add_tick (page, "phone", "quick_phone");
  add_tick (page, "deadly", "quick_deadly");
  add_tick (page, "cannot", "form_cannot");
  ws_page_raw (page, "<div id=\"opinions\"></div>\n");
  add_button (page, "add-opinion", "form_more_opinions");
  ws_page_element (page, "h3", NULL, ws_page_phrase (page, "form_wishes"));
  ws_page_raw (page, "\n");
  add_wishes (page);
  add_wished_notes (page);
  begin_label (page, "form_wish_text");
  ws_page_raw (page, "<input id=\"wish-text\" type=\"text\"></label>\n");
  begin_label (page, "form_remarks");
  ws_page_raw (page, "<textarea id=\"remarks\" rows=\"3\"></textarea></label>\n");
  begin_label (page, "form_by");
  ws_page_raw (page, "<input id=\"by\" type=\"text\" autocomplete=\"name\"></label>\n<p class=\"actions\">");
  add_button (page, "save", "form_save");
  add_button (page, "as-text", "form_as_text");
  ws_page_raw (page, "</p>\n<p id=\"said\" role=\"status\"></p>\n<div id=\"text-box\" hidden>");
  begin_label (page, "form_text");
  ws_page_raw (page, "<textarea id=\"text\" readonly rows=\"12\" spellcheck=\"false\"></textarea></label>\n");
  add_button (page, "copy", "form_copy");
  ws_page_raw (page, "</div>\n</section>\n");
}

/* --- What the script knows -------------------------------------------------------------------------------------- */

static void
add_words (WsPage *page, JsonBuilder *json, const char *key, const char *kind, GPtrArray *rows)
{
  ws_json_begin_object (json, key);
  for (guint i = 0; i < rows->len; i++)
    {
      /* Views, parts and characters all begin with their id. */
      const char *id = *(const char *const *) g_ptr_array_index (rows, i);

      ws_json_add_text (json, id, ws_page_word (page, kind, id));
    }
  json_builder_end_object (json);
}

static void
add_texts (WsPage *page, JsonBuilder *json)
{
  static const char *const ids[] = { "number", "code", "quick_cannot", "quick_deadly", "quick_phone", "quick_think", "form_open", "form_probable",
                                     "form_sure", "form_seen_on", "form_wishes", "form_remarks", "form_by", "form_saved", "form_copied",
                                     "form_nothing", "form_whole", "form_kept", "photo" };

  ws_json_begin_object (json, "texts");
  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    ws_json_add_text (json, ids[i], ws_page_phrase (page, ids[i]));
  json_builder_end_object (json);
}

static void
add_find (WsPage *page, JsonBuilder *json)
{
  const WsFind *find = page->request->find;
  GPtrArray *parts = ws_knowledge_get_parts (page->knowledge);

  ws_json_begin_object (json, "partViews");
  for (guint i = 0; i < parts->len; i++)
    {
      const WsPart *part = g_ptr_array_index (parts, i);

      ws_json_begin_array (json, part->id);
      for (guint k = 0; part->views[k] != NULL; k++)
        json_builder_add_string_value (json, part->views[k]);
      json_builder_end_array (json);
    }
  json_builder_end_object (json);
  ws_json_begin_object (json, "marks");
  for (guint i = 0; i < find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (find->marks, i);

      ws_json_begin_object (json, mark->id);
      ws_json_add_text (json, "part", mark->part);
      ws_json_add_text (json, "photo", mark->photo_id);
      json_builder_end_object (json);
    }
  json_builder_end_object (json);
}

/* JSON that cannot end the element it stands in, whatever people typed. */
static char *
dup_data (WsPage *page)
{
  const WsRequest *request = page->request;
  g_autoptr (JsonBuilder) json = json_builder_new ();
  g_autoptr (JsonNode) root = NULL;
  g_autofree char *code = ws_request_dup_code (request), *text = NULL;
  GString *safe;

  ws_json_begin_object (json, NULL);
  ws_json_add_text (json, "request", request->id);
  ws_json_add_text (json, "requestSha512", page->extras->json_digest);
  ws_json_add_text (json, "code", code);
  ws_json_add_text (json, "number", request->find->number);
  ws_json_add_text (json, "language", page->language);
  ws_json_add_yes (json, "emergency", request->emergency);
  add_words (page, json, "views", "view", ws_knowledge_get_views (page->knowledge));
  add_words (page, json, "parts", "part", ws_knowledge_get_parts (page->knowledge));
  add_words (page, json, "characters", "character", ws_knowledge_get_characters (page->knowledge));
  add_find (page, json);
  add_texts (page, json);
  json_builder_end_object (json);
  root = json_builder_get_root (json);
  text = json_to_string (root, FALSE);
  safe = g_string_new (text);
  g_string_replace (safe, "<", "\\u003c", 0);
  g_string_replace (safe, "\xe2\x80\xa8", "\\u2028", 0);
  g_string_replace (safe, "\xe2\x80\xa9", "\\u2029", 0);
  return g_string_free (safe, FALSE);
}

GBytes *
ws_page_load_script (void)
{
  g_autoptr (GError) error = NULL;
  GBytes *script = g_resource_lookup_data (ws_page_resources_get_resource (), "/page/wholestem/page/answer.js",
                                           G_RESOURCE_LOOKUP_FLAGS_NONE, &error);

  if (script == NULL)
    g_error ("%s", error->message);
  return script;
}

void
ws_page_add_script (WsPage *page)
{
  g_autofree char *data = NULL;
  g_autoptr (GBytes) script = NULL;
  gsize size;
  const char *text;

  if (page->extras->json_digest == NULL)
    return;
  data = dup_data (page);
  script = ws_page_load_script ();
  text = g_bytes_get_data (script, &size);
  g_string_append_printf (page->html, "<script type=\"application/json\" id=\"data\">%s</script>\n<script>", data);
  g_string_append_len (page->html, text, (gssize) size);
  ws_page_raw (page, "</script>\n");
}

char *
ws_page_dup_script_source (void)
{
  g_autoptr (GBytes) script = ws_page_load_script ();
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  guint8 digest[32];
  gsize size, n = sizeof digest;
  const guchar *data = g_bytes_get_data (script, &size);
  g_autofree char *text = NULL;

  g_checksum_update (sum, data, (gssize) size);
  g_checksum_get_digest (sum, digest, &n);
  text = g_base64_encode (digest, n);
  return g_strdup_printf ("'sha256-%s'", text);
}
