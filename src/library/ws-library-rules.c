/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules that a value must keep to be stored. They are checked before anything is written; who breaks
 * one is told which. */
#include "ws-library-private.h"

#include "ws-error.h"
#include "ws-id.h"
#include "ws-intl.h"

#include <math.h>
#include <string.h>

gboolean
ws_rules_refuse (GError **error, const char *rule)
{
  g_set_error_literal (error, WS_ERROR, WS_ERROR_INVALID, rule);
  return FALSE;
}

gboolean
ws_rules_check_id (const char *id, const char *what, GError **error)
{
  if (ws_id_is_valid (id) && strpbrk (id, "ABCDEF") == NULL)
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_INVALID,
               _("“%s” is no identifier of %s: it must be a UUID in lower case"), id != NULL ? id : "", what);
  return FALSE;
}

gboolean
ws_rules_check_texts (const char *const *texts, GError **error)
{
  for (; *texts != NULL; texts++)
    if (!g_utf8_validate (*texts, -1, NULL))
      return ws_rules_refuse (error, _("A text is not valid UTF-8"));
  return TRUE;
}

static gboolean
check_position (const WsPosition *position, GError **error)
{
  if (!isnan (position->latitude) &&
      (fabs (position->latitude) > 90 || !(fabs (position->longitude) <= 180)))
    return ws_rules_refuse (error, _("A position must lie on the globe: latitude -90 to 90, longitude -180 to 180"));
  return TRUE;
}

static gboolean
check_shape (const WsShape *shape, GError **error)
{
  g_autofree char *text = shape != NULL ? ws_shape_to_text (shape) : NULL;
  g_autoptr (WsShape) again = ws_shape_parse (text);

  if (again == NULL)
    return ws_rules_refuse (error, _("A shape must be a box, an oval or an outline inside the photo"));
  return TRUE;
}

gboolean
ws_rules_check_foray (const WsStep *step, GError **error)
{
  const WsForay *foray = step->value;
  const char *const texts[] = { foray->date, foray->place, foray->people, NULL };

  return ws_rules_check_id (foray->id, _("a foray"), error) && ws_rules_check_texts (texts, error);
}

static gboolean
is_blank (const char *text)
{
  g_autofree char *stripped = g_strstrip (g_strdup (text));

  return *stripped == '\0';
}

gboolean
ws_rules_check_find (const WsStep *step, GError **error)
{
  const WsFind *find = step->value;
  const char *const texts[] = { find->number, find->field_name, find->locality, find->remarks,
                                find->only_mine, NULL };

  if (!ws_rules_check_id (find->id, _("a find"), error) ||
      (find->foray_id != NULL && !ws_rules_check_id (find->foray_id, _("a foray"), error)) ||
      !ws_rules_check_texts (texts, error) || !check_position (&find->where, error))
    return FALSE;
  return !is_blank (find->number) || ws_rules_refuse (error, _("A find must have a number"));
}

gboolean
ws_rules_check_photo (const WsStep *step, GError **error)
{
  const WsPhoto *photo = step->value;

  return ws_rules_check_id (photo->id, _("a photo"), error) &&
         (photo->copy_of == NULL || ws_rules_check_id (photo->copy_of, _("a photo"), error)) &&
         check_position (&photo->position, error);
}

gboolean
ws_rules_check_find_photo (const WsStep *step, GError **error)
{
  const WsFindPhoto *link = step->value;
  const char *const texts[] = { link->specimen, link->visit, NULL };

  return ws_rules_check_id (step->id, _("a find"), error) &&
         ws_rules_check_id (link->photo->id, _("a photo"), error) && ws_rules_check_texts (texts, error);
}

static gboolean
is_whole (const WsShape *shape)
{
  return shape->kind == WS_SHAPE_BOX && shape->bounds.x == 0 && shape->bounds.y == 0 &&
         shape->bounds.width == 1 && shape->bounds.height == 1;
}

gboolean
ws_rules_check_mark (const WsStep *step, GError **error)
{
  const WsMark *mark = step->value;
  const char *const texts[] = { mark->part, mark->specimen, mark->base_kind, mark->remark, NULL };

  if (!ws_rules_check_id (mark->id, _("a mark"), error) || !ws_rules_check_id (step->id, _("a find"), error) ||
      !ws_rules_check_id (mark->photo_id, _("a photo"), error) || !ws_rules_check_texts (texts, error) ||
      !ws_rules_check_texts ((const char *const *) mark->views, error) || !check_shape (mark->shape, error))
    return FALSE;
  if (*mark->part == '\0' || mark->views[0] == NULL)
    return ws_rules_refuse (error, _("A mark must name a part and at least one view"));
  if (mark->whole_photo && !is_whole (mark->shape))
    return ws_rules_refuse (error, _("A mark of the whole photo must be the box 0,0,1,1"));
  if (mark->whole_photo && *mark->base_kind != '\0')
    return ws_rules_refuse (error, _("The whole photo cannot show a base: mark the base in it, then say how it is shown"));
  return TRUE;
}

gboolean
ws_rules_check_note (const WsStep *step, GError **error)
{
  const WsNote *note = step->value;
  const char *const texts[] = { note->character, note->specimen, note->observer, note->text, NULL };

  if (!ws_rules_check_id (note->id, _("a note"), error) || !ws_rules_check_id (step->id, _("a find"), error) ||
      (note->mark_id != NULL && !ws_rules_check_id (note->mark_id, _("a mark"), error)) ||
      !ws_rules_check_texts (texts, error) || !ws_rules_check_texts ((const char *const *) note->states, error) ||
      !ws_rules_check_texts ((const char *const *) note->answers, error))
    return FALSE;
  if (*note->character == '\0')
    return ws_rules_refuse (error, _("A note must name a character"));
  if (note->off_photo && note->sure)
    return ws_rules_refuse (error, _("What was read off a photo is never sure"));
  if (note->observed == WS_OBSERVED_AFTER ? !(note->minutes >= 0 && isfinite (note->minutes)) : !isnan (note->minutes))
    return ws_rules_refuse (error, _("Minutes, 0 or more, stand with a note that was taken after so many minutes, and with no other"));
  return TRUE;
}

gboolean
ws_rules_check_excuse (const WsStep *step, GError **error)
{
  const WsExcuse *excuse = step->value;
  const char *const texts[] = { excuse->view, excuse->reason, NULL };

  if (!ws_rules_check_id (step->id, _("a find"), error) || !ws_rules_check_texts (texts, error))
    return FALSE;
  return *excuse->view != '\0' || ws_rules_refuse (error, _("A reason must name the view that is missing"));
}

gboolean
ws_rules_check_cover (const WsStep *step, GError **error)
{
  const WsCover *cover = step->value;

  return ws_rules_check_id (cover->id, _("a covered region"), error) &&
         ws_rules_check_id (cover->photo_id, _("a photo"), error) && check_shape (cover->shape, error);
}
