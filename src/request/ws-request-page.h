/* SPDX-License-Identifier: GPL-3.0-or-later */
/* request.html: one file with everything inline, no network, readable without script. */
#pragma once

#include "ws-figure.h"
#include "ws-request-json.h"

/* One mark as a picture of its own, cut out of the original with covered regions painted over. */
typedef struct { const WsMark *mark; GBytes *jpeg; int width, height; } WsPackageCrop;
void ws_package_crop_free (WsPackageCrop *crop);

/* What the page may have beside the request. */
typedef struct
{
  const WsFigure *figure;          /* (nullable): to choose on what is to be photographed next */
  GBytes *plate;                   /* (nullable): JPEG, shown on wide screens */
  int plate_width, plate_height;   /* px */
  const char *json_digest;         /* (nullable): SHA-512 of the request.json; without it there is no form */
} WsPageExtras;

/* The page in the request's language, every text of it from the knowledge tables ("page" and others) or of the
 * request, escaped. @photos: WsPackagePhoto with a page_jpeg; @crops: WsPackageCrop. @extras (nullable). (transfer full) */
GBytes *ws_request_page (const WsRequest *request, GPtrArray *photos, GPtrArray *crops,
                         const WsKnowledge *knowledge, const WsPageExtras *extras) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPackageCrop, ws_package_crop_free)
