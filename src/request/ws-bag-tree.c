/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-bag-tree.h"

#include "ws-bag-intake.h"
#include "ws-error.h"
#include "ws-intl.h"

#include <string.h>

static void
entry_free (WsBagEntry *entry)
{
  for (guint i = 0; i < WS_BAG_N_KINDS; i++)
    g_free (entry->digests[i]);
  g_clear_pointer (&entry->content, g_bytes_unref);
  g_free (entry->path);
  g_free (entry);
}

WsBagTree *
ws_bag_tree_new (const char *wanted)
{
  WsBagTree *tree = g_new0 (WsBagTree, 1);

  tree->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) entry_free);
  tree->by_path = g_hash_table_new (g_str_hash, g_str_equal);
  tree->faults = g_ptr_array_new_with_free_func (g_free);
  tree->wanted = g_strdup (wanted);
  tree->payload_kinds = wanted != NULL ? 1u << WS_DIGEST_SHA512 : 0;
  return tree;
}

void
ws_bag_tree_free (WsBagTree *tree)
{
  if (tree == NULL)
    return;
  g_hash_table_unref (tree->by_path);
  g_ptr_array_unref (tree->entries);
  g_ptr_array_unref (tree->faults);
  g_free (tree->wanted);
  g_free (tree);
}

WsBagEntry *
ws_bag_tree_find (const WsBagTree *tree, const char *path)
{
  return g_hash_table_lookup (tree->by_path, path);
}

char *
ws_bag_manifest_algorithm (const char *name, const char *prefix)
{
  if (!g_str_has_prefix (name, prefix) || !g_str_has_suffix (name, ".txt") || strchr (name, '/') != NULL
      || strlen (name) <= strlen (prefix) + strlen (".txt"))
    return NULL;
  return g_strndup (name + strlen (prefix), strlen (name) - strlen (prefix) - strlen (".txt"));
}

/* The bit of the digest that the manifest @name asks for, 0 for none. Old bags write "SHA-256". */
static guint
kind_bit (const char *name, const char *prefix)
{
  g_autofree char *algorithm = ws_bag_manifest_algorithm (name, prefix);
  WsDigestKind kind;

  if (algorithm == NULL)
    return 0;
  for (char *at = algorithm; *at != '\0'; at++)
    *at = g_ascii_tolower (*at);
  for (char *dash; (dash = strchr (algorithm, '-')) != NULL;)
    memmove (dash, dash + 1, strlen (dash));
  return ws_digest_kind_parse (algorithm, &kind) ? 1u << kind : 0;
}

void
ws_bag_tree_note_name (WsBagTree *tree, const char *path)
{
  tree->payload_kinds |= kind_bit (path, "manifest-");
  tree->tag_kinds |= kind_bit (path, "tagmanifest-");
}

WsBagEntry *
ws_bag_tree_add (WsBagTree *tree, const char *path, gboolean is_folder, guint64 size)
{
  WsBagEntry *entry = g_new0 (WsBagEntry, 1);

  entry->path = g_strdup (path);
  entry->is_folder = is_folder;
  entry->size = size;
  g_ptr_array_add (tree->entries, entry);
  g_hash_table_insert (tree->by_path, entry->path, entry);
  return entry;
}

void
ws_bag_tree_add_fault (WsBagTree *tree, const char *path, const char *what)
{
  g_autofree char *name = ws_inner_path_quote (path);

  g_ptr_array_add (tree->faults, g_strdup_printf ("%s: %s", name, what));
}

gboolean
ws_bag_tree_refuse (GError **error, const char *what)
{
  g_set_error (error, WS_ERROR, WS_ERROR_REFUSED, _("The bag is refused: %s"), what);
  return FALSE;
}

/* --- A zip ------------------------------------------------------------------------------ */

char *
ws_bag_tree_find_top (WsArchive *archive, GError **error)
{
  GPtrArray *entries = ws_archive_get_entries (archive);
  g_autofree char *top = NULL;

  for (guint i = 0; i < entries->len; i++)
    {
      const WsArchiveEntry *entry = g_ptr_array_index (entries, i);
      gsize length = strcspn (entry->path, "/");
      gboolean below = entry->is_folder || entry->path[length] == '/';

      if (top == NULL && below)
        top = g_strndup (entry->path, length);
      if (!below || strlen (top) != length || strncmp (entry->path, top, length) != 0)
        {
          ws_bag_tree_refuse (error, _("the top level of the zip must be one folder, which is the bag"));
          return NULL;
        }
    }
  if (top == NULL)
    ws_bag_tree_refuse (error, _("the zip is empty"));
  return g_steal_pointer (&top);
}

/* Folders above @path that the zip has no entries for. */
static void
add_folders_above (WsBagTree *tree, const char *path)
{
  g_autofree char *above = g_strdup (path);

  for (char *slash = strrchr (above, '/'); slash != NULL; slash = strrchr (above, '/'))
    {
      *slash = '\0';
      if (ws_bag_tree_find (tree, above) != NULL)
        return;
      ws_bag_tree_add (tree, above, TRUE, 0);
    }
}

static gboolean
read_packed (WsBagTree *tree, WsArchive *archive, WsBagEntry *entry, GError **error)
{
  g_autoptr (WsBagIntake) intake = ws_bag_intake_new (tree, entry);
  gconstpointer data;
  gsize n;

  do
    {
      if (!ws_archive_read (archive, &data, &n, error))
        return FALSE;
      ws_bag_intake_take (intake, data, n);
    }
  while (n > 0);
  ws_bag_intake_finish (intake);
  return TRUE;
}

WsBagTree *
ws_bag_tree_read_archive (WsArchive *archive, const char *wanted, GError **error)
{
  g_autoptr (WsBagTree) tree = ws_bag_tree_new (wanted);
  g_autoptr (GError) problem = NULL;
  g_autofree char *top = ws_bag_tree_find_top (archive, error);
  GPtrArray *entries = ws_archive_get_entries (archive);
  const WsArchiveEntry *packed;
  gboolean is_bag = FALSE;
  gsize skip;

  if (top == NULL)
    return NULL;
  skip = strlen (top) + 1;
  for (guint i = 0; i < entries->len; i++)
    {
      const WsArchiveEntry *entry = g_ptr_array_index (entries, i);

      if (strlen (entry->path) <= skip || entry->is_folder)
        continue;
      ws_bag_tree_note_name (tree, entry->path + skip);
      is_bag = is_bag || g_str_equal (entry->path + skip, "bagit.txt");
    }
  /* What cannot be a bag is not unpacked at all. */
  while (is_bag && (packed = ws_archive_next (archive, &problem)) != NULL)
    {
      WsBagEntry *entry;

      if (strlen (packed->path) <= skip)
        continue;
      add_folders_above (tree, packed->path + skip);
      if (packed->is_folder && ws_bag_tree_find (tree, packed->path + skip) != NULL)
        continue;
      entry = ws_bag_tree_add (tree, packed->path + skip, packed->is_folder, packed->size);
      if (!packed->is_folder && !read_packed (tree, archive, entry, error))
        return NULL;
    }
  if (problem != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&problem));
      return NULL;
    }
  return g_steal_pointer (&tree);
}
