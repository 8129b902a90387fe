/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The copy of a photo that leaves the house: an upright JPEG whose metadata are rebuilt by an
 * allow-list, with covered regions painted over before encoding and nothing after the image. */
#pragma once

#include <gio/gio.h>

#include "ws-moment.h"
#include "ws-shape.h"

typedef struct
{
  int max_edge;            /* px; 0 keeps the size */
  int quality;             /* JPEG quality where it is encoded */
  GPtrArray *covers;       /* (nullable): const WsShape, painted over */
  const WsRect *crop;      /* (nullable): only this region */
  const WsMoment *taken;   /* (nullable): written as DateTimeOriginal with offset */
  const char *make, *model;/* (nullable): written */
  const char *description; /* (nullable): ImageDescription */
} WsCopyOptions;

typedef struct
{
  GBytes *jpeg;
  int width, height;
  gboolean scan_kept;      /* the compressed data are those of the original */
} WsPhotoCopy;

/* An upright sRGB JPEG that is not to be shrunk, cropped or covered keeps its scan data;
 * everything else is encoded once. Blocks. */
WsPhotoCopy *ws_photo_copy_make (const char *path, const WsCopyOptions *options,
                                 GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
void ws_photo_copy_free (WsPhotoCopy *copy);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPhotoCopy, ws_photo_copy_free)
