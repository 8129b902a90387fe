/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-told-copy.h"

#include "ws-error.h"
#include "ws-intl.h"
#include "ws-picture.h"

WsPhotoCopy *
ws_told_copy_make (const WsFind *find, const WsPhoto *photo, GHashTable *photo_paths, WsCopyOptions options,
                   GCancellable *cancellable, GError **error)
{
  const char *path = g_hash_table_lookup (photo_paths, photo->id);
  g_autoptr (GPtrArray) covers = g_ptr_array_new ();

  if (path == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND,
                   _("A photo of find %s is not where it was; look for it and try again"), find->number);
      return NULL;
    }
  for (guint i = 0; i < find->covers->len; i++)
    {
      const WsCover *cover = g_ptr_array_index (find->covers, i);

      if (g_str_equal (cover->photo_id, photo->id))
        g_ptr_array_add (covers, cover->shape);
    }
  options.covers = covers;
  return ws_photo_copy_make (path, &options, cancellable, error);
}

static cairo_surface_t *
surface_of (const WsPicture *picture, GBytes *jpeg)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, picture->width, picture->height);
  const guint8 *from = g_bytes_get_data (picture->pixels, NULL);
  guint8 *to = cairo_image_surface_get_data (surface);
  gsize stride = (gsize) cairo_image_surface_get_stride (surface), size;
  const guint8 *bytes = g_bytes_get_data (jpeg, &size);

  for (int y = 0; to != NULL && y < picture->height; y++)
    for (int x = 0; x < picture->width; x++, from += 3)
      ((guint32 *) (gpointer) (to + (gsize) y * stride))[x] = (guint32) from[0] << 16 | (guint32) from[1] << 8 | from[2];
  cairo_surface_mark_dirty (surface);
  cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_JPEG, bytes, size, (cairo_destroy_func_t) g_bytes_unref,
                               g_bytes_ref (jpeg));
  return surface;
}

cairo_surface_t *
ws_told_copy_load (const WsFind *find, const WsPhoto *photo, GHashTable *photo_paths, WsCopyOptions options,
                   GCancellable *cancellable, GError **error)
{
  g_autoptr (WsPhotoCopy) copy = ws_told_copy_make (find, photo, photo_paths, options, cancellable, error);
  g_autoptr (WsPicture) picture = copy != NULL ? ws_picture_decode (copy->jpeg, find->number, 0, cancellable, error) : NULL;

  return picture != NULL ? surface_of (picture, copy->jpeg) : NULL;
}
