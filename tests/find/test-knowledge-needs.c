/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "find-support.h"

#include "ws-error.h"

#include <locale.h>
#include <string.h>

static const char *const forms[] = {
  "gilled_stem", "gilled_stemless", "veined_stem", "pored_stem", "toothed", "bracket", "crust", "club_coral", "cup",
  "puffball", "earthstar", "truffle", "jelly", "stinkhorn", "morel_like", "egg",
};

/* What each form needs, in the order of the forms above: R required, r recommended, c when the part exists or the
 * suspicion arises, n not applicable. Judgement, from memory of what the photo and collecting guides of fungus
 * societies (North American and British clubs, Szeged, Atkinson, Watling) ask for; no published source has it by form. */
static const struct { const char *view, *letters; } trade[] = {
  { "v_insitu", "R R R R R R R R R R R r R R R R" },
  { "v_habitat", "R R R R R R R R R R R R R R R R" },
  { "v_substrate", "R R R R R R R R R r r R R r R R" },
  { "v_top", "R R R R R R R R R R R R R R R R" },
  { "v_margin", "r r r r r R r n r n r n r n r n" },
  { "v_under", "R R R R R R R R R n n n R R R n" },
  { "v_attach", "R r R R r n n n n n n n n n R n" },
  { "v_stem", "R c R R R c n R c c c n c R R n" },
  { "v_ring", "c n n c n n n n n n n n n n n n" },
  { "v_base", "R R R R R r n R R R R r r R R R" },
  { "v_section", "R r R R R R r r r R R R r R R R" },
  { "v_change", "r r r R R r r r r r n R n n n r" },
  { "v_latex", "c c n n c n c n c n n c n n n n" },
  { "v_print", "r r r r r c n r n n n n n n n n" },
  { "v_scale", "R R R R R R R R R R R R R R R R" },
  { "v_ages", "r r r r r r n r r R r r r R r r" },
  { "v_slip", "r r r r r r r r r r r r r r r r" },
};

static char
letter_of (WsNeed need)
{
  return need == WS_NEED_REQUIRED ? 'R' : need == WS_NEED_RECOMMENDED ? 'r' : need == WS_NEED_ONLY_IF ? 'c' : 'n';
}

static const WsRequirement *
find_requirement (GArray *requirements, const char *view)
{
  for (guint i = 0; i < requirements->len; i++)
    if (g_str_equal (g_array_index (requirements, WsRequirement, i).view->id, view))
      return &g_array_index (requirements, WsRequirement, i);
  return NULL;
}

static void
test_cell_by_cell (void)
{
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();

  g_test_summary ("needs.tsv says cell by cell what the trade asks for, for 16 growth forms and 17 views");
  g_assert_cmpuint (ws_knowledge_get_growth_forms (knowledge)->len, ==, G_N_ELEMENTS (forms));
  g_assert_cmpuint (ws_knowledge_get_views (knowledge)->len, ==, G_N_ELEMENTS (trade));
  for (gsize f = 0; f < G_N_ELEMENTS (forms); f++)
    {
      g_autoptr (GArray) requirements = ws_knowledge_dup_requirements (knowledge, forms[f]);
      guint needed = 0;

      for (gsize v = 0; v < G_N_ELEMENTS (trade); v++)
        {
          const WsRequirement *requirement = find_requirement (requirements, trade[v].view);
          char ours = requirement != NULL ? letter_of (requirement->need) : 'n';

          g_test_message ("%s %s: %c", forms[f], trade[v].view, ours);
          g_assert_cmpint (ours, ==, trade[v].letters[2 * f]);
          g_assert_true ((ours == 'c') == (requirement != NULL && requirement->condition != NULL));
          needed += ours != 'n';
        }
      g_assert_cmpuint (needed, ==, requirements->len);
    }
}

static void
test_order (void)
{
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();
  GPtrArray *views = ws_knowledge_get_views (knowledge);

  g_test_summary ("what is needed comes in the order of views.tsv, whatever the order of needs.tsv");
  for (gsize f = 0; f <= G_N_ELEMENTS (forms); f++)
    {
      g_autoptr (GArray) requirements = ws_knowledge_dup_requirements (knowledge, f < G_N_ELEMENTS (forms) ? forms[f] : "");
      guint last = 0;

      for (guint i = 0; i < requirements->len; i++)
        {
          guint at;

          g_assert_true (g_ptr_array_find (views, g_array_index (requirements, WsRequirement, i).view, &at));
          g_assert_true (i == 0 || at > last);
          last = at;
        }
    }
}

/* Whether the trade requires the view of any form that it asks a whole stem of (v_stem: R). */
static gboolean
required_of_a_stem (gsize view)
{
  gsize stem = 0;

  while (!g_str_equal (trade[stem].view, "v_stem"))
    stem++;
  for (gsize f = 0; f < G_N_ELEMENTS (forms); f++)
    if (trade[stem].letters[2 * f] == 'R' && trade[view].letters[2 * f] == 'R')
      return TRUE;
  return FALSE;
}

static void
test_unknown_form (void)
{
  static const char *const unknown[] = { "", "no_such_form", NULL };
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();

  g_test_summary ("while the form is unknown, every view is required that any form with a stem requires, the base among them");
  for (gsize u = 0; u < G_N_ELEMENTS (unknown); u++)
    {
      g_autoptr (GArray) requirements = ws_knowledge_dup_requirements (knowledge, unknown[u]);

      for (gsize v = 0; v < G_N_ELEMENTS (trade); v++)
        {
          const WsRequirement *requirement = find_requirement (requirements, trade[v].view);

          g_test_message ("%s", trade[v].view);
          g_assert_cmpint (requirement != NULL, ==, required_of_a_stem (v));
          g_assert_true (requirement == NULL || requirement->need == WS_NEED_REQUIRED);
        }
      g_assert_nonnull (find_requirement (requirements, "v_base"));
    }
}

static void
test_base_of_every_form (void)
{
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();

  g_test_summary ("every form but a crust has its base on the list");
  for (gsize f = 0; f < G_N_ELEMENTS (forms); f++)
    {
      g_autoptr (GArray) requirements = ws_knowledge_dup_requirements (knowledge, forms[f]);

      g_assert_cmpint (find_requirement (requirements, "v_base") != NULL, ==, !g_str_equal (forms[f], "crust"));
    }
}

static void
test_conditions (void)
{
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();
  g_autoptr (GArray) gilled = ws_knowledge_dup_requirements (knowledge, "gilled_stem");
  g_autoptr (GArray) cup = ws_knowledge_dup_requirements (knowledge, "cup");
  g_autoptr (GArray) bracket = ws_knowledge_dup_requirements (knowledge, "bracket");
  const WsCondition *ring = find_requirement (gilled, "v_ring")->condition;
  const WsCondition *stem = find_requirement (cup, "v_stem")->condition;
  const WsCondition *print = find_requirement (bracket, "v_print")->condition;

  g_test_summary ("the three ways to write a condition: not this state, one of these states, any state");
  g_assert_cmpstr (ring->character, ==, "ring");
  g_assert_true (ring->negated);
  g_assert_cmpstr (ring->states[0], ==, "none_seen");
  g_assert_null (ring->states[1]);
  g_assert_cmpstr (stem->character, ==, "stem_position");
  g_assert_false (stem->negated);
  g_assert_cmpuint (g_strv_length ((char **) stem->states), ==, 3);
  g_assert_cmpstr (print->character, ==, "spore_print");
  g_assert_null (print->states[0]);
}

static void
test_faults (void)
{
  static const struct { const char *table, *what, *with, *at; } cases[] = {
    /* @at: where the line begins or what stands on it after the change; NULL when the fault has no line */
    { "needs.tsv", "v_stem\tR", "v_stem\tX", "v_stem\tX" },
    { "needs.tsv", "v_stem\tR", "v_stem\t", "v_stem\t\t" },
    { "needs.tsv", "v_stem\tR", "v_stalk\tR", "v_stalk" },
    { "needs.tsv", "c:ring!=none_seen", "c:ring", "c:ring\t" },
    { "needs.tsv", "c:ring!=none_seen", "c:", "c:\t" },
    { "needs.tsv", "c:ring!=none_seen", "c:=hanging", "c:=hanging" },
    { "needs.tsv", "c:ring!=none_seen", "c:!=hanging", "c:!=hanging" },
    { "needs.tsv", "c:ring!=none_seen", "c:halo!=none_seen", "c:halo" },
    { "needs.tsv", "c:ring!=none_seen", "c:ring=golden", "c:ring=golden" },
    { "needs.tsv", "c:ring!=none_seen", "c:ring=hanging|", "c:ring=hanging|\t" },
    { "needs.tsv", "c:ring!=none_seen", "c:ring=", "c:ring=\t" },
    { "needs.tsv", "c:ring!=none_seen", "c:ring!=", "c:ring!=\t" },
    { "needs.tsv", "c:ring!=none_seen", "c:ring!=*", "c:ring!=*" },
    { "needs.tsv", "c:ring!=none_seen", "hanging", "hanging" },
    { "needs.tsv", "\tegg\n", "\tovum\n", "\tovum\n" },
    { "needs.tsv", "v_slip\t", "#v_slip\t", NULL },
    /* One view twice and another not at all: as many rows as views, and the base would be gone from every list. */
    { "needs.tsv", "v_base\tR", "v_under\tR", NULL },
    { "under-part.tsv", "egg\tv_top\tbody", "egg\tv_top\tshell", "shell" },
    { "under-part.tsv", "egg\tv_top\tbody", "egg\tv_tip\tbody", "v_tip" },
    { "under-part.tsv", "egg\tv_top\tbody", "ovum\tv_top\tbody", "ovum" },
  };

  g_test_summary ("a fault in needs.tsv or under-part.tsv is an error that names the file and the line");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GHashTable) tables = support_load_tables ();
      g_autoptr (GError) error = NULL;
      g_autoptr (WsKnowledge) knowledge = NULL;
      g_autofree char *line = NULL;

      support_replace (tables, cases[i].table, cases[i].what, cases[i].with);
      g_test_message ("%s: “%s”", cases[i].table, cases[i].with);
      knowledge = ws_knowledge_parse (tables, &error);
      g_assert_null (knowledge);
      g_test_message ("%s", error->message);
      g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
      g_assert_nonnull (strstr (error->message, cases[i].table));
      if (cases[i].at == NULL)
        continue;
      line = g_strdup_printf ("\\b%d\\b", support_line_of (tables, cases[i].table, cases[i].at));
      g_assert_true (g_regex_match_simple (line, error->message, 0, 0));
    }
}

static void
test_part_of_view (void)
{
  static const struct { const char *view, *form, *part; } cases[] = {
    { "v_under", "gilled_stem", "gills" }, { "v_under", "pored_stem", "pores" }, { "v_under", "toothed", "teeth" },
    { "v_under", "veined_stem", "veins" }, { "v_under", "morel_like", "fertile_surface" }, { "v_under", "", "gills" },
    { "v_under", NULL, "gills" }, { "v_top", "puffball", "body" }, { "v_base", "gilled_stem", "stem_base" },
    { "v_base", "", "stem_base" }, { "v_no_such", "gilled_stem", "whole" },
  };
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();

  g_test_summary ("the part by which a view is shown depends on the form; without one it is the first of the view");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpstr (ws_knowledge_part_of_view (knowledge, cases[i].view, cases[i].form), ==, cases[i].part);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/knowledge-needs/cell-by-cell", test_cell_by_cell);
  g_test_add_func ("/find/knowledge-needs/order", test_order);
  g_test_add_func ("/find/knowledge-needs/unknown-form", test_unknown_form);
  g_test_add_func ("/find/knowledge-needs/base-of-every-form", test_base_of_every_form);
  g_test_add_func ("/find/knowledge-needs/conditions", test_conditions);
  g_test_add_func ("/find/knowledge-needs/faults", test_faults);
  g_test_add_func ("/find/knowledge-needs/part-of-view", test_part_of_view);
  return g_test_run ();
}
