/* SPDX-License-Identifier: GPL-3.0-or-later */
/* request.json, format WS_REQUEST_FORMAT: schema in data/schema/request-0.2.schema.json. */
#pragma once

#include <gio/gio.h>

#include "ws-evidence.h"
#include "ws-request.h"

#define WS_REQUEST_FORMAT "0.2"
#define WS_REQUEST_FORMAT_MAJOR 0
/* The largest request.json that is read. */
#define WS_REQUEST_MAX_BYTES (16 << 20)

/* One photo as it goes into the package. */
typedef struct
{
  const WsPhoto *photo;  /* of the request's find */
  char *name;            /* "data/photos/25-101-01.jpg" */
  char *digest;          /* SHA-512 of the copy */
  int width, height;     /* of the copy */
  GBytes *page_jpeg;     /* screen-size picture for the page */
} WsPackagePhoto;
void ws_package_photo_free (WsPackagePhoto *photo);
/* TRUE if the copy has fewer pixels than the photo. */
gboolean ws_package_photo_is_reduced (const WsPackagePhoto *photo);
/* How the photo belongs to @find; NULL if it does not. Borrowed. */
const WsFindPhoto *ws_package_photo_get_link (const WsPackagePhoto *photo, const WsFind *find);

/* Ids and texts in the request's language. (transfer full) */
GBytes *ws_request_to_json (const WsRequest *request, GPtrArray *photos,
                            const WsKnowledge *knowledge) G_GNUC_WARN_UNUSED_RESULT;

/* Reads and checks a request.json. Members that are not known are ignored; they are kept because the package is
 * kept as it came. Collects every fault into @faults (of char*) when given. The path of a photo is its name in the
 * package, its digest that of the copy; marks, notes, sizes and find are as old as the request; of the answers it is only known who wishes what; the states in the
 * evidence list are not taken over (judge them again), the excuses are; nothing is only mine, nothing covered.
 * WS_ERROR_UNREADABLE, _TOO_LARGE, _NEWER_FORMAT, _INVALID (the first fault). */
WsRequest *ws_request_from_json (GBytes *bytes, GPtrArray *faults, GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPackagePhoto, ws_package_photo_free)
