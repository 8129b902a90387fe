/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-bag.h"

#include "ws-bag-check.h"
#include "ws-blocking.h"
#include "ws-error.h"
#include "ws-intl.h"

#include <errno.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

/* Opens what a person named; a link there is theirs and is followed. -1 with an error. */
static int
open_named (const char *path, struct stat *info, GError **error)
{
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);

  if (fd < 0 || fstat (fd, info) != 0)
    g_set_error (error, WS_ERROR, errno == ENOENT || errno == ENOTDIR ? WS_ERROR_NOT_FOUND : WS_ERROR_FAILED,
                 _("“%s” cannot be opened: %s"), path, g_strerror (errno));
  else if (S_ISDIR (info->st_mode) || S_ISREG (info->st_mode))
    return fd;
  else
    g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("“%s” is neither a folder nor a zip"), path);
  if (fd >= 0)
    close (fd);
  return -1;
}

/* Names the zip in @problem, whose sentences speak of what is inside. */
static void
propagate (GError **error, GError *problem, const char *path)
{
  g_propagate_error (error, problem);
  if (g_error_matches (problem, WS_ERROR, WS_ERROR_REFUSED)
      || g_error_matches (problem, WS_ERROR, WS_ERROR_UNREADABLE))
    g_prefix_error (error, "%s: ", path);
}

static WsBagTree *
read_zip (const char *path, const char *wanted, GCancellable *cancellable, GError **error)
{
  GError *problem = NULL;
  g_autoptr (WsArchive) archive = ws_archive_open (path, cancellable, &problem);
  WsBagTree *tree = archive != NULL ? ws_bag_tree_read_archive (archive, wanted, &problem) : NULL;

  if (problem != NULL)
    propagate (error, problem, path);
  return tree;
}

WsBagVerdict *
ws_bag_verify_tree (const char *path, const char *wanted, WsBagTree **tree, GCancellable *cancellable,
                    GError **error)
{
  g_autoptr (WsBagVerdict) verdict = ws_bag_verdict_new ();
  g_autoptr (GError) problem = NULL;
  struct stat info;
  int fd;

  ws_blocking ("checking a bag");
  *tree = NULL;
  fd = open_named (path, &info, error);
  if (fd < 0)
    return NULL;
  *tree = S_ISDIR (info.st_mode) ? ws_bag_tree_read_folder (fd, wanted, cancellable, &problem)
                                 : read_zip (path, wanted, cancellable, &problem);
  close (fd);
  if (*tree != NULL)
    ws_bag_check (*tree, verdict);
  else if (g_error_matches (problem, WS_ERROR, WS_ERROR_REFUSED))
    ws_bag_verdict_add_error (verdict, "%s", problem->message);
  else
    {
      g_propagate_error (error, g_steal_pointer (&problem));
      return NULL;
    }
  return g_steal_pointer (&verdict);
}

WsBagVerdict *
ws_bag_verify (const char *path, GCancellable *cancellable, GError **error)
{
  g_autoptr (WsBagTree) tree = NULL;

  return ws_bag_verify_tree (path, NULL, &tree, cancellable, error);
}

/* --- One file ------------------------------------------------------------------------------- */

static GBytes *
not_there (const char *path, const char *inside, GError **error)
{
  g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("“%s” has no file “%s”"), path, inside);
  return NULL;
}

static GBytes *
too_large (const char *inside, gsize limit, GError **error)
{
  g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE, _("“%s” is larger than the limit of %zu bytes"),
               inside, limit);
  return NULL;
}

static GBytes *
read_current (WsArchive *archive, const WsArchiveEntry *entry, gsize limit, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  gconstpointer data;
  gsize n;

  if (entry->size > limit)
    return too_large (entry->path, limit, error);
  do
    {
      if (!ws_archive_read (archive, &data, &n, error))
        return NULL;
      if (n > 0)
        g_byte_array_append (bytes, data, (guint) n);
    }
  while (n > 0);
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

static GBytes *
read_from_archive (WsArchive *archive, const char *path, const char *inside, gsize limit, GError **error)
{
  g_autoptr (GError) problem = NULL;
  g_autofree char *top = ws_bag_tree_find_top (archive, error);
  g_autofree char *wanted = top != NULL ? g_strdup_printf ("%s/%s", top, inside) : NULL;
  const WsArchiveEntry *entry;

  if (wanted == NULL)
    return NULL;
  while ((entry = ws_archive_next (archive, &problem)) != NULL)
    if (g_str_equal (entry->path, wanted) && !entry->is_folder)
      return read_current (archive, entry, limit, error);
  if (problem == NULL)
    return not_there (path, inside, error);
  g_propagate_error (error, g_steal_pointer (&problem));
  return NULL;
}

static GBytes *
read_from_zip (const char *path, const char *inside, gsize limit, GError **error)
{
  GError *problem = NULL;
  g_autoptr (WsArchive) archive = ws_archive_open (path, NULL, &problem);
  GBytes *bytes = archive != NULL ? read_from_archive (archive, path, inside, limit, &problem) : NULL;

  if (problem != NULL)
    propagate (error, problem, path);
  return bytes;
}

static GBytes *
read_open (int fd, const char *inside, gsize limit, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  struct stat info;
  guint8 piece[65536];
  gssize n;

  if (fstat (fd, &info) != 0 || !S_ISREG (info.st_mode))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("“%s” is not a file"), inside);
      return NULL;
    }
  while ((n = read (fd, piece, sizeof piece)) != 0)
    {
      if (n < 0 && errno == EINTR)
        continue;
      if (n < 0)
        {
          g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("“%s” cannot be read: %s"), inside, g_strerror (errno));
          return NULL;
        }
      if (bytes->len + (gsize) n > limit)
        return too_large (inside, limit, error);
      g_byte_array_append (bytes, piece, (guint) n);
    }
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

/* Goes down part by part, so that no link on the way leads outside. */
static GBytes *
read_from_folder (int folder, const char *path, const char *inside, gsize limit, GError **error)
{
  g_auto (GStrv) parts = g_strsplit (inside, "/", -1);
  GBytes *bytes;
  int fd = folder;

  for (guint i = 0; parts[i] != NULL && fd >= 0; i++)
    {
      int next = openat (fd, parts[i],
                         O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC | (parts[i + 1] != NULL ? O_DIRECTORY : 0));

      if (fd != folder)
        close (fd);
      fd = next;
    }
  if (fd < 0)
    return not_there (path, inside, error);
  bytes = read_open (fd, inside, limit, error);
  close (fd);
  return bytes;
}

GBytes *
ws_bag_read_file (const char *path, const char *inside, gsize limit, GError **error)
{
  GBytes *bytes;
  struct stat info;
  int fd;

  ws_blocking ("reading a bag");
  if (ws_inner_path_fault (inside) != NULL)
    return not_there (path, inside, error);
  fd = open_named (path, &info, error);
  if (fd < 0)
    return NULL;
  bytes = S_ISDIR (info.st_mode) ? read_from_folder (fd, path, inside, limit, error)
                                 : read_from_zip (path, inside, limit, error);
  close (fd);
  return bytes;
}
