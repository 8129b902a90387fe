/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#include <math.h>

static char *
new_id (char **field)
{
  g_free (*field);
  return *field = ws_id_new ();
}

static void
set_strv (char ***field, const char *const *strings)
{
  g_strfreev (*field);
  *field = g_strdupv ((char **) strings);
}

static void
set_shape (WsShape **field, WsShape *shape)
{
  g_assert_nonnull (shape);
  ws_shape_free (*field);
  *field = shape;
}

WsForay *
sample_foray (void)
{
  WsForay *foray = ws_foray_new ();

  new_id (&foray->id);
  ws_set_string (&foray->date, "2025-10-04");
  ws_set_string (&foray->place, "Käferholz, the \"hollow\" side");
  ws_set_string (&foray->people, "Ada Beispiel; B. O'Nobody");
  return foray;
}

WsFind *
sample_find (const char *number, const char *foray_id)
{
  WsFind *find = ws_find_new ();

  new_id (&find->id);
  ws_set_string (&find->number, number);
  find->foray_id = g_strdup (foray_id);
  ws_set_string (&find->field_name, "grüner Ärgerling 100% sicher_nicht");
  find->when = (WsMoment) { G_GINT64_CONSTANT (1759586602500001), 6, -210, WS_OFFSET_TOLD, -3601 };
  find->where = (WsPosition) { 51.123456789012345, -0.1, 30.0, NAN, WS_POSITION_TYPED };
  ws_set_string (&find->locality, "left of the path\nunder the third beech");
  ws_set_string (&find->remarks, "smells of 'radish'; \\ and \x1f kept");
  ws_set_string (&find->only_mine, "my best spot");
  find->specimen_is = WS_SPECIMEN_AT_SPOT;
  find->created_us = G_GINT64_CONSTANT (1759600000123456);
  return find;
}

WsPhoto *
sample_photo (void)
{
  WsPhoto *photo = ws_photo_new ();

  new_id (&photo->id);
  ws_set_string (&photo->path, "/nowhere/caf\xe9/IMG 1.JPG"); /* a file name need not be UTF-8 */
  photo->file_size = G_GINT64_CONSTANT (5000000000);
  photo->file_time_us = G_GINT64_CONSTANT (1759586602123457);
  g_free (photo->digest);
  photo->digest = g_compute_checksum_for_string (G_CHECKSUM_SHA512, photo->id, -1);
  photo->companion = g_strdup ("/nowhere/IMG 1.RAW");
  ws_set_string (&photo->media_type, "image/jpeg");
  photo->width = 6000;
  photo->height = 4000;
  photo->orientation = 6;
  photo->taken = (WsMoment) { G_GINT64_CONSTANT (-1000001), 1, 120, WS_OFFSET_GPS, 59 };
  photo->position = (WsPosition) { 0.1 + 0.2, 180, 4.9e-324, -1.5, WS_POSITION_PHOTO };
  photo->direction = 90.0;
  ws_set_string (&photo->make, "Nocam");
  ws_set_string (&photo->model, "One & Only");
  photo->kind = WS_PHOTO_SCREENSHOT;
  photo->set_aside = FALSE;
  ws_set_string (&photo->warnings, "no offset\nvoid position");
  return photo;
}

WsFindPhoto *
sample_link (const WsPhoto *photo, int position)
{
  WsFindPhoto *link = ws_find_photo_new ();

  ws_photo_unref (link->photo);
  link->photo = ws_photo_ref (photo);
  link->position = position;
  ws_set_string (&link->specimen, "b");
  ws_set_string (&link->visit, "another");
  return link;
}

WsMark *
sample_mark (const char *photo_id)
{
  const char *const views[] = { "stem-base", "", "a\x1f" "b\\c", NULL };
  WsRect rect = { 0.1, 1 / 3.0, 0.30000000000000004, 2 / 3.0 };
  WsMark *mark = ws_mark_new ();

  new_id (&mark->id);
  ws_set_string (&mark->photo_id, photo_id);
  ws_set_string (&mark->part, "stem-base");
  set_strv (&mark->views, views);
  set_shape (&mark->shape, ws_shape_new_box (&rect));
  ws_set_string (&mark->specimen, "a");
  ws_set_string (&mark->base_kind, "cleaned");
  ws_set_string (&mark->remark, "bag torn?");
  mark->measure = (WsMeasure) { TRUE, 300, 200, 1.1, 0.0, 1 / 7.0, NAN, 3 };
  mark->created_us = 1759600000123457;
  return mark;
}

WsNote *
sample_note (const char *mark_id)
{
  const char *const states[] = { "beech and “Eiche”", "x_y", NULL };
  const char *const answers[] = { "print_thick", "fresh_cut", NULL };
  WsNote *note = ws_note_new ();

  new_id (&note->id);
  ws_set_string (&note->character, "trees");
  set_strv (&note->states, states);
  note->off_photo = TRUE;
  ws_set_string (&note->specimen, "a");
  ws_set_string (&note->observer, "Ada");
  note->mark_id = g_strdup (mark_id);
  note->observed = WS_OBSERVED_AFTER;
  note->minutes = 0.1;
  ws_set_string (&note->text, "slowly; 'not' at once");
  set_strv (&note->answers, answers);
  note->created_us = 1759600000123458;
  return note;
}

WsExcuse *
sample_excuse (const char *view)
{
  WsExcuse *excuse = ws_excuse_new ();

  ws_set_string (&excuse->view, view);
  ws_set_string (&excuse->reason, "a dog ate it");
  return excuse;
}

WsCover *
sample_cover (const char *photo_id)
{
  WsRect rect = { 0, 0.5, 0.1, 0.1 };
  WsCover *cover = ws_cover_new ();

  new_id (&cover->id);
  ws_set_string (&cover->photo_id, photo_id);
  set_shape (&cover->shape, ws_shape_new_oval (&rect));
  return cover;
}

WsScale *
sample_scale (const char *photo_id)
{
  WsScale *scale = ws_scale_new ();

  new_id (&scale->id);
  ws_set_string (&scale->photo_id, photo_id);
  scale->a = (WsPoint) { 0.1, 1 / 3.0 };
  scale->b = (WsPoint) { 0.9, 0.30000000000000004 };
  scale->mm = 50;
  scale->mm_error = 0.1;
  scale->tilt = 0;
  scale->created_us = 1759600000123460;
  return scale;
}

WsMeasurement *
sample_measurement (const char *photo_id)
{
  WsMeasurement *measurement = ws_measurement_new ();

  new_id (&measurement->id);
  ws_set_string (&measurement->quantity, "cap_width");
  ws_set_string (&measurement->specimen, "b");
  measurement->value = 52.300000000000004;
  measurement->error = photo_id != NULL ? 1 / 3.0 : (double) NAN;
  measurement->photo_id = g_strdup (photo_id);
  if (photo_id != NULL)
    {
      measurement->a = (WsPoint) { 0, 1 };
      measurement->b = (WsPoint) { 1 / 7.0, 0.5 };
    }
  ws_set_string (&measurement->observer, "Ada");
  ws_set_string (&measurement->remark, "rim torn, 'as laid'");
  measurement->created_us = 1759600000123461;
  return measurement;
}

WsSporeList *
sample_spore_list (void)
{
  const WsSpore spores[] = { { 8.2, 5.4 }, { 8.5, 5.6000000000000005 }, { 10, 1 / 3.0 } };
  WsSporeList *list = ws_spore_list_new ();

  new_id (&list->id);
  ws_set_string (&list->specimen, "a");
  ws_spore_list_set (list, spores, G_N_ELEMENTS (spores));
  list->n_specimens = 2;
  list->from = WS_SPORES_FROM_PRINT;
  ws_set_string (&list->mount, "KOH 5 %");
  list->rule = WS_PERCENTILES_NEAREST;
  ws_set_string (&list->verbatim, "8,2x5,4\n8,5 × 5,6");
  ws_set_string (&list->observer, "Ada");
  ws_set_string (&list->remark, "one burst");
  list->created_us = 1759600000123462;
  return list;
}

WsName *
sample_name (void)
{
  WsName *name = ws_name_new ();

  new_id (&name->id);
  ws_set_string (&name->verbatim, "Amanita cf. phalloides (Vaill. ex Fr.) Link");
  name->certainty = WS_CERTAINTY_PROBABLE;
  ws_set_string (&name->by, "Prof. “Nobody”");
  ws_set_string (&name->date, "2025-10-05");
  name->on = WS_NAMED_ON_BOTH;
  name->base_shown = 0;
  ws_set_string (&name->reasons, "bag\nring");
  name->source = WS_NAME_TOLD;
  ws_set_string (&name->entered_by, "Ada");
  name->created_us = 1759600000123463;
  return name;
}

WsAnswer *
sample_answer (void)
{
  WsAnswer *answer = ws_answer_new ();

  new_id (&answer->id);
  new_id (&answer->request_id);
  ws_set_string (&answer->request_digest, "abc");
  ws_set_string (&answer->by, "B. O'Nobody");
  answer->made_us = 1759700000000000;
  ws_set_string (&answer->language, "de");
  for (guint i = 0; i < 2; i++)
    {
      WsOpinion *opinion = ws_opinion_new ();
      WsWish *wish = ws_wish_new ();

      g_ptr_array_add (answer->opinions, opinion);
      g_ptr_array_add (answer->wishes, wish);
      ws_set_string (&opinion->name, i == 0 ? "Amanita virosa ?" : "Volvariella sp.");
      opinion->certainty = i == 0 ? WS_CERTAINTY_SURE : WS_CERTAINTY_OPEN;
      opinion->on = WS_NAMED_ON_PHOTOS;
      for (guint r = 0; r < 2 - i; r++)
        {
          WsReason *reason = ws_reason_new ();

          g_ptr_array_add (opinion->reasons, reason);
          ws_set_string (&reason->text, r == 0 ? "the bag" : "the \"smell\"");
          if (r == 0)
            new_id (&reason->photo_id);
          ws_set_string (&reason->part, r == 0 ? "stem_base" : "");
        }
      ws_set_string (&wish->view, i == 0 ? "v_base" : "");
      ws_set_string (&wish->character, i == 0 ? "" : "odour");
      ws_set_string (&wish->part, i == 0 ? "stem_base" : "");
      ws_set_string (&wish->text, "from two sides");
    }
  answer->deadly = TRUE;
  answer->phone_poison_service = TRUE;
  ws_set_string (&answer->remarks, "keep it");
  answer->received_us = 1759800000000000;
  return answer;
}

WsFind *
sample_whole_find (const char *number, const WsForay *foray)
{
  const WsPoint corners[] = { { 0.1, 0.1 }, { 0.9, 0.2 }, { 0.5, 1 / 1.1 } };
  const char *const white[] = { "white", NULL };
  WsFind *find = sample_find (number, foray != NULL ? foray->id : NULL);
  g_autoptr (WsPhoto) one = sample_photo ();
  g_autoptr (WsPhoto) two = sample_photo ();
  WsMark *box = sample_mark (one->id), *outline = sample_mark (two->id);
  WsNote *off_photo = sample_note (box->id), *sure = sample_note (NULL);

  two->companion = (g_free (two->companion), NULL);
  two->position = ws_position_none ();
  two->direction = NAN;
  two->taken = (WsMoment) WS_MOMENT_INIT;
  set_shape (&outline->shape, ws_shape_new_outline (corners, G_N_ELEMENTS (corners)));
  outline->measure = (WsMeasure) { .blur_sigma = NAN, .mm_per_pixel = NAN };
  ws_set_string (&outline->base_kind, "");
  sure->off_photo = FALSE;
  sure->sure = TRUE;
  set_strv (&sure->states, white);
  ws_set_string (&sure->character, "spore-print");
  g_ptr_array_add (find->photos, sample_link (one, 0));
  g_ptr_array_add (find->photos, sample_link (two, 1));
  g_ptr_array_add (find->marks, box);
  g_ptr_array_add (find->marks, outline);
  g_ptr_array_add (find->notes, off_photo);
  g_ptr_array_add (find->notes, sure);
  g_ptr_array_add (find->excuses, sample_excuse ("spore-print"));
  g_ptr_array_add (find->covers, sample_cover (two->id));
  g_ptr_array_add (find->scales, sample_scale (one->id));
  g_ptr_array_add (find->measurements, sample_measurement (one->id));
  g_ptr_array_add (find->measurements, sample_measurement (NULL));
  g_ptr_array_add (find->spores, sample_spore_list ());
  ws_find_fill_scales (find);
  return find;
}

void
action_add_whole (WsAction *action, const WsForay *foray, const WsFind *find)
{
  if (foray != NULL)
    ws_action_put_foray (action, foray);
  ws_action_put_find (action, find);
  for (guint i = 0; i < find->photos->len; i++)
    {
      const WsFindPhoto *link = g_ptr_array_index (find->photos, i);

      ws_action_put_photo (action, link->photo, 0x0123456789abcdef + i);
      ws_action_put_find_photo (action, find->id, link);
    }
  for (guint i = 0; i < find->marks->len; i++)
    ws_action_put_mark (action, find->id, g_ptr_array_index (find->marks, i));
  for (guint i = 0; i < find->notes->len; i++)
    ws_action_put_note (action, find->id, g_ptr_array_index (find->notes, i));
  for (guint i = 0; i < find->excuses->len; i++)
    ws_action_put_excuse (action, find->id, g_ptr_array_index (find->excuses, i));
  for (guint i = 0; i < find->covers->len; i++)
    ws_action_put_cover (action, g_ptr_array_index (find->covers, i));
  for (guint i = 0; i < find->scales->len; i++)
    ws_action_put_scale (action, g_ptr_array_index (find->scales, i));
  for (guint i = 0; i < find->measurements->len; i++)
    ws_action_put_measurement (action, find->id, g_ptr_array_index (find->measurements, i));
  for (guint i = 0; i < find->spores->len; i++)
    ws_action_put_spore_list (action, find->id, g_ptr_array_index (find->spores, i));
}

WsAction *
action_put_whole (const char *label, const WsForay *foray, const WsFind *find)
{
  WsAction *action = ws_action_new (label);

  action_add_whole (action, foray, find);
  return action;
}
