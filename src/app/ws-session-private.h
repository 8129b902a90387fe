/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The session's insides, shared by ws-session.c and ws-session-edit.c only. */
#pragma once

#include "ws-session-load.h"
#include "ws-session.h"

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

/* Puts what was loaded into the find's item, made when there is none; borrowed. */
WsFindItem *ws_session_take_find (WsSession *self, WsLoadedFind *loaded);
void ws_session_emit_changed (WsSession *self);
