/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-grouping.h"

#include <math.h>

static int
by_time (gconstpointer a, gconstpointer b)
{
  const WsPhoto *pa = *(WsPhoto *const *) a, *pb = *(WsPhoto *const *) b;
  gint64 ta = ws_moment_sort_key (&pa->taken), tb = ws_moment_sort_key (&pb->taken);

  if (ta != tb)
    return ta < tb ? -1 : 1;
  /* Cameras number what they take within one second. */
  return g_strcmp0 (pa->path, pb->path);
}

/* Position errors as photos show them; the same widening as for a place that is told. */
static double
radius_of (const WsPhoto *photo)
{
  return ws_position_gps_uncertainty_m (photo->position.error_m);
}

static gboolean
lies_apart (const WsPhoto *a, const WsPhoto *b, const WsGroupingRule *rule)
{
  double metres = ws_position_distance (&a->position, &b->position);
  double doubt;

  if (isnan (metres))
    return FALSE;
  /* An error that is not stated says nothing about being apart: only stated ones widen. */
  doubt = (isfinite (a->position.error_m) ? radius_of (a) : 0) +
          (isfinite (b->position.error_m) ? radius_of (b) : 0);
  return metres > MAX (rule->distance_m, doubt);
}

static GPtrArray *
photo_array (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) ws_photo_unref);
}

static void
split_sorted (GPtrArray *sorted, const WsGroupingRule *rule, GPtrArray *groups)
{
  const WsPhoto *previous = NULL, *placed = NULL;
  GPtrArray *group = NULL;

  for (guint i = 0; i < sorted->len; i++)
    {
      WsPhoto *photo = g_ptr_array_index (sorted, i);
      gboolean begins = previous == NULL ||
        (double) (ws_moment_sort_key (&photo->taken) - ws_moment_sort_key (&previous->taken)) /
        G_USEC_PER_SEC > rule->gap_seconds ||
        (placed != NULL && lies_apart (placed, photo, rule));

      if (begins)
        {
          group = photo_array ();
          g_ptr_array_add (groups, group);
          placed = NULL;
        }
      g_ptr_array_add (group, ws_photo_ref (photo));
      if (ws_position_is_known (&photo->position))
        placed = photo;
      previous = photo;
    }
}

WsGrouping *
ws_grouping_split (GPtrArray *photos, const WsGroupingRule *rule)
{
  WsGrouping *grouping = g_new0 (WsGrouping, 1);
  g_autoptr (GPtrArray) sorted = g_ptr_array_new ();

  grouping->groups = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  grouping->unsorted = photo_array ();
  for (guint i = 0; i < photos->len; i++)
    {
      WsPhoto *photo = g_ptr_array_index (photos, i);

      if (ws_moment_is_known (&photo->taken) && photo->kind != WS_PHOTO_SCREENSHOT)
        g_ptr_array_add (sorted, photo);
      else
        g_ptr_array_add (grouping->unsorted, ws_photo_ref (photo));
    }
  g_ptr_array_sort (sorted, by_time);
  split_sorted (sorted, rule, grouping->groups);
  return grouping;
}

void
ws_grouping_free (WsGrouping *grouping)
{
  if (grouping == NULL)
    return;
  g_ptr_array_unref (grouping->groups);
  g_ptr_array_unref (grouping->unsorted);
  g_free (grouping);
}

/* The mean as a mean of unit vectors, so that photos on both sides of the 180th meridian do not
 * average to the other side of the world. */
static gboolean
mean_position (GPtrArray *photos, WsPosition *mean)
{
  double x = 0, y = 0, z = 0, altitude = 0;
  guint n_altitudes = 0;

  for (guint i = 0; i < photos->len; i++)
    {
      const WsPosition *p = &((const WsPhoto *) g_ptr_array_index (photos, i))->position;
      double lat = p->latitude * G_PI / 180, lon = p->longitude * G_PI / 180;

      if (!ws_position_is_known (p))
        continue;
      x += cos (lat) * cos (lon);
      y += cos (lat) * sin (lon);
      z += sin (lat);
      if (isfinite (p->altitude))
        {
          altitude += p->altitude;
          n_altitudes++;
        }
    }
  if (x == 0 && y == 0 && z == 0)
    return FALSE;
  *mean = ws_position_none ();
  mean->latitude = atan2 (z, hypot (x, y)) * 180 / G_PI;
  mean->longitude = atan2 (y, x) * 180 / G_PI;
  mean->altitude = n_altitudes > 0 ? altitude / n_altitudes : NAN;
  mean->source = WS_POSITION_PHOTO;
  return TRUE;
}

void
ws_grouping_summarise (GPtrArray *photos, WsMoment *when, WsPosition *where)
{
  *when = (WsMoment) WS_MOMENT_INIT;
  *where = ws_position_none ();
  for (guint i = 0; i < photos->len; i++)
    {
      const WsPhoto *photo = g_ptr_array_index (photos, i);

      if (photo->kind != WS_PHOTO_SCREENSHOT && ws_moment_is_known (&photo->taken) &&
          (!ws_moment_is_known (when) || ws_moment_sort_key (&photo->taken) < ws_moment_sort_key (when)))
        *when = photo->taken;
    }
  if (!mean_position (photos, where))
    return;
  where->error_m = 0;
  for (guint i = 0; i < photos->len; i++)
    {
      const WsPhoto *photo = g_ptr_array_index (photos, i);

      if (ws_position_is_known (&photo->position))
        where->error_m = MAX (where->error_m,
                              ceil (ws_position_distance (where, &photo->position) + radius_of (photo)));
    }
}
