/* SPDX-License-Identifier: GPL-3.0-or-later */
/* request.html: one file with everything inline, no network, readable without script. */
#pragma once

#include "ws-request-json.h"

/* @crops: WsPackageCrop for marks, full-size. (transfer full) */
typedef struct { const WsMark *mark; GBytes *jpeg; int width, height; } WsPackageCrop;
void ws_package_crop_free (WsPackageCrop *crop);

GBytes *ws_request_page (const WsRequest *request, GPtrArray *photos, GPtrArray *crops,
                         const WsKnowledge *knowledge) G_GNUC_WARN_UNUSED_RESULT;
