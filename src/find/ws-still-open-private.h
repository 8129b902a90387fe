/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "ws-still-open.h"

/* The most telling evidence first. (transfer full) */
GArray *ws_still_open_next (const WsStillOpen *self, const WsKnowledge *knowledge, const char *const *met) G_GNUC_WARN_UNUSED_RESULT;
/* How many groups that are open now would not be with the conditions @met. */
void ws_still_open_count_more (const WsStillOpen *self, const WsKnowledge *knowledge, const char *const *met, guint *groups,
                               guint *weight);
