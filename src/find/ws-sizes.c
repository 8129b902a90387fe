/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-sizes.h"

#include "ws-value-private.h"

#include <math.h>

#define SCALE_STRINGS(s) (char **[]) { &(s)->id, &(s)->photo_id, NULL }

static void
ws_scale_clear (WsScale *scale)
{
  ws_value_free_strings (SCALE_STRINGS (scale));
}

DEFINE_VALUE (WsScale, ws_scale)

WsScale *
ws_scale_new (void)
{
  WsScale *scale = NEW_VALUE (WsScale);

  ws_value_fill_strings (SCALE_STRINGS (scale));
  scale->mm = scale->mm_error = scale->point_error = scale->tilt = NAN;
  return scale;
}

WsScale *
ws_scale_copy (const WsScale *value)
{
  WsScale *scale = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings (SCALE_STRINGS (scale));
  return scale;
}

double
ws_scale_get_mm_per_pixel (const WsScale *scale, int width, int height)
{
  double pixels = hypot ((scale->b.x - scale->a.x) * width, (scale->b.y - scale->a.y) * height);

  return pixels > 0 ? scale->mm / pixels : NAN;
}

#define MEASUREMENT_STRINGS(m) (char **[]) { &(m)->id, &(m)->quantity, &(m)->specimen, &(m)->observer, \
                                             &(m)->remark, NULL }

static void
ws_measurement_clear (WsMeasurement *measurement)
{
  ws_value_free_strings (MEASUREMENT_STRINGS (measurement));
  g_free (measurement->photo_id);
}

DEFINE_VALUE (WsMeasurement, ws_measurement)

WsMeasurement *
ws_measurement_new (void)
{
  WsMeasurement *measurement = NEW_VALUE (WsMeasurement);

  ws_value_fill_strings (MEASUREMENT_STRINGS (measurement));
  measurement->value = measurement->error = NAN;
  return measurement;
}

WsMeasurement *
ws_measurement_copy (const WsMeasurement *value)
{
  WsMeasurement *measurement = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings (MEASUREMENT_STRINGS (measurement));
  measurement->photo_id = g_strdup (measurement->photo_id);
  return measurement;
}

#define SPORE_STRINGS(l) (char **[]) { &(l)->id, &(l)->specimen, &(l)->mount, &(l)->verbatim, \
                                       &(l)->observer, &(l)->remark, NULL }

static void
ws_spore_list_clear (WsSporeList *list)
{
  ws_value_free_strings (SPORE_STRINGS (list));
  g_free (list->spores);
}

DEFINE_VALUE (WsSporeList, ws_spore_list)

WsSporeList *
ws_spore_list_new (void)
{
  WsSporeList *list = NEW_VALUE (WsSporeList);

  ws_value_fill_strings (SPORE_STRINGS (list));
  return list;
}

WsSporeList *
ws_spore_list_copy (const WsSporeList *value)
{
  WsSporeList *list = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings (SPORE_STRINGS (list));
  list->spores = g_memdup2 (list->spores, list->n_spores * sizeof *list->spores);
  return list;
}

void
ws_spore_list_set (WsSporeList *list, const WsSpore *spores, guint n)
{
  WsSpore *copy = g_memdup2 (spores, n * sizeof *spores);

  g_free (list->spores);
  list->spores = copy;
  list->n_spores = n;
}

static const char *const from_ids[] = { "unknown", "print", "gills" };

const char *
ws_spores_from_id (WsSporesFrom from)
{
  return from_ids[from];
}

gboolean
ws_spores_from_parse (const char *text, WsSporesFrom *from)
{
  int place = ID_PLACE (from_ids, text);

  if (place >= 0)
    *from = (WsSporesFrom) place;
  return place >= 0;
}
