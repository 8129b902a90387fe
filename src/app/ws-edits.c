/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-edits.h"

#include "ws-arrange.h"
#include "ws-record.h"

/* What a worker is handed: a snapshot of all that it needs. Each edit uses what it has use for. */
typedef struct
{
  char *find_id;
  char *id;             /* of a photo, mark, cover or foray */
  char *key;            /* view, character, or key */
  char *value;
  char **ids;
  WsShape *shape;
  WsMark *mark;
  WsCover *cover;
  WsNote *note;
  gboolean sure;
  WsPhotoEdit photos;
} Edit;

static Edit *
edit_new (const char *find_id, const char *id, const char *key, const char *value)
{
  Edit *edit = g_new0 (Edit, 1);

  edit->find_id = g_strdup (find_id);
  edit->id = g_strdup (id);
  edit->key = g_strdup (key);
  edit->value = g_strdup (value);
  return edit;
}

static void
edit_free (gpointer data)
{
  Edit *edit = data;

  g_free (edit->find_id);
  g_free (edit->id);
  g_free (edit->key);
  g_free (edit->value);
  g_strfreev (edit->ids);
  ws_shape_free (edit->shape);
  ws_mark_unref (edit->mark);
  ws_cover_unref (edit->cover);
  ws_note_unref (edit->note);
  g_free (edit);
}

static void
run (WsSession *session, WsTaskFunc func, Edit *edit)
{
  ws_session_edit (session, edit->find_id, func, edit, edit_free, NULL, NULL, NULL, NULL);
}

/* The part that shows the view of this growth form; its own views unless they lack the one that was asked for. */
static gpointer
run_mark (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const Edit *edit = data;
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, edit->find_id, error);
  const char *only[] = { edit->key, NULL };
  const WsPart *part;

  if (find == NULL)
    return NULL;
  part = ws_knowledge_find_part (desk->knowledge,
                                 ws_knowledge_part_of_view (desk->knowledge, edit->key, ws_find_get_growth_form (find)));
  return ws_record_mark (desk, edit->find_id, edit->id, part->id,
                         g_strv_contains (part->views, edit->key) ? NULL : only, edit->shape, NULL, error);
}

void
ws_edit_mark (WsSession *session, const char *find_id, const char *photo_id, const char *view, const WsShape *shape,
              gpointer owner, WsTaskDone done)
{
  Edit *edit = edit_new (find_id, photo_id, view, NULL);

  edit->shape = shape != NULL ? ws_shape_copy (shape) : NULL;
  ws_session_edit (session, find_id, run_mark, edit, edit_free, owner, done, NULL, g_free);
}

static gpointer
run_change_mark (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const Edit *edit = data;

  return GINT_TO_POINTER (ws_record_change_mark (desk, edit->find_id, edit->mark, error));
}

void
ws_edit_change_mark (WsSession *session, const char *find_id, const WsMark *mark)
{
  Edit *edit = edit_new (find_id, NULL, NULL, NULL);

  edit->mark = ws_mark_ref (mark);
  run (session, run_change_mark, edit);
}

static gpointer
run_copy_mark (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const Edit *edit = data;

  return ws_record_copy_mark (desk, edit->find_id, edit->id, edit->value, error);
}

void
ws_edit_copy_mark (WsSession *session, const char *find_id, const char *mark_id, const char *photo_id, gpointer owner,
                   WsTaskDone done)
{
  ws_session_edit (session, find_id, run_copy_mark, edit_new (find_id, mark_id, NULL, photo_id), edit_free, owner, done,
                   NULL, g_free);
}

static gpointer
run_remove_mark (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  return GINT_TO_POINTER (ws_record_remove_mark (desk, ((const Edit *) data)->id, error));
}

void
ws_edit_remove_mark (WsSession *session, const char *find_id, const char *mark_id)
{
  run (session, run_remove_mark, edit_new (find_id, mark_id, NULL, NULL));
}

static gpointer
run_label (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const Edit *edit = data;

  return GINT_TO_POINTER (ws_record_label_photo (desk, edit->find_id, edit->id, edit->key, error));
}

void
ws_edit_label_photo (WsSession *session, const char *find_id, const char *photo_id, const char *view)
{
  run (session, run_label, edit_new (find_id, photo_id, view, NULL));
}

static gpointer
run_cover (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const Edit *edit = data;
  g_autofree char *id = ws_record_cover (desk, edit->id, edit->shape, error);

  return GINT_TO_POINTER (id != NULL);
}

void
ws_edit_cover (WsSession *session, const char *find_id, const char *photo_id, const WsShape *shape)
{
  Edit *edit = edit_new (find_id, photo_id, NULL, NULL);

  edit->shape = ws_shape_copy (shape);
  run (session, run_cover, edit);
}

static gpointer
run_change_cover (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  return GINT_TO_POINTER (ws_record_change_cover (desk, ((const Edit *) data)->cover, error));
}

void
ws_edit_change_cover (WsSession *session, const char *find_id, const WsCover *cover)
{
  Edit *edit = edit_new (find_id, NULL, NULL, NULL);

  edit->cover = ws_cover_ref (cover);
  run (session, run_change_cover, edit);
}

static gpointer
run_uncover (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  return GINT_TO_POINTER (ws_record_uncover (desk, ((const Edit *) data)->id, error));
}

void
ws_edit_uncover (WsSession *session, const char *find_id, const char *cover_id)
{
  run (session, run_uncover, edit_new (find_id, cover_id, NULL, NULL));
}

static gpointer
run_note (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const Edit *edit = data;

  return GINT_TO_POINTER (ws_record_note (desk, edit->find_id, edit->key, edit->value, edit->sure, FALSE, NULL, error));
}

void
ws_edit_note (WsSession *session, const char *find_id, const char *character, const char *states, gboolean sure)
{
  Edit *edit = edit_new (find_id, NULL, character, states);

  edit->sure = sure;
  run (session, run_note, edit);
}

static gpointer
run_whole_note (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const Edit *edit = data;
  g_autofree char *id = ws_record_whole_note (desk, edit->find_id, edit->note, error);

  return GINT_TO_POINTER (id != NULL);
}

void
ws_edit_whole_note (WsSession *session, const char *find_id, const WsNote *note)
{
  Edit *edit = edit_new (find_id, NULL, NULL, NULL);

  edit->note = ws_note_ref (note);
  run (session, run_whole_note, edit);
}

static gpointer
run_remove_note (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  return GINT_TO_POINTER (ws_record_remove_note (desk, ((const Edit *) data)->id, error));
}

void
ws_edit_remove_note (WsSession *session, const char *find_id, const char *note_id)
{
  run (session, run_remove_note, edit_new (find_id, note_id, NULL, NULL));
}

static gpointer
run_copy_habitat (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const char *ids[] = { ((const Edit *) data)->find_id, NULL };

  return GINT_TO_POINTER (ws_record_copy_habitat (desk, NULL, ids, error));
}

void
ws_edit_copy_habitat (WsSession *session, const char *find_id)
{
  run (session, run_copy_habitat, edit_new (find_id, NULL, NULL, NULL));
}

static gpointer
run_excuse (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const Edit *edit = data;

  return GINT_TO_POINTER (ws_record_excuse (desk, edit->find_id, edit->key, edit->value, error));
}

void
ws_edit_excuse (WsSession *session, const char *find_id, const char *view, const char *reason)
{
  run (session, run_excuse, edit_new (find_id, NULL, view, reason));
}

static gpointer
run_set (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const Edit *edit = data;

  return GINT_TO_POINTER (ws_record_set (desk, edit->find_id, edit->key, edit->value, error));
}

void
ws_edit_set (WsSession *session, const char *find_id, const char *key, const char *value)
{
  run (session, run_set, edit_new (find_id, NULL, key, value));
}

static gpointer
run_set_foray (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const Edit *edit = data;

  return GINT_TO_POINTER (ws_record_set_foray (desk, edit->id, edit->key, edit->value, error));
}

void
ws_edit_set_foray (WsSession *session, const char *foray_id, const char *key, const char *value)
{
  run (session, run_set_foray, edit_new (NULL, foray_id, key, value));
}

static gpointer
run_photos (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const Edit *edit = data;
  const char *const *ids = (const char *const *) edit->ids;
  g_autofree char *made = NULL;

  switch (edit->photos)
    {
    case WS_PHOTO_SPLIT:
      made = ws_arrange_split (desk, edit->find_id, ids, error);
      return GINT_TO_POINTER (made != NULL);
    case WS_PHOTO_TAKE_OUT:
      return GINT_TO_POINTER (ws_arrange_remove (desk, ids[0], edit->find_id, error));
    case WS_PHOTO_SET_ASIDE:
      return GINT_TO_POINTER (ws_arrange_set_aside (desk, ids, TRUE, error));
    case WS_PHOTO_MOVE:
      return GINT_TO_POINTER (ws_arrange_move (desk, ids[0], edit->find_id, edit->value, error));
    case WS_PHOTO_SHARE:
      return GINT_TO_POINTER (ws_arrange_share (desk, ids, edit->value, "", error));
    default:
      g_return_val_if_reached (NULL);
    }
}

void
ws_edit_photos (WsSession *session, const char *find_id, const char *const *photo_ids, WsPhotoEdit kind,
                const char *other_find)
{
  Edit *edit = edit_new (find_id, NULL, NULL, other_find);

  edit->ids = g_strdupv ((char **) photo_ids);
  edit->photos = kind;
  run (session, run_photos, edit);
}
