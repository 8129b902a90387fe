/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Groups of photos become finds. */
#include "ws-finds-private.h"
#include "ws-import.h"

#include "ws-error.h"
#include "ws-id.h"
#include "ws-intl.h"

#include <math.h>
#include <string.h>

/* A later visit is recognised by place; the same spot to within this or its error. Judgement. */
#define VISIT_M 15.0

static gboolean
belongs (const WsFind *find, const WsMoment *when, const WsPosition *where, const WsGroupingRule *rule)
{
  double metres = ws_position_distance (&find->where, where);
  g_autofree char *day = ws_moment_date (when), *find_day = ws_moment_date (&find->when);

  if (g_strcmp0 (day, find_day) == 0)
    {
      gint64 gap = ABS (ws_moment_sort_key (when) - ws_moment_sort_key (&find->when));

      return (double) gap / G_USEC_PER_SEC <= rule->gap_seconds && !(metres > rule->distance_m);
    }
  return metres <= MAX (VISIT_M, MIN (isfinite (find->where.error_m) ? find->where.error_m : 0, rule->distance_m));
}

WsFind *
ws_import_suggest_find (WsDesk *desk, GPtrArray *group, const WsGroupingRule *rule, GError **error)
{
  g_autoptr (GPtrArray) finds = ws_library_load_finds (desk->library, NULL, error);
  WsFind *best = NULL;
  WsMoment when;
  WsPosition where;
  double nearest = INFINITY;

  ws_grouping_summarise (group, &when, &where);
  for (guint i = 0; finds != NULL && i < finds->len; i++)
    {
      WsFind *find = g_ptr_array_index (finds, i);
      double metres = ws_position_distance (&find->where, &where);

      if (!ws_moment_is_known (&when) || !ws_moment_is_known (&find->when) || !belongs (find, &when, &where, rule))
        continue;
      if (best == NULL || metres < nearest)
        {
          best = find;
          nearest = isnan (metres) ? nearest : metres;
        }
    }
  return best != NULL ? ws_find_ref (best) : NULL;
}

/* --- Numbers and forays ------------------------------------------------------------------- */

struct _WsNumbering
{
  GHashTable *highest;     /* "25" -> highest running number */
};

/* "25-101" -> "25", 101; FALSE for labels of another form. */
static gboolean
parse_number (const char *label, char **year, guint64 *number)
{
  const char *dash = strchr (label, '-');

  if (dash != label + 2 || !g_ascii_isdigit (label[0]) || !g_ascii_isdigit (label[1]) ||
      !g_ascii_string_to_unsigned (dash + 1, 10, 1, 999999, number, NULL))
    return FALSE;
  *year = g_strndup (label, 2);
  return TRUE;
}

WsNumbering *
ws_numbering_new (GPtrArray *finds)
{
  WsNumbering *numbering = g_new0 (WsNumbering, 1);

  numbering->highest = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < finds->len; i++)
    {
      char *year;
      guint64 number;

      if (!parse_number (((WsFind *) g_ptr_array_index (finds, i))->number, &year, &number))
        continue;
      number = MAX (number, GPOINTER_TO_SIZE (g_hash_table_lookup (numbering->highest, year)));
      g_hash_table_replace (numbering->highest, year, GSIZE_TO_POINTER (number));
    }
  return numbering;
}

void
ws_numbering_free (WsNumbering *numbering)
{
  g_hash_table_unref (numbering->highest);
  g_free (numbering);
}

char *
ws_numbering_next (WsNumbering *numbering, const WsMoment *when)
{
  g_autofree char *date = ws_moment_date (when);
  g_autofree char *year = date != NULL ? g_strndup (date + 2, 2) : g_strdup ("00");
  gsize next = GPOINTER_TO_SIZE (g_hash_table_lookup (numbering->highest, year)) + 1;

  g_hash_table_replace (numbering->highest, g_strdup (year), GSIZE_TO_POINTER (next));
  return g_strdup_printf ("%s-%03" G_GSIZE_FORMAT, year, next);
}

char *
ws_finds_foray_of_day (GPtrArray *forays, const WsMoment *when, WsAction *action)
{
  g_autofree char *date = ws_moment_date (when);
  g_autofree char *id = NULL;
  WsForay *foray;

  for (guint i = 0; i < forays->len; i++)
    {
      const WsForay *other = g_ptr_array_index (forays, i);

      if (g_str_equal (other->date, date != NULL ? date : ""))
        return g_strdup (other->id);
    }
  foray = ws_foray_new ();
  id = ws_id_new ();
  ws_set_string (&foray->id, id);
  ws_set_string (&foray->date, date);
  ws_action_put_foray (action, foray);
  g_ptr_array_add (forays, foray);
  return g_steal_pointer (&id);
}

WsFind *
ws_finds_new (WsDesk *desk, GPtrArray *photos, const char *number, const char *foray_id)
{
  WsFind *find = ws_find_new ();
  g_autofree char *id = ws_id_new ();

  ws_set_string (&find->id, id);
  ws_set_string (&find->number, number);
  find->foray_id = g_strdup (foray_id);
  find->created_us = g_get_real_time ();
  ws_grouping_summarise (photos, &find->when, &find->where);
  return find;
}

void
ws_finds_put_photos (WsAction *action, const char *find_id, GPtrArray *photos, int first_position, const char *visit)
{
  for (guint i = 0; i < photos->len; i++)
    {
      g_autoptr (WsFindPhoto) link = ws_find_photo_new ();

      ws_photo_unref (link->photo);
      link->photo = ws_photo_ref (g_ptr_array_index (photos, i));
      link->position = first_position + (int) i;
      ws_set_string (&link->visit, visit);
      ws_action_put_find_photo (action, find_id, link);
    }
}

/* The photos of the group that are in no find yet. */
static GPtrArray *
free_photos (WsDesk *desk, GPtrArray *group)
{
  GPtrArray *free_ones = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_photo_unref);

  for (guint i = 0; i < group->len; i++)
    {
      WsPhoto *photo = g_ptr_array_index (group, i);
      g_auto (GStrv) holders = ws_library_dup_finds_of_photo (desk->library, photo->id, NULL);

      if (holders == NULL || holders[0] == NULL)
        g_ptr_array_add (free_ones, ws_photo_ref (photo));
    }
  return free_ones;
}

char **
ws_import_make_finds (WsDesk *desk, const WsGrouping *grouping, GError **error)
{
  g_autoptr (GPtrArray) finds = ws_library_load_finds (desk->library, NULL, error);
  g_autoptr (GPtrArray) forays = finds != NULL ? ws_library_load_forays (desk->library, error) : NULL;
  g_autoptr (GPtrArray) ids = g_ptr_array_new_with_free_func (g_free);
  WsNumbering *numbering;
  WsAction *action;

  if (forays == NULL)
    return NULL;
  numbering = ws_numbering_new (finds);
  action = ws_action_new (_("Make finds from photos"));
  for (guint i = 0; i < grouping->groups->len; i++)
    {
      g_autoptr (GPtrArray) photos = free_photos (desk, g_ptr_array_index (grouping->groups, i));
      g_autofree char *number = NULL, *foray = NULL;
      g_autoptr (WsFind) find = NULL;
      WsMoment when;
      WsPosition where;

      if (photos->len == 0)
        continue;
      ws_grouping_summarise (photos, &when, &where);
      number = ws_numbering_next (numbering, &when);
      foray = ws_finds_foray_of_day (forays, &when, action);
      find = ws_finds_new (desk, photos, number, foray);
      ws_action_put_find (action, find);
      ws_finds_put_photos (action, find->id, photos, 0, "");
      g_ptr_array_add (ids, g_strdup (find->id));
    }
  ws_numbering_free (numbering);
  if (!ws_library_apply (desk->library, action, error))
    return NULL;
  g_ptr_array_add (ids, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&ids), FALSE);
}
