/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bag-maker.h"
#include "request-maker.h"

#include "ws-error.h"
#include "ws-file.h"

#include <locale.h>
#include <math.h>
#include <string.h>

static WsKnowledge *knowledge;

/* The request as JSON text. */
static char *
write_text (const WsRequest *request)
{
  g_autoptr (GPtrArray) photos = maker_package_photos (request);
  g_autoptr (GBytes) bytes = ws_request_to_json (request, photos, knowledge);

  return g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
}

static WsRequest *
read_text (const char *text, GPtrArray *faults, GError **error)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));

  return ws_request_from_json (bytes, faults, error);
}

static void
test_schema (void)
{
  static const char script[] =
    "import json, sys, jsonschema\n"
    "schema = json.load(open(sys.argv[1]))\n"
    "jsonschema.Draft202012Validator.check_schema(schema)\n"
    "v = jsonschema.Draft202012Validator(schema, format_checker=jsonschema.FormatChecker())\n"
    "for name in sys.argv[2:]:\n"
    "    errors = list(v.iter_errors(json.load(open(name))))\n"
    "    bad = 'bad' in name.rsplit('/', 1)[-1]\n"
    "    if bool(errors) != bad: sys.exit(name + ': ' + str(errors[:3]))\n";
  static const struct { WsTellPlace tell; gboolean base; const char *language; } cases[] = {
    { WS_TELL_EXACT, TRUE, "en" }, { WS_TELL_HUNDREDTH, FALSE, "de" }, { WS_TELL_WITHHELD, TRUE, "de" } };
  g_autofree char *folder = maker_folder (), *root = g_strdup (g_getenv ("WS_SOURCE_ROOT"));
  g_autofree char *schema = g_build_filename (root, "data", "schema", "request-0.2.schema.json", NULL);
  char *names[4] = { NULL };
  g_autofree char *python = g_find_program_in_path ("python3"), *err = NULL;
  const char *probe[] = { "python3", "-c", "import jsonschema; jsonschema.Draft202012Validator", NULL };
  const char *argv[] = { "python3", "-W", "ignore", "-c", script, schema, NULL, NULL, NULL, NULL, NULL };
  int status;

  g_test_summary ("Python's jsonschema (draft 2020-12) finds our requests valid, and one without id not");
  if (python == NULL || !g_spawn_sync (NULL, (char **) probe, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, NULL, NULL, &status, NULL) || status != 0)
    {
      g_test_skip ("python3-jsonschema is not installed");
      ws_file_remove_tree (folder, NULL);
      return;
    }
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsRequest) request = maker_rich_request (cases[i].base, cases[i].tell, cases[i].language);
      g_autofree char *text = write_text (request), *name = g_strdup_printf ("good-%u.json", i);

      maker_put (folder, name, text, -1);
      argv[6 + i] = names[i] = g_build_filename (folder, name, NULL);
    }
  {
    g_autoptr (WsRequest) request = maker_rich_request (TRUE, WS_TELL_EXACT, "en");
    g_autofree char *text = NULL;

    ws_set_string (&request->id, "not-an-id");
    text = write_text (request);
    maker_put (folder, "bad.json", text, -1);
    argv[9] = names[3] = g_build_filename (folder, "bad.json", NULL);
  }
  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, &err, &status, NULL));
  g_assert_cmpstr (err, ==, "");
  g_assert_cmpint (status, ==, 0);
  for (guint i = 0; i < 4; i++)
    g_free (names[i]);
  ws_file_remove_tree (folder, NULL);
}

static void
assert_same_sizes (const WsFind *a, const WsFind *b)
{
  const WsScale *scale = g_ptr_array_index (a->scales, 0), *other_scale = g_ptr_array_index (b->scales, 0);
  const WsSporeList *list = g_ptr_array_index (a->spores, 0), *other_list = g_ptr_array_index (b->spores, 0);

  g_assert_cmpstr (scale->id, ==, other_scale->id);
  g_assert_cmpstr (scale->photo_id, ==, other_scale->photo_id);
  g_assert_cmpmem (&scale->a, 2 * sizeof (WsPoint), &other_scale->a, 2 * sizeof (WsPoint));
  g_assert_cmpfloat (scale->mm, ==, other_scale->mm);
  g_assert_cmpfloat (scale->tilt, ==, other_scale->tilt);
  g_assert_true (isnan (other_scale->mm_error) && isnan (other_scale->point_error));
  g_assert_cmpuint (a->measurements->len, ==, b->measurements->len);
  for (guint i = 0; i < a->measurements->len; i++)
    {
      const WsMeasurement *one = g_ptr_array_index (a->measurements, i), *two = g_ptr_array_index (b->measurements, i);

      g_assert_cmpstr (one->quantity, ==, two->quantity);
      g_assert_cmpstr (one->specimen, ==, two->specimen);
      g_assert_cmpfloat (one->value, ==, two->value);
      g_assert_cmpstr (one->photo_id, ==, two->photo_id);
      g_assert_cmpmem (&one->a, 2 * sizeof (WsPoint), &two->a, 2 * sizeof (WsPoint));
      g_assert_cmpstr (one->remark, ==, two->remark);
    }
  g_assert_cmpmem (list->spores, list->n_spores * sizeof (WsSpore), other_list->spores,
                   other_list->n_spores * sizeof (WsSpore));
  g_assert_cmpint (list->from, ==, other_list->from);
  g_assert_cmpint (list->rule, ==, other_list->rule);
  g_assert_cmpuint (list->n_specimens, ==, other_list->n_specimens);
  g_assert_cmpstr (list->mount, ==, other_list->mount);
  g_assert_cmpstr (list->verbatim, ==, other_list->verbatim);
}

static void
assert_same_names (const WsFind *a, const WsFind *b)
{
  const WsAnswer *answer = NULL;

  g_assert_cmpuint (a->names->len, ==, b->names->len);
  for (guint i = 0; i < a->names->len; i++)
    {
      const WsName *one = g_ptr_array_index (a->names, i), *two = g_ptr_array_index (b->names, i);

      g_assert_cmpstr (one->id, ==, two->id);
      g_assert_cmpstr (one->verbatim, ==, two->verbatim);
      g_assert_cmpint (one->certainty, ==, two->certainty);
      g_assert_cmpstr (one->by, ==, two->by);
      g_assert_cmpstr (one->date, ==, two->date);
      g_assert_cmpint (one->on, ==, two->on);
      g_assert_cmpint (one->base_shown, ==, two->base_shown);
      g_assert_cmpstr (one->reasons, ==, two->reasons);
      g_assert_cmpint (one->source, ==, two->source);
      g_assert_cmpstr (one->answer_id, ==, two->answer_id);
      g_assert_cmpint (one->deadly, ==, two->deadly);
      g_assert_cmpstr (one->withdraws, ==, two->withdraws);
      g_assert_cmpstr (two->entered_by, ==, "");
    }
  g_assert_cmpstr (a->name_in_force, ==, b->name_in_force);
  g_assert_nonnull (ws_find_get_warning (b));
  g_assert_nonnull (ws_find_get_wish (b, "v_base", NULL, &answer));
  g_assert_cmpstr (answer->by, ==, "Kai Beispiel");
  g_assert_cmpstr (ws_find_get_wish (b, NULL, "odour", NULL)->text, ==, "after an hour " MAKER_SCRIPT);
}

static void
assert_same_find (const WsFind *a, const WsFind *b)
{
  g_assert_cmpstr (a->id, ==, b->id);
  g_assert_cmpstr (a->number, ==, b->number);
  g_assert_cmpstr (a->field_name, ==, b->field_name);
  g_assert_cmpstr (a->locality, ==, b->locality);
  g_assert_cmpint (a->specimen_is, ==, b->specimen_is);
  g_assert_cmpmem (&a->when.local_us, sizeof a->when.local_us, &b->when.local_us, sizeof b->when.local_us);
  g_assert_cmpuint (a->photos->len, ==, b->photos->len);
  g_assert_cmpuint (a->marks->len, ==, b->marks->len);
  g_assert_cmpuint (a->notes->len, ==, b->notes->len);
  g_assert_cmpuint (a->excuses->len, ==, b->excuses->len);
  for (guint i = 0; i < a->marks->len; i++)
    {
      const WsMark *one = g_ptr_array_index (a->marks, i), *two = g_ptr_array_index (b->marks, i);

      g_assert_cmpstr (one->id, ==, two->id);
      g_assert_cmpstr (one->photo_id, ==, two->photo_id);
      g_assert_cmpstr (one->part, ==, two->part);
      g_assert_cmpstrv (one->views, two->views);
      g_assert_true (ws_shape_equal (one->shape, two->shape));
      g_assert_cmpstr (one->base_kind, ==, two->base_kind);
      g_assert_cmpstr (one->remark, ==, two->remark);
      g_assert_cmpint (one->whole_photo, ==, two->whole_photo);
      g_assert_cmpint (one->measure.measured, ==, two->measure.measured);
      g_assert_cmpfloat (one->measure.burnt_out, ==, two->measure.burnt_out);
    }
  for (guint i = 0; i < a->notes->len; i++)
    {
      const WsNote *one = g_ptr_array_index (a->notes, i), *two = g_ptr_array_index (b->notes, i);

      g_assert_cmpstr (one->id, ==, two->id);
      g_assert_cmpstr (one->character, ==, two->character);
      g_assert_cmpstrv (one->states, two->states);
      g_assert_cmpint (one->sure, ==, two->sure);
      g_assert_cmpint (one->off_photo, ==, two->off_photo);
      g_assert_cmpstr (one->observer, ==, two->observer);
      g_assert_cmpint (one->observed, ==, two->observed);
      g_assert_true (one->minutes == two->minutes || (isnan (one->minutes) && isnan (two->minutes)));
      g_assert_cmpstr (one->text, ==, two->text);
      g_assert_cmpstrv (one->answers, two->answers);
    }
  assert_same_sizes (a, b);
  assert_same_names (a, b);
}

static void
test_round (void)
{
  g_autoptr (WsRequest) request = maker_rich_request (TRUE, WS_TELL_EXACT, "en"), back = NULL;
  g_autofree char *text = write_text (request);
  g_autoptr (GError) error = NULL;
  g_autoptr (WsEvidence) before = ws_evidence_judge (request->find, knowledge, "en"), after = NULL;

  g_test_summary ("What is written is read back the same, numbers to the last bit");
  back = read_text (text, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (back->id, ==, request->id);
  g_assert_cmpstr (back->replaces, ==, request->replaces);
  g_assert_cmpint (back->made_us, ==, request->made_us);
  g_assert_cmpstr (back->question, ==, request->question);
  g_assert_cmpstr (back->from, ==, request->from);
  g_assert_cmpstr (back->to, ==, request->to);
  g_assert_cmpfloat (back->place.latitude, ==, MAKER_LATITUDE);
  g_assert_cmpfloat (back->place.longitude, ==, MAKER_LONGITUDE);
  g_assert_cmpfloat (back->place.altitude, ==, 234.5);
  g_assert_cmpint (back->place.source, ==, WS_POSITION_PHOTO);
  g_assert_cmpint (back->tell_place, ==, WS_TELL_EXACT);
  g_assert_true (back->keep_time && back->keep_camera && !back->emergency);
  assert_same_find (request->find, back->find);
  g_assert_cmpstr (back->find->remarks, ==, "A remark " MAKER_SCRIPT "\nsecond line  ");
  g_assert_cmpstr (back->find->only_mine, ==, "");
  after = ws_evidence_judge (back->find, knowledge, "en");
  g_assert_cmpint (before->base_shown, ==, 1);
  g_assert_cmpint (after->base_shown, ==, 1);
  g_assert_cmpuint (after->n_required_lacking, ==, before->n_required_lacking);
}

static void
test_locale (void)
{
  g_autoptr (WsRequest) request = maker_rich_request (TRUE, WS_TELL_EXACT, "en");
  g_autofree char *plain = write_text (request), *german = NULL;

  g_test_summary ("Numbers have points under a locale that writes commas");
  if (setlocale (LC_ALL, "de_DE.UTF-8") == NULL)
    {
      g_test_skip ("the locale de_DE.UTF-8 is not installed");
      return;
    }
  german = write_text (request);
  {
    g_autoptr (GError) error = NULL;
    g_autoptr (WsRequest) back = read_text (german, NULL, &error);

    g_assert_no_error (error);
    g_assert_cmpfloat (back->place.latitude, ==, MAKER_LATITUDE);
  }
  setlocale (LC_ALL, "C");
  g_assert_cmpstr (plain, ==, german);
}

static void
test_private (void)
{
  static const WsTellPlace tells[] = { WS_TELL_HUNDREDTH, WS_TELL_WITHHELD };
  static const char *const never[] = { "Heidelbeerwinkel", "Hochsitz", "IMG_4711", "Knipsomat", "14:03", "51.987", "9.1234", "234.5", "51.98" };

  g_test_summary ("Only-mine text, paths, camera, time of day and the exact place are not in it");
  for (guint i = 0; i < G_N_ELEMENTS (tells); i++)
    {
      g_autoptr (WsRequest) request = maker_rich_request (TRUE, tells[i], "en");
      g_autofree char *text = write_text (request);

      g_assert_nonnull (strstr (text, "2025-10-04"));
      for (guint j = 0; j < G_N_ELEMENTS (never); j++)
        if (strstr (text, never[j]) != NULL)
          g_error ("“%s” is in %s", never[j], strstr (text, never[j]));
      g_assert_true ((strstr (text, "51.99") != NULL) == (tells[i] == WS_TELL_HUNDREDTH));
      g_assert_true ((strstr (text, "invented brook") != NULL) == (tells[i] == WS_TELL_HUNDREDTH));
    }
}

/* The writer is the last door: even a request that was put together wrongly tells no more than it says. */
static void
test_last_door (void)
{
  g_autoptr (WsRequest) request = maker_rich_request (TRUE, WS_TELL_HUNDREDTH, "en");
  g_autofree char *text = NULL;
  g_autoptr (WsRequest) back = NULL;
  g_autoptr (GError) error = NULL;
  WsNote *note;

  g_test_summary ("A find handed over with its secrets is still written without them, and what is read off a photo never as sure");
  ws_find_unref (request->find);
  request->find = maker_rich_find (TRUE);
  request->place = request->find->where;
  note = g_ptr_array_index (request->find->notes, 2);
  note->sure = note->off_photo = TRUE;
  text = write_text (request);
  back = read_text (text, NULL, &error);
  g_assert_no_error (error);
  g_assert_false (((WsNote *) g_ptr_array_index (back->find->notes, 2))->sure);
  g_assert_null (strstr (text, "Heidelbeerwinkel"));
  g_assert_null (strstr (text, "51.987"));
  g_assert_null (strstr (text, "14:03"));
  g_assert_null (strstr (text, "Knipsomat"));
}

static void
test_texts (void)
{
  g_autoptr (WsRequest) english = maker_rich_request (FALSE, WS_TELL_HUNDREDTH, "en"), german = maker_rich_request (FALSE, WS_TELL_HUNDREDTH, "de");
  g_autofree char *one = write_text (english), *two = write_text (german);

  g_test_summary ("Ids are the same in every language, texts are in the one asked for");
  g_assert_nonnull (strstr (one, "\"Stem base\""));
  g_assert_nonnull (strstr (two, "\"Stielbasis\""));
  g_assert_null (strstr (two, "\"Stem base\""));
  g_assert_nonnull (strstr (one, "\"v_base\""));
  g_assert_nonnull (strstr (two, "\"v_base\""));
  g_assert_nonnull (strstr (one, "\"baseShown\" : false"));
}

/* Replaces the first @from, which must be there. */
static char *
changed (const char *text, const char *from, const char *to)
{
  const char *at = strstr (text, from);
  g_autofree char *head = NULL;

  if (at == NULL)
    g_error ("“%s” is not in the text", from);
  head = g_strndup (text, (gsize) (at - text));
  return g_strconcat (head, to, at + strlen (from), NULL);
}

static void
test_faults (void)
{
  static const struct { const char *from, *to, *fault; } cases[] = {
    { "\"77777777-7777-4777-8777-777777777777\"", "\"x\"", "id: " },
    { "\"77777777-7777-4777-8777-777777777777\"", "7", "id: " },
    { "\"88888888-8888-4888-8888-888888888888\"", "\"8\"", "replaces: " },
    { "\"2025-10-05T08:00:00Z\"", "\"yesterday\"", "made: " },
    { "\"en\"", "\"../en\"", "language: " },
    { "\"tellPlace\" : \"exact\"", "\"tellPlace\" : \"about\"", "tellPlace: " },
    { "\"emergency\" : false", "\"emergency\" : \"no\"", "emergency: " },
    { "\"latitude\" : 51.", "\"latitude\" : 151.", "find.place.latitude: " },
    { "\"kind\" : \"oval\"", "\"kind\" : \"star\"", "find.marks[0].shape.kind: " },
    { "\"width\" : 0.4", "\"width\" : 0.9", "find.marks[0].shape: " },
    { "\"width\" : 0.4", "\"width\" : 1e400", "find.marks[0].shape.width: " },
    { "\"width\" : 0.40000000000000002", "\"width\" : \"0.4\"", "find.marks[0].shape.width: " },
    { "\"points\" : [", "\"points\" : [[0.1, 7],", "find.marks[1].shape: " },
    { "\"photo\" : \"11111111-", "\"photo\" : \"91111111-", "find.marks[0].photo: " },
    { "\"44444444-4444-4444-8444-444444444442\",\n    \"letter\"", "\"44444444-4444-4444-8444-444444444441\",\n    \"letter\"", "find.marks[1].id: " },
    { "data/photos/25-101-01.jpg", "data/../../x.jpg", "find.photos[0].name: " },
    { "data/photos/25-101-01.jpg", "data/photos/a/b.jpg", "find.photos[0].name: " },
    { "data/photos/25-101-01.jpg", "data/photos/.jpg", "find.photos[0].name: " },
    { "data/photos/25-101-02.jpg", "data/photos/25-101-01.jpg", "find.photos[1]: " },
    { "\"width\" : 1200", "\"width\" : 0", "find.photos[0].width: " },
    { "\"width\" : 1200", "\"width\" : 1.5", "find.photos[0].width: " },
    { "\"sha512\" : \"", "\"sha512\" : \"z", "find.photos[0].sha512: " },
    { "\"sure\" : false,\n    \"offPhoto\" : true", "\"sure\" : true,\n    \"offPhoto\" : true", "find.notes[0].sure: " },
    { "\"id\" : \"gilled_stem\"", "\"id\" : \"<b>\"", "find.growthForm: " },
    { "\"notes\" : [", "\"notes\" : 3, \"x\" : [", "find.notes: " },
    { "\"find\" : {", "\"found\" : {", "find: " },
    { "\"2025-10-04\"", "\"2025-13-04\"", "" },
    { "\"id\" : \"kept\"", "\"id\" : \"eaten\"", "find.specimen: " },
    { "\"format\" : \"0.2\"", "\"format\" : \"one\"", "format: " },
    { "\"minutes\" : 2.5", "\"minutes\" : -1", "find.notes[4].minutes: " },
    { "\"minutes\" : 2.5", "\"minutes\" : null", "find.notes[4].minutes: " },
    { "\"id\" : \"after\"", "\"id\" : \"later\"", "find.notes[3].observed: " },
    { "\"id\" : \"fresh_cut\"", "\"id\" : \"<i>\"", "find.notes[3].answers: " },
    { "\"mm\" : 50", "\"mm\" : -50", "find.scales[0].mm: " },
    { "\"tiltDegrees\" : 10.0", "\"tiltDegrees\" : \"x\"", "find.scales[0].tiltDegrees: " },
    { "\"id\" : \"cap_width\"", "\"id\" : \"Cap\"", "find.measurements[0].quantity: " },
    { "\"value\" : 33", "\"value\" : 1e300, \"v\" : 33", "find.measurements[0].value: " },
    { "\"percentiles\" : \"linear\"", "\"percentiles\" : \"7\"", "find.spores[0].percentiles: " },
    { "\"micrometres\" : [", "\"micrometres\" : [ [1], ", "find.spores[0].micrometres: " },
    { "\"micrometres\" : [", "\"micrometres\" : [ [0, 1], ", "find.spores[0].micrometres: " },
    { "\"certainty\" : {\n     \"id\" : \"probable\"", "\"certainty\" : {\n     \"id\" : \"certain\"", "find.names[0].certainty: " },
    { "\"date\" : \"2025-10-04\",\n    \"on\"", "\"date\" : \"4 Oct\",\n    \"on\"", "find.names[0].date: " },
    { "\"deadly\" : true", "\"deadly\" : 1", "find.names[0].deadly: " },
    { "\"source\" : \"answer\"", "\"source\" : \"oracle\"", "find.names[0].source: " },
    { "\"nameInForce\" : \"9", "\"nameInForce\" : \"8", "find.nameInForce: " },
    { "\"answer\" : \"aaaaaaaa-aaaa-4aaa-8aaa-aaaaaaaaaaaa\",\n    \"by\"", "\"answer\" : null,\n    \"by\"", "find.wishes[0].answer: " },
  };
  g_autoptr (WsRequest) request = maker_rich_request (TRUE, WS_TELL_EXACT, "en");
  g_autofree char *text = write_text (request);

  g_test_summary ("Each wrong member is named with its place, and nothing is taken over");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *wrong = changed (text, cases[i].from, cases[i].to);
      g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func (g_free);
      g_autoptr (GError) error = NULL;
      g_autoptr (WsRequest) back = read_text (wrong, faults, &error);
      gboolean named = FALSE;

      if (back != NULL)
        g_error ("%s → %s is taken", cases[i].from, cases[i].to);
      g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
      for (guint j = 0; j < faults->len; j++)
        named = named || g_str_has_prefix (g_ptr_array_index (faults, j), cases[i].fault);
      if (!named)
        g_error ("%s → %s: %s", cases[i].from, cases[i].to, error->message);
    }
}

static void
test_versions (void)
{
  g_autoptr (WsRequest) request = maker_rich_request (TRUE, WS_TELL_EXACT, "en"), later = NULL, newer = NULL, more = NULL;
  g_autofree char *text = write_text (request);
  g_autofree char *minor = changed (text, "\"format\" : \"0.2\"", "\"format\" : \"0.7\", \"novelty\" : [[{}]]");
  g_autofree char *major = changed (text, "\"format\" : \"0.2\"", "\"format\" : \"1.0\"");
  g_autoptr (GError) error = NULL;

  g_test_summary ("A newer minor number with unknown members is read, a newer major number refused");
  later = read_text (minor, NULL, &error);
  g_assert_no_error (error);
  g_assert_nonnull (later);
  g_assert_null (newer = read_text (major, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_NEWER_FORMAT);
}

/* Without the members that format 0.1 does not have. */
static char *
as_format_0_1 (const char *text)
{
  static const char *const newer[] = { "scales", "measurements", "spores", "names", "nameInForce", "wishes", "observed",
                                       "minutes", "text\" : \"slowly", "answers" };
  g_autoptr (GString) old = g_string_new (text);

  g_string_replace (old, "\"format\" : \"0.2\"", "\"format\" : \"0.1\"", 1);
  for (gsize i = 0; i < G_N_ELEMENTS (newer); i++)
    {
      g_autofree char *from = g_strconcat ("\"", newer[i], NULL), *to = g_strconcat ("\"not-", newer[i], NULL);

      g_string_replace (old, from, to, 0);
    }
  return g_strdup (old->str);
}

static void
test_older (void)
{
  g_autoptr (WsRequest) request = maker_rich_request (TRUE, WS_TELL_EXACT, "en"), back = NULL;
  g_autofree char *text = write_text (request), *old = as_format_0_1 (text);
  g_autoptr (GError) error = NULL;

  g_test_summary ("A request of format 0.1 is read; what it does not have is unknown or empty");
  back = read_text (old, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (back->find->notes->len, ==, 5);
  g_assert_cmpint (((WsNote *) g_ptr_array_index (back->find->notes, 4))->observed, ==, WS_OBSERVED_UNKNOWN);
  g_assert_true (isnan (((WsNote *) g_ptr_array_index (back->find->notes, 4))->minutes));
  g_assert_cmpuint (back->find->scales->len + back->find->measurements->len + back->find->spores->len +
                      back->find->names->len + back->find->answers->len, ==, 0);
  g_assert_null (back->find->name_in_force);
}

static void
test_hostile (void)
{
  g_autofree char *deep = g_strnfill (1000000, '['), *big = g_strnfill (WS_REQUEST_MAX_BYTES + 1, ' ');
  const char *texts[] = { "", "null", "[]", "3", "{", "{\"format\": \"0.1\"", "\xff\xfe", "{\"a\": \"\x01\"}", "{/* \" */ [ }", "{'a': 1}",
                          "var x = {}", deep, big, "{\"format\":\"0.1\",\"find\":{\"photos\":[1,[],null]}}" };
  g_autoptr (GString) many = g_string_new ("{\"format\": \"0.1\", \"find\": {\"photos\": [");

  g_test_summary ("What is no JSON, too deep, too long or of the wrong shape is an error, quickly");
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (WsRequest) back = read_text (texts[i], NULL, &error);

      g_assert_null (back);
      g_assert_nonnull (error);
    }
  for (int i = 0; i < 200000; i++)
    g_string_append (many, "{},");
  g_string_append (many, "{}]}}");
  {
    g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func (g_free);
    g_autoptr (WsRequest) back = read_text (many->str, faults, NULL);

    g_assert_null (back);
    g_assert_cmpuint (faults->len, <=, 100);
  }
}

/* Many cuts, and a change of every 31st byte: never a crash, and what is read is within bounds. */
static void
test_damage (void)
{
  g_autoptr (WsRequest) request = maker_rich_request (TRUE, WS_TELL_EXACT, "en");
  g_autofree char *text = write_text (request);
  gsize size = strlen (text);

  g_test_summary ("No cut and no changed byte does harm");
  for (gsize i = 0; i < size; i += 97)
    {
      g_autofree char *cut = g_strndup (text, i);
      g_autoptr (WsRequest) back = read_text (cut, NULL, NULL);

      g_assert_null (back);
    }
  for (gsize i = 0; i < size; i += 31)
    {
      g_autofree char *wrong = g_strdup (text);
      g_autoptr (WsRequest) back = NULL;

      wrong[i] = "\"{}[],:0-9a\\"[i % 12];
      back = read_text (wrong, NULL, NULL);
      for (guint m = 0; back != NULL && m < back->find->marks->len; m++)
        g_assert_true (ws_rect_is_valid (&((WsMark *) g_ptr_array_index (back->find->marks, m))->shape->bounds));
    }
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  knowledge = maker_knowledge ();
  g_test_add_func ("/request/json/schema", test_schema);
  g_test_add_func ("/request/json/round", test_round);
  g_test_add_func ("/request/json/locale", test_locale);
  g_test_add_func ("/request/json/private", test_private);
  g_test_add_func ("/request/json/last-door", test_last_door);
  g_test_add_func ("/request/json/texts", test_texts);
  g_test_add_func ("/request/json/faults", test_faults);
  g_test_add_func ("/request/json/versions", test_versions);
  g_test_add_func ("/request/json/older", test_older);
  g_test_add_func ("/request/json/hostile", test_hostile);
  g_test_add_func ("/request/json/damage", test_damage);
  status = g_test_run ();
  ws_knowledge_unref (knowledge);
  return status;
}
