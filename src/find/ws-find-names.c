/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Questions asked of the names, answers and scales of a find. */
#include "ws-value-private.h"
#include "ws-values.h"

#include <math.h>

const WsName *
ws_find_get_name (const WsFind *find, const char *name_id)
{
  for (guint i = 0; i < find->names->len; i++)
    {
      const WsName *name = g_ptr_array_index (find->names, i);

      if (g_strcmp0 (name->id, name_id) == 0)
        return name;
    }
  return NULL;
}

gboolean
ws_find_is_name_withdrawn (const WsFind *find, const char *name_id)
{
  for (guint i = 0; i < find->names->len; i++)
    if (g_strcmp0 (((const WsName *) g_ptr_array_index (find->names, i))->withdraws, name_id) == 0)
      return TRUE;
  return FALSE;
}

const WsName *
ws_find_get_name_in_force (const WsFind *find)
{
  if (find->name_in_force == NULL || ws_find_is_name_withdrawn (find, find->name_in_force))
    return NULL;
  return ws_find_get_name (find, find->name_in_force);
}

const WsName *
ws_find_get_warning (const WsFind *find)
{
  for (guint i = 0; i < find->names->len; i++)
    {
      const WsName *name = g_ptr_array_index (find->names, i);

      if (name->deadly)
        return name;
    }
  return NULL;
}

gboolean
ws_find_is_answer_replaced (const WsFind *find, const char *answer_id)
{
  for (guint i = 0; i < find->answers->len; i++)
    if (g_strcmp0 (((const WsAnswer *) g_ptr_array_index (find->answers, i))->replaces, answer_id) == 0)
      return TRUE;
  return FALSE;
}

static const WsWish *
wish_in (const WsAnswer *answer, const char *view, const char *character)
{
  for (guint i = 0; i < answer->wishes->len; i++)
    {
      const WsWish *wish = g_ptr_array_index (answer->wishes, i);

      if ((view == NULL || g_str_equal (wish->view, view)) &&
          (character == NULL || g_str_equal (wish->character, character)))
        return wish;
    }
  return NULL;
}

const WsWish *
ws_find_get_wish (const WsFind *find, const char *view, const char *character, const WsAnswer **answer)
{
  for (guint i = 0; i < find->answers->len; i++)
    {
      const WsAnswer *asking = g_ptr_array_index (find->answers, i);
      const WsWish *wish = ws_find_is_answer_replaced (find, asking->id) ? NULL : wish_in (asking, view, character);

      if (wish == NULL)
        continue;
      if (answer != NULL)
        *answer = asking;
      return wish;
    }
  return NULL;
}

const WsScale *
ws_find_get_scale (const WsFind *find, const char *photo_id)
{
  for (guint i = find->scales->len; i > 0; i--)
    {
      const WsScale *scale = g_ptr_array_index (find->scales, i - 1);

      if (g_strcmp0 (scale->photo_id, photo_id) == 0)
        return scale;
    }
  return NULL;
}

void
ws_find_fill_scales (WsFind *find)
{
  for (guint i = 0; i < find->marks->len; i++)
    {
      WsMark *mark = g_ptr_array_index (find->marks, i);
      const WsPhoto *photo = ws_find_get_photo (find, mark->photo_id);
      const WsScale *scale = ws_find_get_scale (find, mark->photo_id);

      mark->measure.mm_per_pixel = photo != NULL && scale != NULL
                                     ? ws_scale_get_mm_per_pixel (scale, photo->width, photo->height) : NAN;
    }
}

const WsNote *
ws_find_get_note_at (const WsFind *find, const char *character, const char *specimen, const char *observer,
                     WsObserved observed, double minutes)
{
  for (guint i = 0; i < find->notes->len; i++)
    {
      const WsNote *note = g_ptr_array_index (find->notes, i);

      if (g_str_equal (note->character, character) && g_str_equal (note->specimen, specimen) &&
          g_str_equal (note->observer, observer) && note->observed == observed &&
          (observed != WS_OBSERVED_AFTER || note->minutes == minutes))
        return note;
    }
  return NULL;
}

static const char *const observed_ids[] = { "unknown", "fresh", "after", "dried" };

const char *
ws_observed_id (WsObserved observed)
{
  return observed_ids[observed];
}

gboolean
ws_observed_parse (const char *text, WsObserved *observed)
{
  int place = ID_PLACE (observed_ids, text);

  if (place >= 0)
    *observed = (WsObserved) place;
  return place >= 0;
}
