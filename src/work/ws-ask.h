/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Asking somebody: the request package. */
#pragma once

#include "ws-desk.h"
#include "ws-package-size.h"
#include "ws-request.h"

typedef struct
{
  const char *language;        /* (nullable): the desk's */
  const char *from, *to, *question, *asked_elsewhere;   /* (nullable) */
  WsTellPlace tell_place;
  const char *region;          /* (nullable): country and region, for WS_TELL_REGION; else what the last request said */
  const char *without_base;    /* (nullable): reason */
  const char *replaces;        /* (nullable) */
  gboolean keep_time, keep_camera;
  guint64 max_bytes;           /* of the package: see ws_package_write(); 0 nothing is reduced */
  gboolean emergency;
  const char *call_back;       /* (nullable) */
} WsAskOptions;
#define WS_ASK_OPTIONS_INIT { .tell_place = WS_TELL_HUNDREDTH, .keep_time = TRUE, .max_bytes = WS_SIZE_WITHIN_MAIL }

/* What the request would hold. WS_ERROR_REFUSED when the base is missing, no reason is given and it is no
 * emergency. */
WsRequest *ws_ask_prepare (WsDesk *desk, const WsFind *find, const WsAskOptions *options, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Makes the package at @path (NULL: only in the library's sent/), keeps a copy in sent/ and records the request. @page: also saves
 * the page beside it. A cancel before the package is in place leaves nothing. @package (out): where it lies. */
gboolean ws_ask (WsDesk *desk, const char *find_id, const WsAskOptions *options, const char *path, gboolean page,
                 WsProgress progress, gpointer data, GCancellable *cancellable, char **package, GError **error);
