/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of spore sizes, shared by the reader of lists and that of published notations. Each take_ moves @text behind
 * what it took, or leaves it and gives FALSE. */
#pragma once

#include <gio/gio.h>

void ws_spore_skip_blanks (const char **text);
/* "8.2" or "8,2", at most 8 digits; a comma counts only with a digit right behind it. */
gboolean ws_spore_take_number (const char **text, double *number);
/* x, X, × or *, with blanks round it. */
gboolean ws_spore_take_times (const char **text);
/* WS_ERROR_INVALID by @format with one %s: the first 60 letters of @rest. */
void ws_spore_fail (GError **error, const char *format, const char *rest);
