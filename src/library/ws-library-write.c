/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The steps of an action, as SQL. Puts update rows in place ("upsert") and never delete first, so that a
 * changeset holds what has changed and nothing more. */
#include "ws-library-private.h"

gboolean
ws_write_foray (WsStore *store, const WsStep *step, GError **error)
{
  const WsForay *foray = step->value;
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO foray (id, date, place, people) VALUES (?, ?, ?, ?) "
    "ON CONFLICT (id) DO UPDATE SET date = excluded.date, place = excluded.place, people = excluded.people");

  ws_statement_bind_text (&put, foray->id);
  ws_statement_bind_text (&put, foray->date);
  ws_statement_bind_text (&put, foray->place);
  ws_statement_bind_text (&put, foray->people);
  return ws_statement_run (&put, error);
}

gboolean
ws_write_find (WsStore *store, const WsStep *step, GError **error)
{
  const WsFind *find = step->value;
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO find (id, number, foray_id, field_name, when_us, when_decimals, when_offset, "
    "when_offset_source, when_correction, latitude, longitude, error_m, altitude, position_source, locality, "
    "remarks, only_mine, specimen_is, created_us, name_in_force) "
    "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) "
    "ON CONFLICT (id) DO UPDATE SET number = excluded.number, foray_id = excluded.foray_id, "
    "field_name = excluded.field_name, when_us = excluded.when_us, when_decimals = excluded.when_decimals, "
    "when_offset = excluded.when_offset, when_offset_source = excluded.when_offset_source, "
    "when_correction = excluded.when_correction, latitude = excluded.latitude, "
    "longitude = excluded.longitude, error_m = excluded.error_m, altitude = excluded.altitude, "
    "position_source = excluded.position_source, locality = excluded.locality, remarks = excluded.remarks, "
    "only_mine = excluded.only_mine, specimen_is = excluded.specimen_is, created_us = excluded.created_us, "
    "name_in_force = excluded.name_in_force");

  ws_statement_bind_text (&put, find->id);
  ws_statement_bind_text (&put, find->number);
  ws_statement_bind_text (&put, find->foray_id);
  ws_statement_bind_text (&put, find->field_name);
  ws_statement_bind_moment (&put, &find->when);
  ws_statement_bind_position (&put, &find->where);
  ws_statement_bind_text (&put, find->locality);
  ws_statement_bind_text (&put, find->remarks);
  ws_statement_bind_text (&put, find->only_mine);
  ws_statement_bind_text (&put, ws_specimen_is_id (find->specimen_is));
  ws_statement_bind_int (&put, find->created_us);
  ws_statement_bind_text (&put, find->name_in_force);
  return ws_statement_run (&put, error);
}

gboolean
ws_write_photo_file (WsStore *store, const char *photo_id, const char *path, gint64 size, gint64 modified_us,
                     GError **error)
{
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO photo_file (photo_id, path, file_size, file_time_us) VALUES (?, ?, ?, ?) "
    "ON CONFLICT (photo_id) DO UPDATE SET path = excluded.path, file_size = excluded.file_size, "
    "file_time_us = excluded.file_time_us");

  ws_statement_bind_text (&put, photo_id);
  ws_statement_bind_text (&put, path);
  ws_statement_bind_int (&put, size);
  ws_statement_bind_int (&put, modified_us);
  return ws_statement_run (&put, error);
}

gboolean
ws_write_photo (WsStore *store, const WsStep *step, GError **error)
{
  const WsPhoto *photo = step->value;
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO photo (id, digest, companion, media_type, width, height, orientation, taken_us, "
    "taken_decimals, taken_offset, taken_offset_source, taken_correction, latitude, longitude, error_m, "
    "altitude, position_source, direction, make, model, kind, copy_of, set_aside, warnings, likeness) "
    "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) "
    "ON CONFLICT (id) DO UPDATE SET digest = excluded.digest, companion = excluded.companion, "
    "media_type = excluded.media_type, width = excluded.width, height = excluded.height, "
    "orientation = excluded.orientation, taken_us = excluded.taken_us, "
    "taken_decimals = excluded.taken_decimals, taken_offset = excluded.taken_offset, "
    "taken_offset_source = excluded.taken_offset_source, taken_correction = excluded.taken_correction, "
    "latitude = excluded.latitude, longitude = excluded.longitude, error_m = excluded.error_m, "
    "altitude = excluded.altitude, position_source = excluded.position_source, "
    "direction = excluded.direction, make = excluded.make, model = excluded.model, kind = excluded.kind, "
    "copy_of = excluded.copy_of, set_aside = excluded.set_aside, warnings = excluded.warnings, "
    "likeness = CASE excluded.likeness WHEN 0 THEN likeness ELSE excluded.likeness END");

  ws_statement_bind_text (&put, photo->id);
  ws_statement_bind_text (&put, photo->digest);
  ws_statement_bind_text (&put, photo->companion);
  ws_statement_bind_text (&put, photo->media_type);
  ws_statement_bind_int (&put, photo->width);
  ws_statement_bind_int (&put, photo->height);
  ws_statement_bind_int (&put, photo->orientation);
  ws_statement_bind_moment (&put, &photo->taken);
  ws_statement_bind_position (&put, &photo->position);
  ws_statement_bind_double (&put, photo->direction);
  ws_statement_bind_text (&put, photo->make);
  ws_statement_bind_text (&put, photo->model);
  ws_statement_bind_int (&put, photo->kind);
  ws_statement_bind_text (&put, photo->copy_of);
  ws_statement_bind_int (&put, photo->set_aside != FALSE);
  ws_statement_bind_text (&put, photo->warnings);
  ws_statement_bind_int (&put, (gint64) step->likeness);
  return ws_statement_run (&put, error);
}

gboolean
ws_write_photo_file_of (WsStore *store, const WsStep *step, GError **error)
{
  const WsPhoto *photo = step->value;

  return ws_write_photo_file (store, photo->id, photo->path, photo->file_size, photo->file_time_us, error);
}

gboolean
ws_write_find_photo (WsStore *store, const WsStep *step, GError **error)
{
  const WsFindPhoto *link = step->value;
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO find_photo (find_id, photo_id, position, specimen, visit) VALUES (?, ?, ?, ?, ?) "
    "ON CONFLICT (find_id, photo_id) DO UPDATE SET position = excluded.position, "
    "specimen = excluded.specimen, visit = excluded.visit");

  ws_statement_bind_text (&put, step->id);
  ws_statement_bind_text (&put, link->photo->id);
  ws_statement_bind_int (&put, link->position);
  ws_statement_bind_text (&put, link->specimen);
  ws_statement_bind_text (&put, link->visit);
  return ws_statement_run (&put, error);
}

/* The digest is the stored photo's: a mark of a photo that is gone has no measure. */
gboolean
ws_write_measure (WsStore *store, const WsMark *mark, const WsMeasure *measure, int *n_written, GError **error)
{
  g_autofree char *shape = ws_shape_to_text (mark->shape);
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO measure (mark_id, photo_digest, shape, method, width_px, height_px, blur_sigma, burnt_out, "
    "blocked_up, mm_per_pixel) SELECT ?, digest, ?, ?, ?, ?, ?, ?, ?, ? FROM photo WHERE id = ? "
    "ON CONFLICT (mark_id, photo_digest, shape) DO UPDATE SET method = excluded.method, "
    "width_px = excluded.width_px, height_px = excluded.height_px, blur_sigma = excluded.blur_sigma, "
    "burnt_out = excluded.burnt_out, blocked_up = excluded.blocked_up, mm_per_pixel = excluded.mm_per_pixel");

  ws_statement_bind_text (&put, mark->id);
  ws_statement_bind_text (&put, shape);
  ws_statement_bind_int (&put, measure->method);
  ws_statement_bind_int (&put, measure->width_px);
  ws_statement_bind_int (&put, measure->height_px);
  ws_statement_bind_double (&put, measure->blur_sigma);
  ws_statement_bind_double (&put, measure->burnt_out);
  ws_statement_bind_double (&put, measure->blocked_up);
  ws_statement_bind_double (&put, measure->mm_per_pixel);
  ws_statement_bind_text (&put, mark->photo_id);
  return ws_statement_run_counted (&put, n_written, error);
}

gboolean
ws_write_mark_measure (WsStore *store, const WsStep *step, GError **error)
{
  const WsMark *mark = step->value;
  int n_written;

  return !mark->measure.measured || ws_write_measure (store, mark, &mark->measure, &n_written, error);
}

gboolean
ws_write_mark (WsStore *store, const WsStep *step, GError **error)
{
  const WsMark *mark = step->value;
  g_autofree char *shape = ws_shape_to_text (mark->shape);
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO mark (id, find_id, seq, photo_id, part, views, shape, whole_photo, specimen, base_kind, "
    "remark, created_us) VALUES (?1, ?2, "
    "(SELECT COALESCE(MAX(seq), 0) + 1 FROM mark WHERE find_id = ?2), ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11) "
    "ON CONFLICT (id) DO UPDATE SET find_id = excluded.find_id, photo_id = excluded.photo_id, "
    "part = excluded.part, views = excluded.views, shape = excluded.shape, "
    "whole_photo = excluded.whole_photo, specimen = excluded.specimen, base_kind = excluded.base_kind, "
    "remark = excluded.remark, created_us = excluded.created_us");

  ws_statement_bind_text (&put, mark->id);
  ws_statement_bind_text (&put, step->id);
  ws_statement_bind_text (&put, mark->photo_id);
  ws_statement_bind_text (&put, mark->part);
  ws_statement_bind_strv (&put, mark->views);
  ws_statement_bind_text (&put, shape);
  ws_statement_bind_int (&put, mark->whole_photo != FALSE);
  ws_statement_bind_text (&put, mark->specimen);
  ws_statement_bind_text (&put, mark->base_kind);
  ws_statement_bind_text (&put, mark->remark);
  ws_statement_bind_int (&put, mark->created_us);
  return ws_statement_run (&put, error);
}

gboolean
ws_write_note (WsStore *store, const WsStep *step, GError **error)
{
  const WsNote *note = step->value;
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO note (id, find_id, seq, character, states, sure, off_photo, specimen, observer, mark_id, "
    "observed, minutes, text, answers, created_us) "
    "VALUES (?1, ?2, (SELECT COALESCE(MAX(seq), 0) + 1 FROM note WHERE find_id = ?2), "
    "?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14) "
    "ON CONFLICT (id) DO UPDATE SET find_id = excluded.find_id, character = excluded.character, "
    "states = excluded.states, sure = excluded.sure, off_photo = excluded.off_photo, "
    "specimen = excluded.specimen, observer = excluded.observer, mark_id = excluded.mark_id, "
    "observed = excluded.observed, minutes = excluded.minutes, text = excluded.text, answers = excluded.answers, "
    "created_us = excluded.created_us");

  ws_statement_bind_text (&put, note->id);
  ws_statement_bind_text (&put, step->id);
  ws_statement_bind_text (&put, note->character);
  ws_statement_bind_strv (&put, note->states);
  ws_statement_bind_int (&put, note->sure != FALSE);
  ws_statement_bind_int (&put, note->off_photo != FALSE);
  ws_statement_bind_text (&put, note->specimen);
  ws_statement_bind_text (&put, note->observer);
  ws_statement_bind_text (&put, note->mark_id);
  ws_statement_bind_int (&put, note->observed);
  ws_statement_bind_double (&put, note->minutes);
  ws_statement_bind_text (&put, note->text);
  ws_statement_bind_strv (&put, note->answers);
  ws_statement_bind_int (&put, note->created_us);
  return ws_statement_run (&put, error);
}

gboolean
ws_write_excuse (WsStore *store, const WsStep *step, GError **error)
{
  const WsExcuse *excuse = step->value;
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO excuse (find_id, view, reason) VALUES (?, ?, ?) "
    "ON CONFLICT (find_id, view) DO UPDATE SET reason = excluded.reason");

  ws_statement_bind_text (&put, step->id);
  ws_statement_bind_text (&put, excuse->view);
  ws_statement_bind_text (&put, excuse->reason);
  return ws_statement_run (&put, error);
}

gboolean
ws_write_cover (WsStore *store, const WsStep *step, GError **error)
{
  const WsCover *cover = step->value;
  g_autofree char *shape = ws_shape_to_text (cover->shape);
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO cover (id, photo_id, shape) VALUES (?, ?, ?) "
    "ON CONFLICT (id) DO UPDATE SET photo_id = excluded.photo_id, shape = excluded.shape");

  ws_statement_bind_text (&put, cover->id);
  ws_statement_bind_text (&put, cover->photo_id);
  ws_statement_bind_text (&put, shape);
  return ws_statement_run (&put, error);
}
