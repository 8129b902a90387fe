/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rules of RFC 8493 over what lies in a bag. Pure: the tree was read before. */
#pragma once

#include "ws-bag-text.h"
#include "ws-bag-tree.h"
#include "ws-bag.h"

/* At most so many errors, and as many warnings, are told of one bag. */
#define WS_BAG_MAX_TOLD 200

/* ws_bag_verify() that also hands out what was read; *@tree stays NULL when the bag was refused. */
WsBagVerdict *ws_bag_verify_tree (const char *path, const char *wanted, WsBagTree **tree, GCancellable *cancellable,
                                  GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Adds what is wrong with @tree to @verdict, and sets whether it is valid. */
void ws_bag_check (const WsBagTree *tree, WsBagVerdict *verdict);

WsBagVerdict *ws_bag_verdict_new (void) G_GNUC_WARN_UNUSED_RESULT;
void ws_bag_verdict_add_error (WsBagVerdict *verdict, const char *format, ...) G_GNUC_PRINTF (2, 3);
void ws_bag_verdict_add_warning (WsBagVerdict *verdict, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* --- Shared by the files ws-bag-check*.c ------------------------------------------------ */

/* A check under way. */
typedef struct
{
  const WsBagTree *tree;
  WsBagVerdict *verdict;
  int version;             /* hundredths */
  char *encoding;
  GHashTable *by_form;     /* path in normal form → WsBagEntry */
  GHashTable *to_fetch;    /* paths of fetch.txt → number of payload manifests that list it */
} WsBagCheck;

/* A fault against a rule that only 1.0 states: an error there, a warning in older bags. */
void ws_bag_check_add (WsBagCheck *check, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* The text of a tag file in UTF-8, to be cut into lines. NULL after adding an error. (transfer full) (nullable) */
char *ws_bag_check_dup_text (WsBagCheck *check, const WsBagEntry *file) G_GNUC_WARN_UNUSED_RESULT;

/* The entry of the path as written in a manifest, also if only the normal form agrees (then *@inexact). (nullable) */
WsBagEntry *ws_bag_check_resolve (WsBagCheck *check, const char *path, gboolean *inexact);

/* The path written in @file, line @line, unescaped; NULL after adding an error when it leads outside. (transfer
 * full) (nullable) */
char *ws_bag_check_dup_path (WsBagCheck *check, const char *file, guint line,
                             const char *path) G_GNUC_WARN_UNUSED_RESULT;

/* Checks the lines of a manifest. Returns the set of WsBagEntry that it lists. */
GHashTable *ws_bag_check_manifest (WsBagCheck *check, const WsBagEntry *file, const char *algorithm,
                                   gboolean of_tags) G_GNUC_WARN_UNUSED_RESULT;

/* Checks bag-info.txt (in the oldest bags package-info.txt). */
void ws_bag_check_info (WsBagCheck *check, const WsBagEntry *file);

/* Reads fetch.txt, if there is one, into to_fetch. */
void ws_bag_check_read_fetch (WsBagCheck *check);
/* After the manifests: every file to be fetched stands in every payload manifest (before 1.0: in one). */
void ws_bag_check_fetch (WsBagCheck *check, guint n_manifests);
