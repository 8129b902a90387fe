/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pictures of a package: each photo as a copy and for the page, each marked part cut out. Shared by the files
 * ws-package*.c only. */
#pragma once

#include "ws-package-size.h"
#include "ws-photo-copy.h"
#include "ws-knowledge.h"

typedef struct
{
  const WsRequest *request;
  GHashTable *paths;            /* photo id to path of the original */
  const WsKnowledge *knowledge;
  guint step;                   /* of ws-package-size.h */
  GHashTable *made;             /* (nullable): what was made before, by what it is and its size */
  void (*tell) (gpointer data); /* (nullable): one more picture is there */
  gpointer data;
  GCancellable *cancellable;
} WsPackagePictures;

/* The copy that travels in photos/: with the time and the camera where they may be told, and with the marks. */
WsPhotoCopy *ws_package_pictures_copy (WsPackagePictures *self, const WsPhoto *photo, GError **error) G_GNUC_WARN_UNUSED_RESULT;
WsPhotoCopy *ws_package_pictures_page (WsPackagePictures *self, const WsPhoto *photo, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Of a mark that is not the whole photo. */
WsPhotoCopy *ws_package_pictures_closeup (WsPackagePictures *self, const WsMark *mark, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Makes the pictures, keeps them in @made, and sets @step to the first one at which they leave room for the rest below
 * @limit bytes. WS_ERROR_TOO_LARGE when there is none. Blocks. */
gboolean ws_package_pictures_fit (WsPackagePictures *self, guint64 limit, GError **error);
