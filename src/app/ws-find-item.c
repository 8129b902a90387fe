/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-find-item.h"

struct _WsFindItem
{
  GObject parent_instance;

  WsFind *find;
  WsEvidence *evidence;
  WsForay *foray;
};

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsFindItem, ws_find_item, G_TYPE_OBJECT)

static void
clear (WsFindItem *self)
{
  g_clear_pointer (&self->evidence, ws_evidence_free);
  g_clear_pointer (&self->find, ws_find_unref);
  g_clear_pointer (&self->foray, ws_foray_unref);
}

static void
ws_find_item_finalize (GObject *object)
{
  clear (WS_FIND_ITEM (object));
  G_OBJECT_CLASS (ws_find_item_parent_class)->finalize (object);
}

static void
ws_find_item_class_init (WsFindItemClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ws_find_item_finalize;
  signals[CHANGED] = g_signal_new ("changed", WS_TYPE_FIND_ITEM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 0);
}

static void
ws_find_item_init (WsFindItem *self)
{
}

static void
fill (WsFindItem *self, const WsFind *find, WsEvidence *evidence, const WsForay *foray)
{
  WsFind *new_find = ws_find_ref (find);
  WsForay *new_foray = foray != NULL ? ws_foray_ref (foray) : NULL;

  clear (self);
  self->find = new_find;
  self->foray = new_foray;
  self->evidence = evidence;
}

WsFindItem *
ws_find_item_new (const WsFind *find, WsEvidence *evidence, const WsForay *foray)
{
  WsFindItem *self = g_object_new (WS_TYPE_FIND_ITEM, NULL);

  fill (self, find, evidence, foray);
  return self;
}

void
ws_find_item_update (WsFindItem *self, const WsFind *find, WsEvidence *evidence, const WsForay *foray)
{
  g_return_if_fail (WS_IS_FIND_ITEM (self));
  fill (self, find, evidence, foray);
  g_signal_emit (self, signals[CHANGED], 0);
}

const char *
ws_find_item_get_id (WsFindItem *self)
{
  g_return_val_if_fail (WS_IS_FIND_ITEM (self), NULL);
  return self->find->id;
}

const WsFind *
ws_find_item_get_find (WsFindItem *self)
{
  g_return_val_if_fail (WS_IS_FIND_ITEM (self), NULL);
  return self->find;
}

const WsEvidence *
ws_find_item_get_evidence (WsFindItem *self)
{
  g_return_val_if_fail (WS_IS_FIND_ITEM (self), NULL);
  return self->evidence;
}

const WsForay *
ws_find_item_get_foray (WsFindItem *self)
{
  g_return_val_if_fail (WS_IS_FIND_ITEM (self), NULL);
  return self->foray;
}

static const WsEvidenceLine *
line_of_part (const WsPartStates *states, const char *part_id)
{
  const WsPart *part = ws_knowledge_find_part (states->knowledge, part_id);
  const WsEvidenceLine *line = NULL;

  for (guint i = 0; part != NULL && line == NULL && part->views[i] != NULL; i++)
    line = ws_evidence_get_line (states->evidence, part->views[i]);
  return line;
}

WsEvidenceState
ws_part_states_get (const char *part, gpointer data)
{
  const WsPartStates *states = data;
  const WsEvidenceLine *line = line_of_part (states, part);
  const WsFind *find = states->evidence->find;

  if (line != NULL)
    return line->state;
  /* A mark that no line judges is a mark of unknown worth: hatched, not inked. */
  for (guint i = 0; i < find->marks->len; i++)
    if (g_str_equal (((const WsMark *) g_ptr_array_index (find->marks, i))->part, part))
      return WS_EVIDENCE_WEAK;
  return WS_EVIDENCE_MISSING;
}

gboolean
ws_part_states_is_asked (const char *part, gpointer data)
{
  return line_of_part (data, part) != NULL;
}
