/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-bag-tree.h"

#include "ws-bag-intake.h"
#include "ws-error.h"
#include "ws-intl.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static void
entry_free (WsBagEntry *entry)
{
  for (guint i = 0; i < WS_BAG_N_KINDS; i++)
    g_free (entry->digests[i]);
  g_clear_pointer (&entry->content, g_bytes_unref);
  g_free (entry->path);
  g_free (entry);
}

static WsBagTree *
tree_new (const char *wanted)
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

static void
note_name (WsBagTree *tree, const char *path)
{
  tree->payload_kinds |= kind_bit (path, "manifest-");
  tree->tag_kinds |= kind_bit (path, "tagmanifest-");
}

static WsBagEntry *
add_entry (WsBagTree *tree, const char *path, gboolean is_folder, guint64 size)
{
  WsBagEntry *entry = g_new0 (WsBagEntry, 1);

  entry->path = g_strdup (path);
  entry->is_folder = is_folder;
  entry->size = size;
  g_ptr_array_add (tree->entries, entry);
  g_hash_table_insert (tree->by_path, entry->path, entry);
  return entry;
}

static void
add_fault (WsBagTree *tree, const char *path, const char *what)
{
  g_autofree char *name = ws_inner_path_quote (path);

  g_ptr_array_add (tree->faults, g_strdup_printf ("%s: %s", name, what));
}

/* --- A folder -------------------------------------------------------------------------- */

static gboolean
refuse (GError **error, const char *what)
{
  g_set_error (error, WS_ERROR, WS_ERROR_REFUSED, _("The bag is refused: %s"), what);
  return FALSE;
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* The names in the folder open at @fd, sorted; at most what a bag may hold. */
static GPtrArray *
list_names (int fd, GError **error)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  int own = openat (fd, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  DIR *dir = own >= 0 ? fdopendir (own) : NULL;
  struct dirent *item;
  gboolean fits = TRUE;

  if (dir == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("A folder of the bag cannot be read: %s"), g_strerror (errno));
      if (own >= 0)
        close (own);
      return NULL;
    }
  while (fits && (item = readdir (dir)) != NULL)
    {
      if (!g_str_equal (item->d_name, ".") && !g_str_equal (item->d_name, ".."))
        g_ptr_array_add (names, g_strdup (item->d_name));
      fits = names->len <= WS_ARCHIVE_MAX_ENTRIES;
    }
  closedir (dir);
  if (!fits)
    {
      refuse (error, _("it holds more than 20,000 entries"));
      return NULL;
    }
  g_ptr_array_sort (names, compare_names);
  return g_steal_pointer (&names);
}

static gboolean
read_file (WsBagTree *tree, int fd, const char *path, GCancellable *cancellable, GError **error)
{
  WsBagEntry *entry = add_entry (tree, path, FALSE, 0);
  g_autoptr (WsBagIntake) intake = ws_bag_intake_new (tree, entry);
  guint8 piece[65536];
  gssize n;

  while ((n = read (fd, piece, sizeof piece)) != 0)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      if (n < 0 && errno == EINTR)
        continue;
      if (n < 0)
        {
          add_fault (tree, path, g_strerror (errno));
          return TRUE;
        }
      entry->size += (guint64) n;
      ws_bag_intake_take (intake, piece, (gsize) n);
    }
  ws_bag_intake_finish (intake);
  return TRUE;
}

static gboolean read_folder (WsBagTree *tree, int fd, const char *path, guint depth, GCancellable *cancellable,
                             GError **error);

/* One thing in the folder at @fd. A link is never followed and a pipe or device never read. */
static gboolean
read_item (WsBagTree *tree, int fd, const char *name, const char *path, guint depth, GCancellable *cancellable,
           GError **error)
{
  struct stat info = { 0 };
  int own;
  gboolean fine = TRUE;

  if (!g_utf8_validate (path, -1, NULL))
    {
      add_fault (tree, path, _("the name is not UTF-8 text"));
      return TRUE;
    }
  if (strlen (path) > WS_INNER_PATH_MAX || depth > WS_INNER_PATH_MAX_DEPTH)
    return refuse (error, _("its folders lie more than 32 deep, or a path is longer than 1,000 bytes"));
  if (tree->entries->len + tree->faults->len >= WS_ARCHIVE_MAX_ENTRIES)
    return refuse (error, _("it holds more than 20,000 entries"));
  /* Looked at before it is opened, since opening alone sets some devices to work; and again after,
   * since it may have been changed between. */
  if (fstatat (fd, name, &info, AT_SYMLINK_NOFOLLOW) == 0 && S_ISLNK (info.st_mode))
    {
      add_fault (tree, path, _("this is a link; a bag holds files only"));
      return TRUE;
    }
  if (!S_ISREG (info.st_mode) && !S_ISDIR (info.st_mode))
    {
      add_fault (tree, path, _("this is no plain file; a bag holds files only"));
      return TRUE;
    }
  own = openat (fd, name, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
  if (own < 0 || fstat (own, &info) != 0)
    add_fault (tree, path, g_strerror (errno));
  else if (S_ISDIR (info.st_mode))
    {
      add_entry (tree, path, TRUE, 0);
      fine = read_folder (tree, own, path, depth + 1, cancellable, error);
    }
  else if (S_ISREG (info.st_mode))
    fine = read_file (tree, own, path, cancellable, error);
  if (own >= 0)
    close (own);
  return fine;
}

static gboolean
read_folder (WsBagTree *tree, int fd, const char *path, guint depth, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) names = list_names (fd, error);

  if (names == NULL)
    return FALSE;
  /* Which digests to work out is known before the first file is read. */
  for (guint i = 0; depth == 0 && i < names->len; i++)
    note_name (tree, g_ptr_array_index (names, i));
  for (guint i = 0; i < names->len; i++)
    {
      const char *name = g_ptr_array_index (names, i);
      g_autofree char *below = depth == 0 ? g_strdup (name) : g_strdup_printf ("%s/%s", path, name);

      if (!read_item (tree, fd, name, below, depth, cancellable, error))
        return FALSE;
    }
  return TRUE;
}

WsBagTree *
ws_bag_tree_read_folder (int fd, const char *wanted, GCancellable *cancellable, GError **error)
{
  g_autoptr (WsBagTree) tree = tree_new (wanted);

  return read_folder (tree, fd, "", 0, cancellable, error) ? g_steal_pointer (&tree) : NULL;
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
          refuse (error, _("the top level of the zip must be one folder, which is the bag"));
          return NULL;
        }
    }
  if (top == NULL)
    refuse (error, _("the zip is empty"));
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
      add_entry (tree, above, TRUE, 0);
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
  g_autoptr (WsBagTree) tree = tree_new (wanted);
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
      note_name (tree, entry->path + skip);
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
      entry = add_entry (tree, packed->path + skip, packed->is_folder, packed->size);
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
