/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-values.h"

#include <math.h>

/* The boxed type without G_DEFINE_BOXED_TYPE, whose transparent unions -Wpedantic rejects. */
#define DEFINE_VALUE(Type, prefix)                                                          \
  GType                                                                                     \
  prefix##_get_type (void)                                                                  \
  {                                                                                         \
    static gsize type;                                                                      \
                                                                                            \
    if (g_once_init_enter (&type))                                                          \
      g_once_init_leave (&type, g_boxed_type_register_static (g_intern_static_string (#Type), \
                                                              (GBoxedCopyFunc) prefix##_ref, \
                                                              (GBoxedFreeFunc) prefix##_unref)); \
    return type;                                                                            \
  }                                                                                         \
                                                                                            \
  Type *                                                                                    \
  prefix##_ref (const Type *value)                                                          \
  {                                                                                         \
    Type *shared = (Type *) value;                                                          \
                                                                                            \
    g_atomic_ref_count_inc (&shared->refs);                                                 \
    return shared;                                                                          \
  }                                                                                         \
                                                                                            \
  void                                                                                      \
  prefix##_unref (Type *value)                                                              \
  {                                                                                         \
    if (value == NULL || !g_atomic_ref_count_dec (&value->refs))                            \
      return;                                                                               \
    prefix##_clear (value);                                                                 \
    g_free (value);                                                                         \
  }

#define NEW_VALUE(Type) value_new (sizeof (Type))

static gpointer
value_new (gsize size)
{
  gatomicrefcount *refs = g_malloc0 (size);

  g_atomic_ref_count_init (refs);
  return refs;
}

static gpointer
value_dup (gconstpointer value, gsize size)
{
  gatomicrefcount *refs = g_memdup2 (value, size);

  g_atomic_ref_count_init (refs);
  return refs;
}

void
ws_set_string (char **field, const char *value)
{
  char *copy = g_strdup (value != NULL ? value : "");

  g_free (*field);
  *field = copy;
}

/* Sets every string of the list to "" (for a new value) or to a copy of itself (for a copied
 * one), so that no field is forgotten in one of the two. */
static void
fill_strings (char **fields[])
{
  for (guint i = 0; fields[i] != NULL; i++)
    *fields[i] = g_strdup (*fields[i] != NULL ? *fields[i] : "");
}

static void
free_strings (char **fields[])
{
  for (guint i = 0; fields[i] != NULL; i++)
    g_free (*fields[i]);
}

static char **
empty_strv (void)
{
  return g_new0 (char *, 1);
}

#define PHOTO_STRINGS(p) (char **[]) { &(p)->id, &(p)->path, &(p)->digest, &(p)->media_type, \
                                       &(p)->make, &(p)->model, &(p)->warnings, NULL }

static void
ws_photo_clear (WsPhoto *photo)
{
  free_strings (PHOTO_STRINGS (photo));
  g_free (photo->companion);
  g_free (photo->copy_of);
}

DEFINE_VALUE (WsPhoto, ws_photo)

WsPhoto *
ws_photo_new (void)
{
  WsPhoto *photo = NEW_VALUE (WsPhoto);

  fill_strings (PHOTO_STRINGS (photo));
  photo->taken = (WsMoment) WS_MOMENT_INIT;
  photo->position = ws_position_none ();
  photo->direction = NAN;
  return photo;
}

WsPhoto *
ws_photo_copy (const WsPhoto *value)
{
  WsPhoto *photo = value_dup (value, sizeof *value);

  fill_strings (PHOTO_STRINGS (photo));
  photo->companion = g_strdup (photo->companion);
  photo->copy_of = g_strdup (photo->copy_of);
  return photo;
}

#define MARK_STRINGS(m) (char **[]) { &(m)->id, &(m)->photo_id, &(m)->part, &(m)->specimen, \
                                      &(m)->base_kind, &(m)->remark, NULL }

static void
ws_mark_clear (WsMark *mark)
{
  free_strings (MARK_STRINGS (mark));
  g_strfreev (mark->views);
  ws_shape_free (mark->shape);
}

DEFINE_VALUE (WsMark, ws_mark)

WsMark *
ws_mark_new (void)
{
  WsMark *mark = NEW_VALUE (WsMark);

  fill_strings (MARK_STRINGS (mark));
  mark->views = empty_strv ();
  mark->shape = ws_shape_new_box (&(WsRect) { 0, 0, 1, 1 });
  mark->measure.blur_sigma = NAN;
  mark->measure.mm_per_pixel = NAN;
  return mark;
}

WsMark *
ws_mark_copy (const WsMark *value)
{
  WsMark *mark = value_dup (value, sizeof *value);

  fill_strings (MARK_STRINGS (mark));
  mark->views = g_strdupv (mark->views);
  mark->shape = ws_shape_copy (mark->shape);
  return mark;
}

#define NOTE_STRINGS(n) (char **[]) { &(n)->id, &(n)->character, &(n)->specimen, &(n)->observer, NULL }

static void
ws_note_clear (WsNote *note)
{
  free_strings (NOTE_STRINGS (note));
  g_strfreev (note->states);
  g_free (note->mark_id);
}

DEFINE_VALUE (WsNote, ws_note)

WsNote *
ws_note_new (void)
{
  WsNote *note = NEW_VALUE (WsNote);

  fill_strings (NOTE_STRINGS (note));
  note->states = empty_strv ();
  return note;
}

WsNote *
ws_note_copy (const WsNote *value)
{
  WsNote *note = value_dup (value, sizeof *value);

  fill_strings (NOTE_STRINGS (note));
  note->states = g_strdupv (note->states);
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

  fill_strings ((char **[]) { &excuse->view, &excuse->reason, NULL });
  return excuse;
}

WsExcuse *
ws_excuse_copy (const WsExcuse *value)
{
  WsExcuse *excuse = value_dup (value, sizeof *value);

  fill_strings ((char **[]) { &excuse->view, &excuse->reason, NULL });
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
  fill_strings ((char **[]) { &link->specimen, &link->visit, NULL });
  return link;
}

WsFindPhoto *
ws_find_photo_copy (const WsFindPhoto *value)
{
  WsFindPhoto *link = value_dup (value, sizeof *value);

  ws_photo_ref (link->photo);
  fill_strings ((char **[]) { &link->specimen, &link->visit, NULL });
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

  fill_strings ((char **[]) { &cover->id, &cover->photo_id, NULL });
  cover->shape = ws_shape_new_box (&(WsRect) { 0, 0, 1, 1 });
  return cover;
}

WsCover *
ws_cover_copy (const WsCover *value)
{
  WsCover *cover = value_dup (value, sizeof *value);

  fill_strings ((char **[]) { &cover->id, &cover->photo_id, NULL });
  cover->shape = ws_shape_copy (cover->shape);
  return cover;
}

#define FORAY_STRINGS(f) (char **[]) { &(f)->id, &(f)->date, &(f)->place, &(f)->people, NULL }

static void
ws_foray_clear (WsForay *foray)
{
  free_strings (FORAY_STRINGS (foray));
}

DEFINE_VALUE (WsForay, ws_foray)

WsForay *
ws_foray_new (void)
{
  WsForay *foray = NEW_VALUE (WsForay);

  fill_strings (FORAY_STRINGS (foray));
  return foray;
}

WsForay *
ws_foray_copy (const WsForay *value)
{
  WsForay *foray = value_dup (value, sizeof *value);

  fill_strings (FORAY_STRINGS (foray));
  return foray;
}

#define FIND_STRINGS(f) (char **[]) { &(f)->id, &(f)->number, &(f)->field_name, &(f)->locality, \
                                      &(f)->remarks, &(f)->only_mine, NULL }

static void
ws_find_clear (WsFind *find)
{
  free_strings (FIND_STRINGS (find));
  g_free (find->foray_id);
  g_ptr_array_unref (find->photos);
  g_ptr_array_unref (find->marks);
  g_ptr_array_unref (find->notes);
  g_ptr_array_unref (find->excuses);
  g_ptr_array_unref (find->covers);
}

DEFINE_VALUE (WsFind, ws_find)

WsFind *
ws_find_new (void)
{
  WsFind *find = NEW_VALUE (WsFind);

  fill_strings (FIND_STRINGS (find));
  find->when = (WsMoment) WS_MOMENT_INIT;
  find->where = ws_position_none ();
  find->photos = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_find_photo_unref);
  find->marks = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_mark_unref);
  find->notes = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_note_unref);
  find->excuses = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_excuse_unref);
  find->covers = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_cover_unref);
  return find;
}

static GPtrArray *
copy_members (GPtrArray *members, gpointer (*ref) (gconstpointer), GDestroyNotify unref)
{
  GPtrArray *copy = g_ptr_array_new_full (members->len, unref);

  for (guint i = 0; i < members->len; i++)
    g_ptr_array_add (copy, ref (g_ptr_array_index (members, i)));
  return copy;
}

#define COPY_MEMBERS(array, prefix) \
  copy_members (array, (gpointer (*) (gconstpointer)) prefix##_ref, (GDestroyNotify) prefix##_unref)

WsFind *
ws_find_copy (const WsFind *value)
{
  WsFind *find = value_dup (value, sizeof *value);

  fill_strings (FIND_STRINGS (find));
  find->foray_id = g_strdup (find->foray_id);
  find->photos = COPY_MEMBERS (find->photos, ws_find_photo);
  find->marks = COPY_MEMBERS (find->marks, ws_mark);
  find->notes = COPY_MEMBERS (find->notes, ws_note);
  find->excuses = COPY_MEMBERS (find->excuses, ws_excuse);
  find->covers = COPY_MEMBERS (find->covers, ws_cover);
  return find;
}
