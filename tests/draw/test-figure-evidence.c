/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw-rig.h"

#include "ws-figure-evidence.h"

static void
test_every_view_has_a_part (void)
{
  g_autoptr (WsKnowledge) knowledge = rig_load_knowledge ();

  g_test_summary ("Every view that a growth form needs has a part in its figure, so that its label has somewhere to point");
  for (guint i = 0; rig_forms[i] != NULL; i++)
    {
      g_autoptr (WsFigure) figure = rig_load_figure (rig_forms[i]);
      g_autoptr (GArray) needs = ws_knowledge_dup_requirements (knowledge, rig_forms[i]);

      g_assert_nonnull (ws_knowledge_find_growth_form (knowledge, rig_forms[i]));
      g_assert_cmpuint (needs->len, >, 5);
      for (guint k = 0; k < needs->len; k++)
        {
          const WsRequirement *need = &g_array_index (needs, WsRequirement, k);

          if (need->need == WS_NEED_ONLY_IF && !g_str_equal (need->view->id, "v_ring"))
            continue;
          g_test_message ("%s %s", rig_forms[i], need->view->id);
          g_assert_nonnull (ws_figure_evidence_get_part (figure, knowledge, need->view->id, rig_forms[i]));
        }
    }
}

static void
test_all_forms_drawn (void)
{
  g_autoptr (WsKnowledge) knowledge = rig_load_knowledge ();
  GPtrArray *forms = ws_knowledge_get_growth_forms (knowledge);

  g_test_summary ("Each growth form of the knowledge has a figure, and every part of every figure is a part of the knowledge");
  for (guint i = 0; i <= forms->len; i++)
    {
      const char *form = i < forms->len ? ((const WsGrowthForm *) g_ptr_array_index (forms, i))->id : "unknown";
      g_autoptr (WsFigure) figure = rig_load_figure (form);
      const char *const *parts = ws_figure_get_parts (figure);

      for (guint k = 0; parts[k] != NULL; k++)
        {
          g_test_message ("%s %s", form, parts[k]);
          g_assert_nonnull (ws_knowledge_find_part (knowledge, parts[k]));
        }
    }
}

static WsFigureLook
look_of (WsFind *find, WsKnowledge *knowledge, WsEvidence **evidence, WsFigureEvidence *source)
{
  WsFigureLook look = { .armed = "cap" };

  *evidence = ws_evidence_judge (find, knowledge, "en");
  *source = (WsFigureEvidence) { *evidence, knowledge };
  ws_figure_evidence_look (source, &look);
  g_assert_cmpstr (look.armed, ==, "cap");
  return look;
}

static void
test_states (void)
{
  g_autoptr (WsKnowledge) knowledge = rig_load_knowledge ();
  g_autoptr (WsFind) find = rig_new_find ("gilled_stem");
  g_autoptr (WsEvidence) evidence = NULL;
  WsFigureEvidence source;
  WsFigureLook look;

  g_test_summary ("A part is inked when its view is shown; a base that was only marked, not answered for, is not");
  rig_add_mark (find, "cap", "v_top");
  rig_add_mark (find, "stem_base", "v_base");
  rig_add_mark (find, "body", "v_scale");
  look = look_of (find, knowledge, &evidence, &source);
  g_assert_cmpint (look.state_of ("cap", look.data), ==, WS_EVIDENCE_SHOWN);
  g_assert_cmpint (look.state_of ("gills", look.data), ==, WS_EVIDENCE_MISSING);
  g_assert_cmpint (look.state_of ("stem_base", look.data), !=, WS_EVIDENCE_SHOWN);
  g_assert_true (look.is_asked ("gills", look.data));
  g_assert_false (look.is_asked ("latex", look.data));
  g_assert_false (look.is_asked ("wing", look.data));
  g_assert_cmpint (look.state_of ("latex", look.data), ==, WS_EVIDENCE_MISSING);
}

static void
test_notes (void)
{
  static const struct { const char *character, *state; gboolean ring; const char *base; } cases[] = {
    { "ring", "hanging", TRUE, "" },
    { "ring", "none_seen", FALSE, "" },
    { "stem_base", "volva_sac", FALSE, "volva_sac" },
    { "stem_base", "bulb|volva_crumbly", FALSE, "volva_crumbly" },   /* what warns more is drawn */
    { "stem_base", "equal", FALSE, "" },
    { "stem_base", "cords", FALSE, "" },
  };
  g_autoptr (WsKnowledge) knowledge = rig_load_knowledge ();

  g_test_summary ("A ring and a base are drawn as they were noted");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsFind) find = rig_new_find ("gilled_stem");
      g_autoptr (WsEvidence) evidence = NULL;
      WsFigureEvidence source;
      WsFigureLook look;

      rig_add_note (find, cases[i].character, cases[i].state);
      look = look_of (find, knowledge, &evidence, &source);
      g_test_message ("%s=%s", cases[i].character, cases[i].state);
      g_assert_cmpint (look.ring, ==, cases[i].ring);
      g_assert_cmpstr (look.base, ==, cases[i].base);
    }
}

static void
test_unknown_form (void)
{
  g_autoptr (WsKnowledge) knowledge = rig_load_knowledge ();
  g_autoptr (WsFigure) figure = rig_load_figure ("unknown");
  g_autoptr (WsFind) find = rig_new_find ("");
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, knowledge, "en");

  g_test_summary ("While the form is unknown every label still points somewhere, and the underside is of no kind");
  for (guint i = 0; i < evidence->lines->len; i++)
    {
      const WsEvidenceLine *line = g_ptr_array_index (evidence->lines, i);

      g_test_message ("%s", line->view->id);
      g_assert_nonnull (ws_figure_evidence_get_part (figure, knowledge, line->view->id, ""));
    }
  g_assert_cmpstr (ws_figure_evidence_get_part (figure, knowledge, "v_under", ""), ==, "fertile_surface");
  g_assert_cmpstr (ws_figure_evidence_get_part (figure, knowledge, "v_base", ""), ==, "stem_base");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/draw/figure-evidence/every-view-has-a-part", test_every_view_has_a_part);
  g_test_add_func ("/draw/figure-evidence/all-forms-drawn", test_all_forms_drawn);
  g_test_add_func ("/draw/figure-evidence/states", test_states);
  g_test_add_func ("/draw/figure-evidence/notes", test_notes);
  g_test_add_func ("/draw/figure-evidence/unknown-form", test_unknown_form);
  return g_test_run ();
}
