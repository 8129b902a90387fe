/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads request.json as a stranger may have written it. */
#include "ws-request-json.h"

#include "ws-error.h"
#include "ws-intl.h"
#include "ws-request-json-private.h"

#include <math.h>
#include <string.h>

/* --- Time and place ------------------------------------------------------------------------------ */

static void
take_moment (const WsJsonMembers *parent, const char *key, const char *place, WsMoment *moment)
{
  static const char *const sources[] = { "unknown", "exif", "gps", "told", NULL };
  WsJsonMembers in;
  g_autofree char *noon = NULL;
  const char *date, *local, *offset;
  int minutes;

  if (!ws_json_get_object (parent, key, place, FALSE, &in))
    return;
  date = ws_json_get_text (&in, "date", TRUE);
  local = ws_json_get_text (&in, "local", FALSE);
  offset = ws_json_get_text (&in, "offset", FALSE);
  noon = g_strconcat (date, "T12:00:00", NULL);
  if (!ws_moment_set_local (moment, noon))
    ws_json_fault (&in, "date", _("this is no date"));
  if (*local != '\0')
    {
      g_autofree char *corrected = NULL;

      moment->correction_seconds = (gint32) ws_json_get_integer (&in, "correctionSeconds", -G_MAXINT32,
                                                                 G_MAXINT32, FALSE);
      if (!ws_moment_set_local (moment, local))
        ws_json_fault (&in, "local", _("this is no date with a time"));
      corrected = ws_moment_date (moment);
      if (corrected != NULL && !g_str_equal (corrected, date))
        ws_json_fault (&in, "date", _("this is not the date of the corrected time"));
    }
  if (*offset == '\0')
    return;
  if (!ws_offset_parse (offset, &minutes))
    ws_json_fault (&in, "offset", _("this is no offset from UTC"));
  else
    {
      moment->offset_minutes = (gint16) minutes;
      moment->offset_source = (guint8) MAX (ws_json_take_choice (&in, "offsetSource", sources), WS_OFFSET_EXIF);
    }
}

static WsPosition
take_place (const WsJsonMembers *parent, const char *key, const char *name)
{
  static const char *const sources[] = { "none", "photo", "track", "typed", NULL };
  WsPosition place = ws_position_none ();
  WsJsonMembers in;

  if (!ws_json_get_object (parent, key, name, FALSE, &in))
    return place;
  place.latitude = ws_json_get_number (&in, "latitude", -90, 90, TRUE);
  place.longitude = ws_json_get_number (&in, "longitude", -180, 180, TRUE);
  place.error_m = ws_json_get_number (&in, "uncertaintyMetres", 0, 2.1e7, FALSE);
  place.altitude = ws_json_get_number (&in, "altitudeMetres", -12000, 12000, FALSE);
  place.source = ws_json_take_choice (&in, "source", sources);
  return isnan (place.latitude) || isnan (place.longitude) ? ws_position_none () : place;
}

/* --- Photos ------------------------------------------------------------------------------------- */

static gboolean
is_photo_name (const char *name)
{
  const char *file = name + strlen ("data/photos/");

  return g_str_has_prefix (name, "data/photos/") && g_str_has_suffix (name, ".jpg") && strlen (name) <= 200
         && file[0] != '.' && file[0] != '-'
         && strspn (file, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-") == strlen (file);
}

static gboolean
is_digest (const char *text)
{
  return strlen (text) == 128 && strspn (text, "0123456789abcdef") == 128;
}

static void
read_photo (const WsJsonMembers *in, WsFind *find, GHashTable *names)
{
  g_autofree char *taken = g_strconcat (in->place, ".taken", NULL);
  g_autofree char *place = g_strconcat (in->place, ".place", NULL);
  WsFindPhoto *link = ws_find_photo_new ();
  WsPhoto *photo = ws_photo_new ();
  const char *name = ws_json_get_text (in, "name", TRUE);

  ws_photo_unref (link->photo);
  link->photo = photo;
  g_ptr_array_add (find->photos, link);
  link->position = (int) find->photos->len - 1;
  ws_json_take_id (in, "id", TRUE, &photo->id);
  ws_json_take_text (in, "sha512", &photo->digest);
  ws_set_string (&photo->path, name);
  ws_set_string (&photo->media_type, "image/jpeg");
  photo->width = (int) ws_json_get_integer (in, "width", 1, 100000, TRUE);
  photo->height = (int) ws_json_get_integer (in, "height", 1, 100000, TRUE);
  photo->orientation = 1;
  take_moment (in, "taken", taken, &photo->taken);
  photo->position = take_place (in, "place", place);
  ws_json_take_text (in, "make", &photo->make);
  ws_json_take_text (in, "model", &photo->model);
  ws_json_take_text (in, "specimen", &link->specimen);
  ws_json_take_text (in, "visit", &link->visit);
  if (*name != '\0' && !is_photo_name (name))
    ws_json_fault (in, "name", _("this must be the name of a .jpg file in data/photos/"));
  if (!is_digest (photo->digest))
    ws_json_fault (in, "sha512", _("this must be a SHA-512 in hexadecimal"));
  if (!g_hash_table_add (names, g_strdup (name)) || !g_hash_table_add (names, g_strdup (photo->id)))
    ws_json_fault (in, NULL, _("name or id stand there before"));
}

/* --- Evidence -------------------------------------------------------------------------------------- */

/* The states are worked out again from marks and notes; what stands here is only checked, except the excuses. */
static void
read_evidence (const WsJsonMembers *parent, WsFind *find)
{
  static const char *const states[] = { "missing", "weak", "shown", NULL };
  static const char *const needs[] = { "required", "recommended", "only_if", NULL };
  WsJsonMembers in, line;
  JsonArray *lines;

  if (!ws_json_get_object (parent, "evidence", "find.evidence", TRUE, &in))
    return;
  lines = ws_json_get_array (&in, "lines", TRUE);
  for (guint i = 0; lines != NULL && i < json_array_get_length (lines); i++)
    {
      g_autofree char *place = g_strdup_printf ("find.evidence.lines[%u]", i);
      const char *excuse, *view;

      if (!ws_json_get_element (&in, lines, i, place, &line))
        continue;
      view = ws_json_get_word (&line, "view", TRUE);
      if (!g_strv_contains (states, ws_json_get_word (&line, "state", TRUE)))
        ws_json_fault (&line, "state", _("this word is not known here"));
      if (!g_strv_contains (needs, ws_json_get_word (&line, "need", TRUE)))
        ws_json_fault (&line, "need", _("this word is not known here"));
      excuse = ws_json_get_text (&line, "excuse", FALSE);
      if (*excuse != '\0' && *view != '\0')
        {
          WsExcuse *told = ws_excuse_new ();

          ws_set_string (&told->view, view);
          ws_set_string (&told->reason, excuse);
          g_ptr_array_add (find->excuses, told);
        }
    }
}

/* --- The whole --------------------------------------------------------------------------------------- */

static void
read_members (const WsJsonMembers *in, WsFind *find, gint64 made_us)
{
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  static const char *const keys[] = { "photos", "marks", "notes" };

  for (guint k = 0; k < G_N_ELEMENTS (keys); k++)
    {
      JsonArray *array = ws_json_get_array (in, keys[k], TRUE);

      for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
        {
          g_autofree char *place = g_strdup_printf ("find.%s[%u]", keys[k], i);
          WsJsonMembers element;

          if (!ws_json_get_element (in, array, i, place, &element))
            continue;
          if (k == 0)
            read_photo (&element, find, names);
          else if (k == 1)
            ws_request_json_read_mark (&element, find, made_us);
          else
            ws_request_json_read_note (&element, find, made_us);
        }
    }
}

static void
read_find (const WsJsonMembers *parent, WsRequest *request)
{
  WsFind *find = request->find;
  WsJsonMembers in;
  WsSpecimenIs is;

  if (!ws_json_get_object (parent, "find", "find", TRUE, &in))
    return;
  ws_json_take_id (&in, "id", TRUE, &find->id);
  ws_json_take_text (&in, "number", &find->number);
  take_moment (&in, "when", "find.when", &find->when);
  find->where = request->place = take_place (&in, "place", "find.place");
  ws_json_take_text (&in, "locality", &find->locality);
  ws_json_take_text (&in, "remarks", &find->remarks);
  ws_json_take_text (&in, "sendersGuess", &find->field_name);
  if (!ws_specimen_is_parse (ws_json_get_word (&in, "specimen", TRUE), &is))
    ws_json_fault (&in, "specimen", _("this word is not known here"));
  else
    find->specimen_is = is;
  find->created_us = request->made_us;
  /* The growth form is a note like others; here it is only checked. */
  (void) ws_json_get_word (&in, "growthForm", FALSE);
  read_members (&in, find, request->made_us);
  ws_request_json_read_sizes (&in, find, request->made_us);
  ws_request_json_read_names (&in, find, request->made_us);
  read_evidence (&in, find);
}

static void
read_request (const WsJsonMembers *in, WsRequest *request)
{
  const char *made = ws_json_get_text (in, "made", TRUE);
  g_autoptr (GDateTime) time = *made != '\0' ? g_date_time_new_from_iso8601 (made, NULL) : NULL;
  g_autofree char *replaces = g_strdup ("");

  ws_json_take_id (in, "id", TRUE, &request->id);
  ws_json_take_id (in, "replaces", FALSE, &replaces);
  if (*replaces != '\0')
    request->replaces = g_steal_pointer (&replaces);
  if (time != NULL)
    request->made_us = g_date_time_to_unix (time) * G_USEC_PER_SEC;
  else if (*made != '\0')
    ws_json_fault (in, "made", _("this is no time in UTC"));
  ws_json_take_text (in, "language", &request->language);
  if (!ws_json_is_word (request->language))
    ws_json_fault (in, "language", _("this must be a language code"));
  ws_json_take_text (in, "from", &request->from);
  ws_json_take_text (in, "to", &request->to);
  ws_json_take_text (in, "question", &request->question);
  ws_json_take_text (in, "askedElsewhere", &request->asked_elsewhere);
  ws_json_take_text (in, "withoutBase", &request->without_base);
  ws_json_take_text (in, "callBack", &request->call_back);
  ws_json_take_text (in, "knowledgeDigest", &request->knowledge_digest);
  request->emergency = ws_json_get_yes (in, "emergency");
  request->keep_time = ws_json_get_yes (in, "keepTime");
  request->keep_camera = ws_json_get_yes (in, "keepCamera");
  if (!ws_tell_place_parse (ws_json_get_text (in, "tellPlace", TRUE), &request->tell_place))
    ws_json_fault (in, "tellPlace", _("this word is not known here"));
  ws_json_take_text (in, "region", &request->region);
  read_find (in, request);
}

/* "MAJOR.MINOR": a newer major number may mean anything else. */
static gboolean
check_format (const WsJsonMembers *in, GError **error)
{
  const char *format = ws_json_get_text (in, "format", TRUE);
  guint64 major;
  g_auto (GStrv) parts = g_strsplit (format, ".", 3);

  if (g_strv_length (parts) != 2 || !g_ascii_string_to_unsigned (parts[0], 10, 0, G_MAXUINT32, &major, NULL)
      || !g_ascii_string_to_unsigned (parts[1], 10, 0, G_MAXUINT32, NULL, NULL))
    {
      ws_json_fault (in, "format", _("this must be a number like 0.1"));
      return TRUE;
    }
  if (major <= WS_REQUEST_FORMAT_MAJOR)
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_NEWER_FORMAT,
               _("The request was written by a newer program (format %s; this one reads %s). Update the program to read it."),
               format, WS_REQUEST_FORMAT);
  return FALSE;
}

WsRequest *
ws_request_from_json (GBytes *bytes, GPtrArray *faults, GError **error)
{
  g_autoptr (GPtrArray) own = faults != NULL ? g_ptr_array_ref (faults) : g_ptr_array_new_with_free_func (g_free);
  g_autoptr (WsRequest) request = ws_request_new ();
  g_autoptr (JsonNode) root = NULL;
  WsJsonMembers in = { NULL, "", own };
  guint before = own->len;

  if (g_bytes_get_size (bytes) > WS_REQUEST_MAX_BYTES)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE, _("request.json is larger than the limit of %d bytes"),
                   WS_REQUEST_MAX_BYTES);
      return NULL;
    }
  in.object = ws_json_parse (bytes, &root, error);
  if (in.object == NULL)
    {
      g_prefix_error (error, "request.json: ");
      return NULL;
    }
  if (!check_format (&in, error))
    return NULL;
  read_request (&in, request);
  if (own->len == before)
    return g_steal_pointer (&request);
  g_set_error (error, WS_ERROR, WS_ERROR_INVALID, _("request.json is not valid: %s"),
               (char *) g_ptr_array_index (own, before));
  return NULL;
}
