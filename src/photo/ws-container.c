/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-container.h"

#include "ws-blocking.h"
#include "ws-error.h"
#include "ws-intl.h"
#include "ws-photo-read.h"
#include "ws-raw.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

void
ws_container_add_exif (WsContainer *container, const guint8 *data, gsize size)
{
  /* Some writers repeat the JPEG prefix in other kinds of file. */
  if (size > 6 && memcmp (data, "Exif\0", 5) == 0)
    {
      data += 6;
      size -= 6;
    }
  if (size >= 8 && container->n_exif < WS_CONTAINER_MAX_EXIF)
    container->exif[container->n_exif++] = (WsExifSpan) { data, size, FALSE };
}

/* An APP1 segment: cameras are known to put stray bytes before "Exif", and anything after its
 * first NUL. */
static void
take_app1 (WsContainer *container, const guint8 *data, gsize size)
{
  for (gsize skip = 0; skip <= 4 && skip + 6 < size; skip++)
    if (memcmp (data + skip, "Exif\0", 5) == 0)
      {
        ws_container_add_exif (container, data + skip + 6, size - skip - 6);
        return;
      }
}

static gboolean
is_frame_header (guint8 marker)
{
  return marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc;
}

static gboolean
scan_jpeg (WsContainer *container, const guint8 *data, gsize size)
{
  gsize at = 2;

  container->media_type = "image/jpeg";
  while (at + 4 <= size)
    {
      const guint8 *mark = memchr (data + at, 0xff, size - at - 3);
      guint8 marker;
      gsize length;

      if (mark == NULL)
        break;
      at = (gsize) (mark - data) + 1;
      marker = data[at];
      if (marker == 0xff || marker == 0x00)
        continue;
      at++;
      if (marker == 0xd9 || marker == 0xda)
        break;
      if (marker == 0x01 || (marker >= 0xd0 && marker <= 0xd8))
        continue;
      length = at + 2 <= size ? ws_be16 (data + at) : 0;
      if (length < 2 || length > size - at)
        break;
      if (marker == 0xe1)
        take_app1 (container, data + at + 2, length - 2);
      else if (is_frame_header (marker) && length >= 8 && container->width == 0)
        {
          container->height = (int) ws_be16 (data + at + 3);
          container->width = (int) ws_be16 (data + at + 5);
        }
      at += length;
    }
  return container->width > 0 && container->height > 0;
}

static gboolean
scan_png (WsContainer *container, const guint8 *data, gsize size)
{
  gsize at = 8;

  container->media_type = "image/png";
  if (size < 33 || memcmp (data + 12, "IHDR", 4) != 0)
    return FALSE;
  if (ws_be32 (data + 16) > G_MAXINT32 || ws_be32 (data + 20) > G_MAXINT32)
    return FALSE;
  container->width = (int) ws_be32 (data + 16);
  container->height = (int) ws_be32 (data + 20);
  container->interlaced = data[28] != 0;
  while (size - at >= 12)
    {
      gsize length = ws_be32 (data + at);

      if (length > size - at - 12 || memcmp (data + at + 4, "IEND", 4) == 0)
        break;
      if (memcmp (data + at + 4, "eXIf", 4) == 0)
        ws_container_add_exif (container, data + at + 8, length);
      at += 12 + length;
    }
  return container->width > 0 && container->height > 0;
}

/* The size in the three kinds of chunk that tell it; VP8X is first where it is. */
static void
take_webp_size (WsContainer *container, const guint8 *chunk, gsize length)
{
  const guint8 *body = chunk + 8;

  if (container->width > 0)
    return;
  if (memcmp (chunk, "VP8X", 4) == 0 && length >= 10)
    {
      container->width = (int) ws_le24 (body + 4) + 1;
      container->height = (int) ws_le24 (body + 7) + 1;
    }
  else if (memcmp (chunk, "VP8 ", 4) == 0 && length >= 10 && memcmp (body + 3, "\x9d\x01\x2a", 3) == 0)
    {
      container->width = (body[6] | body[7] << 8) & 0x3fff;
      container->height = (body[8] | body[9] << 8) & 0x3fff;
    }
  else if (memcmp (chunk, "VP8L", 4) == 0 && length >= 5 && body[0] == 0x2f)
    {
      guint32 bits = ws_le32 (body + 1);

      container->width = (int) (bits & 0x3fff) + 1;
      container->height = (int) (bits >> 14 & 0x3fff) + 1;
    }
}

static gboolean
scan_webp (WsContainer *container, const guint8 *data, gsize size)
{
  gsize at = 12;

  container->media_type = "image/webp";
  while (at <= size && size - at >= 8)
    {
      gsize length = ws_le32 (data + at + 4);

      if (length > size - at - 8)
        length = size - at - 8;
      take_webp_size (container, data + at, length);
      if (memcmp (data + at, "EXIF", 4) == 0)
        ws_container_add_exif (container, data + at + 8, length);
      at += 8 + length + (length & 1);
    }
  return container->width > 0 && container->height > 0;
}

static gboolean
scan_tiff (WsContainer *container, const guint8 *data, gsize size)
{
  container->media_type = "image/tiff";
  ws_container_add_exif (container, data, size);
  return container->n_exif > 0;
}

static const struct
{
  const char *magic;
  gsize at, length;
  WsContainerKind kind;
  gboolean (*scan) (WsContainer *container, const guint8 *data, gsize size);
} kinds[] = {
  { "\xff\xd8\xff", 0, 3, WS_CONTAINER_JPEG, scan_jpeg },
  { "\x89PNG\r\n\x1a\n", 0, 8, WS_CONTAINER_PNG, scan_png },
  { "WEBP", 8, 4, WS_CONTAINER_WEBP, scan_webp },
  { "II*\0", 0, 4, WS_CONTAINER_TIFF, scan_tiff },
  { "MM\0*", 0, 4, WS_CONTAINER_TIFF, scan_tiff },
  { "ftyp", 4, 4, WS_CONTAINER_HEIF, ws_container_scan_heif },
};

gboolean
ws_container_scan (WsContainer *container, GBytes *bytes, const char *name, GError **error)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);

  memset (container, 0, sizeof *container);
  if (ws_raw_is_raw (data, size))
    return ws_raw_scan (container, bytes, name, error);
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      if (size < 12 || memcmp (data + kinds[i].at, kinds[i].magic, kinds[i].length) != 0)
        continue;
      container->kind = kinds[i].kind;
      if (kinds[i].scan (container, data, size))
        return TRUE;
      if (container->media_type == NULL)
        break;
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
                   _("“%s” is damaged before the size of its picture is told; copy it again from where it came"),
                   name);
      return FALSE;
    }
  g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
               _("“%s” is not a picture of a kind that can be read; choose JPEG, HEIC, AVIF, PNG, TIFF, WebP or camera raw"),
               name);
  return FALSE;
}

void
ws_container_clear (WsContainer *container)
{
  g_clear_pointer (&container->joined, g_bytes_unref);
  g_clear_pointer (&container->preview, g_bytes_unref);
}

/* Opens a regular file of a size that is read; -1 with an error that names it. */
static int
open_photo (const char *path, struct stat *info, GError **error)
{
  /* Non-blocking, so that opening a pipe nobody writes to does not hang. */
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);

  if (fd < 0 || fstat (fd, info) != 0)
    {
      int code = errno == ENOENT ? WS_ERROR_NOT_FOUND : WS_ERROR_FAILED;

      g_set_error (error, WS_ERROR, code, _("“%s” cannot be opened: %s"), path, g_strerror (errno));
    }
  else if (!S_ISREG (info->st_mode))
    g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("“%s” is not a file"), path);
  else if (info->st_size == 0)
    g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("“%s” is empty; copy it again from where it came"), path);
  else if ((guint64) info->st_size > WS_PHOTO_MAX_BYTES)
    g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE,
                 _("“%s” is larger than the limit of %zu bytes for a photo"), path, WS_PHOTO_MAX_BYTES);
  else
    return fd;
  if (fd >= 0)
    close (fd);
  return -1;
}

GBytes *
ws_container_map (const char *path, GError **error)
{
  g_autoptr (GMappedFile) map = NULL;
  g_autoptr (GError) failed = NULL;
  struct stat info;
  int fd;

  ws_blocking ("reading a photo");
  fd = open_photo (path, &info, error);
  if (fd < 0)
    return NULL;
  map = g_mapped_file_new_from_fd (fd, FALSE, &failed);
  close (fd);
  if (map == NULL)
    g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("“%s” cannot be read: %s"), path, failed->message);
  return map != NULL ? g_mapped_file_get_bytes (map) : NULL;
}

GBytes *
ws_container_load (const char *path, gint64 *modified_us, GError **error)
{
  g_autofree guint8 *data = NULL;
  struct stat info;
  gsize size, done = 0;
  gssize n = 0;
  int fd;

  ws_blocking ("reading a photo");
  fd = open_photo (path, &info, error);
  if (fd < 0)
    return NULL;
  size = (gsize) info.st_size;
  data = g_try_malloc (size);
  for (; data != NULL && done < size; done += (gsize) n)
    {
      n = read (fd, data + done, size - done);
      if (n < 0 && errno == EINTR)
        n = 0;
      else if (n <= 0)
        break;
    }
  if (data == NULL || done < size)
    {
      const char *why = data == NULL ? _("not enough memory") : n < 0 ? g_strerror (errno) : _("it ends early");

      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("“%s” cannot be read: %s"), path, why);
    }
  close (fd);
  if (modified_us != NULL)
    *modified_us = (gint64) info.st_mtim.tv_sec * G_USEC_PER_SEC + info.st_mtim.tv_nsec / 1000;
  return data != NULL && done == size ? g_bytes_new_take (g_steal_pointer (&data), size) : NULL;
}
