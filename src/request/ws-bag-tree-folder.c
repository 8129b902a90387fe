/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bag in a folder. */
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
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("A folder of the bag cannot be read: %s"),
                   g_strerror (errno));
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
      ws_bag_tree_refuse (error, _("it holds more than 20,000 entries"));
      return NULL;
    }
  g_ptr_array_sort (names, compare_names);
  return g_steal_pointer (&names);
}

static gboolean
read_file (WsBagTree *tree, int fd, const char *path, GCancellable *cancellable, GError **error)
{
  WsBagEntry *entry = ws_bag_tree_add (tree, path, FALSE, 0);
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
          ws_bag_tree_add_fault (tree, path, g_strerror (errno));
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
      ws_bag_tree_add_fault (tree, path, _("the name is not UTF-8 text"));
      return TRUE;
    }
  if (strlen (path) > WS_INNER_PATH_MAX || depth > WS_INNER_PATH_MAX_DEPTH)
    return ws_bag_tree_refuse (error, _("its folders lie more than 32 deep, or a path is longer than 1,000 bytes"));
  if (tree->entries->len + tree->faults->len >= WS_ARCHIVE_MAX_ENTRIES)
    return ws_bag_tree_refuse (error, _("it holds more than 20,000 entries"));
  /* Looked at before it is opened, since opening alone sets some devices to work; and again after,
   * since it may have been changed between. */
  if (fstatat (fd, name, &info, AT_SYMLINK_NOFOLLOW) == 0 && S_ISLNK (info.st_mode))
    {
      ws_bag_tree_add_fault (tree, path, _("this is a link; a bag holds files only"));
      return TRUE;
    }
  if (!S_ISREG (info.st_mode) && !S_ISDIR (info.st_mode))
    {
      ws_bag_tree_add_fault (tree, path, _("this is no plain file; a bag holds files only"));
      return TRUE;
    }
  own = openat (fd, name, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
  if (own < 0 || fstat (own, &info) != 0)
    ws_bag_tree_add_fault (tree, path, g_strerror (errno));
  else if (S_ISDIR (info.st_mode))
    {
      ws_bag_tree_add (tree, path, TRUE, 0);
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
    ws_bag_tree_note_name (tree, g_ptr_array_index (names, i));
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
  g_autoptr (WsBagTree) tree = ws_bag_tree_new (wanted);

  return read_folder (tree, fd, "", 0, cancellable, error) ? g_steal_pointer (&tree) : NULL;
}
