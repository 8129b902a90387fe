/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-answer-json.h"

#include "ws-error.h"
#include "ws-intl.h"
#include "ws-json-build.h"
#include "ws-json-members.h"

#include <string.h>

/* --- Writing ------------------------------------------------------------------------------------------- */

typedef struct { JsonBuilder *json; const WsKnowledge *knowledge; const char *language; } Writer;

static void
add_word (Writer *writer, const char *key, const char *kind, const char *id)
{
  ws_json_add_word (writer->json, key, id,
                    ws_knowledge_text (writer->knowledge, writer->language, kind, id));
}

static void
add_opinion (Writer *writer, const WsOpinion *opinion)
{
  ws_json_begin_object (writer->json, NULL);
  ws_json_add_text (writer->json, "name", opinion->name);
  ws_json_add_text (writer->json, "certainty", ws_certainty_id (opinion->certainty));
  ws_json_add_text (writer->json, "on", ws_named_on_id (opinion->on));
  ws_json_begin_array (writer->json, "reasons");
  for (guint i = 0; i < opinion->reasons->len; i++)
    {
      const WsReason *reason = g_ptr_array_index (opinion->reasons, i);

      ws_json_begin_object (writer->json, NULL);
      ws_json_add_text (writer->json, "text", reason->text);
      ws_json_add_optional (writer->json, "photo", reason->photo_id);
      ws_json_add_null (writer->json, "mark");
      add_word (writer, "part", "part", reason->part);
      json_builder_end_object (writer->json);
    }
  json_builder_end_array (writer->json);
  json_builder_end_object (writer->json);
}

static void
add_wish (Writer *writer, const WsWish *wish)
{
  ws_json_begin_object (writer->json, NULL);
  add_word (writer, "view", "view", wish->view);
  add_word (writer, "character", "character", wish->character);
  add_word (writer, "part", "part", wish->part);
  ws_json_add_text (writer->json, "text", wish->text);
  json_builder_end_object (writer->json);
}

static void
add_lists (Writer *writer, const WsAnswer *answer)
{
  ws_json_begin_array (writer->json, "opinions");
  for (guint i = 0; i < answer->opinions->len; i++)
    add_opinion (writer, g_ptr_array_index (answer->opinions, i));
  json_builder_end_array (writer->json);
  ws_json_add_yes (writer->json, "cannotName", answer->cannot_name);
  ws_json_add_yes (writer->json, "deadly", answer->deadly);
  ws_json_add_yes (writer->json, "phonePoisonService", answer->phone_poison_service);
  ws_json_begin_array (writer->json, "wishes");
  for (guint i = 0; i < answer->wishes->len; i++)
    add_wish (writer, g_ptr_array_index (answer->wishes, i));
  json_builder_end_array (writer->json);
}

GBytes *
ws_answer_to_json (const WsAnswer *answer, const WsKnowledge *knowledge)
{
  g_autoptr (JsonBuilder) json = json_builder_new ();
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autoptr (JsonNode) root = NULL;
  g_autoptr (GDateTime) time = g_date_time_new_from_unix_utc (answer->made_us / G_USEC_PER_SEC);
  g_autofree char *made = time != NULL ? g_date_time_format (time, "%Y-%m-%dT%H:%M:%SZ") : NULL;
  Writer writer = { json, knowledge, *answer->language != '\0' ? answer->language : "en" };
  char *text;
  gsize size;

  ws_json_begin_object (json, NULL);
  ws_json_add_text (json, "format", WS_ANSWER_FORMAT);
  ws_json_add_text (json, "kind", "answer");
  ws_json_add_text (json, "id", answer->id);
  ws_json_add_optional (json, "replaces", answer->replaces);
  ws_json_add_text (json, "request", answer->request_id);
  ws_json_add_text (json, "requestSha512", answer->request_digest);
  ws_json_add_text (json, "made", made);
  ws_json_add_text (json, "language", writer.language);
  ws_json_add_text (json, "by", answer->by);
  add_lists (&writer, answer);
  ws_json_add_text (json, "remarks", answer->remarks);
  json_builder_end_object (json);
  root = json_builder_get_root (json);
  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, TRUE);
  json_generator_set_indent (generator, 1);
  text = json_generator_to_data (generator, &size);
  return g_bytes_new_take (text, size);
}

/* --- Reading ------------------------------------------------------------------------------------------- */

/* An array of at most WS_ANSWER_MAX_ITEMS; NULL after a fault. */
static JsonArray *
get_items (const WsJsonMembers *in, const char *key)
{
  JsonArray *array = ws_json_get_array (in, key, TRUE);

  if (array == NULL || json_array_get_length (array) <= WS_ANSWER_MAX_ITEMS)
    return array;
  ws_json_fault (in, key, _("there are more of them than anybody writes"));
  return NULL;
}

static WsReason *
read_reason (const WsJsonMembers *in)
{
  WsReason *reason = ws_reason_new ();
  g_autofree char *photo = g_strdup ("");

  ws_json_take_text (in, "text", &reason->text);
  ws_json_take_id (in, "photo", FALSE, &photo);
  if (*photo != '\0')
    reason->photo_id = g_steal_pointer (&photo);
  ws_set_string (&reason->part, ws_json_get_word (in, "part", FALSE));
  return reason;
}

static WsOpinion *
read_opinion (const WsJsonMembers *in)
{
  WsOpinion *opinion = ws_opinion_new ();
  JsonArray *reasons = get_items (in, "reasons");

  ws_json_take_text (in, "name", &opinion->name);
  g_strstrip (opinion->name);
  if (*opinion->name == '\0')
    ws_json_fault (in, "name", _("an opinion must have a name"));
  if (!ws_certainty_parse (ws_json_get_text (in, "certainty", TRUE), &opinion->certainty))
    ws_json_fault (in, "certainty", _("this word is not known here"));
  if (!ws_named_on_parse (ws_json_get_text (in, "on", TRUE), &opinion->on))
    ws_json_fault (in, "on", _("this word is not known here"));
  for (guint i = 0; reasons != NULL && i < json_array_get_length (reasons); i++)
    {
      g_autofree char *place = g_strdup_printf ("%s.reasons[%u]", in->place, i);
      WsJsonMembers reason;

      if (ws_json_get_element (in, reasons, i, place, &reason))
        g_ptr_array_add (opinion->reasons, read_reason (&reason));
    }
  return opinion;
}

static WsWish *
read_wish (const WsJsonMembers *in)
{
  WsWish *wish = ws_wish_new ();

  ws_set_string (&wish->view, ws_json_get_word (in, "view", FALSE));
  ws_set_string (&wish->character, ws_json_get_word (in, "character", FALSE));
  ws_set_string (&wish->part, ws_json_get_word (in, "part", FALSE));
  ws_json_take_text (in, "text", &wish->text);
  if (*wish->view == '\0' && *wish->character == '\0' && *wish->part == '\0' && *wish->text == '\0')
    ws_json_fault (in, NULL, _("a wish must ask for something"));
  return wish;
}

static void
read_lists (const WsJsonMembers *in, WsAnswer *answer)
{
  static const char *const keys[] = { "opinions", "wishes" };

  for (guint k = 0; k < G_N_ELEMENTS (keys); k++)
    {
      JsonArray *items = get_items (in, keys[k]);

      for (guint i = 0; items != NULL && i < json_array_get_length (items); i++)
        {
          g_autofree char *place = g_strdup_printf ("%s[%u]", keys[k], i);
          WsJsonMembers item;

          if (!ws_json_get_element (in, items, i, place, &item))
            continue;
          if (k == 0)
            g_ptr_array_add (answer->opinions, read_opinion (&item));
          else
            g_ptr_array_add (answer->wishes, read_wish (&item));
        }
    }
}

static gboolean
is_digest (const char *text)
{
  return strlen (text) == 128 && strspn (text, "0123456789abcdef") == 128;
}

static void
read_answer (const WsJsonMembers *in, WsAnswer *answer)
{
  const char *made = ws_json_get_text (in, "made", TRUE);
  g_autoptr (GDateTime) time = g_str_has_suffix (made, "Z") ? g_date_time_new_from_iso8601 (made, NULL) : NULL;
  g_autofree char *replaces = g_strdup ("");

  answer->kind = WS_ANSWER_FILE;
  ws_json_take_id (in, "id", TRUE, &answer->id);
  ws_json_take_id (in, "replaces", FALSE, &replaces);
  if (*replaces != '\0')
    answer->replaces = g_steal_pointer (&replaces);
  ws_json_take_id (in, "request", TRUE, &answer->request_id);
  ws_json_take_text (in, "requestSha512", &answer->request_digest);
  if (!is_digest (answer->request_digest))
    ws_json_fault (in, "requestSha512", _("this must be a SHA-512 in hexadecimal"));
  if (time != NULL)
    answer->made_us = g_date_time_to_unix (time) * G_USEC_PER_SEC;
  else if (*made != '\0')
    ws_json_fault (in, "made", _("this is no time in UTC"));
  ws_json_take_text (in, "language", &answer->language);
  if (!ws_json_is_word (answer->language))
    ws_json_fault (in, "language", _("this must be a language code"));
  ws_json_take_text (in, "by", &answer->by);
  answer->cannot_name = ws_json_get_yes (in, "cannotName");
  answer->deadly = ws_json_get_yes (in, "deadly");
  answer->phone_poison_service = ws_json_get_yes (in, "phonePoisonService");
  ws_json_take_text (in, "remarks", &answer->remarks);
  read_lists (in, answer);
}

/* FALSE with an error for what is no answer, and for a newer format; other faults go into the list. */
static gboolean
check_kind (const WsJsonMembers *in, GError **error)
{
  const char *format, *dot;
  guint64 major;

  if (!g_str_equal (ws_json_get_text (in, "kind", FALSE), "answer"))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("This is no answer to a request"));
      return FALSE;
    }
  format = ws_json_get_text (in, "format", TRUE);
  major = g_ascii_strtoull (format, NULL, 10);
  dot = strchr (format, '.');
  if (dot == NULL || dot == format || strspn (format, "0123456789.") != strlen (format) || strchr (dot + 1, '.') != NULL || dot[1] == '\0')
    ws_json_fault (in, "format", _("this must be a number like 0.1"));
  else if (major > WS_ANSWER_FORMAT_MAJOR)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_NEWER_FORMAT,
                   _("The answer was written by a newer program (format %s; this one reads %s). Update the program to read it."),
                   format, WS_ANSWER_FORMAT);
      return FALSE;
    }
  return TRUE;
}

static GError *
too_large (void)
{
  return g_error_new (WS_ERROR, WS_ERROR_TOO_LARGE, _("The answer is larger than the limit of %d bytes"), WS_ANSWER_MAX_BYTES);
}

WsAnswer *
ws_answer_from_json (GBytes *bytes, GPtrArray *faults, GError **error)
{
  g_autoptr (GPtrArray) own = faults != NULL ? g_ptr_array_ref (faults) : g_ptr_array_new_with_free_func (g_free);
  g_autoptr (WsAnswer) answer = ws_answer_new ();
  g_autoptr (JsonNode) root = NULL;
  WsJsonMembers in = { NULL, "", own };
  guint before = own->len;

  if (g_bytes_get_size (bytes) > WS_ANSWER_MAX_BYTES)
    {
      g_propagate_error (error, too_large ());
      return NULL;
    }
  in.object = ws_json_parse (bytes, &root, error);
  if (in.object == NULL || !check_kind (&in, error))
    return NULL;
  read_answer (&in, answer);
  if (own->len == before)
    return g_steal_pointer (&answer);
  g_set_error (error, WS_ERROR, WS_ERROR_INVALID, _("The answer is not valid: %s"), (char *) g_ptr_array_index (own, before));
  return NULL;
}
