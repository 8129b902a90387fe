/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copies from a card: verified by digest, names kept, the card untouched. */
#include "ws-import-scan.h"

#include "ws-blocking.h"
#include "ws-digest.h"
#include "ws-error.h"
#include "ws-file.h"
#include "ws-intl.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/sysmacros.h>
#include <unistd.h>

#define PIECE (256 * 1024)
#define MAX_SAME_NAMES 10000

/* The kernel's flag of the whole device, also when the path lies on a partition of it. */
static gboolean
device_is_removable (dev_t device)
{
  static const char *const places[] = { "removable", "../removable" };

  for (gsize i = 0; i < G_N_ELEMENTS (places); i++)
    {
      g_autofree char *path = g_strdup_printf ("/sys/dev/block/%u:%u/%s", major (device), minor (device), places[i]);
      g_autofree char *text = NULL;

      if (g_file_get_contents (path, &text, NULL, NULL))
        return text[0] == '1';
    }
  return FALSE;
}

/* The top folder of the medium that @path lies on. */
static char *
medium_of (const char *path, dev_t device)
{
  char *top = g_path_get_dirname (path);

  for (;;)
    {
      g_autofree char *parent = g_path_get_dirname (top);
      struct stat info;

      if (g_str_equal (parent, top) || stat (parent, &info) != 0 || info.st_dev != device)
        return top;
      g_free (top);
      top = g_steal_pointer (&parent);
    }
}

gboolean
ws_import_is_removable (const char *path)
{
  g_autofree char *top = NULL, *camera_folder = NULL;
  struct stat info;

  if (stat (path, &info) != 0)
    return FALSE;
  if (device_is_removable (info.st_dev))
    return TRUE;
  top = medium_of (path, info.st_dev);
  camera_folder = g_build_filename (top, "DCIM", NULL);
  return !g_str_equal (top, "/") && g_file_test (camera_folder, G_FILE_TEST_IS_DIR);
}

static gboolean
copy_bytes (int from, WsSafeFile *to, WsDigest *digest, const char *path, GCancellable *cancellable, GError **error)
{
  g_autofree guint8 *piece = g_malloc (PIECE);
  gssize n;

  while ((n = read (from, piece, PIECE)) > 0)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      ws_digest_update (digest, piece, (gsize) n);
      if (!ws_safe_file_write (to, piece, (gsize) n, error))
        return FALSE;
    }
  if (n == 0)
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("“%s” cannot be read: %s"), path, g_strerror (errno));
  return FALSE;
}

static gboolean
copy_verified (const char *path, const char *target, GCancellable *cancellable, GError **error)
{
  g_autoptr (WsSafeFile) file = NULL;
  g_autoptr (WsDigest) digest = ws_digest_new (WS_DIGEST_SHA512);
  g_autofree char *wanted = NULL, *written = NULL;
  struct timespec times[2];
  struct stat info;
  int from = open (path, O_RDONLY | O_CLOEXEC);
  gboolean done;

  if (from < 0 || fstat (from, &info) != 0)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("“%s” cannot be read: %s"), path, g_strerror (errno));
      if (from >= 0)
        close (from);
      return FALSE;
    }
  file = ws_safe_file_open (target, error);
  done = file != NULL && copy_bytes (from, file, digest, path, cancellable, error);
  close (from);
  if (!done)
    return FALSE;
  wanted = ws_digest_finish (digest);
  /* The copy keeps the time of the original: it is the same photo. */
  times[0] = info.st_atim;
  times[1] = info.st_mtim;
  (void) futimens (ws_safe_file_get_fd (file), times);
  if (fsync (ws_safe_file_get_fd (file)) != 0)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("“%s” cannot be flushed to the disk: %s"), target, g_strerror (errno));
      return FALSE;
    }
  written = ws_digest_file (ws_safe_file_get_temporary (file), cancellable, error);
  if (written == NULL)
    return FALSE;
  if (!g_str_equal (written, wanted))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED,
                   _("The copy of “%s” differs from the card; check the card and the disk, then add it again"), path);
      return FALSE;
    }
  return ws_safe_file_commit (file, error);
}

/* "IMG_1.JPG", "IMG_1 (2).JPG", … */
static char *
numbered_name (const char *folder, const char *name, guint number)
{
  const char *dot = strrchr (name, '.');
  g_autofree char *stem = dot != NULL ? g_strndup (name, (gsize) (dot - name)) : g_strdup (name);
  g_autofree char *numbered = number < 2 ? g_strdup (name)
                                         : g_strdup_printf ("%s (%u)%s", stem, number, dot != NULL ? dot : "");

  return g_build_filename (folder, numbered, NULL);
}

char *
ws_import_copy_file (const char *path, const char *folder, GCancellable *cancellable, GError **error)
{
  g_autofree char *name = g_path_get_basename (path);
  g_autofree char *digest = NULL;

  ws_blocking ("copying a photo");
  if (g_mkdir_with_parents (folder, 0755) != 0)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("The folder “%s” cannot be made: %s"), folder, g_strerror (errno));
      return NULL;
    }
  for (guint number = 1; number < MAX_SAME_NAMES; number++)
    {
      g_autofree char *target = numbered_name (folder, name, number);
      g_autofree char *there = NULL;

      if (!g_file_test (target, G_FILE_TEST_EXISTS))
        return copy_verified (path, target, cancellable, error) ? g_steal_pointer (&target) : NULL;
      if (digest == NULL && (digest = ws_digest_file (path, cancellable, error)) == NULL)
        return NULL;
      there = ws_digest_file (target, cancellable, NULL);
      if (g_strcmp0 (there, digest) == 0)
        return g_steal_pointer (&target);
    }
  g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("“%s” holds too many files of the name “%s”; choose another folder"),
               folder, name);
  return NULL;
}
