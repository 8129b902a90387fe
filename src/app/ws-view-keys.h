/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One key for each view, with which the shown photo is labelled. */
#pragma once

#include <glib.h>

/* 'u' for v_under; 0 when the view has none. */
char ws_view_key (const char *view);
/* NULL when no view has that key (lower case). */
const char *ws_view_of_key (guint keyval);
