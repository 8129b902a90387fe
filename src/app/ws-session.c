/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-session.h"

#include "ws-intl.h"
#include "ws-list.h"
#include "ws-session-load.h"

/* Milliseconds in which several changes are loaded as one. */
#define RELOAD_AFTER 60

struct _WsSession
{
  GObject parent_instance;

  WsDesk *desk;
  WsPictureLoader *pictures;
  GListStore *finds;        /* WsFindItem */
  GHashTable *items;        /* id (of the item's find) to WsFindItem, owned by finds */
  GHashTable *stamps;       /* id to the stamp of what the item holds */
  WsLoaded *loaded;         /* the last one; its finds are taken out */
  GHashTable *figures;
  guint reload_source;
  gboolean loading;
  guint edits;              /* finished so far: a load that began before the last one is stale */
};

enum { CHANGED, SAID, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsSession, ws_session, G_TYPE_OBJECT)

/* --- Loading ------------------------------------------------------------------------------------- */

static WsFindItem *
item_for (WsSession *self, WsLoadedFind *loaded)
{
  const char *id = loaded->find->id;
  WsFindItem *item = g_hash_table_lookup (self->items, id);

  if (item == NULL)
    {
      item = ws_find_item_new (loaded->find, g_steal_pointer (&loaded->evidence), loaded->foray);
      g_hash_table_insert (self->items, g_strdup (id), item);
    }
  else if (g_strcmp0 (g_hash_table_lookup (self->stamps, id), loaded->stamp) != 0)
    ws_find_item_update (item, loaded->find, g_steal_pointer (&loaded->evidence), loaded->foray);
  g_hash_table_insert (self->stamps, g_strdup (id), g_steal_pointer (&loaded->stamp));
  return item;
}

static void
forget_gone (WsSession *self, GPtrArray *items)
{
  g_autoptr (GHashTable) kept = g_hash_table_new (NULL, NULL);
  GHashTableIter iter;
  gpointer id, item;

  for (guint i = 0; i < items->len; i++)
    g_hash_table_add (kept, g_ptr_array_index (items, i));
  g_hash_table_iter_init (&iter, self->items);
  while (g_hash_table_iter_next (&iter, &id, &item))
    if (!g_hash_table_contains (kept, item))
      {
        g_hash_table_remove (self->stamps, id);
        g_hash_table_iter_remove (&iter);
      }
}

static void
take (WsSession *self, WsLoaded *loaded)
{
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint i = 0; i < loaded->finds->len; i++)
    g_ptr_array_add (items, g_object_ref (item_for (self, g_ptr_array_index (loaded->finds, i))));
  forget_gone (self, items);
  ws_list_set_items (self->finds, items);
  g_clear_pointer (&self->loaded, ws_loaded_free);
  self->loaded = loaded;
  g_ptr_array_set_size (loaded->finds, 0);
  if (loaded->figures != NULL)
    {
      g_clear_pointer (&self->figures, g_hash_table_unref);
      self->figures = g_steal_pointer (&loaded->figures);
    }
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
loaded_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsSession *self = owner;
  WsLoaded *loaded = result;

  self->loading = FALSE;
  if (error != NULL)
    {
      ws_session_report (self, error);
      return;
    }
  if (loaded->edits != self->edits)
    ws_session_reload (self);
  else
    take (self, ws_task_steal ());
}

static void
load_now (WsSession *self)
{
  WsLoadWish *wish = g_new0 (WsLoadWish, 1);

  wish->edits = self->edits;
  wish->figures = self->figures == NULL;
  self->loading = TRUE;
  ws_task_run (self->desk, ws_loaded_load, wish, g_free, NULL, self, loaded_cb, NULL,
               (GDestroyNotify) ws_loaded_free);
}

static gboolean
reload_cb (gpointer data)
{
  WsSession *self = data;

  if (self->loading)
    return G_SOURCE_CONTINUE;
  self->reload_source = 0;
  load_now (self);
  return G_SOURCE_REMOVE;
}

void
ws_session_reload (WsSession *self)
{
  g_return_if_fail (WS_IS_SESSION (self));
  if (self->reload_source == 0)
    self->reload_source = g_timeout_add (RELOAD_AFTER, reload_cb, self);
}

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
    item_for (self, edited->find);
  g_signal_emit (self, signals[CHANGED], 0);
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
  g_signal_emit (self, signals[CHANGED], 0);
}

/* --- The object --------------------------------------------------------------------------------------- */

static void
ws_session_dispose (GObject *object)
{
  WsSession *self = WS_SESSION (object);

  g_clear_handle_id (&self->reload_source, g_source_remove);
  if (self->desk != NULL)
    g_signal_handlers_disconnect_by_data (self->desk->library, self);
  G_OBJECT_CLASS (ws_session_parent_class)->dispose (object);
}

static void
ws_session_finalize (GObject *object)
{
  WsSession *self = WS_SESSION (object);

  g_clear_object (&self->pictures);
  g_clear_object (&self->finds);
  g_clear_pointer (&self->items, g_hash_table_unref);
  g_clear_pointer (&self->stamps, g_hash_table_unref);
  g_clear_pointer (&self->loaded, ws_loaded_free);
  g_clear_pointer (&self->figures, g_hash_table_unref);
  g_clear_pointer (&self->desk, ws_desk_unref);
  G_OBJECT_CLASS (ws_session_parent_class)->finalize (object);
}

static void
ws_session_class_init (WsSessionClass *class)
{
  G_OBJECT_CLASS (class)->dispose = ws_session_dispose;
  G_OBJECT_CLASS (class)->finalize = ws_session_finalize;
  signals[CHANGED] = g_signal_new ("changed", WS_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 0);
  signals[SAID] = g_signal_new ("said", WS_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_BOOLEAN);
}

static void
ws_session_init (WsSession *self)
{
  self->pictures = ws_picture_loader_new (WS_PICTURE_LOADER_MAX_BYTES, NULL);
  self->finds = g_list_store_new (WS_TYPE_FIND_ITEM);
  self->items = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->stamps = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
}

WsSession *
ws_session_new (WsDesk *desk)
{
  WsSession *self = g_object_new (WS_TYPE_SESSION, NULL);

  self->desk = ws_desk_ref (desk);
  g_signal_connect_swapped (desk->library, "changed", G_CALLBACK (ws_session_reload), self);
  load_now (self);
  return self;
}

WsDesk *
ws_session_get_desk (WsSession *self)
{
  return self->desk;
}

const WsKnowledge *
ws_session_get_knowledge (WsSession *self)
{
  return self->desk->knowledge;
}

const char *
ws_session_text (WsSession *self, const char *kind, const char *id)
{
  return ws_knowledge_text (self->desk->knowledge, self->desk->language, kind, id);
}

WsPictureLoader *
ws_session_get_pictures (WsSession *self)
{
  return self->pictures;
}

gboolean
ws_session_is_loaded (WsSession *self)
{
  return self->loaded != NULL;
}

GListModel *
ws_session_get_finds (WsSession *self)
{
  return G_LIST_MODEL (self->finds);
}

WsFindItem *
ws_session_get_item (WsSession *self, const char *find_id)
{
  return find_id != NULL ? g_hash_table_lookup (self->items, find_id) : NULL;
}

WsFindItem *
ws_session_get_item_before (WsSession *self, const char *find_id)
{
  WsFindItem *item = ws_session_get_item (self, find_id);
  g_autoptr (WsFindItem) before = NULL;
  guint at;

  if (item == NULL || !g_list_store_find (self->finds, item, &at) || at == 0)
    return NULL;
  before = g_list_model_get_item (G_LIST_MODEL (self->finds), at - 1);
  if (g_strcmp0 (ws_find_item_get_find (before)->foray_id, ws_find_item_get_find (item)->foray_id) != 0)
    return NULL;
  return before;
}

GPtrArray *
ws_session_get_unsorted (WsSession *self)
{
  return self->loaded != NULL ? self->loaded->unsorted : NULL;
}

GPtrArray *
ws_session_get_requests (WsSession *self)
{
  return self->loaded != NULL ? self->loaded->requests : NULL;
}

WsFigure *
ws_session_get_figure (WsSession *self, const char *growth_form)
{
  return self->figures != NULL ? g_hash_table_lookup (self->figures, growth_form) : NULL;
}

const char *
ws_session_get_undo_label (WsSession *self)
{
  return self->loaded != NULL ? self->loaded->undo : NULL;
}

const char *
ws_session_get_redo_label (WsSession *self)
{
  return self->loaded != NULL ? self->loaded->redo : NULL;
}

void
ws_session_say (WsSession *self, const char *text)
{
  g_return_if_fail (WS_IS_SESSION (self));
  g_signal_emit (self, signals[SAID], 0, text, FALSE);
}

void
ws_session_failed (const char *message, gpointer session)
{
  g_autoptr (WsSession) self = session;

  g_return_if_fail (WS_IS_SESSION (self));
  g_signal_emit (self, signals[SAID], 0, message, TRUE);
}

void
ws_session_report (WsSession *self, const GError *error)
{
  g_return_if_fail (WS_IS_SESSION (self));
  if (error != NULL && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    g_signal_emit (self, signals[SAID], 0, error->message, TRUE);
}
