/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-record-sizes.h"

#include "ws-error.h"
#include "ws-id.h"
#include "ws-intl.h"
#include "ws-measurement.h"
#include "ws-quantities.h"
#include "ws-record-private.h"

#include <math.h>

/* The id that a thing is stored under: its own or a new one. */
static char *
id_for (const char *id)
{
  return id[0] != '\0' ? g_strdup (id) : ws_id_new ();
}

static char *
finish (WsDesk *desk, WsAction *action, const char *id, GError **error)
{
  return ws_library_apply (desk->library, action, error) ? g_strdup (id) : NULL;
}

static gboolean
remove_by (WsDesk *desk, const char *label, void (*remove) (WsAction *, const char *), const char *id, GError **error)
{
  WsAction *action = ws_action_new (label);

  remove (action, id);
  return ws_library_apply (desk->library, action, error);
}

/* Fills the user's name in. */
static void
name_observer (WsDesk *desk, char **observer)
{
  g_autofree char *me = ws_library_dup_setting (desk->library, "my-name");

  if ((*observer)[0] == '\0')
    ws_set_string (observer, me);
}

/* --- Scales ---------------------------------------------------------------------------------- */

char *
ws_record_scale (WsDesk *desk, const WsScale *given, GError **error)
{
  g_autoptr (WsScale) scale = ws_scale_copy (given);
  g_autoptr (WsPhoto) photo = ws_library_load_photo (desk->library, given->photo_id, error);
  WsAction *action;

  if (photo == NULL)
    {
      if (error != NULL && *error == NULL)
        g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("There is no photo %s in the library"), given->photo_id);
      return NULL;
    }
  if (!ws_measurement_check_scale (scale, photo->width, photo->height, error))
    return NULL;
  g_free (scale->id);
  scale->id = id_for (given->id);
  scale->created_us = g_get_real_time ();
  action = ws_action_new (_("Lay a scale"));
  ws_action_put_scale (action, scale);
  return finish (desk, action, scale->id, error);
}

gboolean
ws_record_remove_scale (WsDesk *desk, const char *scale_id, GError **error)
{
  return remove_by (desk, _("Remove a scale"), ws_action_remove_scale, scale_id, error);
}

/* --- Measurements ------------------------------------------------------------------------------ */

/* Value and error from the points and the scale of the photo. */
static gboolean
work_out (const WsFind *find, WsMeasurement *measurement, GError **error)
{
  const WsPhoto *photo = ws_find_get_photo (find, measurement->photo_id);
  const WsScale *scale = ws_find_get_scale (find, measurement->photo_id);
  WsLength length;

  if (photo == NULL || scale == NULL)
    {
      g_set_error_literal (error, WS_ERROR, WS_ERROR_NOT_FOUND,
                           _("This photo has no scale: mark two points of a ruler in it first"));
      return FALSE;
    }
  if (!ws_measurement_length (scale, photo->width, photo->height, &measurement->a, &measurement->b, &length, error))
    return FALSE;
  measurement->value = length.mm;
  measurement->error = length.uncertainty_mm;
  return TRUE;
}

static gboolean
check_quantity (WsDesk *desk, const WsMeasurement *measurement, GError **error)
{
  const WsQuantity *quantity = ws_knowledge_find_quantity (desk->knowledge, measurement->quantity);
  GPtrArray *all = ws_knowledge_get_quantities (desk->knowledge);
  g_autoptr (GString) list = g_string_new (NULL);

  if (quantity != NULL && (measurement->photo_id == NULL || quantity->is_length))
    return TRUE;
  if (quantity != NULL)
    return ws_record_invalid (error, _("%s is counted, not measured between two points"), quantity->id);
  for (guint i = 0; i < all->len; i++)
    g_string_append_printf (list, "%s%s", i > 0 ? ", " : "", ((const WsQuantity *) g_ptr_array_index (all, i))->id);
  return ws_record_invalid (error, _("There is no quantity “%s”; there are %s"), measurement->quantity, list->str);
}

char *
ws_record_measurement (WsDesk *desk, const char *find_id, const WsMeasurement *given, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (WsMeasurement) measurement = ws_measurement_copy (given);
  g_autofree char *label = NULL;
  WsAction *action;

  if (find == NULL || !check_quantity (desk, measurement, error) ||
      (measurement->photo_id != NULL && !work_out (find, measurement, error)))
    return NULL;
  g_free (measurement->id);
  measurement->id = id_for (given->id);
  name_observer (desk, &measurement->observer);
  measurement->created_us = g_get_real_time ();
  label = g_strdup_printf (_("Measure: %s"), ws_knowledge_text (desk->knowledge, desk->language, "quantity",
                                                                measurement->quantity));
  action = ws_action_new (label);
  ws_action_put_measurement (action, find->id, measurement);
  return finish (desk, action, measurement->id, error);
}

gboolean
ws_record_remove_measurement (WsDesk *desk, const char *measurement_id, GError **error)
{
  return remove_by (desk, _("Remove a measurement"), ws_action_remove_measurement, measurement_id, error);
}

/* --- Spores --------------------------------------------------------------------------------------- */

/* The measured spores from the verbatim text. TRUE also for a published notation, which stays as it is. */
static gboolean
read_spores (WsSporeList *list, GError **error)
{
  g_autoptr (GError) no_list = NULL;
  g_autoptr (GArray) spores = ws_spore_list_parse (list->verbatim, &no_list);
  WsSporeSizes sizes;

  if (spores != NULL)
    {
      ws_spore_list_set (list, (const WsSpore *) (void *) spores->data, spores->len);
      return TRUE;
    }
  return ws_spore_sizes_parse (list->verbatim, &sizes, error);
}

char *
ws_record_spore_list (WsDesk *desk, const char *find_id, const WsSporeList *given, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (WsSporeList) list = ws_spore_list_copy (given);
  WsAction *action;

  if (find == NULL || (list->n_spores == 0 && !read_spores (list, error)))
    return NULL;
  g_free (list->id);
  list->id = id_for (given->id);
  name_observer (desk, &list->observer);
  if (list->n_spores > 0 && list->rule == WS_PERCENTILES_UNSAID)
    list->rule = WS_PERCENTILES_LINEAR;
  list->created_us = g_get_real_time ();
  action = ws_action_new (_("Record spores"));
  ws_action_put_spore_list (action, find->id, list);
  return finish (desk, action, list->id, error);
}

gboolean
ws_record_remove_spore_list (WsDesk *desk, const char *list_id, GError **error)
{
  return remove_by (desk, _("Remove a list of spores"), ws_action_remove_spore_list, list_id, error);
}
