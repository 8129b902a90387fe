/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-told-copy.h"

#include "ws-error.h"
#include "ws-intl.h"

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
