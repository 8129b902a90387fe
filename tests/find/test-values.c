/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Run under AddressSanitizer these tests also say that nothing is freed twice or never. */
#include "ws-request.h"
#include "ws-values.h"

#include <locale.h>
#include <math.h>
#include <string.h>

/* A string field of a value that must be there, be a copy of its own, and survive the original. */
typedef struct { gsize offset; const char *name; } Field;

typedef struct
{
  const char *name;
  gpointer (*make) (void);
  gpointer (*copy) (gconstpointer value);
  gpointer (*ref) (gconstpointer value);
  void (*unref) (gpointer value);
  GType (*type) (void);
  Field strings[12];
} Kind;

#define KIND(Type, prefix) #Type, (gpointer (*) (void)) prefix##_new, (gpointer (*) (gconstpointer)) prefix##_copy, \
                           (gpointer (*) (gconstpointer)) prefix##_ref, (void (*) (gpointer)) prefix##_unref, prefix##_get_type
#define F(Type, field) { G_STRUCT_OFFSET (Type, field), #field }

static const Kind kinds[] = {
  { KIND (WsPhoto, ws_photo), { F (WsPhoto, id), F (WsPhoto, path), F (WsPhoto, digest), F (WsPhoto, media_type),
                                F (WsPhoto, make), F (WsPhoto, model), F (WsPhoto, warnings) } },
  { KIND (WsMark, ws_mark), { F (WsMark, id), F (WsMark, photo_id), F (WsMark, part), F (WsMark, specimen),
                              F (WsMark, base_kind), F (WsMark, remark) } },
  { KIND (WsNote, ws_note), { F (WsNote, id), F (WsNote, character), F (WsNote, specimen), F (WsNote, observer),
                              F (WsNote, text) } },
  { KIND (WsExcuse, ws_excuse), { F (WsExcuse, view), F (WsExcuse, reason) } },
  { KIND (WsFindPhoto, ws_find_photo), { F (WsFindPhoto, specimen), F (WsFindPhoto, visit) } },
  { KIND (WsCover, ws_cover), { F (WsCover, id), F (WsCover, photo_id) } },
  { KIND (WsForay, ws_foray), { F (WsForay, id), F (WsForay, date), F (WsForay, place), F (WsForay, people) } },
  { KIND (WsFind, ws_find), { F (WsFind, id), F (WsFind, number), F (WsFind, field_name), F (WsFind, locality),
                              F (WsFind, remarks), F (WsFind, only_mine) } },
  { KIND (WsScale, ws_scale), { F (WsScale, id), F (WsScale, photo_id) } },
  { KIND (WsMeasurement, ws_measurement), { F (WsMeasurement, id), F (WsMeasurement, quantity), F (WsMeasurement, specimen),
                                            F (WsMeasurement, observer), F (WsMeasurement, remark) } },
  { KIND (WsSporeList, ws_spore_list), { F (WsSporeList, id), F (WsSporeList, specimen), F (WsSporeList, mount),
                                         F (WsSporeList, verbatim), F (WsSporeList, observer), F (WsSporeList, remark) } },
  { KIND (WsName, ws_name), { F (WsName, id), F (WsName, verbatim), F (WsName, by), F (WsName, date), F (WsName, reasons),
                              F (WsName, entered_by) } },
  { KIND (WsReason, ws_reason), { F (WsReason, text), F (WsReason, part) } },
  { KIND (WsOpinion, ws_opinion), { F (WsOpinion, name) } },
  { KIND (WsWish, ws_wish), { F (WsWish, view), F (WsWish, character), F (WsWish, part), F (WsWish, text) } },
  { KIND (WsAnswer, ws_answer), { F (WsAnswer, id), F (WsAnswer, request_id), F (WsAnswer, request_digest), F (WsAnswer, by),
                                  F (WsAnswer, language), F (WsAnswer, remarks), F (WsAnswer, verbatim),
                                  F (WsAnswer, entered_by) } },
  { KIND (WsRequest, ws_request), { F (WsRequest, id), F (WsRequest, language), F (WsRequest, from), F (WsRequest, to),
                                    F (WsRequest, question), F (WsRequest, asked_elsewhere), F (WsRequest, without_base),
                                    F (WsRequest, call_back), F (WsRequest, knowledge_digest) } },
};

static char **
string_of (gpointer value, const Field *field)
{
  return G_STRUCT_MEMBER_P (value, field->offset);
}

static void
test_strings (gconstpointer data)
{
  const Kind *kind = data;
  gpointer value = kind->make (), copy;

  g_test_summary ("a new value has empty strings, a copy has strings of its own, and both may go in any order");
  for (const Field *f = kind->strings; f->name != NULL; f++)
    {
      g_test_message ("%s.%s", kind->name, f->name);
      g_assert_cmpstr (*string_of (value, f), ==, "");
      ws_set_string (string_of (value, f), f->name);
    }
  copy = kind->copy (value);
  for (const Field *f = kind->strings; f->name != NULL; f++)
    {
      g_assert_true (*string_of (copy, f) != *string_of (value, f));
      ws_set_string (string_of (copy, f), "other");
      g_assert_cmpstr (*string_of (value, f), ==, f->name);
    }
  kind->unref (value);
  for (const Field *f = kind->strings; f->name != NULL; f++)
    g_assert_cmpstr (*string_of (copy, f), ==, "other");
  kind->unref (copy);
}

static void
test_references (gconstpointer data)
{
  const Kind *kind = data;
  gpointer value = kind->make (), boxed, copy;

  g_test_summary ("a value lives as long as its last reference; boxed copies are references; a copy counts anew");
  g_assert_true (kind->ref (value) == value);
  kind->unref (value);
  boxed = g_boxed_copy (kind->type (), value);
  g_assert_true (boxed == value);
  copy = kind->copy (value);
  kind->unref (value);
  g_assert_cmpstr (*string_of (boxed, &kind->strings[0]), ==, "");
  g_boxed_free (kind->type (), boxed);
  g_assert_cmpstr (*string_of (copy, &kind->strings[0]), ==, "");
  kind->unref (copy);
  kind->unref (NULL);
  g_assert_cmpstr (g_type_name (kind->type ()), ==, kind->name);
}

static void
test_set_string (void)
{
  char *field = NULL;

  g_test_summary ("setting a string field copies, takes NULL as empty, and may be given the field itself");
  ws_set_string (&field, "cap");
  ws_set_string (&field, field);
  g_assert_cmpstr (field, ==, "cap");
  ws_set_string (&field, field + 1);
  g_assert_cmpstr (field, ==, "ap");
  ws_set_string (&field, NULL);
  g_assert_cmpstr (field, ==, "");
  g_free (field);
}

static void
test_unknowns (void)
{
  g_autoptr (WsPhoto) photo = ws_photo_new ();
  g_autoptr (WsMark) mark = ws_mark_new ();
  g_autoptr (WsFind) find = ws_find_new ();
  g_autoptr (WsRequest) request = ws_request_new ();
  g_autoptr (WsNote) note = ws_note_new ();
  g_autoptr (WsScale) scale = ws_scale_new ();
  g_autoptr (WsMeasurement) measurement = ws_measurement_new ();
  g_autoptr (WsName) name = ws_name_new ();

  g_test_summary ("what nobody filled in is unknown, not nought; a request rounds the place unless told otherwise");
  g_assert_false (ws_moment_is_known (&photo->taken));
  g_assert_false (ws_position_is_known (&photo->position));
  g_assert_true (isnan (photo->direction));
  g_assert_false (mark->measure.measured);
  g_assert_true (isnan (mark->measure.blur_sigma) && isnan (mark->measure.mm_per_pixel));
  g_assert_nonnull (mark->views);
  g_assert_nonnull (mark->shape);
  g_assert_false (ws_moment_is_known (&find->when));
  g_assert_false (ws_position_is_known (&find->where));
  g_assert_cmpint (find->specimen_is, ==, WS_SPECIMEN_UNKNOWN);
  g_assert_cmpint (request->tell_place, ==, WS_TELL_HUNDREDTH);
  g_assert_false (ws_position_is_known (&request->place));
  g_assert_true (isnan (note->minutes));
  g_assert_true (isnan (scale->mm) && isnan (scale->mm_error) && isnan (scale->point_error) && isnan (scale->tilt));
  g_assert_true (isnan (measurement->value) && isnan (measurement->error));
  g_assert_cmpint (name->certainty, ==, WS_CERTAINTY_OPEN);
  g_assert_cmpint (name->base_shown, ==, -1);
  g_assert_false (request->keep_time || request->keep_camera || request->emergency);
  g_assert_nonnull (request->find);
}

static void
test_deep_photo_mark (void)
{
  WsPhoto *photo = ws_photo_new (), *other_photo;
  WsMark *mark = ws_mark_new (), *other_mark;

  g_test_summary ("copies of photos and marks share nothing with the original");
  photo->companion = g_strdup ("a.raw");
  photo->copy_of = g_strdup ("id");
  other_photo = ws_photo_copy (photo);
  ws_photo_unref (photo);
  g_assert_cmpstr (other_photo->companion, ==, "a.raw");
  g_assert_cmpstr (other_photo->copy_of, ==, "id");
  ws_photo_unref (other_photo);

  g_strfreev (mark->views);
  mark->views = g_strsplit ("v_base v_stem", " ", -1);
  ws_shape_free (mark->shape);
  mark->shape = ws_shape_parse ("outline 0.1 0.1 0.9 0.1 0.5 0.9");
  mark->measure.blur_sigma = 1.25;
  other_mark = ws_mark_copy (mark);
  ws_mark_unref (mark);
  g_assert_cmpstr (other_mark->views[1], ==, "v_stem");
  g_assert_cmpfloat (other_mark->shape->points[2].y, ==, 0.9);
  g_assert_cmpfloat (other_mark->measure.blur_sigma, ==, 1.25);
  ws_mark_unref (other_mark);
}

static void
test_deep_note_cover (void)
{
  WsNote *note = ws_note_new (), *other_note;
  WsCover *cover = ws_cover_new (), *other_cover;

  g_test_summary ("copies of notes and covers share nothing with the original");
  g_strfreev (note->states);
  note->states = g_strsplit ("white cream", " ", -1);
  note->mark_id = g_strdup ("m");
  g_strfreev (note->answers);
  note->answers = g_strsplit ("fresh_cut", " ", -1);
  other_note = ws_note_copy (note);
  ws_note_unref (note);
  g_assert_cmpstr (other_note->states[1], ==, "cream");
  g_assert_cmpstr (other_note->mark_id, ==, "m");
  g_assert_cmpstr (other_note->answers[0], ==, "fresh_cut");
  ws_note_unref (other_note);

  ws_shape_free (cover->shape);
  cover->shape = ws_shape_parse ("oval 0.1 0.1 0.5 0.5");
  other_cover = ws_cover_copy (cover);
  ws_cover_unref (cover);
  g_assert_cmpint (other_cover->shape->kind, ==, WS_SHAPE_OVAL);
  ws_cover_unref (other_cover);
}

static void
test_find_members (void)
{
  WsFind *find = ws_find_new (), *copy;

  g_test_summary ("a copied find has lists of its own whose members are shared and outlive the original");
  g_ptr_array_add (find->photos, ws_find_photo_new ());
  g_ptr_array_add (find->marks, ws_mark_new ());
  g_ptr_array_add (find->notes, ws_note_new ());
  g_ptr_array_add (find->excuses, ws_excuse_new ());
  g_ptr_array_add (find->covers, ws_cover_new ());
  g_ptr_array_add (find->scales, ws_scale_new ());
  g_ptr_array_add (find->measurements, ws_measurement_new ());
  g_ptr_array_add (find->spores, ws_spore_list_new ());
  g_ptr_array_add (find->names, ws_name_new ());
  g_ptr_array_add (find->answers, ws_answer_new ());
  find->name_in_force = g_strdup ("name");
  find->foray_id = g_strdup ("foray");
  copy = ws_find_copy (find);
  g_assert_true (g_ptr_array_index (copy->marks, 0) == g_ptr_array_index (find->marks, 0));
  g_ptr_array_add (copy->marks, ws_mark_new ());
  g_assert_cmpuint (find->marks->len, ==, 1);
  ws_find_unref (find);
  g_assert_cmpstr (copy->foray_id, ==, "foray");
  g_assert_cmpstr (((WsMark *) g_ptr_array_index (copy->marks, 0))->id, ==, "");
  g_assert_cmpstr (((WsFindPhoto *) g_ptr_array_index (copy->photos, 0))->photo->path, ==, "");
  g_assert_cmpuint (copy->notes->len + copy->excuses->len + copy->covers->len, ==, 3);
  g_assert_cmpuint (copy->scales->len + copy->measurements->len + copy->spores->len + copy->names->len +
                      copy->answers->len, ==, 5);
  g_assert_cmpstr (copy->name_in_force, ==, "name");
  ws_find_unref (copy);
}

static gpointer
churn (gpointer value)
{
  for (int i = 0; i < 20000; i++)
    {
      WsFind *find = ws_find_ref (value);

      ws_find_unref (find);
    }
  return NULL;
}

static void
test_threads (void)
{
  WsFind *find = ws_find_new ();
  GThread *threads[4];

  g_test_summary ("references may be taken and dropped on several threads at once");
  for (int i = 0; i < 4; i++)
    threads[i] = g_thread_new ("churn", churn, find);
  for (int i = 0; i < 4; i++)
    g_thread_join (threads[i]);
  g_assert_true (g_atomic_ref_count_compare (&find->refs, 1));
  ws_find_unref (find);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autofree char *strings = g_strconcat ("/find/values/strings/", kinds[i].name, NULL);
      g_autofree char *references = g_strconcat ("/find/values/references/", kinds[i].name, NULL);

      g_test_add_data_func (strings, &kinds[i], test_strings);
      g_test_add_data_func (references, &kinds[i], test_references);
    }
  g_test_add_func ("/find/values/set-string", test_set_string);
  g_test_add_func ("/find/values/unknowns", test_unknowns);
  g_test_add_func ("/find/values/deep-photo-mark", test_deep_photo_mark);
  g_test_add_func ("/find/values/deep-note-cover", test_deep_note_cover);
  g_test_add_func ("/find/values/find-members", test_find_members);
  g_test_add_func ("/find/values/threads", test_threads);
  return g_test_run ();
}
