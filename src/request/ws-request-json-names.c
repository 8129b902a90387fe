/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names given before and wishes of a request.json. Of an answer nothing else leaves: neither its words nor who entered
 * it. */
#include "ws-request-json-private.h"

#include "ws-intl.h"
#include "ws-json-build.h"
#include "ws-name-parse.h"

/* --- Writing --------------------------------------------------------------------------------- */

static void
add_parts (WsRequestWriter *writer, const char *verbatim)
{
  g_autoptr (WsNameParts) parts = ws_name_parse (verbatim);

  ws_json_add_text (writer->json, "scientificName", parts->scientific_name);
  ws_json_add_text (writer->json, "identificationQualifier", parts->identification_qualifier);
  ws_json_add_text (writer->json, "taxonRank", parts->taxon_rank);
}

static void
add_name (WsRequestWriter *writer, const WsName *name)
{
  ws_json_begin_object (writer->json, NULL);
  ws_json_add_text (writer->json, "id", name->id);
  ws_json_add_text (writer->json, "verbatim", name->verbatim);
  add_parts (writer, name->verbatim);
  ws_request_json_add_word (writer, "certainty", "certainty", ws_certainty_id (name->certainty));
  ws_json_add_text (writer->json, "by", name->by);
  ws_json_add_text (writer->json, "date", name->date);
  ws_request_json_add_word (writer, "on", "named_on", ws_named_on_id (name->on));
  json_builder_set_member_name (writer->json, "baseShown");
  if (name->base_shown < 0)
    json_builder_add_null_value (writer->json);
  else
    json_builder_add_boolean_value (writer->json, name->base_shown > 0);
  ws_json_add_text (writer->json, "reasons", name->reasons);
  ws_json_add_text (writer->json, "source", ws_name_source_id (name->source));
  ws_json_add_optional (writer->json, "answer", name->answer_id);
  ws_json_add_yes (writer->json, "deadly", name->deadly);
  ws_json_add_optional (writer->json, "withdraws", name->withdraws);
  json_builder_end_object (writer->json);
}

static void
add_wish (WsRequestWriter *writer, const WsAnswer *answer, const WsWish *wish)
{
  ws_json_begin_object (writer->json, NULL);
  ws_json_add_text (writer->json, "answer", answer->id);
  ws_json_add_text (writer->json, "by", answer->by);
  ws_request_json_add_word (writer, "view", "view", wish->view);
  ws_request_json_add_word (writer, "character", "character", wish->character);
  ws_request_json_add_word (writer, "part", "part", wish->part);
  ws_json_add_text (writer->json, "text", wish->text);
  json_builder_end_object (writer->json);
}

void
ws_request_json_add_names (WsRequestWriter *writer)
{
  const WsFind *find = writer->request->find;

  ws_json_begin_array (writer->json, "names");
  for (guint i = 0; i < find->names->len; i++)
    add_name (writer, g_ptr_array_index (find->names, i));
  json_builder_end_array (writer->json);
  ws_json_add_optional (writer->json, "nameInForce", find->name_in_force);
  ws_json_begin_array (writer->json, "wishes");
  for (guint i = 0; i < find->answers->len; i++)
    {
      const WsAnswer *answer = g_ptr_array_index (find->answers, i);

      for (guint w = 0; w < answer->wishes->len; w++)
        add_wish (writer, answer, g_ptr_array_index (answer->wishes, w));
    }
  json_builder_end_array (writer->json);
}

/* --- Reading ---------------------------------------------------------------------------------- */

/* An id that may be null. (transfer full) (nullable) */
static char *
read_optional_id (const WsJsonMembers *in, const char *key)
{
  g_autofree char *id = g_strdup ("");

  ws_json_take_id (in, key, FALSE, &id);
  return *id != '\0' ? g_steal_pointer (&id) : NULL;
}

/* What the name is worth is worked out here from the verbatim text, whatever else stands there. */
static void
read_name (const WsJsonMembers *in, WsFind *find, gint64 made_us)
{
  WsName *name = ws_name_new ();
  const char *source = ws_json_get_text (in, "source", TRUE);

  g_ptr_array_add (find->names, name);
  ws_json_take_id (in, "id", TRUE, &name->id);
  ws_json_take_text (in, "verbatim", &name->verbatim);
  ws_json_take_text (in, "by", &name->by);
  ws_json_take_text (in, "date", &name->date);
  ws_json_take_text (in, "reasons", &name->reasons);
  if (!ws_certainty_parse (ws_json_get_word (in, "certainty", TRUE), &name->certainty))
    ws_json_fault (in, "certainty", _("this word is not known here"));
  if (!ws_named_on_parse (ws_json_get_word (in, "on", TRUE), &name->on))
    ws_json_fault (in, "on", _("this word is not known here"));
  if (!ws_name_source_parse (source, &name->source))
    ws_json_fault (in, "source", _("this word is not known here"));
  if (json_object_has_member (in->object, "baseShown") && !json_object_get_null_member (in->object, "baseShown"))
    name->base_shown = ws_json_get_yes (in, "baseShown");
  if (!ws_name_is_date (name->date))
    ws_json_fault (in, "date", _("this is no date"));
  name->answer_id = read_optional_id (in, "answer");
  name->deadly = ws_json_get_yes (in, "deadly");
  name->withdraws = read_optional_id (in, "withdraws");
  name->created_us = made_us;
  if (name->withdraws != NULL && (*name->verbatim != '\0' || name->deadly))
    ws_json_fault (in, "withdraws", _("what takes a name back says nothing else"));
}

/* The answer that a wish stands in: of it only id and writer are known. */
static WsAnswer *
answer_of (WsFind *find, const char *id, const char *by)
{
  WsAnswer *answer;

  for (guint i = 0; i < find->answers->len; i++)
    if (g_str_equal (((const WsAnswer *) g_ptr_array_index (find->answers, i))->id, id))
      return g_ptr_array_index (find->answers, i);
  answer = ws_answer_new ();
  ws_set_string (&answer->id, id);
  ws_set_string (&answer->by, by);
  g_ptr_array_add (find->answers, answer);
  return answer;
}

static void
read_wish (const WsJsonMembers *in, WsFind *find, gint64 made_us)
{
  g_autofree char *id = g_strdup ("");
  WsWish *wish = ws_wish_new ();

  ws_json_take_id (in, "answer", TRUE, &id);
  g_ptr_array_add (answer_of (find, id, ws_json_get_text (in, "by", TRUE))->wishes, wish);
  ws_set_string (&wish->view, ws_json_get_word (in, "view", FALSE));
  ws_set_string (&wish->character, ws_json_get_word (in, "character", FALSE));
  ws_set_string (&wish->part, ws_json_get_word (in, "part", FALSE));
  ws_json_take_text (in, "text", &wish->text);
}

void
ws_request_json_read_names (const WsJsonMembers *in, WsFind *find, gint64 made_us)
{
  ws_request_json_read_each (in, "names", read_name, find, made_us);
  ws_request_json_read_each (in, "wishes", read_wish, find, made_us);
  find->name_in_force = read_optional_id (in, "nameInForce");
  if (find->name_in_force != NULL && ws_find_get_name (find, find->name_in_force) == NULL)
    ws_json_fault (in, "nameInForce", _("there is no such name"));
}
