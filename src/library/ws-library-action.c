/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Putting an action together. Nothing is checked or written yet. */
#include "ws-library-private.h"

static void
step_free (gpointer data)
{
  WsStep *step = data;

  if (step->release != NULL)
    step->release (step->value);
  g_free (step->id);
  g_free (step->other);
  g_free (step);
}

WsAction *
ws_action_new (const char *label)
{
  WsAction *action = g_new0 (WsAction, 1);

  action->label = g_strdup (label != NULL ? label : "");
  action->steps = g_ptr_array_new_with_free_func (step_free);
  return action;
}

void
ws_action_free (WsAction *action)
{
  if (action == NULL)
    return;
  g_free (action->label);
  g_ptr_array_unref (action->steps);
  g_free (action);
}

static WsStep *
add_step (WsAction *action, WsStepRun run, const char *id, const char *other)
{
  WsStep *step = g_new0 (WsStep, 1);

  step->run = run;
  step->id = g_strdup (id);
  step->other = g_strdup (other);
  g_ptr_array_add (action->steps, step);
  return step;
}

/* @value: taken, with the function that releases it. */
static WsStep *
add_put (WsAction *action, WsStepRun run, WsStepCheck check, gpointer value, GDestroyNotify release,
         const char *find_id)
{
  WsStep *step = add_step (action, run, find_id, NULL);

  step->check = check;
  step->value = value;
  step->release = release;
  return step;
}

/* The put of a value of type T, whose functions all bear its name. */
#define ADD_PUT(T, find_id) \
  add_put (action, ws_write_##T, ws_rules_check_##T, ws_##T##_ref (T), (GDestroyNotify) ws_##T##_unref, (find_id))

void
ws_action_put_foray (WsAction *action, const WsForay *foray)
{
  ADD_PUT (foray, NULL);
}

void
ws_action_remove_foray (WsAction *action, const char *foray_id)
{
  add_step (action, ws_write_no_foray, foray_id, NULL);
}

void
ws_action_put_find (WsAction *action, const WsFind *find)
{
  ADD_PUT (find, NULL);
}

void
ws_action_remove_find (WsAction *action, const char *find_id)
{
  add_step (action, ws_write_no_find, find_id, NULL);
}

void
ws_action_put_photo (WsAction *action, const WsPhoto *photo, guint64 likeness)
{
  WsStep *step = ADD_PUT (photo, NULL);

  step->finish = ws_write_photo_file_of;
  step->likeness = likeness;
}

void
ws_action_put_find_photo (WsAction *action, const char *find_id, const WsFindPhoto *find_photo)
{
  ADD_PUT (find_photo, find_id);
}

void
ws_action_remove_find_photo (WsAction *action, const char *find_id, const char *photo_id)
{
  add_step (action, ws_write_no_find_photo, find_id, photo_id);
}

void
ws_action_put_mark (WsAction *action, const char *find_id, const WsMark *mark)
{
  ADD_PUT (mark, find_id)->finish = ws_write_mark_measure;
}

void
ws_action_remove_mark (WsAction *action, const char *mark_id)
{
  add_step (action, ws_write_no_mark, mark_id, NULL);
}

void
ws_action_put_note (WsAction *action, const char *find_id, const WsNote *note)
{
  ADD_PUT (note, find_id);
}

void
ws_action_remove_note (WsAction *action, const char *note_id)
{
  add_step (action, ws_write_no_note, note_id, NULL);
}

void
ws_action_put_excuse (WsAction *action, const char *find_id, const WsExcuse *excuse)
{
  ADD_PUT (excuse, find_id);
}

void
ws_action_remove_excuse (WsAction *action, const char *find_id, const char *view)
{
  add_step (action, ws_write_no_excuse, find_id, view);
}

void
ws_action_put_cover (WsAction *action, const WsCover *cover)
{
  ADD_PUT (cover, NULL);
}

void
ws_action_remove_cover (WsAction *action, const char *cover_id)
{
  add_step (action, ws_write_no_cover, cover_id, NULL);
}

void
ws_action_put_scale (WsAction *action, const WsScale *scale)
{
  ADD_PUT (scale, NULL);
}

void
ws_action_remove_scale (WsAction *action, const char *scale_id)
{
  add_step (action, ws_write_no_scale, scale_id, NULL);
}

void
ws_action_put_measurement (WsAction *action, const char *find_id, const WsMeasurement *measurement)
{
  ADD_PUT (measurement, find_id);
}

void
ws_action_remove_measurement (WsAction *action, const char *measurement_id)
{
  add_step (action, ws_write_no_measurement, measurement_id, NULL);
}

void
ws_action_put_spore_list (WsAction *action, const char *find_id, const WsSporeList *spore_list)
{
  ADD_PUT (spore_list, find_id);
}

void
ws_action_remove_spore_list (WsAction *action, const char *list_id)
{
  add_step (action, ws_write_no_spore_list, list_id, NULL);
}

void
ws_action_share_names (WsAction *action, const char *from_find_id, const char *to_find_id)
{
  add_step (action, ws_write_shared_names, from_find_id, to_find_id);
}
