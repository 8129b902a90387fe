/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files that appear whole or not at all: written under a temporary name in the
 * target's folder, flushed to the disk, then renamed. */
#pragma once

#include <gio/gio.h>

typedef struct _WsSafeFile WsSafeFile;

/* Opens a temporary file beside @path. The folder must exist. */
WsSafeFile *ws_safe_file_open (const char *path, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* The descriptor to write to, and the temporary name (borrowed). */
int ws_safe_file_get_fd (WsSafeFile *file);
const char *ws_safe_file_get_temporary (WsSafeFile *file);
gboolean ws_safe_file_write (WsSafeFile *file, gconstpointer data, gsize size, GError **error);
/* Flushes, renames over @path and flushes the folder. */
gboolean ws_safe_file_commit (WsSafeFile *file, GError **error);
/* Removes the temporary file unless committed, and frees. */
void ws_safe_file_free (WsSafeFile *file);

/* The three above in one. Blocks. */
gboolean ws_file_write (const char *path, gconstpointer data, gsize size, GError **error);
/* Reads a whole regular file of at most @limit bytes. Blocks. Errors name the file:
 * WS_ERROR_NOT_FOUND, _TOO_LARGE, _UNREADABLE (a folder, a pipe), _FAILED. */
GBytes *ws_file_read (const char *path, gsize limit, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Removes a folder and all below it; follows no link. Blocks. */
gboolean ws_file_remove_tree (const char *path, GError **error);

/* A name for a file made of @text: letters, digits, dots, hyphens; "find" if nothing is left.
 * At most 80 bytes. (transfer full) */
char *ws_file_name_from (const char *text) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsSafeFile, ws_safe_file_free)
