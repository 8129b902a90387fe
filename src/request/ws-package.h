/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The identification-request package: a bag in a zip (design: the package). */
#pragma once

#include "ws-bag.h"
#include "ws-plate-file.h"
#include "ws-request-json.h"

typedef void (*WsPackageProgress) (guint done, guint total, gpointer data);

/* Longer edge in px of the photos on the page, and the most of a close-up, which is cut out at full size. */
#define WS_PACKAGE_PAGE_EDGE 1280
#define WS_PACKAGE_CROP_EDGE 3000

/* Makes the package of @request at @path. @photo_paths: photo id to path of the original. Makes the copies (covered
 * regions painted over, metadata by allow-list), the page and the JSON. Files are named after the collecting number
 * and a counter, never after the original. @page_path (nullable): also saves the page there. @plate (nullable): adds plate.pdf.
 * @limit: the most bytes that the file may have, 0 as many as it takes: to stay below it pictures are made smaller, marked
 * parts last, and the page says so; WS_ERROR_TOO_LARGE when that is not enough. @json_digest (out)
 * (optional): SHA-512 of request.json. Cancelled or failed, nothing of it is there. The progress goes from 0 to
 * @total in the calling thread. WS_ERROR_REFUSED when the base is required and not shown, no reason is given and it is
 * no emergency; WS_ERROR_NOT_FOUND for a photo without path or file. Blocks. */
gboolean ws_package_write (const WsRequest *request, GHashTable *photo_paths, const WsKnowledge *knowledge,
                           const char *path, const char *page_path, const WsPlateWish *plate, guint64 limit,
                           WsPackageProgress progress, gpointer data, GCancellable *cancellable, char **json_digest,
                           GError **error);

typedef enum { WS_REQUEST_NONE, WS_REQUEST_VALID, WS_REQUEST_INVALID } WsRequestVerdict;
typedef struct { WsBagVerdict *bag; WsRequestVerdict request; } WsPackageVerdict;
void ws_package_verdict_free (WsPackageVerdict *verdict);

/* The bag by RFC 8493 and, if it holds data/request.json, the request beyond that: the members of the JSON, the page
 * there, every photo there with the digest told. Faults of the request are added to the bag's errors, but leave
 * bag->valid as it is. NULL with an error as ws_bag_verify(). */
WsPackageVerdict *ws_package_verify (const char *path, GCancellable *cancellable,
                                     GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPackageVerdict, ws_package_verdict_free)
