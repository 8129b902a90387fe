/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-photo-item.h"

#include "ws-list.h"

struct _WsPhotoItem
{
  GObject parent_instance;

  WsPhoto *photo;
};

G_DEFINE_FINAL_TYPE (WsPhotoItem, ws_photo_item, G_TYPE_OBJECT)

static void
ws_photo_item_finalize (GObject *object)
{
  ws_photo_unref (WS_PHOTO_ITEM (object)->photo);
  G_OBJECT_CLASS (ws_photo_item_parent_class)->finalize (object);
}

static void
ws_photo_item_class_init (WsPhotoItemClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ws_photo_item_finalize;
}

static void
ws_photo_item_init (WsPhotoItem *self)
{
}

WsPhotoItem *
ws_photo_item_new (const WsPhoto *photo)
{
  WsPhotoItem *self = g_object_new (WS_TYPE_PHOTO_ITEM, NULL);

  self->photo = ws_photo_ref (photo);
  return self;
}

const WsPhoto *
ws_photo_item_get_photo (WsPhotoItem *self)
{
  g_return_val_if_fail (WS_IS_PHOTO_ITEM (self), NULL);
  return self->photo;
}

void
ws_photo_items_set (GListStore *list, GPtrArray *photos)
{
  g_autoptr (GHashTable) old = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (list)); i++)
    {
      g_autoptr (WsPhotoItem) item = g_list_model_get_item (G_LIST_MODEL (list), i);

      g_hash_table_insert (old, item->photo->id, item);
    }
  for (guint i = 0; photos != NULL && i < photos->len; i++)
    {
      const WsPhoto *photo = g_ptr_array_index (photos, i);
      WsPhotoItem *item = g_hash_table_lookup (old, photo->id);

      g_ptr_array_add (items, item != NULL ? g_object_ref (item) : ws_photo_item_new (photo));
    }
  ws_list_set_items (list, items);
}
