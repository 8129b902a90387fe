/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The identification-request package: a bag in a zip (design: the package). */
#pragma once

#include "ws-bag.h"
#include "ws-request-json.h"

typedef void (*WsPackageProgress) (guint done, guint total, gpointer data);

/* Makes the package of @request at @path. @photo_paths: photo id to path of the original. Makes the
 * copies (covered regions painted over, metadata by allow-list), the page and the JSON. @page_path
 * (nullable): also saves the page there. @json_digest (out): SHA-512 of request.json. Blocks. */
gboolean ws_package_write (const WsRequest *request, GHashTable *photo_paths, const WsKnowledge *knowledge,
                           const char *path, const char *page_path, WsPackageProgress progress, gpointer data,
                           GCancellable *cancellable, char **json_digest, GError **error);

typedef enum { WS_REQUEST_NONE, WS_REQUEST_VALID, WS_REQUEST_INVALID } WsRequestVerdict;
typedef struct { WsBagVerdict *bag; WsRequestVerdict request; } WsPackageVerdict;
void ws_package_verdict_free (WsPackageVerdict *verdict);

/* The bag by RFC 8493 and, if it holds data/request.json, the request beyond that; faults of the request are added to
 * the bag's errors. */
WsPackageVerdict *ws_package_verify (const char *path, GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPackageVerdict, ws_package_verdict_free)
