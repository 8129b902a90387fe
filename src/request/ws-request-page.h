/* SPDX-License-Identifier: GPL-3.0-or-later */
/* request.html: one file with everything inline, no network, readable without script. */
#pragma once

#include "ws-request-json.h"

/* One mark as a picture of its own, cut out of the original with covered regions painted over. */
typedef struct { const WsMark *mark; GBytes *jpeg; int width, height; } WsPackageCrop;
void ws_package_crop_free (WsPackageCrop *crop);

/* The page in the request's language, every text of it from the knowledge tables ("page" and others) or of the
 * request, escaped. @photos: WsPackagePhoto with a page_jpeg; @crops: WsPackageCrop. (transfer full) */
GBytes *ws_request_page (const WsRequest *request, GPtrArray *photos, GPtrArray *crops,
                         const WsKnowledge *knowledge) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPackageCrop, ws_package_crop_free)
