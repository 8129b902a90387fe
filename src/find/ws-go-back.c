/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-go-back.h"

#define HOUR (G_GINT64_CONSTANT (3600) * G_USEC_PER_SEC)

/* --- One find ------------------------------------------------------------------------------------------------- */

static gboolean
row_applies (const WsLasting *row, const WsEvidence *evidence, const WsEvidenceLine *line)
{
  if (g_str_equal (row->kind, "view"))
    return g_str_equal (row->id, line->view->id);
  if (g_str_equal (row->kind, "form"))
    return g_str_equal (row->id, evidence->growth_form);
  if (g_str_equal (row->kind, "reason"))
    return g_str_equal (row->id, line->reason);
  for (guint s = 0; row->states[s] != NULL; s++)
    if (ws_find_has_state (evidence->find, row->id, row->states[s]))
      return TRUE;
  return FALSE;
}

/* A place and its surroundings do not spoil with the specimen. */
static gboolean
is_of_the_place (const WsEvidenceLine *line, const WsLasting *view_row)
{
  return view_row != NULL && view_row->kept_h == 0 && !line->view->is_base;
}

/* Hours that are left of the kept specimen and at the spot, 0: not to be had there. Nothing known: a week. */
static void
hours_of (const WsEvidence *evidence, const WsEvidenceLine *line, const WsKnowledge *knowledge, guint *kept, guint *spot)
{
  GPtrArray *rows = ws_knowledge_get_lastings (knowledge);
  const WsLasting *view_row = NULL;

  *kept = *spot = 7 * 24;
  for (guint i = 0; i < rows->len; i++)
    {
      const WsLasting *row = g_ptr_array_index (rows, i);

      if (g_str_equal (row->kind, "view") && row_applies (row, evidence, line))
        {
          view_row = row;
          *kept = row->kept_h;
          *spot = row->spot_h;
        }
    }
  for (guint i = 0; i < rows->len && !is_of_the_place (line, view_row); i++)
    {
      const WsLasting *row = g_ptr_array_index (rows, i);

      if (row != view_row && row_applies (row, evidence, line))
        {
          *kept = MIN (*kept, row->kept_h);
          *spot = MIN (*spot, row->spot_h);
        }
    }
}

/* FALSE when it is not to be had any more. Where nobody said what became of the specimen, it may have been kept. */
static gboolean
judge_line (const WsEvidence *evidence, const WsEvidenceLine *line, const WsKnowledge *knowledge, gint64 now_us,
            WsGoBackLine *result)
{
  gint64 when = ws_moment_sort_key (&evidence->find->when);
  gboolean may_be_kept = evidence->find->specimen_is != WS_SPECIMEN_AT_SPOT;
  guint kept, spot;

  hours_of (evidence, line, knowledge, &kept, &spot);
  result->line = line;
  result->where = may_be_kept && kept > 0 ? WS_GO_BACK_KEPT : WS_GO_BACK_SPOT;
  result->until_us = G_MAXINT64;
  if (when == WS_MOMENT_UNKNOWN)
    return result->where == WS_GO_BACK_KEPT || spot > 0;
  result->until_us = when + (gint64) (result->where == WS_GO_BACK_KEPT ? kept : spot) * HOUR;
  if (result->where == WS_GO_BACK_KEPT && result->until_us < now_us && spot > 0)
    {
      result->where = WS_GO_BACK_SPOT;
      result->until_us = when + (gint64) spot * HOUR;
    }
  return (result->where == WS_GO_BACK_KEPT || spot > 0) && result->until_us >= now_us;
}

static int
by_loss (gconstpointer a, gconstpointer b)
{
  const WsGoBackLine *la = a, *lb = b;

  if (la->until_us != lb->until_us)
    return la->until_us < lb->until_us ? -1 : 1;
  if (la->line->view->is_base != lb->line->view->is_base)
    return la->line->view->is_base ? -1 : 1;
  return (lb->line->need == WS_NEED_REQUIRED) - (la->line->need == WS_NEED_REQUIRED);
}

GArray *
ws_go_back_judge (const WsEvidence *evidence, const WsKnowledge *knowledge, gint64 now_us)
{
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (WsGoBackLine));

  for (guint i = 0; i < evidence->lines->len && evidence->find->specimen_is != WS_SPECIMEN_GONE; i++)
    {
      const WsEvidenceLine *line = g_ptr_array_index (evidence->lines, i);
      WsGoBackLine result;

      if (line->need != WS_NEED_ONLY_IF && line->state != WS_EVIDENCE_SHOWN && line->excuse == NULL &&
          judge_line (evidence, line, knowledge, now_us, &result))
        g_array_append_val (lines, result);
    }
  /* Stable, so that the order of the evidence list decides the rest. */
  g_array_sort (lines, by_loss);
  return lines;
}

/* --- All finds -------------------------------------------------------------------------------------------------- */

void
ws_go_back_find_free (WsGoBackFind *find)
{
  g_array_unref (find->lines);
  ws_evidence_free (find->evidence);
  ws_foray_unref (find->foray);
  g_free (find);
}

/* A find without a time is fresh only when somebody says so. */
static gboolean
may_be_fresh (const WsFind *find)
{
  return find->specimen_is != WS_SPECIMEN_GONE &&
         (ws_moment_is_known (&find->when) || find->specimen_is != WS_SPECIMEN_UNKNOWN);
}

static WsGoBackFind *
judge_find (const WsFind *find, const WsKnowledge *knowledge, const char *language, gint64 now_us)
{
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, knowledge, language);
  g_autoptr (GArray) lines = ws_go_back_judge (evidence, knowledge, now_us);
  WsGoBackFind *result;

  if (lines->len == 0)
    return NULL;
  result = g_new0 (WsGoBackFind, 1);
  result->evidence = g_steal_pointer (&evidence);
  result->lines = g_steal_pointer (&lines);
  return result;
}

static int
by_soonest (gconstpointer a, gconstpointer b)
{
  const WsGoBackFind *fa = *(WsGoBackFind *const *) a, *fb = *(WsGoBackFind *const *) b;
  gint64 ua = g_array_index (fa->lines, WsGoBackLine, 0).until_us, ub = g_array_index (fb->lines, WsGoBackLine, 0).until_us;

  return ua < ub ? -1 : ua > ub ? 1 : g_strcmp0 (fa->evidence->find->number, fb->evidence->find->number);
}

/* Older than anything in the table can last: not judged at all, so that a library of many years stays quick. */
static gint64
longest_us (const WsKnowledge *knowledge)
{
  GPtrArray *rows = ws_knowledge_get_lastings (knowledge);
  guint hours = 7 * 24;

  for (guint i = 0; i < rows->len; i++)
    {
      const WsLasting *row = g_ptr_array_index (rows, i);

      hours = MAX (hours, MAX (row->kept_h, row->spot_h));
    }
  return (gint64) hours * HOUR;
}

GPtrArray *
ws_go_back_list (GPtrArray *finds, GPtrArray *forays, const WsKnowledge *knowledge, const char *language, gint64 now_us)
{
  GPtrArray *list = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_go_back_find_free);
  g_autoptr (GHashTable) by_id = g_hash_table_new (g_str_hash, g_str_equal);
  gint64 longest = longest_us (knowledge);

  for (guint i = 0; forays != NULL && i < forays->len; i++)
    g_hash_table_insert (by_id, ((WsForay *) g_ptr_array_index (forays, i))->id, g_ptr_array_index (forays, i));
  for (guint i = 0; i < finds->len; i++)
    {
      const WsFind *find = g_ptr_array_index (finds, i);
      gint64 when = ws_moment_sort_key (&find->when);
      const WsForay *foray = find->foray_id != NULL ? g_hash_table_lookup (by_id, find->foray_id) : NULL;
      WsGoBackFind *entry = NULL;

      if (may_be_fresh (find) && (when == WS_MOMENT_UNKNOWN || now_us == WS_GO_BACK_ANY_TIME || when > now_us - longest))
        entry = judge_find (find, knowledge, language, now_us);
      if (entry == NULL)
        continue;
      entry->foray = foray != NULL ? ws_foray_ref (foray) : NULL;
      g_ptr_array_add (list, entry);
    }
  g_ptr_array_sort (list, by_soonest);
  return list;
}

/* --- Words --------------------------------------------------------------------------------------------------------- */

char *
ws_go_back_dup_when (const WsGoBackLine *line, gint64 now_us, const WsKnowledge *knowledge, const char *language)
{
  gint64 hours = (line->until_us - now_us) / HOUR;
  const char *id = hours < 8 ? "hours" : hours < 24 ? "today" : hours < 48 ? "tomorrow" : "days";
  g_autofree char *number = g_strdup_printf ("%" G_GINT64_FORMAT, hours / 24);
  g_auto (GStrv) halves = NULL;

  if (line->until_us == G_MAXINT64)
    id = "no_time";
  /* The one %s is filled by hand: a text of a table is never a format. */
  halves = g_strsplit (ws_knowledge_text (knowledge, language, "go_back", id), "%s", 2);
  return g_strjoinv (number, halves);
}

const char *
ws_go_back_get_touch_warning (const WsEvidence *evidence, const WsKnowledge *knowledge, const char *language)
{
  return ws_evidence_may_be_finger_like (evidence, knowledge) ? ws_knowledge_text (knowledge, language, "caution", "touch") : "";
}
