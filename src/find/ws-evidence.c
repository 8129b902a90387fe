/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-evidence.h"

#include "ws-groups.h"

#include <string.h>

/* How far one mark shows one view, and why not further. */
typedef struct
{
  WsEvidenceState state;
  WsClarity clarity;
  const char *reason;   /* id */
  char *detail;         /* (nullable) */
  int width;            /* px, to prefer the larger of two equals */
} Judgement;

static gboolean
note_meets (const WsNote *note, const WsCondition *condition)
{
  if (!g_str_equal (note->character, condition->character))
    return FALSE;
  if (condition->states[0] == NULL)
    return TRUE;
  for (guint i = 0; note->states[i] != NULL; i++)
    if (g_strv_contains (condition->states, note->states[i]) != condition->negated)
      return TRUE;
  return FALSE;
}

static gboolean
condition_met (const WsFind *find, const WsCondition *condition)
{
  for (guint i = 0; i < find->notes->len; i++)
    if (note_meets (g_ptr_array_index (find->notes, i), condition))
      return TRUE;
  return FALSE;
}

/* A box or oval drawn round the whole picture is the photo as a whole by another name. */
static gboolean
is_all_of_the_picture (const WsShape *shape)
{
  return shape->kind != WS_SHAPE_OUTLINE && shape->bounds.width > 0.999 && shape->bounds.height > 0.999;
}

/* The stem base: only a mark of its own, dug out whole and cleaned, shows it. */
static void
judge_base_kind (const WsMark *mark, const WsKnowledge *knowledge, Judgement *judgement)
{
  const WsBaseKind *kind = ws_knowledge_find_base_kind (knowledge, mark->base_kind);
  static const struct { const char *kind, *reason; } reasons[] = {
    { "with_soil", "base_with_soil" }, { "washed", "base_washed" }, { "cut", "base_cut" },
    { "broken", "base_broken" }, { "in_ground", "base_in_ground" }, { "left_in_hole", "base_left_in_hole" },
    { "from_below", "base_from_below" }, { "cannot_tell", "base_cannot_tell" } };
  WsShows shows = kind != NULL ? kind->shows : WS_SHOWS_NO;

  if (mark->whole_photo || is_all_of_the_picture (mark->shape))
    {
      judgement->state = WS_EVIDENCE_MISSING;
      judgement->reason = "whole_photo_only";
      return;
    }
  if (shows == WS_SHOWS_FULLY)
    return;
  judgement->state = MIN (judgement->state, shows == WS_SHOWS_WEAKLY ? WS_EVIDENCE_WEAK : WS_EVIDENCE_MISSING);
  judgement->reason = kind == NULL ? "base_kind_unanswered" : "base_cannot_tell";
  for (gsize i = 0; kind != NULL && i < G_N_ELEMENTS (reasons); i++)
    if (g_str_equal (reasons[i].kind, kind->id))
      judgement->reason = reasons[i].reason;
}

static gboolean is_covered (const WsMark *mark, const WsFind *find);

/* @language NULL: no detail in words. */
static Judgement
judge_mark (const WsMark *mark, const WsFind *find, const WsView *view, const WsKnowledge *knowledge, const char *language)
{
  Judgement judgement = { WS_EVIDENCE_SHOWN, WS_CLARITY_UNKNOWN, "", NULL, mark->measure.width_px };

  judgement.clarity = ws_clarity_judge (mark, knowledge, language, language != NULL ? &judgement.detail : NULL);
  if (judgement.clarity == WS_CLARITY_USELESS)
    {
      /* A useless base is a missing base; any other useless view is at least seen. */
      judgement.state = view->is_base ? WS_EVIDENCE_MISSING : WS_EVIDENCE_WEAK;
      judgement.reason = "unclear";
    }
  else if (judgement.clarity != WS_CLARITY_ENOUGH)
    {
      judgement.state = WS_EVIDENCE_WEAK;
      judgement.reason = "unclear";
    }
  if (view->is_base)
    judge_base_kind (mark, knowledge, &judgement);
  if (is_covered (mark, find))
    {
      judgement.state = WS_EVIDENCE_MISSING;
      judgement.reason = "covered";
    }
  return judgement;
}

static int
compare_judgements (const Judgement *a, const Judgement *b)
{
  if (a->state != b->state)
    return a->state < b->state ? -1 : 1;
  if (a->clarity != b->clarity)
    return a->clarity < b->clarity ? -1 : 1;
  return a->width < b->width ? -1 : a->width > b->width ? 1 : 0;
}

/* A photo that is set aside is hidden, and is not sent: what it shows, it shows nobody. */
static gboolean
is_on_hidden_photo (const WsMark *mark, const WsFind *find)
{
  const WsPhoto *photo = ws_find_get_photo (find, mark->photo_id);

  return photo != NULL && photo->set_aside;
}

/* What is painted over in every copy shows nobody anything: half of a mark covered is a mark that is lost. */
static gboolean
is_covered (const WsMark *mark, const WsFind *find)
{
  for (guint i = 0; i < find->covers->len; i++)
    {
      const WsCover *cover = g_ptr_array_index (find->covers, i);
      const WsRect *a = &mark->shape->bounds, *b = &cover->shape->bounds;
      double w = MIN (a->x + a->width, b->x + b->width) - MAX (a->x, b->x);
      double h = MIN (a->y + a->height, b->y + b->height) - MAX (a->y, b->y);

      if (g_str_equal (cover->photo_id, mark->photo_id) && w > 0 && h > 0 && w * h >= 0.5 * a->width * a->height)
        return TRUE;
    }
  return FALSE;
}

static void
judge_line (WsEvidenceLine *line, const WsFind *find, const WsKnowledge *knowledge, const char *language)
{
  g_autoptr (GArray) judgements = g_array_new (FALSE, FALSE, sizeof (Judgement));

  line->marks = g_ptr_array_new ();
  line->state = WS_EVIDENCE_MISSING;
  line->reason = g_strdup ("not_marked");
  for (guint i = 0; i < find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (find->marks, i);
      Judgement judgement;
      guint at = 0;

      if (!ws_mark_serves (mark, line->view->id) || is_on_hidden_photo (mark, find))
        continue;
      judgement = judge_mark (mark, find, line->view, knowledge, language);
      while (at < judgements->len &&
             compare_judgements (&g_array_index (judgements, Judgement, at), &judgement) >= 0)
        at++;
      g_array_insert_val (judgements, at, judgement);
      g_ptr_array_insert (line->marks, (int) at, (gpointer) mark);
    }
  for (guint i = 0; i < judgements->len; i++)
    {
      Judgement *judgement = &g_array_index (judgements, Judgement, i);

      if (i == 0)
        {
          line->state = judgement->state;
          ws_set_string (&line->reason, judgement->reason);
          /* The reason of the base kind says more than a number of pixels. */
          if (g_str_equal (judgement->reason, "unclear"))
            line->detail = g_steal_pointer (&judgement->detail);
          else if (judgement->reason[0] != '\0')
            line->detail = g_strdup (ws_knowledge_text (knowledge, language, "reason", judgement->reason));
        }
      g_free (judgement->detail);
    }
  if (judgements->len == 0)
    line->detail = g_strdup (ws_knowledge_text (knowledge, language, "reason", "not_marked"));
}

WsEvidenceState
ws_evidence_judge_view (const WsFind *find, const WsKnowledge *knowledge, const char *view_id, const char *specimen)
{
  const WsView *view = ws_knowledge_find_view (knowledge, view_id);
  WsEvidenceState best = WS_EVIDENCE_MISSING;

  for (guint i = 0; view != NULL && i < find->marks->len && best != WS_EVIDENCE_SHOWN; i++)
    {
      const WsMark *mark = g_ptr_array_index (find->marks, i);

      if (ws_mark_serves (mark, view_id) && !is_on_hidden_photo (mark, find) &&
          (specimen == NULL || g_str_equal (specimen, mark->specimen)))
        best = MAX (best, judge_mark (mark, find, view, knowledge, NULL).state);
    }
  return best;
}

static void
line_free (WsEvidenceLine *line)
{
  g_free (line->reason);
  g_free (line->detail);
  g_ptr_array_unref (line->marks);
  g_free (line);
}

/* Only a form that is sure, and the only one noted, may take the base off the list: an unsure guess, or the form of another
 * specimen, leaves it asked for. Unknown never excludes. */
static gboolean
form_is_sure (const WsFind *find)
{
  const char *form = ws_find_get_growth_form (find);

  for (guint i = 0; i < find->notes->len; i++)
    {
      const WsNote *note = g_ptr_array_index (find->notes, i);

      if (g_str_equal (note->character, "growth_form") &&
          (!note->sure || note->off_photo || note->states[0] == NULL || note->states[1] != NULL ||
           !g_str_equal (note->states[0], form)))
        return FALSE;
    }
  return TRUE;
}

/* Whoever is sure must have shown by what: conditions.tsv, form_shown. */
static gboolean
form_is_shown (const WsFind *find, const WsKnowledge *knowledge)
{
  const WsMeans *means = ws_knowledge_find_means (knowledge, "form_shown");

  for (guint i = 0; means != NULL && means->views[i] != NULL; i++)
    if (ws_evidence_judge_view (find, knowledge, means->views[i], NULL) == WS_EVIDENCE_SHOWN)
      return TRUE;
  return means == NULL;
}

static WsEvidenceLine *
make_line (const WsFind *find, const WsKnowledge *knowledge, const char *language, const WsRequirement *requirement)
{
  WsEvidenceLine *line = g_new0 (WsEvidenceLine, 1);

  line->view = requirement->view;
  line->need = requirement->need == WS_NEED_ONLY_IF && condition_met (find, requirement->condition)
               ? WS_NEED_REQUIRED : requirement->need;
  line->excuse = ws_find_get_excuse (find, line->view->id);
  judge_line (line, find, knowledge, language);
  return line;
}

static void
keep_base (WsEvidence *evidence, const WsFind *find, const WsKnowledge *knowledge, const char *language)
{
  GPtrArray *views = ws_knowledge_get_views (knowledge);
  WsRequirement base = { NULL, WS_NEED_REQUIRED, NULL };

  for (guint i = 0; i < views->len; i++)
    if (((const WsView *) g_ptr_array_index (views, i))->is_base)
      base.view = g_ptr_array_index (views, i);
  if (base.view != NULL && ws_evidence_get_base (evidence) == NULL &&
      (!form_is_sure (find) || !form_is_shown (find, knowledge)))
    g_ptr_array_insert (evidence->lines, 0, make_line (find, knowledge, language, &base));
}

WsEvidence *
ws_evidence_judge (const WsFind *find, const WsKnowledge *knowledge, const char *language)
{
  WsEvidence *evidence = g_new0 (WsEvidence, 1);
  g_autoptr (GArray) requirements = NULL;

  evidence->find = ws_find_ref (find);
  evidence->growth_form = g_strdup (ws_find_get_growth_form (find));
  evidence->base_shown = -1;
  evidence->lines = g_ptr_array_new_with_free_func ((GDestroyNotify) line_free);
  requirements = ws_knowledge_dup_requirements (knowledge, evidence->growth_form);
  for (guint i = 0; i < requirements->len; i++)
    g_ptr_array_add (evidence->lines,
                     make_line (find, knowledge, language, &g_array_index (requirements, WsRequirement, i)));
  keep_base (evidence, find, knowledge, language);
  for (guint i = 0; i < evidence->lines->len; i++)
    {
      const WsEvidenceLine *line = g_ptr_array_index (evidence->lines, i);

      if (line->need == WS_NEED_REQUIRED && line->state != WS_EVIDENCE_SHOWN)
        evidence->n_required_lacking++;
      if (line->view->is_base)
        evidence->base_shown = line->state == WS_EVIDENCE_SHOWN;
    }
  return evidence;
}

void
ws_evidence_free (WsEvidence *evidence)
{
  if (evidence == NULL)
    return;
  g_ptr_array_unref (evidence->lines);
  g_free (evidence->growth_form);
  ws_find_unref (evidence->find);
  g_free (evidence);
}

const WsEvidenceLine *
ws_evidence_get_line (const WsEvidence *evidence, const char *view)
{
  for (guint i = 0; i < evidence->lines->len; i++)
    {
      const WsEvidenceLine *line = g_ptr_array_index (evidence->lines, i);

      if (g_str_equal (line->view->id, view))
        return line;
    }
  return NULL;
}

const WsEvidenceLine *
ws_evidence_get_base (const WsEvidence *evidence)
{
  for (guint i = 0; i < evidence->lines->len; i++)
    {
      const WsEvidenceLine *line = g_ptr_array_index (evidence->lines, i);

      if (line->view->is_base)
        return line;
    }
  return NULL;
}

const char *
ws_evidence_state_id (WsEvidenceState state)
{
  static const char *const ids[] = { "missing", "weak", "shown" };

  return ids[state];
}

const char *
ws_need_id (WsNeed need)
{
  static const char *const ids[] = { "none", "required", "recommended", "only_if" };

  return ids[need];
}
