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
  add_int (text, "created", find->created_us);
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
