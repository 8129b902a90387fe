/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-go-back.h"

#include "find-support.h"

#include <string.h>

#define HOUR (G_GINT64_CONSTANT (3600) * G_USEC_PER_SEC)

static WsKnowledge *knowledge;

static gint64
at (const char *text)
{
  WsMoment moment = WS_MOMENT_INIT;

  g_assert_true (ws_moment_set_local (&moment, text));
  return moment.local_us;
}

static WsFind *
find_of (const char *model, const char *when, WsSpecimenIs is)
{
  WsFind *find = support_find (model);

  if (when != NULL)
    g_assert_true (ws_moment_set_local (&find->when, when));
  find->specimen_is = is;
  return find;
}

/* "v_print:24 v_base:72k": hours left, k of the kept specimen, s at the spot. */
static char *
list_text (const WsFind *find, gint64 now, guint most)
{
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, knowledge, "en");
  g_autoptr (GArray) lines = ws_go_back_judge (evidence, knowledge, now);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < MIN (lines->len, most); i++)
    {
      const WsGoBackLine *line = &g_array_index (lines, WsGoBackLine, i);

      g_string_append_printf (text, "%s%s:%" G_GINT64_FORMAT "%c", i > 0 ? " " : "", line->line->view->id,
                              line->until_us == G_MAXINT64 ? -1 : (line->until_us - ws_moment_sort_key (&find->when)) / HOUR,
                              line->where == WS_GO_BACK_KEPT ? 'k' : 's');
    }
  return g_string_free (text, FALSE);
}

static void
test_order (void)
{
  static const struct { const char *model; WsSpecimenIs is; const char *now; const char *first; } cases[] = {
    /* trade, 6.4: stain and milk today, the print tonight, the base of another specimen tomorrow and later */
    { "form=gilled_stem", WS_SPECIMEN_KEPT, "2025-10-04T12:00:00", "v_change:12k v_print:24k v_margin:48k v_base:72k" },
    { "form=pored_stem", WS_SPECIMEN_KEPT, "2025-10-04T12:00:00", "v_change:12k v_print:24k v_base:48k" },
    { "form=gilled_stem fertile_surface=liquefied", WS_SPECIMEN_KEPT, "2025-10-04T12:00:00", "v_base:6k v_under:6k" },
    { "form=bracket v_change:", WS_SPECIMEN_KEPT, "2025-10-04T12:00:00", "v_margin:48k v_base:72k" },
    /* at the spot it lasts longer */
    { "form=gilled_stem", WS_SPECIMEN_AT_SPOT, "2025-10-04T12:00:00", "v_print:168s v_change:168s" },
    /* the kept one is past it: another one at the spot */
    { "form=gilled_stem", WS_SPECIMEN_KEPT, "2025-10-09T12:00:00", "v_print:168s v_change:168s" },
    /* a base that was cut off is only to be had of another specimen */
    { "form=gilled_stem v_base:cut v_change: v_print: v_margin: v_under:", WS_SPECIMEN_KEPT, "2025-10-04T12:00:00", "v_stem:72k" },
    { "form=gilled_stem", WS_SPECIMEN_GONE, "2025-10-04T12:00:00", "" },
    { "form=gilled_stem", WS_SPECIMEN_KEPT, "2026-10-04T12:00:00", "" },
  };

  g_test_summary ("The soonest lost first, by view, kind and note; nothing of a specimen that is gone, nothing that is past it");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsFind) find = find_of (cases[i].model, "2025-10-04T10:00:00", cases[i].is);
      g_auto (GStrv) wanted = g_strsplit (cases[i].first, " ", -1);
      g_autofree char *text = list_text (find, at (cases[i].now), g_strv_length (wanted));

      g_test_message ("%s", cases[i].model);
      g_assert_cmpstr (text, ==, cases[i].first);
    }
}

static void
test_left_out (void)
{
  g_autoptr (WsFind) find = find_of ("form=gilled_stem v_top: excuse:v_base", "2025-10-04T10:00:00", WS_SPECIMEN_KEPT);
  g_autofree char *text = list_text (find, WS_GO_BACK_ANY_TIME, 99);

  g_test_summary ("What is shown, what is only asked for if there is one, and what cannot be had is not gone back for");
  g_assert_null (strstr (text, "v_top:"));
  g_assert_null (strstr (text, "v_base:"));
  g_assert_null (strstr (text, "v_ring:"));
  g_assert_nonnull (strstr (text, "v_section:"));
}

static void
test_cut_base (void)
{
  g_autoptr (WsFind) find = find_of ("form=gilled_stem v_base:cut", "2025-10-04T10:00:00", WS_SPECIMEN_KEPT);
  g_autofree char *text = list_text (find, at ("2025-10-04T12:00:00"), 99);

  g_test_summary ("A base that was cut off is to be had at the spot only");
  g_assert_nonnull (strstr (text, "v_base:336s"));
}

static void
test_list (void)
{
  g_autoptr (GPtrArray) finds = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_find_unref);
  g_autoptr (GPtrArray) list = NULL;
  static const struct { const char *number, *model, *when; WsSpecimenIs is; } models[] = {
    { "slow", "form=bracket", "2025-10-04T10:00:00", WS_SPECIMEN_KEPT }, { "ink", "form=gilled_stem fertile_surface=liquefied", "2025-10-04T10:00:00", WS_SPECIMEN_KEPT },
    { "old", "form=gilled_stem", "2024-10-04T10:00:00", WS_SPECIMEN_KEPT }, { "untimed", "form=gilled_stem", NULL, WS_SPECIMEN_KEPT },
    { "unknown", "form=gilled_stem", NULL, WS_SPECIMEN_UNKNOWN }, { "gone", "form=gilled_stem", "2025-10-04T10:00:00", WS_SPECIMEN_GONE },
    { "said-nothing", "form=gilled_stem", "2025-10-04T11:00:00", WS_SPECIMEN_UNKNOWN } };
  g_autoptr (GString) order = g_string_new (NULL);

  g_test_summary ("Across finds: the soonest lost first, without a time last, old and gone ones not at all");
  for (gsize i = 0; i < G_N_ELEMENTS (models); i++)
    {
      WsFind *find = find_of (models[i].model, models[i].when, models[i].is);

      ws_set_string (&find->number, models[i].number);
      g_ptr_array_add (finds, find);
    }
  list = ws_go_back_list (finds, NULL, knowledge, "en", at ("2025-10-04T14:00:00"));
  for (guint i = 0; i < list->len; i++)
    g_string_append_printf (order, "%s ", ((WsGoBackFind *) g_ptr_array_index (list, i))->evidence->find->number);
  g_assert_cmpstr (order->str, ==, "ink slow said-nothing untimed ");
}

static void
test_words (void)
{
  static const struct { int hours; const char *en, *de; } cases[] = {
    { 3, "within hours", "binnen Stunden" }, { 20, "today", "heute" }, { 30, "by tomorrow", "bis morgen" },
    { 80, "within 3 days", "binnen 3 Tagen" } };

  g_test_summary ("How soon, in words");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WsGoBackLine line = { NULL, WS_GO_BACK_KEPT, cases[i].hours * HOUR };
      g_autofree char *en = ws_go_back_dup_when (&line, 0, knowledge, "en"), *de = ws_go_back_dup_when (&line, 0, knowledge, "de");

      g_assert_cmpstr (en, ==, cases[i].en);
      g_assert_cmpstr (de, ==, cases[i].de);
    }
}

static void
test_touch (void)
{
  static const struct { const char *model; gboolean warned; } cases[] = {
    { "", TRUE }, { "form=club_coral", TRUE }, { "form=club_coral? form=gilled_stem", TRUE }, { "form=no_such_form", TRUE }, { "form=gilled_stem", FALSE } };

  g_test_summary ("SAFETY: do not touch, before any advice to dig, unless every note says another growth form");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsFind) find = support_find (cases[i].model);
      g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, knowledge, "en");

      g_assert_true ((ws_go_back_get_touch_warning (evidence, knowledge, "en")[0] != '\0') == cases[i].warned);
    }
}

static void
test_tables (void)
{
  static const struct { const char *table, *row, *broken; } cases[] = {
    { "go-back.tsv", "view\tv_print\t24\t168", "view\tv_print\tsoon\t168" }, { "go-back.tsv", "view\tv_print\t24\t168", "view\tv_none\t24\t168" },
    { "go-back.tsv", "view\tv_print\t24\t168", "view\tv_print\t-1\t168" }, { "go-back.tsv", "form\tbracket", "form\tumbrella" },
    { "go-back.tsv", "note\tfertile_surface=liquefied", "note\tfertile_surface=ink" }, { "go-back.tsv", "note\tfertile_surface=liquefied", "note\tliquefied" },
    { "applies.tsv", "gill_edge\tgilled_stem|", "gill_edge\tumbrella|" }, { "applies.tsv", "body_width\t\tsection_outline", "body_width\t\tnothing" },
    { "surfaces.tsv", "egg\tnot_exposed", "egg\tshell" } };

  g_test_summary ("A broken row is refused with the name of its file");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GHashTable) tables = support_load_tables ();
      g_autoptr (GError) error = NULL;

      support_replace (tables, cases[i].table, cases[i].row, cases[i].broken);
      g_assert_null (ws_knowledge_parse (tables, &error));
      g_assert_nonnull (strstr (error->message, cases[i].table));
    }
}

int
main (int argc, char **argv)
{
  int result;

  g_test_init (&argc, &argv, NULL);
  knowledge = support_load_knowledge ();
  g_test_add_func ("/find/go-back/order", test_order);
  g_test_add_func ("/find/go-back/left-out", test_left_out);
  g_test_add_func ("/find/go-back/cut-base", test_cut_base);
  g_test_add_func ("/find/go-back/list", test_list);
  g_test_add_func ("/find/go-back/words", test_words);
  g_test_add_func ("/find/go-back/touch", test_touch);
  g_test_add_func ("/find/go-back/tables", test_tables);
  result = g_test_run ();
  ws_knowledge_unref (knowledge);
  return result;
}
