/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#include <math.h>
#include <string.h>

static void
add (GString *text, const char *name, const char *value)
{
  g_string_append_printf (text, " %s=", name);
  if (value != NULL)
    g_string_append_printf (text, "<%s>", value);
}

/* All bits, so that nothing can be lost unseen; any NAN is unknown. */
static void
add_double (GString *text, const char *name, double value)
{
  guint64 bits;

  memcpy (&bits, &value, sizeof bits);
  if (isnan (value))
    g_string_append_printf (text, " %s=unknown", name);
  else
    g_string_append_printf (text, " %s=%016" G_GINT64_MODIFIER "x", name, bits);
}

static void
add_int (GString *text, const char *name, gint64 value)
{
  g_string_append_printf (text, " %s=%" G_GINT64_FORMAT, name, value);
}

static void
add_moment (GString *text, const WsMoment *moment)
{
  add_int (text, "local", moment->local_us);
  add_int (text, "decimals", moment->decimals);
  add_int (text, "offset", moment->offset_minutes);
  add_int (text, "offset-source", moment->offset_source);
  add_int (text, "correction", moment->correction_seconds);
}

static void
add_position (GString *text, const WsPosition *position)
{
  add_double (text, "latitude", position->latitude);
  add_double (text, "longitude", position->longitude);
  add_double (text, "error", position->error_m);
  add_double (text, "altitude", position->altitude);
  add_int (text, "source", position->source);
}

static void
add_shape (GString *text, const WsShape *shape)
{
  add_int (text, "shape", shape->kind);
  add_double (text, "x", shape->bounds.x);
  add_double (text, "y", shape->bounds.y);
  add_double (text, "w", shape->bounds.width);
  add_double (text, "h", shape->bounds.height);
  for (guint i = 0; i < shape->n_points; i++)
    {
      add_double (text, "px", shape->points[i].x);
      add_double (text, "py", shape->points[i].y);
    }
}

static void
add_strv (GString *text, const char *name, char **strings)
{
  add_int (text, name, g_strv_length (strings));
  for (; *strings != NULL; strings++)
    add (text, "", *strings);
}

static void
add_photo (GString *text, const WsPhoto *photo)
{
  add (text, "id", photo->id);
  add (text, "path", photo->path);
  add_int (text, "size", photo->file_size);
  add_int (text, "time", photo->file_time_us);
  add (text, "digest", photo->digest);
  add (text, "companion", photo->companion);
  add (text, "media", photo->media_type);
  add_int (text, "width", photo->width);
  add_int (text, "height", photo->height);
  add_int (text, "orientation", photo->orientation);
  add_moment (text, &photo->taken);
  add_position (text, &photo->position);
  add_double (text, "direction", photo->direction);
  add (text, "make", photo->make);
  add (text, "model", photo->model);
  add_int (text, "kind", photo->kind);
  add (text, "copy-of", photo->copy_of);
  add_int (text, "set-aside", photo->set_aside);
  add (text, "warnings", photo->warnings);
}

static void
add_mark (GString *text, const WsMark *mark)
{
  const WsMeasure *m = &mark->measure;

  g_string_append (text, "\nmark");
  add (text, "id", mark->id);
  add (text, "photo", mark->photo_id);
  add (text, "part", mark->part);
  add_strv (text, "views", mark->views);
  add_shape (text, mark->shape);
  add_int (text, "whole", mark->whole_photo);
  add (text, "specimen", mark->specimen);
  add (text, "base-kind", mark->base_kind);
  add (text, "remark", mark->remark);
  add_int (text, "created", mark->created_us);
  add_int (text, "measured", m->measured);
  add_int (text, "w", m->width_px);
  add_int (text, "h", m->height_px);
  add_double (text, "blur", m->blur_sigma);
  add_double (text, "burnt", m->burnt_out);
  add_double (text, "blocked", m->blocked_up);
  add_double (text, "mm", m->mm_per_pixel);
  add_int (text, "method", m->method);
}

static void
add_note (GString *text, const WsNote *note)
{
  g_string_append (text, "\nnote");
  add (text, "id", note->id);
  add (text, "character", note->character);
  add_strv (text, "states", note->states);
  add_int (text, "sure", note->sure);
  add_int (text, "off-photo", note->off_photo);
  add (text, "specimen", note->specimen);
  add (text, "observer", note->observer);
  add (text, "mark", note->mark_id);
  add_int (text, "observed", note->observed);
  add_double (text, "minutes", note->minutes);
  add (text, "text", note->text);
  add_strv (text, "answers", note->answers);
  add_int (text, "created", note->created_us);
}

static void
add_own (GString *text, const WsFind *find)
{
  g_string_append (text, "find");
  add (text, "id", find->id);
  add (text, "number", find->number);
  add (text, "foray", find->foray_id);
  add (text, "field-name", find->field_name);
  add_moment (text, &find->when);
  add_position (text, &find->where);
  add (text, "locality", find->locality);
  add (text, "remarks", find->remarks);
  add (text, "only-mine", find->only_mine);
  add_int (text, "specimen-is", find->specimen_is);
  add (text, "name-in-force", find->name_in_force);
  add_int (text, "created", find->created_us);
}

static void
add_points (GString *text, const WsPoint *a, const WsPoint *b)
{
  add_double (text, "ax", a->x);
  add_double (text, "ay", a->y);
  add_double (text, "bx", b->x);
  add_double (text, "by", b->y);
}

static void
add_scale (GString *text, const WsScale *scale)
{
  g_string_append (text, "\nscale");
  add (text, "id", scale->id);
  add (text, "photo", scale->photo_id);
  add_points (text, &scale->a, &scale->b);
  add_double (text, "mm", scale->mm);
  add_double (text, "mm-error", scale->mm_error);
  add_double (text, "point-error", scale->point_error);
  add_double (text, "tilt", scale->tilt);
  add_int (text, "created", scale->created_us);
}

static void
add_measurement (GString *text, const WsMeasurement *measurement)
{
  g_string_append (text, "\nmeasurement");
  add (text, "id", measurement->id);
  add (text, "quantity", measurement->quantity);
  add (text, "specimen", measurement->specimen);
  add_double (text, "value", measurement->value);
  add_double (text, "error", measurement->error);
  add (text, "photo", measurement->photo_id);
  add_points (text, &measurement->a, &measurement->b);
  add (text, "observer", measurement->observer);
  add (text, "remark", measurement->remark);
  add_int (text, "created", measurement->created_us);
}

static void
add_spore_list (GString *text, const WsSporeList *list)
{
  g_string_append (text, "\nspores");
  add (text, "id", list->id);
  add (text, "specimen", list->specimen);
  for (guint i = 0; i < list->n_spores; i++)
    {
      add_double (text, "l", list->spores[i].length);
      add_double (text, "w", list->spores[i].width);
    }
  add_int (text, "n", list->n_specimens);
  add_int (text, "from", list->from);
  add (text, "mount", list->mount);
  add_int (text, "rule", list->rule);
  add (text, "verbatim", list->verbatim);
  add (text, "observer", list->observer);
  add (text, "remark", list->remark);
  add_int (text, "created", list->created_us);
}

static void
add_name (GString *text, const WsName *name)
{
  g_string_append (text, "\nname");
  add (text, "id", name->id);
  add (text, "verbatim", name->verbatim);
  add_int (text, "certainty", name->certainty);
  add (text, "by", name->by);
  add (text, "date", name->date);
  add_int (text, "on", name->on);
  add_int (text, "base", name->base_shown);
  add (text, "reasons", name->reasons);
  add_int (text, "source", name->source);
  add (text, "answer", name->answer_id);
  add (text, "entered-by", name->entered_by);
  add_int (text, "deadly", name->deadly);
  add (text, "withdraws", name->withdraws);
  add_int (text, "created", name->created_us);
}

static void
add_opinions (GString *text, const WsAnswer *answer)
{
  for (guint i = 0; i < answer->opinions->len; i++)
    {
      const WsOpinion *opinion = g_ptr_array_index (answer->opinions, i);

      add (text, "opinion", opinion->name);
      add_int (text, "certainty", opinion->certainty);
      add_int (text, "on", opinion->on);
      for (guint r = 0; r < opinion->reasons->len; r++)
        {
          const WsReason *reason = g_ptr_array_index (opinion->reasons, r);

          add (text, "reason", reason->text);
          add (text, "photo", reason->photo_id);
          add (text, "part", reason->part);
        }
    }
}

char *
answer_to_text (const WsAnswer *answer)
{
  GString *text = g_string_new ("answer");

  add (text, "id", answer->id);
  add_int (text, "kind", answer->kind);
  add (text, "request", answer->request_id);
  add (text, "digest", answer->request_digest);
  add (text, "replaces", answer->replaces);
  add (text, "by", answer->by);
  add_int (text, "made", answer->made_us);
  add (text, "language", answer->language);
  add_opinions (text, answer);
  add_int (text, "cannot-name", answer->cannot_name);
  add_int (text, "deadly", answer->deadly);
  add_int (text, "phone", answer->phone_poison_service);
  for (guint i = 0; i < answer->wishes->len; i++)
    {
      const WsWish *wish = g_ptr_array_index (answer->wishes, i);

      add (text, "view", wish->view);
      add (text, "character", wish->character);
      add (text, "part", wish->part);
      add (text, "text", wish->text);
    }
  add (text, "remarks", answer->remarks);
  add (text, "verbatim", answer->verbatim);
  add (text, "entered-by", answer->entered_by);
  add_int (text, "received", answer->received_us);
  return g_string_free (text, FALSE);
}

static void
add_said (GString *text, const WsFind *find)
{
  for (guint i = 0; i < find->scales->len; i++)
    add_scale (text, g_ptr_array_index (find->scales, i));
  for (guint i = 0; i < find->measurements->len; i++)
    add_measurement (text, g_ptr_array_index (find->measurements, i));
  for (guint i = 0; i < find->spores->len; i++)
    add_spore_list (text, g_ptr_array_index (find->spores, i));
  for (guint i = 0; i < find->names->len; i++)
    add_name (text, g_ptr_array_index (find->names, i));
  for (guint i = 0; i < find->answers->len; i++)
    {
      g_autofree char *answer = answer_to_text (g_ptr_array_index (find->answers, i));

      g_string_append_printf (text, "\n%s", answer);
    }
}

char *
find_to_text (const WsFind *find)
{
  GString *text = g_string_new (NULL);

  add_own (text, find);
  for (guint i = 0; i < find->photos->len; i++)
    {
      const WsFindPhoto *link = g_ptr_array_index (find->photos, i);

      g_string_append (text, "\nphoto");
      add_int (text, "position", link->position);
      add (text, "specimen", link->specimen);
      add (text, "visit", link->visit);
      add_photo (text, link->photo);
    }
  for (guint i = 0; i < find->marks->len; i++)
    add_mark (text, g_ptr_array_index (find->marks, i));
  for (guint i = 0; i < find->notes->len; i++)
    add_note (text, g_ptr_array_index (find->notes, i));
  for (guint i = 0; i < find->excuses->len; i++)
    {
      const WsExcuse *excuse = g_ptr_array_index (find->excuses, i);

      g_string_append (text, "\nexcuse");
      add (text, "view", excuse->view);
      add (text, "reason", excuse->reason);
    }
  for (guint i = 0; i < find->covers->len; i++)
    {
      const WsCover *cover = g_ptr_array_index (find->covers, i);

      g_string_append (text, "\ncover");
      add (text, "id", cover->id);
      add (text, "photo", cover->photo_id);
      add_shape (text, cover->shape);
    }
  add_said (text, find);
  return g_string_free (text, FALSE);
}

char *
photo_to_text (const WsPhoto *photo)
{
  GString *text = g_string_new (NULL);

  add_photo (text, photo);
  return g_string_free (text, FALSE);
}

char *
library_text (WsLibrary *library)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) forays = ws_library_load_forays (library, &error);
  g_autoptr (GPtrArray) finds = ws_library_load_finds (library, NULL, &error);
  g_autoptr (GPtrArray) photos = ws_library_load_all_photos (library, &error);
  GString *text = g_string_new (NULL);

  g_assert_no_error (error);
  for (guint i = 0; i < forays->len; i++)
    {
      const WsForay *foray = g_ptr_array_index (forays, i);

      g_string_append (text, "foray");
      add (text, "id", foray->id);
      add (text, "date", foray->date);
      add (text, "place", foray->place);
      add (text, "people", foray->people);
      g_string_append_c (text, '\n');
    }
  for (guint i = 0; i < finds->len; i++)
    {
      g_autofree char *find = find_to_text (g_ptr_array_index (finds, i));

      g_string_append_printf (text, "%s\n", find);
    }
  for (guint i = 0; i < photos->len; i++)
    {
      g_string_append (text, "photo");
      add_photo (text, g_ptr_array_index (photos, i));
      g_string_append_c (text, '\n');
    }
  return g_string_free (text, FALSE);
}
