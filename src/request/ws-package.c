/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-package.h"

#include "ws-blocking.h"
#include "ws-digest.h"
#include "ws-dwc.h"
#include "ws-error.h"
#include "ws-file.h"
#include "ws-intl.h"
#include "ws-package-pictures.h"
#include "ws-picture.h"
#include "ws-request-page.h"

typedef struct
{
  const WsRequest *request;
  const WsKnowledge *knowledge;
  WsPackagePictures pictures;
  WsBagWriter *bag;
  GPtrArray *photos;  /* WsPackagePhoto */
  GPtrArray *crops;   /* WsPackageCrop */
  char *number;       /* of the find, as files are named */
  const WsPlateWish *plate;   /* (nullable) */
  GBytes *plate_jpeg;         /* (nullable): for the page */
  int plate_width, plate_height;
  guint64 limit;      /* bytes, 0 none */
  WsPackageProgress progress;
  gpointer data;
  guint done, told, total;
  GCancellable *cancellable;
} Package;

static void
package_clear (Package *package)
{
  g_clear_pointer (&package->bag, ws_bag_writer_free);
  g_clear_pointer (&package->photos, g_ptr_array_unref);
  g_clear_pointer (&package->crops, g_ptr_array_unref);
  g_clear_pointer (&package->plate_jpeg, g_bytes_unref);
}

/* Where pictures are made again to be smaller, the progress stands still and never goes back. */
static void
tell (gpointer data)
{
  Package *package = data;

  if (++package->done <= package->told)
    return;
  package->told = package->done;
  if (package->progress != NULL)
    package->progress (package->told, package->total, package->data);
}

static gboolean
step (Package *package, GError **error)
{
  tell (package);
  return !g_cancellable_set_error_if_cancelled (package->cancellable, error);
}

/* --- Pictures ------------------------------------------------------------------------------------ */

/* The full copy goes into the bag at once, so that only the small ones stay in memory. */
static gboolean
add_photo (Package *package, const WsPhoto *photo, GError **error)
{
  WsPackagePhoto *sent = g_new0 (WsPackagePhoto, 1);
  g_autoptr (WsPhotoCopy) full = NULL, small = NULL;

  sent->photo = photo;
  sent->name = g_strdup_printf ("data/photos/%s-%02u.jpg", package->number, package->photos->len + 1);
  g_ptr_array_add (package->photos, sent);
  full = ws_package_pictures_copy (&package->pictures, photo, error);
  if (full == NULL)
    return FALSE;
  sent->digest = ws_digest_bytes (full->jpeg);
  sent->width = full->width;
  sent->height = full->height;
  if (!ws_bag_writer_add (package->bag, sent->name, full->jpeg, TRUE, error) || !step (package, error))
    return FALSE;
  small = ws_package_pictures_page (&package->pictures, photo, error);
  if (small == NULL)
    return FALSE;
  sent->page_jpeg = g_bytes_ref (small->jpeg);
  return step (package, error);
}

static gboolean
add_crop (Package *package, const WsMark *mark, GError **error)
{
  g_autoptr (WsPhotoCopy) copy = NULL;
  WsPackageCrop *crop;

  if (ws_find_get_photo (package->request->find, mark->photo_id) == NULL || mark->whole_photo)
    return step (package, error);
  copy = ws_package_pictures_closeup (&package->pictures, mark, error);
  if (copy == NULL)
    return FALSE;
  crop = g_new0 (WsPackageCrop, 1);
  crop->mark = mark;
  crop->jpeg = g_bytes_ref (copy->jpeg);
  crop->width = copy->width;
  crop->height = copy->height;
  g_ptr_array_add (package->crops, crop);
  return step (package, error);
}

static gboolean
add_pictures (Package *package, GError **error)
{
  const WsFind *find = package->request->find;

  for (guint i = 0; i < find->photos->len; i++)
    if (!add_photo (package, ((WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo, error))
      return FALSE;
  for (guint i = 0; i < find->marks->len; i++)
    if (!add_crop (package, g_ptr_array_index (find->marks, i), error))
      return FALSE;
  return TRUE;
}

/* --- The bag --------------------------------------------------------------------------------------- */

static void
add_info (Package *package)
{
  const WsRequest *request = package->request;
  g_autoptr (GDateTime) made = g_date_time_new_from_unix_utc (request->made_us / G_USEC_PER_SEC);
  g_autofree char *day = made != NULL ? g_date_time_format (made, "%Y-%m-%d") : NULL;

  if (day != NULL)
    ws_bag_writer_add_info (package->bag, "Bagging-Date", day);
  if (*request->from != '\0')
    ws_bag_writer_add_info (package->bag, "Contact-Name", request->from);
  ws_bag_writer_add_info (package->bag, "External-Identifier", request->id);
  ws_bag_writer_add_info (package->bag, "External-Description",
                          ws_knowledge_text (package->knowledge, request->language, "page", "title"));
  ws_bag_writer_add_info (package->bag, "Bag-Software-Agent", "Wholestem " WS_VERSION);
}

/* The page beside the zip is written before the zip is finished and put in its place after. */
static WsSafeFile *
write_page (const char *page_path, GBytes *page, GError **error)
{
  g_autoptr (WsSafeFile) file = ws_safe_file_open (page_path, error);
  gsize size;
  gconstpointer data = g_bytes_get_data (page, &size);

  if (file == NULL || !ws_safe_file_write (file, data, size, error))
    return NULL;
  return g_steal_pointer (&file);
}

/* The same find for programs that know nothing of ours. */
static gboolean
add_darwin_core (Package *package, GError **error)
{
  const WsRequest *request = package->request;
  g_autoptr (WsDwcArchive) archive = ws_dwc_archive_new (package->knowledge, request->language);
  g_autofree char *id = g_strconcat ("urn:uuid:", request->id, NULL);
  g_autoptr (GPtrArray) files = NULL;

  ws_dwc_archive_add (archive, request, package->photos, "../photos/");
  files = ws_dwc_archive_dup_files (archive, id, request->from, request->made_us);
  for (guint i = 0; i < files->len; i++)
    {
      const WsDwcFile *file = g_ptr_array_index (files, i);
      g_autofree char *name = g_strconcat ("data/darwin-core/", file->name, NULL);

      if (!ws_bag_writer_add (package->bag, name, file->bytes, FALSE, error))
        return FALSE;
    }
  return TRUE;
}

/* For wide screens; where the pictures of the page are made small, the plate is too. */
static gboolean
make_plate_jpeg (Package *package, GError **error)
{
  int edge = ws_size_get_step (package->pictures.step)->page.edge * 5 / 4;
  g_autoptr (GBytes) png = ws_plate_file_make (package->request, package->pictures.paths, (WsKnowledge *) package->knowledge,
                                               package->plate, WS_PLATE_PNG, package->cancellable, error);
  g_autoptr (WsPicture) picture = png != NULL ? ws_picture_decode (png, "plate.png", edge, package->cancellable, error) : NULL;

  if (picture == NULL)
    return FALSE;
  package->plate_width = picture->width;
  package->plate_height = picture->height;
  package->plate_jpeg = ws_picture_to_jpeg (picture, 80, error);
  return package->plate_jpeg != NULL;
}

static gboolean
add_plate (Package *package, GError **error)
{
  g_autoptr (GBytes) pdf = ws_plate_file_make (package->request, package->pictures.paths, (WsKnowledge *) package->knowledge,
                                               package->plate, WS_PLATE_PDF, package->cancellable, error);

  return pdf != NULL && ws_bag_writer_add (package->bag, "data/plate.pdf", pdf, TRUE, error)
         && make_plate_jpeg (package, error) && step (package, error);
}

static gboolean
finish (Package *package, const char *page_path, char **json_digest, GError **error)
{
  g_autoptr (GBytes) json = ws_request_to_json (package->request, package->photos, package->knowledge);
  g_autofree char *digest = ws_digest_bytes (json);
  WsPageExtras extras = { .figure = package->plate != NULL ? package->plate->figure : NULL, .plate = package->plate_jpeg,
                          .plate_width = package->plate_width, .plate_height = package->plate_height, .json_digest = digest };
  g_autoptr (GBytes) page = ws_request_page (package->request, package->photos, package->crops, package->knowledge, &extras);
  g_autoptr (WsSafeFile) beside = page_path != NULL ? write_page (page_path, page, error) : NULL;

  if (page_path != NULL && beside == NULL)
    return FALSE;
  add_info (package);
  if (!ws_bag_writer_add (package->bag, "data/request.html", page, FALSE, error)
      || !ws_bag_writer_add (package->bag, "data/request.json", json, FALSE, error)
      || !add_darwin_core (package, error) || !step (package, error)
      || !ws_bag_writer_finish (package->bag, error))
    return FALSE;
  if (beside != NULL && !ws_safe_file_commit (beside, error))
    return FALSE;
  if (json_digest != NULL)
    *json_digest = g_steal_pointer (&digest);
  return TRUE;
}

/* The window and the tool ask before; this is the last door. */
static gboolean
may_go (const WsRequest *request, const WsKnowledge *knowledge, GError **error)
{
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (request->find, knowledge, request->language);
  const WsEvidenceLine *base = ws_evidence_get_base (evidence);

  if (request->emergency || base == NULL || base->need != WS_NEED_REQUIRED || base->state == WS_EVIDENCE_SHOWN
      || *request->without_base != '\0')
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_REFUSED,
               _("The base of the stem of find %s is not shown. Photograph and mark it, or say why it cannot be shown."),
               request->find->number);
  return FALSE;
}

/* Writes the whole at the present step of the sizes. */
static gboolean
write_once (Package *package, const char *path, const char *top, const char *page_path, char **json_digest, GError **error)
{
  package_clear (package);
  package->done = 0;
  package->photos = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_package_photo_free);
  package->crops = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_package_crop_free);
  package->bag = ws_bag_writer_new (path, top, error);
  if (package->bag == NULL)
    return FALSE;
  ws_bag_writer_set_limit (package->bag, package->limit);
  return add_pictures (package, error) && (package->plate == NULL || add_plate (package, error))
         && finish (package, page_path, json_digest, error);
}

/* What the rest takes is known only when it is written: then pictures are made smaller once more. */
static gboolean
write_within (Package *package, const char *path, const char *top, const char *page_path, char **json_digest, GError **error)
{
  WsPackagePictures *pictures = &package->pictures;

  pictures->made = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) ws_photo_copy_free);
  pictures->tell = tell;
  pictures->data = package;
  if (!ws_package_pictures_fit (pictures, package->limit, error))
    return FALSE;
  for (;;)
    {
      g_autoptr (GError) local = NULL;

      if (write_once (package, path, top, page_path, json_digest, &local))
        return TRUE;
      if (!g_error_matches (local, WS_ERROR, WS_ERROR_TOO_LARGE) || pictures->step + 1 >= WS_SIZE_N_STEPS)
        {
          g_propagate_error (error, g_steal_pointer (&local));
          return FALSE;
        }
      pictures->step++;
    }
}

gboolean
ws_package_write (const WsRequest *request, GHashTable *photo_paths, const WsKnowledge *knowledge, const char *path,
                  const char *page_path, const WsPlateWish *plate, guint64 limit, WsPackageProgress progress,
                  gpointer data, GCancellable *cancellable, char **json_digest, GError **error)
{
  Package package = { .request = request, .knowledge = knowledge, .plate = plate, .limit = limit, .progress = progress, .data = data,
                      .cancellable = cancellable,
                      .pictures = { .request = request, .paths = photo_paths, .knowledge = knowledge,
                                    .cancellable = cancellable } };
  g_autofree char *stem = ws_request_dup_file_stem (request), *top = ws_file_name_from (stem);
  gboolean fine;

  ws_blocking ("making a package");
  if (!may_go (request, knowledge, error))
    return FALSE;
  package.number = ws_file_name_from (request->find->number);
  package.total = 2 * request->find->photos->len + request->find->marks->len + 1 + (plate != NULL);
  fine = limit > 0 ? write_within (&package, path, top, page_path, json_digest, error)
                   : write_once (&package, path, top, page_path, json_digest, error);
  package_clear (&package);
  g_clear_pointer (&package.pictures.made, g_hash_table_unref);
  g_free (package.number);
  return fine;
}
