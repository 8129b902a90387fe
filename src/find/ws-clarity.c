/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-clarity.h"

#include <math.h>

const char *
ws_clarity_id (WsClarity clarity)
{
  static const char *const ids[] = { "unknown", "useless", "weak", "enough" };

  return ids[clarity];
}

static gboolean
is_base_mark (const WsMark *mark, const WsKnowledge *knowledge)
{
  for (guint i = 0; mark->views[i] != NULL; i++)
    {
      const WsView *view = ws_knowledge_find_view (knowledge, mark->views[i]);

      if (view != NULL && view->is_base)
        return TRUE;
    }
  return FALSE;
}

/* Fills the one %s of a reason by hand: a translated text is never a format. */
static char *
reason_text (const WsKnowledge *knowledge, const char *language, const char *id, const char *number)
{
  g_auto (GStrv) halves = g_strsplit (ws_knowledge_text (knowledge, language, "reason", id), "%s", 2);

  return halves[0] != NULL && halves[1] != NULL ? g_strconcat (halves[0], number, halves[1], NULL)
                                                : g_strdup (halves[0] != NULL ? halves[0] : id);
}

/* Blur over width. The blur is taken as large as the measure may have missed, 0.3 px, so that a photo whose blur was
 * shrunk to hardly a pixel does not pass by the error; of a mark so narrow that this would decide alone, less. */
static double
judged_blur (const WsMeasure *measure)
{
  double width = MAX (measure->width_px, 1);

  return measure->blur_sigma / width + MIN (0.3 / width, 0.01);
}

typedef struct
{
  WsClarity worst;
  const char *reason;   /* id of the worst fault */
  char number[32];      /* what it says */
} Verdict;

static void
find_fault (Verdict *verdict, WsClarity clarity, const char *reason, const char *format, double number)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  /* WS_CLARITY_UNKNOWN ranks between useless and weak: it counts as weak, but a fault that is
   * certain is the better reason. */
  static const int rank[] = { 1, 0, 1, 2 };

  if (rank[clarity] >= rank[verdict->worst] && verdict->reason != NULL)
    return;
  verdict->worst = clarity;
  verdict->reason = reason;
  g_ascii_formatd (text, sizeof text, format, number);
  g_strlcpy (verdict->number, text, sizeof verdict->number);
}

static void
judge_exposure (Verdict *verdict, const WsThresholds *t, double share, const char *reason)
{
  if (share >= t->exposure_useless)
    find_fault (verdict, WS_CLARITY_USELESS, reason, "%.0f", share * 100);
  else if (share >= t->exposure_weak)
    find_fault (verdict, WS_CLARITY_WEAK, reason, "%.0f", share * 100);
}

WsClarity
ws_clarity_judge (const WsMark *mark, const WsKnowledge *knowledge, const char *language, char **reason)
{
  const WsThresholds *t = ws_knowledge_get_thresholds (knowledge);
  const WsMeasure *m = &mark->measure;
  Verdict verdict = { WS_CLARITY_ENOUGH, NULL, "" };

  if (!m->measured)
    find_fault (&verdict, WS_CLARITY_UNKNOWN, "not_measured", "%.0f", 0);
  else
    {
      gboolean base = is_base_mark (mark, knowledge);
      double blur = judged_blur (m);
      /* A strip is no picture of a part: what is wide and flat counts by its height. Judgement. */
      int across = MIN (m->width_px, 2 * m->height_px);

      if (across < (base ? t->base_min_px : t->part_min_px))
        find_fault (&verdict, base ? WS_CLARITY_USELESS : WS_CLARITY_WEAK, "too_small", "%.0f", across);
      if (isnan (m->blur_sigma))
        find_fault (&verdict, WS_CLARITY_UNKNOWN, "cannot_tell", "%.0f", 0);
      else if (blur >= t->blur_useless)
        find_fault (&verdict, WS_CLARITY_USELESS, "blurred", "%.1f", m->blur_sigma);
      else if (blur >= t->blur_weak)
        find_fault (&verdict, WS_CLARITY_WEAK, "blurred", "%.1f", m->blur_sigma);
      judge_exposure (&verdict, t, m->burnt_out, "burnt_out");
      judge_exposure (&verdict, t, m->blocked_up, "blocked_up");
    }
  if (reason != NULL)
    {
      g_autofree char *number = g_str_has_suffix (verdict.reason != NULL ? verdict.reason : "", "_out") ||
                                g_strcmp0 (verdict.reason, "blocked_up") == 0
                                ? g_strconcat (verdict.number, " %", NULL) : g_strdup (verdict.number);

      *reason = verdict.reason != NULL ? reason_text (knowledge, language, verdict.reason, number) : NULL;
    }
  return verdict.worst;
}
