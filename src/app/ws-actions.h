/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's commands and their keys, in one table that the keys and the list of shortcuts are both made of. */
#pragma once

#include <gtk/gtk.h>

/* Gives the application the keys of all commands. */
void ws_actions_set_keys (GtkApplication *application);
void ws_actions_show_shortcuts (GtkWindow *parent);
