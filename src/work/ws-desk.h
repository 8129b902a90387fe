/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The desk: a library and the knowledge it is judged by, opened together. What a person wants done is
 * one function each, in ws-import.h, ws-arrange.h, ws-record.h, ws-ask.h. All block and may be called from
 * any thread but the one that draws; none is cancelled after it began to write. */
#pragma once

#include "ws-evidence.h"
#include "ws-knowledge.h"
#include "ws-library.h"

typedef struct
{
  gatomicrefcount refs;
  WsLibrary *library;
  WsKnowledge *knowledge;
  const char *language;       /* of the knowledge texts, by the locale */
  char *knowledge_from;       /* (nullable): folder of a user's edited copy that is in use */
  char *knowledge_trouble;    /* (nullable): why an edited copy was not used: file and line */
} WsDesk;

/* Opens the library @folder (nullable: the default one) and the knowledge: the user's edited copy
 * in FOLDER/knowledge when there is one and it is sound, else the built-in one. */
WsDesk *ws_desk_open (const char *folder, GError **error) G_GNUC_WARN_UNUSED_RESULT;
WsDesk *ws_desk_ref (WsDesk *desk);
void ws_desk_unref (WsDesk *desk);

/* The built-in knowledge alone. Aborts only if the build itself is broken. */
WsKnowledge *ws_desk_builtin_knowledge (GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* A file of the built-in data ("figures/cup.svg"); NULL when absent. (transfer full) */
GBytes *ws_desk_builtin_data (const char *name) G_GNUC_WARN_UNUSED_RESULT;

/* Progress of long work: called on the worker's thread. */
typedef void (*WsProgress) (guint done, guint total, const char *what, gpointer data);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsDesk, ws_desk_unref)
