/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes request.json. What may leave is written member by member: nothing is copied wholesale, and the text
 * that is only the sender's has no member. */
#include "ws-request-json.h"

#include "ws-moment.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

typedef struct
{
  JsonBuilder *json;
  const WsRequest *request;
  const WsKnowledge *knowledge;
  const char *language;
  GPtrArray *photos;  /* WsPackagePhoto */
} Writer;

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

/* --- Members -------------------------------------------------------------------------------- */

/* Valid UTF-8 without control characters, some of which json-glib writes as they are. (transfer full) */
static char *
clean (const char *text)
{
  char *valid = g_utf8_make_valid (text != NULL ? text : "", -1);

  for (char *at = valid; *at != '\0'; at++)
    if (((guchar) *at < 0x20 && *at != '\n' && *at != '\t') || *at == 0x7f)
      *at = ' ';
  return valid;
}

static void
add_text (Writer *writer, const char *key, const char *text)
{
  g_autofree char *plain = clean (text);

  json_builder_set_member_name (writer->json, key);
  json_builder_add_string_value (writer->json, plain);
}

/* @key NULL: an element of an array. */
static void
add_null (Writer *writer, const char *key)
{
  if (key != NULL)
    json_builder_set_member_name (writer->json, key);
  json_builder_add_null_value (writer->json);
}

/* NULL and "" become null. */
static void
add_optional (Writer *writer, const char *key, const char *text)
{
  if (text != NULL && *text != '\0')
    add_text (writer, key, text);
  else
    add_null (writer, key);
}

/* NAN becomes null. */
static void
add_number (Writer *writer, const char *key, double number)
{
  json_builder_set_member_name (writer->json, key);
  if (isfinite (number))
    json_builder_add_double_value (writer->json, number);
  else
    json_builder_add_null_value (writer->json);
}

static void
add_integer (Writer *writer, const char *key, gint64 number)
{
  json_builder_set_member_name (writer->json, key);
  json_builder_add_int_value (writer->json, number);
}

static void
add_yes (Writer *writer, const char *key, gboolean yes)
{
  json_builder_set_member_name (writer->json, key);
  json_builder_add_boolean_value (writer->json, yes);
}

static void
begin_object (Writer *writer, const char *key)
{
  if (key != NULL)
    json_builder_set_member_name (writer->json, key);
  json_builder_begin_object (writer->json);
}

static void
begin_array (Writer *writer, const char *key)
{
  json_builder_set_member_name (writer->json, key);
  json_builder_begin_array (writer->json);
}

/* An id with its text: {"id": …, "text": …}; null without an id. */
static void
add_word (Writer *writer, const char *key, const char *kind, const char *id)
{
  if (id == NULL || *id == '\0')
    {
      add_null (writer, key);
      return;
    }
  begin_object (writer, key);
  add_text (writer, "id", id);
  add_text (writer, "text", ws_knowledge_text (writer->knowledge, writer->language, kind, id));
  json_builder_end_object (writer->json);
}

/* --- Place and time --------------------------------------------------------------------------- */

/* Rounded once more, so that nothing finer can slip through; a place already on the grid stays. */
static double
told_degrees (const Writer *writer, double degrees)
{
  return writer->request->tell_place == WS_TELL_EXACT ? degrees : round (degrees * 100.0) / 100.0;
}

static void
add_place (Writer *writer, const char *key, const WsPosition *place)
{
  static const char *const sources[] = { "none", "photo", "track", "typed" };
  gboolean exact = writer->request->tell_place == WS_TELL_EXACT;

  if (!ws_position_is_known (place) || writer->request->tell_place == WS_TELL_WITHHELD)
    {
      add_null (writer, key);
      return;
    }
  begin_object (writer, key);
  add_number (writer, "latitude", told_degrees (writer, place->latitude));
  add_number (writer, "longitude", told_degrees (writer, place->longitude));
  add_number (writer, "uncertaintyMetres", place->error_m);
  add_number (writer, "altitudeMetres", exact ? place->altitude : NAN);
  add_text (writer, "source", sources[place->source]);
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
      add_null (writer, key);
      return;
    }
  begin_object (writer, key);
  add_text (writer, "date", date);
  add_optional (writer, "local", keep ? local : NULL);
  add_optional (writer, "offset", keep ? offset : NULL);
  add_text (writer, "offsetSource", sources[keep ? moment->offset_source : WS_OFFSET_UNKNOWN]);
  add_integer (writer, "correctionSeconds", keep ? moment->correction_seconds : 0);
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

  begin_object (writer, NULL);
  add_text (writer, "id", sent->photo->id);
  add_text (writer, "name", sent->name);
  add_text (writer, "sha512", sent->digest);
  add_text (writer, "mediaType", "image/jpeg");
  add_integer (writer, "width", sent->width);
  add_integer (writer, "height", sent->height);
  add_moment (writer, "taken", &sent->photo->taken);
  /* Several rounded places would outline the true one. */
  add_place (writer, "place", writer->request->tell_place == WS_TELL_EXACT ? &sent->photo->position : &nowhere);
  add_optional (writer, "make", camera ? sent->photo->make : NULL);
  add_optional (writer, "model", camera ? sent->photo->model : NULL);
  add_text (writer, "specimen", link != NULL ? link->specimen : "");
  add_text (writer, "visit", link != NULL ? link->visit : "");
  add_yes (writer, "covered", is_covered (find, sent->photo->id));
  json_builder_end_object (writer->json);
}

static void
add_shape (Writer *writer, const WsShape *shape)
{
  static const char *const kinds[] = { "box", "oval", "outline" };

  begin_object (writer, "shape");
  add_text (writer, "kind", kinds[shape->kind]);
  add_number (writer, "x", shape->bounds.x);
  add_number (writer, "y", shape->bounds.y);
  add_number (writer, "width", shape->bounds.width);
  add_number (writer, "height", shape->bounds.height);
  if (shape->kind == WS_SHAPE_OUTLINE)
    {
      begin_array (writer, "points");
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

  add_word (writer, "clarity", "clarity", ws_clarity_id (clarity));
  add_optional (writer, "clarityReason", reason);
  if (!measure->measured)
    {
      add_null (writer, "measure");
      return;
    }
  begin_object (writer, "measure");
  add_integer (writer, "widthPx", measure->width_px);
  add_integer (writer, "heightPx", measure->height_px);
  add_number (writer, "blurSigma", measure->blur_sigma);
  add_number (writer, "burntOut", measure->burnt_out);
  add_number (writer, "blockedUp", measure->blocked_up);
  add_number (writer, "mmPerPixel", measure->mm_per_pixel);
  add_integer (writer, "method", measure->method);
  json_builder_end_object (writer->json);
}

static void
add_mark (Writer *writer, const WsMark *mark)
{
  g_autofree char *letter = ws_find_dup_mark_letter (writer->request->find, mark);

  begin_object (writer, NULL);
  add_text (writer, "id", mark->id);
  add_text (writer, "letter", letter);
  add_text (writer, "photo", mark->photo_id);
  add_word (writer, "part", "part", mark->part);
  begin_array (writer, "views");
  for (guint i = 0; mark->views != NULL && mark->views[i] != NULL; i++)
    add_word (writer, NULL, "view", mark->views[i]);
  json_builder_end_array (writer->json);
  add_shape (writer, mark->shape);
  add_yes (writer, "wholePhoto", mark->whole_photo);
  add_text (writer, "specimen", mark->specimen);
  add_word (writer, "baseKind", "base_kind", mark->base_kind);
  add_text (writer, "remark", mark->remark);
  add_clarity (writer, mark);
  json_builder_end_object (writer->json);
}

/* A free text has no id. */
static void
add_state (Writer *writer, const WsNote *note, const char *state)
{
  const WsCharacter *character = ws_knowledge_find_character (writer->knowledge, note->character);

  begin_object (writer, NULL);
  if (character != NULL && !character->free_text)
    {
      add_text (writer, "id", state);
      add_text (writer, "text", ws_knowledge_state_text (writer->knowledge, writer->language, note->character, state));
    }
  else
    {
      add_null (writer, "id");
      add_text (writer, "text", state);
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
  begin_object (writer, NULL);
  add_text (writer, "id", note->id);
  add_word (writer, "character", "character", note->character);
  begin_array (writer, "states");
  for (guint i = 0; note->states != NULL && note->states[i] != NULL; i++)
    add_state (writer, note, note->states[i]);
  json_builder_end_array (writer->json);
  add_yes (writer, "sure", note->sure && !note->off_photo);
  add_yes (writer, "offPhoto", note->off_photo);
  add_text (writer, "specimen", note->specimen);
  add_text (writer, "observer", note->observer);
  add_optional (writer, "mark", is_mark_sent (writer, note->mark_id) ? note->mark_id : NULL);
  json_builder_end_object (writer->json);
}

static void
add_evidence (Writer *writer)
{
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (writer->request->find, writer->knowledge, writer->language);

  begin_object (writer, "evidence");
  json_builder_set_member_name (writer->json, "baseShown");
  if (evidence->base_shown < 0)
    json_builder_add_null_value (writer->json);
  else
    json_builder_add_boolean_value (writer->json, evidence->base_shown > 0);
  begin_array (writer, "lines");
  for (guint i = 0; i < evidence->lines->len; i++)
    {
      const WsEvidenceLine *line = g_ptr_array_index (evidence->lines, i);

      begin_object (writer, NULL);
      add_word (writer, "view", "view", line->view->id);
      add_word (writer, "need", "need", ws_need_id (line->need));
      add_word (writer, "state", "evidence_state", ws_evidence_state_id (line->state));
      add_optional (writer, "reason", line->reason);
      add_optional (writer, "detail", line->detail);
      add_optional (writer, "excuse", line->excuse);
      begin_array (writer, "marks");
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

  begin_object (writer, "find");
  add_text (writer, "id", find->id);
  add_text (writer, "number", find->number);
  add_moment (writer, "when", &find->when);
  add_place (writer, "place", &writer->request->place);
  add_text (writer, "locality", writer->request->tell_place != WS_TELL_WITHHELD ? find->locality : "");
  add_text (writer, "remarks", find->remarks);
  add_word (writer, "specimen", "specimen_is", ws_specimen_is_id (find->specimen_is));
  add_word (writer, "growthForm", "growth_form", form);
  add_evidence (writer);
  begin_array (writer, "notes");
  for (guint i = 0; i < find->notes->len; i++)
    add_note (writer, g_ptr_array_index (find->notes, i));
  json_builder_end_array (writer->json);
  begin_array (writer, "marks");
  for (guint i = 0; i < find->marks->len; i++)
    add_mark (writer, g_ptr_array_index (find->marks, i));
  json_builder_end_array (writer->json);
  begin_array (writer, "photos");
  for (guint i = 0; i < writer->photos->len; i++)
    add_photo (writer, g_ptr_array_index (writer->photos, i));
  json_builder_end_array (writer->json);
  /* Last, so that who reads from the top has looked first. */
  add_text (writer, "sendersGuess", find->field_name);
  json_builder_end_object (writer->json);
}

static void
add_cautions (Writer *writer)
{
  static const char *const ids[] = { "photos_never", "doubt", "poison", "touch", "law", NULL };

  begin_array (writer, "cautions");
  for (guint i = 0; ids[i] != NULL; i++)
    add_word (writer, NULL, "caution", ids[i]);
  json_builder_end_array (writer->json);
}

static void
add_request (Writer *writer)
{
  const WsRequest *request = writer->request;
  g_autoptr (GDateTime) epoch = g_date_time_new_from_unix_utc (request->made_us / G_USEC_PER_SEC);
  g_autofree char *made = epoch != NULL ? g_date_time_format (epoch, "%Y-%m-%dT%H:%M:%SZ") : NULL;

  begin_object (writer, NULL);
  add_text (writer, "format", WS_REQUEST_FORMAT);
  add_text (writer, "id", request->id);
  add_optional (writer, "replaces", request->replaces);
  add_optional (writer, "made", made);
  add_text (writer, "language", request->language);
  add_yes (writer, "emergency", request->emergency);
  add_text (writer, "callBack", request->call_back);
  add_text (writer, "withoutBase", request->without_base);
  add_cautions (writer);
  add_text (writer, "from", request->from);
  add_text (writer, "to", request->to);
  add_text (writer, "question", request->question);
  add_text (writer, "askedElsewhere", request->asked_elsewhere);
  add_text (writer, "tellPlace", ws_tell_place_id (request->tell_place));
  add_yes (writer, "keepTime", request->keep_time);
  add_yes (writer, "keepCamera", request->keep_camera);
  add_text (writer, "knowledgeDigest", request->knowledge_digest);
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
