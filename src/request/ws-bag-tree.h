/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What lies in a bag, read once from a folder or a zip: every file with its size and the digests that the
 * names of the manifests ask for, and the text of the tag files that have a meaning. No link is followed,
 * no device opened. */
#pragma once

#include "ws-archive.h"
#include "ws-digest.h"

#define WS_BAG_N_KINDS (WS_DIGEST_MD5 + 1)
/* The largest tag file that is read, and all of them together, in bytes. */
#define WS_BAG_MAX_TAG_FILE (32 << 20)
#define WS_BAG_MAX_TAG_FILES (64 << 20)

typedef struct
{
  char *path;                      /* below the base folder */
  gboolean is_folder;
  guint64 size;
  char *digests[WS_BAG_N_KINDS];   /* (nullable): lower-case hexadecimal, by WsDigestKind */
  GBytes *content;                 /* (nullable): of a tag file with a meaning */
} WsBagEntry;

typedef struct
{
  GPtrArray *entries;              /* WsBagEntry, folders too, in the order of reading */
  GHashTable *by_path;             /* path → WsBagEntry */
  GPtrArray *faults;               /* of char*: what may not be in a bag at all */
  guint payload_kinds, tag_kinds;  /* bits of WsDigestKind to be worked out */
  gsize n_kept;                    /* bytes in all contents */
  char *wanted;                    /* (nullable): one payload file whose content is kept too */
} WsBagTree;

void ws_bag_tree_free (WsBagTree *tree);

/* Reads the folder open at @fd. @wanted (nullable): keeps the content of this file, and works out SHA-512 of
 * all payload whatever the manifests ask for. WS_ERROR_REFUSED when there is too much of it. Blocks. */
WsBagTree *ws_bag_tree_read_folder (int fd, const char *wanted, GCancellable *cancellable,
                                    GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* The same of a zip whose top level is one folder. WS_ERROR_REFUSED when it is not. Blocks. */
WsBagTree *ws_bag_tree_read_archive (WsArchive *archive, const char *wanted,
                                     GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* The name of the one top folder of @archive. (nullable) (transfer full): NULL with WS_ERROR_REFUSED */
char *ws_bag_tree_find_top (WsArchive *archive, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* (nullable) */
WsBagEntry *ws_bag_tree_find (const WsBagTree *tree, const char *path);

/* The algorithm of "manifest-ALGORITHM.txt" (with @prefix "manifest-"), NULL if @name is none. (transfer full)
 * (nullable) */
char *ws_bag_manifest_algorithm (const char *name, const char *prefix) G_GNUC_WARN_UNUSED_RESULT;

/* --- Shared by the files ws-bag-tree*.c ------------------------------------------------- */

WsBagTree *ws_bag_tree_new (const char *wanted) G_GNUC_WARN_UNUSED_RESULT;
/* Before the first file is read: the digests that a manifest of this name asks for. */
void ws_bag_tree_note_name (WsBagTree *tree, const char *path);
/* Borrowed. */
WsBagEntry *ws_bag_tree_add (WsBagTree *tree, const char *path, gboolean is_folder, guint64 size);
void ws_bag_tree_add_fault (WsBagTree *tree, const char *path, const char *what);
/* Sets WS_ERROR_REFUSED, and returns FALSE. */
gboolean ws_bag_tree_refuse (GError **error, const char *what);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsBagTree, ws_bag_tree_free)
