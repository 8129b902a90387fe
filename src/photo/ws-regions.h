/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marked regions as IPTC image regions in XMP, which general readers of metadata show. Private to the photo layer
 * but for WsRegion, which ws-photo-copy.h takes. */
#pragma once

#include <gio/gio.h>

#include "ws-shape.h"

/* One region of an upright picture. The strings belong to whoever made it. */
typedef struct
{
  const WsShape *shape;
  const char *id;           /* unique in the picture */
  const char *name;         /* in words */
  const char *kind;         /* (nullable): IRI of what is shown */
  const char *kind_name;    /* (nullable): the same in words */
} WsRegion;

/* The body of an APP1 segment, at most 65533 bytes, with nothing in it but the regions (Iptc4xmpExt:ImageRegion, IPTC
 * Photo Metadata 2019.1 and later; fractions of the upright picture, which is the stored one). A box becomes a
 * rectangle, an oval that is round in pixels a circle with its radius as a fraction of the width, other ovals and
 * outlines become polygons. Outlines with more corners than there is room for lose those that matter least; what has
 * no room even as a rectangle is left out from the end. NULL when there are none.
 *
 * @regions: const WsRegion. @language: of the names. */
GBytes *ws_regions_to_xmp (const WsRegion *regions, guint n_regions, const char *language, int width,
                           int height) G_GNUC_WARN_UNUSED_RESULT;

/* The corners of a shape as a polygon of at most @most (>= 4) corners. (element-type WsPoint) (transfer full) */
GArray *ws_regions_polygon (const WsShape *shape, guint most) G_GNUC_WARN_UNUSED_RESULT;
