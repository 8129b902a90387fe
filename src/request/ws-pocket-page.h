/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The go-back list for the pocket: one HTML file for the phone, everything inline, no script, nothing fetched. It tells the
 * places exactly and is for the finder alone. */
#pragma once

#include "ws-go-back.h"

/* @list: WsGoBackFind, seen at @now_us. (transfer full) */
GBytes *ws_pocket_page (GPtrArray *list, gint64 now_us, const WsKnowledge *knowledge, const char *language) G_GNUC_WARN_UNUSED_RESULT;
