/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-library-private.h"

#include "ws-error.h"
#include "ws-intl.h"

WsScale *
ws_row_take_scale (WsStatement *row)
{
  WsScale *scale = ws_scale_new ();

  ws_statement_take_into (row, &scale->id);
  ws_statement_take_into (row, &scale->photo_id);
  scale->a.x = ws_statement_take_double (row);
  scale->a.y = ws_statement_take_double (row);
  scale->b.x = ws_statement_take_double (row);
  scale->b.y = ws_statement_take_double (row);
  scale->mm = ws_statement_take_double (row);
  scale->mm_error = ws_statement_take_double (row);
  scale->point_error = ws_statement_take_double (row);
  scale->tilt = ws_statement_take_double (row);
  scale->created_us = ws_statement_take_int (row);
  return scale;
}

static double
take_end (WsStatement *row, const WsMeasurement *measurement)
{
  double fraction = ws_statement_take_double (row);

  return measurement->photo_id != NULL ? fraction : 0;
}

WsMeasurement *
ws_row_take_measurement (WsStatement *row)
{
  WsMeasurement *measurement = ws_measurement_new ();

  ws_statement_take_into (row, &measurement->id);
  ws_statement_take_into (row, &measurement->quantity);
  ws_statement_take_into (row, &measurement->specimen);
  measurement->value = ws_statement_take_double (row);
  measurement->error = ws_statement_take_double (row);
  measurement->photo_id = ws_statement_take_text (row);
  measurement->a.x = take_end (row, measurement);
  measurement->a.y = take_end (row, measurement);
  measurement->b.x = take_end (row, measurement);
  measurement->b.y = take_end (row, measurement);
  ws_statement_take_into (row, &measurement->observer);
  ws_statement_take_into (row, &measurement->remark);
  measurement->created_us = ws_statement_take_int (row);
  return measurement;
}

/* FALSE when the text is no list of pairs. */
static gboolean
read_spores (const char *text, WsSporeList *list)
{
  g_autoptr (GArray) spores = g_array_new (FALSE, FALSE, sizeof (WsSpore));

  while (*text != '\0')
    {
      WsSpore spore;
      char *end, *after;

      spore.length = g_ascii_strtod (text, &end);
      spore.width = g_ascii_strtod (end, &after);
      if (end == text || after == end || (*after != '\0' && *after != ' ') || spores->len == WS_SPORE_MAX_COUNT)
        return FALSE;
      g_array_append_val (spores, spore);
      text = *after == ' ' ? after + 1 : after;
    }
  ws_spore_list_set (list, (const WsSpore *) (void *) spores->data, spores->len);
  return TRUE;
}

WsSporeList *
ws_row_take_spore_list (WsStatement *row, GError **error)
{
  g_autoptr (WsSporeList) list = ws_spore_list_new ();

  ws_statement_take_into (row, &list->id);
  ws_statement_take_into (row, &list->specimen);
  if (!read_spores (ws_statement_peek_text (row), list))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
                   _("“%s” is damaged: the list of spores %s cannot be read; use a backup"), row->store->path,
                   list->id);
      return NULL;
    }
  list->n_specimens = (guint) ws_statement_take_int (row);
  list->from = (WsSporesFrom) ws_statement_take_kind (row, WS_SPORES_FROM_GILLS);
  ws_statement_take_into (row, &list->mount);
  list->rule = (WsPercentileRule) ws_statement_take_kind (row, WS_PERCENTILES_NEAREST);
  ws_statement_take_into (row, &list->verbatim);
  ws_statement_take_into (row, &list->observer);
  ws_statement_take_into (row, &list->remark);
  list->created_us = ws_statement_take_int (row);
  return g_steal_pointer (&list);
}
