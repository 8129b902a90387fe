/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-request.h"

#include <locale.h>
#include <math.h>
#include <string.h>

static void
append_moment (GString *text, const WsMoment *moment)
{
  g_autofree char *local = ws_moment_local_text (moment);

  g_string_append_printf (text, "%s offset=%d by %d correction=%d\n", local != NULL ? local : "-", moment->offset_minutes, moment->offset_source,
                          moment->correction_seconds);
}

static void
append_number (GString *text, double number)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append_printf (text, "%s ", g_ascii_formatd (buffer, sizeof buffer, "%.9f", number));
}

static void
append_position (GString *text, const WsPosition *position)
{
  append_number (text, position->latitude);
  append_number (text, position->longitude);
  append_number (text, position->altitude);
  append_number (text, position->error_m);
}

static void
append_photo (GString *text, const WsFindPhoto *link)
{
  const WsPhoto *p = link->photo;

  g_string_append_printf (text, "%s %s %" G_GINT64_FORMAT " %s %s %s %s %s %s %s %s %s\n", p->id, p->path, p->file_time_us, p->digest,
                          p->companion != NULL ? p->companion : "-", p->media_type, p->make, p->model, p->warnings, link->specimen,
                          link->visit, p->copy_of != NULL ? p->copy_of : "-");
  append_moment (text, &p->taken);
  append_position (text, &p->position);
  append_number (text, p->direction);
}

static void
append_mark (GString *text, const WsMark *m)
{
  g_autofree char *views = g_strjoinv ("|", m->views), *shape = ws_shape_to_text (m->shape);

  g_string_append_printf (text, "%s %s %s %s %s %s %s %s\n", m->id, m->photo_id, m->part, views, shape, m->specimen, m->base_kind, m->remark);
}

static void
append_sizes (GString *text, const WsFind *find)
{
  for (guint i = 0; i < find->scales->len; i++)
    g_string_append_printf (text, "%s %s\n", ((WsScale *) g_ptr_array_index (find->scales, i))->id,
                            ((WsScale *) g_ptr_array_index (find->scales, i))->photo_id);
  for (guint i = 0; i < find->measurements->len; i++)
    {
      const WsMeasurement *m = g_ptr_array_index (find->measurements, i);

      g_string_append_printf (text, "%s %s %s %s\n", m->id, m->quantity, m->photo_id != NULL ? m->photo_id : "-", m->remark);
    }
  for (guint i = 0; i < find->spores->len; i++)
    g_string_append_printf (text, "%s\n", ((WsSporeList *) g_ptr_array_index (find->spores, i))->verbatim);
}

static void
append_said (GString *text, const WsFind *find)
{
  for (guint i = 0; i < find->names->len; i++)
    {
      const WsName *n = g_ptr_array_index (find->names, i);

      g_string_append_printf (text, "%s %s %s %s%s\n", n->verbatim, n->by, n->reasons, n->deadly ? "warned " : "",
                              n->withdraws != NULL ? n->withdraws : "");
    }
  for (guint i = 0; i < find->answers->len; i++)
    {
      const WsAnswer *a = g_ptr_array_index (find->answers, i);

      g_string_append_printf (text, "%s %s %s %s %s %s %s\n", a->id, a->by, a->remarks, a->verbatim, a->entered_by,
                              a->request_id, a->request_digest);
      for (guint o = 0; o < a->opinions->len; o++)
        g_string_append_printf (text, "opinion %s\n", ((WsOpinion *) g_ptr_array_index (a->opinions, o))->name);
      for (guint w = 0; w < a->wishes->len; w++)
        g_string_append_printf (text, "wish %s\n", ((WsWish *) g_ptr_array_index (a->wishes, w))->text);
    }
}

/* Everything a find holds that could be read by who gets it, as one text to search. */
static char *
dump (const WsFind *find)
{
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, "%s %s %s %s %s %s %s\n", find->id, find->number, find->foray_id != NULL ? find->foray_id : "-",
                          find->field_name, find->locality, find->remarks, find->only_mine);
  append_moment (text, &find->when);
  append_position (text, &find->where);
  for (guint i = 0; i < find->photos->len; i++)
    append_photo (text, g_ptr_array_index (find->photos, i));
  for (guint i = 0; i < find->marks->len; i++)
    append_mark (text, g_ptr_array_index (find->marks, i));
  for (guint i = 0; i < find->notes->len; i++)
    {
      const WsNote *note = g_ptr_array_index (find->notes, i);
      g_autofree char *states = g_strjoinv ("|", note->states);

      g_string_append_printf (text, "%s %s %s %s\n", note->id, note->character, states, note->observer);
    }
  for (guint i = 0; i < find->excuses->len; i++)
    g_string_append_printf (text, "%s\n", ((WsExcuse *) g_ptr_array_index (find->excuses, i))->reason);
  for (guint i = 0; i < find->covers->len; i++)
    g_string_append_printf (text, "%s %s\n", ((WsCover *) g_ptr_array_index (find->covers, i))->id,
                            ((WsCover *) g_ptr_array_index (find->covers, i))->photo_id);
  append_sizes (text, find);
  append_said (text, find);
  return g_string_free (text, FALSE);
}

static void
add_photo (WsFind *find, const char *id, gboolean aside)
{
  WsFindPhoto *link = ws_find_photo_new ();
  WsPhoto *photo = link->photo;

  ws_set_string (&photo->id, id);
  photo->path = (g_free (photo->path), g_strdup_printf ("/pictures/secret-grove/%s.jpg", id));
  photo->companion = g_strdup ("/pictures/secret-grove/raw.cr2");
  ws_set_string (&photo->warnings, "GPS 47.123456 was odd at 14:03");
  ws_set_string (&photo->make, "Obscura");
  ws_set_string (&photo->model, "Obscura 3");
  ws_set_string (&photo->digest, "d1935");
  photo->file_time_us = 1759579402123456;
  photo->position = (WsPosition) { 47.123456, 8.987654, 5, 612.75, WS_POSITION_PHOTO };
  photo->direction = 123.5;
  photo->set_aside = aside;
  g_assert_true (ws_moment_set_local (&photo->taken, "2025-10-04T13:03:22.75"));
  photo->taken.offset_minutes = 345;
  photo->taken.offset_source = WS_OFFSET_EXIF;
  photo->taken.correction_seconds = 3600;
  g_ptr_array_add (find->photos, link);
}

static void
add_mark (WsFind *find, const char *id, const char *photo_id)
{
  WsMark *mark = ws_mark_new ();
  WsCover *cover = ws_cover_new ();

  ws_set_string (&mark->id, id);
  ws_set_string (&mark->photo_id, photo_id);
  ws_set_string (&mark->remark, "look here");
  g_ptr_array_add (find->marks, mark);
  cover->id = (g_free (cover->id), g_strconcat ("cover-", id, NULL));
  ws_set_string (&cover->photo_id, photo_id);
  g_ptr_array_add (find->covers, cover);
}

static void
add_sizes (WsFind *find, const char *photo_id)
{
  WsScale *scale = ws_scale_new ();
  WsMeasurement *measurement = ws_measurement_new ();

  scale->id = (g_free (scale->id), g_strconcat ("scale-", photo_id, NULL));
  ws_set_string (&scale->photo_id, photo_id);
  g_ptr_array_add (find->scales, scale);
  measurement->id = (g_free (measurement->id), g_strconcat ("size-", photo_id, NULL));
  measurement->photo_id = g_strdup (photo_id);
  g_ptr_array_add (find->measurements, measurement);
}

/* An answer as it may be told on the telephone, and its name. */
static void
add_answer (WsFind *find, const char *id, const char *replaces, const char *wish_text)
{
  WsAnswer *answer = ws_answer_new ();
  WsOpinion *opinion = ws_opinion_new ();
  WsWish *wish = ws_wish_new ();

  ws_set_string (&answer->id, id);
  answer->replaces = g_strdup (replaces);
  ws_set_string (&answer->by, "Ute Beispiel");
  ws_set_string (&answer->remarks, "say so to nobody");
  ws_set_string (&answer->verbatim, "is that from Grandmother's place?");
  ws_set_string (&answer->entered_by, "entered-by-me");
  ws_set_string (&answer->request_digest, "digest-of-before");
  ws_set_string (&opinion->name, "said-in-answer");
  g_ptr_array_add (answer->opinions, opinion);
  ws_set_string (&wish->text, wish_text);
  g_ptr_array_add (answer->wishes, wish);
  g_ptr_array_add (find->answers, answer);
}

static void
add_names (WsFind *find)
{
  WsName *name = ws_name_new (), *withdrawal = ws_name_new ();

  ws_set_string (&name->id, "n-one");
  ws_set_string (&name->verbatim, "Amanita cf. phalloides");
  name->deadly = TRUE;
  withdrawal->withdraws = g_strdup ("n-one");
  g_ptr_array_add (find->names, name);
  g_ptr_array_add (find->names, withdrawal);
}

static WsFind *
private_find (void)
{
  WsFind *find = ws_find_new ();
  WsNote *note = ws_note_new ();
  WsExcuse *excuse = ws_excuse_new ();

  ws_set_string (&find->number, "25/101");
  ws_set_string (&find->locality, "beech wood by the old quarry");
  ws_set_string (&find->remarks, "smelled of radish");
  ws_set_string (&find->only_mine, "Grandmother's place, tell nobody");
  g_assert_true (ws_moment_set_local (&find->when, "2025-10-04T13:03:22.75"));
  find->when.offset_minutes = 345;
  find->when.offset_source = WS_OFFSET_EXIF;
  find->when.correction_seconds = 3600;
  find->where = (WsPosition) { 47.123456, 8.987654, 5, 612.75, WS_POSITION_PHOTO };
  add_photo (find, "p-one", FALSE);
  add_photo (find, "p-aside", TRUE);
  add_mark (find, "m-one", "p-one");
  add_mark (find, "m-aside", "p-aside");
  add_mark (find, "m-stray", "p-of-another-find");
  ws_set_string (&note->character, "ring");
  g_strfreev (note->states);
  note->states = g_strsplit ("hanging", "|", -1);
  note->mark_id = g_strdup ("m-aside");
  g_ptr_array_add (find->notes, note);
  ws_set_string (&excuse->reason, "eaten by slugs");
  g_ptr_array_add (find->excuses, excuse);
  add_sizes (find, "p-one");
  add_sizes (find, "p-aside");
  add_sizes (find, "p-of-another-find");
  add_names (find);
  add_answer (find, "a-one", NULL, "wish-taken-back");
  add_answer (find, "a-two", "a-one", "show the base");
  return find;
}

static void
assert_lacks (const char *text, const char *words)
{
  g_auto (GStrv) list = g_strsplit (words, "|", -1);

  for (guint i = 0; list[i] != NULL; i++)
    {
      g_test_message ("no “%s”", list[i]);
      g_assert_null (strstr (text, list[i]));
    }
}

static void
assert_has (const char *text, const char *words)
{
  g_auto (GStrv) list = g_strsplit (words, "|", -1);

  for (guint i = 0; list[i] != NULL; i++)
    {
      g_test_message ("“%s”", list[i]);
      g_assert_nonnull (strstr (text, list[i]));
    }
}

#define NEVER "Grandmother|nobody|secret-grove|raw.cr2|was odd|1759579402|p-aside|m-aside|m-stray|cover-m-aside|cover-m-stray|" \
  "entered-by-me|digest-of-before|said-in-answer|wish-taken-back|a-one|size-p-of-another|size-p-aside"
#define PLACE "47.123|8.987|612.75|123.5"
#define CLOCK "14:03|13:03|22.75|offset=345|correction=3600"
#define CAMERA "Obscura"

static void
test_sendable (void)
{
  static const struct { WsTellPlace tell; gboolean time, camera; const char *lacks, *has; } cases[] = {
    { WS_TELL_HUNDREDTH, FALSE, FALSE, NEVER "|" PLACE "|" CLOCK "|" CAMERA, "2025-10-04|47.12|8.99|old quarry" },
    { WS_TELL_WITHHELD, FALSE, FALSE, NEVER "|" PLACE "|" CLOCK "|" CAMERA "|47.12|8.99|old quarry", "2025-10-04" },
    { WS_TELL_EXACT, FALSE, FALSE, NEVER "|" CLOCK "|" CAMERA, "2025-10-04|" PLACE "|old quarry" },
    { WS_TELL_HUNDREDTH, TRUE, FALSE, NEVER "|" PLACE "|" CAMERA, "13:03:22.75|offset=345|correction=3600" },
    { WS_TELL_WITHHELD, TRUE, TRUE, NEVER "|" PLACE "|47.12|old quarry", "13:03:22.75|Obscura 3" },
    { WS_TELL_EXACT, TRUE, TRUE, NEVER, PLACE "|13:03:22.75|Obscura 3" },
    { WS_TELL_HUNDREDTH, FALSE, TRUE, NEVER "|" PLACE "|" CLOCK, "Obscura 3" },
    { WS_TELL_THOUSANDTH, FALSE, FALSE, NEVER "|47.1234|8.987|612.75|123.5|" CLOCK "|" CAMERA, "2025-10-04|47.123|8.988|old quarry" },
    { WS_TELL_TENTH, FALSE, FALSE, NEVER "|" PLACE "|" CLOCK "|" CAMERA "|47.12|8.99|old quarry", "2025-10-04|47.1" },
    { WS_TELL_REGION, FALSE, FALSE, NEVER "|" PLACE "|" CLOCK "|" CAMERA "|47.1|8.9|old quarry", "2025-10-04" },
  };

  g_test_summary ("what is private is in no field of the find that is sent, and what is for the identifier is");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsFind) find = private_find (), sent = NULL;
      g_autofree char *text = NULL;

      g_test_message ("place %s, %s, %s", ws_tell_place_id (cases[i].tell), cases[i].time ? "time" : "no time",
                      cases[i].camera ? "camera" : "no camera");
      sent = ws_request_dup_sendable_find (find, cases[i].tell, cases[i].time, cases[i].camera);
      text = dump (sent);
      assert_lacks (text, cases[i].lacks);
      assert_has (text, cases[i].has);
      assert_has (text, "p-one|m-one|cover-m-one|look here|smelled of radish|hanging|eaten by slugs|25/101|d1935|"
                  "scale-p-one|size-p-one|Amanita cf. phalloides|warned|n-one|Ute Beispiel|wish show the base|a-two");
    }
}

static void
test_original_untouched (void)
{
  g_autoptr (WsFind) find = private_find (), sent = NULL;
  g_autofree char *before = dump (find), *after = NULL;

  g_test_summary ("the find of the library is not changed by being sent");
  sent = ws_request_dup_sendable_find (find, WS_TELL_WITHHELD, FALSE, FALSE);
  after = dump (find);
  g_assert_cmpstr (before, ==, after);
}

static void
test_no_dangling (void)
{
  g_autoptr (WsFind) find = private_find (), sent = NULL;
  const WsNote *note;

  g_test_summary ("a note read off a mark that does not go out no longer names that mark");
  sent = ws_request_dup_sendable_find (find, WS_TELL_HUNDREDTH, FALSE, FALSE);
  g_assert_cmpuint (sent->notes->len, ==, 1);
  note = g_ptr_array_index (sent->notes, 0);
  g_assert_true (note->mark_id == NULL || ws_find_get_mark (sent, note->mark_id) != NULL);
  g_assert_cmpstr (((WsNote *) g_ptr_array_index (find->notes, 0))->mark_id, ==, "m-aside");
}

static void
test_date_only (void)
{
  g_autoptr (WsFind) find = ws_find_new (), sent = NULL;
  g_autofree char *date = NULL;

  g_test_summary ("the date that stays is that of the corrected clock, at noon without an offset; no time stays no time");
  g_assert_true (ws_moment_set_local (&find->when, "2025-10-04T23:59:59"));
  find->when.correction_seconds = 2;
  sent = ws_request_dup_sendable_find (find, WS_TELL_HUNDREDTH, FALSE, FALSE);
  date = ws_moment_local_text (&sent->when);
  g_assert_cmpstr (date, ==, "2025-10-05T12:00:00");
  g_assert_cmpint (sent->when.offset_source, ==, WS_OFFSET_UNKNOWN);
  g_assert_cmpint (sent->when.correction_seconds, ==, 0);
  ws_find_unref (g_steal_pointer (&sent));
  find->when = (WsMoment) WS_MOMENT_INIT;
  sent = ws_request_dup_sendable_find (find, WS_TELL_HUNDREDTH, FALSE, FALSE);
  g_assert_false (ws_moment_is_known (&sent->when));
  g_assert_false (ws_position_is_known (&sent->where));
}

static void
test_same_place_twice (void)
{
  g_autoptr (WsFind) find = private_find ();

  g_test_summary ("asked many times, the same place is told: repeated requests cannot be averaged");
  for (int i = 0; i < 50; i++)
    {
      g_autoptr (WsFind) sent = ws_request_dup_sendable_find (find, WS_TELL_HUNDREDTH, FALSE, FALSE);

      g_assert_cmpfloat (sent->where.latitude, ==, 47.12);
      g_assert_cmpfloat (sent->where.longitude, ==, 8.99);
      /* 5 m and the precision of 0.01 degree at 47 degrees (Wieczorek 2004), summed. */
      g_assert_cmpfloat (sent->where.error_m, ==, ceil (5 + ws_position_precision_m (47.12, 0.01)));
    }
}

static void
test_file_stem (void)
{
  static const struct { const char *number, *when, *stem; } cases[] = {
    { "25-101", "2025-10-04T14:03:22", "25-101 2025-10-04" }, { "25/101", "2025-10-04T14:03:22", "25-101 2025-10-04" },
    { "", "2025-10-04T14:03:22", "find 2025-10-04" },         { "25-101", NULL, "25-101" },
    { "../../x", NULL, "x" },                                 { "a b\nc", "2025-01-01T00:00:00", "a-b-c 2025-01-01" },
  };

  g_test_summary ("files are named after number and date, with no place and no path in it");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsRequest) request = ws_request_new ();
      g_autofree char *stem = NULL;

      ws_set_string (&request->find->number, cases[i].number);
      ws_set_string (&request->find->locality, "quarry");
      request->find->where = (WsPosition) { 47, 8, 5, NAN, WS_POSITION_TYPED };
      if (cases[i].when != NULL)
        g_assert_true (ws_moment_set_local (&request->find->when, cases[i].when));
      stem = ws_request_dup_file_stem (request);
      g_assert_cmpstr (stem, ==, cases[i].stem);
    }
}

static void
test_copy (void)
{
  WsRequest *request = ws_request_new (), *copy;

  g_test_summary ("a copied request shares the find and nothing else");
  request->replaces = g_strdup ("older");
  ws_set_string (&request->question, "which?");
  copy = ws_request_copy (request);
  g_assert_true (copy->find == request->find);
  ws_request_unref (request);
  g_assert_cmpstr (copy->replaces, ==, "older");
  g_assert_cmpstr (copy->question, ==, "which?");
  g_assert_cmpstr (copy->find->number, ==, "");
  ws_request_unref (copy);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/request/sendable", test_sendable);
  g_test_add_func ("/find/request/original-untouched", test_original_untouched);
  g_test_add_func ("/find/request/no-dangling", test_no_dangling);
  g_test_add_func ("/find/request/date-only", test_date_only);
  g_test_add_func ("/find/request/same-place-twice", test_same_place_twice);
  g_test_add_func ("/find/request/file-stem", test_file_stem);
  g_test_add_func ("/find/request/copy", test_copy);
  return g_test_run ();
}
