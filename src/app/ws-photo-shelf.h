/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loose prints tucked into the front of the book: photos that are in no find yet, to be taken one or several, by
 * pointer or keyboard, and made into finds. Hidden when there are none.
 *
 * Signal "sort" (): the person wants all of them sorted into finds by time and place. */
#pragma once

#include <gtk/gtk.h>

#include "ws-session.h"

#define WS_TYPE_PHOTO_SHELF (ws_photo_shelf_get_type ())
G_DECLARE_FINAL_TYPE (WsPhotoShelf, ws_photo_shelf, WS, PHOTO_SHELF, GtkWidget)

/* In a template; the session is given once afterwards. */
void ws_photo_shelf_set_session (WsPhotoShelf *self, WsSession *session);
