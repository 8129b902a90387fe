/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-finds-lines.h"

#include "ws-list.h"

struct _WsFindsLine
{
  GObject parent_instance;

  WsFindItem *item;
  WsForay *foray;
};

struct _WsFindsLines
{
  GObject parent_instance;

  GListModel *finds;
  GListStore *list;
  GHashTable *lines;    /* find id, or "foray " and its id, to the line */
  GHashTable *only;
};

static guint changed_signal;

G_DEFINE_FINAL_TYPE (WsFindsLine, ws_finds_line, G_TYPE_OBJECT)
G_DEFINE_FINAL_TYPE (WsFindsLines, ws_finds_lines, G_TYPE_OBJECT)

static void
ws_finds_line_finalize (GObject *object)
{
  WsFindsLine *self = WS_FINDS_LINE (object);

  g_clear_object (&self->item);
  g_clear_pointer (&self->foray, ws_foray_unref);
  G_OBJECT_CLASS (ws_finds_line_parent_class)->finalize (object);
}

static void
ws_finds_line_class_init (WsFindsLineClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ws_finds_line_finalize;
  changed_signal = g_signal_new ("changed", WS_TYPE_FINDS_LINE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 0);
}

static void
ws_finds_line_init (WsFindsLine *self)
{
}

WsFindItem *
ws_finds_line_get_item (WsFindsLine *self)
{
  g_return_val_if_fail (WS_IS_FINDS_LINE (self), NULL);
  return self->item;
}

const WsForay *
ws_finds_line_get_foray (WsFindsLine *self)
{
  g_return_val_if_fail (WS_IS_FINDS_LINE (self), NULL);
  return self->foray;
}

static gboolean
reads_alike (const WsForay *a, const WsForay *b)
{
  return a == b || (a != NULL && b != NULL && g_str_equal (a->date, b->date) && g_str_equal (a->place, b->place)
                    && g_str_equal (a->people, b->people));
}

static void
set_foray (WsFindsLine *line, const WsForay *foray)
{
  gboolean alike = reads_alike (line->foray, foray);
  WsForay *new_foray = foray != NULL ? ws_foray_ref (foray) : NULL;

  g_clear_pointer (&line->foray, ws_foray_unref);
  line->foray = new_foray;
  if (!alike)
    g_signal_emit (line, changed_signal, 0);
}

/* --- The list -------------------------------------------------------------------------------- */

static WsFindsLine *
line_for (WsFindsLines *self, const char *key, WsFindItem *item, const WsForay *foray)
{
  WsFindsLine *line = g_hash_table_lookup (self->lines, key);

  if (line == NULL || line->item != item)
    {
      line = g_object_new (WS_TYPE_FINDS_LINE, NULL);
      line->item = item != NULL ? g_object_ref (item) : NULL;
      g_hash_table_insert (self->lines, g_strdup (key), line);
    }
  set_foray (line, foray);
  return line;
}

static void
add_lines (WsFindsLines *self, GPtrArray *lines, GHashTable *seen)
{
  const char *foray_id = NULL;

  for (guint i = 0; i < g_list_model_get_n_items (self->finds); i++)
    {
      g_autoptr (WsFindItem) item = g_list_model_get_item (self->finds, i);
      const WsFind *find = ws_find_item_get_find (item);
      const char *id = find->foray_id != NULL ? find->foray_id : "";

      if (self->only != NULL && !g_hash_table_contains (self->only, find->id))
        continue;
      if (foray_id == NULL || !g_str_equal (foray_id, id))
        {
          g_autofree char *key = g_strconcat ("foray ", id, NULL);

          g_ptr_array_add (lines, line_for (self, key, NULL, ws_find_item_get_foray (item)));
          g_hash_table_add (seen, lines->pdata[lines->len - 1]);
          foray_id = id;
        }
      g_ptr_array_add (lines, line_for (self, find->id, item, ws_find_item_get_foray (item)));
      g_hash_table_add (seen, lines->pdata[lines->len - 1]);
    }
}

void
ws_finds_lines_refresh (WsFindsLines *self)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  GHashTableIter iter;
  gpointer line;

  g_return_if_fail (WS_IS_FINDS_LINES (self));
  add_lines (self, lines, seen);
  ws_list_set_items (self->list, lines);
  g_hash_table_iter_init (&iter, self->lines);
  while (g_hash_table_iter_next (&iter, NULL, &line))
    if (!g_hash_table_contains (seen, line))
      g_hash_table_iter_remove (&iter);
}

static void
ws_finds_lines_finalize (GObject *object)
{
  WsFindsLines *self = WS_FINDS_LINES (object);

  g_clear_object (&self->finds);
  g_clear_object (&self->list);
  g_clear_pointer (&self->lines, g_hash_table_unref);
  g_clear_pointer (&self->only, g_hash_table_unref);
  G_OBJECT_CLASS (ws_finds_lines_parent_class)->finalize (object);
}

static void
ws_finds_lines_class_init (WsFindsLinesClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ws_finds_lines_finalize;
}

static void
ws_finds_lines_init (WsFindsLines *self)
{
  self->list = g_list_store_new (WS_TYPE_FINDS_LINE);
  self->lines = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
}

WsFindsLines *
ws_finds_lines_new (GListModel *finds)
{
  WsFindsLines *self = g_object_new (WS_TYPE_FINDS_LINES, NULL);

  self->finds = g_object_ref (finds);
  g_signal_connect_object (finds, "items-changed", G_CALLBACK (ws_finds_lines_refresh), self, G_CONNECT_SWAPPED);
  ws_finds_lines_refresh (self);
  return self;
}

GListModel *
ws_finds_lines_get_list (WsFindsLines *self)
{
  g_return_val_if_fail (WS_IS_FINDS_LINES (self), NULL);
  return G_LIST_MODEL (self->list);
}

void
ws_finds_lines_set_only (WsFindsLines *self, GHashTable *ids)
{
  g_return_if_fail (WS_IS_FINDS_LINES (self));
  if (ids != NULL)
    g_hash_table_ref (ids);
  g_clear_pointer (&self->only, g_hash_table_unref);
  self->only = ids;
  ws_finds_lines_refresh (self);
}

int
ws_finds_lines_get_place (WsFindsLines *self, const char *find_id)
{
  guint at;
  WsFindsLine *line;

  g_return_val_if_fail (WS_IS_FINDS_LINES (self), -1);
  line = g_hash_table_lookup (self->lines, find_id);
  return line != NULL && g_list_store_find (self->list, line, &at) ? (int) at : -1;
}
