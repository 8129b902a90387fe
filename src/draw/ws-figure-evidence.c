/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-figure-evidence.h"

const WsEvidenceLine *
ws_figure_evidence_get_line (const WsFigureEvidence *source, const char *part_id)
{
  const WsPart *part = ws_knowledge_find_part (source->knowledge, part_id);
  const WsEvidenceLine *line = NULL;

  for (guint i = 0; part != NULL && line == NULL && part->views[i] != NULL; i++)
    line = ws_evidence_get_line (source->evidence, part->views[i]);
  return line;
}

/* A mark that no line judges is of unknown worth: hatched, not inked. */
static WsEvidenceState
state_of (const char *part, gpointer data)
{
  const WsFigureEvidence *source = data;
  const WsEvidenceLine *line = ws_figure_evidence_get_line (source, part);
  const GPtrArray *marks = source->evidence->find->marks;

  if (line != NULL)
    return line->state;
  for (guint i = 0; i < marks->len; i++)
    if (g_str_equal (((const WsMark *) g_ptr_array_index (marks, i))->part, part))
      return WS_EVIDENCE_WEAK;
  return WS_EVIDENCE_MISSING;
}

/* What is needed only if there is one is not yet asked for. */
static gboolean
is_asked (const char *part, gpointer data)
{
  const WsEvidenceLine *line = ws_figure_evidence_get_line (data, part);

  return line != NULL && line->need != WS_NEED_ONLY_IF;
}

/* Several states of the base may be noted; the one that warns most is drawn. */
static const char *
base_of (const WsFind *find)
{
  static const char *const order[] = { "volva_sac", "volva_collar", "volva_crumbly", "volva_traces", "rimmed_bulb",
                                       "bulb", "club", "rooting", "pointed" };

  for (guint i = 0; i < G_N_ELEMENTS (order); i++)
    if (ws_find_has_state (find, "stem_base", order[i]))
      return order[i];
  return "";
}

void
ws_figure_evidence_look (WsFigureEvidence *source, WsFigureLook *look)
{
  const WsFind *find = source->evidence->find;
  const char *ring = ws_find_get_state (find, "ring");

  look->state_of = state_of;
  look->is_asked = is_asked;
  look->data = source;
  look->ring = *ring != '\0' && !g_str_equal (ring, "none_seen");
  look->base = base_of (find);
}

const char *
ws_figure_evidence_get_part (const WsFigure *figure, const WsKnowledge *knowledge, const char *view,
                             const char *growth_form)
{
  const char *const *parts = ws_figure_get_parts (figure);
  const char *wanted = ws_knowledge_part_of_view (knowledge, view, growth_form);
  const char *other = NULL;

  for (guint i = 0; parts[i] != NULL; i++)
    {
      const WsPart *part = ws_knowledge_find_part (knowledge, parts[i]);

      if (g_str_equal (parts[i], wanted))
        return parts[i];
      if (other == NULL && part != NULL && g_strv_contains (part->views, view))
        other = parts[i];
    }
  return other;
}
