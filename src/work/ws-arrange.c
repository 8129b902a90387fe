/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-arrange.h"

#include "ws-error.h"
#include "ws-finds-private.h"
#include "ws-id.h"
#include "ws-intl.h"

#include <string.h>

static const WsFindPhoto *
link_of (const WsFind *find, const char *photo_id)
{
  for (guint i = 0; i < find->photos->len; i++)
    {
      const WsFindPhoto *link = g_ptr_array_index (find->photos, i);

      if (g_str_equal (link->photo->id, photo_id))
        return link;
    }
  return NULL;
}

static gboolean
no_such_photo (const WsFind *find, const char *photo_id, GError **error)
{
  g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("The find %s has no photo %s"), find->number, photo_id);
  return FALSE;
}

static int
next_position (const WsFind *find)
{
  int next = 0;

  for (guint i = 0; i < find->photos->len; i++)
    next = MAX (next, ((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->position + 1);
  return next;
}

/* The photo and what is marked on it go from one find to another, in one action. */
static void
carry_over (WsAction *action, const WsFind *from, const WsFindPhoto *link, const char *to, int position)
{
  WsFindPhoto *moved = ws_find_photo_copy (link);

  moved->position = position;
  ws_action_put_find_photo (action, to, moved);
  ws_find_photo_unref (moved);
  for (guint i = 0; i < from->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (from->marks, i);

      if (g_str_equal (mark->photo_id, link->photo->id))
        ws_action_put_mark (action, to, mark);
    }
  for (guint i = 0; i < from->measurements->len; i++)
    {
      const WsMeasurement *measurement = g_ptr_array_index (from->measurements, i);

      if (g_strcmp0 (measurement->photo_id, link->photo->id) == 0)
        ws_action_put_measurement (action, to, measurement);
    }
  ws_action_remove_find_photo (action, from->id, link->photo->id);
}

static GPtrArray *
load_photos (WsDesk *desk, const char *const *ids, GError **error)
{
  g_autoptr (GPtrArray) photos = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_photo_unref);

  for (guint i = 0; ids[i] != NULL; i++)
    {
      WsPhoto *photo = ws_library_load_photo (desk->library, ids[i], error);

      if (photo == NULL)
        {
          if (error != NULL && *error == NULL)
            g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("There is no photo %s in the library"), ids[i]);
          return NULL;
        }
      g_ptr_array_add (photos, photo);
    }
  return g_steal_pointer (&photos);
}

/* Puts a new find for the photos, with a number and a foray of its day; its id. */
static char *
put_new_find (WsDesk *desk, WsAction *action, GPtrArray *photos, const WsMoment *when_unknown, GError **error)
{
  g_autoptr (GPtrArray) finds = ws_library_load_finds (desk->library, NULL, error);
  g_autoptr (GPtrArray) forays = finds != NULL ? ws_library_load_forays (desk->library, error) : NULL;
  g_autofree char *number = NULL, *foray = NULL;
  g_autoptr (WsFind) find = NULL;
  WsNumbering *numbering;
  WsMoment when;
  WsPosition where;

  if (forays == NULL)
    return NULL;
  ws_grouping_summarise (photos, &when, &where);
  if (!ws_moment_is_known (&when) && when_unknown != NULL)
    when = *when_unknown;
  numbering = ws_numbering_new (finds);
  number = ws_numbering_next (numbering, &when);
  ws_numbering_free (numbering);
  foray = ws_finds_foray_of_day (forays, &when, action);
  find = ws_finds_new (desk, photos, number, foray);
  find->when = when;
  ws_action_put_find (action, find);
  return g_strdup (find->id);
}

static char *
finish (WsDesk *desk, WsAction *action, char *id, GError **error)
{
  if (ws_library_apply (desk->library, action, error))
    return id;
  g_free (id);
  return NULL;
}

char *
ws_arrange_split (WsDesk *desk, const char *find_id, const char *const *photo_ids, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (GPtrArray) photos = g_ptr_array_new ();
  g_autoptr (WsAction) action = NULL;
  char *id;

  if (find == NULL)
    return NULL;
  for (guint i = 0; photo_ids[i] != NULL; i++)
    {
      const WsFindPhoto *link = link_of (find, photo_ids[i]);

      if (link == NULL)
        {
          no_such_photo (find, photo_ids[i], error);
          return NULL;
        }
      g_ptr_array_add (photos, link->photo);
    }
  action = ws_action_new (_("Split the find"));
  id = put_new_find (desk, action, photos, &find->when, error);
  if (id == NULL)
    return NULL;
  for (guint i = 0; photo_ids[i] != NULL; i++)
    carry_over (action, find, link_of (find, photo_ids[i]), id, (int) i);
  /* Nobody knows which half a name or a warning was about: it stays with both. */
  ws_action_share_names (action, find->id, id);
  return finish (desk, g_steal_pointer (&action), id, error);
}

gboolean
ws_arrange_merge (WsDesk *desk, const char *find_id, const char *other_id, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (WsFind) other = find != NULL ? ws_library_load_find (desk->library, other_id, error) : NULL;
  WsAction *action;
  int position;

  if (other == NULL)
    return FALSE;
  if (g_str_equal (find->id, other->id))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_INVALID, _("The find %s cannot be merged with itself"), find->number);
      return FALSE;
    }
  action = ws_action_new (_("Merge two finds"));
  position = next_position (find);
  for (guint i = 0; i < other->photos->len; i++)
    {
      const WsFindPhoto *link = g_ptr_array_index (other->photos, i);
      const WsFindPhoto *there = link_of (find, link->photo->id);

      carry_over (action, other, link, find->id, there != NULL ? there->position : position++);
    }
  /* What one record says of a mixed pair stays as it was said: notes of both are kept. */
  for (guint i = 0; i < other->notes->len; i++)
    ws_action_put_note (action, find->id, g_ptr_array_index (other->notes, i));
  for (guint i = 0; i < other->measurements->len; i++)
    if (((const WsMeasurement *) g_ptr_array_index (other->measurements, i))->photo_id == NULL)
      ws_action_put_measurement (action, find->id, g_ptr_array_index (other->measurements, i));
  for (guint i = 0; i < other->spores->len; i++)
    ws_action_put_spore_list (action, find->id, g_ptr_array_index (other->spores, i));
  ws_action_share_names (action, other->id, find->id);
  for (guint i = 0; i < other->excuses->len; i++)
    {
      const WsExcuse *excuse = g_ptr_array_index (other->excuses, i);

      if (ws_find_get_excuse (find, excuse->view) == NULL)
        ws_action_put_excuse (action, find->id, excuse);
    }
  if (other->remarks[0] != '\0' || other->only_mine[0] != '\0')
    {
      g_autoptr (WsFind) joined = ws_find_copy (find);
      g_autofree char *remarks = g_strstrip (g_strconcat (find->remarks, "\n", other->remarks, NULL));
      g_autofree char *only_mine = g_strstrip (g_strconcat (find->only_mine, "\n", other->only_mine, NULL));

      ws_set_string (&joined->remarks, remarks);
      ws_set_string (&joined->only_mine, only_mine);
      ws_action_put_find (action, joined);
    }
  ws_action_remove_find (action, other->id);
  return ws_library_apply (desk->library, action, error);
}

gboolean
ws_arrange_move (WsDesk *desk, const char *photo_id, const char *from_find, const char *to_find, GError **error)
{
  g_autoptr (WsFind) from = ws_library_load_find (desk->library, from_find, error);
  g_autoptr (WsFind) to = from != NULL ? ws_library_load_find (desk->library, to_find, error) : NULL;
  const WsFindPhoto *link;
  WsAction *action;

  if (to == NULL)
    return FALSE;
  link = link_of (from, photo_id);
  if (link == NULL)
    return no_such_photo (from, photo_id, error);
  if (g_str_equal (from->id, to->id))
    return TRUE;
  action = ws_action_new (_("Move a photo to another find"));
  carry_over (action, from, link, to->id, next_position (to));
  return ws_library_apply (desk->library, action, error);
}

gboolean
ws_arrange_share (WsDesk *desk, const char *const *photo_ids, const char *find_id, const char *visit, GError **error)
{
  static const char *const visits[] = { "", "same", "another", NULL };
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (GPtrArray) photos = find != NULL ? load_photos (desk, photo_ids, error) : NULL;
  WsAction *action;

  if (photos == NULL)
    return FALSE;
  if (!g_strv_contains (visits, visit))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_INVALID, _("“%s” is not one of “same”, “another” or nothing"), visit);
      return FALSE;
    }
  action = ws_action_new (_("Add photos to a find"));
  ws_finds_put_photos (action, find->id, photos, next_position (find), visit);
  return ws_library_apply (desk->library, action, error);
}

char *
ws_arrange_one_find (WsDesk *desk, const char *const *photo_ids, GError **error)
{
  g_autoptr (GPtrArray) photos = load_photos (desk, photo_ids, error);
  g_autoptr (WsAction) action = NULL;
  char *id;

  if (photos == NULL)
    return NULL;
  if (photos->len == 0)
    {
      g_set_error_literal (error, WS_ERROR, WS_ERROR_INVALID, _("No photo is chosen; choose those that are one find"));
      return NULL;
    }
  action = ws_action_new (_("Make one find of these photos"));
  id = put_new_find (desk, action, photos, NULL, error);
  if (id == NULL)
    return NULL;
  ws_finds_put_photos (action, id, photos, 0, "");
  return finish (desk, g_steal_pointer (&action), id, error);
}

gboolean
ws_arrange_remove (WsDesk *desk, const char *photo_id, const char *find_id, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  WsAction *action;

  if (find == NULL)
    return FALSE;
  if (link_of (find, photo_id) == NULL)
    return no_such_photo (find, photo_id, error);
  action = ws_action_new (_("Take a photo out of a find"));
  ws_action_remove_find_photo (action, find->id, photo_id);
  return ws_library_apply (desk->library, action, error);
}

gboolean
ws_arrange_set_aside (WsDesk *desk, const char *const *photo_ids, gboolean aside, GError **error)
{
  g_autoptr (GPtrArray) photos = load_photos (desk, photo_ids, error);
  WsAction *action;

  if (photos == NULL)
    return FALSE;
  action = ws_action_new (aside ? _("Set photos aside") : _("Take photos back"));
  for (guint i = 0; i < photos->len; i++)
    {
      g_autoptr (WsPhoto) changed = ws_photo_copy (g_ptr_array_index (photos, i));

      changed->set_aside = aside;
      ws_action_put_photo (action, changed, 0);
    }
  return ws_library_apply (desk->library, action, error);
}

gboolean
ws_arrange_remove_find (WsDesk *desk, const char *find_id, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autofree char *label = NULL;
  WsAction *action;

  if (find == NULL)
    return FALSE;
  label = g_strdup_printf (_("Remove the find %s"), find->number);
  action = ws_action_new (label);
  ws_action_remove_find (action, find->id);
  return ws_library_apply (desk->library, action, error);
}

char *
ws_arrange_new_find (WsDesk *desk, const char *date, GError **error)
{
  g_autoptr (GPtrArray) none = g_ptr_array_new ();
  g_autoptr (WsAction) action = ws_action_new (_("New find"));
  g_autofree char *noon = g_strconcat (date != NULL ? date : "", "T12:00:00", NULL);
  WsMoment when = WS_MOMENT_INIT;
  char *id;

  if (date != NULL && !ws_moment_set_local (&when, noon))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_INVALID, _("“%s” is not a date such as 2025-10-04"), date);
      return NULL;
    }
  id = put_new_find (desk, action, none, &when, error);
  return id != NULL ? finish (desk, g_steal_pointer (&action), id, error) : NULL;
}
