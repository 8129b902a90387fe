/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-import-work.h"

#include "ws-arrange.h"

void
ws_import_reading_free (WsImportReading *reading)
{
  g_strfreev (reading->paths);
  ws_progress_board_unref (reading->progress);
  g_free (reading);
}

gpointer
ws_import_work_read (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  WsImportReading *reading = data;
  WsImportOptions options = { .copy_removable = TRUE, .in_background = TRUE };

  return ws_import_photos (desk, (const char *const *) reading->paths, &options, ws_progress_board_tell,
                           reading->progress, cancellable, error);
}

/* --- Grouping ------------------------------------------------------------------------------------ */

void
ws_import_wish_free (WsImportWish *wish)
{
  g_clear_pointer (&wish->only, g_hash_table_unref);
  g_free (wish);
}

void
ws_import_preview_free (WsImportPreview *preview)
{
  g_clear_pointer (&preview->grouping, ws_grouping_free);
  g_clear_pointer (&preview->old_finds, g_ptr_array_unref);
  g_free (preview);
}

gpointer
ws_import_work_group (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  WsImportWish *wish = data;
  g_autoptr (GPtrArray) loose = ws_library_load_unsorted (desk->library, error);
  g_autoptr (GPtrArray) photos = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_photo_unref);
  WsImportPreview *preview;

  if (loose == NULL)
    return NULL;
  for (guint i = 0; i < loose->len; i++)
    {
      const WsPhoto *photo = g_ptr_array_index (loose, i);

      if (wish->only == NULL || g_hash_table_contains (wish->only, photo->id))
        g_ptr_array_add (photos, ws_photo_ref (photo));
    }
  preview = g_new0 (WsImportPreview, 1);
  preview->grouping = ws_grouping_split (photos, &wish->rule);
  preview->old_finds = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_find_unref);
  for (guint i = 0; i < preview->grouping->groups->len; i++)
    {
      GPtrArray *group = g_ptr_array_index (preview->grouping->groups, i);

      g_ptr_array_add (preview->old_finds, ws_import_suggest_find (desk, group, &wish->rule, NULL));
    }
  return preview;
}

/* --- Making finds ---------------------------------------------------------------------------------- */

void
ws_import_making_free (WsImportMaking *making)
{
  g_clear_pointer (&making->groups, g_ptr_array_unref);
  g_clear_pointer (&making->old_finds, g_ptr_array_unref);
  g_free (making->fates);
  g_free (making);
}

static gboolean
add_to_old (WsDesk *desk, GPtrArray *group, const WsFind *find, const char *visit, GError **error)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_auto (GStrv) ids = NULL;

  for (guint i = 0; i < group->len; i++)
    g_strv_builder_add (builder, ((WsPhoto *) g_ptr_array_index (group, i))->id);
  ids = g_strv_builder_end (builder);
  return ws_arrange_share (desk, (const char *const *) ids, find->id, visit, error);
}

gpointer
ws_import_work_make (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  WsImportMaking *making = data;
  g_autoptr (GPtrArray) groups = g_ptr_array_new ();
  g_autoptr (GPtrArray) unsorted = g_ptr_array_new ();
  WsGrouping grouping = { groups, unsorted };
  guint *made = g_new0 (guint, 1);

  for (guint i = 0; i < making->groups->len; i++)
    {
      const WsFind *old = g_ptr_array_index (making->old_finds, i);

      if (making->fates[i] == WS_IMPORT_NEW_FIND || old == NULL)
        g_ptr_array_add (groups, g_ptr_array_index (making->groups, i));
      else if (!add_to_old (desk, g_ptr_array_index (making->groups, i), old,
                            making->fates[i] == WS_IMPORT_SAME_SPECIMEN ? "same" : "another", error))
        {
          g_free (made);
          return NULL;
        }
    }
  if (groups->len > 0)
    {
      g_auto (GStrv) ids = ws_import_make_finds (desk, &grouping, error);

      if (ids == NULL)
        g_clear_pointer (&made, g_free);
      else
        *made = g_strv_length (ids);
    }
  return made;
}
