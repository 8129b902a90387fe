/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "request-maker.h"

#include "ws-digest.h"

#include <math.h>

static void
add_table (GHashTable *tables, const char *folder, const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autoptr (GError) error = NULL;
  char *text;
  gsize size;

  g_file_get_contents (path, &text, &size, &error);
  g_assert_no_error (error);
  g_hash_table_insert (tables, g_strdup (name), g_bytes_new_take (text, size));
}

static void
add_tables (GHashTable *tables, const char *folder, const char *below)
{
  g_autofree char *here = below != NULL ? g_build_filename (folder, below, NULL) : g_strdup (folder);
  g_autoptr (GDir) dir = g_dir_open (here, 0, NULL);
  const char *name;

  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inside = below != NULL ? g_strconcat (below, "/", name, NULL) : g_strdup (name);

      if (g_str_has_suffix (name, ".tsv"))
        add_table (tables, folder, inside);
      else if (below == NULL && !g_str_has_suffix (name, ".md"))
        add_tables (tables, folder, name);
    }
}

WsKnowledge *
maker_knowledge (void)
{
  g_autoptr (GHashTable) tables = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_bytes_unref);
  g_autofree char *folder = g_build_filename (g_getenv ("WS_SOURCE_ROOT"), "data", "knowledge", NULL);
  g_autoptr (GError) error = NULL;
  WsKnowledge *knowledge;

  add_tables (tables, folder, NULL);
  knowledge = ws_knowledge_parse (tables, &error);
  g_assert_no_error (error);
  return knowledge;
}

static WsPosition
place (void)
{
  WsPosition position = ws_position_none ();

  position.latitude = MAKER_LATITUDE;
  position.longitude = MAKER_LONGITUDE;
  position.error_m = 12;
  position.altitude = 234.5;
  position.source = WS_POSITION_PHOTO;
  return position;
}

static void
add_photo (WsFind *find, const char *id, const char *taken)
{
  WsFindPhoto *link = ws_find_photo_new ();
  WsPhoto *photo = ws_photo_new ();

  ws_photo_unref (link->photo);
  link->photo = photo;
  link->position = (int) find->photos->len;
  ws_set_string (&photo->id, id);
  ws_set_string (&photo->path, "/somewhere/Heidelbeerwinkel/IMG_4711.JPG");
  ws_set_string (&photo->digest, "00");
  ws_set_string (&photo->media_type, "image/jpeg");
  photo->width = 1200;
  photo->height = 900;
  photo->orientation = 1;
  ws_moment_set_local (&photo->taken, taken);
  photo->taken.offset_source = WS_OFFSET_EXIF;
  photo->taken.offset_minutes = 120;
  photo->position = place ();
  ws_set_string (&photo->make, "Knipsomat");
  ws_set_string (&photo->model, "K-1 <x>");
  g_ptr_array_add (find->photos, link);
}

static WsMark *
add_mark (WsFind *find, const char *id, const char *photo, const char *part, const char *view, WsShape *shape)
{
  WsMark *mark = ws_mark_new ();

  ws_set_string (&mark->id, id);
  ws_set_string (&mark->photo_id, photo);
  ws_set_string (&mark->part, part);
  g_strfreev (mark->views);
  mark->views = g_strsplit (view, " ", -1);
  ws_shape_free (mark->shape);
  mark->shape = shape;
  ws_set_string (&mark->specimen, "a");
  mark->measure = (WsMeasure) { TRUE, 400, 300, 0.9, 0.001, 0.0, 0.125, 1 };
  g_ptr_array_add (find->marks, mark);
  return mark;
}

static void
add_note (WsFind *find, const char *id, const char *character, const char *states, gboolean sure, gboolean off_photo)
{
  WsNote *note = ws_note_new ();

  ws_set_string (&note->id, id);
  ws_set_string (&note->character, character);
  g_strfreev (note->states);
  note->states = g_strsplit (states, "|", -1);
  note->sure = sure;
  note->off_photo = off_photo;
  ws_set_string (&note->observer, "Eva & Söhne");
  g_ptr_array_add (find->notes, note);
}

#define PHOTO_1 "11111111-1111-4111-8111-111111111111"
#define PHOTO_2 "22222222-2222-4222-8222-222222222222"

#define NAME_1 "99999999-9999-4999-8999-999999999991"
#define ANSWER "aaaaaaaa-aaaa-4aaa-8aaa-aaaaaaaaaaaa"

static void
add_sizes (WsFind *find)
{
  static const WsSpore spores[] = { { 8.2, 5.4 }, { 8.5, 5.6 }, { 9.1, 1.0 / 0.3 } };
  WsScale *scale = ws_scale_new ();
  WsMeasurement *measurement = ws_measurement_new (), *by_ruler = ws_measurement_new ();
  WsSporeList *list = ws_spore_list_new ();

  ws_set_string (&scale->id, "bbbbbbbb-bbbb-4bbb-8bbb-bbbbbbbbbbb1");
  ws_set_string (&scale->photo_id, PHOTO_1);
  scale->a = (WsPoint) { 0.1, 0.9 };
  scale->b = (WsPoint) { 1.0 / 3.0, 0.9 };
  scale->mm = 50;
  scale->tilt = 10;
  g_ptr_array_add (find->scales, scale);
  ws_set_string (&measurement->id, "bbbbbbbb-bbbb-4bbb-8bbb-bbbbbbbbbbb2");
  ws_set_string (&measurement->quantity, "cap_width");
  ws_set_string (&measurement->specimen, "a");
  measurement->value = 100 / 3.0;
  measurement->error = 1.5;
  measurement->photo_id = g_strdup (PHOTO_1);
  measurement->a = (WsPoint) { 0.2, 0.3 };
  measurement->b = (WsPoint) { 0.6, 0.3 };
  g_ptr_array_add (find->measurements, measurement);
  ws_set_string (&by_ruler->id, "bbbbbbbb-bbbb-4bbb-8bbb-bbbbbbbbbbb3");
  ws_set_string (&by_ruler->quantity, "pores_per_mm");
  by_ruler->value = 2;
  ws_set_string (&by_ruler->remark, "counted " MAKER_SCRIPT);
  g_ptr_array_add (find->measurements, by_ruler);
  ws_set_string (&list->id, "bbbbbbbb-bbbb-4bbb-8bbb-bbbbbbbbbbb4");
  ws_spore_list_set (list, spores, G_N_ELEMENTS (spores));
  list->n_specimens = 1;
  list->from = WS_SPORES_FROM_PRINT;
  list->rule = WS_PERCENTILES_LINEAR;
  ws_set_string (&list->mount, "water " MAKER_SCRIPT);
  ws_set_string (&list->verbatim, "8.2x5.4 8.5x5.6 9.1x3.3");
  g_ptr_array_add (find->spores, list);
}

static void
add_name (WsFind *find, const char *id, const char *verbatim, gboolean deadly)
{
  WsName *name = ws_name_new ();

  ws_set_string (&name->id, id);
  ws_set_string (&name->verbatim, verbatim);
  name->certainty = WS_CERTAINTY_PROBABLE;
  ws_set_string (&name->by, "Kai Beispiel");
  ws_set_string (&name->date, "2025-10-04");
  name->on = WS_NAMED_ON_PHOTOS;
  name->base_shown = 0;
  ws_set_string (&name->reasons, "the bag " MAKER_SCRIPT);
  name->source = WS_NAME_BY_ANSWER;
  name->answer_id = g_strdup (ANSWER);
  ws_set_string (&name->entered_by, MAKER_ONLY_MINE);
  name->deadly = deadly;
  g_ptr_array_add (find->names, name);
}

/* An answer whose words are the finder's, and its names. */
static void
add_answer (WsFind *find)
{
  WsAnswer *answer = ws_answer_new ();
  WsWish *base = ws_wish_new (), *smell = ws_wish_new ();
  WsName *withdrawal = ws_name_new ();

  ws_set_string (&answer->id, ANSWER);
  answer->kind = WS_ANSWER_TOLD;
  ws_set_string (&answer->by, "Kai Beispiel");
  ws_set_string (&answer->remarks, MAKER_ONLY_MINE);
  ws_set_string (&answer->verbatim, "From the " MAKER_ONLY_MINE "?");
  ws_set_string (&answer->entered_by, MAKER_ONLY_MINE);
  ws_set_string (&base->view, "v_base");
  ws_set_string (&base->part, "stem_base");
  ws_set_string (&smell->character, "odour");
  ws_set_string (&smell->text, "after an hour " MAKER_SCRIPT);
  g_ptr_array_add (answer->wishes, base);
  g_ptr_array_add (answer->wishes, smell);
  g_ptr_array_add (find->answers, answer);
  add_name (find, NAME_1, "Amanita cf. phalloides", TRUE);
  add_name (find, "99999999-9999-4999-8999-999999999992", "Volvariella " MAKER_SCRIPT, FALSE);
  ws_set_string (&withdrawal->id, "99999999-9999-4999-8999-999999999993");
  withdrawal->withdraws = g_strdup (NAME_1);
  g_ptr_array_add (find->names, withdrawal);
  find->name_in_force = g_strdup ("99999999-9999-4999-8999-999999999992");
}

/* A colour that changes: the same character twice, at different minutes. */
static void
add_series (WsFind *find)
{
  for (guint i = 0; i < 2; i++)
    {
      g_autofree char *id = g_strdup_printf ("55555555-5555-4555-8555-55555555556%u", i);
      WsNote *note;

      add_note (find, id, "bruising", i == 0 ? "none" : "blue", FALSE, FALSE);
      note = g_ptr_array_index (find->notes, find->notes->len - 1);
      note->observed = WS_OBSERVED_AFTER;
      note->minutes = i == 0 ? 0 : 2.5;
      ws_set_string (&note->text, "slowly " MAKER_SCRIPT);
      g_strfreev (note->answers);
      note->answers = g_strsplit ("fresh_cut", " ", -1);
    }
}

WsFind *
maker_find (gboolean with_base)
{
  static const WsPoint corners[] = { { 0.1, 0.1 }, { 0.3, 0.12 }, { 0.25, 0.4 }, { 1.0 / 3.0, 0.5 }, { 0.1, 0.4 } };
  WsFind *find = ws_find_new ();
  WsMark *mark;
  WsExcuse *excuse = ws_excuse_new ();
  WsCover *cover = ws_cover_new ();

  ws_set_string (&find->id, "33333333-3333-4333-8333-333333333333");
  ws_set_string (&find->number, "25-101");
  ws_set_string (&find->field_name, "Grüner <b>Verdacht</b>");
  ws_set_string (&find->locality, "near the invented brook, \"left\" side");
  ws_set_string (&find->remarks, "A remark " MAKER_SCRIPT "\nsecond line\x1f\x01");
  ws_set_string (&find->only_mine, MAKER_ONLY_MINE);
  find->specimen_is = WS_SPECIMEN_KEPT;
  find->where = place ();
  ws_moment_set_local (&find->when, "2025-10-04T14:03:22.5");
  find->when.offset_source = WS_OFFSET_EXIF;
  find->when.offset_minutes = 120;
  add_photo (find, PHOTO_1, "2025-10-04T14:03:22.5");
  add_photo (find, PHOTO_2, "2025-10-04T14:05:00");
  add_mark (find, "44444444-4444-4444-8444-444444444441", PHOTO_1, "cap", "v_top", ws_shape_new_oval (&(WsRect) { 0.2, 0.1, 0.4, 0.3 }));
  mark = add_mark (find, "44444444-4444-4444-8444-444444444442", PHOTO_1, "gills", "v_under",
                   ws_shape_new_outline (corners, G_N_ELEMENTS (corners)));
  ws_set_string (&mark->remark, MAKER_SCRIPT);
  if (with_base)
    {
      mark = add_mark (find, "44444444-4444-4444-8444-444444444443", PHOTO_2, "stem_base", "v_base",
                       ws_shape_new_box (&(WsRect) { 0.4, 0.6, 0.3, 0.4 }));
      ws_set_string (&mark->base_kind, "cleaned");
    }
  mark = add_mark (find, "44444444-4444-4444-8444-444444444444", PHOTO_2, "stem", "v_stem",
                   ws_shape_new_box (&(WsRect) { 0, 0, 1, 1 }));
  mark->measure = (WsMeasure) { FALSE, 0, 0, NAN, 0, 0, NAN, 0 };
  mark->whole_photo = TRUE;
  add_note (find, "55555555-5555-4555-8555-555555555551", "growth_form", "gilled_stem", FALSE, TRUE);
  add_note (find, "55555555-5555-4555-8555-555555555552", "trees", "oak " MAKER_SCRIPT, TRUE, FALSE);
  add_note (find, "55555555-5555-4555-8555-555555555553", "ring", "hanging", TRUE, FALSE);
  ws_set_string (&excuse->view, "v_print");
  ws_set_string (&excuse->reason, "too dry " MAKER_SCRIPT);
  g_ptr_array_add (find->excuses, excuse);
  ws_set_string (&cover->id, "66666666-6666-4666-8666-666666666666");
  ws_set_string (&cover->photo_id, PHOTO_2);
  ws_shape_free (cover->shape);
  cover->shape = ws_shape_new_box (&(WsRect) { 0.6, 0.05, 0.3, 0.3 });
  g_ptr_array_add (find->covers, cover);
  return find;
}

static WsRequest *
request_of (const WsFind *find, gboolean with_base, WsTellPlace tell, const char *language)
{
  WsRequest *request = ws_request_new ();

  ws_set_string (&request->id, "77777777-7777-4777-8777-777777777777");
  request->replaces = g_strdup ("88888888-8888-4888-8888-888888888888");
  request->made_us = G_GINT64_CONSTANT (1759651200) * G_USEC_PER_SEC;
  ws_set_string (&request->language, language);
  ws_set_string (&request->from, "Eva Muster");
  ws_set_string (&request->to, "the Wednesday group");
  ws_set_string (&request->question, "What is it? " MAKER_SCRIPT);
  ws_set_string (&request->asked_elsewhere, "nobody");
  ws_set_string (&request->without_base, with_base ? "" : "It was gone when I came back " MAKER_SCRIPT);
  request->tell_place = tell;
  request->keep_time = tell == WS_TELL_EXACT;
  request->keep_camera = tell == WS_TELL_EXACT;
  request->place = ws_position_told (&find->where, tell);
  ws_find_unref (request->find);
  request->find = ws_request_dup_sendable_find (find, tell, request->keep_time, request->keep_camera);
  return request;
}

WsRequest *
maker_request (gboolean with_base, WsTellPlace tell, const char *language)
{
  g_autoptr (WsFind) find = maker_find (with_base);

  return request_of (find, with_base, tell, language);
}

WsFind *
maker_rich_find (gboolean with_base)
{
  WsFind *find = maker_find (with_base);

  add_series (find);
  add_sizes (find);
  add_answer (find);
  return find;
}

WsRequest *
maker_rich_request (gboolean with_base, WsTellPlace tell, const char *language)
{
  g_autoptr (WsFind) find = maker_rich_find (with_base);

  return request_of (find, with_base, tell, language);
}

GPtrArray *
maker_package_photos (const WsRequest *request)
{
  GPtrArray *photos = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_package_photo_free);

  for (guint i = 0; i < request->find->photos->len; i++)
    {
      WsPackagePhoto *photo = g_new0 (WsPackagePhoto, 1);

      photo->photo = ((WsFindPhoto *) g_ptr_array_index (request->find->photos, i))->photo;
      photo->name = g_strdup_printf ("data/photos/25-101-%02u.jpg", i + 1);
      photo->width = 1200;
      photo->height = 900;
      photo->page_jpeg = g_bytes_new ("as if it were", 13);
      photo->digest = ws_digest_bytes (photo->page_jpeg);
      g_ptr_array_add (photos, photo);
    }
  return photos;
}
