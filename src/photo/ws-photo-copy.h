/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The copy of a photo that leaves the house: an upright JPEG whose metadata are rebuilt by an
 * allow-list, with covered regions painted over before encoding and nothing after the image. */
#pragma once

#include <gio/gio.h>

#include "ws-moment.h"
#include "ws-regions.h"

typedef struct
{
  int max_edge;            /* px, of the copy; 0 keeps the size */
  int quality;             /* JPEG quality 1-100 where it is encoded; 0 for the usual 88 */
  GPtrArray *covers;       /* (nullable): const WsShape, painted over: every pixel they touch */
  const WsRect *crop;      /* (nullable): only this region */
  const WsMoment *taken;   /* (nullable): the corrected time, written as DateTimeOriginal to the
                              second, with its offset where that is known */
  const char *make, *model;/* (nullable): written */
  const char *description; /* (nullable): ImageDescription */
  GArray *regions;         /* (nullable): of WsRegion, written as IPTC image regions; not with a crop */
  const char *language;    /* (nullable): of the regions' names, "en" */
} WsCopyOptions;

typedef struct
{
  GBytes *jpeg;
  int width, height;
  gboolean scan_kept;      /* the compressed data are those of the original */
} WsPhotoCopy;

/* An upright sRGB JPEG that is not to be shrunk, cropped or covered keeps its scan data;
 * everything else is encoded once. Nothing of the original's metadata is taken over: what is to
 * stand in the copy is told in @options. Blocks. Errors as ws_photo_read(), and WS_ERROR_INVALID
 * for a crop that is no valid rectangle. */
WsPhotoCopy *ws_photo_copy_make (const char *path, const WsCopyOptions *options,
                                 GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
void ws_photo_copy_free (WsPhotoCopy *copy);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPhotoCopy, ws_photo_copy_free)
