/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-values.h"

#include "ws-value-private.h"

#include <math.h>

#define PHOTO_STRINGS(p) (char **[]) { &(p)->id, &(p)->path, &(p)->digest, &(p)->media_type, \
                                       &(p)->make, &(p)->model, &(p)->warnings, NULL }

static void
ws_photo_clear (WsPhoto *photo)
{
  ws_value_free_strings (PHOTO_STRINGS (photo));
  g_free (photo->companion);
  g_free (photo->copy_of);
}

DEFINE_VALUE (WsPhoto, ws_photo)

WsPhoto *
ws_photo_new (void)
{
  WsPhoto *photo = NEW_VALUE (WsPhoto);

  ws_value_fill_strings (PHOTO_STRINGS (photo));
  photo->taken = (WsMoment) WS_MOMENT_INIT;
  photo->position = ws_position_none ();
  photo->direction = NAN;
  return photo;
}

WsPhoto *
ws_photo_copy (const WsPhoto *value)
{
  WsPhoto *photo = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings (PHOTO_STRINGS (photo));
  photo->companion = g_strdup (photo->companion);
  photo->copy_of = g_strdup (photo->copy_of);
  return photo;
}

#define MARK_STRINGS(m) (char **[]) { &(m)->id, &(m)->photo_id, &(m)->part, &(m)->specimen, \
                                      &(m)->base_kind, &(m)->remark, NULL }

static void
ws_mark_clear (WsMark *mark)
{
  ws_value_free_strings (MARK_STRINGS (mark));
  g_strfreev (mark->views);
  ws_shape_free (mark->shape);
}

DEFINE_VALUE (WsMark, ws_mark)

WsMark *
ws_mark_new (void)
{
  WsMark *mark = NEW_VALUE (WsMark);

  ws_value_fill_strings (MARK_STRINGS (mark));
  mark->views = ws_value_empty_strv ();
  mark->shape = ws_shape_new_box (&(WsRect) { 0, 0, 1, 1 });
  mark->measure.blur_sigma = NAN;
  mark->measure.mm_per_pixel = NAN;
  return mark;
}

WsMark *
ws_mark_copy (const WsMark *value)
{
  WsMark *mark = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings (MARK_STRINGS (mark));
  mark->views = g_strdupv (mark->views);
  mark->shape = ws_shape_copy (mark->shape);
  return mark;
}

#define NOTE_STRINGS(n) (char **[]) { &(n)->id, &(n)->character, &(n)->specimen, &(n)->observer, \
                                      &(n)->text, NULL }

static void
ws_note_clear (WsNote *note)
{
  ws_value_free_strings (NOTE_STRINGS (note));
  g_strfreev (note->states);
  g_strfreev (note->answers);
  g_free (note->mark_id);
}

DEFINE_VALUE (WsNote, ws_note)

WsNote *
ws_note_new (void)
{
  WsNote *note = NEW_VALUE (WsNote);

  ws_value_fill_strings (NOTE_STRINGS (note));
  note->states = ws_value_empty_strv ();
  note->answers = ws_value_empty_strv ();
  note->minutes = NAN;
  return note;
}

WsNote *
ws_note_copy (const WsNote *value)
{
  WsNote *note = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings (NOTE_STRINGS (note));
  note->states = g_strdupv (note->states);
  note->answers = g_strdupv (note->answers);
  note->mark_id = g_strdup (note->mark_id);
  return note;
}

static void
ws_excuse_clear (WsExcuse *excuse)
{
  g_free (excuse->view);
  g_free (excuse->reason);
}

DEFINE_VALUE (WsExcuse, ws_excuse)

WsExcuse *
ws_excuse_new (void)
{
  WsExcuse *excuse = NEW_VALUE (WsExcuse);

  ws_value_fill_strings ((char **[]) { &excuse->view, &excuse->reason, NULL });
  return excuse;
}

WsExcuse *
ws_excuse_copy (const WsExcuse *value)
{
  WsExcuse *excuse = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings ((char **[]) { &excuse->view, &excuse->reason, NULL });
  return excuse;
}

static void
ws_find_photo_clear (WsFindPhoto *link)
{
  ws_photo_unref (link->photo);
  g_free (link->specimen);
  g_free (link->visit);
}

DEFINE_VALUE (WsFindPhoto, ws_find_photo)

WsFindPhoto *
ws_find_photo_new (void)
{
  WsFindPhoto *link = NEW_VALUE (WsFindPhoto);

  link->photo = ws_photo_new ();
  ws_value_fill_strings ((char **[]) { &link->specimen, &link->visit, NULL });
  return link;
}

WsFindPhoto *
ws_find_photo_copy (const WsFindPhoto *value)
{
  WsFindPhoto *link = ws_value_dup (value, sizeof *value);

  ws_photo_ref (link->photo);
  ws_value_fill_strings ((char **[]) { &link->specimen, &link->visit, NULL });
  return link;
}

static void
ws_cover_clear (WsCover *cover)
{
  g_free (cover->id);
  g_free (cover->photo_id);
  ws_shape_free (cover->shape);
}

DEFINE_VALUE (WsCover, ws_cover)

WsCover *
ws_cover_new (void)
{
  WsCover *cover = NEW_VALUE (WsCover);

  ws_value_fill_strings ((char **[]) { &cover->id, &cover->photo_id, NULL });
  cover->shape = ws_shape_new_box (&(WsRect) { 0, 0, 1, 1 });
  return cover;
}

WsCover *
ws_cover_copy (const WsCover *value)
{
  WsCover *cover = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings ((char **[]) { &cover->id, &cover->photo_id, NULL });
  cover->shape = ws_shape_copy (cover->shape);
  return cover;
}

#define FORAY_STRINGS(f) (char **[]) { &(f)->id, &(f)->date, &(f)->place, &(f)->people, NULL }

static void
ws_foray_clear (WsForay *foray)
{
  ws_value_free_strings (FORAY_STRINGS (foray));
}

DEFINE_VALUE (WsForay, ws_foray)

WsForay *
ws_foray_new (void)
{
  WsForay *foray = NEW_VALUE (WsForay);

  ws_value_fill_strings (FORAY_STRINGS (foray));
  return foray;
}

WsForay *
ws_foray_copy (const WsForay *value)
{
  WsForay *foray = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings (FORAY_STRINGS (foray));
  return foray;
}

#define FIND_STRINGS(f) (char **[]) { &(f)->id, &(f)->number, &(f)->field_name, &(f)->locality, \
                                      &(f)->remarks, &(f)->only_mine, NULL }

static void
ws_find_clear (WsFind *find)
{
  ws_value_free_strings (FIND_STRINGS (find));
  g_free (find->foray_id);
  g_ptr_array_unref (find->photos);
  g_ptr_array_unref (find->marks);
  g_ptr_array_unref (find->notes);
  g_ptr_array_unref (find->excuses);
  g_ptr_array_unref (find->covers);
  g_ptr_array_unref (find->scales);
  g_ptr_array_unref (find->measurements);
  g_ptr_array_unref (find->spores);
  g_ptr_array_unref (find->names);
  g_ptr_array_unref (find->answers);
  g_free (find->name_in_force);
}

DEFINE_VALUE (WsFind, ws_find)

WsFind *
ws_find_new (void)
{
  WsFind *find = NEW_VALUE (WsFind);

  ws_value_fill_strings (FIND_STRINGS (find));
  find->when = (WsMoment) WS_MOMENT_INIT;
  find->where = ws_position_none ();
  find->photos = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_find_photo_unref);
  find->marks = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_mark_unref);
  find->notes = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_note_unref);
  find->excuses = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_excuse_unref);
  find->covers = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_cover_unref);
  find->scales = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_scale_unref);
  find->measurements = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_measurement_unref);
  find->spores = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_spore_list_unref);
  find->names = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_name_unref);
  find->answers = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_answer_unref);
  return find;
}

WsFind *
ws_find_copy (const WsFind *value)
{
  WsFind *find = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings (FIND_STRINGS (find));
  find->foray_id = g_strdup (find->foray_id);
  find->photos = COPY_MEMBERS (find->photos, ws_find_photo);
  find->marks = COPY_MEMBERS (find->marks, ws_mark);
  find->notes = COPY_MEMBERS (find->notes, ws_note);
  find->excuses = COPY_MEMBERS (find->excuses, ws_excuse);
  find->covers = COPY_MEMBERS (find->covers, ws_cover);
  find->scales = COPY_MEMBERS (find->scales, ws_scale);
  find->measurements = COPY_MEMBERS (find->measurements, ws_measurement);
  find->spores = COPY_MEMBERS (find->spores, ws_spore_list);
  find->names = COPY_MEMBERS (find->names, ws_name);
  find->answers = COPY_MEMBERS (find->answers, ws_answer);
  find->name_in_force = g_strdup (find->name_in_force);
  return find;
}
