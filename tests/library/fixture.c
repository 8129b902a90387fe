/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#include "ws-file.h"

#include <math.h>
#include <sqlite3.h>
#include <string.h>

void
fixture_set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;

  fixture->folder = g_dir_make_tmp ("wholestem-XXXXXX", &error);
  g_assert_no_error (error);
  path = g_build_filename (fixture->folder, "library", NULL);
  fixture->library = ws_library_open (path, &error);
  g_assert_no_error (error);
}

void
fixture_clear (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  if (fixture->library != NULL)
    g_assert_finalize_object (fixture->library);
  ws_file_remove_tree (fixture->folder, &error);
  g_assert_no_error (error);
  g_free (fixture->folder);
}

WsLibrary *
fixture_open_again (Fixture *fixture)
{
  g_autoptr (GError) error = NULL;
  WsLibrary *library = ws_library_open (ws_library_get_folder (fixture->library), &error);

  g_assert_no_error (error);
  return library;
}

void
fixture_reopen (Fixture *fixture)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_strdup (ws_library_get_folder (fixture->library));

  g_assert_finalize_object (fixture->library);
  fixture->library = ws_library_open (path, &error);
  g_assert_no_error (error);
}

char *
fixture_dup_path (Fixture *fixture)
{
  return g_build_filename (fixture->folder, "library", "library.db", NULL);
}

static sqlite3 *
connect (const char *path)
{
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL), ==, SQLITE_OK);
  sqlite3_busy_timeout (db, 5000);
  return db;
}

void
database_execute (const char *path, const char *sql)
{
  sqlite3 *db = connect (path);
  char *message = NULL;

  sqlite3_exec (db, "PRAGMA ignore_check_constraints = ON; PRAGMA foreign_keys = OFF", NULL, NULL, NULL);
  sqlite3_exec (db, sql, NULL, NULL, &message);
  g_assert_cmpstr (message, ==, NULL);
  sqlite3_close (db);
}

char *
database_query (const char *path, const char *sql)
{
  sqlite3 *db = connect (path);
  sqlite3_stmt *stmt = NULL;
  char *text = NULL;

  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &stmt, NULL), ==, SQLITE_OK);
  if (sqlite3_step (stmt) == SQLITE_ROW)
    text = g_strdup ((const char *) sqlite3_column_text (stmt, 0));
  sqlite3_finalize (stmt);
  sqlite3_close (db);
  return text;
}

char *
database_dup_refusal (const char *path, const char *sql)
{
  sqlite3 *db = connect (path);
  g_autofree char *refusal = NULL;
  char *message = NULL;

  sqlite3_exec (db, "PRAGMA foreign_keys = ON", NULL, NULL, NULL);
  sqlite3_exec (db, sql, NULL, NULL, &message);
  refusal = g_strdup (message);
  sqlite3_free (message);
  sqlite3_close (db);
  return g_steal_pointer (&refusal);
}

void
fixture_execute (Fixture *fixture, const char *sql)
{
  g_autofree char *path = fixture_dup_path (fixture);

  database_execute (path, sql);
}

char *
fixture_query (Fixture *fixture, const char *sql)
{
  g_autofree char *path = fixture_dup_path (fixture);

  return database_query (path, sql);
}

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
  WsNote *note = ws_note_new ();

  new_id (&note->id);
  ws_set_string (&note->character, "trees");
  set_strv (&note->states, states);
  note->off_photo = TRUE;
  ws_set_string (&note->specimen, "a");
  ws_set_string (&note->observer, "Ada");
  note->mark_id = g_strdup (mark_id);
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
}

WsAction *
action_put_whole (const char *label, const WsForay *foray, const WsFind *find)
{
  WsAction *action = ws_action_new (label);

  action_add_whole (action, foray, find);
  return action;
}

/* --- As text ------------------------------------------------------------------------------ */

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

/* --- With a library -------------------------------------------------------------------- */

void
apply (WsLibrary *library, WsAction *action)
{
  g_autoptr (GError) error = NULL;
  gboolean ok = ws_library_apply (library, action, &error);

  g_assert_no_error (error);
  g_assert_true (ok);
}

void
apply_fails (WsLibrary *library, WsAction *action, WsError code, const char *message_part)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *before = library_text (library);
  gboolean ok = ws_library_apply (library, action, &error);
  g_autofree char *after = library_text (library);

  g_assert_error (error, WS_ERROR, (int) code);
  g_assert_false (ok);
  if (strstr (error->message, message_part) == NULL)
    g_error ("“%s” does not say “%s”", error->message, message_part);
  g_assert_cmpstr (after, ==, before);
}

char *
find_text (WsLibrary *library, const char *id)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFind) find = ws_library_load_find (library, id, &error);

  if (find != NULL)
    return find_to_text (find);
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
  return g_strdup ("gone");
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
