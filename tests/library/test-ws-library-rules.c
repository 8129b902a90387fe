/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#include <math.h>
#include <string.h>

/* Each case breaks one rule of an otherwise good value. */
typedef struct
{
  const char *name;
  void (*spoil) (WsFind *find);
  const char *message_part;
} Case;

#define MARK(find) ((WsMark *) g_ptr_array_index ((find)->marks, 0))
#define NOTE(find) ((WsNote *) g_ptr_array_index ((find)->notes, 0))
#define LINK(find) ((WsFindPhoto *) g_ptr_array_index ((find)->photos, 0))
#define COVER(find) ((WsCover *) g_ptr_array_index ((find)->covers, 0))
#define EXCUSE(find) ((WsExcuse *) g_ptr_array_index ((find)->excuses, 0))

static void no_number (WsFind *find) { ws_set_string (&find->number, " \t"); }
static void find_id (WsFind *find) { ws_set_string (&find->id, "25-101"); }
static void upper_id (WsFind *find) { ws_set_string (&find->id, "ABCDEFAB-0000-4000-8000-000000000001"); }
static void foray_id (WsFind *find) { ws_set_string (&find->foray_id, "x"); }
static void not_utf8 (WsFind *find) { ws_set_string (&find->remarks, "caf\xe9"); }
static void off_globe (WsFind *find) { find->where.latitude = 90.5; }
static void no_longitude (WsFind *find) { find->where.longitude = NAN; }
static void endless (WsFind *find) { find->where.latitude = INFINITY; }
static void photo_off_globe (WsFind *find) { LINK (find)->photo->position.longitude = -181; }
static void mark_id (WsFind *find) { ws_set_string (&MARK (find)->id, ""); }
static void mark_photo_id (WsFind *find) { ws_set_string (&MARK (find)->photo_id, "photo"); }
static void no_part (WsFind *find) { ws_set_string (&MARK (find)->part, ""); }
static void outside (WsFind *find) { MARK (find)->shape->bounds.x = 0.8; }
static void before_edge (WsFind *find) { MARK (find)->shape->bounds.y = -0.001; }
static void no_size (WsFind *find) { MARK (find)->shape->bounds.width = 0; }
static void nowhere (WsFind *find) { MARK (find)->shape->bounds.height = NAN; }
static void no_shape (WsFind *find) { g_clear_pointer (&MARK (find)->shape, ws_shape_free); }
static void cover_outside (WsFind *find) { COVER (find)->shape->bounds.width = 1.5; }
static void cover_id (WsFind *find) { ws_set_string (&COVER (find)->id, "c"); }
static void no_character (WsFind *find) { ws_set_string (&NOTE (find)->character, ""); }
static void note_mark_id (WsFind *find) { ws_set_string (&NOTE (find)->mark_id, ""); }
static void no_view (WsFind *find) { ws_set_string (&EXCUSE (find)->view, ""); }

static void
no_views (WsFind *find)
{
  g_strfreev (MARK (find)->views);
  MARK (find)->views = g_new0 (char *, 1);
}

static void
state_not_utf8 (WsFind *find)
{
  g_free (NOTE (find)->states[0]);
  NOTE (find)->states[0] = g_strdup ("\xff");
}

/* Safety law 1 and design §2: read off a photo is never sure; the whole photo never shows a base. */
static void sure_off_photo (WsFind *find) { NOTE (find)->off_photo = NOTE (find)->sure = TRUE; }
static void whole_but_small (WsFind *find) { MARK (find)->whole_photo = TRUE; ws_set_string (&MARK (find)->base_kind, ""); }

static void
whole_with_base (WsFind *find)
{
  MARK (find)->whole_photo = TRUE;
  MARK (find)->shape->bounds = (WsRect) { 0, 0, 1, 1 };
}

static void
whole_oval (WsFind *find)
{
  whole_with_base (find);
  ws_set_string (&MARK (find)->base_kind, "");
  MARK (find)->shape->kind = WS_SHAPE_OVAL;
}

#define SCALE(find) ((WsScale *) g_ptr_array_index ((find)->scales, 0))
#define MEASUREMENT(find) ((WsMeasurement *) g_ptr_array_index ((find)->measurements, 0))
#define SPORES(find) ((WsSporeList *) g_ptr_array_index ((find)->spores, 0))
static void minutes_below (WsFind *find) { NOTE (find)->minutes = -1; }
static void minutes_endless (WsFind *find) { NOTE (find)->minutes = INFINITY; }
static void minutes_unknown (WsFind *find) { NOTE (find)->minutes = NAN; }
static void minutes_fresh (WsFind *find) { NOTE (find)->observed = WS_OBSERVED_FRESH; }
static void scale_id (WsFind *find) { ws_set_string (&SCALE (find)->id, "s"); }
static void scale_outside (WsFind *find) { SCALE (find)->b.y = 1.01; }
static void scale_nowhere (WsFind *find) { SCALE (find)->a.x = NAN; }
static void scale_point (WsFind *find) { SCALE (find)->b = SCALE (find)->a; }
static void scale_nothing (WsFind *find) { SCALE (find)->mm = 0; }
static void scale_unknown (WsFind *find) { SCALE (find)->mm = NAN; }
static void scale_error (WsFind *find) { SCALE (find)->mm_error = -0.1; }
static void nothing_measured (WsFind *find) { ws_set_string (&MEASUREMENT (find)->quantity, ""); }
static void size_below (WsFind *find) { MEASUREMENT (find)->value = -3; }
static void size_endless (WsFind *find) { MEASUREMENT (find)->value = INFINITY; }
static void size_outside (WsFind *find) { MEASUREMENT (find)->b.x = 2; }
static void spores_empty (WsFind *find) { ws_spore_list_set (SPORES (find), NULL, 0); ws_set_string (&SPORES (find)->verbatim, ""); }
static void spore_nothing (WsFind *find) { SPORES (find)->spores[1].width = 0; }
static void spore_unknown (WsFind *find) { SPORES (find)->spores[1].length = NAN; }

static const Case cases[] = {
  { "no number", no_number, "number" },
  { "find id", find_id, "UUID" },
  { "upper case id", upper_id, "lower case" },
  { "foray id", foray_id, "UUID" },
  { "not UTF-8", not_utf8, "UTF-8" },
  { "off the globe", off_globe, "globe" },
  { "latitude alone", no_longitude, "globe" },
  { "infinite latitude", endless, "globe" },
  { "photo off the globe", photo_off_globe, "globe" },
  { "mark id", mark_id, "UUID" },
  { "photo id of a mark", mark_photo_id, "UUID" },
  { "mark without a part", no_part, "part" },
  { "mark without a view", no_views, "view" },
  { "mark outside", outside, "inside" },
  { "mark before the edge", before_edge, "inside" },
  { "mark without size", no_size, "inside" },
  { "mark that is nowhere", nowhere, "inside" },
  { "mark without a shape", no_shape, "inside" },
  { "whole photo, but a part of it", whole_but_small, "0,0,1,1" },
  { "whole photo as an oval", whole_oval, "0,0,1,1" },
  { "whole photo that shows a base", whole_with_base, "base" },
  { "cover outside", cover_outside, "inside" },
  { "cover id", cover_id, "UUID" },
  { "note without a character", no_character, "character" },
  { "mark id of a note", note_mark_id, "UUID" },
  { "state not UTF-8", state_not_utf8, "UTF-8" },
  { "sure, but read off a photo", sure_off_photo, "never sure" },
  { "reason without a view", no_view, "view" },
  { "minutes below nought", minutes_below, "Minutes" },
  { "minutes without end", minutes_endless, "Minutes" },
  { "after unknown minutes", minutes_unknown, "Minutes" },
  { "minutes of a fresh specimen", minutes_fresh, "Minutes" },
  { "scale id", scale_id, "UUID" },
  { "scale outside", scale_outside, "two different points" },
  { "scale that is nowhere", scale_nowhere, "two different points" },
  { "scale of one point", scale_point, "two different points" },
  { "scale of nothing", scale_nothing, "above 0" },
  { "scale of unknown size", scale_unknown, "above 0" },
  { "scale off by less than nothing", scale_error, "below 0" },
  { "nothing measured", nothing_measured, "what was measured" },
  { "size below nought", size_below, "above 0" },
  { "size without end", size_endless, "above 0" },
  { "measured outside", size_outside, "inside the photo" },
  { "no spores", spores_empty, "empty" },
  { "spore of no width", spore_nothing, "spore" },
  { "spore of unknown length", spore_unknown, "spore" },
};

static void
test_rules (Fixture *fixture, gconstpointer data)
{
  g_test_summary ("An action with one value that breaks a rule is refused whole, with the rule");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsForay) foray = sample_foray ();
      g_autoptr (WsFind) find = sample_whole_find ("25-101", foray);

      g_test_message ("%s", cases[i].name);
      cases[i].spoil (find);
      apply_fails (fixture->library, action_put_whole ("Import", foray, find), WS_ERROR_INVALID,
                   cases[i].message_part);
    }
}

static void
test_tables (Fixture *fixture, gconstpointer data)
{
  g_autoptr (WsForay) foray = sample_foray ();
  g_autoptr (WsFind) find = sample_whole_find ("25-101", foray);
  g_autofree char *path = fixture_dup_path (fixture);
  static const char *const wrong[] = {
    "UPDATE note SET off_photo = 1, sure = 1",
    "UPDATE mark SET whole_photo = 1, base_kind = 'cleaned'",
    "UPDATE find SET number = ''",
    "UPDATE mark SET part = x'00'",
  };

  g_test_summary ("The tables themselves refuse what breaks a rule of safety");
  apply (fixture->library, action_put_whole ("Import", foray, find));
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autofree char *message = database_dup_refusal (path, wrong[i]);

      g_assert_nonnull (message);
      g_assert_nonnull (strstr (message, i < 3 ? "CHECK constraint failed" : "cannot store BLOB"));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  FIXTURE_TEST ("/library/rules/each", test_rules);
  FIXTURE_TEST ("/library/rules/tables", test_tables);
  return g_test_run ();
}
