/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which files of the given paths are photos: folders are walked, pairs joined. Internal to work. */
#pragma once

#include "ws-import.h"

typedef struct
{
  char *path;
  char *companion;   /* (nullable): raw file or clip of the same name */
} WsImportFile;
void ws_import_file_free (WsImportFile *file);

/* (transfer full): WsImportFile in order of path. What is not a photo goes to @passed_over. */
GPtrArray *ws_import_scan (const char *const *paths, GPtrArray *passed_over, GCancellable *cancellable) G_GNUC_WARN_UNUSED_RESULT;
void ws_import_pass_over (GPtrArray *passed_over, const char *path, const char *why);

/* TRUE if the file lies on a removable medium (the kernel says so of its device, or the medium has the
 * DCIM folder that cameras make at its top). */
gboolean ws_import_is_removable (const char *path);
/* Copies the file into @folder under its own name (a number is added when another file has it),
 * flushes it and compares digests. A copy of the same content that is there already is used. NULL with an
 * error. (transfer full) */
char *ws_import_copy_file (const char *path, const char *folder, GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
