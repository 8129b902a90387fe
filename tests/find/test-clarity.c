/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-clarity.h"

#include "find-support.h"

#include <locale.h>
#include <math.h>
#include <string.h>

static const WsMark *
only_mark (const WsFind *find)
{
  g_assert_cmpuint (find->marks->len, ==, 1);
  return g_ptr_array_index (find->marks, 0);
}

static void
test_cases (void)
{
  /* Thresholds of data/knowledge/thresholds.tsv (judgement): a base from 200 px, another part from 120 px; blur and
     0.3 px, per width, from 0.012 weak, from 0.03 useless; blank white or black from 15 % weak, from 35 % useless. */
  static const struct { const char *model, *clarity, *says; } cases[] = {
    { "v_top:", "enough", NULL },                { "v_top:s11.6", "enough", NULL },
    { "v_top:s11.8", "weak", "11.8" },           { "v_top:s29.6", "weak", "29.6" },
    { "v_top:s29.8", "useless", "29.8" },          { "v_top:s900", "useless", "900.0" },
    { "v_top:w500,s5.8", "weak", "5.8" },        { "v_top:w500,s5.6", "enough", NULL },
    { "v_top:w120,s1", "enough", NULL },         { "v_top:w119,s1", "weak", "119" },
    { "v_top:w1,s0", "weak", "1" },              { "v_top:w0,s0", "weak", "0" },
    { "v_base:w200,s1", "enough", NULL },        { "v_base:w199,s1", "useless", "199" },
    { "v_base:w0,s0", "useless", "0" },          { "v_stem+v_base:w199,s1", "useless", "199" },
    { "v_top:b14.9", "enough", NULL },           { "v_top:b15", "weak", "15 %" },
    { "v_top:b35", "useless", "35 %" },          { "v_top:b100", "useless", "100 %" },
    { "v_top:k15", "weak", "15 %" },             { "v_top:k35", "useless", "35 %" },
    { "v_top:s?", "unknown", "plain" },          { "v_top:unmeasured", "unknown", "measured" },
    { "v_base:w100,unmeasured", "unknown", "measured" },
    /* The worst fault is the verdict and its reason. */
    { "v_top:w119,s30", "useless", "30.0" },     { "v_top:b15,k35", "useless", "black" },
    { "v_top:s?,b35", "useless", "white" },      { "v_base:w199,s?", "useless", "199" },
    { "v_top:w119,s?", "weak", "119" },
    { "v_no_such_view:w150", "enough", NULL },
  };
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();

  g_test_summary ("marks on both sides of every threshold, and the reason told with its number");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsFind) find = support_find (cases[i].model);
      g_autofree char *reason = NULL, *german = NULL;
      WsClarity clarity = ws_clarity_judge (only_mark (find), knowledge, "en", &reason);

      g_test_message ("%s: %s, %s", cases[i].model, ws_clarity_id (clarity), reason != NULL ? reason : "no reason");
      g_assert_cmpstr (ws_clarity_id (clarity), ==, cases[i].clarity);
      g_assert_cmpint (reason == NULL, ==, clarity == WS_CLARITY_ENOUGH);
      if (reason == NULL)
        continue;
      g_assert_nonnull (strstr (reason, cases[i].says));
      g_assert_null (strstr (reason, "%s"));
      g_assert_cmpint (ws_clarity_judge (only_mark (find), knowledge, "de", &german), ==, clarity);
      g_assert_cmpstr (german, !=, reason);
      g_assert_cmpint (ws_clarity_judge (only_mark (find), knowledge, "en", NULL), ==, clarity);
    }
}

/* Unknown counts as weak. */
static int
worth (WsClarity clarity)
{
  return clarity == WS_CLARITY_ENOUGH ? 2 : clarity == WS_CLARITY_USELESS ? 0 : 1;
}

static void
test_shrinking (void)
{
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();
  g_autoptr (GRand) rand = g_rand_new_with_seed (10);
  guint worse = 0;

  g_test_summary ("5,000 random measures scaled to 0.1-1 of their size, the blur of the smaller missed by what is left of "
                  "0.3 px: smaller is never clearer, and often less clear");
  for (int i = 0; i < 5000; i++)
    {
      g_autoptr (WsFind) find = support_find (g_rand_boolean (rand) ? "v_base:cleaned" : "v_under:");
      WsMark *mark = g_ptr_array_index (find->marks, 0);
      WsMeasure *m = &mark->measure;
      WsClarity before, after;
      int smaller;

      m->width_px = g_rand_int_range (rand, 10, 1500);
      m->blur_sigma = m->width_px * g_rand_double_range (rand, 0, 0.035);
      m->burnt_out = g_rand_double_range (rand, 0, 0.18);
      m->blocked_up = g_rand_double_range (rand, 0, 0.18);
      before = ws_clarity_judge (mark, knowledge, "en", NULL);
      smaller = g_rand_int_range (rand, MAX (m->width_px / 10, 1), m->width_px + 1);
      m->blur_sigma *= (double) smaller / m->width_px;
      if (smaller >= 30)
        m->blur_sigma = MAX (m->blur_sigma - 0.3 * (1 - (double) smaller / m->width_px) * g_rand_double (rand), 0);
      m->width_px = smaller;
      after = ws_clarity_judge (mark, knowledge, "en", NULL);
      g_assert_cmpint (worth (after), <=, worth (before));
      worse += worth (after) < worth (before);
    }
  g_assert_cmpuint (worse, >, 250);
}

static void
test_words (void)
{
  g_autoptr (WsKnowledge) knowledge = support_load_knowledge ();

  g_test_summary ("on screen a clear mark is “sharp enough to judge”, not clear and not good (design, safety law 2)");
  g_assert_cmpstr (ws_knowledge_text (knowledge, "en", "clarity", "enough"), ==, "sharp enough to judge");
  for (int c = WS_CLARITY_UNKNOWN; c <= WS_CLARITY_ENOUGH; c++)
    g_assert_true (ws_knowledge_has_text (knowledge, "clarity", ws_clarity_id ((WsClarity) c)));
}

static void
test_odd_texts (void)
{
  static const struct { const char *text, *says; } cases[] = { { "blurry", "blurry" }, { "%s px blurry", "30.0 px blurry" }, { "by %s", "by 30.0" } };

  g_test_summary ("a reason whose text holds no place for the number, or begins or ends with it, is told as it stands");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GHashTable) tables = support_load_tables ();
      g_autoptr (WsFind) find = support_find ("v_top:s30");
      g_autofree char *row = g_strconcat ("\nreason\tblurred\t", cases[i].text, "\n#", NULL), *reason = NULL;
      g_autoptr (WsKnowledge) knowledge = NULL;

      support_replace (tables, "en/texts.tsv", "\nreason\tblurred\t", row);
      knowledge = ws_knowledge_parse (tables, NULL);
      g_assert_nonnull (knowledge);
      (void) ws_clarity_judge (only_mark (find), knowledge, "en", &reason);
      g_assert_cmpstr (reason, ==, cases[i].says);
    }
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/clarity/cases", test_cases);
  g_test_add_func ("/find/clarity/shrinking", test_shrinking);
  g_test_add_func ("/find/clarity/words", test_words);
  g_test_add_func ("/find/clarity/odd-texts", test_odd_texts);
  return g_test_run ();
}
