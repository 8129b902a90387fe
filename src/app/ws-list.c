/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-list.h"

static gboolean
same_at (GListModel *list, guint at, GPtrArray *items, guint wanted)
{
  g_autoptr (GObject) item = g_list_model_get_item (list, at);

  return item == g_ptr_array_index (items, wanted);
}

void
ws_list_set_items (GListStore *store, GPtrArray *items)
{
  GListModel *list = G_LIST_MODEL (store);
  guint n = g_list_model_get_n_items (list), head = 0, tail = 0;

  while (head < n && head < items->len && same_at (list, head, items, head))
    head++;
  while (tail < n - head && tail < items->len - head
         && same_at (list, n - 1 - tail, items, items->len - 1 - tail))
    tail++;
  if (head + tail < n || head + tail < items->len)
    g_list_store_splice (store, head, n - head - tail, items->pdata + head, items->len - head - tail);
}

void
ws_list_name_row (GtkListItem *list_item, const char *name)
{
  GtkWidget *child = gtk_list_item_get_child (list_item), *row = child != NULL ? gtk_widget_get_parent (child) : NULL;

  if (row != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}
