/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A photo as an element of a list. */
#pragma once

#include <gio/gio.h>

#include "ws-values.h"

#define WS_TYPE_PHOTO_ITEM (ws_photo_item_get_type ())
G_DECLARE_FINAL_TYPE (WsPhotoItem, ws_photo_item, WS, PHOTO_ITEM, GObject)

WsPhotoItem *ws_photo_item_new (const WsPhoto *photo) G_GNUC_WARN_UNUSED_RESULT;
const WsPhoto *ws_photo_item_get_photo (WsPhotoItem *self);

/* Makes @list hold @photos (WsPhoto; nullable: none), keeping the items of photos that stay. */
void ws_photo_items_set (GListStore *list, GPtrArray *photos);
