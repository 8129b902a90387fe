/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-ask.h"

#include "ws-blocking.h"
#include "ws-error.h"
#include "ws-file.h"
#include "ws-id.h"
#include "ws-intl.h"
#include "ws-package.h"
#include "ws-plate-make.h"
#include "ws-record.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>

/* Without the base the sender says why; in an emergency nothing is asked. */
static gboolean
check_base (WsDesk *desk, const WsFind *find, const WsAskOptions *options, GError **error)
{
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, desk->knowledge, desk->language);
  g_autofree char *warning = ws_evidence_dup_base_warning (evidence, desk->knowledge, desk->language);

  if (warning == NULL || options->emergency ||
      (options->without_base != NULL && options->without_base[strspn (options->without_base, " \t\n")] != '\0'))
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_REFUSED,
               _("%s To send %s without the base, give the reason why it is not shown; it travels with the request."),
               warning, find->number);
  return FALSE;
}

WsRequest *
ws_ask_prepare (WsDesk *desk, const WsFind *find, const WsAskOptions *options, GError **error)
{
  g_autofree char *name = NULL, *region = NULL, *id = NULL;
  WsRequest *request;

  if (!check_base (desk, find, options, error))
    return NULL;
  request = ws_request_new ();
  name = ws_library_dup_setting (desk->library, "my-name");
  region = ws_library_dup_setting (desk->library, "region");
  id = ws_id_new ();
  ws_set_string (&request->id, id);
  request->replaces = g_strdup (options->replaces);
  request->made_us = g_get_real_time ();
  ws_set_string (&request->language, options->language != NULL ? options->language : desk->language);
  ws_set_string (&request->from, options->from != NULL ? options->from : name);
  ws_set_string (&request->to, options->to);
  ws_set_string (&request->question, options->question);
  ws_set_string (&request->asked_elsewhere, options->asked_elsewhere);
  ws_set_string (&request->without_base, options->without_base);
  ws_set_string (&request->call_back, options->call_back);
  ws_set_string (&request->knowledge_digest, ws_knowledge_get_digest (desk->knowledge));
  request->emergency = options->emergency;
  request->tell_place = options->tell_place;
  if (options->tell_place == WS_TELL_REGION)
    ws_set_string (&request->region, options->region != NULL ? options->region : region);
  request->keep_time = options->keep_time;
  request->keep_camera = options->keep_camera;
  ws_find_unref (request->find);
  request->find = ws_request_dup_sendable_find (find, options->tell_place, options->keep_time, options->keep_camera);
  request->place = request->find->where;
  return request;
}

/* Where the originals are now; a photo that is gone stops the request by name. */
static GHashTable *
locate_photos (WsDesk *desk, const WsFind *find, GError **error)
{
  g_autoptr (GHashTable) paths = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);

  for (guint i = 0; i < find->photos->len; i++)
    {
      const WsPhoto *photo = ((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo;
      char *path;

      if (photo->set_aside)
        continue;
      path = ws_record_locate_photo (desk, photo, error);
      if (path == NULL)
        return NULL;
      g_hash_table_insert (paths, g_strdup (photo->id), path);
    }
  return g_steal_pointer (&paths);
}

typedef struct { WsProgress progress; gpointer data; } Relay;

static void
relay_progress (guint done, guint total, gpointer data)
{
  const Relay *relay = data;

  if (relay->progress != NULL)
    relay->progress (done, total, "", relay->data);
}

static gboolean
copy_out (const char *from, const char *to, GError **error)
{
  g_autoptr (GMappedFile) map = g_mapped_file_new (from, FALSE, error);

  return map != NULL && ws_file_write (to, g_mapped_file_get_contents (map), g_mapped_file_get_length (map), error);
}

/* The page stands beside the zip under the same name. */
static char *
page_path_of (const char *package)
{
  const char *dot = strrchr (package, '.');
  g_autofree char *stem = dot != NULL && strchr (dot, '/') == NULL ? g_strndup (package, (gsize) (dot - package))
                                                                  : g_strdup (package);

  return g_strconcat (stem, ".html", NULL);
}

/* "sent/25-101 2025-10-04 1a2b3c4d.zip": a find asked about twice must not overwrite what was sent. */
static char *
sent_path (WsDesk *desk, const WsRequest *request)
{
  g_autofree char *stem = ws_request_dup_file_stem (request);
  g_autofree char *name = g_strdup_printf ("%s %.8s.zip", stem, request->id);

  return g_build_filename (ws_library_get_folder (desk->library), "sent", name, NULL);
}

gboolean
ws_ask (WsDesk *desk, const char *find_id, const WsAskOptions *options, const char *path, gboolean page,
        WsProgress progress, gpointer data, GCancellable *cancellable, char **package, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (WsRequest) request = find != NULL ? ws_ask_prepare (desk, find, options, error) : NULL;
  g_autoptr (GHashTable) paths = request != NULL ? locate_photos (desk, find, error) : NULL;
  g_autoptr (WsFigure) figure = paths != NULL ? ws_plate_load_figure (ws_find_get_growth_form (find), error) : NULL;
  g_autoptr (GHashTable) choices = figure != NULL ? ws_plate_load_choices (desk, find->id) : NULL;
  g_autofree char *sent = NULL, *digest = NULL, *name = NULL, *page_path = NULL;
  WsPlateWish plate = { figure, choices, ws_plate_usual_paper (), FALSE };
  Relay relay = { progress, data };

  ws_blocking ("making a request");
  if (figure == NULL)
    return FALSE;
  sent = sent_path (desk, request);
  name = g_path_get_basename (sent);
  page_path = page ? page_path_of (path != NULL ? path : sent) : NULL;
  if (!ws_package_write (request, paths, desk->knowledge, sent, page_path, &plate, options->max_bytes, relay_progress, &relay,
                         cancellable, &digest, error))
    return FALSE;
  /* From here on nothing is cancelled: the package exists and must be known to the library. */
  if (!ws_library_add_request (desk->library, request, digest, name, error))
    {
      (void) g_unlink (sent);
      return FALSE;
    }
  if (path != NULL && !copy_out (sent, path, error))
    return FALSE;
  if (package != NULL)
    *package = path != NULL ? g_strdup (path) : g_steal_pointer (&sent);
  return TRUE;
}
