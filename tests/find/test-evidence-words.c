/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-evidence.h"

#include "find-support.h"

#include <locale.h>
#include <string.h>

static void
test_summary_line (void)
{
  static const struct { const char *model, *line; } cases[] = {
    { "form=gilled_stem",
      "Stem base: missing · Underside: missing · Whole stem from the side: missing · +7" },
    { "form=gilled_stem v_base:cut", "Stem base: missing · Underside: missing · Whole stem from the side: missing · +7" },
    { "form=gilled_stem v_base:with_soil v_under:s30",
      "Stem base: weak · Underside: weak · Whole stem from the side: missing · +7" },
    { "form=gilled_stem v_base:cleaned",
      "Underside: missing · Whole stem from the side: missing · Lengthwise section: missing · +6" },
    { "form=gilled_stem v_base:cleaned v_under+v_stem+v_section+v_top+v_attach+v_insitu+v_substrate+v_habitat:",
      "Scale in the picture: missing" },
    { "form=gilled_stem v_base:cleaned v_under+v_stem+v_section+v_top+v_attach+v_insitu+v_substrate+v_habitat+v_scale:", "" },
    /* an excuse takes nothing off */
    { "form=gilled_stem v_base:cleaned v_under+v_stem+v_section+v_top+v_attach+v_insitu+v_substrate+v_habitat: excuse:v_scale",
      "Scale in the picture: missing" },
  };
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();

  g_test_summary ("one line names what is missing or weak, the base first, three in words and the rest as a number");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsFind) find = support_find (cases[i].model);
      g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, knowledge, "en");
      g_autofree char *line = ws_evidence_dup_summary (evidence, knowledge, "en");

      g_test_message ("%s", cases[i].model);
      g_assert_cmpstr (line, ==, cases[i].line);
    }
}

static void
test_base_first (void)
{
  g_autoptr (GHashTable) tables = support_load_tables ();
  g_autoptr (WsKnowledge) knowledge = NULL;
  g_autoptr (WsFind) find = support_find ("form=gilled_stem");
  g_autoptr (WsEvidence) evidence = NULL;
  g_autofree char *line = NULL;

  g_test_summary ("SAFETY: the base stands first and is never among the “+7”, even if somebody moves it to the end of views.tsv");
  support_replace (tables, "views.tsv", "v_base\tstem_base\tyes\n", "");
  support_replace (tables, "views.tsv", "\nv_slip\tslip\tno", "\nv_slip\tslip\tno\nv_base\tstem_base\tyes");
  knowledge = ws_knowledge_parse (tables, NULL);
  g_assert_nonnull (knowledge);
  evidence = ws_evidence_judge (find, knowledge, "en");
  g_assert_true (((WsEvidenceLine *) g_ptr_array_index (evidence->lines, evidence->lines->len - 1))->view->is_base);
  line = ws_evidence_dup_summary (evidence, knowledge, "en");
  g_assert_true (g_str_has_prefix (line, "Stem base: missing"));
}

static void
test_warning (void)
{
  static const struct { const char *model; gboolean warns, touch; const char *reason; } cases[] = {
    { "form=gilled_stem", TRUE, FALSE, NULL },
    { "form=gilled_stem v_base:cut", TRUE, FALSE, "base_cut" },
    { "form=gilled_stem v_base:with_soil", TRUE, FALSE, "base_with_soil" },
    { "form=gilled_stem v_base:cleaned,whole", TRUE, FALSE, "whole_photo_only" },
    { "form=gilled_stem v_base:cleaned,unmeasured", TRUE, FALSE, "not_measured" },
    { "form=gilled_stem excuse:v_base", TRUE, FALSE, NULL },
    { "form=gilled_stem v_base:cleaned", FALSE, FALSE, NULL },
    { "form=crust v_under:", FALSE, FALSE, NULL },
    { "form=crust", TRUE, FALSE, NULL },       /* nothing shows that it is one */
    { "form=bracket", TRUE, FALSE, NULL },     /* recommended, and said all the same */
    { "form=club_coral", TRUE, TRUE, NULL },
    { "form=club_coral v_base:cut", TRUE, TRUE, "base_cut" },
    { "form=club_coral v_base:cleaned", FALSE, FALSE, NULL },
    /* nobody has said what it is, or with a word that no table has: it may be finger-like */
    { "", TRUE, TRUE, NULL },
    { "form=no_such_form", TRUE, TRUE, NULL },
    { "form=gilled_stem form=club_coral", TRUE, TRUE, NULL },
  };
  static const char *const languages[] = { "en", "de" };
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();

  g_test_summary ("SAFETY: a base that is not shown is said in words with the reason; “do not touch” stands before any advice to dig");
  for (gsize i = 0; i < 2 * G_N_ELEMENTS (cases); i++)
    {
      const char *language = languages[i % 2];
      const char *touch = ws_knowledge_text (knowledge, language, "caution", "touch");
      const char *missing = ws_knowledge_text (knowledge, language, "caution", "base_missing");
      g_autoptr (WsFind) find = support_find (cases[i / 2].model);
      g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, knowledge, language);
      g_autofree char *warning = ws_evidence_dup_base_warning (evidence, knowledge, language), *want = NULL;
      const char *reason = cases[i / 2].reason;

      g_test_message ("%s, %s", cases[i / 2].model, language);
      if (cases[i / 2].warns)
        want = g_strconcat (cases[i / 2].touch ? touch : "", cases[i / 2].touch ? " " : "", missing,
                            reason != NULL ? " (" : NULL, reason != NULL ? ws_knowledge_text (knowledge, language, "reason", reason) : NULL,
                            ")", NULL);
      g_assert_cmpstr (warning, ==, want);
    }
}

static void
test_no_praise (void)
{
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();
  g_autoptr (WsFind) find = support_find ("form=gilled_stem v_base:cleaned v_under+v_stem+v_section+v_top+v_attach+v_margin+"
                                          "v_insitu+v_substrate+v_habitat+v_print+v_change+v_ages+v_scale+v_slip:");
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, knowledge, "en");
  g_autofree char *line = ws_evidence_dup_summary (evidence, knowledge, "en");

  g_test_summary ("SAFETY: when nothing is missing, nothing is said: no “complete”, no “ready”");
  g_assert_cmpstr (line, ==, "");
  g_assert_null (ws_evidence_dup_base_warning (evidence, knowledge, "en"));
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/evidence-words/summary", test_summary_line);
  g_test_add_func ("/find/evidence-words/base-first", test_base_first);
  g_test_add_func ("/find/evidence-words/warning", test_warning);
  g_test_add_func ("/find/evidence-words/no-praise", test_no_praise);
  return g_test_run ();
}
