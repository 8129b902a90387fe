/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The small drawing of a state as a widget. */
#pragma once

#include <gtk/gtk.h>

/* NULL where no drawing is meant. @size px. */
GtkWidget *ws_state_picture_new (const char *character, const char *state, int size) G_GNUC_WARN_UNUSED_RESULT;
