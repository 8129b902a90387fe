/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes request.json. What may leave is written member by member: nothing is copied wholesale, and the text
 * that is only the sender's has no member. */
#include "ws-request-json.h"

#include "ws-json-build.h"
#include "ws-moment.h"
#include "ws-request-json-private.h"

#include <math.h>

typedef WsRequestWriter Writer;

void
ws_package_photo_free (WsPackagePhoto *photo)
{
  if (photo == NULL)
    return;
  g_free (photo->name);
  g_free (photo->digest);
  g_clear_pointer (&photo->page_jpeg, g_bytes_unref);
  g_free (photo);
}

gboolean
ws_package_photo_is_reduced (const WsPackagePhoto *sent)
{
  return sent->width < sent->photo->width || sent->height < sent->photo->height;
}

const WsFindPhoto *
ws_package_photo_get_link (const WsPackagePhoto *sent, const WsFind *find)
{
  for (guint i = 0; i < find->photos->len; i++)
    {
      const WsFindPhoto *link = g_ptr_array_index (find->photos, i);

      if (g_str_equal (link->photo->id, sent->photo->id))
        return link;
    }
  return NULL;
}

void
ws_request_json_add_word (WsRequestWriter *writer, const char *key, const char *kind, const char *id)
{
  ws_json_add_word (writer->json, key, id,
                    id != NULL ? ws_knowledge_text (writer->knowledge, writer->language, kind, id) : "");
}

/* --- Place and time --------------------------------------------------------------------------- */

/* Rounded once more, so that nothing finer can slip through; a place already on the grid stays. */
static void
add_place (Writer *writer, const char *key, const WsPosition *place)
{
  static const char *const sources[] = { "none", "photo", "track", "typed" };
  WsTellPlace tell = writer->request->tell_place;

  if (!ws_position_is_known (place) || isnan (ws_tell_place_step (tell)))
    {
      ws_json_add_null (writer->json, key);
      return;
    }
  ws_json_begin_object (writer->json, key);
  ws_json_add_number (writer->json, "latitude", ws_tell_place_round (tell, place->latitude));
  ws_json_add_number (writer->json, "longitude", ws_tell_place_round (tell, place->longitude));
  ws_json_add_number (writer->json, "uncertaintyMetres", place->error_m);
  ws_json_add_number (writer->json, "altitudeMetres", tell == WS_TELL_EXACT ? place->altitude : NAN);
  ws_json_add_text (writer->json, "source", sources[place->source]);
  json_builder_end_object (writer->json);
}

/* Without leave to tell the time of day only the date is written. */
static void
add_moment (Writer *writer, const char *key, const WsMoment *moment)
{
  static const char *const sources[] = { "unknown", "exif", "gps", "told" };
  g_autofree char *date = ws_moment_date (moment), *local = ws_moment_local_text (moment);
  g_autofree char *offset = moment->offset_source != WS_OFFSET_UNKNOWN ? ws_offset_to_text (moment->offset_minutes) : NULL;
  gboolean keep = writer->request->keep_time;

  if (date == NULL)
    {
      ws_json_add_null (writer->json, key);
      return;
    }
  ws_json_begin_object (writer->json, key);
  ws_json_add_text (writer->json, "date", date);
  ws_json_add_optional (writer->json, "local", keep ? local : NULL);
  ws_json_add_optional (writer->json, "offset", keep ? offset : NULL);
  ws_json_add_text (writer->json, "offsetSource", sources[keep ? moment->offset_source : WS_OFFSET_UNKNOWN]);
  ws_json_add_integer (writer->json, "correctionSeconds", keep ? moment->correction_seconds : 0);
  json_builder_end_object (writer->json);
}

/* --- Photos, marks, notes ------------------------------------------------------------------------ */

static gboolean
is_covered (const WsFind *find, const char *photo_id)
{
  for (guint i = 0; i < find->covers->len; i++)
    if (g_str_equal (((WsCover *) g_ptr_array_index (find->covers, i))->photo_id, photo_id))
      return TRUE;
  return FALSE;
}

static void
add_photo (Writer *writer, const WsPackagePhoto *sent)
{
  const WsFind *find = writer->request->find;
  const WsFindPhoto *link = ws_package_photo_get_link (sent, find);
  gboolean camera = writer->request->keep_camera;
  WsPosition nowhere = ws_position_none ();

  ws_json_begin_object (writer->json, NULL);
  ws_json_add_text (writer->json, "id", sent->photo->id);
  ws_json_add_text (writer->json, "name", sent->name);
  ws_json_add_text (writer->json, "sha512", sent->digest);
  ws_json_add_text (writer->json, "mediaType", "image/jpeg");
  ws_json_add_integer (writer->json, "width", sent->width);
  ws_json_add_integer (writer->json, "height", sent->height);
  ws_json_add_integer (writer->json, "originalWidth", sent->photo->width);
  ws_json_add_integer (writer->json, "originalHeight", sent->photo->height);
  add_moment (writer, "taken", &sent->photo->taken);
  /* Several rounded places would outline the true one. */
  add_place (writer, "place", writer->request->tell_place == WS_TELL_EXACT ? &sent->photo->position : &nowhere);
  ws_json_add_optional (writer->json, "make", camera ? sent->photo->make : NULL);
  ws_json_add_optional (writer->json, "model", camera ? sent->photo->model : NULL);
  ws_json_add_text (writer->json, "specimen", link != NULL ? link->specimen : "");
  ws_json_add_text (writer->json, "visit", link != NULL ? link->visit : "");
  ws_json_add_yes (writer->json, "covered", is_covered (find, sent->photo->id));
  json_builder_end_object (writer->json);
}

static void
add_shape (Writer *writer, const WsShape *shape)
{
  static const char *const kinds[] = { "box", "oval", "outline" };

  ws_json_begin_object (writer->json, "shape");
  ws_json_add_text (writer->json, "kind", kinds[shape->kind]);
  ws_json_add_number (writer->json, "x", shape->bounds.x);
  ws_json_add_number (writer->json, "y", shape->bounds.y);
  ws_json_add_number (writer->json, "width", shape->bounds.width);
  ws_json_add_number (writer->json, "height", shape->bounds.height);
  if (shape->kind == WS_SHAPE_OUTLINE)
    {
      ws_json_begin_array (writer->json, "points");
      for (guint i = 0; i < shape->n_points; i++)
        {
          json_builder_begin_array (writer->json);
          json_builder_add_double_value (writer->json, shape->points[i].x);
          json_builder_add_double_value (writer->json, shape->points[i].y);
          json_builder_end_array (writer->json);
        }
      json_builder_end_array (writer->json);
    }
  json_builder_end_object (writer->json);
}

static void
add_clarity (Writer *writer, const WsMark *mark)
{
  const WsMeasure *measure = &mark->measure;
  g_autofree char *reason = NULL;
  WsClarity clarity = ws_clarity_judge (mark, writer->knowledge, writer->language, &reason);

  ws_request_json_add_word (writer, "clarity", "clarity", ws_clarity_id (clarity));
  ws_json_add_optional (writer->json, "clarityReason", reason);
  if (!measure->measured)
    {
      ws_json_add_null (writer->json, "measure");
      return;
    }
  ws_json_begin_object (writer->json, "measure");
  ws_json_add_integer (writer->json, "widthPx", measure->width_px);
  ws_json_add_integer (writer->json, "heightPx", measure->height_px);
  ws_json_add_number (writer->json, "blurSigma", measure->blur_sigma);
  ws_json_add_number (writer->json, "burntOut", measure->burnt_out);
  ws_json_add_number (writer->json, "blockedUp", measure->blocked_up);
  ws_json_add_number (writer->json, "mmPerPixel", measure->mm_per_pixel);
  ws_json_add_integer (writer->json, "method", measure->method);
  json_builder_end_object (writer->json);
}

static void
add_mark (Writer *writer, const WsMark *mark)
{
  g_autofree char *letter = ws_find_dup_mark_letter (writer->request->find, mark);

  ws_json_begin_object (writer->json, NULL);
  ws_json_add_text (writer->json, "id", mark->id);
  ws_json_add_text (writer->json, "letter", letter);
  ws_json_add_text (writer->json, "photo", mark->photo_id);
  ws_request_json_add_word (writer, "part", "part", mark->part);
  ws_json_begin_array (writer->json, "views");
  for (guint i = 0; mark->views != NULL && mark->views[i] != NULL; i++)
    ws_request_json_add_word (writer, NULL, "view", mark->views[i]);
  json_builder_end_array (writer->json);
  add_shape (writer, mark->shape);
  ws_json_add_yes (writer->json, "wholePhoto", mark->whole_photo);
  ws_json_add_text (writer->json, "specimen", mark->specimen);
  ws_request_json_add_word (writer, "baseKind", "base_kind", mark->base_kind);
  ws_json_add_text (writer->json, "remark", mark->remark);
  add_clarity (writer, mark);
  json_builder_end_object (writer->json);
}

/* A free text has no id. */
static void
add_state (Writer *writer, const WsNote *note, const char *state)
{
  const WsCharacter *character = ws_knowledge_find_character (writer->knowledge, note->character);

  ws_json_begin_object (writer->json, NULL);
  if (character != NULL && !character->free_text)
    {
      ws_json_add_text (writer->json, "id", state);
      ws_json_add_text (writer->json, "text",
                        ws_knowledge_state_text (writer->knowledge, writer->language, note->character, state));
    }
  else
    {
      ws_json_add_null (writer->json, "id");
      ws_json_add_text (writer->json, "text", state);
    }
  json_builder_end_object (writer->json);
}

static gboolean
is_mark_sent (const Writer *writer, const char *mark_id)
{
  return mark_id != NULL && ws_find_get_mark (writer->request->find, mark_id) != NULL;
}

static void
add_note (Writer *writer, const WsNote *note)
{
  ws_json_begin_object (writer->json, NULL);
  ws_json_add_text (writer->json, "id", note->id);
  ws_request_json_add_word (writer, "character", "character", note->character);
  ws_json_begin_array (writer->json, "states");
  for (guint i = 0; note->states != NULL && note->states[i] != NULL; i++)
    add_state (writer, note, note->states[i]);
  json_builder_end_array (writer->json);
  ws_json_add_yes (writer->json, "sure", note->sure && !note->off_photo);
  ws_json_add_yes (writer->json, "offPhoto", note->off_photo);
  ws_json_add_text (writer->json, "specimen", note->specimen);
  ws_json_add_text (writer->json, "observer", note->observer);
  ws_json_add_optional (writer->json, "mark", is_mark_sent (writer, note->mark_id) ? note->mark_id : NULL);
  ws_request_json_add_word (writer, "observed", "observed", ws_observed_id (note->observed));
  ws_json_add_number (writer->json, "minutes", note->minutes);
  ws_json_add_text (writer->json, "text", note->text);
  ws_json_begin_array (writer->json, "answers");
  for (guint i = 0; note->answers[i] != NULL; i++)
    ws_request_json_add_word (writer, NULL, "question", note->answers[i]);
  json_builder_end_array (writer->json);
  json_builder_end_object (writer->json);
}

static void
add_evidence (Writer *writer)
{
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (writer->request->find, writer->knowledge, writer->language);

  ws_json_begin_object (writer->json, "evidence");
  json_builder_set_member_name (writer->json, "baseShown");
  if (evidence->base_shown < 0)
    json_builder_add_null_value (writer->json);
  else
    json_builder_add_boolean_value (writer->json, evidence->base_shown > 0);
  ws_json_begin_array (writer->json, "lines");
  for (guint i = 0; i < evidence->lines->len; i++)
    {
      const WsEvidenceLine *line = g_ptr_array_index (evidence->lines, i);

      ws_json_begin_object (writer->json, NULL);
      ws_request_json_add_word (writer, "view", "view", line->view->id);
      ws_request_json_add_word (writer, "need", "need", ws_need_id (line->need));
      ws_request_json_add_word (writer, "state", "evidence_state", ws_evidence_state_id (line->state));
      ws_json_add_optional (writer->json, "reason", line->reason);
      ws_json_add_optional (writer->json, "detail", line->detail);
      ws_json_add_optional (writer->json, "excuse", line->excuse);
      ws_json_begin_array (writer->json, "marks");
      for (guint j = 0; j < line->marks->len; j++)
        json_builder_add_string_value (writer->json, ((WsMark *) g_ptr_array_index (line->marks, j))->id);
      json_builder_end_array (writer->json);
      json_builder_end_object (writer->json);
    }
  json_builder_end_array (writer->json);
  json_builder_end_object (writer->json);
}

/* --- The whole -------------------------------------------------------------------------------------- */

static void
add_find (Writer *writer)
{
  const WsFind *find = writer->request->find;
  const char *form = ws_find_get_growth_form (find);

  ws_json_begin_object (writer->json, "find");
  ws_json_add_text (writer->json, "id", find->id);
  ws_json_add_text (writer->json, "number", find->number);
  add_moment (writer, "when", &find->when);
  add_place (writer, "place", &writer->request->place);
  ws_json_add_text (writer->json, "locality",
                    ws_tell_place_has_locality (writer->request->tell_place) ? find->locality : "");
  ws_json_add_text (writer->json, "remarks", find->remarks);
  ws_request_json_add_word (writer, "specimen", "specimen_is", ws_specimen_is_id (find->specimen_is));
  ws_request_json_add_word (writer, "growthForm", "growth_form", form);
  add_evidence (writer);
  ws_json_begin_array (writer->json, "notes");
  for (guint i = 0; i < find->notes->len; i++)
    add_note (writer, g_ptr_array_index (find->notes, i));
  json_builder_end_array (writer->json);
  ws_json_begin_array (writer->json, "marks");
  for (guint i = 0; i < find->marks->len; i++)
    add_mark (writer, g_ptr_array_index (find->marks, i));
  json_builder_end_array (writer->json);
  ws_json_begin_array (writer->json, "photos");
  for (guint i = 0; i < writer->photos->len; i++)
    add_photo (writer, g_ptr_array_index (writer->photos, i));
  json_builder_end_array (writer->json);
  ws_request_json_add_sizes (writer);
  ws_request_json_add_names (writer);
  /* Last, so that who reads from the top has looked first. */
  ws_json_add_text (writer->json, "sendersGuess", find->field_name);
  json_builder_end_object (writer->json);
}

static void
add_cautions (Writer *writer)
{
  static const char *const ids[] = { "photos_never", "doubt", "poison", "touch", "law", NULL };

  ws_json_begin_array (writer->json, "cautions");
  for (guint i = 0; ids[i] != NULL; i++)
    ws_request_json_add_word (writer, NULL, "caution", ids[i]);
  json_builder_end_array (writer->json);
}

static void
add_request (Writer *writer)
{
  const WsRequest *request = writer->request;
  g_autoptr (GDateTime) epoch = g_date_time_new_from_unix_utc (request->made_us / G_USEC_PER_SEC);
  g_autofree char *made = epoch != NULL ? g_date_time_format (epoch, "%Y-%m-%dT%H:%M:%SZ") : NULL;

  ws_json_begin_object (writer->json, NULL);
  ws_json_add_text (writer->json, "format", WS_REQUEST_FORMAT);
  ws_json_add_text (writer->json, "id", request->id);
  ws_json_add_optional (writer->json, "replaces", request->replaces);
  ws_json_add_optional (writer->json, "made", made);
  ws_json_add_text (writer->json, "language", request->language);
  ws_json_add_yes (writer->json, "emergency", request->emergency);
  ws_json_add_text (writer->json, "callBack", request->call_back);
  ws_json_add_text (writer->json, "withoutBase", request->without_base);
  add_cautions (writer);
  ws_json_add_text (writer->json, "from", request->from);
  ws_json_add_text (writer->json, "to", request->to);
  ws_json_add_text (writer->json, "question", request->question);
  ws_json_add_text (writer->json, "askedElsewhere", request->asked_elsewhere);
  ws_json_add_text (writer->json, "tellPlace", ws_tell_place_id (request->tell_place));
  ws_json_add_text (writer->json, "region", request->tell_place == WS_TELL_REGION ? request->region : "");
  ws_json_add_yes (writer->json, "keepTime", request->keep_time);
  ws_json_add_yes (writer->json, "keepCamera", request->keep_camera);
  ws_json_add_text (writer->json, "knowledgeDigest", request->knowledge_digest);
  add_find (writer);
  json_builder_end_object (writer->json);
}

GBytes *
ws_request_to_json (const WsRequest *request, GPtrArray *photos, const WsKnowledge *knowledge)
{
  g_autoptr (JsonBuilder) json = json_builder_new ();
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autoptr (JsonNode) root = NULL;
  Writer writer = { json, request, knowledge, request->language, photos };
  char *text;
  gsize size;

  add_request (&writer);
  root = json_builder_get_root (json);
  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, TRUE);
  json_generator_set_indent (generator, 1);
  text = json_generator_to_data (generator, &size);
  return g_bytes_new_take (text, size);
}
