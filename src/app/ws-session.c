/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-session-private.h"

#include "ws-list.h"

/* Milliseconds in which several changes are loaded as one. */
#define RELOAD_AFTER 60

enum { CHANGED, SAID, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsSession, ws_session, G_TYPE_OBJECT)

void
ws_session_emit_changed (WsSession *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

/* --- Loading ------------------------------------------------------------------------------------- */

WsFindItem *
ws_session_take_find (WsSession *self, WsLoadedFind *loaded)
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
    g_ptr_array_add (items, g_object_ref (ws_session_take_find (self, g_ptr_array_index (loaded->finds, i))));
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
