/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-file.h"

#include "ws-blocking.h"
#include "ws-error.h"
#include "ws-intl.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct _WsSafeFile
{
  char *path;
  char *temporary;
  int fd;
  gboolean committed;
};

static gboolean
fail (GError **error, const char *format, const char *path)
{
  int code = errno == ENOENT ? WS_ERROR_NOT_FOUND : WS_ERROR_FAILED;
  const char *why = g_strerror (errno);
  g_autofree char *what = g_strdup_printf (format, path);

  g_set_error (error, WS_ERROR, code, "%s: %s", what, why);
  return FALSE;
}

WsSafeFile *
ws_safe_file_open (const char *path, GError **error)
{
  WsSafeFile *file = g_new0 (WsSafeFile, 1);
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *name = g_path_get_basename (path);

  file->path = g_strdup (path);
  file->temporary = g_strdup_printf ("%s/.%.60s.XXXXXX", folder, name);
  file->fd = g_mkstemp_full (file->temporary, O_RDWR | O_CLOEXEC, 0600);
  if (file->fd < 0)
    {
      fail (error, _("“%s” cannot be written; choose another folder"), path);
      file->committed = TRUE;
      ws_safe_file_free (file);
      return NULL;
    }
  return file;
}

int
ws_safe_file_get_fd (WsSafeFile *file)
{
  return file->fd;
}

const char *
ws_safe_file_get_temporary (WsSafeFile *file)
{
  return file->temporary;
}

gboolean
ws_safe_file_write (WsSafeFile *file, gconstpointer data, gsize size, GError **error)
{
  const char *at = data;

  while (size > 0)
    {
      gssize n = write (file->fd, at, size);

      if (n < 0 && errno == EINTR)
        continue;
      if (n < 0)
        return fail (error, _("“%s” cannot be written"), file->path);
      at += n;
      size -= (gsize) n;
    }
  return TRUE;
}

static void
sync_folder (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  int fd = open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);

  /* Some file systems cannot flush a folder; the file itself is on the disk. */
  if (fd >= 0)
    {
      (void) fsync (fd);
      close (fd);
    }
}

gboolean
ws_safe_file_commit (WsSafeFile *file, GError **error)
{
  mode_t mask = umask (0);

  umask (mask);
  (void) fchmod (file->fd, 0666 & ~mask);
  if (fsync (file->fd) != 0)
    return fail (error, _("“%s” cannot be flushed to the disk"), file->path);
  if (g_rename (file->temporary, file->path) != 0)
    return fail (error, _("“%s” cannot be put in its place"), file->path);
  file->committed = TRUE;
  sync_folder (file->path);
  return TRUE;
}

void
ws_safe_file_free (WsSafeFile *file)
{
  if (file == NULL)
    return;
  if (file->fd >= 0)
    close (file->fd);
  if (!file->committed)
    (void) g_unlink (file->temporary);
  g_free (file->path);
  g_free (file->temporary);
  g_free (file);
}

gboolean
ws_file_write (const char *path, gconstpointer data, gsize size, GError **error)
{
  g_autoptr (WsSafeFile) file = NULL;

  ws_blocking ("writing a file");
  file = ws_safe_file_open (path, error);
  return file != NULL && ws_safe_file_write (file, data, size, error) && ws_safe_file_commit (file, error);
}

static GBytes *
read_all (int fd, const char *path, gsize limit, GError **error)
{
  g_autoptr (GByteArray) data = g_byte_array_new ();
  guint8 piece[65536];
  gssize n;

  while ((n = read (fd, piece, sizeof piece)) != 0)
    {
      if (n < 0 && errno == EINTR)
        continue;
      if (n < 0)
        {
          fail (error, _("“%s” cannot be read"), path);
          return NULL;
        }
      if (data->len + (gsize) n > limit)
        {
          g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE,
                       _("“%s” is larger than the limit of %zu bytes"), path, limit);
          return NULL;
        }
      g_byte_array_append (data, piece, (guint) n);
    }
  return g_byte_array_free_to_bytes (g_steal_pointer (&data));
}

GBytes *
ws_file_read (const char *path, gsize limit, GError **error)
{
  GBytes *bytes = NULL;
  struct stat info;
  int fd;

  ws_blocking ("reading a file");
  /* Non-blocking, so that opening a pipe nobody writes to does not hang. */
  fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (fd < 0 || fstat (fd, &info) != 0)
    fail (error, _("“%s” cannot be opened"), path);
  else if (!S_ISREG (info.st_mode))
    g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("“%s” is not a file"), path);
  else if (info.st_size > 0 && (guint64) info.st_size > limit)
    g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE,
                 _("“%s” is larger than the limit of %zu bytes"), path, limit);
  else
    bytes = read_all (fd, path, limit, error);
  if (fd >= 0)
    close (fd);
  return bytes;
}

gboolean
ws_file_remove_tree (const char *path, GError **error)
{
  g_autoptr (GDir) dir = NULL;
  struct stat info;
  const char *name;

  ws_blocking ("removing files");
  if (lstat (path, &info) != 0)
    return errno == ENOENT || fail (error, _("“%s” cannot be removed"), path);
  if (S_ISDIR (info.st_mode))
    {
      dir = g_dir_open (path, 0, error);
      if (dir == NULL)
        return FALSE;
      while ((name = g_dir_read_name (dir)) != NULL)
        {
          g_autofree char *child = g_build_filename (path, name, NULL);

          if (!ws_file_remove_tree (child, error))
            return FALSE;
        }
    }
  return g_remove (path) == 0 || fail (error, _("“%s” cannot be removed"), path);
}

char *
ws_file_name_from (const char *text)
{
  /* Words of a command line may be any bytes, and the transliteration reads past the end of broken UTF-8. */
  g_autofree char *valid = g_utf8_make_valid (text != NULL ? text : "", -1);
  g_autofree char *plain = g_str_to_ascii (valid, "C");
  GString *name = g_string_new (NULL);

  for (const char *p = plain; *p != '\0' && name->len < 80; p++)
    {
      if (g_ascii_isalnum (*p) || (*p == '.' && name->len > 0))
        g_string_append_c (name, *p);
      else if (name->len > 0 && name->str[name->len - 1] != '-')
        g_string_append_c (name, '-');
    }
  while (name->len > 0 && strchr ("-.", name->str[name->len - 1]) != NULL)
    g_string_truncate (name, name->len - 1);
  if (name->len == 0)
    g_string_assign (name, "find");
  return g_string_free (name, FALSE);
}
