/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-find-item.h"

#include "ws-desk.h"

static WsKnowledge *knowledge;

static WsFind *
make_find (const char *part, const char *view, const char *base_kind, gboolean whole)
{
  WsFind *find = ws_find_new ();
  WsMark *mark;
  WsFindPhoto *link;
  WsNote *form = ws_note_new ();

  ws_set_string (&form->character, "growth_form");
  g_strfreev (form->states);
  form->states = g_strdupv ((char *[]) { (char *) "gilled_stem", NULL });
  g_ptr_array_add (find->notes, form);
  if (part == NULL)
    return find;
  link = ws_find_photo_new ();
  g_clear_pointer (&link->photo, ws_photo_unref);
  link->photo = ws_photo_new ();
  ws_set_string (&link->photo->id, "p");
  g_ptr_array_add (find->photos, link);
  mark = ws_mark_new ();
  ws_set_string (&mark->photo_id, "p");
  ws_set_string (&mark->part, part);
  ws_set_string (&mark->base_kind, base_kind);
  g_strfreev (mark->views);
  mark->views = g_strdupv ((char *[]) { (char *) view, NULL });
  mark->whole_photo = whole;
  g_clear_pointer (&mark->shape, ws_shape_free);
  mark->shape = ws_shape_new_box (&(WsRect) { 0.1, 0.1, 0.8, 0.8 });
  mark->measure = (WsMeasure) { TRUE, 800, 800, 1.0, 0, 0, 0.1, 1 };
  g_ptr_array_add (find->marks, mark);
  return find;
}

static const char *
state_of (const WsFind *find, const char *part)
{
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, knowledge, "en");
  WsPartStates states = { evidence, knowledge };

  return ws_evidence_state_id (ws_part_states_get (part, &states));
}

static void
test_parts (void)
{
  static const struct { const char *part, *view, *base_kind; gboolean whole; const char *asked, *state; } cases[] = {
    { "gills", "v_under", "", FALSE, "gills", "shown" },
    { "gills", "v_under", "", FALSE, "cap", "missing" },
    { "stem_base", "v_base", "cleaned", FALSE, "stem_base", "shown" },
    { "stem_base", "v_base", "with_soil", FALSE, "stem_base", "weak" },
    { "stem_base", "v_base", "cut", FALSE, "stem_base", "missing" },
    { "stem_base", "v_base", "", FALSE, "stem_base", "missing" },
    { "stem_base", "v_base", "cleaned", TRUE, "stem_base", "missing" },
    { NULL, NULL, NULL, FALSE, "stem_base", "missing" },
  };

  g_test_summary ("SAFETY: the small figure inks a base only when a mark of its own shows it dug out and cleaned");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsFind) find = make_find (cases[i].part, cases[i].view, cases[i].base_kind, cases[i].whole);

      g_assert_cmpstr (state_of (find, cases[i].asked), ==, cases[i].state);
    }
}

static void
test_unasked (void)
{
  g_autoptr (WsFind) find = make_find ("pores", "v_under", "", FALSE);
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, knowledge, "en");
  WsPartStates states = { evidence, knowledge };

  g_test_summary ("A part whose name no table knows is asked for by nobody and is missing");
  g_assert_false (ws_part_states_is_asked ("no_such_part", &states));
  g_assert_cmpint (ws_part_states_get ("no_such_part", &states), ==, WS_EVIDENCE_MISSING);
  g_assert_true (ws_part_states_is_asked ("stem_base", &states));
}

static void
count (int *n)
{
  (*n)++;
}

static void
test_update (void)
{
  g_autoptr (WsFind) find = make_find (NULL, NULL, NULL, FALSE);
  g_autoptr (WsFind) other = make_find ("gills", "v_under", "", FALSE);
  g_autoptr (WsFindItem) item = ws_find_item_new (find, ws_evidence_judge (find, knowledge, "en"), NULL);
  int changes = 0;

  g_signal_connect_swapped (item, "changed", G_CALLBACK (count), &changes);
  ws_find_item_update (item, other, ws_evidence_judge (other, knowledge, "en"), NULL);
  g_assert_cmpint (changes, ==, 1);
  g_assert_true (ws_find_item_get_find (item) == other);
  g_assert_true (ws_find_item_get_evidence (item)->find == other);
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  knowledge = ws_desk_builtin_knowledge (NULL);
  g_assert_nonnull (knowledge);
  g_test_add_func ("/app/find-item/parts", test_parts);
  g_test_add_func ("/app/find-item/unasked", test_unasked);
  g_test_add_func ("/app/find-item/update", test_update);
  status = g_test_run ();
  ws_knowledge_unref (knowledge);
  return status;
}
