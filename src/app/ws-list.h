/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

/* Makes @list hold @items (GObjects), replacing only the stretch that differs, so that selection and focus of
 * what stays are kept. */
void ws_list_set_items (GListStore *list, GPtrArray *items);
/* Names the row that gets the focus, which is the list's own, after what its child says. Call it in "bind". */
void ws_list_name_row (GtkListItem *list_item, const char *name);
