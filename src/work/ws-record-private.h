/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Internal to work. */
#pragma once

#include <glib.h>

/* Sets WS_ERROR_INVALID; FALSE. */
gboolean ws_record_invalid (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);
