/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a session changes: edits, undo, settings. */
#include "ws-session-private.h"

#include "ws-intl.h"

/* --- Edits ----------------------------------------------------------------------------------------- */

typedef struct
{
  WsTaskFunc func;
  gpointer data;
  GDestroyNotify free_data, free_result;
  WsSession *session;     /* owned: an edit outlives the page that asked for it */
  char *find_id;
  WsForay *foray;
  gpointer owner;         /* weak */
  gboolean owned;
  WsTaskDone done;
  gpointer done_data;
} Edit;

typedef struct
{
  Edit *edit;             /* borrowed */
  gpointer result;
  WsLoadedFind *find;
  char *undo, *redo;
} Edited;

static void
edit_free (gpointer data)
{
  Edit *edit = data;

  if (edit->free_data != NULL && edit->data != NULL)
    edit->free_data (edit->data);
  if (edit->owner != NULL)
    g_object_remove_weak_pointer (edit->owner, &edit->owner);
  ws_foray_unref (edit->foray);
  g_object_unref (edit->session);
  g_free (edit->find_id);
  g_free (edit);
}

static void
edited_free (gpointer data)
{
  Edited *edited = data;

  if (edited->result != NULL && edited->edit->free_result != NULL)
    edited->edit->free_result (edited->result);
  g_clear_pointer (&edited->find, ws_loaded_find_free);
  g_free (edited->undo);
  g_free (edited->redo);
  g_free (edited);
}

static gpointer
edit_run (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  Edit *edit = data;
  g_autoptr (GError) local = NULL;
  Edited *edited = g_new0 (Edited, 1);

  edited->edit = edit;
  edited->result = edit->func (desk, edit->data, NULL, &local);
  if (local != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&local));
      edited_free (edited);
      return NULL;
    }
  /* The edit itself succeeded; if the find cannot be read now, the reload that follows will say so. */
  if (edit->find_id != NULL)
    edited->find = ws_loaded_find_load (desk, edit->find_id, edit->foray, NULL);
  ws_library_peek_undo (desk->library, &edited->undo, &edited->redo);
  return edited;
}

static void
take_edited (WsSession *self, Edited *edited)
{
  if (self->loaded != NULL)
    {
      g_free (self->loaded->undo);
      g_free (self->loaded->redo);
      self->loaded->undo = g_steal_pointer (&edited->undo);
      self->loaded->redo = g_steal_pointer (&edited->redo);
    }
  if (edited->find != NULL && g_hash_table_contains (self->items, edited->find->find->id))
    ws_session_take_find (self, edited->find);
  ws_session_emit_changed (self);
}

static void
edit_done (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  Edit *edit = done_data;
  WsSession *self = edit->session;
  Edited *edited = result;

  self->edits++;
  if (error != NULL)
    ws_session_report (self, error);
  else
    take_edited (self, edited);
  if (edit->done != NULL && (!edit->owned || edit->owner != NULL))
    edit->done (edit->owner, edited != NULL ? edited->result : NULL, error, edit->done_data);
  ws_session_reload (self);
}

void
ws_session_edit (WsSession *self, const char *find_id, WsTaskFunc func, gpointer data, GDestroyNotify free_data,
                 gpointer owner, WsTaskDone done, gpointer done_data, GDestroyNotify free_result)
{
  Edit *edit = g_new0 (Edit, 1);
  WsFindItem *item;

  g_return_if_fail (WS_IS_SESSION (self));
  item = find_id != NULL ? ws_session_get_item (self, find_id) : NULL;
  edit->func = func;
  edit->data = data;
  edit->free_data = free_data;
  edit->free_result = free_result;
  edit->session = g_object_ref (self);
  edit->find_id = g_strdup (find_id);
  if (item != NULL && ws_find_item_get_foray (item) != NULL)
    edit->foray = ws_foray_ref (ws_find_item_get_foray (item));
  edit->owner = owner;
  edit->owned = owner != NULL;
  if (owner != NULL)
    g_object_add_weak_pointer (owner, &edit->owner);
  edit->done = done;
  edit->done_data = done_data;
  ws_task_write (self->desk, edit_run, edit, edit_free, self, edit_done, edit, edited_free);
}

/* --- Undo ------------------------------------------------------------------------------------------- */

static gpointer
step_back (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  char *label = NULL;

  return ws_library_undo (desk->library, &label, error) ? label : NULL;
}

static gpointer
step_forth (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  char *label = NULL;

  return ws_library_redo (desk->library, &label, error) ? label : NULL;
}

static void
stepped_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  g_autofree char *text = NULL;

  if (error != NULL || result == NULL)
    return;
  text = g_strdup_printf (GPOINTER_TO_INT (done_data) ? _("Done again: %s") : _("Taken back: %s"),
                          (const char *) result);
  ws_session_say (owner, text);
}

void
ws_session_undo (WsSession *self)
{
  g_return_if_fail (WS_IS_SESSION (self));
  ws_session_edit (self, NULL, step_back, NULL, NULL, self, stepped_cb, GINT_TO_POINTER (FALSE), g_free);
}

void
ws_session_redo (WsSession *self)
{
  g_return_if_fail (WS_IS_SESSION (self));
  ws_session_edit (self, NULL, step_forth, NULL, NULL, self, stepped_cb, GINT_TO_POINTER (TRUE), g_free);
}

/* --- Settings ------------------------------------------------------------------------------------------ */

typedef struct { char *key, *value; } Setting;

static void
setting_free (gpointer data)
{
  Setting *setting = data;

  g_free (setting->key);
  g_free (setting->value);
  g_free (setting);
}

static gpointer
store_setting (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  Setting *setting = data;

  ws_library_set_setting (desk->library, setting->key, setting->value, error);
  return NULL;
}

static void
stored_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsSession *self = owner;

  self->edits++;
  ws_session_report (self, error);
}

const char *
ws_session_get_setting (WsSession *self, const char *key)
{
  const char *value = self->loaded != NULL ? g_hash_table_lookup (self->loaded->settings, key) : NULL;

  return value != NULL ? value : "";
}

void
ws_session_set_setting (WsSession *self, const char *key, const char *value)
{
  Setting *setting;

  g_return_if_fail (WS_IS_SESSION (self));
  if (g_str_equal (ws_session_get_setting (self, key), value))
    return;
  setting = g_new0 (Setting, 1);
  setting->key = g_strdup (key);
  setting->value = *value != '\0' ? g_strdup (value) : NULL;
  if (self->loaded != NULL)
    g_hash_table_insert (self->loaded->settings, g_strdup (key), g_strdup (value));
  ws_task_write (self->desk, store_setting, setting, setting_free, self, stored_cb, NULL, NULL);
  ws_session_emit_changed (self);
}
