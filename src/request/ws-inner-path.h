/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Paths inside a bag or an archive, as strangers write them: what makes one refused, and how one is
 * shown in a message. Pure. */
#pragma once

#include <glib.h>

/* The longest path in bytes, and the most folders above a file, that are read. */
#define WS_INNER_PATH_MAX 1000
#define WS_INNER_PATH_MAX_DEPTH 32

/* Why @path may lead outside the bag or is no plain relative path: a translated clause ("it is an
 * absolute path"), NULL when nothing is wrong. Absolute, "..", "~", drive letters, UNC, empty or "."
 * parts, control characters that end a text, over the limits. (nullable) */
const char *ws_inner_path_fault (const char *path);

/* Why other systems cannot hold a file of this name (Windows' letters, devices, length; control
 * characters): a translated clause, NULL when they can. (nullable) */
const char *ws_inner_path_nuisance (const char *path);

/* The path as it may stand in a message: valid UTF-8, control and direction characters written as
 * codes, at most about 120 characters. (transfer full) */
char *ws_inner_path_quote (const char *path) G_GNUC_WARN_UNUSED_RESULT;

/* What two paths share that differ only in Unicode normal form; and, with @fold_case, in case.
 * (transfer full) */
char *ws_inner_path_key (const char *path, gboolean fold_case) G_GNUC_WARN_UNUSED_RESULT;
