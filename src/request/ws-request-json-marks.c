/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marks and notes of a request.json. */
#include "ws-request-json-private.h"

#include "ws-intl.h"

#include <math.h>

static WsShape *
read_outline (const WsJsonMembers *in)
{
  JsonArray *array = ws_json_get_array (in, "points", TRUE);
  guint n = array != NULL ? json_array_get_length (array) : 0;
  g_autofree WsPoint *points = g_new0 (WsPoint, MAX (n, 1));

  for (guint i = 0; i < n; i++)
    {
      JsonNode *node = json_array_get_element (array, i);
      JsonArray *pair = JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;

      if (pair == NULL || json_array_get_length (pair) != 2)
        return NULL;
      points[i].x = ws_json_node_get_number (json_array_get_element (pair, 0));
      points[i].y = ws_json_node_get_number (json_array_get_element (pair, 1));
    }
  return ws_shape_new_outline (points, n);
}

static WsShape *
read_shape (const WsJsonMembers *parent, const char *place)
{
  static const char *const kinds[] = { "box", "oval", "outline", NULL };
  WsShape *shape = NULL;
  WsJsonMembers in;
  WsShapeKind kind;
  WsRect rect;

  if (!ws_json_get_object (parent, "shape", place, TRUE, &in))
    return NULL;
  if (*ws_json_get_text (&in, "kind", TRUE) == '\0')
    return NULL;
  kind = ws_json_take_choice (&in, "kind", kinds);
  rect.x = ws_json_get_number (&in, "x", 0, 1, TRUE);
  rect.y = ws_json_get_number (&in, "y", 0, 1, TRUE);
  rect.width = ws_json_get_number (&in, "width", 0, 1, TRUE);
  rect.height = ws_json_get_number (&in, "height", 0, 1, TRUE);
  if (kind == WS_SHAPE_OUTLINE)
    shape = read_outline (&in);
  else if (ws_rect_is_valid (&rect))
    shape = kind == WS_SHAPE_OVAL ? ws_shape_new_oval (&rect) : ws_shape_new_box (&rect);
  if (shape == NULL)
    ws_json_fault (&in, NULL, _("this is no shape inside the photo"));
  return shape;
}

static void
read_measure (const WsJsonMembers *parent, const char *place, WsMeasure *measure)
{
  WsJsonMembers in;

  if (!ws_json_get_object (parent, "measure", place, FALSE, &in))
    return;
  measure->measured = TRUE;
  measure->width_px = (int) ws_json_get_integer (&in, "widthPx", 0, 100000, TRUE);
  measure->height_px = (int) ws_json_get_integer (&in, "heightPx", 0, 100000, TRUE);
  measure->blur_sigma = ws_json_get_number (&in, "blurSigma", 0, 100000, FALSE);
  measure->burnt_out = ws_json_get_number (&in, "burntOut", 0, 1, TRUE);
  measure->blocked_up = ws_json_get_number (&in, "blockedUp", 0, 1, TRUE);
  measure->mm_per_pixel = ws_json_get_number (&in, "mmPerPixel", 0, 1000, FALSE);
  measure->method = (int) ws_json_get_integer (&in, "method", 0, 100000, FALSE);
}

/* Ids of an array of words. (transfer full) */
static char **
read_words (const WsJsonMembers *in, const char *key, gboolean free_text)
{
  JsonArray *array = ws_json_get_array (in, key, TRUE);
  GPtrArray *words = g_ptr_array_new ();

  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
    {
      WsJsonMembers word;
      const char *id = "", *text = "";

      if (ws_json_get_element (in, array, i, in->place, &word))
        {
          id = ws_json_get_text (&word, "id", FALSE);
          text = ws_json_get_text (&word, "text", FALSE);
        }
      if (*id != '\0' ? !ws_json_is_word (id) : !free_text || *text == '\0')
        ws_json_fault (in, key, _("each must have an id or, where it is free, a text"));
      else
        g_ptr_array_add (words, g_strdup (*id != '\0' ? id : text));
    }
  g_ptr_array_add (words, NULL);
  return (char **) g_ptr_array_free (words, FALSE);
}

void
ws_request_json_read_mark (const WsJsonMembers *in, WsFind *find, gint64 made_us)
{
  WsMark *mark = ws_mark_new ();
  g_autofree char *shape_place = g_strconcat (in->place, ".shape", NULL);
  g_autofree char *measure_place = g_strconcat (in->place, ".measure", NULL);
  WsShape *shape = read_shape (in, shape_place);

  ws_json_take_id (in, "id", TRUE, &mark->id);
  ws_json_take_id (in, "photo", TRUE, &mark->photo_id);
  ws_set_string (&mark->part, ws_json_get_word (in, "part", TRUE));
  g_strfreev (mark->views);
  mark->views = read_words (in, "views", FALSE);
  mark->whole_photo = ws_json_get_yes (in, "wholePhoto");
  ws_json_take_text (in, "specimen", &mark->specimen);
  ws_set_string (&mark->base_kind, ws_json_get_word (in, "baseKind", FALSE));
  ws_json_take_text (in, "remark", &mark->remark);
  read_measure (in, measure_place, &mark->measure);
  mark->created_us = made_us;
  if (ws_find_get_mark (find, mark->id) != NULL)
    ws_json_fault (in, "id", _("this id stands there before"));
  if (ws_find_get_photo (find, mark->photo_id) == NULL)
    ws_json_fault (in, "photo", _("there is no such photo"));
  if (mark->views[0] == NULL)
    ws_json_fault (in, "views", _("a mark must serve a view"));
  if (shape == NULL)
    {
      ws_mark_unref (mark);
      return;
    }
  ws_shape_free (mark->shape);
  mark->shape = shape;
  g_ptr_array_add (find->marks, mark);
}

/* When it was observed; format 0.1 does not say. */
static void
take_when (const WsJsonMembers *in, WsNote *note)
{
  const char *observed = ws_json_get_word (in, "observed", FALSE);

  if (*observed != '\0' && !ws_observed_parse (observed, &note->observed))
    ws_json_fault (in, "observed", _("this word is not known here"));
  note->minutes = ws_json_get_number (in, "minutes", 0, 1e7, FALSE);
  if (isnan (note->minutes) == (note->observed == WS_OBSERVED_AFTER))
    ws_json_fault (in, "minutes", _("minutes stand with a note taken after so many, and with no other"));
}

void
ws_request_json_read_note (const WsJsonMembers *in, WsFind *find, gint64 made_us)
{
  WsNote *note = ws_note_new ();
  g_autofree char *mark_id = g_strdup ("");

  g_ptr_array_add (find->notes, note);
  ws_json_take_id (in, "id", TRUE, &note->id);
  ws_set_string (&note->character, ws_json_get_word (in, "character", TRUE));
  g_strfreev (note->states);
  note->states = read_words (in, "states", TRUE);
  note->off_photo = ws_json_get_yes (in, "offPhoto");
  note->sure = ws_json_get_yes (in, "sure");
  ws_json_take_text (in, "specimen", &note->specimen);
  ws_json_take_text (in, "observer", &note->observer);
  ws_json_take_id (in, "mark", FALSE, &mark_id);
  note->created_us = made_us;
  if (note->off_photo && note->sure)
    ws_json_fault (in, "sure", _("what is read off a photo is never sure"));
  note->sure = note->sure && !note->off_photo;
  take_when (in, note);
  ws_json_take_text (in, "text", &note->text);
  if (ws_json_get_array (in, "answers", FALSE) != NULL)
    {
      g_strfreev (note->answers);
      note->answers = read_words (in, "answers", FALSE);
    }
  if (*mark_id != '\0' && ws_find_get_mark (find, mark_id) == NULL)
    ws_json_fault (in, "mark", _("there is no such mark"));
  else if (*mark_id != '\0')
    note->mark_id = g_steal_pointer (&mark_id);
}
