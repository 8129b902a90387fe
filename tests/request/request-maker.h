/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An invented find and request, and the real knowledge tables, for the tests of src/request. */
#pragma once

#include "ws-request-json.h"

/* What must never leave, and coordinates whose digits a search can find. */
#define MAKER_ONLY_MINE "Heidelbeerwinkel hinter dem dritten Hochsitz"
#define MAKER_LATITUDE 51.987654321
#define MAKER_LONGITUDE 9.123456789
#define MAKER_SCRIPT "<script>alert('x')</script>&<b onload=\"y\">"

/* From data/knowledge of the source tree. */
WsKnowledge *maker_knowledge (void);

/* A gilled find with two photos, four marks (of every shape), three notes, an excuse and a cover, all of it with
 * signs that need escaping. @with_base: a mark that shows the base. (transfer full) */
WsFind *maker_find (gboolean with_base);
/* The same with a timed series of two notes, a scale, two measurements, a list of spores, two names (one warns and is
 * withdrawn) and an answer with two wishes, whose own words are secret. (transfer full) */
WsFind *maker_rich_find (gboolean with_base);
/* A request of it, made as the program makes one. (transfer full) */
WsRequest *maker_request (gboolean with_base, WsTellPlace tell, const char *language);
WsRequest *maker_rich_request (gboolean with_base, WsTellPlace tell, const char *language);
/* Two WsPackagePhoto for the photos of the request, with made-up bytes. (transfer full) */
GPtrArray *maker_package_photos (const WsRequest *request);
