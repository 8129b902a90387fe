/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-package-pictures.h"

#include "ws-error.h"
#include "ws-intl.h"
#include "ws-part-terms.h"
#include "ws-told-copy.h"

#include <inttypes.h>
#include <sys/stat.h>

/* The page holds its pictures as base64, which the zip packs to a little more than they were. */
#define IN_PAGE 1.03
/* Room for JSON, tables, the words of the page and the plate. */
#define REST (512 << 10)

/* --- One picture --------------------------------------------------------------------------------------- */

/* The marks of a photo as regions, by their ids; the strings are the find's and the knowledge's. */
static GArray *
regions_of (WsPackagePictures *self, const char *photo_id)
{
  GPtrArray *marks = self->request->find->marks;
  GArray *regions = g_array_new (FALSE, FALSE, sizeof (WsRegion));

  for (guint i = 0; i < marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (marks, i);
      const WsPartTerms *terms = ws_part_terms (mark->part);
      WsRegion region = { mark->shape, mark->id,
                          ws_knowledge_text (self->knowledge, self->request->language, "part", mark->part),
                          terms->iri, terms->iri_words };

      if (g_str_equal (mark->photo_id, photo_id))
        g_array_append_val (regions, region);
    }
  return regions;
}

static WsPhotoCopy *
dup_copy (const WsPhotoCopy *copy)
{
  WsPhotoCopy *same = g_memdup2 (copy, sizeof *copy);

  g_bytes_ref (same->jpeg);
  return same;
}

/* Makes a picture unless it was made before. @what: names it among the pictures of the package. */
static WsPhotoCopy *
make (WsPackagePictures *self, const WsPhoto *photo, const char *what, WsPictureSize size, WsCopyOptions options,
      GError **error)
{
  g_autofree char *key = g_strdup_printf ("%s %d %d", what, size.edge, size.quality);
  WsPhotoCopy *copy = self->made != NULL ? g_hash_table_lookup (self->made, key) : NULL;

  if (copy != NULL)
    return dup_copy (copy);
  options.max_edge = size.edge;
  options.quality = size.quality;
  copy = ws_told_copy_make (self->request->find, photo, self->paths, options, self->cancellable, error);
  if (copy != NULL && self->made != NULL)
    g_hash_table_insert (self->made, g_steal_pointer (&key), dup_copy (copy));
  return copy;
}

WsPhotoCopy *
ws_package_pictures_copy (WsPackagePictures *self, const WsPhoto *photo, GError **error)
{
  const WsRequest *request = self->request;
  const WsSizeStep *sizes = ws_size_get_step (self->step);
  g_autoptr (GArray) regions = regions_of (self, photo->id);
  g_autofree char *what = g_strconcat ("copy ", photo->id, NULL);
  WsCopyOptions options = { .regions = regions, .language = request->language };

  if (request->keep_time && ws_moment_is_known (&photo->taken))
    options.taken = &photo->taken;
  if (request->keep_camera)
    {
      options.make = *photo->make != '\0' ? photo->make : NULL;
      options.model = *photo->model != '\0' ? photo->model : NULL;
    }
  return make (self, photo, what, ws_size_is_marked (request->find, photo->id) ? sizes->marked : sizes->plain, options,
               error);
}

WsPhotoCopy *
ws_package_pictures_page (WsPackagePictures *self, const WsPhoto *photo, GError **error)
{
  g_autofree char *what = g_strconcat ("page ", photo->id, NULL);

  return make (self, photo, what, ws_size_get_step (self->step)->page, (WsCopyOptions) { 0 }, error);
}

WsPhotoCopy *
ws_package_pictures_closeup (WsPackagePictures *self, const WsMark *mark, GError **error)
{
  const WsPhoto *photo = ws_find_get_photo (self->request->find, mark->photo_id);
  g_autofree char *what = g_strconcat ("part ", mark->id, NULL);

  g_assert (photo != NULL && !mark->whole_photo);
  return make (self, photo, what, ws_size_get_step (self->step)->closeup,
               (WsCopyOptions) { .crop = &mark->shape->bounds }, error);
}

/* --- All of them ------------------------------------------------------------------------------------------ */

static gboolean
add_size (WsPackagePictures *self, WsPhotoCopy *copy, double factor, double *bytes)
{
  if (copy == NULL)
    return FALSE;
  *bytes += factor * (double) g_bytes_get_size (copy->jpeg);
  ws_photo_copy_free (copy);
  if (self->tell != NULL)
    self->tell (self->data);
  return TRUE;
}

/* What the pictures take at the present step. FALSE with an error. */
static gboolean
measure (WsPackagePictures *self, double *bytes, GError **error)
{
  const WsFind *find = self->request->find;

  *bytes = 0;
  for (guint i = 0; i < find->photos->len; i++)
    {
      const WsPhoto *photo = ((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo;

      if (!add_size (self, ws_package_pictures_copy (self, photo, error), 1, bytes)
          || !add_size (self, ws_package_pictures_page (self, photo, error), IN_PAGE, bytes)
          || g_cancellable_set_error_if_cancelled (self->cancellable, error))
        return FALSE;
    }
  for (guint i = 0; i < find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (find->marks, i);

      if (ws_find_get_photo (find, mark->photo_id) != NULL && !mark->whole_photo
          && !add_size (self, ws_package_pictures_closeup (self, mark, error), IN_PAGE, bytes))
        return FALSE;
    }
  return !g_cancellable_set_error_if_cancelled (self->cancellable, error);
}

/* Photo id to KiB of the original, as pointers. */
static GHashTable *
file_sizes (WsPackagePictures *self)
{
  GHashTable *sizes = g_hash_table_new (g_str_hash, g_str_equal);
  GHashTableIter iter;
  gpointer id, path;
  struct stat info;

  g_hash_table_iter_init (&iter, self->paths);
  while (g_hash_table_iter_next (&iter, &id, &path))
    if (stat (path, &info) == 0 && info.st_size > 0)
      g_hash_table_insert (sizes, id, GUINT_TO_POINTER ((guint) MIN (info.st_size / 1024 + 1, G_MAXINT)));
  return sizes;
}

/* The first step from @from on at which guess x @factor lies below @room. */
static guint
first_below (WsPackagePictures *self, GHashTable *sizes, guint from, double factor, double room)
{
  guint step = from;

  while (step < WS_SIZE_N_STEPS - 1 && ws_size_guess (self->request->find, sizes, step) * factor > room)
    step++;
  return step;
}

gboolean
ws_package_pictures_fit (WsPackagePictures *self, guint64 limit, GError **error)
{
  g_autoptr (GHashTable) sizes = file_sizes (self);
  double room = (double) limit - MIN (REST, (double) limit / 8), bytes;
  guint too_large = 0;   /* the steps before this one are known not to fit */

  /* The guess is taken at half, so that too much is not taken away; what was guessed wrong is measured. */
  self->step = first_below (self, sizes, 0, 0.5, room);
  while (measure (self, &bytes, error))
    {
      if (bytes <= room && (self->step == too_large || bytes > 0.6 * room))
        return TRUE;
      if (bytes <= room)
        {
          self->step--;
          continue;
        }
      too_large = self->step + 1;
      if (too_large >= WS_SIZE_N_STEPS)
        {
          g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE,
                       _("The request does not get below %" PRIu64 " bytes, however small its pictures are made. "
                         "Leave photos out, or give a larger limit."), limit);
          return FALSE;
        }
      self->step = first_below (self, sizes, too_large, bytes / ws_size_guess (self->request->find, sizes, self->step), room);
    }
  return FALSE;
}
