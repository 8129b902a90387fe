/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The evidence list in words: one line for a list, and the warning above everything. */
#include "ws-evidence.h"

/* Lists name this many views; the rest is a number. */
#define NAMED 3

char *
ws_evidence_dup_summary (const WsEvidence *evidence, const WsKnowledge *knowledge, const char *language)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  guint more = 0;

  for (guint i = 0; i < evidence->lines->len; i++)
    {
      const WsEvidenceLine *line = g_ptr_array_index (evidence->lines, i);
      const char *name = ws_knowledge_text (knowledge, language, "view", line->view->id);
      const char *state = ws_knowledge_text (knowledge, language, "evidence_state", ws_evidence_state_id (line->state));

      if (line->need != WS_NEED_REQUIRED || line->state == WS_EVIDENCE_SHOWN)
        continue;
      /* The base first, whatever the order of the table. */
      if (line->view->is_base)
        g_ptr_array_insert (words, 0, g_strdup_printf ("%s: %s", name, state));
      else if (words->len < NAMED)
        g_ptr_array_add (words, g_strdup_printf ("%s: %s", name, state));
      else
        more++;
    }
  if (more > 0)
    g_ptr_array_add (words, g_strdup_printf ("+%u", more));
  g_ptr_array_add (words, NULL);
  return g_strjoinv (" · ", (char **) words->pdata);
}

/* Nobody has said yet that it is none, or somebody has said that it is one. */
gboolean
ws_evidence_may_be_finger_like (const WsEvidence *evidence, const WsKnowledge *knowledge)
{
  return ws_knowledge_find_growth_form (knowledge, evidence->growth_form) == NULL ||
         ws_find_has_state (evidence->find, "growth_form", "club_coral");
}

char *
ws_evidence_dup_base_warning (const WsEvidence *evidence, const WsKnowledge *knowledge, const char *language)
{
  const WsEvidenceLine *base = ws_evidence_get_base (evidence);
  const char *touch, *missing;

  if (base == NULL || base->state == WS_EVIDENCE_SHOWN)
    return NULL;
  touch = ws_evidence_may_be_finger_like (evidence, knowledge) ? ws_knowledge_text (knowledge, language, "caution", "touch") : "";
  missing = ws_knowledge_text (knowledge, language, "caution", "base_missing");
  return g_strconcat (touch, touch[0] != '\0' ? " " : "", missing, base->marks->len > 0 ? " (" : NULL, base->detail,
                      ")", NULL);
}
