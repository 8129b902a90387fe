/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-request.h"

#include "ws-file.h"

#include <math.h>
#include <string.h>

#define REQUEST_STRINGS(r) (char **[]) { &(r)->id, &(r)->language, &(r)->from, &(r)->to, &(r)->question, \
                                         &(r)->asked_elsewhere, &(r)->without_base, &(r)->call_back, \
                                         &(r)->knowledge_digest, &(r)->region, NULL }

GType
ws_request_get_type (void)
{
  static gsize type;

  if (g_once_init_enter (&type))
    g_once_init_leave (&type, g_boxed_type_register_static ("WsRequest", (GBoxedCopyFunc) ws_request_ref,
                                                            (GBoxedFreeFunc) ws_request_unref));
  return type;
}

static void
dup_strings (char **fields[])
{
  for (guint i = 0; fields[i] != NULL; i++)
    *fields[i] = g_strdup (*fields[i] != NULL ? *fields[i] : "");
}

WsRequest *
ws_request_new (void)
{
  WsRequest *request = g_new0 (WsRequest, 1);

  g_atomic_ref_count_init (&request->refs);
  dup_strings (REQUEST_STRINGS (request));
  request->tell_place = WS_TELL_HUNDREDTH;
  request->place = ws_position_none ();
  request->find = ws_find_new ();
  return request;
}

WsRequest *
ws_request_copy (const WsRequest *value)
{
  WsRequest *request = g_memdup2 (value, sizeof *value);

  g_atomic_ref_count_init (&request->refs);
  dup_strings (REQUEST_STRINGS (request));
  request->replaces = g_strdup (request->replaces);
  ws_find_ref (request->find);
  return request;
}

WsRequest *
ws_request_ref (const WsRequest *value)
{
  g_atomic_ref_count_inc (&((WsRequest *) value)->refs);
  return (WsRequest *) value;
}

void
ws_request_unref (WsRequest *request)
{
  char ***fields;

  if (request == NULL || !g_atomic_ref_count_dec (&request->refs))
    return;
  fields = REQUEST_STRINGS (request);
  for (guint i = 0; fields[i] != NULL; i++)
    g_free (*fields[i]);
  g_free (request->replaces);
  ws_find_unref (request->find);
  g_free (request);
}

/* Keeps the date and drops the time of day: noon, with no offset that would tell a zone. */
static WsMoment
date_only (const WsMoment *moment)
{
  WsMoment day = WS_MOMENT_INIT;
  g_autofree char *date = ws_moment_date (moment);

  if (date != NULL)
    {
      g_autofree char *noon = g_strconcat (date, "T12:00:00", NULL);

      ws_moment_set_local (&day, noon);
    }
  return day;
}

static WsPhoto *
sendable_photo (const WsPhoto *photo, gboolean keep_time, gboolean keep_camera, WsTellPlace tell)
{
  WsPhoto *sent = ws_photo_copy (photo);

  ws_set_string (&sent->path, "");
  g_clear_pointer (&sent->companion, g_free);
  sent->file_time_us = 0;
  ws_set_string (&sent->warnings, "");
  /* Several rounded photo positions would outline the true place: only an exact telling has them. */
  if (tell != WS_TELL_EXACT)
    {
      sent->position = ws_position_none ();
      sent->direction = NAN;
    }
  if (!keep_time)
    sent->taken = date_only (&photo->taken);
  if (!keep_camera)
    {
      ws_set_string (&sent->make, "");
      ws_set_string (&sent->model, "");
    }
  return sent;
}

static gboolean
is_sent (const WsFind *find, const char *photo_id)
{
  const WsPhoto *photo = ws_find_get_photo (find, photo_id);

  return photo != NULL && !photo->set_aside;
}

static void
copy_photos (WsFind *sent, const WsFind *find, gboolean keep_time, gboolean keep_camera, WsTellPlace tell)
{
  g_ptr_array_set_size (sent->photos, 0);
  for (guint i = 0; i < find->photos->len; i++)
    {
      const WsFindPhoto *link = g_ptr_array_index (find->photos, i);
      WsFindPhoto *copy;

      if (link->photo->set_aside)
        continue;
      copy = ws_find_photo_copy (link);
      ws_photo_unref (copy->photo);
      copy->photo = sendable_photo (link->photo, keep_time, keep_camera, tell);
      g_ptr_array_add (sent->photos, copy);
    }
}

/* A note read off a mark that stays behind stays, without the mark. */
static void
cut_loose_notes (WsFind *sent)
{
  for (guint i = 0; i < sent->notes->len; i++)
    {
      WsNote *note = g_ptr_array_index (sent->notes, i), *loose;

      if (note->mark_id == NULL || ws_find_get_mark (sent, note->mark_id) != NULL)
        continue;
      loose = ws_note_copy (note);
      g_clear_pointer (&loose->mark_id, g_free);
      sent->notes->pdata[i] = loose;
      ws_note_unref (note);
    }
}

/* A length measured on a photo that stays behind cannot be looked up, and its ends would tell of that photo. */
static void
drop_measured (WsFind *sent, const WsFind *find)
{
  for (guint i = sent->scales->len; i > 0; i--)
    if (!is_sent (find, ((WsScale *) g_ptr_array_index (sent->scales, i - 1))->photo_id))
      g_ptr_array_remove_index (sent->scales, i - 1);
  for (guint i = sent->measurements->len; i > 0; i--)
    {
      const WsMeasurement *measurement = g_ptr_array_index (sent->measurements, i - 1);

      if (measurement->photo_id != NULL && !is_sent (find, measurement->photo_id))
        g_ptr_array_remove_index (sent->measurements, i - 1);
    }
}

/* What is measured on a photo that stays behind stays with it. */
static void
drop_unsent_sizes (WsFind *sent, const WsFind *find)
{
  for (guint i = sent->scales->len; i > 0; i--)
    if (!is_sent (find, ((const WsScale *) g_ptr_array_index (sent->scales, i - 1))->photo_id))
      g_ptr_array_remove_index (sent->scales, i - 1);
  for (guint i = sent->measurements->len; i > 0; i--)
    {
      const WsMeasurement *measurement = g_ptr_array_index (sent->measurements, i - 1);

      if (measurement->photo_id != NULL && !is_sent (find, measurement->photo_id))
        g_ptr_array_remove_index (sent->measurements, i - 1);
    }
}

/* Of the answers that hold, who wishes what: their names are names of the find already, their words were for the
 * finder. */
static void
keep_wishes_only (WsFind *sent, const WsFind *find)
{
  g_ptr_array_set_size (sent->answers, 0);
  for (guint i = 0; i < find->answers->len; i++)
    {
      const WsAnswer *answer = g_ptr_array_index (find->answers, i);
      WsAnswer *asking;

      if (answer->wishes->len == 0 || ws_find_is_answer_replaced (find, answer->id))
        continue;
      asking = ws_answer_new ();
      ws_set_string (&asking->id, answer->id);
      ws_set_string (&asking->by, answer->by);
      for (guint w = 0; w < answer->wishes->len; w++)
        g_ptr_array_add (asking->wishes, ws_wish_ref (g_ptr_array_index (answer->wishes, w)));
      g_ptr_array_add (sent->answers, asking);
    }
}

WsFind *
ws_request_dup_sendable_find (const WsFind *find, WsTellPlace tell, gboolean keep_time, gboolean keep_camera)
{
  WsFind *sent = ws_find_copy (find);

  ws_set_string (&sent->only_mine, "");
  sent->where = ws_position_told (&find->where, tell);
  if (!ws_tell_place_has_locality (tell))
    ws_set_string (&sent->locality, "");
  if (!keep_time)
    sent->when = date_only (&find->when);
  copy_photos (sent, find, keep_time, keep_camera, tell);
  for (guint i = sent->marks->len; i > 0; i--)
    if (!is_sent (find, ((WsMark *) g_ptr_array_index (sent->marks, i - 1))->photo_id))
      g_ptr_array_remove_index (sent->marks, i - 1);
  for (guint i = sent->covers->len; i > 0; i--)
    if (!is_sent (find, ((WsCover *) g_ptr_array_index (sent->covers, i - 1))->photo_id))
      g_ptr_array_remove_index (sent->covers, i - 1);
  cut_loose_notes (sent);
  drop_unsent_sizes (sent, find);
  keep_wishes_only (sent, find);
  drop_measured (sent, find);
  return sent;
}

char *
ws_request_dup_code (const WsRequest *request)
{
  g_autofree char *start = g_ascii_strup (request->id, MIN (strlen (request->id), 8));

  return strlen (start) == 8 ? g_strdup_printf ("%.4s-%s", start, start + 4) : g_steal_pointer (&start);
}

char *
ws_request_dup_file_stem (const WsRequest *request)
{
  g_autofree char *date = ws_moment_date (&request->find->when);
  g_autofree char *number = ws_file_name_from (request->find->number);

  return date != NULL ? g_strdup_printf ("%s %s", number, date) : g_steal_pointer (&number);
}
