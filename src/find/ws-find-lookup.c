/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Questions asked of a find and its members. */
#include "ws-values.h"

const WsPhoto *
ws_find_get_photo (const WsFind *find, const char *photo_id)
{
  for (guint i = 0; i < find->photos->len; i++)
    {
      const WsFindPhoto *link = g_ptr_array_index (find->photos, i);

      if (g_strcmp0 (link->photo->id, photo_id) == 0)
        return link->photo;
    }
  return NULL;
}

const WsMark *
ws_find_get_mark (const WsFind *find, const char *mark_id)
{
  for (guint i = 0; i < find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (find->marks, i);

      if (g_strcmp0 (mark->id, mark_id) == 0)
        return mark;
    }
  return NULL;
}

const char *
ws_find_get_excuse (const WsFind *find, const char *view)
{
  for (guint i = 0; i < find->excuses->len; i++)
    {
      const WsExcuse *excuse = g_ptr_array_index (find->excuses, i);

      if (g_str_equal (excuse->view, view))
        return excuse->reason;
    }
  return NULL;
}

const char *
ws_find_get_state (const WsFind *find, const char *character)
{
  for (guint i = find->notes->len; i > 0; i--)
    {
      const WsNote *note = g_ptr_array_index (find->notes, i - 1);

      if (g_str_equal (note->character, character) && note->states[0] != NULL)
        return note->states[0];
    }
  return "";
}

gboolean
ws_find_has_state (const WsFind *find, const char *character, const char *state)
{
  for (guint i = 0; i < find->notes->len; i++)
    {
      const WsNote *note = g_ptr_array_index (find->notes, i);

      if (g_str_equal (note->character, character) &&
          g_strv_contains ((const char *const *) note->states, state))
        return TRUE;
    }
  return FALSE;
}

const char *
ws_find_get_growth_form (const WsFind *find)
{
  return ws_find_get_state (find, "growth_form");
}

gboolean
ws_mark_serves (const WsMark *mark, const char *view)
{
  return g_strv_contains ((const char *const *) mark->views, view);
}

char *
ws_find_dup_mark_letter (const WsFind *find, const WsMark *mark)
{
  guint n = 0;
  GString *letter = g_string_new (NULL);

  for (n = 0; n < find->marks->len; n++)
    if (g_str_equal (((const WsMark *) g_ptr_array_index (find->marks, n))->id, mark->id))
      break;
  /* A…Z, then AA, AB, … */
  for (n++; n > 0; n = (n - 1) / 26)
    g_string_prepend_c (letter, (char) ('A' + (n - 1) % 26));
  return g_string_free (letter, FALSE);
}

static const char *const specimen_ids[] = { "unknown", "kept", "at_spot", "gone" };

const char *
ws_specimen_is_id (WsSpecimenIs is)
{
  return specimen_ids[is];
}

gboolean
ws_specimen_is_parse (const char *text, WsSpecimenIs *is)
{
  for (gsize i = 0; i < G_N_ELEMENTS (specimen_ids); i++)
    if (g_strcmp0 (text, specimen_ids[i]) == 0)
      {
        *is = (WsSpecimenIs) i;
        return TRUE;
      }
  return FALSE;
}
