/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Manifests and tag manifests, line by line (RFC 8493, 2.1.3 and 2.2.1). */
#include "ws-bag-check.h"

#include "ws-intl.h"

#include <string.h>

/* One manifest under check. */
typedef struct
{
  WsBagCheck *check;
  const char *file;
  gboolean of_tags;
  gboolean known;          /* the algorithm can be worked out here */
  WsDigestKind kind;
  guint line;
  GHashTable *listed;      /* WsBagEntry → check sum (char*) */
  GHashTable *inexact;     /* those of them first listed in another Unicode form */
  GHashTable *missing;     /* paths listed that are not there */
} Manifest;

static gsize
hex_length (WsDigestKind kind)
{
  static const gsize lengths[] = { [WS_DIGEST_SHA512] = 128, [WS_DIGEST_SHA384] = 96, [WS_DIGEST_SHA256] = 64,
                                   [WS_DIGEST_SHA224] = 56,  [WS_DIGEST_SHA1] = 40,   [WS_DIGEST_MD5] = 32 };

  return lengths[kind];
}

/* TRUE when the path may be in this kind of manifest. */
static gboolean
check_kind_of_path (Manifest *manifest, const char *path, const char *quoted)
{
  gboolean payload = g_str_has_prefix (path, "data/");

  if (!manifest->of_tags && !payload)
    {
      ws_bag_verdict_add_error (manifest->check->verdict, _("%s, line %u: “%s” is not below data/"), manifest->file,
                                manifest->line, quoted);
      return FALSE;
    }
  if (manifest->of_tags && payload)
    ws_bag_check_add (manifest->check, _("%s, line %u: “%s” is payload, which a tag manifest does not list"),
                      manifest->file, manifest->line, quoted);
  if (manifest->of_tags && g_str_has_prefix (path, "tagmanifest-") && strchr (path, '/') == NULL)
    ws_bag_check_add (manifest->check, _("%s, line %u: “%s” is a tag manifest, which a tag manifest does not list"),
                      manifest->file, manifest->line, quoted);
  return TRUE;
}

/* A second line for the same file is an error in 1.0, and always when the check sums differ. */
static void
check_twice (Manifest *manifest, const char *before, const char *checksum, const char *quoted, gboolean inexact)
{
  if (!g_str_equal (before, checksum))
    ws_bag_verdict_add_error (manifest->check->verdict,
                              _("%s, line %u: “%s” is listed before with another check sum"),
                              manifest->file, manifest->line, quoted);
  else if (inexact)
    ws_bag_verdict_add_warning (manifest->check->verdict,
                                _("%s, line %u: “%s” is listed before in another Unicode form"), manifest->file,
                                manifest->line, quoted);
  else
    ws_bag_check_add (manifest->check, _("%s, line %u: “%s” is listed twice"), manifest->file, manifest->line,
                      quoted);
}

static void
add_missing (Manifest *manifest, const char *path, const char *checksum, const char *quoted)
{
  WsBagVerdict *verdict = manifest->check->verdict;
  const char *before = g_hash_table_lookup (manifest->missing, path);

  if (before != NULL)
    {
      check_twice (manifest, before, checksum, quoted, FALSE);
      return;
    }
  g_hash_table_insert (manifest->missing, g_strdup (path), g_strdup (checksum));
  if (g_hash_table_contains (manifest->check->to_fetch, path))
    ws_bag_verdict_add_error (verdict, _("%s, line %u: “%s” is still to be fetched; nothing is fetched here"),
                              manifest->file, manifest->line, quoted);
  else
    ws_bag_verdict_add_error (verdict, _("%s, line %u: “%s” is missing"), manifest->file, manifest->line, quoted);
}

static void
compare (Manifest *manifest, const WsBagEntry *entry, const char *checksum, const char *quoted)
{
  WsBagVerdict *verdict = manifest->check->verdict;
  const char *found = manifest->known ? entry->digests[manifest->kind] : NULL;

  if (!manifest->known)
    return;
  if (strlen (checksum) != hex_length (manifest->kind))
    ws_bag_verdict_add_error (verdict, _("%s, line %u: the check sum has another length than this algorithm gives"),
                              manifest->file, manifest->line);
  else if (found == NULL)
    ws_bag_verdict_add_error (verdict, _("%s, line %u: the check sum of “%s” could not be worked out"),
                              manifest->file, manifest->line, quoted);
  else if (!g_str_equal (checksum, found))
    ws_bag_verdict_add_error (verdict, _("%s, line %u: the check sum of “%s” is wrong; the file was changed"),
                              manifest->file, manifest->line, quoted);
}

static void
check_entry (Manifest *manifest, const char *checksum, const char *path)
{
  WsBagCheck *check = manifest->check;
  g_autofree char *quoted = ws_inner_path_quote (path);
  gboolean inexact = FALSE;
  WsBagEntry *entry = ws_bag_check_resolve (check, path, &inexact);
  const char *before = entry != NULL ? g_hash_table_lookup (manifest->listed, entry) : NULL;
  guint *fetched = g_hash_table_lookup (check->to_fetch, path);

  if (!check_kind_of_path (manifest, path, quoted))
    return;
  if (entry == NULL)
    {
      if (fetched != NULL && !g_hash_table_contains (manifest->missing, path) && !manifest->of_tags)
        ++*fetched;
      add_missing (manifest, path, checksum, quoted);
      return;
    }
  if (entry->is_folder)
    {
      ws_bag_verdict_add_error (check->verdict, _("%s, line %u: “%s” is a folder"), manifest->file,
                                manifest->line, quoted);
      return;
    }
  if (before != NULL)
    {
      check_twice (manifest, before, checksum, quoted, inexact || g_hash_table_contains (manifest->inexact, entry));
      return;
    }
  if (inexact)
    {
      g_hash_table_add (manifest->inexact, entry);
      ws_bag_verdict_add_warning (check->verdict, _("%s, line %u: “%s” is there in another Unicode form only"),
                                  manifest->file, manifest->line, quoted);
    }
  if (fetched != NULL && !manifest->of_tags)
    ++*fetched;
  g_hash_table_insert (manifest->listed, entry, g_strdup (checksum));
  compare (manifest, entry, checksum, quoted);
}

static void
check_line (Manifest *manifest, char *line)
{
  WsBagCheck *check = manifest->check;
  g_autofree char *plain = NULL;
  const char *fault = NULL;
  char *checksum, *path;
  gboolean star;

  if (line[strspn (line, " \t")] == '\0')
    {
      ws_bag_verdict_add_warning (check->verdict, _("%s, line %u: the line is empty"), manifest->file,
                                  manifest->line);
      return;
    }
  if (!ws_bag_text_split_entry (line, &checksum, &path, &star, &fault))
    {
      ws_bag_verdict_add_error (check->verdict, _("%s, line %u: %s"), manifest->file, manifest->line, fault);
      return;
    }
  if (star)
    ws_bag_verdict_add_warning (check->verdict,
                                _("%s, line %u: a “*” stands before the path, as check-sum programs leave it; "
                                  "strict validation fails"),
                                manifest->file, manifest->line);
  while (g_str_has_prefix (path, "./"))
    {
      ws_bag_verdict_add_warning (check->verdict, _("%s, line %u: the path begins with “./”"), manifest->file,
                                  manifest->line);
      path += 2;
    }
  plain = ws_bag_check_dup_path (check, manifest->file, manifest->line, path);
  if (plain != NULL)
    check_entry (manifest, checksum, plain);
}

GHashTable *
ws_bag_check_manifest (WsBagCheck *check, const WsBagEntry *file, const char *algorithm, gboolean of_tags)
{
  Manifest manifest = { .check = check, .file = file->path, .of_tags = of_tags };
  g_autofree char *text = ws_bag_check_dup_text (check, file);
  char *at = text, *line;

  manifest.known = ws_digest_kind_parse (algorithm, &manifest.kind);
  manifest.listed = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  manifest.inexact = g_hash_table_new (NULL, NULL);
  manifest.missing = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  while (text != NULL && (line = ws_bag_text_next_line (&at)) != NULL)
    {
      if (++manifest.line > WS_ARCHIVE_MAX_ENTRIES)
        {
          ws_bag_verdict_add_error (check->verdict, _("%s has more than %d lines"), file->path,
                                    WS_ARCHIVE_MAX_ENTRIES);
          break;
        }
      check_line (&manifest, line);
    }
  g_hash_table_unref (manifest.inexact);
  g_hash_table_unref (manifest.missing);
  return manifest.listed;
}
