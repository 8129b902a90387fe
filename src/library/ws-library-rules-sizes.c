/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules for sizes, names and answers, as in ws-library-rules.c. */
#include "ws-library-private.h"

#include "ws-error.h"
#include "ws-intl.h"

#include <math.h>

static gboolean
is_inside (const WsPoint *point)
{
  return point->x >= 0 && point->x <= 1 && point->y >= 0 && point->y <= 1;
}

/* How far a thing may be off: not told, or a number from 0. */
static gboolean
is_error (double error)
{
  return isnan (error) || (error >= 0 && isfinite (error));
}

static gboolean
is_size (double size)
{
  return size > 0 && isfinite (size);
}

gboolean
ws_rules_check_scale (const WsStep *step, GError **error)
{
  const WsScale *scale = step->value;

  if (!ws_rules_check_id (scale->id, _("a scale"), error) ||
      !ws_rules_check_id (scale->photo_id, _("a photo"), error))
    return FALSE;
  if (!is_inside (&scale->a) || !is_inside (&scale->b) ||
      (scale->a.x == scale->b.x && scale->a.y == scale->b.y))
    return ws_rules_refuse (error, _("A scale needs two different points inside the photo"));
  if (!is_size (scale->mm) || !is_error (scale->mm_error) || !is_error (scale->point_error) || !is_error (scale->tilt))
    return ws_rules_refuse (error, _("A scale needs a distance above 0, and what it may be off by cannot be below 0"));
  return TRUE;
}

gboolean
ws_rules_check_measurement (const WsStep *step, GError **error)
{
  const WsMeasurement *measurement = step->value;
  const char *const texts[] = { measurement->quantity, measurement->specimen, measurement->observer,
                                measurement->remark, NULL };

  if (!ws_rules_check_id (measurement->id, _("a measurement"), error) ||
      !ws_rules_check_id (step->id, _("a find"), error) ||
      (measurement->photo_id != NULL && !ws_rules_check_id (measurement->photo_id, _("a photo"), error)) ||
      !ws_rules_check_texts (texts, error))
    return FALSE;
  if (*measurement->quantity == '\0')
    return ws_rules_refuse (error, _("A measurement must say what was measured"));
  if (!is_size (measurement->value) || !is_error (measurement->error))
    return ws_rules_refuse (error, _("A size must be above 0, and what it may be off by cannot be below 0"));
  if (measurement->photo_id != NULL && (!is_inside (&measurement->a) || !is_inside (&measurement->b)))
    return ws_rules_refuse (error, _("What is measured on a photo must lie inside the photo"));
  return TRUE;
}

gboolean
ws_rules_check_spore_list (const WsStep *step, GError **error)
{
  const WsSporeList *list = step->value;
  const char *const texts[] = { list->specimen, list->mount, list->verbatim, list->observer, list->remark, NULL };

  if (!ws_rules_check_id (list->id, _("a list of spores"), error) ||
      !ws_rules_check_id (step->id, _("a find"), error) || !ws_rules_check_texts (texts, error))
    return FALSE;
  if (list->n_spores == 0 && *list->verbatim == '\0')
    return ws_rules_refuse (error, _("A list of spores cannot be empty"));
  if (list->n_spores > WS_SPORE_LIST_MAX)
    return ws_rules_refuse (error, _("A list of spores cannot be that long"));
  for (guint i = 0; i < list->n_spores; i++)
    if (!is_size (list->spores[i].length) || !is_size (list->spores[i].width))
      return ws_rules_refuse (error, _("The size of a spore must be above 0"));
  return TRUE;
}

gboolean
ws_rules_check_name (const WsName *name, GError **error)
{
  const char *const texts[] = { name->verbatim, name->by, name->date, name->reasons, name->entered_by, NULL };

  if (!ws_rules_check_id (name->id, _("a name"), error) ||
      (name->answer_id != NULL && !ws_rules_check_id (name->answer_id, _("an answer"), error)) ||
      (name->withdraws != NULL && !ws_rules_check_id (name->withdraws, _("a name"), error)) ||
      !ws_rules_check_texts (texts, error))
    return FALSE;
  if (name->withdraws != NULL && (*name->verbatim != '\0' || name->deadly))
    return ws_rules_refuse (error, _("What takes a name back says nothing else"));
  if (name->withdraws == NULL && *name->verbatim == '\0' && !name->deadly)
    return ws_rules_refuse (error, _("A name cannot be empty"));
  if (!ws_name_is_date (name->date))
    return ws_rules_refuse (error, _("The date of a name must be like 2025-10-04"));
  return TRUE;
}

static gboolean
check_opinion (const WsOpinion *opinion, GError **error)
{
  const char *const name[] = { opinion->name, NULL };

  if (!ws_rules_check_texts (name, error))
    return FALSE;
  if (*opinion->name == '\0')
    return ws_rules_refuse (error, _("An opinion must hold a name"));
  for (guint i = 0; i < opinion->reasons->len; i++)
    {
      const WsReason *reason = g_ptr_array_index (opinion->reasons, i);
      const char *const texts[] = { reason->text, reason->part, NULL };

      if (!ws_rules_check_texts (texts, error) ||
          (reason->photo_id != NULL && !ws_rules_check_id (reason->photo_id, _("a photo"), error)))
        return FALSE;
    }
  return TRUE;
}

gboolean
ws_rules_check_answer (const WsAnswer *answer, GError **error)
{
  const char *const texts[] = { answer->request_digest, answer->by, answer->language, answer->remarks,
                                answer->verbatim, answer->entered_by, NULL };

  if (!ws_rules_check_id (answer->id, _("an answer"), error) ||
      (*answer->request_id != '\0' && !ws_rules_check_id (answer->request_id, _("a request"), error)) ||
      (answer->replaces != NULL && !ws_rules_check_id (answer->replaces, _("an answer"), error)) ||
      !ws_rules_check_texts (texts, error))
    return FALSE;
  if (answer->opinions->len > WS_ANSWER_MAX_ITEMS || answer->wishes->len > WS_ANSWER_MAX_ITEMS)
    return ws_rules_refuse (error, _("An answer cannot be that long"));
  for (guint i = 0; i < answer->opinions->len; i++)
    if (!check_opinion (g_ptr_array_index (answer->opinions, i), error))
      return FALSE;
  for (guint i = 0; i < answer->wishes->len; i++)
    {
      const WsWish *wish = g_ptr_array_index (answer->wishes, i);
      const char *const words[] = { wish->view, wish->character, wish->part, wish->text, NULL };

      if (!ws_rules_check_texts (words, error))
        return FALSE;
    }
  return TRUE;
}
