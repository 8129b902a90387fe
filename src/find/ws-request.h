/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A request: a find as made up for somebody. Immutable once made; a corrected one replaces it. */
#pragma once

#include "ws-values.h"

typedef struct
{
  gatomicrefcount refs;
  char *id;
  char *replaces;        /* (nullable): id of the request it replaces */
  gint64 made_us;        /* UTC, microseconds; handed in, this layer has no clock */
  char *language;        /* of the texts in the package: "en" */
  char *from;            /* who asks, as they want to be called */
  char *to;              /* whom */
  char *question;        /* what is asked */
  char *asked_elsewhere; /* who else was asked */
  WsTellPlace tell_place;
  WsPosition place;      /* as told: already generalised */
  char *region;          /* country and region as the sender typed them; "" unless told that way */
  char *without_base;    /* "" or the reason why the base is not shown */
  gboolean keep_time;    /* the photos keep their time */
  gboolean keep_camera;  /* … and the camera's model */
  gboolean emergency;    /* eaten, or perhaps eaten */
  char *call_back;       /* number to call back, emergencies */
  char *knowledge_digest;
  WsFind *find;          /* as sent: only_mine is "", where is the told place, photos without
                            path; see ws_request_dup_sendable_find() */
} WsRequest;

WS_DECLARE_VALUE (WsRequest, ws_request)
#define WS_TYPE_REQUEST (ws_request_get_type ())

/* A copy of @find with everything private taken out: only-mine text, paths, companion files,
 * camera make when not @keep_camera, the place in words where ws_tell_place_has_locality() says no, exact
 * positions of photos and find (the told place instead), times of day when not @keep_time (the date stays),
 * set-aside photos with their marks, scales and measurements; of answers all but the id, who gave it and the
 * wishes, and replaced ones whole. Names stay, warnings and withdrawn ones too. */
WsFind *ws_request_dup_sendable_find (const WsFind *find, WsTellPlace tell, gboolean keep_time,
                                      gboolean keep_camera) G_GNUC_WARN_UNUSED_RESULT;

/* "7B3F-09A1": the short code by which a request is named in a mail; the first half of its id. (transfer full) */
char *ws_request_dup_code (const WsRequest *request) G_GNUC_WARN_UNUSED_RESULT;

/* "25-101 2025-10-04": what files are named after; no place in it. (transfer full) */
char *ws_request_dup_file_stem (const WsRequest *request) G_GNUC_WARN_UNUSED_RESULT;
