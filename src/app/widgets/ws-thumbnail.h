/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small print of a photo, as large as it is given room, never cropped. The picture comes when it is there. */
#pragma once

#include <gtk/gtk.h>

#include "ws-picture-loader.h"

#define WS_TYPE_THUMBNAIL (ws_thumbnail_get_type ())
G_DECLARE_FINAL_TYPE (WsThumbnail, ws_thumbnail, WS, THUMBNAIL, GtkWidget)

/* @size: longer edge in px the print asks for. */
GtkWidget *ws_thumbnail_new (WsPictureLoader *loader, int size) G_GNUC_WARN_UNUSED_RESULT;
/* @path: of the thumbnail file; @original (nullable): read instead where that one is missing. @digest: of the photo.
 * @description: what the photo is, for screen readers and as a tip ("DSC_0102.JPG, 14:03"). @path NULL: no photo. */
void ws_thumbnail_set_photo (WsThumbnail *self, const char *path, const char *original, const char *digest,
                             int full_width, int full_height, const char *description);
