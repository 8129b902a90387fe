/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Identifiers: lower-case UUIDs (RFC 4122 text form) for every foray, find,
 * photo, mark, note, request, answer and name. */
#pragma once

#include <glib.h>

/* A new random (version 4) UUID. (transfer full) */
char *ws_id_new (void) G_GNUC_WARN_UNUSED_RESULT;

/* TRUE if @text is a UUID in lower- or upper-case text form. NULL is not. */
gboolean ws_id_is_valid (const char *text);
