/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading photos in parallel and storing them as one action. */
#include "ws-import.h"

#include "ws-blocking.h"
#include "ws-error.h"
#include "ws-file.h"
#include "ws-id.h"
#include "ws-import-scan.h"
#include "ws-intl.h"
#include "ws-photo-read.h"

#include <glib/gstdio.h>
#include <math.h>

/* Two workers with one libvips thread each beat one worker with two (measured). */
#define WORKERS 2

typedef struct
{
  WsDesk *desk;
  const WsImportOptions *options;
  GCancellable *cancellable;
  GAsyncQueue *finished;    /* Reading */
} Import;

typedef struct
{
  WsImportFile *file;       /* borrowed */
  char *path;               /* of the file that is kept: the copy when it was copied */
  char *companion;
  WsPhotoReading *reading;  /* (nullable) */
  GError *error;
} Reading;

static void
reading_free (Reading *reading)
{
  g_free (reading->path);
  g_free (reading->companion);
  ws_photo_reading_free (reading->reading);
  g_clear_error (&reading->error);
  g_free (reading);
}

static void
passed_over_free (WsPassedOver *entry)
{
  g_free (entry->path);
  g_free (entry->why);
  g_free (entry);
}

void
ws_import_result_free (WsImportResult *result)
{
  if (result == NULL)
    return;
  g_ptr_array_unref (result->added);
  g_ptr_array_unref (result->known);
  g_ptr_array_unref (result->passed_over);
  g_free (result);
}

static char *
copy_if_asked (Import *import, const char *path, GError **error)
{
  const WsImportOptions *options = import->options;
  g_autofree char *standard = NULL;
  const char *folder = options->copy_into;

  if (folder == NULL && options->copy_removable && ws_import_is_removable (path))
    folder = standard = g_build_filename (ws_library_get_folder (import->desk->library), "photos", NULL);
  return folder != NULL ? ws_import_copy_file (path, folder, import->cancellable, error) : g_strdup (path);
}

static gboolean
write_thumbnail (Import *import, const WsPhotoReading *reading, GError **error)
{
  g_autofree char *path = ws_library_dup_thumbnail_path (import->desk->library, reading->digest);
  g_autofree char *folder = g_path_get_dirname (path);
  gsize size;
  gconstpointer data = g_bytes_get_data (reading->thumbnail, &size);

  if (g_file_test (path, G_FILE_TEST_EXISTS))
    return TRUE;
  if (g_mkdir_with_parents (folder, 0700) != 0)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("The folder “%s” cannot be made"), folder);
      return FALSE;
    }
  /* No flush to the disk: thumbnails may be deleted and are made again. */
  return g_file_set_contents_full (path, data, (gssize) size, G_FILE_SET_CONTENTS_CONSISTENT, 0600, error);
}

static void
read_one (gpointer item, gpointer user_data)
{
  Import *import = user_data;
  Reading *reading = g_new0 (Reading, 1);

  if (import->options->in_background)
    ws_blocking_give_way ();
  reading->file = item;
  if (!g_cancellable_set_error_if_cancelled (import->cancellable, &reading->error))
    {
      reading->path = copy_if_asked (import, reading->file->path, &reading->error);
      if (reading->path != NULL && reading->file->companion != NULL)
        reading->companion = copy_if_asked (import, reading->file->companion, NULL);
      if (reading->path != NULL)
        reading->reading = ws_photo_read (reading->path, import->cancellable, &reading->error);
      if (reading->reading != NULL && !write_thumbnail (import, reading->reading, &reading->error))
        g_clear_pointer (&reading->reading, ws_photo_reading_free);
    }
  g_async_queue_push (import->finished, reading);
}

static WsPhoto *
photo_from (const Reading *reading)
{
  const WsPhotoFacts *facts = reading->reading->facts;
  WsPhoto *photo = ws_photo_new ();
  g_autofree char *id = ws_id_new ();
  GString *warnings = g_string_new (NULL);

  ws_set_string (&photo->id, id);
  ws_set_string (&photo->path, reading->path);
  ws_set_string (&photo->digest, reading->reading->digest);
  ws_set_string (&photo->media_type, facts->media_type);
  ws_set_string (&photo->make, facts->make);
  ws_set_string (&photo->model, facts->model);
  photo->companion = g_strdup (reading->companion);
  photo->file_size = reading->reading->size;
  photo->file_time_us = reading->reading->modified_us;
  photo->width = facts->width;
  photo->height = facts->height;
  photo->orientation = facts->orientation;
  photo->taken = facts->taken;
  photo->position = facts->position;
  photo->direction = facts->direction;
  photo->kind = facts->likely_screenshot ? WS_PHOTO_SCREENSHOT : WS_PHOTO_PLAIN;
  for (guint i = 0; i < facts->warnings->len; i++)
    g_string_append_printf (warnings, "%s%s", i > 0 ? "\n" : "", (char *) g_ptr_array_index (facts->warnings, i));
  ws_set_string (&photo->warnings, warnings->str);
  g_string_free (warnings, TRUE);
  return photo;
}

/* A shrunk copy looks like a larger photo and does not say that it was taken at another time. */
static gboolean
may_be_copy (const WsPhoto *small, const WsPhoto *large)
{
  double a = (double) small->width / small->height, b = (double) large->width / large->height;

  return (gint64) small->width * small->height < (gint64) large->width * large->height &&
         fabs (a / b - 1) < 0.02 &&
         (!ws_moment_is_known (&small->taken) || !ws_moment_is_known (&large->taken) ||
          small->taken.local_us / G_USEC_PER_SEC == large->taken.local_us / G_USEC_PER_SEC);
}

static void
note_copy (WsDesk *desk, WsPhoto *photo, guint64 likeness, GPtrArray *added, GArray *likenesses)
{
  g_autoptr (WsPhoto) larger = NULL;

  if (photo->kind != WS_PHOTO_PLAIN || likeness == 0)
    return;
  larger = ws_library_find_likeness (desk->library, likeness, photo->width, photo->height, NULL);
  for (guint i = 0; larger == NULL && i < added->len; i++)
    {
      WsPhoto *other = g_ptr_array_index (added, i);

      if (other != photo && ws_likeness_distance (likeness, g_array_index (likenesses, guint64, i)) <= 6 && may_be_copy (photo, other))
        larger = ws_photo_ref (other);
    }
  if (larger != NULL && may_be_copy (photo, larger))
    {
      photo->kind = WS_PHOTO_COPY;
      photo->copy_of = g_strdup (larger->id);
    }
}

typedef struct
{
  WsImportResult *result;
  GHashTable *digests;      /* digest of what this import has read -> WsPhoto */
  GArray *likenesses;       /* guint64, beside result->added */
} Taking;

static void
take_reading (WsDesk *desk, Reading *reading, Taking *taking)
{
  WsImportResult *result = taking->result;
  g_autoptr (WsPhoto) known = NULL;
  WsPhoto *photo;

  if (reading->reading == NULL)
    {
      if (g_error_matches (reading->error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        result->cancelled = TRUE;
      else
        ws_import_pass_over (result->passed_over, reading->file->path, reading->error->message);
      return;
    }
  if (g_hash_table_contains (taking->digests, reading->reading->digest))
    {
      ws_import_pass_over (result->passed_over, reading->file->path, _("the same photo is among these already"));
      return;
    }
  known = ws_library_load_photo_by_digest (desk->library, reading->reading->digest, NULL);
  if (known != NULL)
    {
      g_hash_table_add (taking->digests, g_strdup (known->digest));
      /* The file may have moved since: this is where it is now. */
      if (!g_file_test (known->path, G_FILE_TEST_EXISTS))
        ws_library_store_photo_path (desk->library, known->id, reading->path, reading->reading->size,
                                     reading->reading->modified_us, NULL);
      g_ptr_array_add (result->known, g_steal_pointer (&known));
      return;
    }
  photo = photo_from (reading);
  g_hash_table_add (taking->digests, g_strdup (photo->digest));
  g_ptr_array_add (result->added, photo);
  g_array_append_val (taking->likenesses, reading->reading->likeness);
}

static gboolean
store_added (WsDesk *desk, Taking *taking, GError **error)
{
  GPtrArray *added = taking->result->added;
  g_autofree char *label = NULL;
  WsAction *action;

  if (added->len == 0)
    return TRUE;
  label = g_strdup_printf (ngettext ("Add %u photo", "Add %u photos", added->len), added->len);
  action = ws_action_new (label);
  for (guint i = 0; i < added->len; i++)
    note_copy (desk, g_ptr_array_index (added, i), g_array_index (taking->likenesses, guint64, i), added,
               taking->likenesses);
  /* A copy names its original, which must be stored before it. */
  for (int pass = 0; pass < 2; pass++)
    for (guint i = 0; i < added->len; i++)
      {
        const WsPhoto *photo = g_ptr_array_index (added, i);

        if ((photo->copy_of != NULL) == (pass == 1))
          ws_action_put_photo (action, photo, g_array_index (taking->likenesses, guint64, i));
      }
  return ws_library_apply (desk->library, action, error);
}

/* Taken in the order of the files, whichever thread was faster: of two files of the same content it is always the first that
 * is kept. */
static void
read_all (Import *import, GPtrArray *files, Taking *taking, WsProgress progress, gpointer data)
{
  /* Its own threads: those that others take over must not give way. */
  GThreadPool *pool = g_thread_pool_new (read_one, import, WORKERS, TRUE, NULL);
  g_autoptr (GHashTable) early = g_hash_table_new (NULL, NULL);
  guint next = 0;

  for (guint i = 0; i < files->len; i++)
    g_thread_pool_push (pool, g_ptr_array_index (files, i), NULL);
  for (guint i = 0; i < files->len; i++)
    {
      Reading *reading = g_async_queue_pop (import->finished);

      if (progress != NULL)
        progress (i + 1, files->len, reading->file->path, data);
      g_hash_table_insert (early, reading->file, reading);
      while (next < files->len && (reading = g_hash_table_lookup (early, g_ptr_array_index (files, next))) != NULL)
        {
          take_reading (import->desk, reading, taking);
          g_hash_table_remove (early, reading->file);
          reading_free (reading);
          next++;
        }
    }
  g_thread_pool_free (pool, FALSE, TRUE);
}

static int
by_path (gconstpointer a, gconstpointer b)
{
  return g_strcmp0 ((*(WsPassedOver *const *) a)->path, (*(WsPassedOver *const *) b)->path);
}

WsImportResult *
ws_import_photos (WsDesk *desk, const char *const *paths, const WsImportOptions *options, WsProgress progress,
                  gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr (WsImportResult) result = g_new0 (WsImportResult, 1);
  g_autoptr (GPtrArray) files = NULL;
  g_autoptr (GAsyncQueue) finished = g_async_queue_new ();
  g_autoptr (GHashTable) digests = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GArray) likenesses = g_array_new (FALSE, FALSE, sizeof (guint64));
  static const WsImportOptions standard = { NULL, TRUE };
  Import import = { desk, options != NULL ? options : &standard, cancellable, finished };
  Taking taking = { result, digests, likenesses };

  ws_blocking ("importing photos");
  result->added = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_photo_unref);
  result->known = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_photo_unref);
  result->passed_over = g_ptr_array_new_with_free_func ((GDestroyNotify) passed_over_free);
  files = ws_import_scan (paths, result->passed_over, cancellable);
  read_all (&import, files, &taking, progress, data);
  g_ptr_array_sort (result->passed_over, by_path);
  if (g_cancellable_is_cancelled (cancellable))
    result->cancelled = TRUE;
  if (!store_added (desk, &taking, error))
    return NULL;
  return g_steal_pointer (&result);
}
