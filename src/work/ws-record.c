/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marks, excuses and covered regions; notes and words are in ws-record-notes.c. */
#include "ws-record.h"

#include "ws-digest.h"
#include "ws-error.h"
#include "ws-id.h"
#include "ws-intl.h"
#include "ws-record-private.h"
#include "ws-sharpness.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

gboolean
ws_record_invalid (GError **error, const char *format, ...)
{
  g_autofree char *text = NULL;
  va_list args;

  va_start (args, format);
  text = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (error, WS_ERROR, WS_ERROR_INVALID, text);
  return FALSE;
}

/* A file of the size of @photo in @folder whose digest is that of the photo. */
static char *
look_in_folder (const WsPhoto *photo, const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autofree char *digest = NULL;
      GStatBuf info;

      if (g_stat (path, &info) != 0 || info.st_size != photo->file_size)
        continue;
      digest = ws_digest_file (path, NULL, NULL);
      if (g_strcmp0 (digest, photo->digest) == 0)
        return g_steal_pointer (&path);
    }
  return NULL;
}

char *
ws_record_locate_photo (WsDesk *desk, const WsPhoto *photo, GError **error)
{
  g_autoptr (GPtrArray) photos = NULL;
  g_autoptr (GHashTable) folders = NULL;

  if (g_file_test (photo->path, G_FILE_TEST_IS_REGULAR))
    return g_strdup (photo->path);
  photos = ws_library_load_all_photos (desk->library, error);
  if (photos == NULL)
    return NULL;
  folders = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < photos->len; i++)
    {
      char *folder = g_path_get_dirname (((WsPhoto *) g_ptr_array_index (photos, i))->path);
      g_autofree char *found = g_hash_table_add (folders, folder) ? look_in_folder (photo, folder) : NULL;

      if (found == NULL)
        continue;
      ws_library_store_photo_path (desk->library, photo->id, found, photo->file_size, photo->file_time_us, NULL);
      return g_steal_pointer (&found);
    }
  g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND,
               _("The photo “%s” is no longer there. Add the folder it was moved to, and it is found again by its content."),
               photo->path);
  return NULL;
}

/* A photo that cannot be read leaves the mark unmeasured, which counts as weak. */
static void
measure (WsDesk *desk, const WsPhoto *photo, WsMark *mark)
{
  g_autofree char *path = ws_record_locate_photo (desk, photo, NULL);
  WsSharpness sharpness;

  mark->measure = (WsMeasure) { .blur_sigma = NAN, .mm_per_pixel = NAN };
  if (path == NULL || !ws_sharpness_measure_file (path, mark->shape, &sharpness, NULL, NULL))
    return;
  mark->measure.measured = TRUE;
  mark->measure.width_px = sharpness.width_px;
  mark->measure.height_px = sharpness.height_px;
  mark->measure.blur_sigma = sharpness.blur_sigma;
  mark->measure.burnt_out = sharpness.burnt_out;
  mark->measure.blocked_up = sharpness.blocked_up;
  mark->measure.method = WS_SHARPNESS_METHOD;
}

static gboolean
check_views (WsDesk *desk, const char *const *views, GError **error)
{
  if (views[0] == NULL)
    return ws_record_invalid (error, _("A mark must serve at least one view"));
  for (guint i = 0; views[i] != NULL; i++)
    if (ws_knowledge_find_view (desk->knowledge, views[i]) == NULL)
      return ws_record_invalid (error, _("There is no view “%s”"), views[i]);
  return TRUE;
}

static char *
join_ids (GPtrArray *entries)
{
  GString *text = g_string_new (NULL);

  /* Every knowledge struct begins with its id. */
  for (guint i = 0; i < entries->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? ", " : "", *(const char **) g_ptr_array_index (entries, i));
  return g_string_free (text, FALSE);
}

static gboolean
check_mark (WsDesk *desk, const WsMark *mark, GError **error)
{
  if (ws_knowledge_find_part (desk->knowledge, mark->part) == NULL)
    {
      g_autofree char *parts = join_ids (ws_knowledge_get_parts (desk->knowledge));

      return ws_record_invalid (error, _("There is no part “%s”; the parts are %s"), mark->part, parts);
    }
  if (mark->base_kind[0] != '\0' && ws_knowledge_find_base_kind (desk->knowledge, mark->base_kind) == NULL)
    {
      g_autofree char *kinds = join_ids (ws_knowledge_get_base_kinds (desk->knowledge));

      return ws_record_invalid (error, _("There is no base kind “%s”; they are %s"), mark->base_kind, kinds);
    }
  if (mark->base_kind[0] != '\0' && mark->whole_photo)
    return ws_record_invalid (error, _("A mark of the whole photo cannot say how the base is shown; mark the base itself"));
  return check_views (desk, (const char *const *) mark->views, error);
}

/* Default views of a part, less those this growth form has no use for. */
static char **
default_views (WsDesk *desk, const WsFind *find, const char *part_id)
{
  const WsPart *part = ws_knowledge_find_part (desk->knowledge, part_id);
  g_autoptr (GArray) needed = ws_knowledge_dup_requirements (desk->knowledge, ws_find_get_growth_form (find));
  g_autoptr (GPtrArray) views = g_ptr_array_new ();

  for (guint i = 0; part != NULL && part->views[i] != NULL; i++)
    for (guint n = 0; n < needed->len; n++)
      if (g_str_equal (g_array_index (needed, WsRequirement, n).view->id, part->views[i]))
        g_ptr_array_add (views, g_strdup (part->views[i]));
  if (views->len == 0)
    return part != NULL ? g_strdupv ((char **) part->views) : g_new0 (char *, 1);
  g_ptr_array_add (views, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&views), FALSE);
}

static gboolean
apply_mark (WsDesk *desk, const char *label, const char *find_id, const WsMark *mark, GError **error)
{
  WsAction *action = ws_action_new (label);

  ws_action_put_mark (action, find_id, mark);
  return ws_library_apply (desk->library, action, error);
}

static char *
mark_label (WsDesk *desk, const char *part)
{
  return g_strdup_printf (_("Mark: %s"), ws_knowledge_text (desk->knowledge, desk->language, "part", part));
}

char *
ws_record_mark (WsDesk *desk, const char *find_id, const char *photo_id, const char *part, const char *const *views,
                const WsShape *shape, const char *base_kind, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (WsMark) mark = ws_mark_new ();
  g_autofree char *id = ws_id_new (), *label = NULL;
  const WsPhoto *photo;

  if (find == NULL)
    return NULL;
  photo = ws_find_get_photo (find, photo_id);
  if (photo == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("The find %s has no photo %s"), find->number, photo_id);
      return NULL;
    }
  ws_set_string (&mark->id, id);
  ws_set_string (&mark->photo_id, photo_id);
  ws_set_string (&mark->part, part);
  ws_set_string (&mark->base_kind, base_kind);
  g_strfreev (mark->views);
  mark->views = views != NULL ? g_strdupv ((char **) views) : default_views (desk, find, part);
  mark->whole_photo = shape == NULL;
  mark->created_us = g_get_real_time ();
  if (shape != NULL)
    {
      ws_shape_free (mark->shape);
      mark->shape = ws_shape_copy (shape);
    }
  if (!check_mark (desk, mark, error))
    return NULL;
  measure (desk, photo, mark);
  label = mark_label (desk, part);
  return apply_mark (desk, label, find->id, mark, error) ? g_steal_pointer (&id) : NULL;
}

gboolean
ws_record_change_mark (WsDesk *desk, const char *find_id, const WsMark *mark, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (WsMark) changed = ws_mark_copy (mark);
  const WsMark *before;
  g_autofree char *label = NULL;

  if (find == NULL || !check_mark (desk, mark, error))
    return FALSE;
  before = ws_find_get_mark (find, mark->id);
  if (before == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_CONFLICT, _("This mark is no longer there"));
      return FALSE;
    }
  if (!ws_shape_equal (before->shape, mark->shape) || !before->measure.measured)
    measure (desk, ws_find_get_photo (find, mark->photo_id), changed);
  label = g_strdup_printf (_("Change a mark: %s"),
                           ws_knowledge_text (desk->knowledge, desk->language, "part", mark->part));
  return apply_mark (desk, label, find->id, changed, error);
}

char *
ws_record_copy_mark (WsDesk *desk, const char *find_id, const char *mark_id, const char *photo_id, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  const WsMark *mark = find != NULL ? ws_find_get_mark (find, mark_id) : NULL;
  const WsPhoto *photo = find != NULL ? ws_find_get_photo (find, photo_id) : NULL;
  g_autoptr (WsMark) copy = NULL;
  g_autofree char *id = ws_id_new (), *label = NULL;

  if (find == NULL)
    return NULL;
  if (mark == NULL || photo == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_CONFLICT,
                   mark == NULL ? _("This mark is no longer there") : _("This photo is no longer in the find"));
      return NULL;
    }
  copy = ws_mark_copy (mark);
  ws_set_string (&copy->id, id);
  ws_set_string (&copy->photo_id, photo_id);
  ws_set_string (&copy->base_kind, "");
  copy->created_us = g_get_real_time ();
  measure (desk, photo, copy);
  label = mark_label (desk, copy->part);
  return apply_mark (desk, label, find->id, copy, error) ? g_steal_pointer (&id) : NULL;
}

gboolean
ws_record_remove_mark (WsDesk *desk, const char *mark_id, GError **error)
{
  WsAction *action = ws_action_new (_("Remove a mark"));

  ws_action_remove_mark (action, mark_id);
  return ws_library_apply (desk->library, action, error);
}

/* The mark of the whole photo that serves just this view, if there is one. */
static const WsMark *
whole_photo_mark (const WsFind *find, const char *photo_id, const char *view)
{
  for (guint i = 0; i < find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (find->marks, i);

      if (mark->whole_photo && g_str_equal (mark->photo_id, photo_id) && ws_mark_serves (mark, view))
        return mark;
    }
  return NULL;
}

gboolean
ws_record_label_photo (WsDesk *desk, const char *find_id, const char *photo_id, const char *view, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  const char *views[] = { view, NULL };
  const WsMark *there;
  g_autofree char *id = NULL;

  if (find == NULL || !check_views (desk, views, error))
    return FALSE;
  there = whole_photo_mark (find, photo_id, view);
  if (there != NULL)
    return ws_record_remove_mark (desk, there->id, error);
  id = ws_record_mark (desk, find->id, photo_id,
                       ws_knowledge_part_of_view (desk->knowledge, view, ws_find_get_growth_form (find)), views, NULL,
                       NULL, error);
  return id != NULL;
}

gboolean
ws_record_excuse (WsDesk *desk, const char *find_id, const char *view, const char *reason, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (WsExcuse) excuse = ws_excuse_new ();
  const char *views[] = { view, NULL };
  WsAction *action;

  if (find == NULL || !check_views (desk, views, error))
    return FALSE;
  if (reason[0] == '\0' && ws_find_get_excuse (find, view) == NULL)
    return TRUE;
  action = ws_action_new (_("Why a view cannot be had"));
  ws_set_string (&excuse->view, view);
  ws_set_string (&excuse->reason, reason);
  if (reason[0] != '\0')
    ws_action_put_excuse (action, find->id, excuse);
  else
    ws_action_remove_excuse (action, find->id, view);
  return ws_library_apply (desk->library, action, error);
}

char *
ws_record_cover (WsDesk *desk, const char *photo_id, const WsShape *shape, GError **error)
{
  g_autoptr (WsCover) cover = ws_cover_new ();
  g_autofree char *id = ws_id_new ();
  WsAction *action = ws_action_new (_("Cover a region"));

  ws_set_string (&cover->id, id);
  ws_set_string (&cover->photo_id, photo_id);
  ws_shape_free (cover->shape);
  cover->shape = ws_shape_copy (shape);
  ws_action_put_cover (action, cover);
  return ws_library_apply (desk->library, action, error) ? g_steal_pointer (&id) : NULL;
}

gboolean
ws_record_change_cover (WsDesk *desk, const WsCover *cover, GError **error)
{
  WsAction *action = ws_action_new (_("Change a covered region"));

  ws_action_put_cover (action, cover);
  return ws_library_apply (desk->library, action, error);
}

gboolean
ws_record_uncover (WsDesk *desk, const char *cover_id, GError **error)
{
  WsAction *action = ws_action_new (_("Uncover a region"));

  ws_action_remove_cover (action, cover_id);
  return ws_library_apply (desk->library, action, error);
}
