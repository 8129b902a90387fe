/* SPDX-License-Identifier: GPL-3.0-or-later */
/* BagIt (RFC 8493, versions 0.93-1.0): checks any bag, as a folder or inside a zip, and writes
 * ours. Reading never writes anything. */
#pragma once

#include <gio/gio.h>

typedef struct
{
  gboolean valid;
  GPtrArray *errors;     /* of char*, translated sentences that name file and rule */
  GPtrArray *warnings;
} WsBagVerdict;

void ws_bag_verdict_free (WsBagVerdict *verdict);

/* Checks the bag at @path (folder, or zip with one top folder). NULL with an error only when the path is
 * missing or is neither (WS_ERROR_NOT_FOUND, _UNREADABLE); a refused archive (traversal, bomb, …) is a
 * verdict that is not valid. Blocks; bounded memory. */
WsBagVerdict *ws_bag_verify (const char *path, GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Reads one file of a bag (path below the top folder, "data/request.json") of at most @limit bytes. NULL with
 * WS_ERROR_NOT_FOUND, … */
GBytes *ws_bag_read_file (const char *path, const char *inside, gsize limit,
                          GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* A bag being written into a zip that appears whole or not at all. */
typedef struct _WsBagWriter WsBagWriter;
/* @top: name of the one top folder. @path: the zip to be. */
WsBagWriter *ws_bag_writer_new (const char *path, const char *top, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Adds "data/…"; stored, not packed, when @store. */
gboolean ws_bag_writer_add (WsBagWriter *writer, const char *inside, GBytes *bytes, gboolean store, GError **error);
/* bag-info.txt labels, in order. */
void ws_bag_writer_add_info (WsBagWriter *writer, const char *label, const char *value);
/* The most bytes that the zip may have, 0 as many as it takes. */
void ws_bag_writer_set_limit (WsBagWriter *writer, guint64 limit);
/* Writes the manifests and tag files, closes and renames. WS_ERROR_TOO_LARGE when the zip passes the limit: then
 * nothing is there. */
gboolean ws_bag_writer_finish (WsBagWriter *writer, GError **error);
/* Without finish nothing stays behind. */
void ws_bag_writer_free (WsBagWriter *writer);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsBagVerdict, ws_bag_verdict_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsBagWriter, ws_bag_writer_free)
