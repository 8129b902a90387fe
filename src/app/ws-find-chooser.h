/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small window in which a find is picked, by number and name.
 *
 * Signal "chosen" (const char *find_id, const char *visit): @visit is "", "same" or "another"; always "" when visits
 * are not asked for. */
#pragma once

#include "ws-session.h"

#include <adwaita.h>

#define WS_TYPE_FIND_CHOOSER (ws_find_chooser_get_type ())
G_DECLARE_FINAL_TYPE (WsFindChooser, ws_find_chooser, WS, FIND_CHOOSER, AdwWindow)

/* @ask_visit: also asks whether the photos are of the same visit, or of a later one to the same or another specimen. */
WsFindChooser *ws_find_chooser_new (WsSession *session, const char *title, gboolean ask_visit) G_GNUC_WARN_UNUSED_RESULT;
