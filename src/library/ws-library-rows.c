/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-library-private.h"

#include "ws-error.h"
#include "ws-intl.h"

WsPhoto *
ws_row_take_photo (WsStatement *row)
{
  WsPhoto *photo = ws_photo_new ();

  ws_statement_take_into (row, &photo->id);
  ws_statement_take_into (row, &photo->path);
  photo->file_size = ws_statement_take_int (row);
  photo->file_time_us = ws_statement_take_int (row);
  ws_statement_take_into (row, &photo->digest);
  photo->companion = ws_statement_take_text (row);
  ws_statement_take_into (row, &photo->media_type);
  photo->width = (int) ws_statement_take_int (row);
  photo->height = (int) ws_statement_take_int (row);
  photo->orientation = (int) ws_statement_take_int (row);
  ws_statement_take_moment (row, &photo->taken);
  ws_statement_take_position (row, &photo->position);
  photo->direction = ws_statement_take_double (row);
  ws_statement_take_into (row, &photo->make);
  ws_statement_take_into (row, &photo->model);
  photo->kind = (WsPhotoKind) ws_statement_take_kind (row, WS_PHOTO_SCREENSHOT);
  photo->copy_of = ws_statement_take_text (row);
  photo->set_aside = ws_statement_take_int (row) != 0;
  ws_statement_take_into (row, &photo->warnings);
  return photo;
}

WsFind *
ws_row_take_find (WsStatement *row)
{
  WsFind *find = ws_find_new ();

  ws_statement_take_into (row, &find->id);
  ws_statement_take_into (row, &find->number);
  find->foray_id = ws_statement_take_text (row);
  ws_statement_take_into (row, &find->field_name);
  ws_statement_take_moment (row, &find->when);
  ws_statement_take_position (row, &find->where);
  ws_statement_take_into (row, &find->locality);
  ws_statement_take_into (row, &find->remarks);
  ws_statement_take_into (row, &find->only_mine);
  if (!ws_specimen_is_parse (ws_statement_peek_text (row), &find->specimen_is))
    find->specimen_is = WS_SPECIMEN_UNKNOWN;
  find->created_us = ws_statement_take_int (row);
  find->name_in_force = ws_statement_take_text (row);
  return find;
}

/* FALSE when the stored shape is none, which only damage from outside can bring about. A mark that shows
 * something else than was marked would be worse than none. */
static gboolean
take_shape (WsStatement *row, WsShape **shape, const char *id, GError **error)
{
  WsShape *stored = ws_shape_parse (ws_statement_peek_text (row));

  if (stored == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
                   _("“%s” is damaged: the shape %s cannot be read; use a backup"), row->store->path, id);
      return FALSE;
    }
  ws_shape_free (*shape);
  *shape = stored;
  return TRUE;
}

static void
take_measure (WsStatement *row, WsMeasure *measure)
{
  measure->measured = ws_statement_take_int (row) != 0;
  if (!measure->measured)
    return;
  measure->width_px = (int) ws_statement_take_int (row);
  measure->height_px = (int) ws_statement_take_int (row);
  measure->blur_sigma = ws_statement_take_double (row);
  measure->burnt_out = ws_statement_take_double (row);
  measure->blocked_up = ws_statement_take_double (row);
  measure->mm_per_pixel = ws_statement_take_double (row);
  measure->method = (int) ws_statement_take_int (row);
}

WsMark *
ws_row_take_mark (WsStatement *row, GError **error)
{
  g_autoptr (WsMark) mark = ws_mark_new ();

  ws_statement_take_into (row, &mark->id);
  ws_statement_take_into (row, &mark->photo_id);
  ws_statement_take_into (row, &mark->part);
  g_strfreev (mark->views);
  mark->views = ws_statement_take_strv (row);
  if (!take_shape (row, &mark->shape, mark->id, error))
    return NULL;
  mark->whole_photo = ws_statement_take_int (row) != 0;
  ws_statement_take_into (row, &mark->specimen);
  ws_statement_take_into (row, &mark->base_kind);
  ws_statement_take_into (row, &mark->remark);
  mark->created_us = ws_statement_take_int (row);
  take_measure (row, &mark->measure);
  return g_steal_pointer (&mark);
}

WsNote *
ws_row_take_note (WsStatement *row)
{
  WsNote *note = ws_note_new ();

  ws_statement_take_into (row, &note->id);
  ws_statement_take_into (row, &note->character);
  g_strfreev (note->states);
  note->states = ws_statement_take_strv (row);
  note->sure = ws_statement_take_int (row) != 0;
  note->off_photo = ws_statement_take_int (row) != 0;
  /* Read off a photo is never sure, whatever a database made elsewhere says. */
  note->sure = note->sure && !note->off_photo;
  ws_statement_take_into (row, &note->specimen);
  ws_statement_take_into (row, &note->observer);
  note->mark_id = ws_statement_take_text (row);
  note->observed = (WsObserved) ws_statement_take_kind (row, WS_OBSERVED_DRIED);
  note->minutes = ws_statement_take_double (row);
  ws_statement_take_into (row, &note->text);
  g_strfreev (note->answers);
  note->answers = ws_statement_take_strv (row);
  note->created_us = ws_statement_take_int (row);
  return note;
}

WsCover *
ws_row_take_cover (WsStatement *row, GError **error)
{
  g_autoptr (WsCover) cover = ws_cover_new ();

  ws_statement_take_into (row, &cover->id);
  ws_statement_take_into (row, &cover->photo_id);
  if (!take_shape (row, &cover->shape, cover->id, error))
    return NULL;
  return g_steal_pointer (&cover);
}
