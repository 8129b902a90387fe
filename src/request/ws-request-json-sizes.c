/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scales, measurements and spores of a request.json. */
#include "ws-request-json-private.h"

#include "ws-intl.h"
#include "ws-json-build.h"
#include "ws-quantities.h"

#include <math.h>

/* --- Writing --------------------------------------------------------------------------------- */

static void
add_point (JsonBuilder *json, const char *key, const WsPoint *point)
{
  ws_json_begin_array (json, key);
  json_builder_add_double_value (json, point->x);
  json_builder_add_double_value (json, point->y);
  json_builder_end_array (json);
}

static void
add_scale (WsRequestWriter *writer, const WsScale *scale)
{
  ws_json_begin_object (writer->json, NULL);
  ws_json_add_text (writer->json, "id", scale->id);
  ws_json_add_text (writer->json, "photo", scale->photo_id);
  add_point (writer->json, "a", &scale->a);
  add_point (writer->json, "b", &scale->b);
  ws_json_add_number (writer->json, "mm", scale->mm);
  ws_json_add_number (writer->json, "mmError", scale->mm_error);
  ws_json_add_number (writer->json, "pointErrorPx", scale->point_error);
  ws_json_add_number (writer->json, "tiltDegrees", scale->tilt);
  json_builder_end_object (writer->json);
}

static void
add_measurement (WsRequestWriter *writer, const WsMeasurement *measurement)
{
  const WsQuantity *quantity = ws_knowledge_find_quantity (writer->knowledge, measurement->quantity);

  ws_json_begin_object (writer->json, NULL);
  ws_json_add_text (writer->json, "id", measurement->id);
  ws_request_json_add_word (writer, "quantity", "quantity", measurement->quantity);
  ws_json_add_text (writer->json, "specimen", measurement->specimen);
  ws_json_add_number (writer->json, "value", measurement->value);
  ws_json_add_number (writer->json, "error", measurement->error);
  ws_json_add_text (writer->json, "unit", quantity != NULL ? quantity->unit : "");
  ws_json_add_optional (writer->json, "photo", measurement->photo_id);
  if (measurement->photo_id != NULL)
    {
      add_point (writer->json, "a", &measurement->a);
      add_point (writer->json, "b", &measurement->b);
    }
  ws_json_add_text (writer->json, "observer", measurement->observer);
  ws_json_add_text (writer->json, "remark", measurement->remark);
  json_builder_end_object (writer->json);
}

static void
add_spore_list (WsRequestWriter *writer, const WsSporeList *list)
{
  ws_json_begin_object (writer->json, NULL);
  ws_json_add_text (writer->json, "id", list->id);
  ws_json_add_text (writer->json, "specimen", list->specimen);
  ws_json_begin_array (writer->json, "micrometres");
  for (guint i = 0; i < list->n_spores; i++)
    add_point (writer->json, NULL, &(WsPoint) { list->spores[i].length, list->spores[i].width });
  json_builder_end_array (writer->json);
  ws_json_add_integer (writer->json, "specimens", list->n_specimens);
  ws_request_json_add_word (writer, "from", "spores_from", ws_spores_from_id (list->from));
  ws_json_add_text (writer->json, "mount", list->mount);
  ws_json_add_text (writer->json, "percentiles", ws_percentile_rule_id (list->rule));
  ws_json_add_text (writer->json, "verbatim", list->verbatim);
  ws_json_add_text (writer->json, "observer", list->observer);
  ws_json_add_text (writer->json, "remark", list->remark);
  json_builder_end_object (writer->json);
}

void
ws_request_json_add_sizes (WsRequestWriter *writer)
{
  const WsFind *find = writer->request->find;

  ws_json_begin_array (writer->json, "scales");
  for (guint i = 0; i < find->scales->len; i++)
    add_scale (writer, g_ptr_array_index (find->scales, i));
  json_builder_end_array (writer->json);
  ws_json_begin_array (writer->json, "measurements");
  for (guint i = 0; i < find->measurements->len; i++)
    add_measurement (writer, g_ptr_array_index (find->measurements, i));
  json_builder_end_array (writer->json);
  ws_json_begin_array (writer->json, "spores");
  for (guint i = 0; i < find->spores->len; i++)
    add_spore_list (writer, g_ptr_array_index (find->spores, i));
  json_builder_end_array (writer->json);
}

/* --- Reading ---------------------------------------------------------------------------------- */

void
ws_request_json_read_each (const WsJsonMembers *in, const char *key, WsRequestTake take, WsFind *find, gint64 made_us)
{
  JsonArray *array = ws_json_get_array (in, key, FALSE);

  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
    {
      g_autofree char *place = g_strdup_printf ("%s.%s[%u]", in->place, key, i);
      WsJsonMembers element;

      if (ws_json_get_element (in, array, i, place, &element))
        take (&element, find, made_us);
    }
}

/* Two numbers from 0 to @most; FALSE, without a fault, for anything else. */
static gboolean
read_pair (JsonNode *node, double most, double *x, double *y)
{
  JsonArray *pair = node != NULL && JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;

  if (pair == NULL || json_array_get_length (pair) != 2)
    return FALSE;
  *x = ws_json_node_get_number (json_array_get_element (pair, 0));
  *y = ws_json_node_get_number (json_array_get_element (pair, 1));
  return *x >= 0 && *x <= most && *y >= 0 && *y <= most;
}

gboolean
ws_request_json_take_points (const WsJsonMembers *in, WsPoint *a, WsPoint *b)
{
  if (read_pair (json_object_get_member (in->object, "a"), 1, &a->x, &a->y) &&
      read_pair (json_object_get_member (in->object, "b"), 1, &b->x, &b->y))
    return TRUE;
  ws_json_fault (in, NULL, _("“a” and “b” must be points inside the photo"));
  return FALSE;
}

static gboolean
is_photo (const WsJsonMembers *in, const WsFind *find, const char *photo_id)
{
  if (ws_find_get_photo (find, photo_id) != NULL)
    return TRUE;
  ws_json_fault (in, "photo", _("there is no such photo"));
  return FALSE;
}

static void
read_scale (const WsJsonMembers *in, WsFind *find, gint64 made_us)
{
  g_autoptr (WsScale) scale = ws_scale_new ();

  ws_json_take_id (in, "id", TRUE, &scale->id);
  ws_json_take_id (in, "photo", TRUE, &scale->photo_id);
  scale->mm = ws_json_get_number (in, "mm", 0, 1e5, TRUE);
  scale->mm_error = ws_json_get_number (in, "mmError", 0, 1e5, FALSE);
  scale->point_error = ws_json_get_number (in, "pointErrorPx", 0, 1e5, FALSE);
  scale->tilt = ws_json_get_number (in, "tiltDegrees", 0, 90, FALSE);
  scale->created_us = made_us;
  if (ws_request_json_take_points (in, &scale->a, &scale->b) && is_photo (in, find, scale->photo_id))
    g_ptr_array_add (find->scales, g_steal_pointer (&scale));
}

static void
read_measurement (const WsJsonMembers *in, WsFind *find, gint64 made_us)
{
  g_autoptr (WsMeasurement) measurement = ws_measurement_new ();
  g_autofree char *photo_id = g_strdup ("");

  ws_json_take_id (in, "id", TRUE, &measurement->id);
  ws_set_string (&measurement->quantity, ws_json_get_word (in, "quantity", TRUE));
  ws_json_take_text (in, "specimen", &measurement->specimen);
  measurement->value = ws_json_get_number (in, "value", 0, 1e6, TRUE);
  measurement->error = ws_json_get_number (in, "error", 0, 1e6, FALSE);
  ws_json_take_id (in, "photo", FALSE, &photo_id);
  ws_json_take_text (in, "observer", &measurement->observer);
  ws_json_take_text (in, "remark", &measurement->remark);
  measurement->created_us = made_us;
  if (*photo_id != '\0')
    {
      if (!ws_request_json_take_points (in, &measurement->a, &measurement->b) || !is_photo (in, find, photo_id))
        return;
      measurement->photo_id = g_steal_pointer (&photo_id);
    }
  g_ptr_array_add (find->measurements, g_steal_pointer (&measurement));
}

static void
read_spore_list (const WsJsonMembers *in, WsFind *find, gint64 made_us)
{
  g_autoptr (WsSporeList) list = ws_spore_list_new ();
  g_autoptr (GArray) spores = g_array_new (FALSE, FALSE, sizeof (WsSpore));
  JsonArray *sizes = ws_json_get_array (in, "micrometres", TRUE);
  const char *rule = ws_json_get_text (in, "percentiles", TRUE);

  ws_json_take_id (in, "id", TRUE, &list->id);
  ws_json_take_text (in, "specimen", &list->specimen);
  for (guint i = 0; sizes != NULL && i < json_array_get_length (sizes); i++)
    {
      WsSpore spore;

      if (!read_pair (json_array_get_element (sizes, i), WS_SPORE_MAX_UM, &spore.length, &spore.width) ||
          !(spore.length > 0) || !(spore.width > 0))
        {
          ws_json_fault (in, "micrometres", _("each must be a length and a width"));
          return;
        }
      g_array_append_val (spores, spore);
    }
  ws_spore_list_set (list, (const WsSpore *) (void *) spores->data, spores->len);
  list->n_specimens = (guint) ws_json_get_integer (in, "specimens", 0, 100000, FALSE);
  if (!ws_spores_from_parse (ws_json_get_word (in, "from", TRUE), &list->from))
    ws_json_fault (in, "from", _("this word is not known here"));
  if (!ws_percentile_rule_parse (rule, &list->rule))
    ws_json_fault (in, "percentiles", _("this word is not known here"));
  ws_json_take_text (in, "mount", &list->mount);
  ws_json_take_text (in, "verbatim", &list->verbatim);
  ws_json_take_text (in, "observer", &list->observer);
  ws_json_take_text (in, "remark", &list->remark);
  list->created_us = made_us;
  g_ptr_array_add (find->spores, g_steal_pointer (&list));
}

void
ws_request_json_read_sizes (const WsJsonMembers *in, WsFind *find, gint64 made_us)
{
  ws_request_json_read_each (in, "scales", read_scale, find, made_us);
  ws_request_json_read_each (in, "measurements", read_measurement, find, made_us);
  ws_request_json_read_each (in, "spores", read_spore_list, find, made_us);
}
