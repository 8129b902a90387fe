/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

/* Makes @list hold @items (GObjects), replacing only the stretch that differs, so that selection and focus of
 * what stays are kept. */
void ws_list_set_items (GListStore *list, GPtrArray *items);
