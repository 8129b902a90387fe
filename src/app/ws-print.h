/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prints: photos of the library as small pictures, alone and in lists from which some are taken. */
#pragma once

#include <gtk/gtk.h>

#include "ws-photo-item.h"
#include "ws-session.h"
#include "ws-thumbnail.h"

/* A print of @photo (nullable: none yet) that asks for @size px. */
GtkWidget *ws_print_new (WsSession *session, const WsPhoto *photo, int size) G_GNUC_WARN_UNUSED_RESULT;
void ws_print_show (WsThumbnail *print, WsSession *session, const WsPhoto *photo);

/* Makes prints for the WsPhotoItems of a list. (transfer full) */
GtkListItemFactory *ws_print_factory_new (WsSession *session, int size) G_GNUC_WARN_UNUSED_RESULT;
/* Ids of the photos that are taken in a list of WsPhotoItem. (transfer full) */
char **ws_prints_dup_taken (GtkSelectionModel *selection) G_GNUC_WARN_UNUSED_RESULT;
