/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "ws-still-open.h"

/* How many groups that are open now would not be with the conditions @met. */
void ws_still_open_count_more (const WsStillOpen *self, const WsKnowledge *knowledge, const char *const *met, guint *groups,
                               guint *weight);
