/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words, place and time of finds and forays. */
#include "ws-record.h"

#include "ws-error.h"
#include "ws-intl.h"
#include "ws-record-private.h"

#include <math.h>
#include <string.h>

static gboolean
set_place (WsFind *find, const char *value, GError **error)
{
  g_auto (GStrv) cells = g_strsplit (value, ",", 3);
  g_autofree char *pair = NULL;
  char *end;

  if (value[0] == '\0')
    {
      find->where = ws_position_none ();
      return TRUE;
    }
  pair = g_strdup_printf ("%s,%s", cells[0], cells[1] != NULL ? cells[1] : "");
  if (cells[1] == NULL || !ws_position_parse (pair, &find->where))
    return ws_record_invalid (error, _("“%s” is not a place; give LATITUDE,LONGITUDE in degrees, for example 51.2,-30.5"), value);
  if (cells[2] == NULL)
    return TRUE;
  find->where.error_m = g_ascii_strtod (cells[2], &end);
  if (end[strspn (end, " m")] != '\0' || !(find->where.error_m > 0) || !isfinite (find->where.error_m))
    return ws_record_invalid (error, _("“%s” is not an uncertainty in metres above 0"), cells[2]);
  return TRUE;
}

static gboolean
set_time (WsFind *find, const char *value, GError **error)
{
  g_autofree char *noon = strlen (value) == strlen ("2025-10-04") ? g_strconcat (value, "T12:00:00", NULL) : NULL;
  g_autofree char *seconds = strlen (value) == strlen ("2025-10-04T14:03") ? g_strconcat (value, ":00", NULL) : NULL;
  WsMoment when = WS_MOMENT_INIT;

  if (value[0] != '\0' && !ws_moment_set_local (&when, noon != NULL ? noon : seconds != NULL ? seconds : value))
    return ws_record_invalid (error, _("“%s” is not a time; give 2025-10-04T14:03 or 2025-10-04"), value);
  find->when = when;
  return TRUE;
}

static gboolean
set_field (WsFind *find, const char *key, const char *value, GError **error)
{
  struct { const char *key; char **field; } texts[] = {
    { "number", &find->number }, { "field-name", &find->field_name }, { "locality", &find->locality },
    { "remarks", &find->remarks }, { "only-mine", &find->only_mine } };

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    if (g_str_equal (key, texts[i].key))
      {
        ws_set_string (texts[i].field, value);
        return TRUE;
      }
  if (g_str_equal (key, "place"))
    return set_place (find, value, error);
  if (g_str_equal (key, "time"))
    return set_time (find, value, error);
  if (!g_str_equal (key, "specimen-is"))
    return ws_record_invalid (error, _("There is no “%s” to set; there are number, field-name, locality, remarks, only-mine, specimen-is, place, time"), key);
  return ws_specimen_is_parse (value, &find->specimen_is) ||
         ws_record_invalid (error, _("“%s” is not one of kept, at_spot, gone, unknown"), value);
}

gboolean
ws_record_set (WsDesk *desk, const char *find_id, const char *key, const char *value, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (WsFind) changed = find != NULL ? ws_find_copy (find) : NULL;
  g_autofree char *label = NULL;
  WsAction *action;

  if (changed == NULL || !set_field (changed, key, value, error))
    return FALSE;
  label = g_strdup_printf (_("Change the find %s"), find->number);
  action = ws_action_new (label);
  ws_action_put_find (action, changed);
  return ws_library_apply (desk->library, action, error);
}

gboolean
ws_record_set_foray (WsDesk *desk, const char *foray_id, const char *key, const char *value, GError **error)
{
  g_autoptr (GPtrArray) forays = ws_library_load_forays (desk->library, error);

  for (guint i = 0; forays != NULL && i < forays->len; i++)
    {
      const WsForay *foray = g_ptr_array_index (forays, i);
      g_autoptr (WsForay) changed = NULL;
      WsAction *action;
      char **field;

      if (!g_str_equal (foray->id, foray_id))
        continue;
      changed = ws_foray_copy (foray);
      field = g_str_equal (key, "date") ? &changed->date : g_str_equal (key, "place") ? &changed->place
              : g_str_equal (key, "people") ? &changed->people : NULL;
      if (field == NULL)
        return ws_record_invalid (error, _("A foray has no “%s”; it has date, place, people"), key);
      ws_set_string (field, value);
      action = ws_action_new (_("Change the foray"));
      ws_action_put_foray (action, changed);
      return ws_library_apply (desk->library, action, error);
    }
  if (forays != NULL)
    g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("There is no foray %s"), foray_id);
  return FALSE;
}
