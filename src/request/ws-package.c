/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-package.h"

#include "ws-blocking.h"
#include "ws-digest.h"
#include "ws-dwc.h"
#include "ws-error.h"
#include "ws-file.h"
#include "ws-intl.h"
#include "ws-part-terms.h"
#include "ws-request-page.h"
#include "ws-told-copy.h"


typedef struct
{
  const WsRequest *request;
  GHashTable *paths;
  const WsKnowledge *knowledge;
  WsBagWriter *bag;
  GPtrArray *photos;  /* WsPackagePhoto */
  GPtrArray *crops;   /* WsPackageCrop */
  char *number;       /* of the find, as files are named */
  WsPackageProgress progress;
  gpointer data;
  guint done, total;
  GCancellable *cancellable;
} Package;

static void
package_clear (Package *package)
{
  ws_bag_writer_free (package->bag);
  g_clear_pointer (&package->photos, g_ptr_array_unref);
  g_clear_pointer (&package->crops, g_ptr_array_unref);
  g_free (package->number);
}

static gboolean
step (Package *package, GError **error)
{
  package->done++;
  if (package->progress != NULL)
    package->progress (package->done, package->total, package->data);
  return !g_cancellable_set_error_if_cancelled (package->cancellable, error);
}

/* --- Pictures ------------------------------------------------------------------------------------ */

/* The marks of a photo as regions, by their ids; the strings are the find's and the knowledge's. */
static GArray *
regions_of (Package *package, const char *photo_id)
{
  GPtrArray *marks = package->request->find->marks;
  GArray *regions = g_array_new (FALSE, FALSE, sizeof (WsRegion));

  for (guint i = 0; i < marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (marks, i);
      const WsPartTerms *terms = ws_part_terms (mark->part);
      WsRegion region = { mark->shape, mark->id,
                          ws_knowledge_text (package->knowledge, package->request->language, "part", mark->part),
                          terms->iri, terms->iri_words };

      if (g_str_equal (mark->photo_id, photo_id))
        g_array_append_val (regions, region);
    }
  return regions;
}

/* A copy that may leave; @crop (nullable). The full one tells time and camera, where they may be told, and the marks. */
static WsPhotoCopy *
make_copy (Package *package, const WsPhoto *photo, int max_edge, const WsRect *crop, gboolean full,
           GError **error)
{
  const WsRequest *request = package->request;
  g_autoptr (GArray) regions = full ? regions_of (package, photo->id) : NULL;
  WsCopyOptions options = { .max_edge = max_edge, .crop = crop, .regions = regions, .language = request->language };

  if (full && request->keep_time && ws_moment_is_known (&photo->taken))
    options.taken = &photo->taken;
  if (full && request->keep_camera)
    {
      options.make = *photo->make != '\0' ? photo->make : NULL;
      options.model = *photo->model != '\0' ? photo->model : NULL;
    }
  return ws_told_copy_make (request->find, photo, package->paths, options, package->cancellable, error);
}

/* The full copy goes into the bag at once, so that only the small ones stay in memory. */
static gboolean
add_photo (Package *package, const WsPhoto *photo, GError **error)
{
  WsPackagePhoto *sent = g_new0 (WsPackagePhoto, 1);
  g_autoptr (WsPhotoCopy) full = NULL, small = NULL;

  sent->photo = photo;
  sent->name = g_strdup_printf ("data/photos/%s-%02u.jpg", package->number, package->photos->len + 1);
  g_ptr_array_add (package->photos, sent);
  full = make_copy (package, photo, 0, NULL, TRUE, error);
  if (full == NULL)
    return FALSE;
  sent->digest = ws_digest_bytes (full->jpeg);
  sent->width = full->width;
  sent->height = full->height;
  if (!ws_bag_writer_add (package->bag, sent->name, full->jpeg, TRUE, error) || !step (package, error))
    return FALSE;
  small = make_copy (package, photo, WS_PACKAGE_PAGE_EDGE, NULL, FALSE, error);
  if (small == NULL)
    return FALSE;
  sent->page_jpeg = g_bytes_ref (small->jpeg);
  return step (package, error);
}

static gboolean
add_crop (Package *package, const WsMark *mark, GError **error)
{
  const WsPhoto *photo = ws_find_get_photo (package->request->find, mark->photo_id);
  g_autoptr (WsPhotoCopy) copy = NULL;
  WsPackageCrop *crop;

  if (photo == NULL || mark->whole_photo)
    return step (package, error);
  copy = make_copy (package, photo, WS_PACKAGE_CROP_EDGE, &mark->shape->bounds, FALSE, error);
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

static gboolean
add_plate (Package *package, const WsPlateWish *wish, GError **error)
{
  g_autoptr (GBytes) pdf = ws_plate_file_make (package->request, package->paths, package->knowledge, wish, WS_PLATE_PDF,
                                               package->cancellable, error);

  return pdf != NULL && ws_bag_writer_add (package->bag, "data/plate.pdf", pdf, TRUE, error) && step (package, error);
}

static gboolean
finish (Package *package, const char *page_path, char **json_digest, GError **error)
{
  g_autoptr (GBytes) json = ws_request_to_json (package->request, package->photos, package->knowledge);
  g_autoptr (GBytes) page = ws_request_page (package->request, package->photos, package->crops, package->knowledge);
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
    *json_digest = ws_digest_bytes (json);
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

gboolean
ws_package_write (const WsRequest *request, GHashTable *photo_paths, const WsKnowledge *knowledge, const char *path,
                  const char *page_path, const WsPlateWish *plate, WsPackageProgress progress, gpointer data,
                  GCancellable *cancellable, char **json_digest, GError **error)
{
  Package package = { .request = request, .paths = photo_paths, .knowledge = knowledge, .progress = progress,
                      .data = data, .cancellable = cancellable };
  g_autofree char *stem = ws_request_dup_file_stem (request), *top = ws_file_name_from (stem);
  gboolean fine;

  ws_blocking ("making a package");
  if (!may_go (request, knowledge, error))
    return FALSE;
  package.number = ws_file_name_from (request->find->number);
  package.photos = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_package_photo_free);
  package.crops = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_package_crop_free);
  package.total = 2 * request->find->photos->len + request->find->marks->len + 1 + (plate != NULL);
  package.bag = ws_bag_writer_new (path, top, error);
  fine = package.bag != NULL && add_pictures (&package, error)
         && (plate == NULL || add_plate (&package, plate, error)) && finish (&package, page_path, json_digest, error);
  package_clear (&package);
  return fine;
}
